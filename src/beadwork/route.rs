//! Weaving: the shortest way for the needle through beads that touch, from
//! the hole it leaves to a hole it must leave.
//!
//! Thread runs through a bead from end to end, so the search goes over bead
//! ends. Where two ends touch a third at the same place, the thread may also
//! turn there, straight from one into the other.

use super::end::Hole;
use super::number::{Bead, NumberMap, NumberSet};
use super::touch::Touching;

/// Beads that an end of thread is woven in through so that it cannot slide, at
/// the least (common practice, no source).
pub const WOVEN: usize = 8;

/// Turns that the thread makes on this way, at the least (common practice, no
/// source).
pub const WOVEN_TURNS: u32 = 2;

/// The beads to go through from the hole that the needle leaves until it
/// leaves one that `arrived` accepts, each by the end it is left by; the
/// shortest way, and empty if the needle is there already.
/// `None` if there is no way, or none found within `limit` holes looked at.
pub fn shortest(
    work: Touching<'_>,
    from: Hole,
    limit: usize,
    arrived: impl Fn(Hole) -> bool,
) -> Option<Vec<Hole>> {
    shortest_within(work, from, limit, |_| true, arrived)
}

/// The same through such beads only as `within` accepts.
pub fn shortest_within(
    work: Touching<'_>,
    from: Hole,
    limit: usize,
    within: impl Fn(Bead) -> bool,
    arrived: impl Fn(Hole) -> bool,
) -> Option<Vec<Hole>> {
    Ways::of(work, from, within).shortest(limit, arrived)
}

/// The ways from a hole that the needle leaves, through such beads as `within`
/// accepts, searched only as far as the caller asks.
pub struct Ways<'a, F> {
    beside: Beside<'a>,
    within: F,
    /// The holes come to, the nearest first, each with the number of the one
    /// before it on the way.
    found: Vec<(Hole, usize)>,
    seen: NumberSet<Hole>,
    /// How many of those found were gone on from.
    gone_on: usize,
}

impl<'a, F: Fn(Bead) -> bool> Ways<'a, F> {
    /// The ways from a hole.
    pub fn of(work: Touching<'a>, from: Hole, within: F) -> Self {
        Ways {
            beside: Beside::of(work),
            within,
            found: vec![(from, 0)],
            seen: NumberSet::from_iter([from]),
            gone_on: 0,
        }
    }

    /// As [`shortest`].
    pub fn shortest(&mut self, limit: usize, arrived: impl Fn(Hole) -> bool) -> Option<Vec<Hole>> {
        let mut at = 0;
        while !arrived(self.found[at].0) {
            at += 1;
            if (at > limit && at > 1) || !self.find(at) {
                return None;
            }
        }
        let mut holes = vec![];
        while at > 0 {
            holes.push(self.found[at].0);
            at = self.found[at].1;
        }
        holes.reverse();
        Some(holes)
    }

    /// Goes on until hole `at` is found; whether there is one.
    fn find(&mut self, at: usize) -> bool {
        while self.found.len() <= at && self.gone_on < self.found.len() {
            for into in self.beside.next_holes(self.found[self.gone_on].0) {
                let out = into.through();
                if (self.within)(out.bead) && self.seen.insert(out) {
                    self.found.push((out, self.gone_on));
                }
            }
            self.gone_on += 1;
        }
        at < self.found.len()
    }
}

/// The holes that a needle leaving a hole can go into: those that touch it,
/// and those that touch one of these at the same place.
pub fn next_holes(work: Touching<'_>, leaving: Hole) -> Vec<Hole> {
    Beside::of(work).next_holes(leaving).to_vec()
}

/// What lies beside holes.
type KnownHoles = NumberMap<Hole, Vec<Hole>>;

/// Adds what lies beside a hole; whether that is all, with no corner there.
fn add(known: &mut KnownHoles, work: Touching<'_>, hole: Hole, found: &mut Vec<Hole>) -> bool {
    let is_inner = work.add_inner(hole, found);
    if !is_inner {
        found.extend(
            known
                .entry(hole)
                .or_insert_with(|| work.beside(hole))
                .iter(),
        );
    }
    is_inner
}

/// What lies beside the holes that a search has reached: each is looked up by
/// all its neighbours.
struct Beside<'a> {
    work: Touching<'a>,
    known: KnownHoles,
    next: Vec<Hole>,
    turns: Vec<Hole>,
}

impl<'a> Beside<'a> {
    fn of(work: Touching<'a>) -> Self {
        Beside {
            work,
            known: NumberMap::default(),
            next: vec![],
            turns: vec![],
        }
    }

    fn next_holes(&mut self, leaving: Hole) -> &[Hole] {
        self.next.clear();
        let is_inner = add(&mut self.known, self.work, leaving, &mut self.next);
        let touched = self.next.len();
        if !is_inner {
            self.work.across_corners(leaving, &mut self.next);
        }
        for nth in 0..touched {
            self.turns.clear();
            add(&mut self.known, self.work, self.next[nth], &mut self.turns);
            for &turn in &self.turns {
                if turn.bead != leaving.bead && !self.next.contains(&turn) {
                    self.next.push(turn);
                }
            }
        }
        &self.next
    }
}

/// A way of up to `length` beads on from a hole into finished work, toward the
/// middle of the panel, no bead twice: how earlier builds wove an end of thread in.
/// The ends by which the needle leaves the beads.
pub fn weave_in(work: Touching<'_>, leaving: Hole, length: usize) -> Vec<Hole> {
    let mut left: Vec<Hole> = vec![];
    let mut at = leaving;
    while left.len() < length {
        let is_free = |h: &Hole| h.bead != leaving.bead && left.iter().all(|l| l.bead != h.bead);
        let inner = work.of(at).into_iter().filter(is_free);
        let inner = inner.min_by_key(|h| {
            let seat = work.seat(h.bead);
            (seat.panel.0, seat.round)
        });
        let Some(into) = inner else { break };
        at = into.through();
        left.push(at);
    }
    left
}

/// Whether thread turns back where it leaves a bead by `from` and goes in at
/// `into`: the two ends do not touch, but lie at one place against a third. A tip
/// bead lies in a corner, which is a wider place.
pub fn is_turn(work: Touching<'_>, from: Hole, into: Hole) -> bool {
    is_turn_past(&work.of(from), work, from, into)
}

/// The same where it is known what `from` touches.
pub fn is_turn_past(touched: &[Hole], work: Touching<'_>, from: Hole, into: Hole) -> bool {
    let is_tip = |hole: Hole| work.is_tip(hole.bead);
    !touched.contains(&into) && !is_tip(from) && !is_tip(into)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::end::End;
    use crate::beadwork::number::Bead;
    use crate::beadwork::number::{Panel, Side};
    use crate::beadwork::{Sequence, testing};

    /// The walk along an edge, which is taken without a search, is as short as
    /// the shortest way found by one.
    #[test]
    fn the_way_along_an_edge_is_a_shortest_way() {
        for rounds in [2, 3, 5, 9] {
            let seq = Sequence::new(testing::single(testing::panel(3, rounds)));
            let (layout, work) = (seq.layout(), seq.work().touching());
            let side = |s| Hole::front(layout.edge_bead(Panel(0), Side(s), 0));
            let way = shortest(work, side(0), usize::MAX, |h| h == side(1)).unwrap();
            // To the end of the side, two beads an up bead, and round the
            // corner.
            assert_eq!(way.len() as u32, 2 * (rounds - 1) + 1);
        }
    }

    /// What is kept of the inside of a whole panel is what is found bead by bead.
    #[test]
    fn the_inside_of_a_panel_is_known_as_it_is_found() {
        let mut inner = 0;
        for project in [
            testing::listed_tetrahedron(4),
            testing::folded_pair(4, 1),
            testing::single(testing::panel(6, 7)),
            testing::single(testing::inward(3, 6, 2)),
            testing::single(testing::strip(3, 6)),
        ] {
            let seq = Sequence::new(project);
            for done in (0..=seq.steps()).step_by(23).chain([seq.steps()]) {
                let work = seq.work_at(crate::beadwork::Step(done));
                let touching = work.touching();
                for bead in (1..=work.strung).map(Bead) {
                    for hole in [Hole::front(bead), Hole::back(bead)] {
                        let mut found = vec![];
                        if touching.add_inner(hole, &mut found) {
                            assert_eq!(found, touching.of(hole), "{hole:?}");
                            inner += 1;
                        }
                    }
                }
            }
        }
        assert!(inner > 2_000, "{inner}");
    }

    /// Where there is a way from panel to panel, they hang together; and panels
    /// that lie apart are known to.
    #[test]
    fn panels_that_a_way_leads_between_hang_together() {
        let mut apart = 0;
        for project in [testing::listed_tetrahedron(3), testing::folded_pair(3, 1)] {
            let seq = Sequence::new(project);
            for done in (0..=seq.steps()).step_by(29) {
                let work = seq.work_at(crate::beadwork::Step(done));
                let beads = || (1..=work.strung).map(Bead);
                for from in beads().step_by(17) {
                    let panel = |bead| work.layout.panel_of(bead);
                    for to in beads().step_by(13).filter(|to| panel(*to) != panel(from)) {
                        let leaving = Hole::front(from);
                        let way = shortest(work.touching(), leaving, usize::MAX, |h| h.bead == to);
                        let together = work.hang_together(panel(from), panel(to));
                        assert!(together || way.is_none(), "step {done}: {from} to {to}");
                        apart += u32::from(!together);
                    }
                }
            }
        }
        assert!(apart > 20, "{apart}");
    }

    /// The search against a general graph library's breadth-first distances
    /// over the same bead ends.
    #[test]
    fn shortest_ways_agree_with_a_general_graph_library() {
        use petgraph::algo::dijkstra;
        use petgraph::graphmap::DiGraphMap;

        let seq = Sequence::new(testing::single(testing::panel(4, 7)));
        let (layout, work) = (seq.layout(), seq.work().touching());
        let key = |h: Hole| (h.bead.0, h.end == End::Front);
        let mut graph: DiGraphMap<(u32, bool), u32> = DiGraphMap::new();
        let ends = [End::Back, End::Front];
        for bead in (1..=layout.beads()).map(Bead) {
            for end in ends {
                let leaving = Hole { bead, end };
                for into in next_holes(work, leaving) {
                    graph.add_edge(key(leaving), key(into.through()), 1u32);
                }
            }
        }
        let from = Hole::front(Bead(1));
        let all = dijkstra(&graph, key(from), None, |_| 1u32);
        for bead in (1..=layout.beads()).map(Bead) {
            for end in ends {
                let to = Hole { bead, end };
                let way = shortest(work, from, usize::MAX, |h| h == to);
                assert_eq!(way.map(|w| w.len() as u32), all.get(&key(to)).copied());
            }
        }
    }
}
