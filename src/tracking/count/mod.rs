//! Counts: how many beads there should be, and what a different number means.
//!
//! ```text
//! question -> expected            how many there should be
//!          -> slot -> simulate    every mistake at every place of the round
//!          -> answer -> explain   those that give the number seen, in words
//!          -> mend                the one chosen: how far to unpick, what to redo
//! ```
//!
//! A wrong count is explained by simulating each mistake at each place of the
//! round, and keeping those that give the number counted ([`mistake`]).

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

/// Numbers as makers type them, with blanks or commas between; `None` if
/// anything else is there, or one is too large.
pub fn numbers<N: std::str::FromStr>(text: &str) -> Option<Vec<N>> {
    let words = text.split([' ', ',']).filter(|word| !word.is_empty());
    words.map(|word| word.parse().ok()).collect()
}

pub use answer::{Answer, Cause, Verdict, answer, answer_of_round_below, answer_sides};
pub use expected::{BeadsInRound, CountQuestion, before, current_question, due};
pub use explain::say_before;
pub use mend::{Mend, mend};
pub use mistake::{CountedRound, Mistake, RoundPlace};
