//! The pattern file as it is written: the types behind the JSON.
//!
//! They say what may stand where; the JSON Schema is made from them and so is
//! the first check of a file. What a bead or a panel must be like to be sewn
//! is checked later, when these become a [`crate::beadwork::Project`].

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::table::Table;

mod bead;
mod job;
mod make;
mod measure;
mod panel;
mod thread;

pub use bead::*;
pub use job::*;
pub use make::*;
pub use panel::*;
pub use thread::*;

/// A threadmark pattern: beads, thread, panels, and what is made of them.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
#[schemars(title = "threadmark pattern")]
pub struct File {
    /// The version of the format, 1.
    #[schemars(range(min = 1, max = 1))]
    pub threadmark: u32,
    /// What the piece is called.
    #[schemars(length(min = 1, max = 120))]
    pub title: String,
    /// Anything worth saying about it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "String", length(max = 4000))]
    pub about: Option<String>,
    /// The beads, each under its letter. The first colours what no word does.
    #[schemars(with = "BTreeMap<String, BeadFile>", extend("minProperties" = 1))]
    pub beads: Table<BeadFile>,
    /// The thread.
    pub thread: ThreadFile,
    /// The needle.
    pub needle: NeedleFile,
    /// The kinds of panel, each under its name.
    #[schemars(with = "BTreeMap<String, PanelFile>", extend("minProperties" = 1))]
    pub panels: Table<PanelFile>,
    /// What is made of the panels.
    pub make: MakeFile,
}
