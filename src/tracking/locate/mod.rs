//! Finds a lost place by asking about what lies on the mat.
//!
//! ```text
//! steps -> looks      what can be seen and counted after each step
//!       -> groups     steps that look the same
//!       -> belief     how likely each group is, after each answer
//!       -> search     the most informative question, until one group is left
//! ```
//!
//! Nothing is ever ruled out: an answer makes groups that agree with it more
//! likely, and those that differ by one bead more likely than those that differ
//! by many. So a wrong answer only costs more questions.
//!
//! Pieces with more than [`search::MAX_FINE_STEPS`] steps are first narrowed
//! down to some rounds and jobs (`stretch.rs`), so that the memory does not
//! grow with the steps.

pub mod ask;
mod belief;
pub mod look;
mod look_group;
pub mod search;
mod stretch;
#[cfg(test)]
mod tests;

pub use ask::{Ask, Choices, Question};
pub use look::Appearance;
pub use search::{Found, Next, Reply, Search};
