//! The first round of a fill: a bead in each gap of the rim.
//!
//! ```text
//!   corner   x1    x2    x3    x4   corner     the fill's beads
//!      ( )     [j3]  [j2]  [j1]     ( )        join beads of one rim side
//!         [e4]   [e3]  [e2]  [e1]              its high beads
//! ```
//!
//! The fill runs against the rim side. Behind x1 the needle goes through the
//! last join bead, and so on to the first; x1 begins and the last bead ends at
//! the rim's corner, where the needle goes through beads that are there and
//! adds none. A fill that ends in corner beads has one bead at the corner,
//! between the first join bead of one side and the last of the next.

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
    /// Beads on each side; a corner bead counts to the side that it ends.
    per: usize,
    corner_beads: bool,
    /// The bead that the needle left before the first.
    began: Option<Bead>,
    beads: Vec<Bead>,
    /// The rim sides met so far.
    stood_on: Vec<(Panel, Side)>,
    /// The join beads of the last of them, first to last.
    joins: Vec<Bead>,
    /// A side's last bead whose front has not been led on yet.
    ends: Option<Bead>,
}

impl Rim {
    pub fn new(panel: Panel, face: &Face) -> Self {
        Rim {
            panel,
            sides: face.sides,
            per: face.beads(face.last()) / face.sides,
            corner_beads: face.corner() == 1,
            began: None,
            beads: vec![],
            stood_on: vec![],
            joins: vec![],
            ends: None,
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
            Kind::PassThrough if !self.beads.is_empty() => self.lead_on(m, book),
            Kind::StepDown => {
                self.lead_on(m, book);
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
        let Some(&bead) = m.strings.first() else {
            return;
        };
        self.beads.push(bead);
        if place == 0 {
            self.begin_side(m, bead, book);
        } else {
            self.leave_join_bead(place, book);
        }
        if place + 1 < self.per {
            let expected = self.joins.get(self.per - 2 - place).copied();
            book.passes_old(m, expected);
            if let Some(join) = expected {
                book.draw(BeadEnd::front(bead), BeadEnd::front(join));
            }
        } else {
            self.ends = Some(bead);
            self.lead_on(m, book);
        }
    }

    /// The join bead before bead `place` of a side: the needle went into it
    /// by its front.
    fn leave_join_bead(&self, place: usize, book: &mut Book) {
        if let Some(&join) = self.joins.get(self.per - 1 - place) {
            book.must_leave(BeadEnd::back(join));
        }
    }

    fn begin_side(&mut self, m: &Movement, bead: Bead, book: &mut Book) {
        let needle = book.thread.at();
        let met = if self.corner_beads {
            needle
        } else {
            old_bead(m)
        };
        let on = met.and_then(|join| book.ledger.row_of(join));
        let row = on.and_then(|on| book.ledger.row(on));
        self.joins = row.map_or(vec![], |row| row.beads.clone());
        if self.corner_beads {
            self.leave_join_bead(0, book);
        } else {
            let corners = &book.thread.corners;
            let lies = |end: &BeadEnd| on.is_some_and(|corner| corners.lies_at(*end, corner));
            match book.thread.leaving().find(lies) {
                Some(end) => book.must_leave(end),
                None => book.find(Fault::OffTheCorner { bead }),
            }
        }
        if self.began.is_none() {
            self.began = needle;
        }
        match on {
            Some(on) => self.stand_on(on, book),
            None => book.find(Fault::OffTheRim { bead }),
        }
    }

    fn stand_on(&mut self, (panel, side): Corner, book: &mut Book) {
        self.stood_on.push((panel, side));
        let Some(row) = book.ledger.row_mut((panel, side)) else {
            return;
        };
        let again = std::mem::replace(&mut row.filled, true);
        row.partners += 1;
        let row = row.beads.len() as u32 + 1;
        let bare = self.per as u32 + u32::from(self.corner_beads);
        if bare != row {
            book.find(Fault::SidesDiffer { bare, row });
        }
        let own = (self.panel, Side(self.stood_on.len() as u8 - 1));
        if !book.ledger.put(own, Use::Filled) || again {
            book.find(Fault::SideUsedTwice { panel, side });
        }
        book.report.joins += 1;
    }

    /// The first bead that is there behind a side's last bead must be entered
    /// where that lies: at the corner, or by the front of a join bead.
    fn lead_on(&mut self, m: &Movement, book: &mut Book) {
        let into = m.passes.iter().find(|bead| !m.strings.contains(bead));
        let (Some(bead), Some(&into)) = (self.ends, into) else {
            return;
        };
        self.ends = None;
        let front = BeadEnd::front(bead);
        if self.corner_beads {
            book.draw(front, BeadEnd::front(into));
            return;
        }
        let on = self.stood_on.last().copied();
        let corner = on.map(|on| book.ledger.neighbours(on)[0]);
        let corners = &book.thread.corners;
        let lies = |end: &BeadEnd| corner.is_some_and(|c| corners.lies_at(*end, c));
        let ends: Vec<BeadEnd> = BeadEnd::both(into).into_iter().filter(lies).collect();
        if ends.is_empty() {
            book.find(Fault::OffTheCorner { bead });
        }
        for end in ends {
            book.draw(front, end);
        }
    }

    fn turn(&mut self, m: &Movement, book: &mut Book) {
        let expected = (self.per * self.sides) as u32;
        let found = self.beads.len() as u32;
        if found != expected {
            book.find(Fault::RoundHolds { expected, found });
        }
        if let (Some(began), Some(&first)) = (self.began, self.beads.first()) {
            check_turn(m, [began, first], book);
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
