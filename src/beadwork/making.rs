//! The order in which the beads of one kind of panel are strung.
//!
//! ```text
//! from a ring      round 1, 2, 3 … outward
//! from a string    rounds K and K-1 together, closed to a ring, then K-2 …
//! on a rim         round K between the beads of the rim, then K-1 …
//! of two rows      rows 1 and 2 together, then 3 and on, to and fro
//! ```
//!
//! Beads are numbered here from 0 within the panel, in that order.

use super::strip::is_worked_back;
use super::{End, PanelLayout, Round, RoundWork, Side, Spot, WorkDirection};
use arrayvec::ArrayVec;
use std::ops::Range;
use std::sync::{Arc, OnceLock};

/// How a panel begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Begin {
    /// With the ring in the middle, worked outward.
    Ring,
    /// With rounds K and K−1 strung together and closed to a ring, as in
    /// tubular peyote; worked inward.
    FreeStart,
    /// On the rim of an opening, worked inward.
    Rim,
    /// With rows 1 and 2 of a strip strung together; worked row on row.
    TwoRows,
}

impl Begin {
    /// The way the panel is worked from there.
    pub fn way(self) -> WorkDirection {
        match self {
            Begin::Ring | Begin::TwoRows => WorkDirection::Outward,
            Begin::FreeStart | Begin::Rim => WorkDirection::Inward,
        }
    }
}

/// The order of one kind of panel begun in one way.
#[derive(Clone, Debug)]
pub struct Making {
    /// How it begins.
    pub begin: Begin,
    /// Rounds that stay open in the middle.
    pub open: u32,
    /// For each round of the layout, in layout order; open ones are unused.
    rounds: Vec<RoundMaking>,
    beads: u32,
    inner_ends: OnceLock<InnerEnds>,
}

/// For each end of each bead of a panel that is whole, back before front, the ends
/// that it touches of that panel's beads; none for beads of the last round.
type InnerEnds = Arc<[Option<ArrayVec<(u32, End), 2>>]>;

/// Panels of more beads are asked bead by bead: a search sees few of them.
const MOST_KNOWN: u32 = 2_000;

#[derive(Clone, Copy, Debug, PartialEq, Default)]
struct RoundMaking {
    /// Beads of the panel strung before this round's first.
    first: u32,
    /// Index in its round of the bead strung first.
    start: u32,
    /// Whether it is strung against the order of its indices.
    is_back: bool,
}

impl RoundMaking {
    /// How many beads of the round are strung before one.
    fn nth(self, index: u32, beads: u32) -> u32 {
        if self.is_back {
            self.start - index
        } else {
            match index.checked_sub(self.start) {
                Some(nth) => nth,
                None => index + beads - self.start,
            }
        }
    }
}

impl Making {
    /// The order for a layout. `open` rounds in the middle are left out
    /// (inward only, and at most two fewer than there are rounds).
    pub fn new(layout: &PanelLayout, begin: Begin, open: u32) -> Self {
        let mut rounds = vec![RoundMaking::default(); layout.rounds() as usize];
        let last = layout.last();
        let mut first = 0;
        match begin {
            Begin::Ring => {
                for k in 1..=last.0 {
                    rounds[k as usize - 1].first = first;
                    first += layout.in_round(Round(k));
                }
            }
            Begin::FreeStart | Begin::Rim => {
                let mut start = layout.index(last, Side(0), 0);
                rounds[last.0 as usize - 1].start = start;
                first += layout.in_round(last);
                for k in (open + 1..last.0).rev() {
                    let work = layout.work(WorkDirection::Inward, Round(k + 1), start);
                    start = work.new_bead(0);
                    rounds[k as usize - 1] = RoundMaking {
                        first,
                        start,
                        is_back: false,
                    };
                    first += layout.in_round(Round(k));
                }
            }
            Begin::TwoRows => {
                for row in (1..=last.0).map(Round) {
                    let is_back = is_worked_back(row);
                    rounds[row.0 as usize - 1] = RoundMaking {
                        first: layout.before(row),
                        start: if is_back { layout.in_round(row) - 1 } else { 0 },
                        is_back,
                    };
                }
                first = layout.beads();
            }
        }
        Making {
            begin,
            open,
            rounds,
            beads: first,
            inner_ends: OnceLock::new(),
        }
    }

    /// What an end of a bead touches in the panel once others come after it, if it is not
    /// too large to be kept and the bead lies within its last round.
    pub(super) fn inner_ends(
        &self,
        layout: &PanelLayout,
        (bead, end): (u32, End),
    ) -> Option<&[(u32, End)]> {
        if self.beads > MOST_KNOWN {
            return None;
        }
        let all = self.inner_ends.get_or_init(|| self.all_inner_ends(layout));
        let at = 2 * bead as usize + usize::from(end == End::Front);
        all[at].as_deref()
    }

    fn all_inner_ends(&self, layout: &PanelLayout) -> InnerEnds {
        let mut found = vec![];
        let ends = (0..self.beads).flat_map(|bead| [(bead, End::Back), (bead, End::Front)]);
        let touched = ends.map(|(bead, end)| {
            let (round, index) = self.bead(layout, bead);
            if round == layout.last() {
                return None;
            }
            found.clear();
            layout.touching(self, self.beads + 1, Spot { round, index }, end, &mut found);
            let number =
                |(spot, end): &(Spot, End)| (self.number(layout, spot.round, spot.index), *end);
            (found.len() <= 2).then(|| found.iter().map(number).collect())
        });
        touched.collect()
    }

    /// Beads that are strung in all.
    pub fn beads(&self) -> u32 {
        self.beads
    }

    /// Index in its round of the bead that a round strings first: the one the
    /// needle leaves when the round is whole.
    pub fn start(&self, round: Round) -> u32 {
        self.rounds[round.0 as usize - 1].start
    }

    /// The innermost round that is made.
    pub fn innermost(&self) -> Round {
        Round(self.open + 1)
    }

    /// The round that is worked on the round `on`.
    pub fn work<'a>(&self, layout: &'a PanelLayout, on: Round) -> RoundWork<'a> {
        layout.work(self.begin.way(), on, self.start(on))
    }

    /// The rounds that the panel begins with, all strung before anything is
    /// worked on them; none on a rim.
    pub fn strung_rounds(&self, layout: &PanelLayout) -> Range<u32> {
        let last = layout.rounds();
        match self.begin {
            Begin::Ring => 1..2,
            Begin::TwoRows => 1..3,
            Begin::FreeStart => last - 1..last + 1,
            Begin::Rim => 1..1,
        }
    }

    /// Whether a round belongs to the two that a string begins with.
    pub fn in_string(&self, layout: &PanelLayout, round: Round) -> bool {
        self.begin != Begin::Ring && self.strung_rounds(layout).contains(&round.0)
    }

    /// Whether each round ends in a step-up or step-down.
    pub fn steps_up(&self) -> bool {
        self.begin != Begin::TwoRows
    }

    /// The number within the panel, from 0, of a bead of a round of so many
    /// beads that is not part of a string of two.
    pub(super) fn number_in_turn(&self, round: Round, index: u32, beads: u32) -> u32 {
        let made = self.rounds[round.0 as usize - 1];
        made.first + made.nth(index, beads)
    }

    /// The bead's number within the panel, from 0.
    pub fn number(&self, layout: &PanelLayout, round: Round, index: u32) -> u32 {
        let beads = layout.in_round(round);
        if !self.in_string(layout, round) {
            return self.number_in_turn(round, index, beads);
        }
        if self.begin == Begin::TwoRows {
            return 2 * index + 2 - round.0;
        }
        let made = self.rounds[round.0 as usize - 1];
        let nth = made.nth(index, beads);
        let work = self.work(layout, layout.last());
        if round == layout.last() {
            let j = (index + beads - work.old_bead(0)) % beads;
            j + work.strung_before(j)
        } else {
            nth + work.gap_of_new(nth) + 1
        }
    }

    /// The round and index of the bead with that number within the panel.
    pub fn bead(&self, layout: &PanelLayout, number: u32) -> (Round, u32) {
        let last = layout.last();
        if self.begin == Begin::TwoRows && number < layout.before(Round(3)) {
            return (Round(2 - number % 2), number / 2);
        }
        if self.begin == Begin::FreeStart {
            let work = self.work(layout, last);
            if number < work.gaps() + work.beads() {
                return in_free_start(&work, number);
            }
        }
        let round = match self.begin {
            Begin::Ring | Begin::TwoRows => {
                self.rounds.partition_point(|r| r.first <= number) as u32
            }
            // Inward the first numbers fall as rounds rise.
            Begin::FreeStart | Begin::Rim => {
                self.rounds[self.open as usize..].partition_point(|r| r.first > number) as u32
                    + self.open
                    + 1
            }
        };
        let made = self.rounds[round as usize - 1];
        let beads = layout.in_round(Round(round));
        let nth = number - made.first;
        let index = match made.is_back {
            true => made.start - nth,
            false => (nth + made.start) % beads,
        };
        (Round(round), index)
    }
}

/// Bead `number` of the string of two rounds: a bead of the outer round, then
/// what lies in the gap behind it.
fn in_free_start(work: &RoundWork, number: u32) -> (Round, u32) {
    let old = work.old_in_string(number);
    match number - old - work.strung_before(old) {
        0 => (work.on, work.old_bead(old)),
        _ => (work.makes, work.new_bead(number - old - 1)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    fn usual(sides: u8, rounds: u32) -> PanelLayout {
        PanelLayout::new(&testing::panel(sides, rounds))
    }

    #[test]
    fn every_bead_has_one_number_however_the_panel_begins() {
        for sides in [3, 4, 5, 6] {
            let layout = usual(sides, 9);
            for (begin, open) in [
                (Begin::Ring, 0),
                (Begin::FreeStart, 0),
                (Begin::FreeStart, 3),
                (Begin::Rim, 0),
                (Begin::Rim, 7),
            ] {
                let making = Making::new(&layout, begin, open);
                let made: u32 = (open + 1..=9).map(|k| layout.in_round(Round(k))).sum();
                assert_eq!(making.beads(), made);
                for number in 0..making.beads() {
                    let (round, index) = making.bead(&layout, number);
                    assert!(round.0 > open);
                    assert_eq!(making.number(&layout, round, index), number);
                }
            }
        }
    }

    #[test]
    fn a_free_start_of_a_triangle_alternates_along_a_side_and_not_at_a_corner() {
        let layout = usual(3, 4);
        let making = Making::new(&layout, Begin::FreeStart, 0);
        let rounds: Vec<u32> = (0..21).map(|b| making.bead(&layout, b).0.0).collect();
        let side = [4, 3, 4, 3, 4, 3, 4];
        assert_eq!(rounds, [side, side, side].concat());
    }
}
