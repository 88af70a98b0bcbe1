//! Thread and needle as the file writes them.

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Serialize};

use super::measure::{plain, plain_option};
use crate::beadwork::thread::{NEEDLES, THREADS};

/// The thread: by name, or in detail.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum ThreadFile {
    /// A thread by its name.
    Named(#[schemars(schema_with = "thread_names")] String),
    /// In detail; with a name, only what differs.
    Detailed(ThreadDetail),
}

/// A thread in detail. Lengths in mm.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, Default, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ThreadDetail {
    /// A thread by its name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(schema_with = "thread_names")]
    pub name: Option<String>,
    /// Across the thread, mm.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        serialize_with = "plain_option"
    )]
    #[schemars(with = "f64", range(min = 0.01, max = 1000))]
    pub diameter_mm: Option<f64>,
    /// How long a piece is cut at a time, mm; 1500 if not given.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        serialize_with = "plain_option"
    )]
    #[schemars(with = "f64", range(min = 1, max = 100000))]
    pub cut_mm: Option<f64>,
    /// What is left hanging at each end, mm; 150 if not given.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        serialize_with = "plain_option"
    )]
    #[schemars(with = "f64", range(min = 1, max = 100000))]
    pub tail_mm: Option<f64>,
}

/// The needle: by size number, or measured.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum NeedleFile {
    /// A beading needle by its size number.
    Sized(#[schemars(schema_with = "needle_sizes")] u32),
    /// Measured.
    Measured(MeasuredNeedle),
}

/// A needle as measured.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MeasuredNeedle {
    /// Across the needle at its widest, mm.
    #[serde(serialize_with = "plain")]
    #[schemars(range(min = 0.01, max = 1000))]
    pub diameter_mm: f64,
}

fn thread_names(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "string", "enum": THREADS.map(|(name, _)| name) })
}

fn needle_sizes(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "integer", "enum": NEEDLES.map(|(size, _)| size) })
}
