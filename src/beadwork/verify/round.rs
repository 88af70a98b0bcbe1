//! A round worked on a round, gap by gap.
//!
//! The needle leaves the first bead of the old round. Gaps that take no bead
//! are drawn together first; after them the round begins, and goes once round
//! all gaps. A last gap that takes no bead is left to the step-up or step-down.

use super::end::BeadEnd;
use super::face::Face;
use super::finding::Fault;
use super::labels::Labels;
use super::verify_state::{VerifyState, old_bead};
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Round};
use crate::beadwork::project::WorkDirection;

#[derive(Debug)]
pub(super) struct CurrentRound {
    way: WorkDirection,
    on: u32,
    makes: u32,
    /// The beads of the old round, from the one where the new round begins, and
    /// the number of beads for the gap after each.
    old: Vec<Bead>,
    gaps: Vec<u8>,
    /// Index in the layout's round of the first bead in `old`.
    old_index: usize,
    /// Index in the layout's round of the first new bead.
    first: usize,
    /// Beads that are drawn together first: the needle leaves the first, and
    /// the last is the first bead of `old`.
    lead: Vec<Bead>,
    led: usize,
    /// Number of gaps done.
    done: usize,
    /// Beads of the new round so far.
    strung: Vec<Bead>,
    target: usize,
}

impl CurrentRound {
    /// The round worked on round `on`. Its beads are given from the one that
    /// the needle leaves, which is bead `index` of the layout's round.
    pub fn new(
        face: &Face,
        way: WorkDirection,
        on: u32,
        mut beads: Vec<Bead>,
        index: usize,
    ) -> Self {
        let makes = match way {
            WorkDirection::Outward => on + 1,
            WorkDirection::Inward => on - 1,
        };
        let mut gaps = face.gaps(on, way);
        let all = gaps.len();
        gaps.rotate_left(index % all);
        // After a round with a bead too many or too few, the numbers do not
        // match; continue as well as possible.
        gaps.resize(beads.len().max(1), 1);
        let lead = gaps.iter().take_while(|&&g| g == 0).count() % gaps.len();
        let led = beads[..=lead.min(beads.len() - 1)].to_vec();
        gaps.rotate_left(lead);
        beads.rotate_left(lead);
        let old_index = (index + lead) % all;
        CurrentRound {
            way,
            on,
            makes,
            old: beads,
            gaps,
            old_index,
            first: face.next_index(on, way, old_index),
            lead: led,
            led: 0,
            done: 0,
            strung: vec![],
            target: face.beads(makes),
        }
    }

    /// Whether it is worked on this round and has no bead yet.
    pub fn is_next_after(&self, on: Option<Round>) -> bool {
        on == Some(Round(self.on)) && self.led == 0 && self.done == 0
    }

    fn old(&self, j: usize) -> Bead {
        self.old[j % self.old.len()]
    }

    /// The new round's beads in the order in which they were strung, and the
    /// layout index of the first.
    pub fn into_made(self) -> (u32, Vec<Bead>, usize) {
        let strung = if self.strung.is_empty() {
            self.old
        } else {
            self.strung
        };
        (self.makes, strung, self.first)
    }

    /// Reads a step; `true` once the round is complete.
    pub fn read(
        &mut self,
        m: &Movement,
        face: &Face,
        labels: &mut Labels,
        state: &mut VerifyState,
    ) -> bool {
        state.check_round(m, Round(self.makes));
        if self.led + 1 < self.lead.len() {
            if m.kind == Kind::Decrease {
                self.lead_in(m, face, labels, state);
                return false;
            }
            state.unexpected(m, Some(Kind::Decrease));
            self.led = self.lead.len();
        }
        match m.kind {
            Kind::Stitch | Kind::Increase | Kind::Decrease => {
                self.stitch(m, face, labels, state);
                false
            }
            Kind::StepUp | Kind::StepDown => {
                self.turn(m, state);
                true
            }
            _ => {
                state.unexpected(m, None);
                false
            }
        }
    }

    fn lead_in(&mut self, m: &Movement, face: &Face, labels: &mut Labels, state: &mut VerifyState) {
        let (from, to) = (self.lead[self.led], self.lead[self.led + 1]);
        let back = self.lead.len() - 1 - self.led;
        let all = face.beads(self.on);
        state.check(labels.check(face.side(self.on, self.old_index + all - back), m.side));
        state.must_leave(BeadEnd::front(from));
        state.draw_together(BeadEnd::front(from), BeadEnd::back(to));
        state.check_old_bead(m, Some(to));
        state.check_counts(m, 0, self.target);
        self.led += 1;
    }

    fn stitch(&mut self, m: &Movement, face: &Face, labels: &mut Labels, state: &mut VerifyState) {
        let gaps = self.gaps.len();
        if self.done >= gaps {
            let gaps = gaps as u32;
            state.record(Fault::BeyondTheRound(gaps));
            self.strung.extend(&m.strings);
            return;
        }
        let passed = old_bead(m);
        let skipped = self.skip_to(passed);
        if skipped {
            let gap = self.done as u32 + 1;
            state.record(Fault::SkippedGap(gap));
            self.done = self.gap_before(passed);
        }
        let j = self.done;
        let expected = (j + 1 < gaps).then(|| self.old(j + 1));
        state.check_old_bead(m, expected);
        let holds = self.gaps[j].into();
        if m.strings.len() != holds {
            state.record_gap(m, j, holds);
        }
        let from = BeadEnd::front(self.old(j));
        if !skipped {
            state.must_leave(from);
        }
        if let Some(next) = expected {
            let last = m.strings.last().map_or(from, |&bead| BeadEnd::front(bead));
            state.draw_together(last, BeadEnd::back(next));
        }
        let side = match m.strings.first() {
            Some(_) => face.side(self.makes, self.first + self.strung.len()),
            None => face.side(self.on, self.old_index + j),
        };
        state.check(labels.check(side, m.side));
        self.strung.extend(&m.strings);
        self.done += 1;
        state.check_counts(m, self.strung.len(), self.target);
    }

    /// Whether a stitch that ends in this bead skips gaps.
    fn skip_to(&self, passed: Option<Bead>) -> bool {
        self.gap_before(passed) > self.done
    }

    /// The gap that is filled by a stitch ending in this bead, otherwise the
    /// next gap.
    fn gap_before(&self, passed: Option<Bead>) -> usize {
        let gaps = self.gaps.len();
        match passed {
            None => gaps - 1,
            Some(bead) => (self.done..gaps - 1)
                .find(|&j| self.old(j + 1) == bead)
                .unwrap_or(self.done),
        }
    }

    /// Where the thread ends after the last gap, its end goes on from there to the
    /// bead where the round began, as the step-up or step-down would.
    pub fn end_thread(&self, m: &Movement, state: &mut VerifyState) {
        let last = BeadEnd::front(self.last());
        let leaves = state.thread.leaving().any(|end| end == last);
        let gaps_done = self.done + usize::from(self.is_last_empty());
        if leaves && gaps_done == self.gaps.len() && !m.passes.is_empty() {
            state.draw_together(last, BeadEnd::back(self.old(0)));
        }
    }

    /// Whether the last gap takes no bead.
    fn is_last_empty(&self) -> bool {
        self.gaps.last() == Some(&0)
    }

    /// The bead that the needle leaves after the last gap.
    fn last(&self) -> Bead {
        match self.strung.last() {
            Some(&bead) if !self.is_last_empty() => bead,
            _ => self.old(self.gaps.len() - 1),
        }
    }

    fn turn(&mut self, m: &Movement, state: &mut VerifyState) {
        let turn = match self.way {
            WorkDirection::Outward => Kind::StepUp,
            WorkDirection::Inward => Kind::StepDown,
        };
        state.check_kind(m, turn);
        let gaps = self.gaps.len();
        if self.done + usize::from(self.is_last_empty()) < gaps {
            let gap = self.done as u32 + 1;
            state.record(Fault::SkippedGap(gap));
        }
        state.check_round_holds(self.target, self.strung.len());
        let began = self.old(0);
        let last = self.last();
        state.must_leave(BeadEnd::front(last));
        state.draw_together(BeadEnd::front(last), BeadEnd::back(began));
        let first = self.strung.first().copied().unwrap_or(began);
        check_turn(m, [began, first], state);
        state.check_counts(m, self.target, self.target);
        state.report.rounds += 1;
    }
}

/// A step-up or step-down must pass exactly these two beads.
pub(super) fn check_turn(m: &Movement, expected: [Bead; 2], state: &mut VerifyState) {
    if m.passes.as_slice() != expected {
        let found = m.passes.to_vec();
        state.record(Fault::WrongTurn { expected, found });
    }
}
