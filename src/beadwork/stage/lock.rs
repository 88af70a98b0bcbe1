//! A finished panel locked into the open middle of another: the innermost
//! round there lies over the panel's edge as the next round would.
//!
//! ```text
//!   [r]   [r]   [r]   [r]      innermost round of the panel around it
//!      [e]   [e]   [e]         edge of the panel that is set in
//! ```
//!
//! The needle takes the beads of the round and the beads of the edge in turn,
//! all the way round; at a corner it goes through both halves of a pair. No
//! join row is needed, since the sides differ by one.

use super::{Draft, Steps};
use crate::beadwork::{Bead, End, GapWord, Hole, Kind, Layout, Panel, PanelLayout, Place, Round};
use serde::{Deserialize, Serialize};

/// A panel set into the middle of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lock {
    /// The panel that is set in.
    pub panel: Panel,
    /// The panel whose middle is open.
    pub around: Panel,
}

impl PanelLayout {
    /// Whether the first `rounds` rounds of a kind of panel lie in the open
    /// middle of another as its own rounds would, if `ring` is its innermost.
    pub fn fits_middle(&self, rounds: u32, outer: &PanelLayout, ring: Round) -> bool {
        let lies_under = |under: Round| {
            let edge = Round(rounds);
            let mut sides = (0..outer.sides()).map(crate::beadwork::number::Side);
            self.corner(edge) > 0
                && self.corner(edge) == outer.corner(under)
                && sides.all(|side| self.on_side(edge, side) == outer.on_side(under, side))
                && outer
                    .word(ring)
                    .iter()
                    .all(|beads| (1..=2).contains(&beads))
        };
        self.sides() == outer.sides()
            && self.strip().is_none()
            && outer.strip().is_none()
            && (1..=self.rounds()).contains(&rounds)
            && (2..=outer.rounds()).contains(&ring.0)
            && lies_under(Round(ring.0 - 1))
    }
}

impl Lock {
    /// The innermost round of the panel around.
    pub fn ring(&self, layout: &Layout) -> Round {
        layout.making(self.around).innermost()
    }

    fn under(&self, layout: &Layout) -> Round {
        Round(self.ring(layout).0 - 1)
    }

    fn word<'a>(&self, layout: &'a Layout) -> &'a GapWord {
        layout.kind(self.around).word(self.ring(layout))
    }

    /// Where edge bead `i` on the needle's way lies; it leaves bead 0 first.
    fn place(&self, layout: &Layout, i: u32) -> Place {
        let kind = layout.kind(self.panel);
        let start = layout.making(self.panel).start(kind.last());
        kind.place(kind.last(), (start + i) % self.steps(layout))
    }

    /// Edge bead `i` on the needle's way.
    pub fn edge(&self, layout: &Layout, i: u32) -> Bead {
        let kind = layout.kind(self.panel);
        let Place { side, place, .. } = self.place(layout, i);
        let index = kind.index(kind.last(), side, place);
        layout.bead(self.panel, kind.last(), index)
    }

    /// The gap of the round under the ring that lies behind edge bead `i`.
    fn gap(&self, layout: &Layout, i: u32) -> u32 {
        let Place { side, place, .. } = self.place(layout, i);
        layout
            .kind(self.around)
            .index(self.under(layout), side, place)
    }

    /// The bead end that the needle leaves before the first tooth.
    pub fn start(&self, layout: &Layout) -> Hole {
        Hole::front(self.edge(layout, 0))
    }

    /// The edge bead of the panel set in that lies where bead `index` of the
    /// round under the ring would.
    pub fn bead_under(&self, layout: &Layout, index: u32) -> Bead {
        let place = layout.kind(self.around).place(self.under(layout), index);
        let kind = layout.kind(self.panel);
        let index = kind.index(kind.last(), place.side, place.place);
        layout.bead(self.panel, kind.last(), index)
    }

    /// The edge bead at an end of a bead of the ring, by its index.
    pub fn edge_beside(&self, layout: &Layout, index: u32, end: End) -> Bead {
        let word = self.word(layout);
        let gap = word.gap_of(index);
        self.bead_under(
            layout,
            match end {
                End::Back => gap,
                End::Front => (gap + 1) % word.gaps(),
            },
        )
    }

    /// The first and the last bead of the ring in the gap in which one lies.
    pub fn over(&self, layout: &Layout, index: u32) -> [Bead; 2] {
        self.in_gap(layout, self.word(layout).gap_of(index))
    }

    fn in_gap(&self, layout: &Layout, gap: u32) -> [Bead; 2] {
        let word = self.word(layout);
        let bead = |index| layout.bead(self.around, self.ring(layout), index);
        [word.beads_before(gap), word.beads_before(gap + 1) - 1].map(bead)
    }

    /// The beads of the ring, the first and the last, in the gap at an end of
    /// the edge bead at a place.
    pub fn ring_beside(
        &self,
        layout: &Layout,
        Place { side, place, .. }: Place,
        end: End,
    ) -> [Bead; 2] {
        let (outer, word) = (layout.kind(self.around), self.word(layout));
        let under = outer.index(self.under(layout), side, place);
        let gap = match end {
            End::Front => under,
            End::Back => (under + word.gaps() - 1) % word.gaps(),
        };
        self.in_gap(layout, gap)
    }
}

impl Steps for Lock {
    fn steps(&self, layout: &Layout) -> u32 {
        let kind = layout.kind(self.panel);
        kind.in_round(kind.last())
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let (at, first) = (self.place(layout, i), self.place(layout, 0));
        // The side on which it begins is also the one on which it ends.
        let locked = match at.side == first.side {
            true if i < at.of => at.place + 1 - first.place,
            true => at.place + 1 + at.of - first.place,
            false => at.place + 1,
        };
        let mut draft = Draft::new(Kind::Zip)
            .at(None, Some(at.side))
            .counting(locked, at.of);
        let [ring, last] = self.ring_beside(layout, at, End::Front);
        draft.pass(ring);
        if last != ring {
            draft.pass(last);
        }
        draft.pass(self.edge(layout, i + 1));
        draft
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        let word = self.word(layout);
        let (from, all) = (self.gap(layout, 0), word.gaps());
        let before = |gap| word.beads_before(gap);
        let ring = match (from + i).checked_sub(all) {
            Some(past) => before(all) - before(from) + before(past),
            None => before(from + i) - before(from),
        };
        i + ring
    }
}
