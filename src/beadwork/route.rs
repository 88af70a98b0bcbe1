//! Weaving: the shortest way for the needle through beads that touch, from
//! the hole it leaves to a hole it must leave.
//!
//! Thread runs through a bead from end to end, so the way is sought over bead
//! ends. Where two ends lie at one place against a third, the thread may also
//! turn there, from the one straight into the other.

use super::end::Hole;
use super::number::Bead;
use super::touch::Work;
use std::collections::{HashMap, VecDeque};

/// The beads to go through from the hole that the needle leaves until it
/// leaves one that `arrived` accepts, fewest first; empty if it does already.
/// `None` if there is no way, or none found within `limit` holes looked at.
pub fn shortest(
    work: Work<'_>,
    from: Hole,
    limit: usize,
    arrived: impl Fn(Hole) -> bool,
) -> Option<Vec<Bead>> {
    if arrived(from) {
        return Some(vec![]);
    }
    let mut came_from: HashMap<Hole, Hole> = HashMap::from([(from, from)]);
    let mut open = VecDeque::from([from]);
    while let Some(leaving) = open.pop_front() {
        for into in next_holes(work, leaving) {
            let out = into.through();
            if came_from.contains_key(&out) {
                continue;
            }
            came_from.insert(out, leaving);
            if arrived(out) {
                return Some(path(&came_from, from, out));
            }
            if came_from.len() > limit {
                return None;
            }
            open.push_back(out);
        }
    }
    None
}

/// The holes that a needle leaving a hole can go into: those that touch it,
/// and those that touch one of these at the same place.
pub fn next_holes(work: Work<'_>, leaving: Hole) -> Vec<Hole> {
    let mut all = work.touching(leaving);
    for hole in work.beside(leaving) {
        for turn in work.beside(hole) {
            if turn.bead != leaving.bead && !all.contains(&turn) {
                all.push(turn);
            }
        }
    }
    all
}

fn path(came_from: &HashMap<Hole, Hole>, from: Hole, to: Hole) -> Vec<Bead> {
    let mut beads = vec![];
    let mut at = to;
    while at != from {
        beads.push(at.bead);
        at = came_from[&at];
    }
    beads.reverse();
    beads
}

/// A way of up to `length` beads on from a hole into finished work, to weave
/// an end of thread in: toward the middle of the panel, no bead twice.
pub fn weave_in(work: Work<'_>, leaving: Hole, length: usize) -> Vec<Bead> {
    let mut beads = vec![];
    let mut at = leaving;
    while beads.len() < length {
        let inner = work
            .touching(at)
            .into_iter()
            .filter(|h| h.bead != leaving.bead && !beads.contains(&h.bead))
            .min_by_key(|h| {
                let seat = work.layout.seat(h.bead);
                (seat.panel.0, seat.round)
            });
        let Some(into) = inner else { break };
        beads.push(into.bead);
        at = into.through();
    }
    beads
}

/// A way of up to `length` beads that ends by leaving a hole, its bead
/// included: how a new thread is woven in to start there.
pub fn weave_out(work: Work<'_>, to: Hole, length: usize) -> Vec<Bead> {
    // The same way in the other direction: from the bead's other end.
    let mut beads = weave_in(work, to.through(), length.saturating_sub(1));
    beads.reverse();
    beads.push(to.bead);
    beads
}
