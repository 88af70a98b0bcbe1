//! The first round of a fill: a bead in each gap of the rim.
//!
//! ```text
//!   corner   x1    x2    x3    x4   corner     the fill's beads
//!      ( )     [j3]  [j2]  [j1]     ( )        join beads of one rim side
//!         [e4]   [e3]  [e2]  [e1]              its up beads
//! ```
//!
//! The fill runs against the rim side, unless the row is carried across a
//! hinge; the corner from which the needle comes shows which. After x1 the
//! needle goes through the last join bead, and so on to the first. x1 begins
//! and the last bead ends at the rim's corner, where the needle goes through
//! beads that are already there and adds none. A fill that ends in corner beads
//! has one bead at the corner, between the first join bead of one side and the
//! last of the next. Where a gap of the row has no join bead, both beads beside it
//! go into one gap; where it has two, none goes between them.

use super::corners::PanelCorner;
use super::end::BeadEnd;
use super::face::Face;
use super::finding::Fault;
use super::ledger::Use;
use super::round::check_turn;
use super::verify_state::{VerifyState, old_bead};
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Round, Side};
use crate::beadwork::own_rounds::RowGap;
use std::collections::HashMap;

/// A rim side, with the corners at which the fill reaches and leaves it.
#[derive(Clone, Copy, Debug)]
struct FilledSide {
    on: PanelCorner,
    comes: PanelCorner,
    leaves: PanelCorner,
}

#[derive(Debug)]
pub(super) struct FilledRim {
    panel: Panel,
    sides: usize,
    /// Up beads of each side, as planned.
    edge: u32,
    corner_beads: bool,
    /// Number of beads for each gap of each side; the gap of a corner bead ends
    /// its side.
    word: Vec<Vec<usize>>,
    /// Gaps that hold a number of beads other than planned.
    own: Vec<RowGap>,
    /// The side and the gap of it that come next.
    next: (usize, usize),
    /// The bead that the needle left before the first gap.
    began: Option<Bead>,
    beads: Vec<Bead>,
    /// The rim sides reached so far.
    stood_on: Vec<FilledSide>,
    /// The ends at which the needle enters the join beads of the last of these
    /// sides, in the order in which they come.
    joins: Vec<BeadEnd>,
    /// A side's last bead, while its front is not joined to the next bead yet.
    ends: Option<Bead>,
}

impl FilledRim {
    /// `own` has the gaps that hold a number of beads other than planned.
    pub fn new(
        panel: Panel,
        face: &Face,
        (corner_beads, own): (bool, &[RowGap]),
        rim: &[PanelCorner],
        book: &VerifyState,
    ) -> Self {
        let own: HashMap<(Side, u32), RowGap> = own
            .iter()
            .filter(|gap| gap.panel == panel)
            .map(|gap| ((gap.side, gap.gap), *gap))
            .collect();
        let held: usize = own.values().map(|gap| usize::from(gap.beads)).sum();
        let planned = (face.beads(face.last()) + own.len()).saturating_sub(held);
        let mut rim = FilledRim {
            panel,
            sides: face.sides,
            edge: (planned / face.sides + usize::from(corner_beads)) as u32,
            corner_beads,
            word: rim
                .iter()
                .map(|on| gaps_on(*on, corner_beads, book))
                .collect(),
            own: own.into_values().collect(),
            next: (0, 0),
            began: None,
            beads: vec![],
            stood_on: vec![],
            joins: vec![],
            ends: None,
        };
        (0..rim.word.len()).for_each(|side| rim.put_own(side));
        rim
    }

    fn put_own(&mut self, side: usize) {
        let Some(word) = self.word.get_mut(side) else {
            return;
        };
        for gap in self.own.iter().filter(|gap| gap.side.index() == side) {
            if let Some(held) = word.get_mut(gap.gap as usize) {
                *held = gap.beads.into();
            }
        }
    }

    pub fn beads(&self) -> &[Bead] {
        &self.beads
    }

    /// The beads of each side, with a corner bead on both its sides.
    pub fn edges(&self) -> Vec<Vec<Bead>> {
        let mut beads = self.beads.iter().copied();
        let held = self.word.iter().map(|gaps| gaps.iter().sum());
        let mut edges: Vec<Vec<Bead>> = held.map(|n| beads.by_ref().take(n).collect()).collect();
        if self.corner_beads {
            let ends: Vec<Option<Bead>> = edges.iter().map(|edge| edge.last().copied()).collect();
            for (nth, edge) in edges.iter_mut().enumerate() {
                let before = ends[(nth + ends.len() - 1) % ends.len()];
                edge.splice(0..0, before);
            }
        }
        edges
    }

    /// Reads a step; `true` once the round is complete.
    pub fn read(&mut self, m: &Movement, face: &Face, book: &mut VerifyState) -> bool {
        let expected = Round(face.last());
        if m.round != Some(expected) {
            book.find(Fault::RoundNumber { expected });
        }
        let target = self.target();
        match m.kind {
            Kind::Stitch | Kind::Increase | Kind::Decrease => self.stitch(m, book),
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

    fn target(&self) -> usize {
        self.word.iter().flatten().sum()
    }

    fn stitch(&mut self, m: &Movement, book: &mut VerifyState) {
        let (side, place) = self.next;
        let expected = Side(side as u8);
        if m.side != Some(expected) {
            let found = m.side;
            book.find(Fault::SideNumber { expected, found });
        }
        match m.strings.first() {
            Some(&bead) if place == 0 => self.begin_side(m, bead, book),
            _ => self.leave_join_bead(place.saturating_sub(usize::from(!self.corner_beads)), book),
        }
        let Some((holds, gaps)) =
            (self.word.get(side)).and_then(|word| Some((*word.get(place)?, word.len())))
        else {
            let gaps = self.word.iter().map(Vec::len).sum::<usize>() as u32;
            book.find(Fault::BeyondTheRound { gaps });
            return;
        };
        let is_last = place + 1 == gaps;
        self.next = if is_last {
            (side + 1, 0)
        } else {
            (side, place + 1)
        };
        book.fills(
            m,
            self.word[..side].iter().map(Vec::len).sum::<usize>() + place,
            holds,
        );
        self.beads.extend(&m.strings);
        let before = place.checked_sub(usize::from(!self.corner_beads));
        let before = before.and_then(|nth| self.joins.get(nth)).copied();
        let last = m.strings.last().map(|&bead| BeadEnd::front(bead));
        if !is_last {
            let next = place + usize::from(self.corner_beads);
            let expected = self.joins.get(next).copied();
            book.passes_old(m, expected.map(BeadEnd::bead));
            let from = last.or(before.map(BeadEnd::through));
            if let (Some(from), Some(join)) = (from, expected) {
                book.draw(from, join);
            }
        } else {
            self.ends = m.strings.last().copied();
            self.lead_on(m, book);
        }
    }

    /// The needle leaves a join bead, the one before the next bead.
    fn leave_join_bead(&self, nth: usize, book: &mut VerifyState) {
        if let Some(join) = self.joins.get(nth) {
            book.must_leave(join.through());
        }
    }

    fn begin_side(&mut self, m: &Movement, bead: Bead, book: &mut VerifyState) {
        let needle = book.thread.at();
        let met = if self.corner_beads {
            needle
        } else {
            old_bead(m)
        };
        let Some((met, on)) = met.and_then(|join| Some((join, book.ledger.row_of(join)?))) else {
            book.find(Fault::OffTheRim { bead });
            return;
        };
        let mut joins = book.ledger.row(on).map_or(vec![], |row| row.beads.clone());
        let [start, _] = book.ledger.neighbours(on);
        let corners = &book.thread.corners;
        let came_to = |corner: PanelCorner| {
            let mut leaving = book.thread.leaving();
            leaving.find(|end| corners.lies_at(*end, corner))
        };
        // Against the side, unless the needle is at the start of the side or
        // has already gone through its first join bead.
        let against = match self.corner_beads {
            true => joins.last() == Some(&met),
            false => came_to(on).is_some() || came_to(start).is_none(),
        };
        let side = match against {
            true => FilledSide {
                on,
                comes: on,
                leaves: start,
            },
            false => FilledSide {
                on,
                comes: start,
                leaves: on,
            },
        };
        if against {
            joins.reverse();
        }
        let into = if against {
            BeadEnd::front
        } else {
            BeadEnd::back
        };
        self.joins = joins.into_iter().map(into).collect();
        match (self.corner_beads, came_to(side.comes)) {
            (true, _) => self.leave_join_bead(0, book),
            (false, Some(end)) => book.must_leave(end),
            (false, None) => book.find(Fault::OffTheCorner { bead }),
        }
        if self.began.is_none() {
            self.began = needle;
        }
        self.stand_on(side, book);
    }

    fn stand_on(&mut self, side: FilledSide, book: &mut VerifyState) {
        self.stood_on.push(side);
        let against = side.comes == side.on;
        let (panel, side) = side.on;
        let Some(row) = book.ledger.row_mut((panel, side)) else {
            return;
        };
        // At a hinge, the fills of two solids can be worked on one row.
        let again = row.fills == 2;
        row.fills += 1;
        row.partners += 1;
        let (bare, row) = (self.edge, row.gaps.len() as u32 + 1);
        if bare != row {
            book.find(Fault::SidesDiffer { bare, row });
        }
        let nth = self.stood_on.len() - 1;
        if let Some(word) = self.word.get_mut(nth) {
            *word = gaps_on((panel, side), self.corner_beads, book);
            if !against {
                word.reverse();
            }
            self.put_own(nth);
        }
        let own = (self.panel, Side(nth as u8));
        if !book.ledger.put(own, Use::Filled) || again {
            book.find(Fault::SideUsedTwice { panel, side });
        }
        book.report.joins += 1;
    }

    /// The first bead after a side's last bead must be entered where that bead
    /// lies: at the corner, or by the front of a join bead.
    fn lead_on(&mut self, m: &Movement, book: &mut VerifyState) {
        let into = m.passes.iter().find(|bead| !m.strings.contains(bead));
        let (Some(bead), Some(&into)) = (self.ends, into) else {
            return;
        };
        self.ends = None;
        let front = BeadEnd::front(bead);
        if self.corner_beads {
            // The next side's first join bead, whichever way the side runs.
            let row = book.ledger.row_of(into).and_then(|on| book.ledger.row(on));
            let with = row.is_some_and(|row| row.beads.last() != Some(&into));
            let end = if with { BeadEnd::back } else { BeadEnd::front };
            book.draw(front, end(into));
            return;
        }
        let corner = self.stood_on.last().map(|side| side.leaves);
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

    fn turn(&mut self, m: &Movement, book: &mut VerifyState) {
        let expected = self.target() as u32;
        let found = self.beads.len() as u32;
        if found != expected {
            book.find(Fault::RoundHolds { expected, found });
        }
        if let (Some(began), Some(&first)) = (self.began, self.beads.first()) {
            check_turn(m, [began, first], book);
        }
        book.report.rounds += 1;
    }

    /// The sides on which the fill is worked must form a closed path round an
    /// opening.
    pub fn close(&self, book: &mut VerifyState) {
        let n = self.stood_on.len();
        for (nth, side) in self.stood_on.iter().enumerate() {
            let next = self.stood_on[(nth + 1) % n];
            if n != self.sides || !book.thread.corners.are_together(side.leaves, next.comes) {
                let (panel, side) = side.on;
                book.find(Fault::RimBroken { panel, side });
            }
        }
    }

    /// The fill's corners lie at the corners of its rim.
    pub fn meet_corners(&self, book: &mut VerifyState) {
        for (nth, side) in self.stood_on.iter().enumerate() {
            let own = (self.panel, Side(nth as u8));
            book.thread.corners.meet(own, side.leaves);
        }
    }
}

/// The gaps of a rim side, with the beads that are planned for each, as the fill
/// comes to them against the side.
fn gaps_on(on: PanelCorner, corner_beads: bool, book: &VerifyState) -> Vec<usize> {
    let joins = book.ledger.row(on).map_or(&[][..], |row| &row.gaps);
    if corner_beads {
        return vec![1; joins.len()];
    }
    let mut gaps = vec![1];
    for &joins in joins.iter().rev() {
        gaps.extend(std::iter::repeat_n(0, joins));
        *gaps.last_mut().expect("a gap at the corner") += 1;
    }
    gaps
}
