//! The patch of a fill's first round: the existing rim, and the new beads
//! between its anchors.
//!
//! ```text
//!        [e]   [e]   [e]           the edge round the opening
//!     [a]   [a]   [a]   [a]        its join beads: the anchors
//!        [ ]   [ ]   [ ]           the new round
//! ```

use super::patch::{Extent, Hold, Patch};
use super::rounds::side_names;
use super::strip::{Half, LENGTH};
use crate::beadwork::end::{End, Hole};
use crate::beadwork::layout::{Layout, RimIndex};
use crate::beadwork::touch::BeforeOnRim;
use crate::beadwork::{Panel, Sequence, Side};

/// A rim and the round worked on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RimView {
    /// The fill.
    pub panel: Panel,
    pub rim: RimIndex,
    /// The side being worked.
    pub side: Side,
    /// The bead on that side nearest to the needle, from 0; at the corner after
    /// the side, the number of its beads.
    pub at: u32,
}

impl RimView {
    /// Number of beads along the side.
    pub fn length(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).edge(self.side)
    }

    /// The patch, as far as needed.
    pub fn patch(&self, seq: &Sequence, extent: Extent) -> Patch {
        let layout = seq.layout();
        let kind = layout.kind(self.panel);
        let beads = self.length(layout) as Half;
        let at_corner = self.at as Half == beads;
        let focus = match at_corner {
            true => 2 * LENGTH * beads + self.turn(layout, self.side) / 2,
            false => 2 * LENGTH * self.at as Half + LENGTH,
        };
        let mut patch = Patch {
            bricks: vec![],
            focus,
            side: None,
            hold: Hold::Bottom,
            names: side_names(layout, self.panel, self.side),
        };
        let wide = extent.across / (2 * LENGTH) + 1;
        let at = self.at as Half;
        // What of the side can be seen at most, and where it begins and ends.
        let (from, to) = ((at - wide).max(0), (at + wide).min(beads));
        let begins = self.wider(layout, self.side, (at, from));
        let ends = 2 * LENGTH * beads + self.wider(layout, self.side, (at, to));
        patch.side = (!at_corner).then_some((begins, ends));
        // The side being worked, then the visible part of its neighbours. At
        // the corner between two sides the beads are in the order in which the
        // needle goes through them.
        self.add(
            layout,
            self.side,
            (0, at),
            at - wide..=at + wide,
            &mut patch,
        );
        let next = kind.next_side(self.side);
        if at + wide > beads {
            let shift = ends + self.turn(layout, self.side);
            self.add(layout, next, (shift, 0), 0..=at + wide - beads, &mut patch);
        }
        if at < wide {
            let before = kind.side_before(self.side);
            let beads = kind.edge(before) as Half;
            let shift = begins - (2 * LENGTH * beads + self.turn(layout, before));
            let from = beads - (wide - at);
            self.add(layout, before, (shift, beads), from..=Half::MAX, &mut patch);
        }
        patch
    }

    /// The beads that the needle goes through at the corner after a side. Empty
    /// if the fill has its own corner bead, because then they lie on both sides
    /// of it.
    fn way<'a>(&self, layout: &'a Layout, side: Side) -> &'a [Hole] {
        let kind = layout.kind(self.panel);
        match kind.corner(kind.last()) {
            1 => &[],
            _ => layout.corner_way(self.rim, side),
        }
    }

    /// Room that the corner after a side takes.
    fn turn(&self, layout: &Layout, side: Side) -> Half {
        match self.way(layout, side).len() as Half {
            0 => LENGTH,
            beads => LENGTH * (beads - 1),
        }
    }

    /// How much further on bead `to` of a side lies than bead `from`, as gaps hold
    /// more than one join bead.
    fn wider(&self, layout: &Layout, side: Side, (from, to): (Half, Half)) -> Half {
        let more = |j| match layout.before_on_rim(self.panel, side, j as u32) {
            BeforeOnRim::Joins(joins) => LENGTH * (joins.len() as Half - 1).max(0),
            BeforeOnRim::Corner => 0,
        };
        let sum = |between: std::ops::Range<Half>| between.map(|j| more(j + 1)).sum::<Half>();
        sum(from..to) - sum(to..from)
    }

    /// One side of the rim, with its first anchor at `shift` if no gap before bead
    /// `at` is wider.
    fn add(
        &self,
        layout: &Layout,
        side: Side,
        (shift, at): (Half, Half),
        places: std::ops::RangeInclusive<Half>,
        patch: &mut Patch,
    ) {
        let beads = layout.kind(self.panel).edge(side) as Half;
        let rim = layout.rim(self.rim)[side.index()];
        let edge = layout.kind(rim.panel).edge(rim.side);
        let from = (*places.start()).max(0);
        let to = (*places.end()).min(beads);
        let mut add = |hole: Hole, x, level| patch.add(hole.bead, x, level, hole.end == End::Front);
        let before = layout.kind(self.panel).side_before(side);
        let (to_it, behind_it) = (self.way(layout, before), self.way(layout, side));
        for j in from..=to {
            let x = shift + 2 * LENGTH * j + self.wider(layout, side, (at, j));
            // The join beads, and at the ends the beads of the corners.
            let high = |nth| {
                let nth = rim.nth(nth, edge);
                rim.leaving(layout.edge_bead(rim.panel, rim.side, nth))
            };
            match layout.before_on_rim(self.panel, side, j as u32) {
                BeforeOnRim::Joins(joins) => {
                    for (join, nth) in joins.into_iter().rev().zip(0..) {
                        add(rim.leaving(join), x - LENGTH * nth, 1);
                    }
                }
                BeforeOnRim::Corner if j == 0 && to_it.is_empty() => add(high(0), x, 1),
                BeforeOnRim::Corner if j == 0 => {
                    for (&hole, nth) in to_it.iter().rev().zip(0..) {
                        add(hole, x - LENGTH * nth, 1);
                    }
                }
                BeforeOnRim::Corner if behind_it.is_empty() => add(high(edge - 1), x, 1),
                BeforeOnRim::Corner => {
                    for (&hole, nth) in behind_it.iter().zip(0..) {
                        add(hole, x + LENGTH * nth, 1);
                    }
                }
            }
            if j < beads {
                let new = layout.edge_bead(self.panel, side, j as u32);
                add(Hole::front(new), x + LENGTH, 0);
                if j > 0 && j + 1 < beads.min(edge as Half) {
                    add(high(j as u32), x + LENGTH, 2);
                }
            }
        }
    }
}
