//! Panels as the file writes them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One kind of panel.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct PanelFile {
    /// The stitch it is made in; round peyote if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "StitchFile")]
    pub stitch: Option<StitchFile>,
    /// How many sides it has; not of a strip.
    #[serde(default, skip_serializing_if = "is_not_given")]
    #[schemars(range(min = 3, max = 12))]
    pub sides: u32,
    /// How many rounds it has, the ring in the middle being round 1; not of a
    /// strip.
    #[serde(default, skip_serializing_if = "is_not_given")]
    #[schemars(range(min = 1, max = 1000))]
    pub rounds: u32,
    /// Of a strip, how many beads wide it is: an even number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", range(min = 2, max = 1000))]
    pub width: Option<u32>,
    /// Of a strip, how many rows it has.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", range(min = 2, max = 10000))]
    pub rows: Option<u32>,
    /// Beads at each corner, round after round from round 2, repeating.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(
        with = "Vec<u32>",
        length(min = 1, max = 1000),
        inner(range(min = 0, max = 2))
    )]
    pub corners: Option<Vec<u32>>,
    /// What the ring is made of: the sides or the corner points.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "StartFile")]
    pub start: Option<StartFile>,
    /// Beads in the ring, for a panel with words of its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", range(min = 3, max = 1000))]
    pub ring: Option<u32>,
    /// Gap words of its own, from round 2: how many beads go into each gap.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Vec<String>", length(max = 999))]
    pub words: Option<Vec<String>>,
    /// Which way it is worked; outward if not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "WayFile")]
    pub way: Option<WayFile>,
    /// Rounds that stay open in the middle, for inward work.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "u32", range(min = 0, max = 999))]
    pub open: Option<u32>,
    /// Its colours: lines such as "1-8: A S* A". A later line goes over an
    /// earlier one.
    #[schemars(length(min = 1, max = 2000))]
    pub colours: Vec<String>,
    /// The colours of a join row on one of its sides, or a word for each side
    /// with / between.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    pub row: Option<String>,
    /// The bead that tips are made of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String")]
    pub tip: Option<String>,
}

/// Whether a number that is needed is left out; none of them may be 0.
fn is_not_given(number: &u32) -> bool {
    *number == 0
}

/// The stitch of a panel.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum StitchFile {
    /// In rounds round a middle.
    RoundPeyote,
    /// Flat peyote of even count, in rows to and fro.
    Strip,
}

/// What the ring of a panel is made of.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum StartFile {
    /// A bead a side; the corners lie over its gaps.
    Sides,
    /// A bead a corner.
    Points,
}

/// Which way a panel is worked.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum WayFile {
    /// From the ring, increasing.
    Outward,
    /// From the outermost round, decreasing.
    Inward,
}
