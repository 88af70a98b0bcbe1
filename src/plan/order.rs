//! The order of joins: how many new threads it takes, how many beads are passed
//! only to get somewhere, and the least possible in any order.

use super::inspection::{self, Edge, Least};
use super::joins::Joins;
use super::walk::Walk;
use crate::beadwork::job::JobKind;
use crate::beadwork::project::Make;
use crate::beadwork::{Sequence, Step};
use crate::geometry::Shape;

/// How the joins are sewn, with lower bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Order {
    /// Joins.
    pub joins: usize,
    /// Hinges: edges along which solids hang together, by one row or two.
    pub hinges: usize,
    /// Threads that panels are begun with; each panel needs one.
    pub panel_threads: usize,
    /// New threads because the current one is used up, or is not where the
    /// needle must be.
    pub further_threads: usize,
    /// The fewest threads that can sew the path, by its length.
    pub fewest_threads: usize,
    /// Beads passed only to get the needle from one place to another.
    pub retravel: u32,
    /// Beads that must be passed again if all joins were sewn with one thread.
    pub one_thread: Least,
    /// Beads that must be passed again with as many threads as panels are begun
    /// with.
    pub with_panel_threads: Least,
}

impl Order {
    /// Which joins to reinforce, in words: those of hinges.
    pub fn says_of_hinges(&self) -> Option<String> {
        (self.hinges > 0).then(|| {
            format!(
                "{} the solids on both sides: reinforce the join there with a second pass",
                match self.hinges {
                    1 => "the hinge carries".to_string(),
                    n => format!("each of the {n} hinges carries"),
                }
            )
        })
    }
}

/// The order of joins of a piece.
pub fn order(seq: &Sequence, walk: &Walk) -> Order {
    let shape = Shape::of(seq);
    let joins = Joins::of(seq, &shape);
    let edges: Vec<Edge> = joins
        .joins
        .iter()
        .map(|join| Edge {
            ends: join.ends,
            cost: join.beads,
        })
        .collect();
    let is_panel = |kind: &JobKind| matches!(kind, JobKind::Panel(_));
    let panels = seq.jobs().iter().filter(|j| is_panel(&j.kind)).count();
    let sewn = seq.thread_lengths();
    let sewn = sewn.map(|length| seq.drawn_mm(Step(length.first.0 - 1), length.sewn));
    // Where the work cannot be divided, a length may be used further than
    // usual.
    let usable = seq.goal().threads.iter();
    let usable = usable.map(|choice| choice.thread.usable_mm());
    let usable = usable.fold(1.0, f64::max);
    let (all, most) = sewn.fold((0.0, usable), |(all, most), mm| (all + mm, mm.max(most)));
    let by_length = (all / most).ceil() as usize;
    Order {
        joins: joins.joins.len(),
        hinges: match seq.layout().project().make.shape() {
            Make::FoldedPair { .. } => 1,
            Make::Ring { tetrahedra, .. } | Make::RingOfNets { tetrahedra, .. } => {
                (*tetrahedra).into()
            }
            _ => shape
                .seams
                .iter()
                .filter(|seam| seam.sides.len() > 2)
                .count(),
        },
        panel_threads: panels,
        further_threads: seq.thread_starts().len().saturating_sub(panels),
        fewest_threads: by_length.max(panels),
        retravel: walk.jobs.iter().map(|job| job.retravel).sum(),
        one_thread: inspection::least(joins.corners, &edges, 1),
        with_panel_threads: inspection::least(joins.corners, &edges, panels),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    #[test]
    fn no_order_is_better_than_its_bounds() {
        for project in [
            testing::solid(Solid::Tetrahedron, 8, Closing::SetIn),
            testing::solid(Solid::Icosahedron, 6, Closing::SetIn),
            testing::folded_pair(8, 2),
            testing::ring(8, 8, Closing::Fill),
        ] {
            let seq = Sequence::new(project);
            let order = order(&seq, &Walk::over(&seq));
            let threads = order.panel_threads + order.further_threads;
            assert_eq!(threads, seq.thread_starts().len());
            assert!(threads >= order.fewest_threads);
            assert!(u64::from(order.retravel) >= order.with_panel_threads.cost);
        }
    }

    /// A ring of N tetrahedra has N hinges, a folded pair one (D. Schattschneider and
    /// W. Walker, 1977).
    #[test]
    fn hinges_are_counted_where_solids_hang_together() {
        for (project, hinges) in [
            (testing::solid(Solid::Tetrahedron, 4, Closing::SetIn), 0),
            (testing::folded_pair(4, 1), 1),
            (testing::ring(8, 3, Closing::SetIn), 8),
            (testing::ring_of_nets(6, 4, 1), 6),
        ] {
            let seq = Sequence::new(project);
            let order = order(&seq, &Walk::over(&seq));
            assert_eq!(order.hinges, hinges);
            let said = order.says_of_hinges();
            assert!(
                !said.is_some_and(|said| said.contains('`')),
                "paper has no keys"
            );
        }
    }

    /// A tetrahedron's joins with one thread: one edge is sewn along twice,
    /// which is two beads for each of its up beads, less one.
    #[test]
    fn a_tetrahedron_in_one_thread_goes_along_one_edge_twice() {
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 8, Closing::SetIn));
        let order = order(&seq, &Walk::over(&seq));
        assert_eq!((order.joins, order.panel_threads), (6, 4));
        assert_eq!(order.one_thread.cost, 15);
        assert_eq!(order.with_panel_threads.cost, 0);
    }
}
