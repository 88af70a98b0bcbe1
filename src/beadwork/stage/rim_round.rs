//! The first round of a fill: a bead in each gap of the rim, side by side.
//!
//! Along a side the needle goes through join beads; at each corner it goes on
//! through beads already there and adds nothing. Which these are the layout
//! keeps with the rim.

use super::{Draft, Holes, Steps};
use crate::beadwork::end::Hole;
use crate::beadwork::layout::{Layout, RimIndex};
use crate::beadwork::movement::{Kind, NEEDLEFUL};
use crate::beadwork::number::{Bead, Panel, Side};
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
    /// Beads on each side.
    per: u32,
    way: &'a [Hole],
    is_last: bool,
}

impl FillSide<'_> {
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
        self.per + self.pass_steps() + u32::from(self.is_last)
    }

    /// Beads gone through in the steps before `i` of the side.
    fn passes_before(&self, i: u32) -> u32 {
        if i < self.per {
            return 2 * i;
        }
        let stitches = 2 * self.per - 1 + self.stitched();
        let passes = ((i - self.per) * NEEDLEFUL as u32).min(self.passed());
        let turn = if self.is_last && i == self.steps() {
            2
        } else {
            0
        };
        stitches + passes + turn
    }
}

impl RimRound {
    /// Beads on each side; a corner bead counts on the side that it ends.
    fn per_side(&self, layout: &Layout) -> u32 {
        let kind = layout.kind(self.panel);
        kind.in_round(kind.last()) / self.sides(layout)
    }

    fn sides(&self, layout: &Layout) -> u32 {
        u32::from(layout.kind(self.panel).sides())
    }

    fn side<'a>(&self, layout: &'a Layout, s: u32) -> FillSide<'a> {
        let side = Side(s as u8);
        FillSide {
            side,
            per: self.per_side(layout),
            way: layout.corner_way(self.rim, side),
            is_last: s + 1 == self.sides(layout),
        }
    }

    /// The side that step `i` is on, its number on that side, and the steps
    /// and passes of the sides before. One step past the last is the last
    /// side's.
    fn find<'a>(&self, layout: &'a Layout, i: u32) -> (FillSide<'a>, u32, u32) {
        let (mut s, mut before, mut passes) = (0, 0, 0);
        loop {
            let side = self.side(layout, s);
            if i < before + side.steps() || side.is_last {
                return (side, i - before, passes);
            }
            before += side.steps();
            passes += side.passes_before(side.steps());
            s += 1;
        }
    }

    fn bead(&self, layout: &Layout, nth: u32) -> Bead {
        let kind = layout.kind(self.panel);
        let first = layout.making(self.panel).start(kind.last());
        let index = (first + nth) % kind.in_round(kind.last());
        layout.bead(self.panel, kind.last(), index)
    }

    /// The join bead behind bead `place` of a side, if one is.
    fn join_bead(&self, layout: &Layout, side: FillSide, place: u32) -> Option<Bead> {
        let on = layout.rim(self.rim)[side.side.index()];
        let row = layout.row_on(on.panel, on.side)?;
        let beads = layout.row(row).beads;
        // With a corner bead the first join bead is part of the way to it.
        let nth = place + 1 + beads - side.per;
        (place + 1 < side.per).then(|| layout.row_bead(row, on.nth(nth, beads)))
    }
}

impl Steps for RimRound {
    fn steps(&self, layout: &Layout) -> u32 {
        let sides = 0..self.sides(layout);
        sides.map(|s| self.side(layout, s).steps()).sum()
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let (side, at, _) = self.find(layout, i);
        let (per, way) = (side.per, side.way);
        let target = per * self.sides(layout);
        let before = u32::from(side.side.0) * per;
        let round = Some(layout.kind(self.panel).last());
        if at < per {
            let mut draft = Draft::new(Kind::Stitch)
                .at(round, Some(side.side))
                .counting(before + at + 1, target);
            draft.string(self.bead(layout, before + at));
            match self.join_bead(layout, side, at) {
                Some(join) => draft.pass(join),
                None if side.stitched() > 0 => draft.pass(way[0].bead),
                None => {}
            }
            return draft;
        }
        let pass = at - per;
        if pass < side.pass_steps() {
            let mut draft = Draft::new(Kind::PassThrough)
                .at(round, Some(side.side))
                .counting(before + per, target);
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
        let (side, at, passes) = self.find(layout, i);
        passes + side.passes_before(at)
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        let (side, at, _) = self.find(layout, i);
        u32::from(side.side.0) * side.per + at.min(side.per)
    }

    fn holes(&self, layout: &Layout, i: u32) -> Holes {
        let draft = self.step(layout, i);
        let (side, _, _) = self.find(layout, i);
        let hole = |&bead: &Bead| {
            let on_the_way = side.way.iter().find(|hole| hole.bead == bead);
            match (on_the_way, layout.seat(bead).panel == self.panel) {
                (Some(&hole), _) => hole,
                (None, true) => Hole::front(bead),
                (None, false) => layout.rim(self.rim)[side.side.index()].leaving(bead),
            }
        };
        draft.passes.iter().map(hole).collect()
    }
}
