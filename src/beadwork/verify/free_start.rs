//! A free start: the two outermost rounds strung together and closed to a ring.
//!
//! A bead of the outer round, then what lies in the gap after it, and so on all
//! the way round. Closing passes the first bead of each round.

use super::end::BeadEnd;
use super::face::Face;
use super::finding::Fault;
use super::labels::Labels;
use super::round::check_turn;
use super::verify_state::VerifyState;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Round};
use crate::beadwork::project::WorkDirection;

#[derive(Debug)]
pub(super) struct StringStart {
    /// For each bead of the string, whether it belongs to the outer round.
    order: Vec<bool>,
    outer: Vec<Bead>,
    inner: Vec<Bead>,
    /// Layout indices of the first bead of each of the two rounds.
    first: [usize; 2],
    strung: usize,
}

impl StringStart {
    pub fn new(face: &Face) -> Self {
        let last = face.last();
        let mut gaps = face.gaps(last, WorkDirection::Inward);
        let all = gaps.len();
        let start = face.first_of_side_0();
        gaps.rotate_left(start);
        // The string begins before a gap that takes a bead.
        let lead = gaps.iter().take_while(|&&g| g == 0).count() % all;
        gaps.rotate_left(lead);
        let outer = (start + lead) % all;
        let inner = face.next_index(last, WorkDirection::Inward, outer);
        let order = gaps.iter().flat_map(|&g| {
            let inner = std::iter::repeat_n(false, usize::from(g));
            std::iter::once(true).chain(inner)
        });
        StringStart {
            order: order.collect(),
            outer: vec![],
            inner: vec![],
            first: [outer, inner],
            strung: 0,
        }
    }

    /// Reads a step; `true` once the string is closed.
    pub fn read(
        &mut self,
        m: &Movement,
        face: &Face,
        labels: &mut Labels,
        state: &mut VerifyState,
    ) -> bool {
        match m.kind {
            Kind::Ring => {
                self.string(m, face, labels, state);
                false
            }
            Kind::StepDown => {
                self.close(m, face, state);
                true
            }
            _ => {
                state.unexpected(m, Some(Kind::Ring));
                false
            }
        }
    }

    fn string(&mut self, m: &Movement, face: &Face, labels: &mut Labels, state: &mut VerifyState) {
        let Some(&outer) = self.order.get(self.strung) else {
            let gaps = self.order.len() as u32;
            state.record(Fault::BeyondTheRound(gaps));
            return;
        };
        self.strung += 1;
        state.check_old_bead(m, None);
        let (round, first, beads) = if outer {
            (face.last(), self.first[0], &mut self.outer)
        } else {
            (face.last() - 1, self.first[1], &mut self.inner)
        };
        state.check_round(m, Round(round));
        state.check(labels.check(face.side(round, first + beads.len()), m.side));
        beads.extend(&m.strings);
        state.check_counts(m, beads.len(), face.beads(round));
    }

    fn close(&mut self, m: &Movement, face: &Face, state: &mut VerifyState) {
        for (round, beads) in [(face.last(), &self.outer), (face.last() - 1, &self.inner)] {
            state.check_round_holds(face.beads(round), beads.len());
        }
        let (Some(&first), Some(&inner)) = (self.outer.first(), self.inner.first()) else {
            return;
        };
        let last = match self.order.last() {
            Some(true) => self.outer.last(),
            _ => self.inner.last(),
        };
        if let Some(&last) = last {
            state.must_leave(BeadEnd::front(last));
            state.draw_together(BeadEnd::front(last), BeadEnd::back(first));
        }
        check_turn(m, [first, inner], state);
        let target = face.beads(face.last() - 1);
        state.check_counts(m, target, target);
        state.report.rounds += 2;
    }

    /// The outer and the inner round, each with the layout index of its first
    /// bead.
    pub fn into_rounds(self) -> [(Vec<Bead>, usize); 2] {
        [(self.outer, self.first[0]), (self.inner, self.first[1])]
    }
}
