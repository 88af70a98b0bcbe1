//! A zip: a bare side's high beads and a row's join beads taken in turn, so
//! that the two edges lock like teeth.
//!
//! ```text
//! bare side      b0      b1      b2      b3      its own direction ->
//! join row           r2      r1      r0          its direction <-
//! ```
//!
//! (At a hinge one side of each further solid runs with the row instead.)

use super::{Draft, Steps};
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
    fn beads(&self, layout: &Layout) -> u32 {
        layout.row(self.row).beads
    }

    /// Edge bead `j` on the needle's way.
    pub fn edge(&self, layout: &Layout, j: u32) -> Bead {
        let j = if self.forward {
            j
        } else {
            self.beads(layout) - j
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

    /// Join bead `j` on the needle's way: it lies between edge beads j and
    /// j + 1.
    pub fn join(&self, layout: &Layout, j: u32) -> Bead {
        let with_the_row = self.forward == (self.runs == Direction::With);
        let j = if with_the_row {
            j
        } else {
            self.beads(layout) - 1 - j
        };
        layout.row_bead(self.row, j)
    }
}

impl Steps for Zip {
    fn steps(&self, layout: &Layout) -> u32 {
        self.beads(layout)
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let locked = i + 1;
        let mut draft = Draft::new(Kind::Zip)
            .at(None, Some(self.side))
            .counting(locked, self.beads(layout));
        draft.pass(self.join(layout, i));
        draft.pass(self.edge(layout, locked));
        draft
    }

    fn passes_before(&self, _: &Layout, i: u32) -> u32 {
        2 * i
    }

    fn strung_before(&self, _: &Layout, _: u32) -> u32 {
        0
    }

    fn leaves(&self, layout: &Layout, i: u32) -> Option<Hole> {
        let bead = self.edge(layout, i + 1);
        Some(Hole {
            bead,
            ..self.start(layout)
        })
    }
}
