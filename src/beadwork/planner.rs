//! The planner: from the work as it lies and a goal to the movements that
//! lead there.
//!
//! It carries out the goal's jobs one after another on the work: it leaves those
//! that are done, and continues the one that is begun, wherever the needle is.
//! It weaves the needle to where the next stage must start, and starts new
//! thread where the old one is used up or does not reach.

mod corner_way;
mod join;
mod needle;
mod panel;
mod thread;
mod tie;
mod weave;

use super::goal::{AtNeedle, Insert};
use super::number::NumberMap;
use super::stage::{Own, Steps};
use super::work::GoalJob;
use super::{Begin, Change, Goal, Hole, JobKind, Layout, Run, SpecIndex, Stage, Work};
use std::cell::Cell;
use std::ops::Range;

/// Holes looked at before a way is given up as too far; new thread is then
/// the better way.
const FAR: usize = 4_000;

/// Holes looked at for all the ways of a piece. A piece of many hundreds of
/// panels has a long way from each to the next, and would be long in opening;
/// beyond this only ways near at hand are sought.
const ALL_WAYS: usize = 600_000;

/// Holes looked at for a way near at hand.
const NEAR: usize = 100;

/// How a piece is planned: pieces that were planned by an older rule once are
/// sewn as they were planned. Each rule has what the one before it lacks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum PlanRule {
    /// The corners of a fill go through the beads next to the rim, be they of the
    /// solid across the hinge.
    AcrossHinge,
    /// They go through beads of the solid that the fill closes.
    PastTips,
    /// A zip goes through the tip beads that it meets.
    ShortEnds,
    /// An end of thread is woven in so that it cannot slide.
    #[default]
    Current,
}

/// The work, and what the planner knows besides.
pub(super) struct Planner {
    work: Work,
    plan_rule: PlanRule,
    /// Holes looked at so far.
    looked_at: Cell<usize>,
    /// In which spans each kind of panel was made the first time, by how it is begun
    /// and the rounds that stay open in it. So a piece with many equal panels is
    /// planned in the time of one.
    made: NumberMap<(SpecIndex, Begin, u32), Range<usize>>,
    ends: weave::WovenEnds,
}

/// Plans the rest: the work as it will be when all jobs of its goal are done.
pub(super) fn plan(work: Work, plan_rule: PlanRule) -> Work {
    let goal = work.goal().clone();
    let panels = goal.panels.iter();
    let beads = panels
        .map(|panel| work.layout.kind_of(panel.spec).beads() as usize)
        .sum();
    let mut planner = Planner {
        work,
        plan_rule,
        looked_at: Cell::new(0),
        made: NumberMap::default(),
        ends: weave::WovenEnds::of_beads(beads),
    };
    planner.at_the_needle(&goal);
    let left_out = planner.work.left_out();
    let mut order = planner.work.order();
    order.retain(|job| !left_out.contains(job) || planner.work.is_taken_up(*job));
    for job in order {
        planner.carry_out(job, &goal[job]);
    }
    planner.end_thread();
    planner.work
}

impl Planner {
    /// What the maker wants at the needle before all else. A thread ends only
    /// where it was to end.
    fn at_the_needle(&mut self, goal: &Goal) {
        let done = self.work.steps();
        for (step, what) in goal.here.iter().filter(|(step, _)| *step >= done) {
            match what {
                AtNeedle::Own(own) if !self.work.jobs().is_empty() => self.push(Own(own.clone())),
                AtNeedle::EndThread if *step == self.work.steps() => self.end_thread(),
                AtNeedle::SewThrough(to) if *step == self.work.steps() => {
                    self.pass(self.work.way_through(*to).unwrap_or_default());
                }
                _ => {}
            }
        }
    }

    fn carry_out(&mut self, nth: GoalJob, job: &JobKind) {
        if self.work.is_behind(nth) {
            return;
        }
        self.work_on(nth, job);
        self.own_steps(nth);
    }

    /// Steps with which a job ends and that string nothing, if they are not done. An
    /// insert is slipped in when its last end is woven in.
    fn own_steps(&mut self, nth: GoalJob) {
        let goal = self.work.goal().clone();
        let ends_with = |insert: &&Insert| insert.jobs.last() == Some(&nth);
        for insert in goal.inserts.iter().filter(ends_with) {
            let stage = Stage::Own(Own(insert.slip_in.clone()));
            if !self.work.runs_of_last_job().any(|run| run.stage == stage) {
                self.end_thread();
                self.push(stage);
            }
        }
        for (_, own) in self.own_to_come(nth) {
            self.push(own);
        }
    }

    /// The steps of the maker's own in a job that are not done, each with the
    /// movements of the job before it.
    fn own_to_come(&self, nth: GoalJob) -> Vec<(Option<u32>, Own)> {
        let own = &self.work.layout.project().own;
        let mut done: Vec<&Own> = match own.is_empty() {
            true => vec![],
            false => (self.work.runs_of_last_job())
                .filter_map(|run| match &run.stage {
                    Stage::Own(own) => Some(own),
                    _ => None,
                })
                .collect(),
        };
        let mut to_come = vec![];
        for own in own.iter().filter(|own| own.job == nth) {
            let step = Own(own.step.clone());
            match done.iter().position(|done| **done == step) {
                Some(at) => {
                    done.remove(at);
                }
                None => to_come.push((own.after, step)),
            }
        }
        to_come.sort_by_key(|(after, _)| after.unwrap_or(u32::MAX));
        to_come
    }

    /// Adds movements of a stage, and the steps of the maker's own among them.
    fn run(&mut self, stage: Stage, mut from: u32, to: u32) {
        let job = self.work.current_job().filter(|_| stage.is_work());
        let to_come = job.map_or(vec![], |job| self.own_to_come(job));
        let done: u32 = match to_come.is_empty() {
            true => 0,
            false => (self.work.runs_of_last_job())
                .filter(|run| run.stage.is_work())
                .map(|run| run.to - run.from)
                .sum(),
        };
        let first = from;
        for (after, own) in to_come {
            let at = after.and_then(|after| after.checked_sub(done));
            let Some(at) = at
                .map(|at| at + first)
                .filter(|at| (from..=to).contains(at))
            else {
                continue;
            };
            if at > from {
                let stage = stage.clone();
                self.work.run(Run {
                    stage,
                    from,
                    to: at,
                });
                from = at;
            }
            let own = Stage::Own(own);
            self.work.run(Run {
                stage: own,
                from: 0,
                to: 1,
            });
        }
        if to > from {
            self.work.run(Run { stage, from, to });
        }
    }

    fn work_on(&mut self, nth: GoalJob, job: &JobKind) {
        match job {
            JobKind::Panel(panel) => self.panel(nth, *panel),
            JobKind::JoinRow { panel, sides, .. } => self.row(nth, (*panel, sides)),
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                self.zip(nth, *panel, joins);
            }
            JobKind::SetInMiddle { panel, around } => self.set_in_middle(nth, *panel, *around),
            JobKind::Fill { panel, rim } => self.fill(nth, *panel, rim),
            JobKind::FirmRim(rim) => self.firm_rim(nth, rim),
            JobKind::Reinforce(panel, side) => self.reinforce(nth, (*panel, *side)),
            JobKind::Tie(from, to) => self.tie(nth, *from, *to),
        }
    }

    fn layout(&self) -> &Layout {
        &self.work.layout
    }

    fn begin(&mut self, job: GoalJob) {
        self.work.change(Change::Begin(job));
    }

    fn prepare(&mut self, job: GoalJob, part: u16) {
        self.prepare_corners(job, part, vec![]);
    }

    fn prepare_corners(&mut self, job: GoalJob, part: u16, corners: Vec<Vec<Hole>>) {
        if !self.work.is_prepared(job, part) {
            self.work.change(Change::Prepare { job, part, corners });
        }
    }

    /// The stages of a job that are begun, each with its steps done, if the job is
    /// begun. Weaving and thread are left out.
    fn stages_begun(&self, job: GoalJob) -> Option<Vec<(Stage, u32)>> {
        if !self.work.is_begun(job) {
            return None;
        }
        let mut stages: Vec<(Stage, u32)> = vec![];
        for run in self.work.runs_of_last_job() {
            let Run { stage, from, to } = run;
            match stages.last_mut() {
                _ if !stage.is_work() => {}
                Some((last, done)) if *from > 0 && last == stage && done == from => *done = *to,
                _ => stages.push((stage.clone(), *to)),
            }
        }
        Some(stages)
    }

    /// The same of a job that is begun where the needle leaves `first`, if it is not
    /// begun yet.
    fn stages_begun_at(&mut self, job: GoalJob, first: Hole) -> Vec<(Stage, u32)> {
        self.stages_begun(job).unwrap_or_else(|| {
            self.begin_at(job, first);
            vec![]
        })
    }

    /// Works stages one after another: goes on with the one that is begun, and
    /// leaves out those that are done.
    fn in_turn(&mut self, stages: Vec<Stage>, done: &[(Stage, u32)]) {
        let mut next = 0;
        let mut begun = None;
        for (stage, steps) in done {
            // What is no longer planned, such as the rim of a middle that is now
            // to be closed, stays as it is.
            let at = stages[next..].iter().position(|s| s == stage);
            begun = at.map(|_| (stage.clone(), *steps));
            next += at.map_or(0, |at| at + 1);
        }
        if let Some((stage, steps)) = begun {
            self.go_on(stage, steps);
        }
        for (nth, stage) in stages.into_iter().skip(next).enumerate() {
            if nth == 0 {
                self.go_on(stage, 0);
            } else {
                self.push(stage);
            }
        }
    }

    /// Goes on with a stage of which `done` steps are made.
    fn go_on(&mut self, stage: Stage, done: u32) {
        if done > 0 && done == stage.steps(self.layout()) {
            return;
        }
        let needle = match done.checked_sub(1) {
            Some(before) => stage.leaves(self.layout(), before),
            None => self.work.start_of(&stage),
        };
        // The next of separate strips has a thread of its own.
        let is_whole = stage.strip_ends(self.layout()).contains(&done);
        if let (Some(hole), false) = (needle, is_whole) {
            self.weave_to(hole);
        }
        self.push_from(stage, done);
    }
}

#[cfg(test)]
mod tests;
