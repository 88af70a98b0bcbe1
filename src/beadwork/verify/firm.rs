//! The rim of an opening that stays open, passed twice round.

use super::corners::PanelCorner;
use super::finding::Fault;
use super::verify_state::VerifyState;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Side};
use std::collections::HashMap;

#[derive(Debug)]
pub(super) struct FirmWork {
    passed: HashMap<Bead, u32>,
}

impl FirmWork {
    pub fn new(rim: &[(Panel, Side)], book: &mut VerifyState) -> Self {
        let mut passed = HashMap::new();
        // Of each side's two corners, the one where the next side begins.
        let ends = |side: PanelCorner, book: &VerifyState| [book.ledger.neighbours(side)[0], side];
        for (nth, &(panel, side)) in rim.iter().enumerate() {
            let next = ends(rim[(nth + 1) % rim.len()], book);
            let corners = &mut book.thread.corners;
            let meets = |a: &PanelCorner| next.iter().any(|b| corners.are_together(*a, *b));
            let [start, end] = [book.ledger.neighbours((panel, side))[0], (panel, side)];
            if !meets(&start) && !meets(&end) {
                book.thread.corners.meet(start, next[1]);
            }
            let edge = book.edge((panel, side)).unwrap_or_default();
            let Some(row) = book.ledger.row_mut((panel, side)) else {
                book.find(Fault::NoRow { panel, side });
                continue;
            };
            // At a hinge, the openings of two solids can share a row.
            let again = row.firmed == 2;
            row.firmed += 1;
            row.partners += 1;
            let beads = edge.iter().chain(&row.beads);
            passed.extend(beads.map(|&bead| (bead, 0)));
            if again {
                book.find(Fault::SideUsedTwice { panel, side });
            }
        }
        book.ledger.firmed += 1;
        book.ledger.open_rims.push(rim.to_vec());
        FirmWork { passed }
    }

    pub fn read(&mut self, m: &Movement, book: &mut VerifyState) {
        if m.kind != Kind::Firm {
            let (expected, found) = (Some(Kind::Firm), m.kind);
            book.find(Fault::Unexpected { expected, found });
        }
        for bead in &m.passes {
            if let Some(passed) = self.passed.get_mut(bead) {
                *passed += 1;
            }
        }
        book.counts(m, 0, 0);
    }

    pub fn finish(&self, book: &mut VerifyState) {
        let slack = self.passed.iter().filter(|&(_, &passed)| passed < 2);
        if let Some(&bead) = slack.map(|(bead, _)| bead).min() {
            book.find(Fault::NotFirmed { bead });
        }
    }
}
