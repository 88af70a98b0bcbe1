//! The gaps of a rim, and the beads in them of the first round of a fill.
//!
//! ```text
//!   corner  x1   x2 x3   x4    corner       beads of the fill
//!      | 0 |   | 1     |     2   |          gaps of the side
//!          [j1]        [j2]                 join beads of the rim
//! ```
//!
//! Gaps and beads are counted from 0 in the order in which they are worked, all
//! round the rim. A fill with corner beads has them in the last gap of each
//! side, between two join beads. If a gap of the row holds no join bead, the
//! two beads of the fill beside it are in one gap; if it holds two, there is no
//! bead of the fill between them.

use super::{JoinRow, Layout, RimSide};
use crate::beadwork::own_rounds::first_round_made;
use crate::beadwork::{Bead, End, GapWord, Panel, PanelLayout, Round, RowGap, Side};
use std::ops::Range;
use std::sync::Arc;

/// The gaps of a rim.
#[derive(Clone, Debug)]
pub struct RimGaps {
    /// The number of gaps before each side, and of all gaps.
    firsts: Vec<u32>,
    /// Whether corner beads end its sides.
    corner_beads: bool,
    /// The beads in each gap.
    own: GapWord,
    /// The same as planned.
    planned: GapWord,
    /// The same by the join beads in the rows alone.
    by_rows: GapWord,
}

/// The sum of the numbers before each number, and of all.
fn sums(of: impl IntoIterator<Item = u32>) -> Vec<u32> {
    let add = |sum: &mut u32, each: u32| {
        *sum += each;
        Some(*sum)
    };
    std::iter::once(0)
        .chain(of.into_iter().scan(0, add))
        .collect()
}

impl RimGaps {
    /// The gaps for the first round of a fill of this kind, on rows with one
    /// bead in each gap.
    fn of(kind: &PanelLayout) -> RimGaps {
        let beads = kind.in_round(kind.last());
        let sides = u32::from(kind.sides());
        let mut plain = GapWord::default();
        plain.push(1, beads);
        RimGaps {
            firsts: (0..=sides).map(|side| side * (beads / sides)).collect(),
            corner_beads: kind.corner(kind.last()) == 1,
            own: plain.clone(),
            planned: plain.clone(),
            by_rows: plain,
        }
    }

    /// The same on rows with these numbers of join beads in their gaps, side by
    /// side in the order of the fill.
    fn on_rows(&mut self, rows: &[Vec<u32>]) {
        let side = |row: &Vec<u32>| {
            let mut gaps = vec![1];
            for joins in row {
                gaps.extend((0..*joins).map(|_| 0));
                *gaps.last_mut().expect("a gap at the corner") += 1;
            }
            gaps
        };
        let sides: Vec<Vec<u8>> = rows.iter().map(side).collect();
        self.firsts = sums(sides.iter().map(|gaps| gaps.len() as u32));
        self.by_rows = GapWord::new(sides.into_iter().flatten());
        (self.own, self.planned) = (self.by_rows.clone(), self.by_rows.clone());
    }

    /// The same with these numbers of beads in all gaps.
    fn hold(&mut self, gaps: &[RowGap]) {
        let sides = self.firsts.len() as u8 - 1;
        let on_side = |side: u8| gaps.iter().filter(|gap| gap.side.0 == side).count() as u32;
        self.firsts = sums((0..sides).map(on_side));
        self.planned = GapWord::new(gaps.iter().map(|gap| gap.beads));
        self.own = self.planned.clone();
    }

    /// The number of gaps before a side.
    pub fn first(&self, side: Side) -> u32 {
        self.firsts[side.index()]
    }

    /// The number of gaps of a side.
    pub fn on_side(&self, side: Side) -> u32 {
        self.firsts[side.index() + 1] - self.first(side)
    }

    /// The side of a gap, and its place there.
    pub fn place_of(&self, gap: u32) -> (Side, u32) {
        let side = Side(self.firsts.partition_point(|first| *first <= gap) as u8 - 1);
        (side, gap - self.first(side))
    }

    /// The gap of a bead of the planned round.
    pub fn planned_gap(&self, bead: u32) -> u32 {
        gap_in(&self.planned, bead)
    }

    /// The bead of the planned round that belongs in a gap, if there is exactly
    /// one.
    pub fn planned_bead_in(&self, gap: u32) -> Option<u32> {
        let (beads, before) = self.planned.gap_and_before(gap);
        (beads == 1).then_some(before)
    }

    /// The number of beads before a gap; `gap` may be one past the last.
    pub fn before(&self, gap: u32) -> u32 {
        self.own.beads_before(gap)
    }

    /// The beads in a gap, in the order in which they are strung.
    pub fn in_gap(&self, gap: u32) -> Range<u32> {
        self.before(gap)..self.before(gap + 1)
    }

    /// The number of gaps.
    pub fn all(&self) -> u32 {
        self.firsts[self.firsts.len() - 1]
    }

    /// The gap of a bead.
    pub fn gap_of(&self, bead: u32) -> u32 {
        gap_in(&self.own, bead)
    }

    /// Whether a gap holds another number of beads than the rows have room for.
    pub fn is_other_than_rows(&self) -> bool {
        self.own != self.by_rows
    }

    /// Whether a gap is at a corner.
    pub fn is_at_corner(&self, gap: u32) -> bool {
        let (side, place) = self.place_of(gap);
        place == 0 || place + 1 == self.on_side(side)
    }

    /// The gaps that do not hold exactly one bead: side, place of the gap on
    /// it, and number of beads.
    pub fn uneven(&self) -> impl Iterator<Item = (Side, u32, u32)> + '_ {
        let gaps = (0..self.all()).filter(|gap| self.in_gap(*gap).len() != 1);
        gaps.map(|gap| {
            let (side, place) = self.place_of(gap);
            (side, place, self.in_gap(gap).len() as u32)
        })
    }

    /// The join bead at an end of a gap: its side, and its number along it in
    /// the order of the fill. `None` at the corners of a fill without corner
    /// beads.
    pub(in crate::beadwork) fn join_at(&self, gap: u32, end: End) -> Option<(Side, u32)> {
        let (side, place) = self.place_of(gap);
        let corner = u32::from(self.corner_beads);
        Some(match end {
            End::Back => (side, (place + corner).checked_sub(1)?),
            End::Front if place + 1 < self.on_side(side) => (side, place + corner),
            End::Front if self.corner_beads => {
                let sides = self.firsts.len() as u8 - 1;
                (Side((side.0 + 1) % sides), 0)
            }
            End::Front => return None,
        })
    }

    /// The gap at an end of join bead `nth` of a side.
    pub(in crate::beadwork) fn gap_at(&self, side: Side, nth: u32, end: End) -> u32 {
        let behind = self.first(side) + nth + u32::from(!self.corner_beads);
        let back = u32::from(end == End::Back);
        (behind + self.all() - back) % self.all()
    }
}

/// The gap of a bead; for a bead beyond the last, the number of gaps.
fn gap_in(word: &GapWord, bead: u32) -> u32 {
    match bead < word.beads() {
        true => word.gap_of(bead),
        false => word.gaps(),
    }
}

impl Layout {
    /// The gaps of the rim of a fill.
    pub fn rim_gaps(&self, fill: Panel) -> Arc<RimGaps> {
        let on_rim = self.panel(fill).rim_gaps.clone();
        on_rim.unwrap_or_else(|| Arc::new(RimGaps::of(self.kind(fill))))
    }

    /// The gaps of a fill on a rim, as the plan, the rows and its first round have
    /// them.
    pub(super) fn find_rim_gaps(&self, fill: Panel) -> Option<Arc<RimGaps>> {
        let rim = self.rim(self.panel(fill).rim?);
        let is_own = self.is_own(fill);
        let planned;
        let base = match is_own || self.panel(fill).rounds.is_some() {
            true => {
                planned = self.planned_panel(fill).1;
                &planned
            }
            false => self.kind(fill),
        };
        let mut gaps = self.rim_gaps_by_rows(base, rim);
        let row_gaps = &self.panel(fill).row_gaps;
        if !row_gaps.is_empty() {
            gaps.hold(row_gaps);
        }
        if is_own {
            let begin = self.making(fill).begin;
            let mut held = vec![0; gaps.all() as usize];
            let mut gap = 0;
            for bead in first_round_made(base, begin, &self.changes(fill)) {
                gap = bead.map_or(gap, |bead| gaps.planned_gap(bead));
                held[gap as usize] += 1;
            }
            gaps.own = GapWord::new(held);
        }
        Some(Arc::new(gaps))
    }

    fn rim_row(&self, on: &RimSide) -> Option<&JoinRow> {
        Some(self.row(self.row_on(on.panel, on.side)?))
    }

    /// The gaps for the first round of a fill, by the rows of its rim.
    fn rim_gaps_by_rows(&self, kind: &PanelLayout, rim: &[RimSide]) -> RimGaps {
        let mut gaps = RimGaps::of(kind);
        let is_plain = |on: &RimSide| self.rim_row(on).is_none_or(JoinRow::is_plain);
        if !gaps.corner_beads && !rim.iter().all(is_plain) {
            let held = |on: &RimSide| -> Vec<u32> {
                let row = self.rim_row(on);
                let gaps = row.map_or(0, |row| row.gaps);
                let in_gap =
                    |nth| row.map_or(1, |row| row.in_gap(on.nth(nth, gaps), gaps).len() as u32);
                (0..gaps).map(in_gap).collect()
            };
            let rows: Vec<Vec<u32>> = rim.iter().map(held).collect();
            gaps.on_rows(&rows);
        }
        gaps
    }

    /// The gaps of a fill's rim for which the plan differs from its rows.
    pub(in crate::beadwork) fn planned_otherwise(&self, fill: Panel) -> Vec<RowGap> {
        let planned = self.panel(fill);
        let (rim, row_gaps) = (planned.rim, &planned.row_gaps);
        let Some(rim) = rim.filter(|_| !row_gaps.is_empty()) else {
            return vec![];
        };
        let by_rows = self.rim_gaps_by_rows(self.kind(fill), self.rim(rim));
        let is_other = |(nth, gap): &(u32, &RowGap)| {
            let is_there = *nth < by_rows.all();
            !is_there || by_rows.in_gap(*nth).len() != usize::from(gap.beads)
        };
        let gaps = (0..).zip(row_gaps).filter(is_other);
        gaps.map(|(_, gap)| *gap).collect()
    }

    /// Whether a round of a panel is the first round of a fill, worked on its
    /// rim.
    pub(in crate::beadwork) fn is_rim_round(&self, panel: Panel, round: Round) -> bool {
        self.panel(panel).rim.is_some() && round == self.kind(panel).last()
    }

    /// Bead `nth` of a fill's first round, from 0 in the order of stringing.
    pub fn rim_round_bead(&self, fill: Panel, nth: u32) -> Bead {
        let kind = self.kind(fill);
        let start = self.making(fill).start(kind.last());
        let index = (start + nth) % kind.in_round(kind.last());
        self.bead(fill, kind.last(), index)
    }

    /// A join bead of a fill's rim, by its side and its number along the side
    /// in the order of the fill.
    pub(in crate::beadwork) fn rim_join(
        &self,
        fill: Panel,
        (side, nth): (Side, u32),
    ) -> Option<Bead> {
        let on = self.rim(self.panel(fill).rim?)[side.index()];
        let row = self.row_on(on.panel, on.side)?;
        let beads = self.row(row).beads;
        (nth < beads).then(|| self.row_bead(row, on.nth(nth, beads)))
    }
}
