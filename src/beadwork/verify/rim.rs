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
        state: &VerifyState,
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
                .map(|on| gaps_on(*on, corner_beads, state))
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
    pub fn read(&mut self, m: &Movement, face: &Face, state: &mut VerifyState) -> bool {
        state.check_round(m, Round(face.last()));
        let target = self.target();
        match m.kind {
            Kind::Stitch | Kind::Increase | Kind::Decrease => self.stitch(m, state),
            Kind::PassThrough if !self.beads.is_empty() => self.lead_on(m, state),
            Kind::StepDown => {
                self.lead_on(m, state);
                self.turn(m, state);
                state.check_counts(m, target, target);
                return true;
            }
            _ => state.unexpected(m, Some(Kind::Stitch)),
        }
        state.check_counts(m, self.beads.len(), target);
        false
    }

    fn target(&self) -> usize {
        self.word.iter().flatten().sum()
    }

    fn stitch(&mut self, m: &Movement, state: &mut VerifyState) {
        let (side, place) = self.next;
        state.check_side(m, Side(side as u8));
        match m.strings.first() {
            Some(&bead) if place == 0 => self.begin_side(m, bead, state),
            _ => self.leave_join_bead(place.saturating_sub(usize::from(!self.corner_beads)), state),
        }
        let Some((holds, gaps)) =
            (self.word.get(side)).and_then(|word| Some((*word.get(place)?, word.len())))
        else {
            let gaps = self.word.iter().map(Vec::len).sum::<usize>() as u32;
            state.record(Fault::BeyondTheRound(gaps));
            return;
        };
        let is_last = place + 1 == gaps;
        self.next = if is_last {
            (side + 1, 0)
        } else {
            (side, place + 1)
        };
        state.check_fill(
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
            state.check_old_bead(m, expected.map(BeadEnd::bead));
            let from = last.or(before.map(BeadEnd::through));
            if let (Some(from), Some(join)) = (from, expected) {
                state.draw_together(from, join);
            }
        } else {
            self.ends = m.strings.last().copied();
            self.lead_on(m, state);
        }
    }

    /// The needle leaves a join bead, the one before the next bead.
    fn leave_join_bead(&self, nth: usize, state: &mut VerifyState) {
        if let Some(join) = self.joins.get(nth) {
            state.must_leave(join.through());
        }
    }

    fn begin_side(&mut self, m: &Movement, bead: Bead, state: &mut VerifyState) {
        let needle = state.thread.at();
        let met = if self.corner_beads {
            needle
        } else {
            old_bead(m)
        };
        let Some((met, on)) = met.and_then(|join| Some((join, state.ledger.row_of(join)?))) else {
            state.record(Fault::OffTheRim(bead));
            return;
        };
        let mut joins = state.ledger.row(on).map_or(vec![], |row| row.beads.clone());
        let [start, _] = state.ledger.neighbours(on);
        let corners = &state.thread.corners;
        let came_to = |corner: PanelCorner| {
            let mut leaving = state.thread.leaving();
            leaving.find(|end| corners.is_at(*end, corner))
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
            (true, _) => self.leave_join_bead(0, state),
            (false, Some(end)) => state.must_leave(end),
            (false, None) => state.record(Fault::OffTheCorner(bead)),
        }
        if self.began.is_none() {
            self.began = needle;
        }
        self.stand_on(side, state);
    }

    fn stand_on(&mut self, side: FilledSide, state: &mut VerifyState) {
        self.stood_on.push(side);
        let against = side.comes == side.on;
        let (panel, side) = side.on;
        let Some(row) = state.ledger.row_mut((panel, side)) else {
            return;
        };
        // At a hinge, the fills of two solids can be worked on one row.
        let again = row.fills == 2;
        row.fills += 1;
        row.partners += 1;
        let (bare, row) = (self.edge, row.gaps.len() as u32 + 1);
        if bare != row {
            state.record(Fault::SidesDiffer { bare, row });
        }
        let nth = self.stood_on.len() - 1;
        if let Some(word) = self.word.get_mut(nth) {
            *word = gaps_on((panel, side), self.corner_beads, state);
            if !against {
                word.reverse();
            }
            self.put_own(nth);
        }
        let own = (self.panel, Side(nth as u8));
        if !state.ledger.put(own, Use::Filled) || again {
            state.record(Fault::SideUsedTwice { panel, side });
        }
        state.report.joins += 1;
    }

    /// The first bead after a side's last bead must be entered where that bead
    /// lies: at the corner, or by the front of a join bead.
    fn lead_on(&mut self, m: &Movement, state: &mut VerifyState) {
        let into = m.passes.iter().find(|bead| !m.strings.contains(bead));
        let (Some(bead), Some(&into)) = (self.ends, into) else {
            return;
        };
        self.ends = None;
        let front = BeadEnd::front(bead);
        if self.corner_beads {
            // The next side's first join bead, whichever way the side runs.
            let row = state
                .ledger
                .row_of(into)
                .and_then(|on| state.ledger.row(on));
            let with = row.is_some_and(|row| row.beads.last() != Some(&into));
            let end = if with { BeadEnd::back } else { BeadEnd::front };
            state.draw_together(front, end(into));
            return;
        }
        let corner = self.stood_on.last().map(|side| side.leaves);
        let corners = &state.thread.corners;
        let lies = |end: &BeadEnd| corner.is_some_and(|c| corners.is_at(*end, c));
        let ends: Vec<BeadEnd> = BeadEnd::both(into).into_iter().filter(lies).collect();
        if ends.is_empty() {
            state.record(Fault::OffTheCorner(bead));
        }
        for end in ends {
            state.draw_together(front, end);
        }
    }

    fn turn(&mut self, m: &Movement, state: &mut VerifyState) {
        state.check_round_holds(self.target(), self.beads.len());
        if let (Some(began), Some(&first)) = (self.began, self.beads.first()) {
            check_turn(m, [began, first], state);
        }
        state.report.rounds += 1;
    }

    /// The sides on which the fill is worked must form a closed path round an
    /// opening.
    pub fn close(&self, state: &mut VerifyState) {
        let n = self.stood_on.len();
        for (nth, side) in self.stood_on.iter().enumerate() {
            let next = self.stood_on[(nth + 1) % n];
            if n != self.sides || !state.thread.corners.are_together(side.leaves, next.comes) {
                let (panel, side) = side.on;
                state.record(Fault::RimBroken { panel, side });
            }
        }
    }

    /// The fill's corners lie at the corners of its rim.
    pub fn meet_corners(&self, state: &mut VerifyState) {
        for (nth, side) in self.stood_on.iter().enumerate() {
            let own = (self.panel, Side(nth as u8));
            state.thread.corners.meet(own, side.leaves);
        }
    }
}

/// The gaps of a rim side, with the beads that are planned for each, as the fill
/// comes to them against the side.
fn gaps_on(on: PanelCorner, corner_beads: bool, state: &VerifyState) -> Vec<usize> {
    let joins = state.ledger.row(on).map_or(&[][..], |row| &row.gaps);
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
