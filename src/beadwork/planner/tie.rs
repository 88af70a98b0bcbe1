//! The corner tie: two corners of a folded net drawn together.

use super::{FAR, Planner};
use crate::beadwork::route;
use crate::beadwork::stage::{Path, Steps as _, Still, Through};
use crate::beadwork::work::GoalJob;
use crate::beadwork::{Corner, Hole, Kind, Stage, Step, Work};

impl Planner {
    /// Folds the work and draws two corners together.
    pub(super) fn tie(&mut self, job: GoalJob, from: Corner, to: Corner) {
        let done = self.stages_begun(job);
        // The corners as they were before the fold.
        let before = done.is_some().then(|| {
            let begun = self.work.jobs().last().map_or(0, |job| job.steps_before);
            self.work.at(Step(begun))
        });
        let before = before.as_ref().unwrap_or(&self.work);
        let (there, here) = (before.loop_at(to), before.loop_at(from));
        let at_corner = before.corner_holes(from);
        let done = match done {
            Some(done) => done,
            None => {
                self.go_to_corner(Some(job), &at_corner);
                vec![]
            }
        };
        let draw = |beads: &[Hole]| -> Stage {
            Through::new(Kind::Fold, Path::Beads(beads.to_vec().into())).into()
        };
        if !self.work.is_prepared(job, 0) {
            if done.is_empty() {
                self.go_to_corner(None, &at_corner);
            }
            self.in_turn(vec![Still::fold(None).into()], &done);
            self.prepare(job, 0);
        }
        let loops = vec![draw(&there), draw(&here), draw(&there), draw(&here)];
        let done = done.get(1..).unwrap_or(&[]);
        let is_whole = |(stage, steps): &(Stage, u32)| *steps == stage.steps(self.layout());
        if done.len() < loops.len() && done.last().is_none_or(is_whole) {
            // Not out of the bead that the next loop goes into first.
            let next = [&there, &here][done.len() % 2][0].bead;
            let mut at_corner = self.work.corner_holes(from);
            at_corner.retain(|hole| hole.bead != next);
            self.go_to_corner(None, &at_corner);
        }
        self.in_turn(loops, done);
    }

    /// Takes the needle to a corner at which a job may begin.
    fn go_to_corner(&mut self, begins: Option<GoalJob>, at_corner: &[Hole]) {
        let way = self.seek(&mut self.ways(), |hole| at_corner.contains(&hole));
        let is_reached = way.is_some();
        if !is_reached {
            self.end_thread();
        }
        if let Some(job) = begins {
            self.begin(job);
        }
        match way {
            Some(beads) => self.pass(beads),
            None => self.take_thread_to(at_corner[0]),
        }
    }
}

impl Work {
    /// The shortest loop that goes in at a corner and comes out at it again.
    fn loop_at(&self, corner: Corner) -> Vec<Hole> {
        let holes = self.corner_holes(corner);
        let ways = holes.iter().filter_map(|into| {
            let out = into.through();
            let way = route::shortest(self.touching(), out, FAR, |h| {
                h.bead != into.bead && holes.contains(&h)
            })?;
            Some([vec![out], way].concat())
        });
        ways.min_by_key(Vec::len)
            .unwrap_or_else(|| vec![holes[0].through()])
    }

    /// The ends of edge beads that lie at a corner or at corners that have come
    /// together with it.
    pub(super) fn corner_holes(&self, corner: Corner) -> Vec<Hole> {
        let corners = self.seams.all_at(&corner).iter();
        corners.flat_map(|&c| self.touching().holes_at(c)).collect()
    }
}
