//! Warnings before a stitch into a bead whose hole is full.
//!
//! Which beads get full, and at which steps, is found once for a piece in the
//! background, and looked up then.

use crate::beadwork::amend::NextDoor;
use crate::beadwork::hole::{Passing, most_passes, verdict};
use crate::beadwork::thread::{NEEDLES, Needle, ThreadChoice};
use crate::beadwork::{Bead, BeadSize, Kind, Sequence, Step};
use crate::plan::walk::{ThreadsInBead, Walk};
use std::cell::LazyCell;
use std::cmp::Reverse;

/// A bead of a step that the needle goes through with a pull or not at all.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FullHole {
    /// The step.
    pub step: Step,
    /// The bead.
    pub bead: Bead,
    /// Threads in it before the step.
    pub threads: u32,
    /// How the needle goes through.
    pub passing: Passing,
    /// The needle, and a thread of the mean thickness of the threads in the
    /// bead.
    pub choice: ThreadChoice,
    /// The way through the row next door, if it has more room.
    pub next_door: Option<NextDoor>,
}

/// All warnings of a piece, by step.
#[derive(Clone, Debug, Default)]
pub struct FullHoles {
    /// In the order of the steps; of each, the fullest first.
    all: Vec<FullHole>,
    /// Whether there were more than are kept.
    more: bool,
}

impl FullHoles {
    /// The most warnings that are kept (a few megabytes). A piece with more has
    /// a thread or needle that is wrong from the start, as its plan says.
    pub const MAX: usize = 200_000;

    /// Finds them. Takes as long as the plan; if some bead gets full, it reads
    /// all steps once.
    pub fn of(seq: &Sequence) -> FullHoles {
        let choice = seq.goal().thread_to_come();
        let kinds = seq.layout().bead_kinds();
        let all_have_room = |&threads: &u32| {
            let verdict = |size| verdict(threads, size, choice.thread, choice.needle);
            let mut kinds = kinds.iter();
            kinds.all(|kind| verdict(kind.size) == Passing::Comfortable)
        };
        // Most beads hold so few threads that their kind does not matter.
        let few = (0..u16::MAX.into()).take_while(all_have_room).count() as u32;
        let gets_full = |(bead, &passes): (Bead, &u16)| {
            let last = u32::from(passes).saturating_sub(1);
            last >= few && passing(seq, bead, last, choice) > Passing::Comfortable
        };
        let walk = Walk::over(seq);
        let mut beads = (1..).map(Bead).zip(&walk.passes);
        match !walk.threads.is_empty() || beads.any(gets_full) {
            true => FullHoles::step_by_step(seq),
            false => FullHoles::default(),
        }
    }

    fn step_by_step(seq: &Sequence) -> FullHoles {
        let mut threads = vec![0u16; seq.layout().beads() as usize + 1];
        let mut full_holes = FullHoles::default();
        let goal = seq.goal();
        let is_mixed = goal.threads.len() > 1;
        let mut mixed = vec![ThreadsInBead::default(); if is_mixed { threads.len() } else { 0 }];
        let mut lengths = 0;
        'steps: for m in seq.iter() {
            lengths += usize::from(m.kind == Kind::StartThread);
            let choice = goal.thread_after(lengths.max(1) - 1);
            let in_bead = |mixed: &[ThreadsInBead], bead: Bead| ThreadChoice {
                thread: match mixed.get(bead.0 as usize) {
                    Some(threads) => threads.mean(choice.thread),
                    None => choice.thread,
                },
                ..choice
            };
            let is_zip = m.kind == Kind::Zip;
            let ways = LazyCell::new(|| match is_zip {
                true => seq.next_door(m.step),
                false => vec![],
            });
            for &bead in m.passes.iter().filter(|b| !m.strings.contains(b)) {
                let threads_before = u32::from(threads[bead.0 as usize]);
                let choice = in_bead(&mixed, bead);
                let passing = passing(seq, bead, threads_before, choice);
                if passing == Passing::Comfortable {
                    continue;
                }
                if full_holes.all.len() == FullHoles::MAX {
                    full_holes.more = true;
                    break 'steps;
                }
                let has_room = |way: &&NextDoor| {
                    let there = u32::from(threads[way.through.0 as usize]);
                    let choice = in_bead(&mixed, way.through);
                    way.bead == bead
                        && there < threads_before
                        && self::passing(seq, way.through, there, choice) < Passing::Blocked
                };
                full_holes.all.push(FullHole {
                    step: m.step,
                    bead,
                    threads: threads_before,
                    passing,
                    choice,
                    next_door: ways.iter().find(has_room).copied(),
                });
            }
            for bead in &m.passes {
                let n = &mut threads[bead.0 as usize];
                *n = n.saturating_add(1);
                if let Some(mixed) = mixed.get_mut(bead.0 as usize) {
                    mixed.add(choice.thread.diameter_mm);
                }
            }
        }
        let fullest = |full: &FullHole| (full.step, Reverse((full.passing, full.threads)));
        full_holes.all.sort_by_key(fullest);
        full_holes
    }

    /// The warnings of a step, the fullest bead first.
    pub fn at(&self, step: Step) -> &[FullHole] {
        let from = self.all.partition_point(|f| f.step < step);
        let to = self.all.partition_point(|f| f.step <= step);
        &self.all[from..to]
    }

    /// The first warning at or after a step.
    pub fn next(&self, from: Step) -> Option<&FullHole> {
        self.all.get(self.all.partition_point(|f| f.step < from))
    }

    /// The ways through the row next door from a step on.
    pub fn next_door(&self, from: Step) -> impl Iterator<Item = NextDoor> + '_ {
        let first = self.all.partition_point(|f| f.step < from);
        self.all[first..].iter().filter_map(|full| full.next_door)
    }

    /// Warnings from a step on, and whether there are more than that.
    pub fn left(&self, from: Step) -> (usize, bool) {
        let before = self.all.partition_point(|f| f.step < from);
        (self.all.len() - before, self.more)
    }
}

fn size(seq: &Sequence, bead: Bead) -> BeadSize {
    seq.layout().bead_kind(seq.layout().colour(bead)).size
}

fn passing(seq: &Sequence, bead: Bead, threads: u32, choice: ThreadChoice) -> Passing {
    verdict(threads, size(seq, bead), choice.thread, choice.needle)
}

impl FullHole {
    /// The thickest needle finer than the current one that goes through the
    /// bead more easily, and how it does.
    pub fn finer_needle(&self, seq: &Sequence) -> Option<(u8, Passing)> {
        let size = size(seq, self.bead);
        let goes = |&(number, diameter_mm): &(u8, f64)| {
            let needle = Needle { diameter_mm };
            (
                number,
                verdict(self.threads, size, self.choice.thread, needle),
            )
        };
        let finer = NEEDLES
            .iter()
            .filter(|n| n.1 < self.choice.needle.diameter_mm);
        let goes: Vec<_> = finer.map(goes).filter(|n| n.1 < self.passing).collect();
        let best = goes.iter().map(|n| n.1).min()?;
        goes.into_iter().find(|n| n.1 == best)
    }

    /// The warning at the stitch, in a line or two.
    pub fn say(&self, seq: &Sequence) -> String {
        let how = match self.passing {
            Passing::Blocked => "is full: do not force the needle",
            _ => "is nearly full: the needle goes through with a pull",
        };
        let helps = match (self.finer_needle(seq), self.next_door) {
            (Some((size, _)), _) => format!("; a needle of size {size} helps"),
            (None, Some(_)) => "; the row next door has room (m)".into(),
            (None, None) => String::new(),
        };
        let threads = self.threads;
        format!(
            "Bead {} {how} ({threads} threads){helps}. h: more",
            self.bead
        )
    }

    /// The warning in a few words, for a narrow screen.
    pub fn say_shortly(&self) -> String {
        match self.passing {
            Passing::Blocked => format!("Bead {} is full: do not force it", self.bead),
            _ => format!("Bead {} is nearly full: a pull", self.bead),
        }
    }

    /// The warning and what helps, in sentences.
    pub fn explain(&self, seq: &Sequence) -> Vec<String> {
        let ThreadChoice { thread, needle, .. } = self.choice;
        let most = most_passes(size(seq, self.bead), thread, needle);
        let number = |bead| seq.bead_as_made(bead);
        let mut all = vec![match self.passing {
            Passing::Blocked => format!(
                "Bead {} holds {} threads; this needle goes through {most} times at the most. Do \
                 not force it: the bead can break.",
                number(self.bead),
                self.threads
            ),
            _ => format!(
                "Bead {} holds {} threads: the needle still goes through, with a pull ({most} \
                 times at the most). Pull straight along the hole, not across it.",
                number(self.bead),
                self.threads
            ),
        }];
        all.extend(self.finer_needle(seq).map(|(size, passing)| match passing {
            Passing::Comfortable => format!("A needle of size {size} goes through comfortably."),
            _ => format!("A needle of size {size} goes through with a pull."),
        }));
        all.extend(self.next_door.map(|way| {
            format!(
                "Bead {} in the row next door has more room: m lets the needle go through it instead. The thread then \
                 lies one bead aside, and the teeth beside this one hold it.",
                number(way.through)
            )
        }));
        if all.len() == 1 {
            all.push(
                "No finer usual needle helps, and no row next door leads past it with more room: another row of \
                 beads beside it, or leaving this pass out, is what remains."
                    .into(),
            );
        }
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Closing;
    use crate::beadwork::testing;

    fn seq(thread_mm: f64) -> Sequence {
        let mut project = testing::ring(8, 4, Closing::SetIn);
        project.thread.diameter_mm = thread_mm;
        Sequence::new(project)
    }

    #[test]
    fn a_fine_thread_fills_no_hole_of_a_face() {
        let full_holes = FullHoles::of(&Sequence::new(testing::single(testing::panel(3, 8))));
        assert_eq!(full_holes.next(Step(0)), None);
    }

    /// Threads in a bead, counted over the steps.
    fn threads_in(seq: &Sequence, bead: Bead, done: Step) -> u32 {
        let steps = seq.iter().take_while(|m| m.step <= done);
        steps
            .map(|m| m.passes.iter().filter(|b| **b == bead).count() as u32)
            .sum()
    }

    /// There is a warning exactly where a plain count of passes says so, and
    /// the bead next door has more room then.
    #[test]
    fn warnings_are_the_same_as_by_the_plain_count() {
        let seq = seq(0.25);
        let full_holes = FullHoles::of(&seq);
        let (mut warned, mut next_door) = (0, 0);
        for m in seq.iter().step_by(7) {
            let done = Step(m.step.0 - 1);
            let mut gets_full = vec![];
            for bead in m.passes.iter().filter(|b| !m.strings.contains(b)) {
                let threads = threads_in(&seq, *bead, done);
                if passing(&seq, *bead, threads, seq.goal().thread_to_come()) > Passing::Comfortable
                {
                    gets_full.push((*bead, threads));
                }
            }
            gets_full.sort_by_key(|(_, threads)| Reverse(*threads));
            let said = full_holes.at(m.step);
            let told: Vec<(Bead, u32)> = said.iter().map(|f| (f.bead, f.threads)).collect();
            assert_eq!(told, gets_full, "step {}", m.step);
            for full in said {
                if let Some(way) = full.next_door {
                    assert!(threads_in(&seq, way.through, done) < full.threads);
                    assert!(seq.step_of(way.through) <= m.step);
                    next_door += 1;
                }
            }
            warned += said.len();
        }
        assert!(warned > 0 && next_door > 0, "{warned} {next_door}");
    }

    /// The plan's walk decides whether all steps have to be read. It walks only
    /// the first of identical panels.
    #[test]
    fn no_warning_is_missed_by_asking_the_plan_first() {
        for thread_mm in [0.12, 0.15, 0.18, 0.2, 0.25] {
            let seq = seq(thread_mm);
            assert_eq!(
                FullHoles::of(&seq).all,
                FullHoles::step_by_step(&seq).all,
                "{thread_mm}"
            );
        }
    }

    #[test]
    fn a_finer_needle_is_one_that_goes_through() {
        let seq = seq(0.2);
        let project = seq.layout().project();
        let full_holes = FullHoles::of(&seq);
        for full in &full_holes.all {
            let size = project.beads[0].size;
            if let Some((number, passing)) = full.finer_needle(&seq) {
                let (_, diameter_mm) = NEEDLES.into_iter().find(|n| n.0 == number).unwrap();
                assert!(diameter_mm < project.needle.diameter_mm && passing < full.passing);
                let needle = Needle { diameter_mm };
                assert_eq!(verdict(full.threads, size, project.thread, needle), passing);
            }
            assert!(full.explain(&seq).len() >= 2);
        }
    }
}
