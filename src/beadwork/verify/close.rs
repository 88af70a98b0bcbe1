//! The end of inward work: the last ring is drawn shut, or the rim of an open
//! middle is reinforced.

use super::end::BeadEnd;
use super::finding::Fault;
use super::verify_state::VerifyState;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::Bead;

/// The innermost round, from the bead that the needle leaves.
#[derive(Debug)]
pub(super) struct Middle {
    ring: Vec<Bead>,
    is_open: bool,
    passed: Vec<u32>,
    /// Number of beads passed, in order.
    done: usize,
}

impl Middle {
    pub fn new(ring: Vec<Bead>, is_open: bool, state: &mut VerifyState) -> Self {
        if !is_open {
            for (i, &bead) in ring.iter().enumerate() {
                let next = ring[(i + 1) % ring.len()];
                state.draw_together(BeadEnd::front(bead), BeadEnd::back(next));
            }
        }
        Middle {
            passed: vec![0; ring.len()],
            ring,
            is_open,
            done: 0,
        }
    }

    pub fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        let expected = if self.is_open {
            Kind::Firm
        } else {
            Kind::Close
        };
        if !state.check_kind(m, expected) {
            return;
        }
        if self.done == 0 && self.passed.iter().all(|&passed| passed == 0) {
            state.must_leave(BeadEnd::front(self.ring[0]));
        }
        state.check_counts(m, 0, 0);
        for &bead in &m.passes {
            if let Some(i) = self.ring.iter().position(|&b| b == bead) {
                self.passed[i] += 1;
            }
            if !self.is_open {
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
    }

    /// Checks at the end of the job: shut means once round and through one more
    /// bead, reinforced means twice round.
    pub fn finish(&self, state: &mut VerifyState) {
        if !self.is_open {
            if self.done <= self.ring.len() {
                state.record(Fault::NotDrawnShut);
            }
            return;
        }
        let slack = self.passed.iter().position(|&passed| passed < 2);
        if let Some(i) = slack {
            let bead = self.ring[i];
            state.record(Fault::NotFirmed(bead));
        }
    }
}
