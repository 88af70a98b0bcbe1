//! Zips: a bare side's up beads and a row's join beads are taken alternately,
//! from one corner to the other. Where sides differ by one up bead, the up
//! beads of the other side take the place of the row. Where the row has one
//! bead more than the bare side has up beads, the row begins and ends the join.
//!
//! Where the maker asked for it, the needle goes through another bead that
//! touches the ones before and after the skipped one; but it cannot skip two
//! beads in a row.

use super::end::BeadEnd;
use super::finding::Fault;
use super::ledger::{Row, Use};
use super::reading::ReadJob;
use super::row::evenly;
use super::verify_state::VerifyState;
use crate::beadwork::job::{SideFit, SideJoin};
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel};
use crate::beadwork::seams::Direction;

#[derive(Debug)]
pub(super) struct ZipWork {
    panel: Panel,
    joins: Vec<SideJoin>,
    nth: usize,
    teeth: Option<Teeth>,
    /// Beads passed since the last tooth.
    passed: Vec<Bead>,
    /// Where the needle went in to begin the current side, and where it left
    /// the previous one.
    begun: Option<BeadEnd>,
    ended: Option<BeadEnd>,
    /// Where it went in to begin the first side.
    first: Option<BeadEnd>,
}

/// The current side: beads that begin and end the join, and those in the gaps
/// between them.
#[derive(Debug)]
struct Teeth {
    outer: Vec<Bead>,
    inner: Vec<Bead>,
    /// Inner beads of each tooth, in their own direction.
    word: Vec<usize>,
    /// Whether the needle goes along the outer beads in their own direction;
    /// unknown before the first step.
    forward: Option<bool>,
    locked: usize,
    /// The place of the bead that the needle skipped last.
    passed_by: Option<u32>,
}

impl ZipWork {
    pub fn new(panel: Panel, joins: &[SideJoin], state: &mut VerifyState) -> Self {
        let mut work = ZipWork {
            panel,
            joins: joins.to_vec(),
            nth: 0,
            teeth: None,
            passed: vec![],
            begun: None,
            ended: None,
            first: None,
        };
        work.begin_side(state);
        work
    }

    /// Begins the next side: it is matched with its row, corner to corner.
    fn begin_side(&mut self, state: &mut VerifyState) {
        let Some(&join) = self.joins.get(self.nth) else {
            return;
        };
        let (panel, side) = (self.panel, join.side);
        let at = (join.onto, join.at);
        let edge = state.edge((panel, side)).unwrap_or_default();
        let carrier = state.ledger.edge(at).map_or(0, <[Bead]>::len);
        if join.fit == SideFit::Locked {
            let (panel, side) = at;
            let beads = state.ledger.edge(at).unwrap_or_default().to_vec();
            let row = Row {
                gaps: vec![1; beads.len()],
                beads,
                ..Row::default()
            };
            if !state.ledger.put(at, Use::Row(row)) {
                state.record(Fault::SideUsedTwice { panel, side });
            }
        }
        let row = state.ledger.row(at);
        let Some((row, word)) = row.map(|row| (row.beads.clone(), row.gaps.clone())) else {
            let (panel, side) = at;
            state.record(Fault::NoRow { panel, side });
            return;
        };
        let gaps = edge.len().saturating_sub(1);
        let fits = match join.fit {
            SideFit::Equal => edge.len() == carrier,
            SideFit::Locked => edge.len().abs_diff(carrier) == 1,
            SideFit::OnTheLonger => edge.len() + 2 == carrier,
            SideFit::Eased => row.len() <= 2 * gaps,
        };
        if !fits {
            let (bare, row) = (edge.len() as u32, carrier as u32);
            state.record(Fault::SidesDiffer { bare, row });
        }
        let [before, _] = state.ledger.neighbours((panel, side));
        let [row_start, _] = state.ledger.neighbours(at);
        let (at_start, at_end) = match join.runs {
            Direction::Against => (at, row_start),
            Direction::With => (row_start, at),
        };
        state.thread.corners.meet(before, at_start);
        state.thread.corners.meet((panel, side), at_end);
        state.ledger.zipped_onto.insert((panel, side), at);
        if !state.ledger.put((panel, side), Use::Zipped) {
            state.record(Fault::SideUsedTwice { panel, side });
        }
        if let Some(row) = state.ledger.row_mut(at) {
            row.partners += 1;
        }
        state.report.joins += 1;
        let is_one_in_each = word.iter().all(|beads| *beads == 1);
        let is_within = row.len() == edge.len() + 1 && is_one_in_each;
        let (outer, inner, word) = match is_within && join.fit != SideFit::Eased {
            true => (row, edge, vec![1; gaps + 1]),
            false if word.len() == gaps => (edge, row, word),
            // An edge of different length meets them spread evenly.
            false => {
                let word = evenly(row.len(), gaps);
                (edge, row, word)
            }
        };
        self.teeth = Some(Teeth {
            outer,
            inner,
            word,
            forward: None,
            locked: 0,
            passed_by: None,
        });
    }

    /// Where one zip ends and another begins at the same corner, the needle
    /// goes through the tip beads after the rows of both, unless it takes
    /// another path.
    fn round_the_corner(
        &self,
        [last, next]: [SideJoin; 2],
        passed: &[Bead],
        state: &mut VerifyState,
    ) {
        let [before, after] = state.ledger.neighbours((self.panel, last.side));
        let corner = match (self.panel, next.side) {
            side if side == after => (self.panel, last.side),
            side if side == before => side,
            _ => return,
        };
        let corners = &state.thread.corners;
        let lies_there = |end: Option<BeadEnd>| end.is_some_and(|end| corners.is_at(end, corner));
        let is_straight = passed.iter().all(|bead| state.ledger.is_tip(*bead));
        if !is_straight || !lies_there(self.ended) || !lies_there(self.begun) {
            return;
        }
        let ends = [last, next].map(|join| {
            let at = (join.onto, join.at);
            [at, state.ledger.neighbours(at)[0]]
        });
        let met = ends.as_flattened().iter();
        let met = met.filter(|end| corners.are_together(**end, corner));
        let mut tips = met.flat_map(|end| state.ledger.tips_behind(*end));
        if let Some(&bead) = tips.find(|tip| !passed.contains(tip)) {
            state.record(Fault::TipPassedBy(bead));
        }
    }

    fn zip(&mut self, m: &Movement, state: &mut VerifyState) {
        let join = self.joins.get(self.nth).copied();
        let (Some(join), Some(teeth)) = (join, &mut self.teeth) else {
            state.unexpected(m, None);
            return;
        };
        state.check_side(m, join.side);
        let all = teeth.outer.len().saturating_sub(1);
        if teeth.locked >= all {
            let gaps = all as u32;
            state.record(Fault::BeyondTheRound(gaps));
            return;
        }
        let needle = state.thread.at();
        let starts_behind = needle == teeth.outer.last().copied();
        let forward = *teeth.forward.get_or_insert(!starts_behind);
        let inner_ahead = forward == (join.runs == Direction::With);
        // Thread passes a bead in its own direction or against it.
        let into = |bead, ahead| match ahead {
            true => BeadEnd::back(bead),
            false => BeadEnd::front(bead),
        };
        let outer = |i: usize| match forward {
            true => teeth.outer[i],
            false => teeth.outer[all - i],
        };
        // Along the bare side, counting edge beads and gaps alternately.
        let place = |tooth: usize, after: u32| {
            let on_the_way = 2 * tooth as u32 + after;
            match forward {
                true => on_the_way,
                false => 2 * all as u32 - on_the_way,
            }
        };
        let mut word = teeth.word.clone();
        let mut inner = teeth.inner.clone();
        if !inner_ahead {
            word.reverse();
            inner.reverse();
        }
        let before: usize = word[..teeth.locked].iter().sum();
        let tooth = &inner[before..before + word[teeth.locked]];
        let from = into(outer(teeth.locked), forward).through();
        let to = into(outer(teeth.locked + 1), forward);
        let way = tooth.iter().map(|&bead| into(bead, inner_ahead));
        let way: Vec<BeadEnd> = way.chain([to]).collect();
        let is_first = teeth.locked == 0;
        // The needle skipped the bead before: it leaves the one next to it.
        let leaves_next_door = !is_first && teeth.passed_by == Some(place(teeth.locked, 0));
        if !leaves_next_door {
            state.must_leave(from);
        }
        let mut last = from;
        for &next in &way {
            state.draw_together(last, next);
            last = next.through();
        }
        if m.passes.len() != way.len() {
            let (expected, found) = (Some(to.bead()), m.passes.last().copied());
            state.record(Fault::WrongBead { expected, found });
        }
        let places = (0..tooth.len()).map(|_| 1).chain([2]);
        for ((end, &found), after) in way.iter().zip(&m.passes).zip(places) {
            let (expected, at) = (end.bead(), place(teeth.locked, after));
            if expected == found {
                continue;
            }
            let is_second = teeth.passed_by.is_some_and(|other| other.abs_diff(at) <= 2);
            let is_requested = state
                .required
                .next_door
                .contains(&(self.panel, join.side, at));
            if !is_requested || is_second || way.iter().any(|end| end.bead() == found) {
                state.record(Fault::ZipOrder { expected, found });
            }
            teeth.passed_by = Some(at);
            let side = (self.panel, join.side);
            state.ledger.passed_by.insert((side, expected));
        }
        teeth.locked += 1;
        let locked = teeth.locked;
        state.check_counts(m, locked, all);
        let passed = std::mem::take(&mut self.passed);
        if is_first {
            self.begun = Some(from.through());
            self.first = self.first.or(self.begun);
            let before = self.nth.checked_sub(1).map(|nth| self.joins[nth]);
            // The last of them is the bead with which the side begins.
            let passed = passed.split_last().map_or(&[][..], |(_, passed)| passed);
            if let Some(before) = before {
                self.round_the_corner([before, join], passed, state);
            }
        }
        self.ended = Some(last);
    }

    fn finish_side(&mut self, state: &mut VerifyState) {
        let whole = self
            .teeth
            .as_ref()
            .is_some_and(|teeth| teeth.locked + 1 == teeth.outer.len());
        if !whole {
            state.record(Fault::JobUnfinished);
        }
    }
}

impl ReadJob for ZipWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        match m.kind {
            Kind::Fold => {
                self.finish_side(state);
                self.nth += 1;
                self.teeth = None;
                state.check_counts(m, 0, 0);
                if !m.passes.is_empty() || self.nth >= self.joins.len() {
                    state.unexpected(m, Some(Kind::Zip));
                }
                self.begin_side(state);
            }
            Kind::Zip => self.zip(m, state),
            _ => state.unexpected(m, Some(Kind::Zip)),
        }
    }

    fn part_thread(&mut self) {
        // No thread comes from the end of the last zip.
        self.ended = None;
    }

    fn pass(&mut self, m: &Movement) {
        self.passed.extend(&m.passes);
    }

    fn finish(&mut self, state: &mut VerifyState) {
        self.finish_side(state);
        let sides = state.ledger.sides(self.panel);
        if let [first, .., last] = self.joins[..]
            && self.joins.len() == sides
        {
            self.begun = self.first;
            self.round_the_corner([last, first], &self.passed, state);
        }
        if self.nth + 1 != self.joins.len() {
            state.record(Fault::JobUnfinished);
        }
    }
}
