//! The needle: where it leaves, and how it is taken to where it must start.

use super::{ALL_WAYS, FAR, NEAR, Planner};
use crate::beadwork::route;
use crate::beadwork::stage::{Path, Through};
use crate::beadwork::work::GoalJob;
use crate::beadwork::{Bead, Corner, Hole, Kind, Layout, Panel, Part, Side};

/// Paths through any beads.
pub(super) type AnyWays<'a> = route::Ways<'a, fn(Bead) -> bool>;

impl Planner {
    /// Of two holes the one that is nearer to the needle, or the first if they
    /// are equally near, and the path to it. A long path is only searched for
    /// when neither is close.
    pub(super) fn nearer(&self, holes: [Hole; 2]) -> (Hole, Option<Weave>) {
        let known = |to| self.known_way(to).map(|w| w.beads(self.layout()));
        let second = match holes.map(known) {
            [Some(a), Some(b)] => a > b,
            [Some(_), None] => false,
            [None, Some(_)] => true,
            [None, None] => {
                let mut ways = self.ways();
                let mut to = |to| {
                    let near = self.may_reach(to);
                    near.then(|| self.seek(&mut ways, |hole| hole == to))?
                };
                let far = holes.map(|hole| to(hole).map_or(usize::MAX, |w| w.len()));
                let nearer = holes[usize::from(far[0] > far[1])];
                return (nearer, to(nearer).map(Weave::Beads));
            }
        };
        let to = holes[usize::from(second)];
        (to, self.known_way(to))
    }

    /// Begins a job that starts where the needle leaves `first`. The current
    /// thread is taken there if possible; otherwise it is ended and a new one
    /// is begun.
    pub(super) fn begin_at(&mut self, job: GoalJob, first: Hole) {
        let way = self.way_to(first);
        self.begin_by(job, way.is_some());
        self.weave(way, first);
    }

    /// Begins a job, with the current thread if that comes to where it starts.
    pub(super) fn begin_by(&mut self, job: GoalJob, comes_there: bool) {
        if !comes_there {
            self.end_thread();
        }
        self.begin(job);
    }

    /// Takes the needle through beads that are already there until it leaves
    /// `to`.
    pub(super) fn weave_to(&mut self, to: Hole) {
        let way = self.way_to(to);
        self.weave(way, to);
    }

    /// Follows a path; if there is none, ends the thread and takes up a new
    /// one.
    pub(super) fn weave(&mut self, way: Option<Weave>, to: Hole) {
        match way {
            Some(Weave::Beads(beads)) => self.pass(beads),
            Some(Weave::Side(panel, side)) => {
                self.enter_side(panel, side);
                self.push(Through::along(
                    side,
                    Kind::PassThrough,
                    Path::Edge(panel, side),
                ));
                self.enter_side(panel, self.layout().kind(panel).next_side(side));
            }
            None => {
                self.end_thread();
                self.take_thread_to(to);
            }
        }
    }

    /// Takes the needle from the corner before a side through its first bead.
    fn enter_side(&mut self, panel: Panel, side: Side) {
        let first = Hole::front(self.layout().edge_bead(panel, side, 0));
        if self.work.needle() != Some(first) {
            self.pass(vec![first]);
        }
    }

    /// The path of the needle to leave `to`.
    pub(super) fn way_to(&self, to: Hole) -> Option<Weave> {
        let seek = || self.seek(&mut self.ways(), |hole| hole == to);
        let far = || self.may_reach(to).then(seek).flatten();
        self.known_way(to).or_else(|| far().map(Weave::Beads))
    }

    /// Whether the panel where the needle is is connected with the panel of a
    /// hole: if not, no search is needed.
    fn may_reach(&self, to: Hole) -> bool {
        let panel = |hole: Hole| self.layout().panel_of(hole.bead);
        let needle = self.work.needle();
        needle.is_some_and(|needle| self.work.hang_together(panel(needle), panel(to)))
    }

    /// The paths from where the needle leaves.
    pub(super) fn ways(&self) -> Option<AnyWays<'_>> {
        let needle = self.work.needle()?;
        Some(AnyWays::of(self.work.touching(), needle, |_| true))
    }

    /// The shortest of the paths to a hole that `arrived` accepts, unless it is
    /// too far.
    pub(super) fn seek(
        &self,
        ways: &mut Option<AnyWays>,
        arrived: impl Fn(Hole) -> bool,
    ) -> Option<Vec<Hole>> {
        let limit = match self.looked_at.get() < ALL_WAYS {
            true => FAR,
            false => NEAR,
        };
        ways.as_mut()?.shortest(limit, |hole| {
            self.looked_at.update(|number| number + 1);
            arrived(hole)
        })
    }

    /// A path that is known without a search: no bead, one bead, or along one
    /// whole side of a panel. Along a side each pass moves one bead length, and
    /// no path moves farther.
    pub(super) fn known_way(&self, to: Hole) -> Option<Weave> {
        let needle = self.work.needle()?;
        if needle == to {
            return Some(Weave::Beads(vec![]));
        }
        if route::next_holes(self.work.touching(), needle).contains(&to.through()) {
            return Some(Weave::Beads(vec![to]));
        }
        let goal = self.layout().seat(to.bead);
        let (panel, kind) = (goal.panel, self.layout().kind(goal.panel));
        let first = |side| Hole::front(self.layout().edge_bead(panel, side, 0));
        if goal.part != Part::Face || goal.round != kind.last() || to != first(goal.side) {
            return None;
        }
        let side = kind.side_before(goal.side);
        let corner = (panel, kind.side_before(side));
        let at = self.work.touching().corners_at(needle);
        let here = |&c: &Corner| self.work.seams.are_together(c, corner);
        // After leaving the first bead by its back, the needle cannot turn into
        // it again.
        let begins = first(side);
        let arrives = needle.bead != begins.bead && at.iter().any(here);
        let is_even = self.layout().is_edge_even(panel, side);
        (is_even && (needle == begins || arrives)).then_some(Weave::Side(panel, side))
    }

    pub(super) fn pass(&mut self, beads: Vec<Hole>) {
        if beads.is_empty() {
            return;
        }
        self.push(Through::new(Kind::PassThrough, Path::Beads(beads.into())));
    }
}

/// A path of the needle.
pub(super) enum Weave {
    /// Through these beads.
    Beads(Vec<Hole>),
    /// Along this side of a panel to its end and round the corner.
    Side(Panel, Side),
}

impl Weave {
    fn beads(&self, layout: &Layout) -> u32 {
        match self {
            Weave::Beads(beads) => beads.len() as u32,
            Weave::Side(panel, side) => 2 * layout.kind(*panel).edge(*side),
        }
    }
}
