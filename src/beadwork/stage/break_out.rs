//! A bead too many is broken out: the maker crushes it with pliers, the thread
//! stays in the work, and the gap closes.
//!
//! What lies on the mat is then as if the bead had never been strung, so the
//! layout does not have it. [`Sequence::as_made`](crate::beadwork::Sequence::as_made)
//! tells of the steps as they were, with the bead in them.

use super::{Draft, RimRound, RowStage, Stage, Steps};
use crate::beadwork::stage::Rounds;
use crate::beadwork::{Colour, Kind, Layout, Panel, Round, Side};
use serde::{Deserialize, Serialize};

/// The bead strung last into a gap is broken out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BreakOut {
    /// The panel; of a join row the one that carries it.
    pub panel: Panel,
    /// The round; a join row is the round after the panel's last.
    pub round: Round,
    /// The side, of a join row only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side: Option<Side>,
    /// The gap, from 0 as in [`GapChange`](crate::beadwork::own_rounds::GapChange).
    pub gap: u32,
    /// The bead's colour, as an index into the kinds of bead.
    pub colour: Colour,
}

impl BreakOut {
    /// Whether both are about the same gap.
    pub(in crate::beadwork) fn is_in_the_gap_of(&self, other: &BreakOut) -> bool {
        let colour = self.colour;
        *self == BreakOut { colour, ..*other }
    }

    /// The stage that works the gap, and which step of it, from 0.
    pub(in crate::beadwork) fn worked_in(&self, layout: &Layout) -> Option<(Stage, u32)> {
        let panel = self.panel;
        if !layout.is_begun(panel) {
            return None;
        }
        if let Some(side) = self.side {
            let row = layout.row_on(panel, side)?;
            return Some((RowStage { row }.into(), self.gap));
        }
        if let Some(rim) = layout.panel(panel).rim
            && layout.is_rim_round(panel, self.round)
        {
            let round = RimRound { panel, rim };
            let step = round.step_of_gap(layout, self.gap);
            return Some((round.into(), step));
        }
        let on = layout.worked_on(panel, self.round)?;
        Some((Rounds { panel, on }.into(), self.gap))
    }
}

impl Steps for BreakOut {
    fn step(&self, _: &Layout, _: u32) -> Draft {
        Draft::new(Kind::BreakOut)
    }
}
