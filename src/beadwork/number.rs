//! The numbers of the trade, each of its own kind, so that a round cannot be
//! handed where a side is wanted.
//!
//! Makers count from 1: beads, steps and rounds are held as the maker says
//! them. Sides, places, panels and jobs index tables, so they are held from 0
//! and turned into the maker's number by `number()`, here and nowhere else.
//! Written to a file all of them are the maker's numbers.

use foldhash::fast::FixedState;
use serde::{Deserialize, Serialize};
use std::collections::{HashMap, HashSet};
use std::fmt;
use std::ops::Range;

/// A map whose keys are these numbers, with a hash that is quick for them.
pub type NumberMap<K, V> = HashMap<K, V, FixedState>;

/// A set of these numbers, with the same hash.
pub type NumberSet<K> = HashSet<K, FixedState>;

/// The last number of a range for which something holds that holds up to there and
/// then no more; the first number if it holds for none.
pub fn last_where(range: Range<u32>, holds: impl Fn(u32) -> bool) -> u32 {
    let (mut low, mut high) = (range.start, range.end);
    while high.saturating_sub(low) > 1 {
        let mid = low + (high - low) / 2;
        match holds(mid) {
            true => low = mid,
            false => high = mid,
        }
    }
    low
}

macro_rules! from_one {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(
            Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
        )]
        #[serde(transparent)]
        pub struct $name(
            /// The number, from 1.
            pub u32,
        );

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    };
}

macro_rules! from_zero {
    ($(#[$doc:meta])* $name:ident, $int:ty) => {
        $(#[$doc])*
        #[derive(
            Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
        )]
        #[serde(into = "u32", try_from = "u32")]
        pub struct $name(
            /// The index, from 0.
            pub $int,
        );

        impl $name {
            /// The maker's number, from 1.
            pub fn number(self) -> u32 {
                u32::from(self.0) + 1
            }

            /// The index into a table, from 0.
            pub fn index(self) -> usize {
                self.0 as usize
            }
        }

        impl From<$name> for u32 {
            fn from(index: $name) -> u32 {
                index.number()
            }
        }

        impl TryFrom<u32> for $name {
            type Error = &'static str;

            fn try_from(number: u32) -> Result<Self, Self::Error> {
                let index = number.checked_sub(1).and_then(|i| i.try_into().ok());
                index.map($name).ok_or("such numbers count from 1")
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.number().fmt(f)
            }
        }
    };
}

from_one!(
    /// A bead, numbered from 1 in the order in which the piece strings them.
    /// So a bead is in place exactly when its number is not above the number
    /// of beads strung.
    Bead
);
from_one!(
    /// A step of the piece, numbered from 1 without holes.
    Step
);
from_one!(
    /// A round of a panel, numbered from 1 at the middle, whichever way the
    /// panel is worked. A join row is a part of the round after the last.
    Round
);
from_zero!(
    /// A side of a panel, in working direction.
    Side, u8
);
from_zero!(
    /// One panel of the piece (not a kind of panel: a solid has several of
    /// one kind).
    Panel, u16
);
from_zero!(
    /// A job of the piece: one stage of the work.
    Job, u16
);
from_zero!(
    /// A join row, in the order in which the piece works them.
    RowIndex, u16
);
from_zero!(
    /// The rim of an opening, in the order in which the piece comes to them.
    RimIndex, u16
);
from_zero!(
    /// A job of the goal, in the order of its list; the order in which they
    /// are worked may be another.
    GoalJob, u16
);
