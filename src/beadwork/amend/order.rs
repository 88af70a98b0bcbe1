//! Changes of order: which job is next, which panels are made ahead, and which
//! lie on the mat already, made before or elsewhere.

use crate::beadwork::goal::Goal;
use crate::beadwork::job::JobKind;
use crate::beadwork::number::{GoalJob, Job};
use crate::beadwork::rules::Refusal;
use crate::beadwork::sequence::Sequence;
use crate::beadwork::work::Work;

impl Work {
    /// Jobs begun come first in the order; this is the place behind them.
    pub(super) fn place_ahead(&self, goal: &Goal) -> usize {
        let ahead = goal.order.iter().position(|job| !self.is_taken_up(*job));
        ahead.unwrap_or(goal.order.len())
    }

    /// A job comes next.
    pub(super) fn bring_forward(&self, goal: &mut Goal, job: GoalJob) -> Result<(), Refusal> {
        if self.is_taken_up(job) || !goal.order.contains(&job) {
            return Err(Refusal::JobBegun);
        }
        let kind = &goal.jobs[job.index()];
        self.check_ground(kind)?;
        // An opening is whole once its corners are tied, and corners are tied
        // once the panels between them are joined.
        let passed = goal.order.iter().take_while(|other| **other != job);
        let mut passed = passed.filter(|other| !self.is_taken_up(**other));
        let waits = |other: &GoalJob| match kind {
            JobKind::Fill { .. } | JobKind::FirmRim(_) | JobKind::SetIn(..) => {
                matches!(goal.jobs[other.index()], JobKind::Tie(..))
            }
            JobKind::Tie(..) => matches!(goal.jobs[other.index()], JobKind::Zip(..)),
            _ => false,
        };
        if passed.any(waits) {
            return Err(Refusal::Untied);
        }
        goal.order.retain(|other| *other != job);
        let ahead = self.place_ahead(goal);
        goal.order.insert(ahead, job);
        goal.tag(job);
        Ok(())
    }

    /// A panel is made already: it comes next, as it was made.
    pub(super) fn made_already(&self, goal: &mut Goal, job: GoalJob) -> Result<(), Refusal> {
        let kind = goal.jobs.get(job.index()).ok_or(Refusal::NoSuchJob)?;
        if !matches!(kind, JobKind::Panel(_)) {
            return Err(Refusal::NoPanel);
        }
        self.bring_forward(goal, job)?;
        goal.made.push(job);
        Ok(())
    }
}

impl Goal {
    /// Gives a panel that is made ahead a tag in its name, so that it is found
    /// again in the dish: a number behind a sign that is neither a bead's letter
    /// nor a join's.
    fn tag(&mut self, job: GoalJob) {
        if let JobKind::Panel(panel) = self.jobs[job.index()] {
            let name = &mut self.panels[panel.index()].name;
            if !name.contains('#') {
                name.push_str(&format!(" #{panel}"));
            }
        }
    }
}

impl Sequence {
    /// Whether a job is a panel that was made before or elsewhere, so that no
    /// movement of it is to be made.
    pub fn is_made_already(&self, job: Job) -> bool {
        let (goal, kind) = (self.goal(), &self.job(job).kind);
        goal.made
            .iter()
            .any(|made| goal.jobs[made.index()] == *kind)
    }
}
