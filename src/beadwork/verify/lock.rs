//! A panel set in the open middle of another: beads of the innermost round
//! there and beads of the panel's edge are taken alternately, all the way
//! round.
//!
//! ```text
//!   side of the round     r0  r1  r2  r3  r4        r0 and r4 are halves of pairs
//!   edge of the panel       e0  e1  e2  e3
//! ```

use super::end::BeadEnd;
use super::finding::Fault;
use super::ledger::Use;
use super::reading::ReadJob;
use super::verify_state::VerifyState;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Side};
use std::collections::HashMap;

#[derive(Debug)]
pub(super) struct LockWork {
    teeth: Vec<Tooth>,
    /// The first tooth, once the needle has shown it, and the number of teeth
    /// locked.
    first: Option<usize>,
    locked: usize,
    on_side: HashMap<Side, usize>,
}

/// From an edge bead through beads of the round to the next edge bead.
#[derive(Debug)]
struct Tooth {
    side: Side,
    from: Bead,
    ring: Vec<Bead>,
    to: Bead,
}

impl LockWork {
    pub fn new(panel: Panel, around: Panel, state: &mut VerifyState) -> Self {
        let mut work = LockWork {
            teeth: vec![],
            first: None,
            locked: 0,
            on_side: HashMap::new(),
        };
        let Some(ring) = state.ledger.middles.remove(&around) else {
            let (panel, side) = (around, Side(0));
            state.record(Fault::CannotBeJoined { panel, side });
            return work;
        };
        let sides = ring.iter().map(|(side, _)| side.0 + 1).max().unwrap_or(0);
        let edges = (0..sides).map(|s| state.edge((panel, Side(s))).unwrap_or_default());
        let edges: Vec<Vec<Bead>> = edges.collect();
        let rounds: Vec<Vec<Bead>> = (0..sides).map(|s| on_side(&ring, Side(s))).collect();
        for s in 0..usize::from(sides) {
            let next = (s + 1) % usize::from(sides);
            let side = Side(s as u8);
            let (edge, round) = (&edges[s], &rounds[s]);
            let is_shared = edge.last() == edges[next].first();
            // Beads of the round between the beads of the edge, and beads at
            // the corner after them.
            let (between, corner) = match (is_shared, (round.len() + 1).checked_sub(edge.len())) {
                _ if edge.is_empty() || rounds[next].is_empty() => return work,
                (true, Some(0)) => (&round[..], vec![]),
                (false, Some(1)) => (&round[..edge.len() - 1], vec![round[edge.len() - 1]]),
                (false, Some(2)) => (
                    &round[1..edge.len()],
                    vec![round[edge.len()], rounds[next][0]],
                ),
                _ => {
                    let (bare, row) = (edge.len() as u32, round.len() as u32);
                    state.record(Fault::SidesDiffer { bare, row });
                    return work;
                }
            };
            for (j, (&bead, pair)) in between.iter().zip(edge.windows(2)).enumerate() {
                // A corner bead belongs to the side that it ends.
                let side = match is_shared && j == 0 {
                    true => state.ledger.neighbours((panel, side))[0].1,
                    false => side,
                };
                let (from, ring, to) = (pair[0], vec![bead], pair[1]);
                work.teeth.push(Tooth {
                    side,
                    from,
                    ring,
                    to,
                });
            }
            if !corner.is_empty() {
                let (from, to) = (edge[edge.len() - 1], edges[next][0]);
                let ring = corner;
                work.teeth.push(Tooth {
                    side,
                    from,
                    ring,
                    to,
                });
            }
            if !state.ledger.put((panel, side), Use::Zipped) {
                state.record(Fault::SideUsedTwice { panel, side });
            }
            state.report.joins += 1;
        }
        state.thread.corners.forget(panel);
        work
    }
}

impl ReadJob for LockWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        if !state.check_kind(m, Kind::Zip) {
            return;
        }
        let all = self.teeth.len();
        if self.locked >= all {
            let gaps = all as u32;
            state.record(Fault::BeyondTheRound(gaps));
            return;
        }
        let needle = state.thread.at();
        let here = || {
            self.teeth
                .iter()
                .position(|tooth| Some(tooth.from) == needle)
        };
        let first = *self.first.get_or_insert_with(|| here().unwrap_or(0));
        let tooth = &self.teeth[(first + self.locked) % all];
        state.check_side(m, tooth.side);
        state.must_leave(BeadEnd::front(tooth.from));
        let way: Vec<Bead> = tooth.ring.iter().copied().chain([tooth.to]).collect();
        let mut last = tooth.from;
        for &bead in &way {
            state.draw_together(BeadEnd::front(last), BeadEnd::back(bead));
            last = bead;
        }
        if m.passes.len() != way.len() {
            let (expected, found) = (Some(tooth.to), m.passes.last().copied());
            state.record(Fault::WrongBead { expected, found });
        }
        for (expected, &found) in way.into_iter().zip(&m.passes) {
            if expected != found {
                state.record(Fault::ZipOrder { expected, found });
            }
        }
        self.locked += 1;
        let side = tooth.side;
        let of = self.teeth.iter().filter(|tooth| tooth.side == side).count();
        let locked = self.on_side.entry(side).or_default();
        *locked += 1;
        let locked = *locked;
        state.check_counts(m, locked, of);
    }

    fn finish(&mut self, state: &mut VerifyState) {
        if self.teeth.is_empty() || self.locked != self.teeth.len() {
            state.record(Fault::JobUnfinished);
        }
    }
}

/// The beads of one side of a round, in order.
fn on_side(ring: &[(Side, Bead)], side: Side) -> Vec<Bead> {
    let all = ring.len();
    let is_first = |i: &usize| ring[*i].0 == side && ring[(*i + all - 1) % all].0 != side;
    let first = (0..all).find(is_first).unwrap_or(0);
    let from_there = (0..all).map(|i| ring[(first + i) % all]);
    from_there
        .take_while(|(s, _)| *s == side)
        .map(|(_, bead)| bead)
        .collect()
}
