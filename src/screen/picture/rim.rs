//! The patch of a fill's first round: the rim that is there, and the new
//! beads between its anchors.
//!
//! ```text
//!        [e]   [e]   [e]           the edge round the opening
//!     [a]   [a]   [a]   [a]        its join beads: the anchors
//!        [ ]   [ ]   [ ]           the new round
//! ```

use super::patch::{Brick, Hold, Patch, Reach};
use super::rounds::side_names;
use super::strip::{Half, LENGTH};
use crate::beadwork::layout::{Layout, RimIndex};
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::sequence::Sequence;

/// A rim and what is worked on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RimView {
    /// The fill.
    pub panel: Panel,
    /// Its rim.
    pub rim: RimIndex,
    /// The side that is worked.
    pub side: Side,
    /// The bead on that side nearest to the needle, from 0.
    pub at: u32,
}

impl RimView {
    /// Beads along the side.
    pub fn length(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).edge(self.side)
    }

    /// The patch, as far as it has to reach.
    pub fn patch(&self, seq: &Sequence, reach: Reach) -> Patch {
        let layout = seq.layout();
        let kind = layout.kind(self.panel);
        let beads = self.length(layout) as Half;
        let focus = 2 * LENGTH * self.at as Half + LENGTH;
        let mut patch = Patch {
            bricks: vec![],
            focus,
            side: Some((0, 2 * LENGTH * beads)),
            hold: Hold::Bottom,
            names: side_names(layout, self.panel, self.side),
        };
        let wide = reach.across / (2 * LENGTH) + 1;
        let at = self.at as Half;
        // The side that is worked, then what can be seen of its neighbours.
        self.add(layout, self.side, 0, at - wide..=at + wide, &mut patch);
        let corner = 2 * LENGTH * beads + LENGTH;
        let next = kind.next_side(self.side);
        if at + wide > beads {
            self.add(layout, next, corner, 0..=at + wide - beads, &mut patch);
        }
        if at < wide {
            let before = kind.side_before(self.side);
            let shift = -(2 * LENGTH * kind.edge(before) as Half + LENGTH);
            let from = kind.edge(before) as Half - (wide - at);
            self.add(layout, before, shift, from..=Half::MAX, &mut patch);
        }
        patch
    }

    /// One side of the rim, its first anchor at `shift`.
    fn add(
        &self,
        layout: &Layout,
        side: Side,
        shift: Half,
        places: std::ops::RangeInclusive<Half>,
        patch: &mut Patch,
    ) {
        let beads = layout.kind(self.panel).edge(side) as Half;
        let rim = layout.rim(self.rim)[side.index()];
        let from = (*places.start()).max(0);
        let to = (*places.end()).min(beads);
        for j in from..=to {
            let x = shift + 2 * LENGTH * j;
            let mut add = |bead, x, level| patch.bricks.push(Brick { bead, x, level });
            // The join beads, and at the ends the corner beads of the rim.
            let anchor = layout.anchor(self.rim, side, j as u32);
            let high = |nth| layout.edge_bead(rim.panel, rim.side, rim.nth(nth, beads as u32));
            let corner = match j {
                0 => high(0),
                _ => high(beads as u32 - 1),
            };
            add(anchor.unwrap_or(corner), x, 1);
            if j < beads {
                let new = layout.edge_bead(self.panel, side, j as u32);
                add(new, x + LENGTH, 0);
                if j > 0 && j + 1 < beads {
                    add(high(j as u32), x + LENGTH, 2);
                }
            }
        }
    }
}
