//! What is made of the panels, as the file writes it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{JobFile, List, WholeNumber, choice};

/// What is made of the panels.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
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
    /// A ring of hinged tetrahedra, made of six-panel nets.
    RingOfNets(MakeRingOfNets),
    /// Jobs in your own order.
    Jobs(MakeJobs),
}

choice!(MakeFile: "panel" => Panel(MakePanel), "solid" => Solid(MakeSolid),
    "folded-pair" => FoldedPair(MakeFoldedPair), "ring" => Ring(MakeRing),
    "ring-of-nets" => RingOfNets(MakeRingOfNets), "jobs" => Jobs(MakeJobs));

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
    pub faces: List<String, 1, 20>,
    /// How the last face is closed; set in if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub close: Option<HowFile>,
    /// Tip beads at the ends of the join rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
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

/// How all openings are closed, or one after another, taken round again.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum HowsFile {
    /// All in one way.
    All(HowFile),
    /// One after another.
    Each(List<HowFile, 1, 1000>),
}

choice!(HowsFile: "text" => All(HowFile), "list" => Each(List<HowFile, 1, 1000>));

/// Two tetrahedra that share a hinge, folded from six panels.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeFoldedPair {
    /// The six panels, taken round again.
    #[serde(rename = "folded-pair")]
    pub folded_pair: List<String, 1, 6>,
    /// How the two openings are closed.
    pub close: List<CloseFile, 2, 2>,
    /// Tip beads at the ends of the join rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
}

/// How one opening is closed.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct CloseFile {
    /// In which way.
    pub how: HowFile,
    /// The panel that closes it; not needed for one that stays open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub with: Option<String>,
}

/// A ring of hinged tetrahedra.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeRing {
    /// How many tetrahedra: an even number from 6.
    pub ring: WholeNumber<6, 1000, 2>,
    /// The panels of the faces, four a tetrahedron, taken round again.
    pub faces: List<String, 1, 4000>,
    /// How the last face of each tetrahedron is closed: one way for all, or a
    /// list that is taken round again; set in if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub close: Option<HowsFile>,
    /// Tip beads at the ends of the join rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
}

/// A ring of hinged tetrahedra, made of six-panel nets: these are joined by
/// opposite sides, and then folded and closed one by one.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeRingOfNets {
    /// How many tetrahedra, two a net: an even number from 6.
    #[serde(rename = "ring-of-nets")]
    pub ring_of_nets: WholeNumber<6, 1000, 2>,
    /// The panels of the nets, six a net, taken round again.
    pub faces: List<String, 1, 3000>,
    /// How the openings are closed, two a net, taken round again.
    pub close: List<CloseFile, 1, 1000>,
    /// Tip beads at the ends of the join rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
}

/// Jobs in your own order.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeJobs {
    /// The jobs.
    pub jobs: List<JobFile, 1, 10000>,
}
