//! Where am I: finds a lost place by asking about what lies on the mat.
//!
//! ```text
//! steps -> looks      what can be seen and counted after each step
//!       -> sights     steps that look the same, taken together
//!       -> belief     how likely each sight is, after each answer
//!       -> search     the question that splits best, until one sight is left
//! ```
//!
//! Nothing is ever ruled out: an answer makes the sights that agree with it
//! likelier, and those that differ by one bead only a little less likely than
//! those that differ by many. So a wrong answer costs one more question and
//! not the place.
//!
//! Pieces beyond [`search::FINE`] steps are first narrowed down to some
//! rounds and jobs (`stretch.rs`); memory follows these and not the steps.

pub mod ask;
mod belief;
pub mod look;
pub mod search;
mod sight;
mod stretch;
#[cfg(test)]
mod tests;

pub use ask::{Ask, Choices, Question};
pub use look::Appearance;
pub use search::{Found, Next, Reply, Search};
