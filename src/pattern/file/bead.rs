//! Beads as the file writes them.

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Serialize};

use super::measure::plain_option;
use crate::beadwork::bead::PRESETS;

/// What a colour looks like, as the schema states it.
pub const COLOUR: &str = "^#[0-9a-fA-F]{6}$";

/// One kind of bead.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct BeadFile {
    /// Its colour in words.
    #[schemars(length(min = 1, max = 60))]
    pub name: String,
    /// Its size.
    pub size: SizeFile,
    /// Its colour as shown: red, green and blue as #rrggbb.
    #[schemars(extend("pattern" = COLOUR))]
    pub colour: String,
}

/// The size of a bead: by name, or measured.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum SizeFile {
    /// A size by its name.
    Named(#[schemars(schema_with = "size_names")] String),
    /// Measured; with a name, only what differs from that size.
    Measured(MeasuredSize),
}

/// A bead as measured. Lengths in mm.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, Default, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MeasuredSize {
    /// The size it is like; what is not given is taken from it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(schema_with = "size_names")]
    pub name: Option<String>,
    /// Across the bead, mm.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        serialize_with = "plain_option"
    )]
    #[schemars(with = "f64", range(min = 0.01, max = 1000))]
    pub diameter_mm: Option<f64>,
    /// Along its hole, mm.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        serialize_with = "plain_option"
    )]
    #[schemars(with = "f64", range(min = 0.01, max = 1000))]
    pub length_mm: Option<f64>,
    /// Width of its hole, mm.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        serialize_with = "plain_option"
    )]
    #[schemars(with = "f64", range(min = 0.01, max = 1000))]
    pub hole_mm: Option<f64>,
    /// How many weigh one gram.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        serialize_with = "plain_option"
    )]
    #[schemars(with = "f64", range(min = 0.01, max = 100000))]
    pub per_gram: Option<f64>,
}

fn size_names(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "string", "enum": PRESETS.map(|(name, _)| name) })
}
