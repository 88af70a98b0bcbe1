//! A join row: a bead in each gap of a side's edge, and tip beads, if wanted,
//! in the corner gap behind it.

use super::{Draft, Steps};
use crate::beadwork::layout::{Layout, RowIndex};
use crate::beadwork::movement::Kind;
use crate::beadwork::number::Round;
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
        let round = Some(Round(kind.rounds() + 1));
        let target = row.beads + row.tips;
        let side = Some(row.side);
        if i < row.gaps {
            let beads = row.in_gap(i, row.gaps);
            let kind = match beads.len() {
                0 => Kind::Decrease,
                1 => Kind::Stitch,
                _ => Kind::Increase,
            };
            let mut draft = Draft::new(kind).at(round, side).counting(beads.end, target);
            for bead in beads {
                draft.string(layout.row_bead(self.row, bead));
            }
            draft.pass(layout.edge_bead(row.panel, row.side, i + 1));
            return draft;
        }
        let what = match row.tips {
            1 => Kind::Stitch,
            _ => Kind::Increase,
        };
        let mut draft = Draft::new(what).at(round, side).counting(target, target);
        for tip in 0..row.tips {
            draft.string(layout.row_bead(self.row, row.beads + tip));
        }
        let next = kind.next_side(row.side);
        draft.pass(layout.edge_bead(row.panel, next, 0));
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
