//! Counts: how many beads should be there, and what a different number says.
//!
//! ```text
//! question -> expected            how many there must be, as stitched
//!          -> slot -> simulate    every slip at every place of the round
//!          -> answer -> explain   those that give the number seen, in words
//!          -> mend                chosen one: how far to unpick, what to redo
//! ```
//!
//! A wrong count is explained by making each single mistake that can happen at
//! the table, at each place of the round, and keeping those that give the
//! number seen ([`mistake`]). Nothing is looked up in a table of answers.

pub mod answer;
pub mod expected;
mod explain;
pub mod mend;
pub mod mistake;
pub mod odds;
#[cfg(test)]
mod property;
mod simulate;
mod slot;

pub use answer::{Answer, Cause, Verdict, answer, answer_sides};
pub use expected::{BeadsInRound, CountQuestion, before, due, in_hand};
pub use explain::say_before;
pub use mend::{Mend, mend};
pub use mistake::{CountedRound, Mistake, RoundPlace};
