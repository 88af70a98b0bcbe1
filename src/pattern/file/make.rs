//! What is made of the panels, as the file writes it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::job::JobFile;

/// What is made of the panels.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum MakeFile {
    /// One panel, flat.
    Panel(MakePanel),
    /// A regular solid.
    Solid(MakeSolid),
    /// Two tetrahedra that share a hinge, folded from six panels.
    FoldedPair(MakeFoldedPair),
    /// A ring of hinged tetrahedra.
    Ring(MakeRing),
    /// Jobs in your own order.
    Jobs(MakeJobs),
}

/// One panel, flat.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakePanel {
    /// Its name.
    pub panel: String,
}

/// A regular solid.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeSolid {
    /// Which.
    pub solid: SolidFile,
    /// The panels of its faces in order, taken round again.
    #[schemars(length(min = 1, max = 20))]
    pub faces: Vec<String>,
    /// How the last face is closed; set in if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "HowFile")]
    pub close: Option<HowFile>,
    /// Tip beads at the ends of the join rows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", range(min = 0, max = 2))]
    pub tips: Option<u32>,
}

/// The regular solids of equal panels.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum SolidFile {
    /// 4 triangles.
    Tetrahedron,
    /// 8 triangles.
    Octahedron,
    /// 20 triangles.
    Icosahedron,
    /// 6 squares.
    Cube,
}

/// How an opening is closed.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum HowFile {
    /// A finished panel is zipped in.
    SetIn,
    /// It is filled inward from its rim.
    Fill,
    /// It stays open, and its rim is firmed.
    Open,
}

/// Two tetrahedra that share a hinge, folded from six panels.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeFoldedPair {
    /// The six panels, taken round again.
    #[serde(rename = "folded-pair")]
    #[schemars(length(min = 1, max = 6))]
    pub folded_pair: Vec<String>,
    /// How the two openings are closed.
    #[schemars(length(equal = 2))]
    pub close: Vec<CloseFile>,
    /// Tip beads at the ends of the join rows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", range(min = 0, max = 2))]
    pub tips: Option<u32>,
}

/// How one opening is closed.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct CloseFile {
    /// In which way.
    pub how: HowFile,
    /// The panel that closes it; not needed for one that stays open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    pub with: Option<String>,
}

/// A ring of hinged tetrahedra.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeRing {
    /// How many tetrahedra: an even number from 6.
    #[schemars(range(min = 6, max = 1000), extend("multipleOf" = 2))]
    pub ring: u32,
    /// The panels of the faces, four a tetrahedron, taken round again.
    #[schemars(length(min = 1, max = 4000))]
    pub faces: Vec<String>,
    /// How the last face of each tetrahedron is closed; set in if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "HowFile")]
    pub close: Option<HowFile>,
    /// Tip beads at the ends of the join rows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", range(min = 0, max = 2))]
    pub tips: Option<u32>,
}

/// Jobs in your own order.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeJobs {
    /// The jobs.
    #[schemars(length(min = 1, max = 10000))]
    pub jobs: Vec<JobFile>,
}
