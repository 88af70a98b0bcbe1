//! The first round of a fill: a bead between each two neighbouring beads of
//! the rim.
//!
//! ```text
//!   corner   x1    x2    x3    x4   corner     the fill's beads
//!      ( )     [j3]  [j2]  [j1]     ( )        join beads of one rim side
//!         [e4]   [e3]  [e2]  [e1]              its high beads
//! ```
//!
//! The fill runs against the rim side. Between x1 and x2 the needle goes
//! through the last join bead, and so on to the first; x1 begins and the last
//! bead ends at the rim's corner, where the needle goes through beads that
//! are there and adds none.

use super::book::{Book, old_bead};
use super::corners::Corner;
use super::end::BeadEnd;
use super::face::Face;
use super::finding::Fault;
use super::ledger::Use;
use super::round::check_turn;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Round, Side};

#[derive(Debug)]
pub(super) struct Rim {
    panel: Panel,
    sides: usize,
    /// Beads on each side.
    per: usize,
    /// The end that the needle left before the first bead.
    began: Option<BeadEnd>,
    /// The end that it left before this side's first bead.
    from: Option<BeadEnd>,
    beads: Vec<Bead>,
    /// The rim sides met so far.
    stood_on: Vec<(Panel, Side)>,
}

impl Rim {
    pub fn new(panel: Panel, face: &Face) -> Self {
        Rim {
            panel,
            sides: face.sides,
            per: face.beads(face.last()) / face.sides,
            began: None,
            from: None,
            beads: vec![],
            stood_on: vec![],
        }
    }

    pub fn beads(&self) -> &[Bead] {
        &self.beads
    }

    /// Reads a step; `true` once the round is whole.
    pub fn read(&mut self, m: &Movement, face: &Face, book: &mut Book) -> bool {
        let expected = Round(face.last());
        if m.round != Some(expected) {
            book.find(Fault::RoundNumber { expected });
        }
        let target = self.per * self.sides;
        match m.kind {
            Kind::Stitch => self.stitch(m, book),
            Kind::PassThrough => {}
            Kind::StepDown => {
                self.turn(m, book);
                book.counts(m, target, target);
                return true;
            }
            found => {
                let expected = Some(Kind::Stitch);
                book.find(Fault::Unexpected { expected, found });
            }
        }
        book.counts(m, self.beads.len(), target);
        false
    }

    fn stitch(&mut self, m: &Movement, book: &mut Book) {
        let nth = self.beads.len();
        if nth >= self.per * self.sides {
            let gaps = (self.per * self.sides) as u32;
            book.find(Fault::BeyondTheRound { gaps });
            return;
        }
        let (side, place) = (nth / self.per, nth % self.per);
        let expected = Side(side as u8);
        if m.side != Some(expected) {
            let found = m.side;
            book.find(Fault::SideNumber { expected, found });
        }
        let (Some(&bead), Some(anchor)) = (m.strings.first(), old_bead(m)) else {
            book.passes_old(m, None);
            return;
        };
        self.beads.push(bead);
        if place == 0 {
            self.begin_side(bead, anchor, book);
        }
        let on = self.stood_on.last().copied();
        let joins = on.and_then(|on| book.ledger.row(on));
        let joins = joins.map_or(vec![], |row| row.beads.clone());
        if place > 0 {
            // The join bead before: it was entered by its front.
            let before = joins.len().checked_sub(place).map(|j| joins[j]);
            if let Some(before) = before {
                book.must_leave(BeadEnd::back(before));
            }
        }
        if place + 1 < self.per {
            let expected = joins.len().checked_sub(place + 1).map(|j| joins[j]);
            book.passes_old(m, expected);
            book.draw(BeadEnd::front(bead), BeadEnd::front(anchor));
        } else {
            self.end_side(bead, anchor, on, book);
        }
    }

    fn begin_side(&mut self, bead: Bead, anchor: Bead, book: &mut Book) {
        let on = self.side_met(anchor, book);
        let ends: Vec<BeadEnd> = book.thread.leaving().collect();
        let at_corner = |end: &BeadEnd| on.is_some_and(|c| book.thread.corners.lies_at(*end, c));
        let from = ends.iter().copied().find(at_corner);
        self.from = from.or(ends.first().copied());
        if from.is_none() {
            book.find(Fault::OffTheCorner { bead });
        }
        if let Some(from) = self.from {
            book.must_leave(from);
            self.began.get_or_insert(from);
        }
        let Some(on) = on else {
            return;
        };
        self.stood_on.push(on);
        if let Some(row) = book.ledger.row_mut(on) {
            let again = row.filled;
            row.filled = true;
            row.partners += 1;
            let (panel, side) = on;
            if row.beads.len() + 1 != self.per {
                let (bare, row) = (self.per as u32, row.beads.len() as u32 + 1);
                book.find(Fault::SidesDiffer { bare, row });
            }
            if again {
                book.find(Fault::SideUsedTwice { panel, side });
            }
        }
        let side = Side(self.stood_on.len() as u8 - 1);
        book.ledger.put((self.panel, side), Use::Filled);
        book.report.joins += 1;
    }

    /// The rim side whose last join bead is met first. A side of one bead has
    /// no join bead: there it is the side whose corner bead is passed.
    fn side_met(&self, anchor: Bead, book: &Book) -> Option<Corner> {
        if self.per > 1 {
            return book.ledger.row_of(anchor);
        }
        let corners = &book.thread.corners;
        let mut rows: Vec<Corner> = book.ledger.uses.keys().copied().collect();
        rows.sort_unstable();
        rows.into_iter().find(|&side| {
            let row = book.ledger.row(side);
            let [start, _] = book.ledger.neighbours(side);
            let leaves = book.thread.leaving().any(|end| corners.lies_at(end, side));
            let enters = BeadEnd::both(anchor);
            let enters = enters.iter().any(|&end| corners.lies_at(end, start));
            row.is_some_and(|row| row.beads.is_empty() && row.partners == 0) && leaves && enters
        })
    }

    fn end_side(&mut self, bead: Bead, anchor: Bead, on: Option<Corner>, book: &mut Book) {
        let corner = on.map(|on| book.ledger.neighbours(on)[0]);
        let at_corner =
            |end: &BeadEnd| corner.is_some_and(|c| book.thread.corners.lies_at(*end, c));
        match BeadEnd::both(anchor).into_iter().find(at_corner) {
            Some(_) => {
                let ends = BeadEnd::both(anchor);
                for end in ends.into_iter().filter(at_corner).collect::<Vec<_>>() {
                    book.draw(BeadEnd::front(bead), end);
                }
            }
            None => book.find(Fault::OffTheCorner { bead }),
        }
    }

    fn turn(&mut self, m: &Movement, book: &mut Book) {
        let expected = (self.per * self.sides) as u32;
        let found = self.beads.len() as u32;
        if found != expected {
            book.find(Fault::RoundHolds { expected, found });
        }
        if let (Some(began), Some(&first)) = (self.began, self.beads.first()) {
            check_turn(m, [began.bead(), first], book);
        }
        book.report.rounds += 1;
    }

    /// The sides that the fill stands on go once round an opening.
    pub fn close(&self, book: &mut Book) {
        let n = self.stood_on.len();
        for (nth, &(panel, side)) in self.stood_on.iter().enumerate() {
            let [start, _] = book.ledger.neighbours((panel, side));
            let next = self.stood_on[(nth + 1) % n];
            if n != self.sides || !book.thread.corners.are_together(start, next) {
                book.find(Fault::RimBroken { panel, side });
            }
        }
    }

    /// The fill's corners lie at those of its rim.
    pub fn meet_corners(&self, book: &mut Book) {
        for (nth, &on) in self.stood_on.iter().enumerate() {
            let [start, _] = book.ledger.neighbours(on);
            let own = (self.panel, Side(nth as u8));
            book.thread.corners.meet(own, start);
        }
    }
}
