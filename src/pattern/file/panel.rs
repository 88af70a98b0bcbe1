//! Panels as the file writes them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{List, WholeNumber};

/// One kind of panel.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct PanelFile {
    /// The stitch it is made in; round peyote if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stitch: Option<StitchFile>,
    /// How many sides it has; not of a strip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sides: Option<WholeNumber<3, 12>>,
    /// How many rounds it has, the ring in the middle being round 1; not of a
    /// strip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rounds: Option<WholeNumber<1, 1000>>,
    /// Of a strip, how many beads wide it is: an even number.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<WholeNumber<2, 1000>>,
    /// Of a strip, how many rows it has.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rows: Option<WholeNumber<2, 10000>>,
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

/// The stitch that a panel is made in.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum StitchFile {
    /// In rounds round a middle.
    RoundPeyote,
    /// Flat peyote of even count, in rows to and fro.
    Strip,
}

impl PanelFile {
    /// Whether it is a strip.
    pub fn is_strip(&self) -> bool {
        self.stitch == Some(StitchFile::Strip)
    }

    /// Its sides; a strip has one, the edge along its last row. Where none are
    /// given that is told apart, and it is read on as a triangle.
    pub fn sides(&self) -> u32 {
        match self.is_strip() {
            true => 1,
            false => self.sides.map_or(3, |sides| sides.0),
        }
    }

    /// Its rounds, or the rows of a strip.
    pub fn rounds(&self) -> u32 {
        match self.is_strip() {
            true => self.rows.map_or(2, |rows| rows.0),
            false => self.rounds.map_or(1, |rounds| rounds.0),
        }
    }
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
