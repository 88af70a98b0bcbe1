//! The engine: from a [`Project`] to steps, by arithmetic alone.
//!
//! Nothing here knows a terminal, a clock or a disk, and nothing here uses
//! another part of the project. Terms are the trade's.

pub mod bead;
pub mod colour;
pub mod corner_law;
pub mod gap_word;
pub mod making;
pub mod movement;
pub mod number;
pub mod panel;
pub mod project;
pub mod round_work;
pub mod thread;

pub use bead::{BeadKind, BeadSize, Colour, Rgb};
pub use number::{Bead, Job, Panel, Round, Side, Step};
pub use project::Project;
