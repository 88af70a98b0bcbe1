//! Changes of order: which job is next, which panels are made ahead, and which
//! were made before or elsewhere.

use super::{Amendment, MOST_AMENDMENTS};
use crate::beadwork::{Goal, GoalJob, Job, JobKind, Refusal, Sequence, Work};
use std::collections::HashSet;

impl Work {
    /// The place in the order after the jobs that are begun.
    pub(super) fn place_ahead(&self, goal: &Goal) -> usize {
        let ahead = goal.order.iter().position(|job| !self.is_taken_up(*job));
        ahead.unwrap_or(goal.order.len())
    }

    /// Does a job next.
    pub(super) fn bring_forward(&self, goal: &mut Goal, job: GoalJob) -> Result<(), Refusal> {
        Refusal::JobBegun.unless(goal.order.contains(&job))?;
        self.check_next(goal, job)?;
        goal.order.retain(|other| *other != job);
        let ahead = self.place_ahead(goal);
        goal.order.insert(ahead, job);
        goal.tag(job);
        Ok(())
    }

    /// Whether a job of the order may be the next.
    pub(super) fn check_next(&self, goal: &Goal, job: GoalJob) -> Result<(), Refusal> {
        Refusal::JobBegun.when(self.is_taken_up(job))?;
        let kind = &goal[job];
        self.check_ground(kind)?;
        if matches!(
            kind,
            JobKind::Panel(_) | JobKind::JoinRow { .. } | JobKind::Zip(..)
        ) {
            return Ok(());
        }
        // An opening is complete once its corners are tied, and corners can be
        // tied once the panels between them are joined.
        let passed = goal.order.iter().take_while(|other| **other != job);
        let mut passed = passed.filter(|other| !self.is_taken_up(**other));
        let waits = |other: &GoalJob| match kind {
            JobKind::Fill { .. } | JobKind::FirmRim(_) | JobKind::SetIn(..) => {
                matches!(goal[*other], JobKind::Tie(..))
            }
            JobKind::Tie(..) => matches!(goal[*other], JobKind::Zip(..)),
            _ => false,
        };
        Refusal::Untied.when(passed.any(waits))
    }

    /// Several panels to come next, or made already, at once: the same as
    /// [`bring_forward`](Work::bring_forward) one by one. `None` for other
    /// changes, and if one of them is not possible.
    pub(super) fn all_panels_forward(&self, all: &[Amendment]) -> Option<Goal> {
        let mut goal = self.goal_as_begun();
        let mut jobs = Vec::with_capacity(all.len());
        for one in all {
            let (Amendment::Next(job) | Amendment::Made(job)) = *one else {
                return None;
            };
            self.is_panel_ahead(job).then_some(())?;
            jobs.push(job);
            goal.tag(job);
            if matches!(one, Amendment::Made(_)) {
                goal.made.push(job);
            }
        }
        let moved: HashSet<GoalJob> = jobs.iter().copied().collect();
        if moved.len() < jobs.len() || goal.amendments >= MOST_AMENDMENTS {
            return None;
        }
        let before = goal.order.len();
        goal.order.retain(|job| !moved.contains(job));
        if before - goal.order.len() < jobs.len() {
            return None;
        }
        let ahead = self.place_ahead(&goal);
        goal.order.splice(ahead..ahead, jobs.into_iter().rev());
        goal.amendments += 1;
        Some(goal)
    }

    /// Whether a job makes a panel that is not begun.
    pub(super) fn is_panel_ahead(&self, job: GoalJob) -> bool {
        let kind = self.goal().jobs.get(job.index());
        matches!(kind, Some(JobKind::Panel(_))) && !self.is_taken_up(job)
    }

    /// Marks a panel as made already: it comes next.
    pub(super) fn made_already(&self, goal: &mut Goal, job: GoalJob) -> Result<(), Refusal> {
        let kind = goal.jobs.get(job.index()).ok_or(Refusal::NoSuchJob)?;
        Refusal::NoPanel.unless(matches!(kind, JobKind::Panel(_)))?;
        self.bring_forward(goal, job)?;
        goal.made.push(job);
        Ok(())
    }
}

impl Goal {
    /// Adds a tag to the name of a panel that is made ahead, so that it can be
    /// found again in the dish: a number after a sign that is neither a bead's
    /// letter nor a join's.
    fn tag(&mut self, job: GoalJob) {
        if let JobKind::Panel(panel) = self[job] {
            let name = &mut self[panel].name;
            if !name.contains('#') {
                name.push_str(&format!(" #{panel}"));
            }
        }
    }
}

impl Sequence {
    /// Whether a job is a panel that was made before or elsewhere, so that it
    /// has no movements.
    pub fn is_made_already(&self, job: Job) -> bool {
        let (goal, kind) = (self.goal(), &self.job(job).kind);
        goal.made.iter().any(|made| goal[*made] == *kind)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::number::Step;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    /// What is suggested, compared with trying each job: brought forward, and
    /// left out with all jobs that depend on it.
    #[test]
    fn only_jobs_that_can_move_or_be_left_out_are_offered() {
        let closings = [Closing::Fill, Closing::SetIn, Closing::Open];
        for closing in closings {
            for project in [
                testing::ring(8, 3, closing),
                testing::solid(Solid::Octahedron, 3, closing),
                testing::folded_pair(4, 1),
            ] {
                let seq = Sequence::new(project);
                for part in 0..12 {
                    let work = seq.work_at(Step(seq.steps() * part / 12));
                    let goal = work.goal();
                    let ahead = goal.order.iter().filter(|job| !work.is_taken_up(**job));
                    let ahead: Vec<GoalJob> = ahead.copied().collect();
                    let next = ahead.iter().skip(1).filter(|job| {
                        let mut goal = Goal::clone(goal);
                        let moved = work.bring_forward(&mut goal, **job);
                        moved.is_ok() && work.unworkable(&goal).is_none()
                    });
                    let kind = |job: &GoalJob| &goal[*job];
                    let closes = |job: &GoalJob| {
                        use JobKind::{Fill, FirmRim, SetIn, SetInMiddle};
                        let kind = kind(job);
                        matches!(
                            kind,
                            Fill { .. } | FirmRim(_) | SetIn(..) | SetInMiddle { .. }
                        )
                    };
                    let left = ahead.iter().filter(|job| {
                        let mut left = Goal::clone(goal);
                        work.leave_out(&mut left, **job);
                        let mut gone = ahead.iter().filter(|other| !left.order.contains(other));
                        !left.order.is_empty()
                            && gone.all(|other| other == *job || closes(other))
                            && (matches!(kind(job), JobKind::Panel(_)) || closes(job))
                    });
                    let plain: Vec<Amendment> = next
                        .map(|job| Amendment::Next(*job))
                        .chain(left.map(|job| Amendment::LeaveOut(*job)))
                        .collect();
                    let offered = work.amendments().into_iter();
                    let offered: Vec<Amendment> = offered
                        .filter(|one| matches!(one, Amendment::Next(_) | Amendment::LeaveOut(_)))
                        .collect();
                    assert_eq!(offered, plain, "{closing:?}, {part} twelfths");
                }
            }
        }
    }

    /// At once gives the same as one by one.
    #[test]
    fn panels_brought_forward_together_lie_where_single_moves_put_them() {
        let plain = Sequence::new(testing::ring(8, 3, Closing::SetIn));
        for done in [0, plain.steps() / 3, plain.steps() * 2 / 3].map(Step) {
            let offered = plain.amendments(done);
            let sort = |one: &&Amendment| matches!(one, Amendment::Next(_) | Amendment::Made(_));
            let mut seen = 0;
            for one in offered.iter().filter(sort) {
                let Some(Amendment::All(all)) = plain.all_like(done, one) else {
                    continue;
                };
                let work = plain.work_at(done);
                let Some(at_once) = work.all_panels_forward(&all) else {
                    continue;
                };
                let mut one_by_one = work.clone();
                all.iter().for_each(|one| one_by_one.amend(one).unwrap());
                let amendments = one_by_one.goal().amendments;
                let at_once = Goal {
                    amendments,
                    ..at_once
                };
                assert_eq!(at_once, **one_by_one.goal());
                seen += 1;
            }
            assert!(seen > 0);
        }
    }
}
