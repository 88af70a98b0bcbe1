//! Beads, thread and needle that cannot be sewn with.

use super::super::limit;
use super::{Quote, Sentence};

/// What is wrong with beads, thread or needle. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub enum BeadFault {
    /// The key of a bead is not one letter, one character wide.
    NotALetter(Quote),
    /// More kinds of bead than [`limit::BEAD_KINDS`].
    TooManyKinds(usize),
    /// A name of nothing that can be seen.
    NoName,
    /// No size by name, and this measure is not given either.
    NoMeasure(&'static str),
    /// A hole as wide as the bead, or wider.
    HoleTooWide {
        /// The hole, mm.
        hole: f64,
        /// The bead across, mm.
        diameter: f64,
    },
    /// A hole that the needle or the thread does not go through.
    HoleTooSmall {
        /// The hole, mm.
        hole: f64,
        /// 'needle' or 'thread'.
        what: &'static str,
        /// How wide that is, mm.
        width: f64,
    },
    /// A piece of thread too short to be worth threading. Lengths in mm.
    ShortThread {
        /// A piece of thread.
        cut: f64,
        /// One tail.
        tail: f64,
        /// What must lie between the tails.
        needed: f64,
    },
    /// More threads than a piece may have.
    ManyThreads {
        /// How many, about.
        threads: u64,
        /// A piece of thread, mm.
        cut: f64,
        /// How long it must be cut, mm.
        needed: f64,
    },
    /// The two tails take up all of the thread.
    TailsTooLong {
        /// A piece of thread, mm.
        cut: f64,
        /// One tail, mm.
        tail: f64,
    },
}

impl BeadFault {
    pub(super) fn sentence(&self) -> Sentence {
        match self {
            BeadFault::NotALetter(key) => Sentence::new(
                format!("{key} is not one letter"),
                "name the bead by a single letter such as \"S\"; its full name goes into \"name\"",
            ),
            BeadFault::TooManyKinds(found) => Sentence::new(
                format!("{found} kinds of bead; {} is the most", limit::BEAD_KINDS),
                "take out beads that no colour word uses",
            ),
            BeadFault::NoName => Sentence::new(
                "this name has nothing that can be seen",
                "write a name, such as \"sea green\"",
            ),
            BeadFault::NoMeasure(measure) => Sentence::new(
                format!("the field '{measure}' is missing, and no \"name\" gives it"),
                format!("add \"{measure}\", or a \"name\" to take it from"),
            ),
            BeadFault::HoleTooWide { hole, diameter } => Sentence::new(
                format!("a hole of {hole} mm in a bead {diameter} mm across"),
                "measure again: the hole must be narrower than the bead",
            ),
            BeadFault::HoleTooSmall { hole, what, width } => Sentence::new(
                format!(
                    "the {what} is {width} mm across and does not go through a hole of {hole} mm"
                ),
                format!(
                    "take a finer {what} or a bead with a wider hole; forcing it breaks the bead"
                ),
            ),
            BeadFault::ShortThread { cut, tail, needed } => Sentence::new(
                format!(
                    "a thread of {cut} mm with two tails of {tail} mm is too short: between the tails these beads need {needed} mm"
                ),
                format!(
                    "write \"cut_mm\": {} or more, or leave shorter tails",
                    (needed + 2.0 * tail).ceil()
                ),
            ),
            BeadFault::ManyThreads {
                threads,
                cut,
                needed,
            } => Sentence::new(
                format!(
                    "about {threads} threads of {cut} mm would be needed; {} is the most",
                    limit::THREADS
                ),
                format!("write \"cut_mm\": {needed} or more, or take fewer rounds"),
            ),
            BeadFault::TailsTooLong { cut, tail } => Sentence::new(
                format!("two tails of {tail} mm leave nothing of a thread of {cut} mm to sew with"),
                "cut the thread longer, or leave shorter tails",
            ),
        }
    }
}
