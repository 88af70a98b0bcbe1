//! The first round of a fill: a bead in each gap of the rim, side by side.
//!
//! Along a side the needle goes through join beads; at each corner it goes on
//! through beads already there and adds nothing. Which these are the layout
//! keeps with the rim, and how many beads each gap holds.

use super::{Draft, Holes, Steps};
use crate::beadwork::layout::{RimGaps, RimIndex};
use crate::beadwork::movement::NEEDLEFUL;
use crate::beadwork::{Bead, End, Hole, Kind, Layout, Panel, Side};
use serde::{Deserialize, Serialize};

/// Round K of a panel filled on a rim. The needle leaves the last bead of the
/// way through its last corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RimRound {
    /// The fill.
    pub panel: Panel,
    /// Its rim.
    pub rim: RimIndex,
}

/// One side of the round: its stitches, and the way through the corner
/// behind it.
#[derive(Clone, Copy)]
struct FillSide<'a> {
    side: Side,
    gaps: &'a RimGaps,
    /// The first of its gaps.
    first: u32,
    way: &'a [Hole],
    is_last: bool,
}

impl FillSide<'_> {
    /// Stitches: one a gap.
    fn stitches(&self) -> u32 {
        self.gaps.on_side(self.side)
    }

    /// Beads strung on it in the steps before `i` of the side.
    fn strung_before(&self, i: u32) -> u32 {
        let done = i.min(self.stitches());
        self.gaps.before(self.first + done) - self.gaps.before(self.first)
    }

    /// Beads of the way that the last stitch goes into: one, unless it is the
    /// only one and the step-down's.
    fn stitched(&self) -> u32 {
        u32::from(!self.is_last || self.way.len() > 1)
    }

    /// Beads of the way that are passed in steps of their own.
    fn passed(&self) -> u32 {
        let turned = u32::from(self.is_last);
        self.way.len() as u32 - self.stitched() - turned
    }

    fn pass_steps(&self) -> u32 {
        self.passed().div_ceil(NEEDLEFUL as u32)
    }

    fn steps(&self) -> u32 {
        self.stitches() + self.pass_steps() + u32::from(self.is_last)
    }

    /// Beads gone through in the steps before `i` of the side.
    fn passes_before(&self, i: u32) -> u32 {
        let (strung, stitches) = (self.strung_before(i), self.stitches());
        if i < stitches {
            return strung + i;
        }
        let passes = ((i - stitches) * NEEDLEFUL as u32).min(self.passed());
        let turn = if self.is_last && i == self.steps() {
            2
        } else {
            0
        };
        strung + stitches - 1 + self.stitched() + passes + turn
    }
}

impl RimRound {
    fn sides(&self, layout: &Layout) -> u32 {
        u32::from(layout.kind(self.panel).sides())
    }

    fn side<'a>(&self, layout: &'a Layout, gaps: &'a RimGaps, s: u32) -> FillSide<'a> {
        let side = Side(s as u8);
        FillSide {
            side,
            gaps,
            first: gaps.first(side),
            way: layout.corner_way(self.rim, side),
            is_last: s + 1 == self.sides(layout),
        }
    }

    /// The side that step `i` is on, its number on that side, and the steps
    /// and passes of the sides before. One step past the last is the last
    /// side's.
    fn find<'a>(&self, layout: &'a Layout, gaps: &'a RimGaps, i: u32) -> (FillSide<'a>, u32, u32) {
        let (mut s, mut before, mut passes) = (0, 0, 0);
        loop {
            let side = self.side(layout, gaps, s);
            if i < before + side.steps() || side.is_last {
                return (side, i - before, passes);
            }
            before += side.steps();
            passes += side.passes_before(side.steps());
            s += 1;
        }
    }

    /// The step, from 0, that works a gap of the rim.
    pub(in crate::beadwork) fn step_of_gap(&self, layout: &Layout, gap: u32) -> u32 {
        let gaps = layout.rim_gaps(self.panel);
        let (on, place) = gaps.place_of(gap);
        let before = (0..on.0).map(|s| self.side(layout, &gaps, s.into()).steps());
        before.sum::<u32>() + place
    }

    /// The gap of the rim that a step works, named by the bead that was planned
    /// for it, and the beads in it. None unless exactly one bead was planned.
    pub(in crate::beadwork) fn gap_of_step(&self, layout: &Layout, i: u32) -> Option<(u32, u32)> {
        let gaps = layout.rim_gaps(self.panel);
        let (side, at, _) = self.find(layout, &gaps, i);
        let gap = side.first + at;
        let planned = (at < side.stitches()).then(|| gaps.planned_bead_in(gap))?;
        Some((planned?, gaps.in_gap(gap).len() as u32))
    }

    fn bead(&self, layout: &Layout, nth: u32) -> Bead {
        layout.rim_round_bead(self.panel, nth)
    }
}

impl Steps for RimRound {
    fn steps(&self, layout: &Layout) -> u32 {
        let gaps = layout.rim_gaps(self.panel);
        let sides = 0..self.sides(layout);
        sides.map(|s| self.side(layout, &gaps, s).steps()).sum()
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let gaps = layout.rim_gaps(self.panel);
        let (side, at, _) = self.find(layout, &gaps, i);
        let way = side.way;
        let target = gaps.before(gaps.all());
        let round = Some(layout.kind(self.panel).last());
        if at < side.stitches() {
            let gap = side.first + at;
            let beads = gaps.in_gap(gap);
            let in_place = beads.end;
            let mut draft = Draft::into_gap(beads.map(|nth| self.bead(layout, nth)))
                .at(round, Some(side.side))
                .counting(in_place, target);
            let along = (at + 1 < side.stitches()).then(|| gaps.join_at(gap, End::Front));
            match along
                .flatten()
                .and_then(|join| layout.rim_join(self.panel, join))
            {
                Some(join) => draft.pass(join),
                None if side.stitched() > 0 => draft.pass(way[0].bead),
                None => {}
            }
            return draft;
        }
        let pass = at - side.stitches();
        if pass < side.pass_steps() {
            let mut draft = Draft::new(Kind::PassThrough)
                .at(round, Some(side.side))
                .counting(gaps.before(side.first + side.stitches()), target);
            let from = side.stitched() + pass * NEEDLEFUL as u32;
            let to = (from + NEEDLEFUL as u32).min(side.stitched() + side.passed());
            for hole in &way[from as usize..to as usize] {
                draft.pass(hole.bead);
            }
            return draft;
        }
        let mut draft = Draft::new(Kind::StepDown)
            .at(round, None)
            .counting(target, target);
        draft.pass(way[way.len() - 1].bead);
        draft.pass(self.bead(layout, 0));
        draft
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        let gaps = layout.rim_gaps(self.panel);
        let (side, at, passes) = self.find(layout, &gaps, i);
        passes + side.passes_before(at)
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        let gaps = layout.rim_gaps(self.panel);
        let (side, at, _) = self.find(layout, &gaps, i);
        gaps.before(side.first) + side.strung_before(at)
    }

    fn holes(&self, layout: &Layout, i: u32) -> Holes {
        let draft = self.step(layout, i);
        let gaps = layout.rim_gaps(self.panel);
        let (side, _, _) = self.find(layout, &gaps, i);
        let hole = |&bead: &Bead| {
            let on_the_way = side.way.iter().find(|hole| hole.bead == bead);
            match (on_the_way, layout.panel_of(bead) == self.panel) {
                (Some(&hole), _) => hole,
                (None, true) => Hole::front(bead),
                (None, false) => layout.rim(self.rim)[side.side.index()].leaving(bead),
            }
        };
        draft.passes.iter().map(hole).collect()
    }
}
