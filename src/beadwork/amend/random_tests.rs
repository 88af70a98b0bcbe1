//! Random amendments of every kind, at random steps of random pieces.

use super::as_stitched::Restated;
use super::{Amendment, JoinWhat, OpeningEnd, OwnStep, OwnStepKind, SidesJoined};
use crate::beadwork::planner::PlanRule;
use crate::beadwork::record::{Record, Undone};
use crate::beadwork::testing;
use crate::beadwork::verify::{Fault, verify};
use crate::beadwork::{
    Bead, Closing, Goal, GoalJob, Make, Movement, Panel, Project, Sequence, Side, Solid, Step,
};
use std::collections::{BTreeMap, BTreeSet};

/// Random numbers from a seed: xorshift.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 33) as usize % n.max(1)
    }

    fn of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }
}

/// A piece of each shape in turn.
fn a_piece(nth: usize, dice: &mut Dice) -> Project {
    use Closing::{Fill, Open, SetIn};
    let rounds = 3 + dice.below(4) as u32;
    let closing = *dice.of(&[Fill, Open, SetIn]);
    match nth % 7 {
        0 => {
            let closings = [closing, *dice.of(&[Fill, Open, SetIn])];
            let closings = closings.map(|c| (usize::from(c == Fill), c));
            let make = Make::FoldedPair {
                faces: vec![0],
                closings,
                tips: dice.below(3) as u8,
            };
            let panels = vec![testing::panel(3, rounds), testing::inward(3, rounds, 0)];
            testing::project(panels, make)
        }
        1 if dice.below(2) == 0 => testing::with_insert(Solid::Tetrahedron, rounds, 2),
        1 => testing::solid(Solid::Tetrahedron, rounds, closing),
        2 => testing::solid(Solid::Octahedron, 3, closing),
        3 => testing::listed_tetrahedron(rounds),
        4 => testing::ring(8, 3, closing),
        6 => testing::single(testing::strip(rounds, 12)),
        _ => testing::free_triangle(),
    }
}

fn assert_proved(sequence: &Sequence, words: &str) {
    let layout = sequence.layout();
    let project = layout.project();
    let size = |bead| project.beads[usize::from(sequence.colour_as_made(bead).0)].size;
    let (goal, jobs) = (sequence.goal(), sequence.jobs());
    let places = sequence.work().bead_places();
    let mut beads = (1..=layout.beads()).map(Bead);
    assert!(beads.all(|bead| places.bead(bead).is_finite()), "{words}");
    let report = verify(project, goal, jobs, sequence.iter_as_made(), size);
    let mut findings = report.findings.iter();
    let found = findings.find(|finding| !fills_a_hole(goal, &finding.fault));
    assert_eq!(found, None, "{words}");
}

/// Whether a fault is a full hole in a piece for which the maker took thread and
/// needle that fill the holes of its beads.
pub(super) fn fills_a_hole(goal: &Goal, fault: &Fault) -> bool {
    let mut threads = goal.threads.iter();
    let is_thick =
        threads.any(|choice| choice.thread.diameter_mm > 0.15 || choice.needle.diameter_mm > 0.36);
    is_thick && matches!(fault, Fault::Blocked { .. })
}

/// An amendment that is suggested, or one that asks for more.
fn a_change(
    dice: &mut Dice,
    sequence: &Sequence,
    done: Step,
    made: &BTreeMap<String, u32>,
) -> Option<Amendment> {
    let mut offered = sequence.amendments(done);
    let ahead = (1..8).map(|n| Step(done.0 + n));
    let next_door = ahead.flat_map(|step| sequence.next_door(step));
    offered.extend(next_door.map(|way| Amendment::Join(way.change)));
    let jobs = sequence.goal().jobs.len();
    match dice.below(14) {
        0 => Some(Amendment::Own(OwnStep {
            what: dice.of(&OwnStepKind::ALL).0,
            text: "as drawn".into(),
        })),
        1 => Some(Amendment::Opening {
            job: GoalJob(dice.below(jobs) as u16),
            how: OpeningEnd::Stone {
                kind: dice.below(2),
                tenths: 10 + dice.below(80) as u32,
                in_time: true,
            },
        }),
        2 => {
            let one = offered.get(dice.below(offered.len()))?;
            Some(sequence.all_like(done, one).unwrap_or(one.clone()))
        }
        3 => {
            let strung = sequence.strung_after(done);
            Some(Amendment::SewThrough(Bead(
                1 + dice.below(strung as usize) as u32,
            )))
        }
        4 | 5 => sequence.corner_marked(Step(done.0 + 1)).ok(),
        6 if sequence.goal().panels.len() > 1 => {
            let panels = sequence.goal().panels.len() as u16;
            let onto = *dice.of(&[0, panels - 2]);
            let ways = sequence.ways_to_join(a_join(dice, panels - 1, onto));
            Some(dice.of(&ways).clone())
        }
        7 => {
            let corners = dice.of(&[&[2][..], &[1, 0], &[1, 0, 2]]).to_vec();
            let law = sequence.law_ahead(done).unwrap_or(corners);
            sequence.by_law(done, &law, 1 + dice.below(3) as u32).ok()
        }
        // The kind that came up least often.
        _ => {
            let kinds: BTreeSet<String> = offered.iter().map(kind_of).collect();
            let kind = kinds.into_iter().min_by_key(|kind| made.get(kind))?;
            offered.retain(|change| kind_of(change) == kind);
            offered.get(dice.below(offered.len())).cloned()
        }
    }
}

/// A gap near the needle is corrected, or a bead is broken out of it.
fn as_stitched(
    dice: &mut Dice,
    sequence: &Sequence,
    done: u32,
) -> Option<(&'static str, Restated)> {
    let (done, at) = (Step(done), (done + 1).saturating_sub(dice.below(40) as u32));
    let at = Step(at);
    if dice.below(2) == 0 {
        let is_noted = sequence.is_one_too_many(at);
        let found = sequence.break_out(done, at, is_noted).ok()?;
        return Some(("BreakOut", found));
    }
    let beads = dice.below(4) as u8;
    let found = sequence.as_stitched(done, at, beads, None).ok()?;
    Some(("AsStitched", found))
}

/// A side of a panel joined to one of another.
fn a_join(dice: &mut Dice, panel: u16, onto: u16) -> SidesJoined {
    let mut side = || Side(dice.below(3) as u8);
    SidesJoined {
        panel: Panel(panel),
        side: side(),
        onto: Panel(onto),
        at: side(),
        fit: None,
    }
}

/// Two triangles worked without a plan, with marked corners: their sides can be
/// joined.
fn two_triangles(sequence: &mut Sequence, record: &mut Record) {
    let corners = testing::its_corners;
    for change in [corners(0), Amendment::Another(0), corners(1)] {
        let (from, to) = (record.steps(), sequence.steps());
        record.play(&sequence.work().facts(from, to), to);
        *sequence = sequence.amended(Step(to), &change).unwrap();
        record.amend(change);
    }
}

fn a_ring_of_another_size(sequence: &Sequence, done: Step) -> Option<Amendment> {
    let mut offered = sequence.amendments(done).into_iter();
    offered.find(|change| matches!(change, Amendment::Tetrahedra(_)))
}

/// What was sewn until a step, without what later amendments may change: the
/// number of beads of the current round, and the sides of a panel with marked
/// corners.
fn sewn(sequence: &Sequence, until: u32) -> impl Iterator<Item = Movement> {
    let sewn = sequence.iter().take(until as usize);
    sewn.map(|movement| Movement {
        round_target: 0,
        side: None,
        ..movement
    })
}

fn kind_of(amendment: &Amendment) -> String {
    if let Amendment::All(all) = amendment {
        let mut fits = all.iter().filter_map(|change| match change {
            Amendment::Join(change) => match change.what {
                JoinWhat::Fit(fit) => Some(format!("{fit:?}")),
                _ => None,
            },
            _ => None,
        });
        if let Some(fit) = fits.next_back() {
            return fit;
        }
    }
    if let Amendment::Join(change) = amendment
        && let JoinWhat::NextDoor(_) = change.what
    {
        return "NextDoor".into();
    }
    let words = format!("{amendment:?}");
    let end = words.find(['(', ' ']).unwrap_or(words.len());
    words[..end].into()
}

#[test]
fn any_change_at_any_step_is_proved_undone_and_comes_back() {
    let seed: Option<u64> = std::env::var("SEED").ok().and_then(|s| s.parse().ok());
    let mut dice = Dice(seed.unwrap_or(4));
    let mut made: BTreeMap<String, u32> = BTreeMap::new();
    for nth in 0..49 {
        let project = a_piece(nth, &mut dice);
        let mut sequence = Sequence::new(project.clone());
        let mut record = Record::default();
        let mut before: Vec<(Record, Sequence)> = vec![];
        if nth % 14 == 5 {
            two_triangles(&mut sequence, &mut record);
        }
        for _ in 0..8 {
            // Forward, or back, to any step.
            let (from, mut to) = (record.steps(), sequence.steps());
            if dice.below(4) > 0 {
                to = dice.below(to as usize + 1) as u32;
            }
            match to > from {
                true => record.play(&sequence.work().facts(from, to), to),
                false => record.back_to(to),
            }
            if dice.below(2) == 0
                && let Some((what, found)) = as_stitched(&mut dice, &sequence, to)
            {
                let words = format!("piece {nth}, step {to}: {what}");
                *made.entry(what.into()).or_default() += 1;
                assert_proved(&found.sequence, &words);
                let was = record.clone();
                record.restate(found.after, &found.made, found.step);
                let mut undone = record.clone();
                assert_eq!(undone.undo(), Some(Undone::Restated), "{words}");
                assert_eq!(undone, was, "{words}: undone");
                let resumed = Sequence::resume(project.clone(), &[], &record, PlanRule::default());
                assert_eq!(resumed.refused, None, "{words}");
                let again = resumed.sequence.iter_as_made();
                assert!(again.eq(found.sequence.iter_as_made()), "{words}");
                (sequence, to) = (found.sequence, found.step);
            }
            let amendment = match before.is_empty() {
                true if nth % 14 == 5 => Some(Amendment::JoinSides(a_join(&mut dice, 1, 0))),
                true if nth % 14 == 12 => sequence.corner_marked(Step(to + 1)).ok(),
                // Only the first amendment can change the size of a ring.
                true => a_ring_of_another_size(&sequence, Step(to)),
                false => None,
            };
            let amendment = amendment.or_else(|| a_change(&mut dice, &sequence, Step(to), &made));
            let Some(amendment) = amendment else {
                continue;
            };
            let words = format!("piece {nth}, step {to}: {}", amendment.say(&sequence));
            let amended = match sequence.amended(Step(to), &amendment) {
                Ok(amended) => amended,
                Err(refusal) => {
                    assert!(!refusal.to_string().is_empty());
                    continue;
                }
            };
            *made.entry(kind_of(&amendment)).or_default() += 1;
            assert_proved(&amended, &words);
            assert!(
                sewn(&amended, to).eq(sewn(&sequence, to)),
                "{words}: what is sewn stays"
            );
            let old = (record.clone(), sequence.clone());
            record.amend(amendment.clone());
            let resumed = Sequence::resume(project.clone(), &[], &record, PlanRule::default());
            assert_eq!(resumed.refused, None, "{words}");
            let again = resumed.sequence;
            assert!(
                again.iter_as_made().eq(amended.iter_as_made()),
                "{words}: comes back"
            );
            let mut undone = record.clone();
            assert_eq!(undone.undo(), Some(Undone::Amendment(amendment)));
            assert_eq!(undone, old.0, "{words}: undone");
            before.push(old);
            sequence = amended;
        }
        // Everything is undone, back to the plan of the pattern.
        while record.undo().is_some() {}
        let resumed = Sequence::resume(project.clone(), &[], &record, PlanRule::default());
        assert!(resumed.sequence.iter().eq(Sequence::new(project).iter()));
    }
    if seed.is_some() {
        return;
    }
    let kinds = [
        "All",
        "Another",
        "AsStitched",
        "BreakOut",
        "Corners",
        "Ease",
        "Eased",
        "Equal",
        "Finish",
        "Join",
        "JoinSides",
        "Law",
        "LeaveOut",
        "Locked",
        "Made",
        "Next",
        "NextDoor",
        "OnTheLonger",
        "Opening",
        "Own",
        "Rounds",
        "SewThrough",
        "Tetrahedra",
        "Thread",
        "ThreadEnds",
    ];
    assert_eq!(made.keys().collect::<Vec<_>>(), kinds, "{made:?}");
}
