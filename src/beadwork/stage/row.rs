//! A join row: a bead in each gap of a side's edge, and tip beads, if wanted,
//! in the corner gap behind it.

use super::{Draft, Steps};
use crate::beadwork::layout::RowIndex;
use crate::beadwork::{Layout, Round};
use serde::{Deserialize, Serialize};

/// The working of a join row. The needle leaves the side's first up bead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RowStage {
    /// The row.
    pub row: RowIndex,
}

impl Steps for RowStage {
    fn steps(&self, layout: &Layout) -> u32 {
        let row = layout.row(self.row);
        row.gaps + u32::from(row.tips > 0)
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let row = layout.row(self.row);
        let kind = layout.kind(row.panel);
        let (beads, into) = match i < row.gaps {
            true => (row.in_gap(i, row.gaps), (row.side, i + 1)),
            false => (
                row.beads..row.beads + row.tips,
                (kind.next_side(row.side), 0),
            ),
        };
        let in_place = beads.end;
        let mut draft = Draft::into_gap(beads.map(|nth| layout.row_bead(self.row, nth)))
            .at(Some(Round(kind.rounds() + 1)), Some(row.side))
            .counting(in_place, row.beads + row.tips);
        draft.pass(layout.edge_bead(row.panel, into.0, into.1));
        draft
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        let row = layout.row(self.row);
        let tips = if i > row.gaps { row.tips + 1 } else { 0 };
        let gaps = i.min(row.gaps);
        gaps + row.before_gap(gaps, row.gaps) + tips
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        let row = layout.row(self.row);
        let tips = if i > row.gaps { row.tips } else { 0 };
        row.before_gap(i.min(row.gaps), row.gaps) + tips
    }
}
