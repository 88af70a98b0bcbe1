//! The pattern file: reading, checking, and explaining what is wrong.
//!
//! ```text
//! bytes -> JSON with the place of every value -> file::File -> Project
//!          json, source                          node         beads, panels, make
//! ```
//!
//! serde reads the types of [`mod@file`] from the JSON; one pass over them
//! checks what can be sewn and makes the [`Project`]. Both continue after a
//! [`Problem`](crate::problem::Problem), so that a maker sees all of them at
//! once. `docs/pattern-format.md` explains the format to makers.
//!
//! ```
//! let pattern = threadmark::pattern::load("patterns/practice-triangle.json")?;
//! assert_eq!(pattern.project.panels[0].sides, 3);
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

mod as_worked;
mod beads;
mod colour_text;
mod colour_write;
mod colours;
mod edit;
mod faces;
pub mod file;
mod gap_text;
mod growth;
mod jobs;
mod json;
pub mod limit;
mod make;
mod mat;
mod node;
mod own;
pub mod paint;
mod panel;
mod read;
mod round_text;
mod schema;
mod slip;
mod source;
mod strip;
mod thread;
mod write;

#[cfg(test)]
mod tests;

pub use as_worked::{NotWritten, as_worked};
pub use file::NameTable;
pub use read::{load, read};
pub use schema::schema;
pub use write::write;

use crate::beadwork::Project;

/// A pattern that can be sewn.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// The name of the piece: one line, safe for a terminal.
    pub title: String,
    /// What the pattern says about it, safe for a terminal; can have several
    /// lines, or none.
    pub about: String,
    /// The project for the engine.
    pub project: Project,
}
