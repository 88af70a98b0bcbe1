//! The pattern file: read, checked, and what is wrong with it explained.
//!
//! ```text
//! bytes -> JSON with the place of every value -> file::File -> Project
//!          json, source                          node         beads, panels, make
//! ```
//!
//! serde reads the types of [`mod@file`] from the JSON; one pass over them
//! checks what can be sewn and makes the [`Project`]. Both go on after a
//! [`Problem`](crate::problem::Problem), so that a maker is told of everything
//! at once. `docs/pattern-format.md` explains the format to makers.
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
mod corners;
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
    /// What the piece is called: one line, fit for a terminal.
    pub title: String,
    /// What there is to say about it, fit for a terminal; may have several
    /// lines, or none.
    pub about: String,
    /// What it asks the engine for.
    pub project: Project,
}
