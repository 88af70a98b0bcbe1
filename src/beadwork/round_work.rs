//! One round worked on another, outward or inward.
//!
//! Both ways the needle goes round the beads of the round it works on, and at
//! each gap strings what the layout has there. Outward that is the gap word;
//! inward it is the same word read backwards: a bead for every gap, but none
//! inside a corner pair, whose two beads are drawn together.
//!
//! If the first gap takes no bead, the needle first draws that corner
//! together and begins the round behind it; else its step-up would have to
//! pass three beads instead of two.
//!
//! A row of a strip is worked the same way, from edge to edge: a bead in each
//! gap, and no step-up behind it.

use super::number::last_where;
use super::strip::{is_worked_back, turn_behind};
use super::{End, GapWord, PanelLayout, Round, Spot, WorkDirection};

/// The work of one round. Beads are indexed from 0 within their rounds.
#[derive(Clone, Copy, Debug)]
pub struct RoundWork<'a> {
    gaps: Gaps<'a>,
    /// Beads of the round that is worked on.
    old: u32,
    /// Beads of the round that is made.
    new: u32,
    /// The round that is worked on.
    pub on: Round,
    /// The round that is made.
    pub makes: Round,
    /// The bead of `on` that the needle leaves before the round.
    pub entry: u32,
    /// The bead of `on` behind which the first bead is strung.
    begin: u32,
    /// Index in `makes` of the first bead strung.
    first: u32,
    /// Whether the last gap takes no bead.
    ends_drawn: bool,
}

/// What goes into the gaps of the round worked on.
#[derive(Clone, Copy, Debug)]
enum Gaps<'a> {
    /// What the word of the new round says.
    Outward(&'a GapWord),
    /// The word of the round worked on, read backwards.
    Inward(&'a GapWord),
    /// From edge to edge, forth or back: what the word says. The needle turns
    /// behind this bead.
    Row {
        is_back: bool,
        word: &'a GapWord,
        turn: (Spot, End),
    },
}

impl<'a> RoundWork<'a> {
    /// The work of the round made on `on`, the needle leaving bead `entry`.
    pub(super) fn new(layout: &'a PanelLayout, way: WorkDirection, on: Round, entry: u32) -> Self {
        let makes = way.next(on);
        let mut work = RoundWork {
            gaps: match way {
                WorkDirection::Outward => Gaps::Outward(layout.word(makes)),
                WorkDirection::Inward => Gaps::Inward(layout.word(on)),
            },
            old: layout.in_round(on),
            new: layout.in_round(makes),
            on,
            makes,
            entry,
            begin: entry,
            first: 0,
            ends_drawn: false,
        };
        // A round without a bead is none, but may be looked at before it is
        // refused.
        let gaps = (0..work.gaps()).map(|gap| (entry + gap) % work.gaps());
        let begin = gaps.clone().find(|gap| !work.draws_together(*gap));
        work.begin = begin.unwrap_or(entry);
        work.first = match work.gaps {
            Gaps::Outward(word) => word.beads_before(work.begin),
            Gaps::Inward(word) => within(word.gap_of(work.begin) + 1, work.beads()),
            Gaps::Row { .. } => 0,
        };
        work.ends_drawn = work.in_gap(work.gaps() - 1) == 0;
        work
    }

    /// The work of a row made on row `on` of a strip.
    pub(super) fn row(layout: &'a PanelLayout, on: Round) -> Self {
        let makes = Round(on.0 + 1);
        RoundWork {
            gaps: Gaps::Row {
                is_back: is_worked_back(makes),
                word: layout.word(makes),
                turn: turn_behind(layout, on),
            },
            old: layout.in_round(on),
            new: layout.in_round(makes),
            on,
            makes,
            entry: 0,
            begin: 0,
            first: 0,
            ends_drawn: false,
        }
    }

    /// Whether a step-up or step-down ends the round. A row of a strip ends
    /// with its last stitch.
    pub fn steps_up(&self) -> bool {
        !matches!(self.gaps, Gaps::Row { .. })
    }

    /// The end by which the needle leaves the beads of the round worked on.
    /// Rows go to and fro, so that the needle goes back through the last row.
    pub fn leaves_by(&self) -> End {
        match self.gaps {
            Gaps::Row { .. } => End::Back,
            _ => End::Front,
        }
    }

    /// The bead that the needle leaves before the round, and by which end.
    pub fn needle(&self) -> (Spot, End) {
        match self.gaps {
            Gaps::Row { turn, .. } => turn,
            _ => {
                let (round, index) = (self.on, self.entry);
                (Spot { round, index }, End::Front)
            }
        }
    }

    /// Whether the last gap takes no bead, so that the step at the end of the
    /// round draws it together.
    pub fn ends_drawn(&self) -> bool {
        self.ends_drawn
    }

    /// Whether the gap behind bead `old` of the round worked on takes none.
    fn draws_together(&self, old: u32) -> bool {
        match self.gaps {
            Gaps::Outward(word) => word.gap(old) == 0,
            // Behind the last bead a bead comes even if all lie in one gap.
            Gaps::Inward(word) => old + 1 < self.gaps() && word.gap_of(old) == word.gap_of(old + 1),
            Gaps::Row { .. } => false,
        }
    }

    /// Gaps to go over: the beads of the round that is worked on.
    pub fn gaps(&self) -> u32 {
        self.old
    }

    /// Beads that the round strings.
    pub fn beads(&self) -> u32 {
        self.new
    }

    /// Corners drawn together before the first bead.
    pub fn skipped(&self) -> u32 {
        (self.begin + self.gaps() - self.entry) % self.gaps()
    }

    /// Beads in a gap counted from 0 at the bead that the needle leaves.
    pub fn in_gap_from_entry(&self, gap: u32) -> u32 {
        match gap.checked_sub(self.skipped()) {
            Some(j) if j < self.gaps() => self.in_gap(j),
            _ => 0,
        }
    }

    /// Beads strung before gap `j`, gaps counted from 0 where the round
    /// begins; `j` may be the number of gaps.
    pub fn strung_before(&self, j: u32) -> u32 {
        if j == 0 {
            return 0;
        }
        if j >= self.gaps() {
            return self.beads();
        }
        self.gap(j).0
    }

    /// Beads strung before gap `j`, which is one of the round's gaps, and
    /// beads that go into it.
    pub fn gap(&self, j: u32) -> (u32, u32) {
        let all = self.beads();
        let at = self.old_bead(j);
        match self.gaps {
            Gaps::Row { word, .. } => {
                let (each, before) = word.gap_and_before(j);
                (before, each.into())
            }
            Gaps::Outward(word) => {
                let (each, before) = word.gap_and_before(at);
                // The gaps before the first bead take none.
                let before = if at < self.begin {
                    all - self.first + before
                } else {
                    before - self.first
                };
                (before, u32::from(each))
            }
            Gaps::Inward(word) => {
                let (over, next) = (word.gap_of(at), word.gap_of(self.old_bead(j + 1)));
                // The first bead strung is that behind the gap over `begin`.
                let behind = over + 1;
                let ahead = if behind < self.first {
                    behind + all - self.first
                } else {
                    within(behind - self.first, all)
                };
                // Gap 0 takes a bead, so to be back over the same gap is to
                // have gone all the way round.
                let before = if ahead == 0 && j > 0 { all } else { ahead };
                let in_gap = match at + 1 == self.gaps() {
                    true => next + all - over,
                    false => next - over,
                };
                (before, in_gap)
            }
        }
    }

    /// Beads that go into gap `j`.
    pub fn in_gap(&self, j: u32) -> u32 {
        self.gap(j).1
    }

    /// The index in the round that is made of its `n`-th bead, from 0.
    pub fn new_bead(&self, n: u32) -> u32 {
        match self.gaps {
            Gaps::Row { is_back: true, .. } => self.new - 1 - within(n, self.new),
            _ => within(self.first + n, self.beads()),
        }
    }

    /// The index in the round that is worked on of the bead before gap `j`;
    /// so `old_bead(j + 1)` is the one that a stitch in gap `j` ends in. The
    /// first gap of a row has none before it, being at the edge; it is given
    /// the one behind.
    pub fn old_bead(&self, j: u32) -> u32 {
        match self.gaps {
            Gaps::Row { is_back: true, .. } => self.old - j.max(1),
            Gaps::Row { .. } => j.saturating_sub(1),
            _ => within(self.begin + j, self.gaps()),
        }
    }

    /// Which bead of a row, in the order in which they are strung, has this index.
    pub(super) fn nth_of(&self, index: u32) -> u32 {
        self.new_bead(index)
    }

    /// The gap, counted from where the round begins, that takes the `n`-th
    /// bead.
    pub fn gap_of_new(&self, n: u32) -> u32 {
        // The last gap with no more than n beads strung before it, since an
        // empty gap is never the last with that count.
        last_where(0..self.gaps(), |gap| self.strung_before(gap) <= n)
    }

    /// Where both rounds are strung together, the last bead of the round worked on,
    /// counted like gaps, that comes no later than bead `number` of the string.
    pub(super) fn old_in_string(&self, number: u32) -> u32 {
        last_where(0..self.gaps(), |old| {
            old + self.strung_before(old) <= number
        })
    }
}

/// `i` taken round a round of `beads`, from less than two rounds on; a
/// comparison is much cheaper than a division here, where every step comes.
fn within(i: u32, beads: u32) -> u32 {
    if i < beads { i } else { i - beads }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::panel::PanelLayout;
    use crate::beadwork::testing;

    fn usual(sides: u8, rounds: u32) -> PanelLayout {
        PanelLayout::new(&testing::panel(sides, rounds))
    }

    /// Common practice, no source: an inward round has one bead fewer a side
    /// than the last, and each corner adds none.
    #[test]
    fn an_inward_round_of_a_triangle_is_one_bead_a_side_shorter() {
        let layout = usual(3, 6);
        let start = layout.index(Round(6), crate::beadwork::Side(0), 0);
        let work = layout.work(WorkDirection::Inward, Round(6), start);
        let word: Vec<u32> = (0..work.gaps()).map(|j| work.in_gap(j)).collect();
        assert_eq!(word, [1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 0]);
        assert_eq!(work.beads(), 15);
    }

    /// Inward from the outermost round makes each round of the outward layout
    /// again, each bead once and between the same two neighbours.
    #[test]
    fn inward_is_the_outward_layout_read_backwards() {
        for sides in [3, 4, 5, 6] {
            let layout = usual(sides, 14);
            let mut entry = layout.index(Round(14), crate::beadwork::Side(0), 0);
            for on in (2..=14).rev().map(Round) {
                let work = layout.work(WorkDirection::Inward, on, entry);
                let word = layout.word(on);
                for n in 0..work.beads() {
                    let j = work.gap_of_new(n);
                    assert!(work.strung_before(j) <= n && n < work.strung_before(j + 1));
                    let (a, b) = (work.old_bead(j), work.old_bead(j + 1));
                    // Bead i lies between gaps i - 1 and i of its own round.
                    let gap_after = work.new_bead(n);
                    let gap_before = (gap_after + work.beads() - 1) % work.beads();
                    assert_eq!(word.gap_of(a), gap_before);
                    assert_eq!(word.gap_of(b), gap_after);
                }
                entry = work.new_bead(0);
            }
        }
    }
}
