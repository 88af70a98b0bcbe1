//! The end of inward work: the last ring is drawn shut.

use super::end::BeadEnd;
use super::finding::Fault;
use super::reading::ReadJob;
use super::verify_state::VerifyState;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::Bead;

/// The innermost round, from the bead that the needle leaves.
#[derive(Debug)]
pub(super) struct CloseWork {
    ring: Vec<Bead>,
    /// Number of beads passed, in order.
    done: usize,
}

impl CloseWork {
    pub fn new(ring: Vec<Bead>, state: &mut VerifyState) -> Self {
        for (i, &bead) in ring.iter().enumerate() {
            let next = ring[(i + 1) % ring.len()];
            state.draw_together(BeadEnd::front(bead), BeadEnd::back(next));
        }
        CloseWork { ring, done: 0 }
    }
}

impl ReadJob for CloseWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        if !state.check_kind(m, Kind::Close) {
            return;
        }
        if self.done == 0 {
            state.must_leave(BeadEnd::front(self.ring[0]));
        }
        state.check_counts(m, 0, 0);
        for &bead in &m.passes {
            let expected = self.ring[(self.done + 1) % self.ring.len()];
            if bead != expected {
                state.record(Fault::WrongBead {
                    expected: Some(expected),
                    found: Some(bead),
                });
            }
            self.done += 1;
        }
    }

    /// Shut means once round and through one more bead.
    fn finish(&mut self, state: &mut VerifyState) {
        if self.done <= self.ring.len() {
            state.record(Fault::NotDrawnShut);
        }
    }
}
