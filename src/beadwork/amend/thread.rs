//! Another thread, needle or length, from the next length of thread that is
//! started.

use super::Amendment;
use crate::beadwork::thread::{NEEDLES, THREADS};
use crate::beadwork::{Goal, Needle, Refusal, ThreadChoice, Work};
use serde::{Deserialize, Serialize};

/// What changes from the next length of thread on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ThreadChange {
    /// A thread of another diameter, in hundredths of a millimetre, 1 to 100.
    Thread(u16),
    /// A needle of another diameter, in hundredths of a millimetre, 1 to 100.
    Needle(u16),
    /// It is cut to another length, mm.
    Cut(u32),
}

impl ThreadChange {
    /// The longest that a thread can be cut, mm.
    pub const LONGEST_CUT_MM: u32 = 100_000;

    /// The change in words.
    pub(super) fn say(self) -> String {
        match self {
            ThreadChange::Thread(hundredths) => {
                let diameter_mm = mm(hundredths);
                let usual = THREADS.iter().find(|(_, mm)| *mm == diameter_mm);
                let name = usual.map_or(String::new(), |(name, _)| format!(" ({name})"));
                format!("From the next length on a thread of {diameter_mm} mm{name}")
            }
            ThreadChange::Needle(hundredths) => {
                let needle = Needle {
                    diameter_mm: mm(hundredths),
                };
                let size = needle.size();
                let size = size.map_or(String::new(), |size| format!(" (size {size})"));
                format!(
                    "From the next length on a needle of {} mm{size}",
                    needle.diameter_mm
                )
            }
            ThreadChange::Cut(cut_mm) => {
                format!("From the next length on thread is cut to {cut_mm} mm")
            }
        }
    }

    fn made_of(self, choice: ThreadChoice) -> Result<ThreadChoice, Refusal> {
        let mut new = choice;
        match self {
            ThreadChange::Thread(width @ 1..=100) => new.thread.diameter_mm = mm(width),
            ThreadChange::Needle(width @ 1..=100) => new.needle.diameter_mm = mm(width),
            ThreadChange::Cut(cut_mm @ 0..=ThreadChange::LONGEST_CUT_MM) => {
                new.thread.cut_mm = cut_mm.into();
            }
            _ => return Err(Refusal::NoSuchThread),
        }
        match new {
            _ if new == choice => Err(Refusal::SameThread),
            _ if new.thread.usable_mm() <= 0.0 => Err(Refusal::ShortThread),
            new => Ok(new),
        }
    }
}

fn mm(hundredths: u16) -> f64 {
    f64::from(hundredths) / 100.0
}

fn hundredths(mm: f64) -> u16 {
    (mm * 100.0).round() as u16
}

impl Work {
    /// The usual threads and needles other than the current ones.
    pub(super) fn thread_changes(&self) -> Vec<Amendment> {
        let now = self.goal().thread_to_come();
        let threads = THREADS.map(|(_, mm)| ThreadChange::Thread(hundredths(mm)));
        let needles = NEEDLES.map(|(_, mm)| ThreadChange::Needle(hundredths(mm)));
        let all = threads.into_iter().chain(needles);
        let other = all.filter(|change| change.made_of(now).is_ok());
        other.map(Amendment::Thread).collect()
    }

    pub(super) fn change_thread(
        &self,
        goal: &mut Goal,
        change: ThreadChange,
    ) -> Result<(), Refusal> {
        let lengths_before = self.threads().len();
        let choice = change.made_of(goal.thread_to_come())?;
        goal.threads
            .retain(|choice| choice.lengths_before < lengths_before);
        goal.threads.push(ThreadChoice {
            lengths_before,
            ..choice
        });
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::hole::Passing;
    use crate::beadwork::job::{JobInfo, JobKind};
    use crate::beadwork::movement::{Kind, Movement};
    use crate::beadwork::number::Step;
    use crate::beadwork::planner::PlanRule;
    use crate::beadwork::project::{Closing, Make};
    use crate::beadwork::record::{Record, Undone};
    use crate::beadwork::route::WOVEN;
    use crate::beadwork::sequence::Sequence;
    use crate::beadwork::testing;
    use crate::beadwork::verify::{Fault, verify};
    use crate::tracking::pace::{FullHole, FullHoles};

    /// The maker cuts longer lengths after half of a piece: there are fewer
    /// lengths from then on, and what is sewn stays as it was.
    #[test]
    fn thread_cut_longer_from_here_on_takes_fewer_lengths() {
        let project = testing::folded_pair(12, 1);
        let plain = Sequence::new(project.clone());
        let done = Step(plain.steps() / 2);
        let change = Amendment::Thread(ThreadChange::Cut(4_000));
        let longer = plain.amended(done, &change).unwrap();
        assert_proved(&longer);
        assert!(longer.thread_starts().len() < plain.thread_starts().len());
        assert!(
            plain
                .iter()
                .take(done.0 as usize)
                .eq(longer.iter().take(done.0 as usize))
        );
        let cut = |seq: &Sequence| -> Vec<f64> {
            seq.thread_lengths()
                .map(|length| seq.cut_mm(length))
                .collect()
        };
        let begun = plain.thread_starts().filter(|start| *start <= done).count();
        assert_eq!(cut(&longer)[..begun], cut(&plain)[..begun]);
        assert!(cut(&longer)[begun..].iter().all(|mm| *mm == 4_000.0));
        for length in longer.thread_lengths() {
            let takes = longer.thread_mm(Step(length.first.0 - 1), length.last);
            assert!(takes <= longer.cut_mm(length) + 1e-9);
        }
        let mut record = Record::default();
        record.play(&plain.work().facts(0, done.0), done.0);
        let was = record.clone();
        record.amend(change.clone());
        let resumed = Sequence::resume(project, &[], &record, PlanRule::default());
        assert!(resumed.sequence.iter().eq(longer.iter()));
        assert_eq!(resumed.sequence.goal().threads, longer.goal().threads);
        assert_eq!(record.undo(), Some(Undone::Amendment(change)));
        assert_eq!(record, was);
    }

    /// A thicker thread fills holes sooner, a thinner one later; beads with
    /// both are between.
    /// Also between the loops that draw two corners together: a new thread does
    /// not come out of the bead that the next loop goes into.
    #[test]
    fn a_thread_may_end_at_any_step_of_a_corner_tie() {
        let mut pair = testing::folded_pair(4, 0);
        if let Make::FoldedPair { closings, .. } = &mut pair.make {
            *closings = [(0, Closing::Open), (0, Closing::Open)];
        }
        let plain = Sequence::new(pair);
        let tie = |job: &&JobInfo| matches!(job.kind, JobKind::Tie(..));
        let tie = plain.jobs().iter().find(tie).expect("a corner tie");
        let steps = tie.steps_before + 1..tie.steps_before + tie.steps;
        assert!(steps.len() > 3);
        for done in steps.map(Step) {
            assert_proved(&plain.amended(done, &Amendment::ThreadEnds).unwrap());
        }
    }

    /// A thread too short for the step-up, because the maker put other beads into the
    /// last gap, ends there: its end closes the round.
    #[test]
    fn a_thread_may_end_before_the_step_up() {
        let mut ended = [0, 0];
        for cut_mm in 110..150 {
            for spec in [testing::panel(3, 6), testing::inward(5, 6, 0)] {
                let mut project = testing::single(spec);
                (project.thread.cut_mm, project.thread.tail_mm) = (cut_mm.into(), 10.0);
                let plain = Sequence::new(project);
                let is_turn = |m: &Movement| matches!(m.kind, Kind::StepUp | Kind::StepDown);
                for turn in plain.iter().filter(is_turn) {
                    let at = Step(turn.step.0 - 1);
                    for beads in [0, 3] {
                        let Ok(found) = plain.as_stitched(at, at, beads, None) else {
                            continue;
                        };
                        let seq = found.sequence;
                        let next = seq.iter().nth(found.step as usize);
                        let ends = next.is_some_and(|m| m.kind == Kind::EndThread);
                        ended[usize::from(beads > 0)] += u32::from(ends);
                        assert_proved(&seq);
                    }
                }
            }
        }
        assert!(ended.iter().all(|ended| *ended > 5), "{ended:?}");
    }

    #[test]
    fn holes_fill_by_the_thread_that_goes_through_them() {
        let mut project = testing::folded_pair(6, 1);
        project.thread.diameter_mm = 0.2;
        let plain = Sequence::new(project);
        let done = Step(plain.steps() / 2);
        let change = |hundredths| Amendment::Thread(ThreadChange::Thread(hundredths));
        let fullest = |seq: &Sequence| {
            let plan = crate::plan::Plan::of(seq, crate::plan::Wishes::default());
            plan.fullest.tight + 2 * plan.fullest.blocked
        };
        let thinner = plain.amended(done, &change(12)).unwrap();
        let thicker = plain.amended(done, &change(30)).unwrap();
        assert_proved(&thinner);
        assert!(fullest(&thinner) < fullest(&plain));
        assert!(fullest(&plain) < fullest(&thicker));
        let warned = |seq: &Sequence| {
            let fulls = crate::tracking::pace::FullHoles::of(seq);
            (1..=seq.steps())
                .map(|step| fulls.at(Step(step)).len())
                .sum::<usize>()
        };
        assert!(warned(&thinner) < warned(&plain));
        assert!(warned(&plain) < warned(&thicker));
    }

    /// Thick thread and a thick needle fill holes. The proof finds nothing else, and
    /// finds no full hole without a warning before the stitch; all ends hold.
    #[test]
    fn with_thick_thread_all_ends_hold_and_full_holes_are_warned_of() {
        let thick = [ThreadChange::Thread(30), ThreadChange::Needle(46)];
        let mut full = 0;
        for project in [
            testing::folded_pair(5, 0),
            testing::listed_tetrahedron(4),
            testing::ring(8, 4, Closing::SetIn),
        ] {
            let plain = Sequence::new(project);
            for done in (0..plain.steps()).step_by(61).map(Step) {
                for changes in [&thick[..1], &thick] {
                    let mut seq = plain.clone();
                    for change in changes {
                        seq = seq.amended(done, &Amendment::Thread(*change)).unwrap();
                    }
                    let ends = seq.iter().filter(|m| m.kind == Kind::EndThread);
                    let beads = ends.map(|m| m.passes.len());
                    assert!(beads.min() >= Some(WOVEN), "{changes:?} at {done}");
                    let warnings = FullHoles::of(&seq);
                    let size = |bead| seq.layout().bead_kind(seq.layout().colour(bead)).size;
                    let (project, goal) = (seq.layout().project(), seq.goal());
                    let report = verify(project, goal, seq.jobs(), seq.iter(), size);
                    for finding in report.findings {
                        let (Some(step), Fault::Blocked { bead, .. }) =
                            (finding.step, &finding.fault)
                        else {
                            panic!("{changes:?} at {done}: {finding:?}");
                        };
                        let mut warned = warnings.at(step).iter();
                        let is_it = |full: &FullHole| {
                            (full.bead, full.passing) == (*bead, Passing::Blocked)
                        };
                        assert!(warned.any(is_it), "{changes:?} at {done}: {finding:?}");
                        full += 1;
                    }
                }
            }
        }
        assert!(full > 100, "{full} full holes");
    }

    /// As written in the journal.
    #[test]
    fn a_change_of_thread_is_written_in_whole_numbers() {
        for (change, json) in [
            (ThreadChange::Thread(15), r#"{"thread":{"thread":15}}"#),
            (ThreadChange::Needle(36), r#"{"thread":{"needle":36}}"#),
            (ThreadChange::Cut(4_000), r#"{"thread":{"cut":4000}}"#),
        ] {
            let change = Amendment::Thread(change);
            assert_eq!(serde_json::to_string(&change).unwrap(), json);
            assert_eq!(serde_json::from_str::<Amendment>(json).unwrap(), change);
        }
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let plain = Sequence::new(testing::single(testing::panel(3, 5)));
        let refused = |change| {
            let change = Amendment::Thread(change);
            plain.amended(Step(9), &change).map(|_| ()).unwrap_err()
        };
        let tails = 2 * plain.layout().project().thread.tail_mm as u32;
        assert_eq!(refused(ThreadChange::Cut(tails)), Refusal::ShortThread);
        assert_eq!(refused(ThreadChange::Cut(u32::MAX)), Refusal::NoSuchThread);
        assert_eq!(refused(ThreadChange::Thread(0)), Refusal::NoSuchThread);
        let now = plain.layout().project().needle.diameter_mm;
        let same = ThreadChange::Needle(hundredths(now));
        assert_eq!(refused(same), Refusal::SameThread);
    }
}
