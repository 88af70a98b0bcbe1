//! How hard a piece is.

use crate::beadwork::project::Make;

/// How hard a piece is, by what is made and how long it takes. The words are
/// the ones patterns are sold with; where one ends and the next begins is
/// common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// A flat panel, or any small piece that takes less than half an hour.
    Beginner,
    /// Panels that are joined.
    Intermediate,
    /// Panels that are folded, or turn on hinges.
    Advanced,
}

impl Level {
    /// All levels, easiest first.
    pub const ALL: [Level; 3] = [Level::Beginner, Level::Intermediate, Level::Advanced];

    /// The level of a piece that takes `minutes`.
    pub fn of(make: &Make, minutes: f64) -> Level {
        match make {
            Make::FoldedPair { .. } | Make::Ring { .. } | Make::RingOfNets { .. } => {
                Level::Advanced
            }
            Make::Single(_) => Level::Beginner,
            Make::Solid { .. } | Make::Jobs(_) if minutes < 30.0 => Level::Beginner,
            Make::Solid { .. } | Make::Jobs(_) => Level::Intermediate,
        }
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Level::Beginner => "beginner",
            Level::Intermediate => "intermediate",
            Level::Advanced => "advanced",
        }
    }
}
