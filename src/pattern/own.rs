//! The maker's own steps in a pattern, and what is different in single joins.

use super::file::{JoinFile, OwnFile, OwnKindFile};
use super::make::INSERT_FACES;
use super::source::Field;
use crate::beadwork::amend::{JoinWhat, OwnStep, OwnStepKind};
use crate::beadwork::goal::Goal;
use crate::beadwork::job::JobKind;
use crate::beadwork::number::{GoalJob, Panel, Side, Step};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::JoinDetail;
use crate::beadwork::{Project, Sequence};
use crate::clean::clean;
use std::collections::HashSet;

/// The steps that slip inserts into the open faces, each once it is made.
pub(super) fn slip_in(project: &Project) -> Vec<(GoalJob, OwnStep)> {
    let goal = goal(project);
    let is_open = |job: &&JobKind| matches!(job, JobKind::FirmRim(_));
    let open = match project.insert.is_empty() {
        true => 0,
        false => goal.jobs.iter().filter(is_open).count(),
    };
    let first = goal.panels.len() - INSERT_FACES * open;
    let begun = |nth: usize| {
        let panel = Panel((first + INSERT_FACES * nth) as u16);
        goal.jobs.iter().position(|job| job.makes() == Some(panel))
    };
    let slip_in = |nth: usize| {
        let (insert, which) = match open {
            1 => ("the insert".to_string(), "the open face".to_string()),
            _ => (
                format!("insert {}", nth + 1),
                format!("open face {}", nth + 1),
            ),
        };
        let text = format!(
            "slip {insert} into {which}, its point inward, until its rim lies in the opening"
        );
        let what = OwnStepKind::Fit;
        let last = begun(nth + 1).unwrap_or(goal.jobs.len()) - 1;
        (GoalJob(last as u16), OwnStep { what, text })
    };
    (0..open).map(slip_in).collect()
}

fn goal(project: &Project) -> Goal {
    let kinds: Vec<PanelLayout> = project.panels.iter().map(PanelLayout::new).collect();
    Goal::of(project, &kinds)
}

/// Reads the steps. Steps after a job that the piece does not have are
/// reported.
pub(super) fn read(steps: &[OwnFile], project: &Project, at: Field) -> Vec<(GoalJob, OwnStep)> {
    let jobs = goal(project).jobs.len() as u32;
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

/// Reads what is different in single joins. What the planned piece has no room for
/// is reported.
pub(super) fn joins(files: &[JoinFile], project: &Project, at: Field) -> Vec<JoinDetail> {
    let plain = Sequence::new(project.clone());
    let mut joins: Vec<JoinDetail> = vec![];
    for (nth, file) in files.iter().enumerate() {
        let at = at.entry(nth);
        let (number, side) = (file.job.0, Side(file.side.0 as u8 - 1));
        let job = plain.jobs().get(number as usize - 1);
        let zipped = job.map_or(&[][..], |job| job.kind.joins());
        let Some(job) = job.filter(|_| zipped.iter().any(|join| join.side == side)) else {
            let others: Vec<String> = zipped.iter().map(|join| join.side.to_string()).collect();
            at.key("side").refuse(
                format!("job {number} does not zip side {side} of a panel"),
                match others.is_empty() {
                    true => {
                        "write the number of the job that zips it, as the overview has it".into()
                    }
                    false => format!("name a side that it zips: {}", others.join(" or ")),
                },
            );
            continue;
        };
        let steps = job.steps_before + 1..=job.steps_before + job.steps;
        let ways = steps.flat_map(|step| plain.next_door(Step(step)));
        let ways = ways.filter_map(|way| match way.change.what {
            JoinWhat::NextDoor(place) if way.change.side == side => Some(place),
            _ => None,
        });
        let ways: HashSet<u32> = ways.collect();
        let past: Vec<u32> = file.past.iter().map(|place| place.0 - 1).collect();
        for (nth, place) in past.iter().enumerate() {
            let at = at.key("past");
            let at = at.entry(nth);
            if !ways.contains(place) {
                at.refuse(
                    format!(
                        "no single bead next door leads past bead {} of this join",
                        place + 1
                    ),
                    "take it out, or name another bead of the join",
                );
            } else if past[..nth].iter().any(|other| other.abs_diff(*place) <= 2) {
                at.refuse(
                    "the needle goes past a bead beside this one already, so the sides would lie open there",
                    "let the numbers be 3 or more apart",
                );
            }
        }
        let job = GoalJob(number as u16 - 1);
        if joins
            .iter()
            .any(|join| (join.job, join.side) == (job, side))
        {
            at.refuse(
                format!("side {side} of job {number} is listed already"),
                "put all of \"past\" into one entry",
            );
        }
        joins.push(JoinDetail { job, side, past });
    }
    joins
}
