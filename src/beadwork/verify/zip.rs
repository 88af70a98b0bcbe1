//! Zips: a bare side's high beads and a row's join beads taken in turn, from
//! the one corner to the other.

use super::end::BeadEnd;
use super::finding::Fault;
use super::ledger::Use;
use super::verify_state::VerifyState;
use crate::beadwork::job::SideJoin;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel};
use crate::beadwork::seams::Direction;

#[derive(Debug)]
pub(super) struct ZipWork {
    panel: Panel,
    joins: Vec<SideJoin>,
    nth: usize,
    teeth: Option<Teeth>,
}

/// The side in hand.
#[derive(Debug)]
struct Teeth {
    edge: Vec<Bead>,
    row: Vec<Bead>,
    /// Whether the needle goes along the bare side's own direction; not known
    /// before the first step.
    forward: Option<bool>,
    locked: usize,
}

impl ZipWork {
    pub fn new(panel: Panel, joins: &[SideJoin], book: &mut VerifyState) -> Self {
        let mut work = ZipWork {
            panel,
            joins: joins.to_vec(),
            nth: 0,
            teeth: None,
        };
        work.take_up(book);
        work
    }

    /// The side and the row are held together, corner to corner.
    fn take_up(&mut self, book: &mut VerifyState) {
        let Some(&join) = self.joins.get(self.nth) else {
            return;
        };
        let (panel, side) = (self.panel, join.side);
        let at = (join.onto, join.at);
        let edge = book.edge((panel, side)).unwrap_or_default();
        let row = book.ledger.row(at).map(|row| row.beads.clone());
        let Some(row) = row else {
            let (panel, side) = at;
            book.find(Fault::NoRow { panel, side });
            return;
        };
        if edge.len() != row.len() + 1 {
            let (bare, row) = (edge.len() as u32, row.len() as u32 + 1);
            book.find(Fault::SidesDiffer { bare, row });
        }
        let [before, _] = book.ledger.neighbours((panel, side));
        let [row_start, _] = book.ledger.neighbours(at);
        let (at_start, at_end) = match join.runs {
            Direction::Against => (at, row_start),
            Direction::With => (row_start, at),
        };
        book.thread.corners.meet(before, at_start);
        book.thread.corners.meet((panel, side), at_end);
        if !book.ledger.put((panel, side), Use::Zipped) {
            book.find(Fault::SideUsedTwice { panel, side });
        }
        if let Some(row) = book.ledger.row_mut(at) {
            row.partners += 1;
        }
        book.report.joins += 1;
        self.teeth = Some(Teeth {
            edge,
            row,
            forward: None,
            locked: 0,
        });
    }

    pub fn read(&mut self, m: &Movement, book: &mut VerifyState) {
        match m.kind {
            Kind::Fold => {
                self.finish_side(book);
                self.nth += 1;
                self.teeth = None;
                book.counts(m, 0, 0);
                if !m.passes.is_empty() || self.nth >= self.joins.len() {
                    let (expected, found) = (Some(Kind::Zip), m.kind);
                    book.find(Fault::Unexpected { expected, found });
                }
                self.take_up(book);
            }
            Kind::Zip => self.zip(m, book),
            found => {
                let expected = Some(Kind::Zip);
                book.find(Fault::Unexpected { expected, found });
            }
        }
    }

    fn zip(&mut self, m: &Movement, book: &mut VerifyState) {
        let join = self.joins.get(self.nth).copied();
        let (Some(join), Some(teeth)) = (join, &mut self.teeth) else {
            let (expected, found) = (None, m.kind);
            book.find(Fault::Unexpected { expected, found });
            return;
        };
        if m.side != Some(join.side) {
            let (expected, found) = (join.side, m.side);
            book.find(Fault::SideNumber { expected, found });
        }
        let all = teeth.row.len();
        if teeth.locked >= all.min(teeth.edge.len().saturating_sub(1)) {
            let gaps = all as u32;
            book.find(Fault::BeyondTheRound { gaps });
            return;
        }
        let needle = book.thread.at();
        let starts_behind = needle == teeth.edge.last().copied();
        let forward = *teeth.forward.get_or_insert(!starts_behind);
        let with_the_row = forward == (join.runs == Direction::With);
        let nth = |of: &[Bead], i: usize, ahead: bool| match ahead {
            true => of[i],
            false => of[of.len() - 1 - i],
        };
        let from = nth(&teeth.edge, teeth.locked, forward);
        let tooth = nth(&teeth.row, teeth.locked, with_the_row);
        let to = nth(&teeth.edge, teeth.locked + 1, forward);
        // Thread goes through a bead in its own direction or against it.
        let into = |bead, ahead| match ahead {
            true => BeadEnd::back(bead),
            false => BeadEnd::front(bead),
        };
        let (from, tooth, to) = (
            into(from, forward).through(),
            into(tooth, with_the_row),
            into(to, forward),
        );
        book.must_leave(from);
        book.draw(from, tooth);
        book.draw(tooth.through(), to);
        let expected = [tooth.bead(), to.bead()];
        if m.passes.len() != 2 {
            let found = m.passes.to_vec();
            book.find(Fault::WrongTurn { expected, found });
        }
        for (expected, &found) in expected.into_iter().zip(&m.passes) {
            if expected != found {
                book.find(Fault::ZipOrder { expected, found });
            }
        }
        teeth.locked += 1;
        let locked = teeth.locked;
        book.counts(m, locked, all);
    }

    fn finish_side(&mut self, book: &mut VerifyState) {
        let whole = self
            .teeth
            .as_ref()
            .is_some_and(|teeth| teeth.locked == teeth.row.len());
        if !whole {
            book.find(Fault::JobUnfinished);
        }
    }

    pub fn finish(&mut self, book: &mut VerifyState) {
        self.finish_side(book);
        if self.nth + 1 != self.joins.len() {
            book.find(Fault::JobUnfinished);
        }
    }
}
