//! The rules compared with a plain search: which movements can be made on small
//! works, found again from nothing but the planned movements themselves.

use super::*;
use crate::beadwork::project::JobList;
use crate::beadwork::{Closing, JobInfo, Make, Movement, Project, Side, Solid, Step};
use crate::beadwork::{Sequence, testing};
use std::collections::{BTreeSet, HashSet};

fn through(kind: Kind, beads: &[Hole]) -> Fact {
    let stage = Stage::from(Through {
        kind,
        round: None,
        side: None,
        path: Path::Beads(beads.to_vec().into()),
    });
    Fact::Run(Run {
        stage,
        from: 0,
        to: 1,
    })
}

/// Which bead ends lie together: those between which the thread has gone.
/// Thread goes through beads by the front here, for all are worked so.
fn hops(movements: &[Movement]) -> HashSet<(Hole, Hole)> {
    let passes = movements.iter().flat_map(|m| &m.passes);
    let beads: Vec<Bead> = passes.copied().collect();
    let pairs = beads.windows(2).filter(|pair| pair[0] != pair[1]);
    let there: Vec<_> = pairs
        .map(|p| (Hole::front(p[0]), Hole::back(p[1])))
        .collect();
    let back = there.iter().map(|&(from, into)| (into, from));
    there.iter().copied().chain(back).collect()
}

/// Through one bead, anywhere on the work: the rules allow what the thread
/// that is there leads to, and nothing further off than two rounds.
#[test]
fn the_needle_goes_where_thread_lies_and_never_far_off() {
    for (sides, rounds) in [(3, 2), (3, 4), (4, 3), (6, 4)] {
        let sequence = Sequence::new(testing::single(testing::panel(sides, rounds)));
        let movements: Vec<Movement> = sequence.iter().collect();
        let mut allowed = 0;
        // From the closed ring on, up to the end of the thread.
        let first = movements.iter().position(|m| m.kind == Kind::StepUp);
        for done in first.unwrap() + 1..movements.len() - 1 {
            let work = sequence.work_at(Step(done as u32));
            let needle = work.needle().expect("thread is in the work");
            let hops = hops(&movements[..done]);
            for bead in (1..=sequence.layout().beads()).map(Bead) {
                for out in [Hole::front(bead), Hole::back(bead)] {
                    let is_there = hops.contains(&(needle, out.through()));
                    let verdict = work.check(&through(Kind::PassThrough, &[out]));
                    let words = format!("{sides} sides, {done} done, {needle:?} to {out:?}");
                    // Else the bead touches one that the needle's touches.
                    let rounds = [needle.bead, bead].map(|b| sequence.layout().seat(b).round.0);
                    let is_beside = rounds[0].abs_diff(rounds[1]) <= 2;
                    assert!(verdict.is_ok() || !is_there, "{words}: {verdict:?}");
                    assert!(verdict.is_err() || is_beside, "{words}");
                    allowed += u32::from(is_there);
                }
            }
        }
        assert!(allowed > 0, "{sides} sides, {rounds} rounds");
    }
}

/// Steps of all jobs that are work, not weaving, thread and counting.
fn is_work(movement: &Movement) -> bool {
    !matches!(
        movement.kind,
        Kind::StartThread | Kind::EndThread | Kind::PassThrough | Kind::Count
    )
}

fn small_works() -> Vec<Project> {
    vec![
        testing::single(testing::panel(3, 3)),
        testing::single(testing::inward(3, 4, 0)),
        testing::single(testing::strip(3, 5)),
        testing::solid(Solid::Tetrahedron, 2, Closing::SetIn),
        testing::folded_pair(3, 0),
    ]
}

/// Of all steps of the plan, tried on the work at any time, none that is made
/// can be made again, and none that is ahead but the next.
#[test]
fn a_step_of_the_work_can_be_made_only_when_it_is_next() {
    for project in small_works() {
        let sequence = Sequence::new(project);
        let movements: Vec<Movement> = sequence.iter().collect();
        let fact = |step: usize| sequence.work().facts(step as u32, step as u32 + 1).pop();
        let facts: Vec<Fact> = (0..movements.len()).filter_map(fact).collect();
        for done in 0..movements.len() {
            let work = sequence.work_at(Step(done as u32));
            for (nth, fact) in facts.iter().enumerate() {
                let ahead = movements[done..].iter().position(is_work);
                let is_next = ahead.is_some_and(|ahead| done + ahead == nth);
                let is_again = movements[nth].kind == Kind::Fold;
                if is_work(&movements[nth]) && !is_next && !is_again {
                    let movement = &movements[nth];
                    assert!(
                        work.check(fact).is_err(),
                        "{done} done, {movement:?}, {fact:?}"
                    );
                }
            }
        }
    }
}

/// Which jobs can be begun, found from the list of the jobs: those whose panels
/// and rows are made, once the current one is done.
#[test]
fn a_job_can_be_begun_when_what_it_stands_on_is_made() {
    let mut begun = 0;
    for project in small_works() {
        let sequence = Sequence::new(project);
        let movements: Vec<Movement> = sequence.iter().collect();
        let jobs = sequence.jobs();
        let ends = |nth: usize| {
            // A row is done with its last bead, all else with its last stage.
            let is_row = matches!(jobs[nth].kind, JobKind::JoinRow { .. });
            let works = |m: &Movement| match is_row {
                true => !m.strings.is_empty(),
                false => is_work(m) || m.kind == Kind::Count,
            };
            let of_job = |m: &&Movement| m.job.index() == nth && works(m);
            movements.iter().rfind(of_job).map_or(0, |m| m.step.0)
        };
        let ends: Vec<u32> = (0..jobs.len()).map(ends).collect();
        for done in 0..=sequence.steps() {
            let work = sequence.work_at(Step(done));
            let taken_up = work.jobs().len();
            let made = &jobs[..taken_up];
            // Corners that are tied have met, however often thread goes through.
            let is_tied = |job: &&JobInfo| matches!(job.kind, JobKind::Tie(..));
            let is_tied = made.last().filter(is_tied).is_some();
            let is_free = taken_up == 0 || is_tied || ends[taken_up - 1] <= done;
            let panels: BTreeSet<Panel> = made.iter().filter_map(|j| j.kind.makes()).collect();
            let rows = made.iter().flat_map(|job| job.kind.rows_worked());
            let rows: HashSet<Corner> = rows.collect();
            let prepares =
                (taken_up..jobs.len()).any(|nth| work.is_prepared(sequence.goal().order[nth], 0));
            for (nth, job) in jobs.iter().enumerate().skip(taken_up) {
                // The row of a zip is chosen when a side is matched with it.
                let is_zip = !job.kind.joins().is_empty();
                let mut stands = is_zip || job.kind.rows_met().iter().all(|row| rows.contains(row));
                let is_there =
                    |panel: &Panel| panels.contains(panel) || job.kind.makes() == Some(*panel);
                stands &= job.kind.panels().iter().all(is_there);
                let stands =
                    stands && !matches!(job.kind, JobKind::Fill { .. } | JobKind::FirmRim(_));
                if prepares {
                    continue;
                }
                let fact = Fact::Change(Change::Begin(sequence.goal().order[nth]));
                let verdict = work.check(&fact);
                assert_eq!(
                    verdict.is_ok(),
                    is_free && stands,
                    "{done} done, {job:?}: {verdict:?}; last {:?} to {:?}",
                    made.last(),
                    ends.get(taken_up.saturating_sub(1))
                );
                begun += u32::from(stands && is_free);
            }
        }
    }
    assert!(begun > 20, "{begun}");
}

/// Earlier builds went twice through a corner bead of a rim that two sides of one
/// panel share. What was sewn so stays as it was sewn.
#[test]
fn a_rim_reinforced_by_an_earlier_build_stays() {
    let sides = || (0..6).map(Side);
    let jobs = vec![
        JobKind::Panel(Panel(0)),
        JobKind::JoinRow {
            panel: Panel(0),
            sides: sides().collect(),
            tips: 0,
            beads: None,
        },
        JobKind::FirmRim(sides().rev().map(|side| (Panel(0), side)).collect()),
    ];
    let make = Make::Jobs(JobList {
        panels: testing::named(&[("face", 0)]),
        jobs,
        shape: None,
    });
    let seq = Sequence::new(testing::project(vec![testing::panel(6, 4)], make));
    let mut work = seq.work_at(Step(0));
    let mut firmed = 0;
    for mut fact in seq.work().facts(0, seq.steps()) {
        if let Fact::Run(run) = &mut fact
            && let Stage::Through(through) = &mut run.stage
            && let Path::RimWithCorners(rim) = through.path
        {
            through.path = Path::Rim(rim);
            run.to = run.stage.steps(seq.layout());
            firmed = run.to;
        }
        assert_eq!(work.try_play(fact.clone()), Ok(()), "{fact:?}");
        if firmed > 0 {
            break;
        }
    }
    // Twice round 12 up beads and 12 join beads, six of the up beads once more a
    // time: a corner bead is the last of one side and the first of the next.
    assert_eq!(firmed, 2 * (12 + 12 + 6) / 4);
    let last = work
        .current_job()
        .map(|job| work.goal_job(job).unwrap().clone());
    assert_eq!(work.check_done(&last.unwrap()), Ok(()));
}
