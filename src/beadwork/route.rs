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
    let way = shortest_within(work, from, limit, |_| true, arrived)?;
    Some(way.into_iter().map(|hole| hole.bead).collect())
}

/// The same through such beads only as `within` accepts: the ends by which the
/// needle leaves them.
pub fn shortest_within(
    work: Work<'_>,
    from: Hole,
    limit: usize,
    within: impl Fn(Bead) -> bool,
    arrived: impl Fn(Hole) -> bool,
) -> Option<Vec<Hole>> {
    if arrived(from) {
        return Some(vec![]);
    }
    let mut came_from: HashMap<Hole, Hole> = HashMap::from([(from, from)]);
    let mut open = VecDeque::from([from]);
    while let Some(leaving) = open.pop_front() {
        for into in next_holes(work, leaving) {
            let out = into.through();
            if came_from.contains_key(&out) || !within(out.bead) {
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

fn path(came_from: &HashMap<Hole, Hole>, from: Hole, to: Hole) -> Vec<Hole> {
    let mut way = vec![];
    let mut at = to;
    while at != from {
        way.push(at);
        at = came_from[&at];
    }
    way.reverse();
    way
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::end::End;
    use crate::beadwork::number::{Panel, Side};
    use crate::beadwork::seams::Seams;
    use crate::beadwork::{Sequence, testing};

    /// The walk along an edge, which is taken without a search, is as short as
    /// the shortest way found by one.
    #[test]
    fn the_way_along_an_edge_is_a_shortest_way() {
        for rounds in [2, 3, 5, 9] {
            let seq = Sequence::new(testing::single(testing::panel(3, rounds)));
            let layout = seq.layout();
            let seams = Seams::default();
            let work = Work {
                layout,
                seams: &seams,
                strung: layout.beads(),
            };
            let side = |s| Hole::front(layout.edge_bead(Panel(0), Side(s), 0));
            let way = shortest(work, side(0), usize::MAX, |h| h == side(1)).unwrap();
            // To the end of the side, two beads a high bead, and round the
            // corner.
            assert_eq!(way.len() as u32, 2 * (rounds - 1) + 1);
        }
    }

    /// The search against a general graph library's breadth-first distances
    /// over the same bead ends.
    #[test]
    fn shortest_ways_agree_with_a_general_graph_library() {
        use petgraph::algo::dijkstra;
        use petgraph::graphmap::DiGraphMap;

        let seq = Sequence::new(testing::single(testing::panel(4, 7)));
        let layout = seq.layout();
        let seams = Seams::default();
        let work = Work {
            layout,
            seams: &seams,
            strung: layout.beads(),
        };
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
