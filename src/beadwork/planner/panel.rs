//! Panels: made separately, or filled into an opening.

use super::Planner;
use crate::beadwork::stage::Own;
use crate::beadwork::work::GoalJob;
use crate::beadwork::{Corner, Panel, Stage};

impl Planner {
    /// Makes a panel separately, with its own thread.
    pub(super) fn panel(&mut self, job: GoalJob, panel: Panel) {
        self.make(job, panel);
        // The thread of a panel that was made ahead is ended.
        if self.work.goal().made.contains(&job) {
            self.end_thread();
        }
    }

    fn make(&mut self, job: GoalJob, panel: Panel) {
        if let Some(done) = self.stages_begun(job) {
            if done.is_empty() && !self.work.has_fresh_thread() {
                self.end_thread();
                self.take_thread(vec![]);
            }
            self.in_turn(self.stages_with_stone(panel), &done);
            return;
        }
        self.end_thread();
        self.begin(job);
        let spec = self.layout().panel(panel).spec;
        let making = self.layout().making(panel);
        let known = (spec, making.begin, making.open);
        let own = &self.layout().project().own;
        // Steps of the maker's own among its rounds are made for it alone.
        let is_alone = own.iter().any(|own| own.job == job && own.after.is_some());
        if let Some(like) = self.made.get(&known).filter(|_| !is_alone) {
            self.work.repeat(like.clone(), panel);
            return;
        }
        let before = self.work.spans().len();
        self.take_thread(vec![]);
        let thread = self.work.thread_choice();
        self.in_turn(self.stages_with_stone(panel), &[]);
        // With a different thread the next one is not made in the same steps.
        if thread == self.work.goal().thread_to_come() && !is_alone {
            self.made.insert(known, before..self.work.spans().len());
        }
    }

    /// Fills the opening that a rim surrounds.
    pub(super) fn fill(&mut self, job: GoalJob, panel: Panel, rim: &[Corner]) {
        self.prepare(job, 0);
        if !self.work.is_prepared(job, 1) {
            let corners = self.corner_ways(self.layout().panel(panel).spec, rim);
            self.prepare_corners(job, 1, corners);
        }
        let first = self.work.start_of(&self.work.stages(panel)[0]);
        let first = first.expect("a rim has corners, and each a bead");
        let done = self.stages_begun_at(job, first);
        self.in_turn(self.stages_with_stone(panel), &done);
    }

    /// The stages of a panel; a stone that is not set yet is set before its
    /// round.
    fn stages_with_stone(&self, panel: Panel) -> Vec<Stage> {
        let mut stages = self.work.stages(panel);
        let Some(stone) = self.work.goal()[panel].stone else {
            return stages;
        };
        let own = Stage::Own(Own(stone.own_step()));
        let is_set = self.work.runs_of_last_job().any(|run| run.stage == own);
        let later = |stage: &Stage| match stage {
            Stage::Rounds(round) => round.on <= stone.behind,
            Stage::Through(_) => true,
            _ => false,
        };
        if let (false, Some(at)) = (is_set, stages.iter().position(later)) {
            stages.insert(at, own);
        }
        stages
    }
}
