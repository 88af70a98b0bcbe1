//! Beads as the file writes them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{HexColour, PerGram, SizeName, Text, Width, choice};

/// One kind of bead.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct BeadFile {
    /// Its colour in words.
    pub name: Text<1, 60>,
    /// Its size.
    pub size: SizeFile,
    /// Its colour as shown: red, green and blue as #rrggbb.
    pub colour: HexColour,
}

/// The size of a bead: by name, or measured.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum SizeFile {
    /// A size by its name.
    Named(SizeName),
    /// Measured; with a name, only what differs from that size.
    Measured(MeasuredSize),
}

choice!(SizeFile: "text" => Named(SizeName), "group" => Measured(MeasuredSize));

/// A bead as measured. Lengths in mm.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, Default, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MeasuredSize {
    /// The size it is like; what is not given is taken from it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<SizeName>,
    /// Across the bead, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter_mm: Option<Width>,
    /// Along its hole, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_mm: Option<Width>,
    /// Width of its hole, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hole_mm: Option<Width>,
    /// How many weigh one gram.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub per_gram: Option<PerGram>,
}
