//! Beads that the needle goes through again to make them firm: twice round the
//! rim of an opening or of an open middle, once along the join of a zipped side.

use super::end::BeadEnd;
use super::finding::Fault;
use super::reading::ReadJob;
use super::verify_state::VerifyState;
use super::whole::meet_next;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Side};
use std::collections::HashMap;

#[derive(Debug)]
pub(super) struct FirmWork {
    /// How often each bead was passed, and how often it has to be.
    passed: HashMap<Bead, u32>,
    times: u32,
    /// The end that the needle must leave before the first step.
    leaves: Option<BeadEnd>,
}

impl FirmWork {
    fn new(beads: impl IntoIterator<Item = Bead>, times: u32) -> Self {
        FirmWork {
            passed: beads.into_iter().map(|bead| (bead, 0)).collect(),
            times,
            leaves: None,
        }
    }

    /// The rim of an opening that stays open.
    pub fn rim(rim: &[(Panel, Side)], state: &mut VerifyState) -> Self {
        let mut beads = vec![];
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
            beads.extend(edge.iter().chain(&row.beads));
            if again {
                state.record(Fault::SideUsedTwice { panel, side });
            }
        }
        state.ledger.firmed += 1;
        state.ledger.open_rims.push(rim.to_vec());
        FirmWork::new(beads, 2)
    }

    /// The innermost round of a panel, from the bead that the needle leaves.
    pub fn middle(ring: &[Bead]) -> Self {
        FirmWork {
            leaves: ring.first().map(|&bead| BeadEnd::front(bead)),
            ..FirmWork::new(ring.iter().copied(), 2)
        }
    }

    /// The join of a zipped side.
    pub fn join((panel, side): (Panel, Side), state: &mut VerifyState) -> Self {
        let mut beads = state.edge((panel, side)).unwrap_or_default();
        let at = state.ledger.zipped_onto.get(&(panel, side)).copied();
        match at.and_then(|at| state.ledger.row(at)) {
            Some(row) => beads.extend(&row.beads),
            None => state.record(Fault::NoRow { panel, side }),
        }
        // Where a hole had no room, the needle goes through the row next to it
        // again.
        beads.retain(|bead| !state.ledger.passed_by.contains(&((panel, side), *bead)));
        FirmWork::new(beads, 1)
    }
}

impl ReadJob for FirmWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        if !state.check_kind(m, Kind::Firm) {
            return;
        }
        if let Some(end) = self.leaves.take() {
            state.must_leave(end);
        }
        state.check_counts(m, 0, 0);
        // Along a join the needle leaves the first bead and goes through the
        // others.
        let left = state.thread.at().filter(|_| self.times == 1);
        for bead in left.iter().chain(&m.passes) {
            if let Some(passed) = self.passed.get_mut(bead) {
                *passed += 1;
            }
        }
    }

    fn finish(&mut self, state: &mut VerifyState) {
        let slack = self
            .passed
            .iter()
            .filter(|(_, passed)| **passed < self.times);
        if let Some(&bead) = slack.map(|(bead, _)| bead).min() {
            state.record(Fault::NotFirmed(bead));
        }
    }
}
