//! Corners that a maker marks in rounds of her own, and where a corner goes
//! from round to round.
//!
//! ```text
//! 2  o o      the gap inside the pair is the corner
//! 1   o       that bead is the corner
//! 0  o o      the gap between the two beads beside it
//! ```

use super::gap_word::GapWord;
use super::number::Round;
use super::own_rounds::{OwnRounds, RoundSides};
use serde::{Deserialize, Serialize};

/// The fewest corners that make sides.
pub const FEWEST_CORNERS: usize = 3;

/// The most corners that a panel has.
pub const MOST_CORNERS: usize = 12;

/// A gap that is a corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CornerMark {
    /// The round that is worked over it.
    pub round: Round,
    /// The gap, from 0 at the bead that the needle leaves before the round.
    pub gap: u32,
}

/// Where a corner of a round is, in the order in which it is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum CornerAt {
    /// In the gap behind this bead.
    Gap(u32),
    /// On this bead.
    Bead(u32),
}

impl CornerAt {
    /// The bead that ends a side here.
    fn end(self) -> u32 {
        let (CornerAt::Gap(bead) | CornerAt::Bead(bead)) = self;
        bead
    }

    /// Where the corner is in the round that is worked over it.
    pub fn after(self, word: &GapWord) -> CornerAt {
        let beads = word.beads();
        match self {
            CornerAt::Gap(gap) => {
                let (each, before) = word.gap_and_before(gap);
                match u32::from(each) {
                    0 => CornerAt::Gap((before + beads - 1) % beads),
                    many if many % 2 == 1 => CornerAt::Bead(before + many / 2),
                    many => CornerAt::Gap(before + many / 2 - 1),
                }
            }
            // It lies between the last bead before it and the first behind it.
            CornerAt::Bead(bead) => CornerAt::Gap((word.beads_before(bead) + beads - 1) % beads),
        }
    }
}

/// Where the corners are in the latest round that one is marked on, in order
/// round it, and that round. None if they are too few, or not all on the mat,
/// or two lie in one place.
pub(super) fn marked(
    words: &[GapWord],
    ring: u32,
    marks: &[CornerMark],
) -> Option<(Round, Vec<CornerAt>)> {
    let on = marks
        .iter()
        .map(|mark| mark.round.0)
        .max()?
        .checked_sub(1)?;
    if !(FEWEST_CORNERS..=MOST_CORNERS).contains(&marks.len()) || on as usize > words.len() + 1 {
        return None;
    }
    let beads = |round: u32| match round.checked_sub(2) {
        Some(word) => words[word as usize].beads(),
        None => ring,
    };
    let place = |mark: &CornerMark| {
        let first = mark.round.0.checked_sub(1).filter(|round| *round > 0)?;
        let at = (mark.gap < beads(first)).then_some(CornerAt::Gap(mark.gap))?;
        // Round k is worked by word k - 2.
        let over = &words[first as usize - 1..on as usize - 1];
        Some(over.iter().fold(at, |at, word| at.after(word)))
    };
    let mut corners: Vec<CornerAt> = marks.iter().map(place).collect::<Option<_>>()?;
    corners.sort_by_key(|corner| corner.end());
    let apart = corners.windows(2).all(|two| two[0].end() != two[1].end());
    apart.then_some((Round(on), corners))
}

impl OwnRounds {
    /// The same rounds with sides that end at the corners marked; side 1 begins
    /// behind the first of them in the round. None if that cannot be.
    pub(super) fn with_marks(mut self, marks: &[CornerMark]) -> Option<OwnRounds> {
        let (on, mut corners) = marked(&self.words, self.ring, marks)?;
        let sides = corners.len() as u8;
        corners.rotate_left(1);
        for (round, now) in (1..).map(Round).zip(&mut self.sides) {
            let word = round
                .0
                .checked_sub(2)
                .map(|word| &self.words[word as usize]);
            let beads = word.map_or(self.ring, GapWord::beads);
            if let (true, Some(word)) = (round > on, word) {
                corners
                    .iter_mut()
                    .for_each(|corner| *corner = corner.after(word));
            }
            *now = match round >= on {
                true => between(&corners, word, beads),
                false => RoundSides::shared(beads, sides),
            };
        }
        Some(self)
    }
}

/// The sides that end at these corners; shared out where two corners have met.
fn between(corners: &[CornerAt], word: Option<&GapWord>, beads: u32) -> RoundSides {
    let ends: Vec<u32> = corners.iter().map(|corner| corner.end()).collect();
    let last = ends.len() - 1;
    let before = ends[last..].iter().chain(&ends[..last]);
    let lengths: Vec<u32> = ends
        .iter()
        .zip(before)
        .map(|(end, before)| (end + beads - before) % beads)
        .collect();
    if lengths.contains(&0) || lengths.iter().sum::<u32>() != beads {
        return RoundSides::shared(beads, ends.len() as u8);
    }
    let is_pair = |corner: &CornerAt| {
        let gap = |bead| word.map(|word| word.gap_of(bead % beads));
        matches!(corner, CornerAt::Gap(bead) if word.is_some() && gap(*bead) == gap(bead + 1))
    };
    let is_bead = |corner: &CornerAt| matches!(corner, CornerAt::Bead(_));
    RoundSides {
        first: (ends[last] + 1) % beads,
        lengths,
        corner: match () {
            () if corners.iter().all(is_pair) => 2,
            () if corners.iter().all(is_bead) => 1,
            () => 0,
        },
    }
}
