//! A fold, and two corners tied: thread must pass beads of both.

use super::corners::PanelCorner;
use super::finding::Fault;
use super::reading::ReadJob;
use super::verify_state::VerifyState;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::Bead;

#[derive(Debug)]
pub(super) struct TieWork {
    corners: [PanelCorner; 2],
    /// Beads at each corner, as they were before the fold.
    beads: [Vec<Bead>; 2],
    folded: bool,
    passed: [bool; 2],
}

impl TieWork {
    pub fn new(from: PanelCorner, to: PanelCorner, state: &mut VerifyState) -> Self {
        let at = |corner| state.thread.corners.beads_at(corner);
        TieWork {
            beads: [at(from), at(to)],
            corners: [from, to],
            folded: false,
            passed: [false; 2],
        }
    }
}

impl ReadJob for TieWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        state.check_kind(m, Kind::Fold);
        state.check_counts(m, 0, 0);
        if m.passes.is_empty() {
            let [from, to] = self.corners;
            state.thread.corners.meet(from, to);
            self.folded = true;
        }
        for (passed, beads) in self.passed.iter_mut().zip(&self.beads) {
            *passed |= self.folded && m.passes.iter().any(|bead| beads.contains(bead));
        }
    }

    fn finish(&mut self, state: &mut VerifyState) {
        if self.passed != [true; 2] {
            state.record(Fault::NotTied);
        }
    }
}
