//! A second pass through the join of a zipped side.

use super::finding::Fault;
use super::reading::ReadJob;
use super::verify_state::VerifyState;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Side};
use std::collections::HashSet;

#[derive(Debug)]
pub(super) struct ReinforceWork {
    /// Beads of the join that are not passed yet.
    left: HashSet<Bead>,
}

impl ReinforceWork {
    pub fn new((panel, side): (Panel, Side), state: &mut VerifyState) -> Self {
        let mut left: HashSet<Bead> = HashSet::new();
        left.extend(state.edge((panel, side)).unwrap_or_default());
        let at = state.ledger.zipped_onto.get(&(panel, side)).copied();
        match at.and_then(|at| state.ledger.row(at)) {
            Some(row) => left.extend(&row.beads),
            None => state.record(Fault::NoRow { panel, side }),
        }
        // Where a hole had no room, the needle goes through the row next to it
        // again.
        left.retain(|bead| !state.ledger.passed_by.contains(&((panel, side), *bead)));
        ReinforceWork { left }
    }
}

impl ReadJob for ReinforceWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        state.check_kind(m, Kind::Firm);
        // The needle leaves the first bead of the join.
        if let Some(first) = state.thread.at() {
            self.left.remove(&first);
        }
        for bead in &m.passes {
            self.left.remove(bead);
        }
        state.check_counts(m, 0, 0);
    }

    fn finish(&mut self, state: &mut VerifyState) {
        if let Some(&bead) = self.left.iter().min() {
            state.record(Fault::NotFirmed(bead));
        }
    }
}
