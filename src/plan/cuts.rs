//! How to cut thread: each length as long as it needs to be, and two lengths as
//! one where that saves weaving in ends.

use super::PlannedThread;
use crate::beadwork::goal::AtNeedle;
use crate::beadwork::{Sequence, Step};

/// The longest thread that is still comfortable to sew with, mm (common
/// practice, no source).
const LONGEST_MM: f64 = 2_000.0;

/// What is cut, and what is left over of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Cuts {
    /// Cut lengths, mm, longest first, each with how many are cut to it.
    pub fitted: Vec<(f64, usize)>,
    /// All thread cut as the pattern says, mm.
    pub cut_mm: f64,
    /// What all lengths use of it, mm.
    pub takes_mm: f64,
    /// Lengths that could be one if the first were cut longer.
    pub joined: Vec<JoinedLengths>,
}

/// Consecutive lengths that one longer length would replace.
#[derive(Clone, Debug, PartialEq)]
pub struct JoinedLengths {
    /// The number of the first, from 1.
    pub first: usize,
    /// The number of the last.
    pub last: usize,
    /// How long to cut the one that replaces them, mm.
    pub cut_mm: f64,
}

impl Cuts {
    pub(super) fn of(seq: &Sequence, threads: &[PlannedThread]) -> Cuts {
        let mut fitted: Vec<(f64, usize)> = vec![];
        for thread in threads {
            match fitted.iter_mut().find(|(mm, _)| *mm == thread.fitted_mm) {
                Some((_, lengths)) => *lengths += 1,
                None => fitted.push((thread.fitted_mm, 1)),
            }
        }
        fitted.sort_by(|a, b| b.0.total_cmp(&a.0));
        Cuts {
            fitted,
            cut_mm: threads.iter().map(|t| seq.cut_mm(t.steps)).sum(),
            takes_mm: threads.iter().map(|t| t.takes_mm).sum(),
            joined: joined(seq, threads),
        }
    }

    /// All thread if each length is cut to fit, mm.
    pub fn fitted_mm(&self) -> f64 {
        let lengths = self.fitted.iter();
        lengths.map(|&(mm, lengths)| mm * lengths as f64).sum()
    }

    /// What is left over of all thread if each length is cut as the pattern
    /// says, mm.
    pub fn left_over_mm(&self) -> f64 {
        (self.cut_mm - self.takes_mm).max(0.0)
    }

    /// What is left over of all thread if each length is cut to fit, mm.
    pub fn left_over_fitted_mm(&self) -> f64 {
        (self.fitted_mm() - self.takes_mm).max(0.0)
    }
}

fn joined(seq: &Sequence, threads: &[PlannedThread]) -> Vec<JoinedLengths> {
    let mut joined: Vec<JoinedLengths> = vec![];
    // What the current length uses together with all that join it, mm.
    let mut takes_mm = 0.0;
    let mut first = 0;
    for (nth, thread) in threads.iter().enumerate() {
        let steps = thread.steps;
        // When thread goes on, the start of this length and the end of the one
        // before are not needed.
        let more_mm = nth.checked_sub(1).map_or(0.0, |before| {
            let before = threads[before].steps;
            seq.drawn_mm(steps.first, steps.sewn) + seq.end_tail_mm(steps) - seq.end_tail_mm(before)
        });
        let before = nth.checked_sub(1).map(|before| &threads[before]);
        let is_same = before.is_some_and(|before| {
            thread.choice.thread == before.choice.thread && !is_ended(seq, before.steps.sewn)
        });
        if is_same && goes_on(seq, steps.first) && takes_mm + more_mm <= LONGEST_MM {
            takes_mm += more_mm;
            let cut_mm = Sequence::fitted_mm(takes_mm);
            match joined.last_mut().filter(|last| last.last == nth) {
                Some(last) => (last.last, last.cut_mm) = (nth + 1, cut_mm),
                None => joined.push(JoinedLengths {
                    first: first + 1,
                    last: nth + 1,
                    cut_mm,
                }),
            }
        } else {
            (takes_mm, first) = (thread.takes_mm, nth);
        }
    }
    joined
}

/// Whether the maker ended a length after a step.
fn is_ended(seq: &Sequence, sewn: Step) -> bool {
    let mut here = seq.goal().here.iter();
    here.any(|(step, what)| *step == sewn.0 && *what == AtNeedle::EndThread)
}

/// Whether the length taken up at a step continues where the one before it
/// ended, in the middle of a job.
fn goes_on(seq: &Sequence, taken_up: Step) -> bool {
    seq.job(seq.job_of(taken_up)).steps_before + 1 < taken_up.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::amend::Amendment;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;
    use crate::plan::{Plan, Wishes};

    fn cuts(seq: &Sequence) -> Cuts {
        Plan::of(seq, Wishes::default()).cuts
    }

    /// A length that was ended is not one with the next.
    #[test]
    fn a_length_that_the_maker_ended_is_not_joined_to_the_next() {
        let plain = Sequence::new(testing::single(testing::panel(3, 12)));
        let done = Step(60);
        let ended = plain.amended(done, &Amendment::ThreadEnds).unwrap();
        assert_eq!(ended.thread_lengths().next().unwrap().sewn, done);
        let is_first = |joined: &JoinedLengths| joined.first == 1;
        assert!(!cuts(&ended).joined.iter().any(is_first));
    }

    /// Cut as proposed, the piece needs fewer lengths, and each is long enough.
    #[test]
    fn lengths_that_are_proposed_as_one_are_one_if_cut_so() {
        let mut saved = 0;
        for rounds in 5..=9 {
            let mut project = testing::solid(Solid::Tetrahedron, rounds, Closing::Fill);
            let seq = Sequence::new(project.clone());
            let before = seq.thread_lengths().len();
            let joined = cuts(&seq).joined;
            let Some(longest) = joined.iter().map(|j| j.cut_mm).reduce(f64::max) else {
                continue;
            };
            assert!(longest > project.thread.cut_mm && longest <= LONGEST_MM);
            project.thread.cut_mm = longest;
            let after = Sequence::new(project).thread_lengths().len();
            let fewer: usize = joined.iter().map(|j| j.last - j.first).sum();
            assert!(after + fewer <= before, "{rounds}: {after} of {before}");
            saved += fewer;
        }
        assert!(saved > 0);
    }

    #[test]
    fn what_is_cut_to_fit_is_enough_and_leaves_little_over() {
        let seq = Sequence::new(testing::ring(8, 8, Closing::SetIn));
        let plan = Plan::of(&seq, Wishes::default());
        let cuts = &plan.cuts;
        let lengths: usize = cuts.fitted.iter().map(|(_, lengths)| lengths).sum();
        assert_eq!(lengths, plan.threads.len());
        let over = cuts.left_over_fitted_mm();
        assert!(over >= 0.0 && over < 50.0 * lengths as f64, "{over}");
        assert!(over < cuts.left_over_mm() / 5.0);
        for thread in &plan.threads {
            assert!(thread.takes_mm <= thread.fitted_mm && thread.fitted_mm % 50.0 == 0.0);
        }
    }
}
