//! The pattern file: read, checked, and what is wrong with it explained.
//!
//! ```text
//! bytes -> text -> JSON -> shape -> beads, panels, make -> Project
//!          size    strict   fields   what can be sewn
//!          UTF-8   depth    types
//!                           ranges
//! ```
//!
//! Each stage gathers all it can find before it gives up, and every fault says
//! where it is, what was expected and how to mend it. The types of the file
//! itself are in [`mod@file`]; `docs/pattern-format.md` explains them to makers.

mod beads;
mod colour_text;
mod colour_write;
mod colours;
mod corners;
mod duplicate;
mod edit;
pub mod error;
mod expected;
mod faces;
mod faults;
mod field;
pub mod file;
mod fit;
mod gap_text;
mod growth;
mod job_line;
mod job_words;
mod jobs;
pub mod limit;
mod made;
mod make;
mod nearest;
pub mod paint;
mod panel;
mod parse;
mod piece_size;
mod position;
mod project;
mod read;
mod rim;
mod round_text;
mod schema;
mod shape;
mod source;
mod strip;
mod table;
mod thread;
mod write;

#[cfg(test)]
mod tests;

pub use error::PatternErrors;
pub use position::Position;
pub use read::{load, read};
pub use schema::schema;
pub use table::Table;
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
