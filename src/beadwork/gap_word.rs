//! The gap word: how many beads go into each gap of a round.
//!
//! A round of T beads has T gaps, gap i between bead i and bead i+1, round
//! and round in working direction. The next round is a word with a number for
//! every gap: 1 a plain stitch, 2 an increase (a pair side by side), 0 a
//! decrease (the two neighbours are drawn together).
//!
//! ```text
//! gap      0     1     2        beads and gaps are indexed from 0
//!       o     o     o     (o)   the round before; after the last comes bead 0
//! word     2     1     0
//! ```
//!
//! Words are kept as runs of equal numbers, so that a round of any size with
//! n corners takes some 2n runs, and every question is a binary search.

/// The next round, gap by gap.
///
/// ```
/// use threadmark::beadwork::gap_word::GapWord;
///
/// let word = GapWord::new([2, 1, 0]);
/// assert_eq!((word.gaps(), word.beads()), (3, 3));
/// assert_eq!(word.gap(1), 1);
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct GapWord {
    runs: Vec<EqualRun>,
}

/// Equal numbers side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct EqualRun {
    /// Beads in each gap of the run: 0, 1 or 2, and more as stitched.
    each: u8,
    /// Gaps up to the end of this run.
    gaps: u32,
    /// Beads up to the end of this run.
    beads: u32,
}

impl GapWord {
    /// A word from numbers for its gaps, in order.
    pub fn new(gaps: impl IntoIterator<Item = u8>) -> Self {
        let mut word = GapWord::default();
        for each in gaps {
            word.push(each, 1);
        }
        word
    }

    /// Adds `times` gaps of `each` beads at the end.
    pub fn push(&mut self, each: u8, times: u32) {
        if times == 0 {
            return;
        }
        let (gaps, beads) = self.totals();
        let end = EqualRun {
            each,
            gaps: gaps + times,
            beads: beads + u32::from(each) * times,
        };
        match self.runs.last_mut() {
            Some(last) if last.each == each => *last = end,
            _ => self.runs.push(end),
        }
    }

    fn totals(&self) -> (u32, u32) {
        self.runs.last().map_or((0, 0), |r| (r.gaps, r.beads))
    }

    /// How many gaps the word fills: the beads of the round before.
    pub fn gaps(&self) -> u32 {
        self.totals().0
    }

    /// How many beads the word strings: the beads of the round it makes.
    pub fn beads(&self) -> u32 {
        self.totals().1
    }

    /// The run that holds gap `i`, with the gaps and beads before that run.
    fn run_of_gap(&self, i: u32) -> (EqualRun, u32, u32) {
        self.run(self.runs.partition_point(|r| r.gaps <= i))
    }

    fn run(&self, at: usize) -> (EqualRun, u32, u32) {
        let (gaps, beads) = match at {
            0 => (0, 0),
            _ => (self.runs[at - 1].gaps, self.runs[at - 1].beads),
        };
        (self.runs[at], gaps, beads)
    }

    /// Beads that go into gap `i` (from 0).
    pub fn gap(&self, i: u32) -> u8 {
        self.run_of_gap(i).0.each
    }

    /// Beads that go into gap `i`, and beads strung in the gaps before it.
    pub fn gap_and_before(&self, i: u32) -> (u8, u32) {
        let (run, gaps, beads) = self.run_of_gap(i);
        (run.each, beads + (i - gaps) * u32::from(run.each))
    }

    /// Beads strung in the gaps before gap `i`; `i` may be the number of gaps.
    pub fn beads_before(&self, i: u32) -> u32 {
        if i >= self.gaps() {
            return self.beads();
        }
        let (run, gaps, beads) = self.run_of_gap(i);
        beads + (i - gaps) * u32::from(run.each)
    }

    /// The gap that bead `b` (from 0) of the round lies in.
    pub fn gap_of(&self, b: u32) -> u32 {
        let (run, gaps, beads) = self.run(self.runs.partition_point(|r| r.beads <= b));
        gaps + (b - beads) / u32::from(run.each)
    }

    /// The numbers, gap by gap.
    pub fn iter(&self) -> impl Iterator<Item = u8> + '_ {
        (0..self.runs.len()).flat_map(|at| {
            let (run, before, _) = self.run(at);
            std::iter::repeat_n(run.each, (run.gaps - before) as usize)
        })
    }
}

/// Makes gap words for `rounds` rounds after one of `first` beads: the existing
/// ones, then one bead in each gap.
pub(crate) fn grow_plainly(first: u32, words: &mut Vec<GapWord>, rounds: u32) {
    words.truncate(rounds as usize);
    while words.len() < rounds as usize {
        let mut plain = GapWord::default();
        plain.push(1, words.last().map_or(first, GapWord::beads));
        words.push(plain);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_word_of_a_triangle_corner_and_side() {
        let word = GapWord::new([2, 1, 1, 2, 1, 1, 2, 1, 1]);
        assert_eq!((word.gaps(), word.beads()), (9, 12));
        assert_eq!(word.gap(3), 2);
        assert_eq!(word.beads_before(3), 4);
        assert_eq!(word.gap_of(5), 3);
    }

    proptest! {
        /// The binary searches against reading the word gap by gap.
        #[test]
        fn runs_answer_as_the_plain_word_does(gaps in prop::collection::vec(0u8..=2, 1..60)) {
            let word = GapWord::new(gaps.iter().copied());
            prop_assert_eq!(word.iter().collect::<Vec<_>>(), gaps.clone());
            let mut beads = 0;
            for (i, &each) in gaps.iter().enumerate() {
                prop_assert_eq!(word.gap(i as u32), each);
                prop_assert_eq!(word.beads_before(i as u32), beads);
                for b in beads..beads + u32::from(each) {
                    prop_assert_eq!(word.gap_of(b), i as u32);
                }
                beads += u32::from(each);
            }
            prop_assert_eq!(word.beads(), beads);
            prop_assert_eq!(word.beads_before(word.gaps()), beads);
        }
    }
}
