//! Stretches of a piece: a round, a row, a join; so that a large piece can be
//! asked about without a list of its steps.

use super::begins::begins;
use super::look::{Appearance, looks};
use crate::beadwork::{Job, Sequence, Step};

/// Steps one after another in which the coarse questions have one answer.
#[derive(Clone, Copy, Debug)]
pub(super) struct StepRange {
    /// The first step.
    pub first: Step,
    /// The last step.
    pub last: Step,
    /// Its look; only the answers to coarse questions hold for all of it.
    pub look: Appearance,
}

/// All stretches, in order.
pub(super) fn stretches(seq: &Sequence) -> Vec<StepRange> {
    let mut all = vec![];
    for at in 0..seq.jobs().len() {
        let job = Job(at as u16);
        let mut begins = begins(seq, job);
        let info = seq.job(job);
        begins.push(info.steps_before + info.steps + 1);
        for pair in begins.windows(2) {
            let (first, last) = (Step(pair[0]), Step(pair[1] - 1));
            let seen = looks(seq, first, first).next();
            all.extend(seen.map(|(_, look)| StepRange { first, last, look }));
        }
    }
    all
}
