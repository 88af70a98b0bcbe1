//! Panels as the file writes them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{List, WholeNumber};

/// One kind of panel.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct PanelFile {
    /// How many sides it has.
    pub sides: WholeNumber<3, 12>,
    /// How many rounds it has, the ring in the middle being round 1.
    pub rounds: WholeNumber<1, 1000>,
    /// Beads at each corner, round after round from round 2, repeating.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corners: Option<List<WholeNumber<0, 2>, 1, 1000>>,
    /// What the ring is made of: the sides or the corner points.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start: Option<StartFile>,
    /// Beads in the ring, for a panel with words of its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ring: Option<WholeNumber<3, 1000>>,
    /// Gap words of its own, from round 2: how many beads go into each gap.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub words: Option<List<String, 0, 999>>,
    /// Which way it is worked; outward if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub way: Option<WayFile>,
    /// Rounds that stay open in the middle, for inward work.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub open: Option<WholeNumber<0, 999>>,
    /// Its colours: lines such as "1-8: A S* A". A later line goes over an
    /// earlier one.
    pub colours: List<String, 1, 2000>,
    /// The colours of a join row on one of its sides, or a word for each side
    /// with / between.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub row: Option<String>,
    /// The bead that tips are made of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tip: Option<String>,
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
