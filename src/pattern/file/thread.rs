//! Thread and needle as the file writes them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{NeedleSize, ThreadLength, ThreadName, Width, choice};

/// The thread: by name, or in detail.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum ThreadFile {
    /// A thread by its name.
    Named(ThreadName),
    /// In detail; with a name, only what differs.
    Detailed(ThreadDetail),
}

choice!(ThreadFile: "text" => Named(ThreadName), "group" => Detailed(ThreadDetail));

/// A thread in detail. Lengths in mm.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, Default, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ThreadDetail {
    /// A thread by its name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<ThreadName>,
    /// Across the thread, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter_mm: Option<Width>,
    /// How long a piece is cut at a time, mm; 1500 if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cut_mm: Option<ThreadLength>,
    /// What is left hanging at each end, mm; 150 if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tail_mm: Option<ThreadLength>,
}

/// The needle: by size number, or measured.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum NeedleFile {
    /// A beading needle by its size number.
    Sized(NeedleSize),
    /// Measured.
    Measured(MeasuredNeedle),
}

choice!(NeedleFile: "number" => Sized(NeedleSize), "group" => Measured(MeasuredNeedle));

/// A needle as measured.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MeasuredNeedle {
    /// Across the needle at its widest, mm.
    pub diameter_mm: Width,
}
