//! Applies a change to one panel or job, or to all of the same kind.

use super::{Amendment, JoinChange, JoinWhat};
use crate::beadwork::{Goal, GoalJob, JobKind, Sequence, Step, Work};

impl Sequence {
    /// The same change for all of the same kind, this one first; `None` if
    /// there is no other.
    pub fn all_like(&self, done: Step, one: &Amendment) -> Option<Amendment> {
        let mut all = vec![one.clone()];
        all.extend(self.work_at(done).likes(one));
        self.all_of(done, all)
    }

    /// All of these changes that can be made one after another; `None` if at
    /// most one can.
    pub fn all_of(&self, done: Step, mut all: Vec<Amendment>) -> Option<Amendment> {
        let work = self.work_at(done);
        let one = all.first()?.clone();
        // A change that another one rules out is left out.
        match &one {
            // Panels depend on nothing, so any of them can be next.
            Amendment::Next(job) | Amendment::Made(job) if work.is_panel_ahead(*job) => {
                all.retain(|change| change.job().is_some_and(|job| work.is_panel_ahead(job)));
            }
            Amendment::Join(_) if work.all_joins(&all).is_some() => {}
            _ => {
                let mut trial = work;
                all.retain(|change| trial.amend(change).is_ok());
            }
        }
        // The one brought forward last comes first.
        if matches!(one, Amendment::Next(_)) {
            all.reverse();
        }
        (all.len() > 1).then_some(Amendment::All(all))
    }
}

impl Work {
    fn likes(&self, one: &Amendment) -> Vec<Amendment> {
        let goal = self.goal();
        let ahead = || {
            goal.order
                .iter()
                .copied()
                .filter(|job| !self.is_begun(*job))
        };
        let like = |job: GoalJob| {
            let sort = sort_of(goal, job);
            ahead().filter(move |&other| other != job && sort_of(goal, other) == sort)
        };
        match one {
            Amendment::Opening { job, how } => {
                let change = |job| Amendment::Opening { job, how: *how };
                like(*job).map(change).collect()
            }
            Amendment::Made(job) => like(*job).map(Amendment::Made).collect(),
            Amendment::Next(job) if sort_of(goal, *job).0 == 0 => {
                like(*job).map(Amendment::Next).collect()
            }
            Amendment::Join(change) => {
                let all = self.join_changes().into_iter();
                let like = |other: Amendment| match other {
                    Amendment::Join(other) => Some(JoinChange {
                        what: match (change.what, other.what) {
                            // Other rows may allow other numbers.
                            (JoinWhat::Beads(n), JoinWhat::Beads(_)) => JoinWhat::Beads(n),
                            _ => other.what,
                        },
                        ..other
                    }),
                    _ => None,
                };
                let is_like = |other: &JoinChange| other.what == change.what && other != change;
                let mut all: Vec<JoinChange> = all.filter_map(like).filter(is_like).collect();
                all.dedup();
                all.into_iter().map(Amendment::Join).collect()
            }
            _ => vec![],
        }
    }
}

/// What makes jobs alike: the kind of job, the kind of panel that it makes, and
/// the number of open rounds.
fn sort_of(goal: &Goal, job: GoalJob) -> (u8, Option<usize>, Option<u32>) {
    let kind = &goal[job];
    let panel = &goal[kind.panel()];
    let sort = match kind {
        JobKind::Panel(_) => 0,
        JobKind::SetIn(..) | JobKind::SetInMiddle { .. } => 1,
        JobKind::Fill { .. } => 2,
        JobKind::FirmRim(_) => return (3, None, None),
        JobKind::JoinRow { .. } => 4,
        JobKind::Zip(..) => 5,
        JobKind::Tie(..) => 6,
        JobKind::Reinforce(..) => 7,
    };
    (sort, Some(panel.spec), panel.open)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    #[test]
    fn joins_changed_together_equal_joins_changed_one_by_one() {
        let mut seen = 0;
        for project in [
            testing::ring(8, 3, Closing::SetIn),
            testing::solid(Solid::Octahedron, 4, Closing::Open),
        ] {
            let plain = Sequence::new(project);
            for done in [0, plain.steps() / 3, plain.steps() * 2 / 3].map(Step) {
                let offered = plain.amendments(done).into_iter();
                let joins = offered.filter(|one| matches!(one, Amendment::Join(_)));
                for one in joins.step_by(13) {
                    let work = plain.work_at(done);
                    let mut one_by_one = work.clone();
                    let mut all = vec![one.clone()];
                    all.extend(work.likes(&one));
                    all.retain(|change| one_by_one.amend(change).is_ok());
                    let found = plain.all_like(done, &one);
                    assert_eq!(found, (all.len() > 1).then(|| Amendment::All(all.clone())));
                    if let Some(at_once) = work.all_joins(&all) {
                        assert_eq!(at_once, **one_by_one.goal());
                        seen += usize::from(all.len() > 1);
                    }
                }
            }
        }
        assert!(seen > 3, "{seen}");
    }
}
