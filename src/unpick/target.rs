//! How far back: to before a round or a job.

use crate::beadwork::{Job, Sequence, Step};

/// The last step before the round that a step belongs to; with `further` 1
/// before the round before that, and so on. Steps without a round (a weave, a
/// fold) end the search, as the begin of the job does.
pub fn before_round(seq: &Sequence, step: Step, further: u32) -> Step {
    let mut at = step;
    for _ in 0..=further {
        let Some(m) = seq.step(at) else { break };
        let first = seq.job(m.job).steps_before;
        let same = |s: Step| {
            seq.step(s)
                .is_some_and(|b| b.round == m.round && b.job == m.job)
        };
        while at.0 > first && same(at) {
            at = Step(at.0 - 1);
        }
    }
    at
}

/// The last step before a job.
pub fn before_job(seq: &Sequence, job: Job) -> Step {
    Step(seq.job(job).steps_before)
}
