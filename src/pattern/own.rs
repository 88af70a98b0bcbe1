//! The maker's own steps in a pattern.

use super::file::{OwnFile, OwnKindFile};
use super::source::Field;
use crate::beadwork::Project;
use crate::beadwork::amend::{OwnStep, OwnStepKind};
use crate::beadwork::goal::Goal;
use crate::beadwork::number::GoalJob;
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::Make;
use crate::clean::clean;

/// The step that slips an insert into the open face, once it is made.
pub(super) fn slip_in(project: &Project) -> Option<(GoalJob, OwnStep)> {
    let Make::Solid { insert, .. } = &project.make else {
        return None;
    };
    let text =
        "slip the insert into the open face, its point inward, until its rim lies in the opening";
    let own = OwnStep {
        what: OwnStepKind::Fit,
        text: text.into(),
    };
    (!insert.is_empty()).then(|| (GoalJob(jobs(project) as u16 - 1), own))
}

fn jobs(project: &Project) -> u32 {
    let kinds: Vec<PanelLayout> = project.panels.iter().map(PanelLayout::new).collect();
    Goal::of(project, &kinds).jobs.len() as u32
}

/// Reads the steps. Steps after a job that the piece does not have are
/// reported.
pub(super) fn read(steps: &[OwnFile], project: &Project, at: Field) -> Vec<(GoalJob, OwnStep)> {
    let jobs = jobs(project);
    let mut own = vec![];
    for (nth, step) in steps.iter().enumerate() {
        if step.after_job.0 > jobs {
            at.entry(nth).key("after_job").refuse(
                format!("the piece has {jobs} jobs, and no job {}", step.after_job.0),
                format!("write a number from 1 to {jobs}"),
            );
        }
        let text = clean(step.text.as_deref().unwrap_or_default());
        let what = match step.what {
            OwnKindFile::Stone => OwnStepKind::Stone,
            OwnKindFile::Join => OwnStepKind::Join,
            OwnKindFile::Fit => OwnStepKind::Fit,
            OwnKindFile::Note => OwnStepKind::Note,
        };
        let job = GoalJob(step.after_job.0 as u16 - 1);
        own.push((job, OwnStep { what, text }));
    }
    own
}
