//! The pattern file as it is written: the types behind the JSON.
//!
//! They say what may stand where: a file is read by them, and the JSON Schema
//! is made from them. What a bead or a panel must be like to be sewn is checked
//! when they become a [`crate::beadwork::Project`].

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::table::NameTable;

mod bead;
mod bounded;
mod job;
mod make;
mod panel;
mod thread;

pub use bead::*;
pub use bounded::*;
pub use job::*;
pub use make::*;
pub use panel::*;
pub use thread::*;

/// Reads an enum whose variants are told apart by the value itself: by its kind
/// (`text`, `number`, `list` or `group`), or by the field that each of several groups
/// has. The reader knows it by its name, [`super::node::CHOICE`].
macro_rules! choice {
    ($name:ident: $($tag:literal => $variant:ident($of:ty)),*) => {
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                #[derive(serde::Deserialize)]
                enum ValueChoice {
                    $(#[serde(rename = $tag)] $variant($of)),*
                }
                Ok(match ValueChoice::deserialize(from)? {
                    $(ValueChoice::$variant(value) => $name::$variant(value)),*
                })
            }
        }
    };
}
use choice;

/// A threadmark pattern: beads, thread, panels, and what is made of them.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
#[schemars(title = "threadmark pattern")]
pub struct File {
    /// The version of the format, 1.
    pub threadmark: WholeNumber<1, 1>,
    /// What the piece is called.
    pub title: Text<1, 120>,
    /// Anything worth saying about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub about: Option<Text<0, 4000>>,
    /// The beads, each under its letter. The first colours what no word does.
    pub beads: NameTable<BeadFile>,
    /// The thread.
    pub thread: ThreadFile,
    /// The needle.
    pub needle: NeedleFile,
    /// The kinds of panel, each under its name.
    pub panels: NameTable<PanelFile>,
    /// What is made of the panels.
    pub make: MakeFile,
}
