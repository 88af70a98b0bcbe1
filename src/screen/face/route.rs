//! The path of the thread through the movements of the round before and after
//! the needle.

use crate::beadwork::{Bead, Job, Movement, Round, Sequence, Step};

/// Movements of the round that are shown before and after the needle.
const REACH: u32 = 8;

/// Beads in the order in which the thread goes through them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Route {
    /// Up to the bead that the needle is leaving.
    pub made: Vec<Bead>,
    /// From there on.
    pub next: Vec<Bead>,
}

/// The path near the needle, with `done` steps done.
pub fn route(seq: &Sequence, done: Step) -> Route {
    let here = [Step(done.0 + 1), done];
    let Some(m) = here.iter().find_map(|s| seq.step(*s)) else {
        return Route::default();
    };
    let round = (m.job, m.round);
    let of_round = |m: &Movement, round: (Job, Option<Round>)| (m.job, m.round) == round;
    let mut first = done.0;
    let mut way = round;
    while first > 0 && done.0 - first < REACH {
        let Some(m) = seq.step(Step(first)) else {
            break;
        };
        // Directly after a round is begun, the path so far belongs to the round
        // before.
        if first == done.0 && m.job == way.0 {
            way.1 = m.round;
        }
        if !of_round(&m, way) {
            break;
        }
        first -= 1;
    }
    let mut route = Route::default();
    route.made.extend(seq.leaves(Step(first)));
    let made = (first + 1..=done.0).filter_map(|n| seq.step(Step(n)));
    route.made.extend(made.flat_map(|m| m.passes));
    route.next.extend(seq.leaves(done));
    let next = (done.0 + 1..=done.0 + REACH).map_while(|n| seq.step(Step(n)));
    let next = next.take_while(|m| of_round(m, round));
    route.next.extend(next.flat_map(|m| m.passes));
    route
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::proof;

    #[test]
    fn the_path_ends_at_the_needle_and_continues_from_there() {
        let seq = proof::panel(3, 7);
        for done in 1..seq.steps() {
            let route = route(&seq, Step(done));
            let leaves = seq.leaves(Step(done));
            if leaves.is_some() {
                assert_eq!(route.made.last().copied(), leaves, "step {done}");
                assert_eq!(route.next.first().copied(), leaves, "step {done}");
            }
            let next = seq.step(Step(done + 1)).expect("a step");
            assert!(
                next.passes.iter().all(|b| route.next.contains(b)),
                "step {done}"
            );
            assert!(route.made.len() <= 1 + REACH as usize * 4);
        }
    }
}
