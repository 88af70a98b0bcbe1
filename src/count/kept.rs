//! As stitched: differences from the layout that the maker decided to keep.

use crate::beadwork::{Panel, Round, Sequence, Side};

/// A difference that stays in the work: an extra tip bead, a skipped join
/// bead, a bead too many in a round.
///
/// A bead more in a round is a gap more for every round worked on it, so a
/// difference in a round of a face carries on to all rounds worked later on
/// that panel. A difference in a join row ends there: the round after a
/// panel's last carries nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kept {
    /// The panel.
    pub panel: Panel,
    /// The round in which it was made; the round after the last is the rows.
    pub round: Round,
    /// The side.
    pub side: Side,
    /// Beads more (or, negative, fewer) than the layout has.
    pub by: i32,
}

impl Kept {
    /// Whether the difference shows in `round` of `panel`.
    fn shows(&self, seq: &Sequence, panel: Panel, round: Round) -> bool {
        if panel != self.panel {
            return false;
        }
        let layout = seq.layout();
        let last = layout.kind(panel).last();
        if round == self.round {
            return true;
        }
        if round > last || self.round > last {
            return false;
        }
        match layout.making(panel).begin.way() {
            crate::beadwork::project::Way::Outward => round > self.round,
            crate::beadwork::project::Way::Inward => round < self.round,
        }
    }
}

/// Beads on each side as they are in the work.
pub(super) fn as_stitched(
    seq: &Sequence,
    panel: Panel,
    round: Round,
    sides: &mut [u32],
    kept: &[Kept],
) {
    for k in kept {
        if let (true, Some(beads)) = (k.shows(seq, panel, round), sides.get_mut(k.side.index())) {
            *beads = beads.saturating_add_signed(k.by);
        }
    }
}
