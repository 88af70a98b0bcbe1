//! A zip: a bare side's up beads and a row's join beads taken in turn, so
//! that the two edges lock like teeth.
//!
//! ```text
//! bare side      b0      b1      b2      b3      its own direction ->
//! join row           r2      r1      r0          its direction <-
//! ```
//!
//! (At a hinge one side of each further solid runs with the row instead.)

use super::{Draft, Holes, Steps};
use crate::beadwork::end::Hole;
use crate::beadwork::layout::{Layout, RowIndex};
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Bead, Panel, Side};
use crate::beadwork::seams::Direction;
use serde::{Deserialize, Serialize};

/// A bare side locked into a join row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Zip {
    /// The row.
    pub row: RowIndex,
    /// The panel whose side is bare.
    pub panel: Panel,
    /// The bare side.
    pub side: Side,
    /// Which way the bare side runs beside the row.
    pub runs: Direction,
    /// Whether the needle goes along the bare side in its own direction.
    pub forward: bool,
}

impl Zip {
    /// Gaps of the bare side: the teeth of the join.
    pub fn gaps(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).edge(self.side) - 1
    }

    /// Edge bead `j` on the needle's way.
    pub fn edge(&self, layout: &Layout, j: u32) -> Bead {
        let j = if self.forward {
            j
        } else {
            self.gaps(layout) - j
        };
        layout.edge_bead(self.panel, self.side, j)
    }

    /// The bead end that the needle leaves before the first tooth.
    pub fn start(&self, layout: &Layout) -> Hole {
        let bead = self.edge(layout, 0);
        match self.forward {
            true => Hole::front(bead),
            false => Hole::back(bead),
        }
    }

    /// All beads of the join behind the first, in the order in which the needle
    /// takes them, each with the end by which it leaves them.
    pub fn beads(&self, layout: &Layout) -> Vec<Hole> {
        let tooth = |i| self.tooth(layout, i);
        (0..self.gaps(layout)).flat_map(tooth).collect()
    }

    fn tooth(&self, layout: &Layout, i: u32) -> impl Iterator<Item = Hole> + use<> {
        let with_the_row = self.forward == (self.runs == Direction::With);
        let leaving = |bead, ahead| match ahead {
            true => Hole::front(bead),
            false => Hole::back(bead),
        };
        let joins = self
            .joins(layout, i)
            .map(move |bead| leaving(bead, with_the_row));
        joins.chain([leaving(self.edge(layout, i + 1), self.forward)])
    }

    /// The join beads of tooth `i` on the needle's way, in the order in which
    /// it takes them: they lie between edge beads i and i + 1. One, unless the
    /// maker left some out or added some.
    pub fn joins(&self, layout: &Layout, i: u32) -> impl Iterator<Item = Bead> + use<> {
        let (row, gaps) = (layout.row(self.row), self.gaps(layout));
        let with_the_row = self.forward == (self.runs == Direction::With);
        let gap = if with_the_row { i } else { gaps - 1 - i };
        let beads = row.in_gap(gap, gaps);
        let (first, of) = (layout.row_bead(self.row, beads.start), beads.len() as u32);
        let nth = move |n| if with_the_row { n } else { of - 1 - n };
        (0..of).map(move |n| Bead(first.0 + nth(n)))
    }
}

impl Steps for Zip {
    fn steps(&self, layout: &Layout) -> u32 {
        self.gaps(layout)
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let locked = i + 1;
        let mut draft = Draft::new(Kind::Zip)
            .at(None, Some(self.side))
            .counting(locked, self.gaps(layout));
        self.joins(layout, i).for_each(|join| draft.pass(join));
        draft.pass(self.edge(layout, locked));
        draft
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        let (row, gaps) = (layout.row(self.row), self.gaps(layout));
        let before = |gap| row.before_gap(gap, gaps);
        let with_the_row = self.forward == (self.runs == Direction::With);
        i + match with_the_row {
            true => before(i),
            false => row.beads - before(gaps - i),
        }
    }

    fn strung_before(&self, _: &Layout, _: u32) -> u32 {
        0
    }

    fn holes(&self, layout: &Layout, i: u32) -> Holes {
        self.tooth(layout, i).collect()
    }
}
