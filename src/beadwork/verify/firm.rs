//! The rim of an opening that stays open, passed twice round.

use super::finding::Fault;
use super::reading::ReadJob;
use super::verify_state::VerifyState;
use super::whole::meet_next;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Side};
use std::collections::HashMap;

#[derive(Debug)]
pub(super) struct FirmWork {
    passed: HashMap<Bead, u32>,
}

impl FirmWork {
    pub fn new(rim: &[(Panel, Side)], state: &mut VerifyState) -> Self {
        let mut passed = HashMap::new();
        for (nth, &(panel, side)) in rim.iter().enumerate() {
            meet_next((panel, side), rim[(nth + 1) % rim.len()], state);
            let edge = state.edge((panel, side)).unwrap_or_default();
            let Some(row) = state.ledger.row_mut((panel, side)) else {
                state.record(Fault::NoRow { panel, side });
                continue;
            };
            // At a hinge, the openings of two solids can share a row.
            let again = row.firmed == 2;
            row.firmed += 1;
            row.partners += 1;
            let beads = edge.iter().chain(&row.beads);
            passed.extend(beads.map(|&bead| (bead, 0)));
            if again {
                state.record(Fault::SideUsedTwice { panel, side });
            }
        }
        state.ledger.firmed += 1;
        state.ledger.open_rims.push(rim.to_vec());
        FirmWork { passed }
    }
}

impl ReadJob for FirmWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        state.check_kind(m, Kind::Firm);
        for bead in &m.passes {
            if let Some(passed) = self.passed.get_mut(bead) {
                *passed += 1;
            }
        }
        state.check_counts(m, 0, 0);
    }

    fn finish(&mut self, state: &mut VerifyState) {
        let slack = self.passed.iter().filter(|&(_, &passed)| passed < 2);
        if let Some(&bead) = slack.map(|(bead, _)| bead).min() {
            state.record(Fault::NotFirmed(bead));
        }
    }
}
