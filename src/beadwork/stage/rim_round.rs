//! The first round of a fill: a bead between each two anchors of the rim,
//! side by side; at each corner the needle goes on through beads already
//! there and adds nothing.

use super::{Draft, Steps};
use crate::beadwork::layout::{Layout, RimIndex};
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Panel, Side};

/// Round K of a panel filled on a rim. The needle leaves the first anchor of
/// its first side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RimRound {
    /// The fill.
    pub panel: Panel,
    /// Its rim.
    pub rim: RimIndex,
}

impl RimRound {
    /// Beads on each side.
    fn side(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).edge(Side(0))
    }

    fn sides(&self, layout: &Layout) -> u32 {
        u32::from(layout.kind(self.panel).sides())
    }
}

impl Steps for RimRound {
    // Each side: its beads and then one step through the corner, which for
    // the last side is the step-down.
    fn steps(&self, layout: &Layout) -> u32 {
        self.sides(layout) * (self.side(layout) + 1)
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let (per, sides) = (self.side(layout), self.sides(layout));
        let (s, at) = (i / (per + 1), i % (per + 1));
        let side = Side(s as u8);
        let kind = layout.kind(self.panel);
        let target = per * sides;
        let placed = s * per + (at + 1).min(per);
        let round = Some(kind.last());
        if at < per {
            let mut draft = Draft::new(Kind::Stitch)
                .at(round, Some(side))
                .counting(placed, target);
            draft.string(layout.edge_bead(self.panel, side, at));
            draft.pass(layout.anchor(self.rim, side, at + 1));
            return draft;
        }
        let next = kind.next_side(side);
        let anchor = layout.anchor(self.rim, next, 0);
        if s + 1 < sides {
            let mut draft = Draft::new(Kind::PassThrough)
                .at(round, Some(side))
                .counting(placed, target);
            draft.pass(anchor);
            return draft;
        }
        let mut draft = Draft::new(Kind::StepDown)
            .at(round, None)
            .counting(target, target);
        draft.pass(anchor);
        draft.pass(layout.edge_bead(self.panel, next, 0));
        draft
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        let per = self.side(layout);
        let (s, at) = (i / (per + 1), i % (per + 1));
        let whole = i == self.steps(layout);
        s * (2 * per + 1) + 2 * at + u32::from(whole)
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        let per = self.side(layout);
        i / (per + 1) * per + i % (per + 1)
    }
}
