//! The maker's own steps in a pattern, and what is different in single joins.

use super::file::{JoinFile, OwnFile, WholeNumber};
use super::gap_text;
use super::source::Field;
use crate::beadwork::amend::{JoinWhat, OwnStep};
use crate::beadwork::goal::Goal;
use crate::beadwork::job::{JobInfo, JobKind, SideFit};
use crate::beadwork::number::{GoalJob, Job, Side, Step};
use crate::beadwork::own_rounds::MOST_JOIN_BEADS;
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::{JoinDetail, OwnInJob};
use crate::beadwork::{Project, Sequence};
use crate::clean::clean;
use std::collections::HashSet;

fn goal(project: &Project) -> Goal {
    let kinds: Vec<PanelLayout> = project.panels.iter().map(PanelLayout::new).collect();
    Goal::of(project, &kinds)
}

/// Movements of each job that are work: none that begins, ends or weaves thread, and
/// none of the maker's own.
fn movements(project: &Project) -> Vec<u32> {
    let plain = Sequence::new(project.clone());
    let jobs = 0..plain.jobs().len();
    jobs.map(|job| plain.movements_before(Job(job as u16), Step(u32::MAX)))
        .collect()
}

/// Reads the steps. Steps after a job or a movement that the piece does not have are
/// reported.
pub(super) fn read(steps: &[OwnFile], project: &Project, at: Field) -> Vec<OwnInJob> {
    let jobs = goal(project).jobs.len() as u32;
    let is_placed = |step: &OwnFile| step.after_steps.is_some();
    let movements = match steps.iter().any(is_placed) {
        true => movements(project),
        false => vec![],
    };
    let mut own = vec![];
    for (nth, step) in steps.iter().enumerate() {
        if step.after_job.0 > jobs {
            at.entry(nth).key("after_job").refuse(
                format!("the piece has {jobs} jobs, and no job {}", step.after_job.0),
                format!("write a number from 1 to {jobs}"),
            );
        }
        let all = movements.get(step.after_job.0 as usize - 1).copied();
        let after = step.after_steps.map(|after| after.0);
        if let (Some(after), Some(all)) = (after, all)
            && after > all
        {
            at.entry(nth).key("after_steps").refuse(
                format!("job {} has {all} movements", step.after_job.0),
                format!("write a number from 0 to {all}, or take it out for the end of the job"),
            );
        }
        let text = clean(step.text.as_deref().unwrap_or_default());
        own.push(OwnInJob {
            job: GoalJob(step.after_job.0 as u16 - 1),
            after,
            step: OwnStep {
                what: step.what,
                text,
            },
        });
    }
    own
}

/// Reads what is different in single joins. What the planned piece has no room for
/// is reported.
pub(super) fn joins(files: &[JoinFile], project: &Project, at: Field) -> Vec<JoinDetail> {
    let mut project = project.clone();
    // Ways past beads depend on the rows.
    for is_zip in [false, true] {
        let plain = Sequence::new(project.clone());
        for (nth, file) in files.iter().enumerate() {
            let at = at.entry(nth);
            let (number, side) = (file.job.0, Side(file.side.0 as u8 - 1));
            let job = plain.jobs().get(number as usize - 1);
            let is_listed =
                |join: &JoinDetail| (u32::from(join.job.0) + 1, join.side) == (number, side);
            if file.past.is_some() != is_zip {
                continue;
            }
            let read = match (&file.past, &file.gaps) {
                (Some(past), None) => past_beads(past, (&plain, job), (number, side), at),
                (None, Some(gaps)) => row_gaps(gaps, (&plain, job), (number, side), at),
                _ => {
                    at.refuse(
                        "nothing is said of this join, or too much",
                        "give it \"past\", if the job is a zip, or \"gaps\", if it is a row",
                    );
                    None
                }
            };
            if project.joins.iter().any(is_listed) {
                at.refuse(
                    format!("side {side} of job {number} is listed already"),
                    "put all of it into one entry",
                );
            }
            let job = GoalJob(number as u16 - 1);
            project.joins.extend(read.map(|(past, gaps)| JoinDetail {
                job,
                side,
                past,
                gaps,
            }));
        }
    }
    project.joins
}

/// Places that the needle goes past, and gaps of a row.
type ReadJoin = (Vec<u32>, Vec<u8>);

/// The beads of a zip that the needle goes past.
fn past_beads(
    past: &[WholeNumber<1, 10000>],
    (plain, job): (&Sequence, Option<&JobInfo>),
    (number, side): (u32, Side),
    at: Field,
) -> Option<ReadJoin> {
    let zipped = job.map_or(&[][..], |job| job.kind.joins());
    let Some(job) = job.filter(|_| zipped.iter().any(|join| join.side == side)) else {
        let others = zipped.iter().map(|join| join.side);
        not_a_side_of_it(at, "zip", (number, side), others);
        return None;
    };
    let steps = job.steps_before + 1..=job.steps_before + job.steps;
    let ways = steps.flat_map(|step| plain.next_door(Step(step)));
    let ways = ways.filter_map(|way| match way.change.what {
        JoinWhat::NextDoor(place) if way.change.side == side => Some(place),
        _ => None,
    });
    let ways: HashSet<u32> = ways.collect();
    let past: Vec<u32> = past.iter().map(|place| place.0 - 1).collect();
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
    Some((past, vec![]))
}

/// The gaps of a row.
fn row_gaps(
    text: &str,
    (plain, job): (&Sequence, Option<&JobInfo>),
    (number, side): (u32, Side),
    at: Field,
) -> Option<ReadJoin> {
    let worked = job.map_or(vec![], |job| job.kind.rows_worked());
    let Some(&(panel, _)) = worked.iter().find(|(_, on)| *on == side) else {
        not_a_side_of_it(
            at,
            "work a row on",
            (number, side),
            worked.into_iter().map(|(_, on)| on),
        );
        return None;
    };
    let row = plain.layout().row_on(panel, side)?;
    let (gaps, round) = (
        plain.layout().row(row).gaps,
        plain.layout().kind(panel).rounds() + 1,
    );
    let at = at.key("gaps");
    let word = at.accept(gap_text::read(text, round))?;
    let found = word.gaps();
    if found != gaps {
        return at.refused(
            format!("these are {found} gaps, and side {side} has {gaps} between its up beads"),
            format!("give {gaps} numbers"),
        );
    }
    if word.beads() == 0 {
        return at.refused("this row has no bead", "put a bead into at least one gap");
    }
    if word.iter().any(|beads| beads > MOST_JOIN_BEADS) {
        return at.refused(
            "a gap of a join row takes two beads at the most",
            "write 0, 1 or 2 for each gap",
        );
    }
    let mut zips = plain.goal().jobs.iter().flat_map(JobKind::joins);
    if zips.any(|join| (join.onto, join.at, join.fit) == (panel, side, SideFit::OnTheLonger)) {
        return at.refused(
            "a shorter side lies between the beads of this row, one in each gap",
            "take it out",
        );
    }
    Some((vec![], word.iter().collect()))
}

fn not_a_side_of_it(
    at: Field,
    does: &str,
    (number, side): (u32, Side),
    sides: impl Iterator<Item = Side>,
) {
    let others: Vec<String> = sides.map(|side| side.to_string()).collect();
    at.key("side").refuse(
        format!("job {number} does not {does} side {side} of a panel"),
        match others.is_empty() {
            true => "write the number of a job that does, as the overview has it".into(),
            false => format!(
                "write side {}, or the number of another job",
                others.join(" or ")
            ),
        },
    );
}
