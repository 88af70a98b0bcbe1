//! A second pass through the join of a zipped side.

use super::finding::Fault;
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
    pub fn new((panel, side): (Panel, Side), book: &mut VerifyState) -> Self {
        let mut left: HashSet<Bead> = HashSet::new();
        left.extend(book.edge((panel, side)).unwrap_or_default());
        let at = book.ledger.zipped_onto.get(&(panel, side)).copied();
        match at.and_then(|at| book.ledger.row(at)) {
            Some(row) => left.extend(&row.beads),
            None => book.find(Fault::NoRow { panel, side }),
        }
        // Where a hole had no room, the needle goes through the row next to it
        // again.
        left.retain(|bead| !book.ledger.passed_by.contains(&((panel, side), *bead)));
        ReinforceWork { left }
    }

    pub fn read(&mut self, m: &Movement, book: &mut VerifyState) {
        if m.kind != Kind::Firm {
            let (expected, found) = (Some(Kind::Firm), m.kind);
            book.find(Fault::Unexpected { expected, found });
        }
        // The needle leaves the first bead of the join.
        if let Some(first) = book.thread.at() {
            self.left.remove(&first);
        }
        for bead in &m.passes {
            self.left.remove(bead);
        }
        book.counts(m, 0, 0);
    }

    pub fn finish(&self, book: &mut VerifyState) {
        if let Some(&bead) = self.left.iter().min() {
            book.find(Fault::NotFirmed { bead });
        }
    }
}
