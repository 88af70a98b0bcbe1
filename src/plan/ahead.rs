//! What is still ahead of the maker once a step is done: beads to string,
//! thread to use, hours. These are the plan's own numbers, less what is done.

use super::{Plan, materials, pace, walk};
use crate::beadwork::{Sequence, Step};

/// What is still ahead.
#[derive(Clone, Debug, PartialEq)]
pub struct Ahead {
    /// Beads still to string, colour by colour in the order of the pattern.
    pub beads: Vec<u32>,
    /// Thread still to be used, and tails still to be left, mm.
    pub thread_mm: f64,
    /// Steps still to do.
    pub steps: u32,
    /// How long they take, minutes.
    pub minutes: f64,
}

impl Ahead {
    /// What is ahead once `done` is done. The current job is counted step by
    /// step, the jobs after it are taken from the plan.
    pub fn of(seq: &Sequence, plan: &Plan, done: Step) -> Ahead {
        let mut minutes = 0.0;
        if done.0 < seq.steps() {
            let job = seq.job_of(Step(done.0 + 1));
            let info = seq.job(job);
            let kinds = walk::kinds(seq, done, Step(info.steps_before + info.steps));
            minutes = pace::minutes(&kinds, plan.wishes.stitch_seconds);
            let later = plan.jobs.iter().skip(job.index() + 1);
            minutes = later.fold(minutes, |minutes, job| minutes + job.minutes);
        }
        Ahead {
            beads: materials::to_come(seq.layout(), seq.strung_after(done)),
            thread_mm: seq.thread_mm(done, Step(seq.steps())),
            steps: seq.steps() - done.0.min(seq.steps()),
            minutes,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;
    use crate::plan::Wishes;

    /// Before the first step everything is ahead, after the last step nothing
    /// is, and each bead that is strung makes it one fewer.
    #[test]
    fn what_is_ahead_and_what_is_done_are_the_whole() {
        let seq = Sequence::new(testing::folded_pair(6, 2));
        let plan = Plan::of(&seq, Wishes::default());
        let all = Ahead::of(&seq, &plan, Step(0));
        let counts: Vec<u32> = plan.beads.iter().map(|b| b.count).collect();
        assert_eq!((all.beads.clone(), all.steps), (counts, plan.total_steps));
        assert!((all.thread_mm - plan.thread_mm()).abs() < 1e-6);
        assert!((all.minutes - plan.minutes).abs() < 1e-6);
        let mut before = all;
        for done in (1..=seq.steps()).step_by(17) {
            let now = Ahead::of(&seq, &plan, Step(done));
            let strung = seq.strung_after(Step(done));
            assert_eq!(now.beads.iter().sum::<u32>() + strung, plan.total_beads);
            assert!(now.thread_mm <= before.thread_mm + 1e-6 && now.minutes <= before.minutes);
            before = now;
        }
        let end = Ahead::of(&seq, &plan, Step(seq.steps()));
        assert_eq!((end.thread_mm, end.minutes, end.steps), (0.0, 0.0, 0));
    }
}
