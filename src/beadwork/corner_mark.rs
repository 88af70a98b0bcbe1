//! The corners of rounds: where a corner goes from round to round, by a law or
//! from where a maker has marked it.
//!
//! ```text
//! 2  o o      the gap inside the pair is the corner
//! 1   o       that bead is the corner
//! 0  o o      the gap between the two beads beside it
//! ```

use super::corner_law::Start;
use super::own_rounds::RoundSides;
use super::{CornerLaw, GapWord, OwnRounds, Round};
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
enum CornerAt {
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
    fn after(self, word: &GapWord) -> CornerAt {
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

/// The corners of a round, in order round it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct RoundCorners(Vec<CornerAt>);

impl RoundCorners {
    /// Those of the ring with which a law begins. Its first bead belongs to the
    /// last side, so that the first side is the first to be whole in every round
    /// after.
    fn of_ring(sides: u32, start: Start) -> RoundCorners {
        let beads = (0..sides).map(|side| (side + 1) % sides);
        RoundCorners(match start {
            Start::Sides => beads.map(CornerAt::Gap).collect(),
            Start::Points => beads.map(CornerAt::Bead).collect(),
        })
    }

    /// Those of a round worked by a gap word with pairs in some gaps, and one
    /// bead in every other.
    pub fn begun_by(word: &GapWord) -> Option<RoundCorners> {
        let pairs = (0..).zip(word.iter()).filter(|(_, beads)| *beads == 2);
        let corners: Vec<CornerAt> = pairs.map(|(gap, _)| CornerAt::Gap(gap)).collect();
        let is_lawful = word.iter().all(|beads| matches!(beads, 1 | 2));
        (is_lawful && !corners.is_empty()).then(|| RoundCorners(corners).after(word))
    }

    /// Those of the latest round that one is marked on, and that round. None if
    /// they are too few, or not all on the mat, or two lie in one place.
    pub fn marked(
        words: &[GapWord],
        ring: u32,
        marks: &[CornerMark],
    ) -> Option<(Round, RoundCorners)> {
        let on = marks
            .iter()
            .map(|mark| mark.round.0)
            .max()?
            .checked_sub(1)?;
        if !(FEWEST_CORNERS..=MOST_CORNERS).contains(&marks.len()) || on as usize > words.len() + 1
        {
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
        apart.then_some((Round(on), RoundCorners(corners)))
    }

    /// The gap word of a round worked on this one of `beads` beads, if its
    /// corners can take so many beads each.
    pub fn word(&self, beads: u32, corner: u8) -> Option<GapWord> {
        let fits = |at: &CornerAt| match at {
            CornerAt::Gap(_) => matches!(corner, 1 | 2),
            CornerAt::Bead(_) => corner == 0,
        };
        if !self.0.iter().all(fits) {
            return None;
        }
        let mut word = GapWord::default();
        if corner > 0 {
            let mut gaps: Vec<u32> = self.0.iter().map(|at| at.end()).collect();
            gaps.sort_unstable();
            gaps.dedup();
            for gap in gaps {
                word.push(1, gap - word.gaps());
                word.push(corner, 1);
            }
        }
        word.push(1, beads - word.gaps());
        Some(word)
    }

    /// Where they are once a round is worked.
    pub fn after(&self, word: &GapWord) -> RoundCorners {
        RoundCorners(self.0.iter().map(|at| at.after(word)).collect())
    }
}

impl OwnRounds {
    /// The rounds of a panel by a corner law.
    pub(super) fn by_law(sides: u8, rounds: u32, law: &CornerLaw) -> OwnRounds {
        let ring = u32::from(sides);
        let mut corners = RoundCorners::of_ring(ring, law.start());
        let (mut words, mut beads) = (vec![], ring);
        let mut of_rounds = vec![between(&corners, None, beads)];
        for corner in (2..=rounds).map(|k| law.corner(k)) {
            let word = corners.word(beads, corner).expect("a law can be sewn");
            (corners, beads) = (corners.after(&word), word.beads());
            of_rounds.push(between(&corners, Some(&word), beads));
            words.push(word);
        }
        OwnRounds {
            ring,
            words,
            sides: of_rounds,
        }
    }

    /// Rounds by gap words, nothing being known of their corners.
    pub(super) fn by_words(sides: u8, ring: u32, words: &[GapWord]) -> OwnRounds {
        let beads = [ring].into_iter().chain(words.iter().map(GapWord::beads));
        OwnRounds {
            ring,
            words: words.to_vec(),
            sides: beads
                .map(|beads| RoundSides::shared(beads, sides))
                .collect(),
        }
    }

    /// The same rounds with sides that end at the corners marked; side 1 begins
    /// behind the first of them in the round. None if that cannot be.
    pub(super) fn with_marks(mut self, marks: &[CornerMark]) -> Option<OwnRounds> {
        let (on, mut corners) = RoundCorners::marked(&self.words, self.ring, marks)?;
        corners.0.rotate_left(1);
        for (round, now) in (1..).map(Round).zip(&mut self.sides) {
            let word = round
                .0
                .checked_sub(2)
                .map(|word| &self.words[word as usize]);
            let beads = word.map_or(self.ring, GapWord::beads);
            if let (true, Some(word)) = (round > on, word) {
                corners = corners.after(word);
            }
            *now = match round >= on {
                true => between(&corners, word, beads),
                false => RoundSides::shared(beads, marks.len() as u8),
            };
        }
        Some(self)
    }
}

/// The sides that end at these corners; shared out where two corners have met.
fn between(RoundCorners(corners): &RoundCorners, word: Option<&GapWord>, beads: u32) -> RoundSides {
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
