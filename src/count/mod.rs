//! Counts: how many beads must be there, and what a different number says.
//!
//! A wrong count is explained by making each single mistake that can happen at
//! the table, at each place of the round, and keeping those that give the
//! number seen ([`mistake`]). Nothing is looked up in a table of answers.

pub mod answer;
pub mod expected;
pub mod mistake;

pub use answer::{Answer, Cause, Verdict, answer, answer_sides};
pub use expected::{Question, due};
