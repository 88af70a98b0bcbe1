//! Unpicking: back from one step to an earlier one, bead by bead.
//!
//! ```text
//! done:    … 37 38 39 40 41 42        42 is the last step
//! to 38:            39 40 41 42       these come out, 42 first
//! ```
//!
//! The needle comes off the thread, and the thread is pulled out of each bead,
//! the last bead first. Thread that was woven in and cut cannot be used again;
//! it is listed separately.

mod plan;
mod undo;

pub use plan::{Stop, StopAt, UnpickPlan, Warning};
pub use undo::{Undo, before_job, before_round, last_sewn};
