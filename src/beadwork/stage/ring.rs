//! The ring in the middle of a panel: strung bead by bead, closed by going
//! through the first bead again.

use super::{Draft, Steps};
use crate::beadwork::layout::Layout;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Panel, Round};
use serde::{Deserialize, Serialize};

/// Round 1 of a panel worked outward.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ring {
    /// The panel.
    pub panel: Panel,
}

impl Ring {
    fn beads(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).in_round(Round(1))
    }
}

impl Steps for Ring {
    fn steps(&self, layout: &Layout) -> u32 {
        self.beads(layout) + 1
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let beads = self.beads(layout);
        let closing = i == beads;
        let index = if closing { 0 } else { i };
        let side = layout.kind(self.panel).side(Round(1), index);
        let mut draft = Draft::new(Kind::Ring)
            .at(Some(Round(1)), (!closing).then_some(side))
            .counting((i + 1).min(beads), beads);
        let bead = layout.bead(self.panel, Round(1), index);
        if closing {
            draft.pass(bead);
        } else {
            draft.string(bead);
        }
        draft
    }

    fn passes_before(&self, _: &Layout, i: u32) -> u32 {
        i
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        i.min(self.beads(layout))
    }
}
