//! A maker's own list of jobs, as the file writes it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{List, Text, WholeNumber, choice};

/// One job.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum JobFile {
    /// Make a panel.
    Panel(PanelJob),
    /// Work join rows.
    Row(RowJob),
    /// Zip bare sides onto join rows.
    Zip(ZipJob),
    /// Fill an opening inward.
    Fill(FillJob),
    /// Firm a rim.
    Firm(FirmJob),
    /// Draw two corners together.
    Tie(TieJob),
}

choice!(JobFile: "panel" => Panel(PanelJob), "row" => Row(RowJob), "zip" => Zip(ZipJob),
    "fill" => Fill(FillJob), "firm" => Firm(FirmJob), "tie" => Tie(TieJob));

/// Make a panel.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct PanelJob {
    /// Its kind, a name from "panels".
    pub panel: String,
    /// What it is called from here on; the name of its kind if not given.
    #[serde(rename = "as", skip_serializing_if = "Option::is_none")]
    pub name: Option<Text<1, 60>>,
}

/// Work join rows on sides of one panel.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct RowJob {
    /// The panel, as it is called.
    pub row: String,
    /// Its sides in order, from 1.
    pub sides: List<WholeNumber<1, 12>, 1, 12>,
    /// Tip beads after each row.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
}

/// Zip bare sides of one panel onto join rows.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ZipJob {
    /// The panel whose bare sides are zipped.
    pub zip: String,
    /// Which side onto which row, one after another.
    pub sides: List<ZipSide, 1, 12>,
}

/// One side of a zip.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ZipSide {
    /// The bare side, from 1.
    pub side: WholeNumber<1, 12>,
    /// The panel that carries the row.
    pub onto: String,
    /// The side of it that carries the row, from 1.
    pub at: WholeNumber<1, 12>,
}

/// Fill an opening inward on its rim.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct FillJob {
    /// The kind of panel that fills it, a name from "panels".
    pub fill: String,
    /// What it is called from here on; the name of its kind if not given.
    #[serde(rename = "as", skip_serializing_if = "Option::is_none")]
    pub name: Option<Text<1, 60>>,
    /// The open sides, each with its row, as the fill meets them: each ends
    /// to start, against its own direction.
    pub rim: List<SideFile, 1, 12>,
}

/// Firm the rim of an opening.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct FirmJob {
    /// The open sides, each with its row, in the order of a fill.
    pub firm: List<SideFile, 1, 100>,
}

/// Draw two corners together.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct TieJob {
    /// The corner at the end of this side,
    pub tie: SideFile,
    /// and the corner at the end of this one.
    pub to: SideFile,
}

/// A side of a panel made before.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct SideFile {
    /// The panel, as it is called.
    pub panel: String,
    /// The side, from 1.
    pub side: WholeNumber<1, 12>,
}
