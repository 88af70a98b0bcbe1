//! The string that a strip begins with: rows 1 and 2, bead by bead, row 2
//! first. Nothing closes it.

use super::{Draft, Steps};
use crate::beadwork::layout::Layout;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Panel, Round};
use serde::{Deserialize, Serialize};

/// Rows 1 and 2 of a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TwoRows {
    /// The panel.
    pub panel: Panel,
}

impl Steps for TwoRows {
    fn steps(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).before(Round(3))
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let kind = layout.kind(self.panel);
        let (round, index) = layout.making(self.panel).bead(kind, i);
        let mut draft = Draft::new(Kind::Ring)
            .at(Some(round), Some(kind.side(round, index)))
            .counting(index + 1, kind.in_round(round));
        draft.string(layout.bead(self.panel, round, index));
        draft
    }

    fn passes_before(&self, _: &Layout, i: u32) -> u32 {
        i
    }

    fn strung_before(&self, _: &Layout, i: u32) -> u32 {
        i
    }
}
