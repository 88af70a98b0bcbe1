//! The corner law: how many beads each corner takes, round after round.
//!
//! Each corner of round k holds c beads, 0, 1 or 2, and what may follow is
//! fixed by what the corner then is:
//!
//! ```text
//! c = 2   the corner is the gap inside the pair    next 1 or 2, sides grow by 1
//! c = 1   the corner is a bead                     next 0,      sides grow by 1
//! c = 0   the corner is a gap                      next 1 or 2, sides shrink by 1
//! ```
//!
//! Round 1 is a ring of n beads: the sides (c = 0, one bead each) or the
//! corner points (c = 1). The law is written as the word that repeats from
//! round 2 on.

use super::BeadSize;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the ring of a panel is made of.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub enum Start {
    /// One bead for each side; the corners lie over the gaps.
    Sides,
    /// One bead for each corner.
    Points,
}

/// Beads at each corner of every round: a start, then a word that repeats.
///
/// ```
/// use threadmark::beadwork::corner_law::{BadLaw, CornerLaw, Start};
///
/// let law = CornerLaw::new(Start::Points, &[0, 2, 1])?;
/// assert_eq!(law, CornerLaw::usual(6));
/// assert!(CornerLaw::new(Start::Points, &[2]).is_err());
/// # Ok::<(), BadLaw>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CornerLaw {
    start: Start,
    word: Vec<u8>,
}

/// Why a corner law cannot be sewn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BadLaw {
    /// The word is empty.
    Empty,
    /// A corner takes 0, 1 or 2 beads. Fields: position in the word from 1, what stands there.
    NotACorner(usize, u8),
    /// After a corner of `before` beads, `after` cannot follow (position in
    /// the word from 1; position 1 stands for the first after the start or
    /// for the repeat).
    CannotFollow {
        /// Position in the word, from 1.
        at: usize,
        /// Beads at the corner before.
        before: u8,
        /// Beads asked for.
        after: u8,
    },
}

impl CornerLaw {
    /// Takes a law if it can be sewn: every word is checked through its
    /// repeat.
    ///
    /// # Errors
    /// [`BadLaw`] names the first place where the law breaks.
    pub fn new(start: Start, word: &[u8]) -> Result<Self, BadLaw> {
        if word.is_empty() {
            return Err(BadLaw::Empty);
        }
        let mut before = start.corner();
        for (i, &after) in word.iter().chain(word.first()).enumerate() {
            let at = i % word.len() + 1;
            if after > 2 {
                return Err(BadLaw::NotACorner(at, after));
            }
            if !may_follow(before, after) {
                return Err(BadLaw::CannotFollow { at, before, after });
            }
            before = after;
        }
        Ok(CornerLaw {
            start,
            word: word.to_vec(),
        })
    }

    /// The law that a panel of n sides has when its pattern names none: flat
    /// for cylinder beads (triangle, hexagon), or the flattest short one
    /// (square, pentagon).
    pub fn usual(sides: u8) -> Self {
        let (start, word): (Start, &[u8]) = match sides {
            3 => (Start::Sides, &[2]),
            4 => (Start::Sides, &[2, 2, 2, 1, 0]),
            5 => (Start::Sides, &[2, 1, 0, 2, 2, 1, 0]),
            _ => (Start::Points, &[0, 2, 1]),
        };
        CornerLaw {
            start,
            word: word.to_vec(),
        }
    }

    /// What the ring is made of.
    pub fn start(&self) -> Start {
        self.start
    }

    /// The word that repeats from round 2 on.
    pub fn word(&self) -> &[u8] {
        &self.word
    }

    /// Beads at each corner of round `k` (from 1).
    pub fn corner(&self, k: u32) -> u8 {
        match k {
            0 | 1 => self.start.corner(),
            _ => self.word[(k as usize - 2) % self.word.len()],
        }
    }

    /// Corner pairs per corner and round, on average over the repeat.
    pub fn pairs_per_round(&self) -> f64 {
        let pairs = self.word.iter().filter(|&&c| c == 2).count();
        pairs as f64 / self.word.len() as f64
    }

    /// F, the flatness of a panel of n sides: 1 lies flat, less cups, more
    /// ruffles. F = 2·p·length / (diameter·tan(π/n)), from the growth of a
    /// side (2·length a pair) against the growth of the height (half a
    /// diameter a round).
    pub fn flatness(&self, sides: u8, bead: BeadSize) -> f64 {
        let tan = (std::f64::consts::PI / f64::from(sides)).tan();
        2.0 * self.pairs_per_round() * bead.length_mm / (bead.diameter_mm * tan)
    }
}

impl Start {
    /// Beads at each corner of the ring.
    pub fn corner(self) -> u8 {
        match self {
            Start::Sides => 0,
            Start::Points => 1,
        }
    }
}

fn may_follow(before: u8, after: u8) -> bool {
    match before {
        1 => after == 0,
        _ => after == 1 || after == 2,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::bead::preset;

    #[test]
    fn the_flatness_of_cylinder_beads_is_as_computed_by_hand() {
        let bead = preset("cylinder 11/0").unwrap();
        let f = |n, word: &[u8]| {
            CornerLaw::new(Start::Sides, word)
                .unwrap()
                .flatness(n, bead)
        };
        assert!((f(3, &[2]) - 0.94).abs() < 0.005);
        assert!((f(4, &[2, 2, 1, 0]) - 0.81).abs() < 0.005);
        assert!((f(4, &[2, 2, 2, 1, 0]) - 0.975).abs() < 0.0005);
        assert!((f(5, &[2, 1, 0, 2, 2, 1, 0]) - 0.96).abs() < 0.005);
        assert!((CornerLaw::usual(6).flatness(6, bead) - 0.94).abs() < 0.005);
    }

    #[test]
    fn a_law_that_cannot_be_sewn_is_refused() {
        let new = CornerLaw::new;
        assert_eq!(new(Start::Sides, &[]), Err(BadLaw::Empty));
        assert_eq!(new(Start::Sides, &[2, 3]), Err(BadLaw::NotACorner(2, 3)));
        assert_eq!(
            new(Start::Sides, &[2, 1, 1]),
            Err(BadLaw::CannotFollow {
                at: 3,
                before: 1,
                after: 1
            })
        );
        // The repeat is checked too: 0 cannot follow 2.
        assert_eq!(
            new(Start::Points, &[0, 2]),
            Err(BadLaw::CannotFollow {
                at: 1,
                before: 2,
                after: 0
            })
        );
    }
}
