//! Taking back a single step, and finding the step before a round or a job.

use crate::beadwork::movement::{MOST_PASSED, MOST_STRUNG};
use crate::beadwork::{Bead, Job, Kind, Movement, Sequence, Step, plural};
use arrayvec::ArrayVec;

/// A step taken back: the thread is pulled out of each bead, the last one
/// first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Undo {
    /// The step that is taken back.
    pub step: Step,
    /// Its kind.
    pub kind: Kind,
    /// Beads that the thread comes out of, in that order, including those that
    /// come off.
    pub freed: ArrayVec<Bead, MOST_PASSED>,
    /// Beads that come off, in that order.
    pub off: ArrayVec<Bead, MOST_STRUNG>,
}

impl Undo {
    /// Takes back a movement.
    pub fn of(m: &Movement) -> Undo {
        Undo {
            step: m.step,
            kind: m.kind,
            freed: m.passes.iter().rev().copied().collect(),
            off: m.strings.iter().rev().copied().collect(),
        }
    }

    /// What to do, as one sentence without a full stop.
    pub fn say(&self, seq: &Sequence) -> String {
        let beads = |n: usize| plural(n, "bead");
        let letters: Vec<String> = self
            .off
            .iter()
            .map(|&b| seq.letter(b).to_string())
            .collect();
        let stay = self.freed.len() - self.off.len();
        match (self.kind, self.off.len(), stay) {
            (Kind::StartThread, ..) => "Pull the tail out; this thread is free".into(),
            (Kind::EndThread, ..) => {
                format!("Undo the woven end: out of {}", beads(self.freed.len()))
            }
            (Kind::Fold, _, 0) => "Unfold".into(),
            (Kind::Count, ..) => "Nothing to undo: a count".into(),
            (Kind::Own, ..) => "Undo your own step, if it needs it".into(),
            (Kind::BreakOut, ..) => "Nothing to undo: the bead is broken out".into(),
            (_, 0, 0) => "Nothing to undo".into(),
            (_, 0, stay) => format!("Pull the thread out of {}", beads(stay)),
            (_, _, 0) => format!("Take off {}", letters.join(" and ")),
            (_, _, stay) => format!(
                "Pull the thread out of {}, take off {}",
                beads(stay),
                letters.join(" and ")
            ),
        }
    }
}

/// The last step before the round that a step belongs to; with `further` 1,
/// before the round before that, and so on. The search stops at the beginning
/// of the job and at steps without a round (a weave, a fold), but not at own
/// steps and beads broken out.
pub fn before_round(seq: &Sequence, step: Step, further: u32) -> Step {
    let mut at = last_sewn(seq, step);
    for _ in 0..=further {
        let Some(m) = seq.step(at) else { break };
        let first = seq.job(m.job).steps_before;
        let same = |s: Step| {
            seq.step(s)
                .is_some_and(|b| b.job == m.job && (b.round == m.round || is_aside(&b)))
        };
        while at.0 > first && same(at) {
            at = Step(at.0 - 1);
        }
    }
    at
}

fn is_aside(m: &Movement) -> bool {
    matches!(m.kind, Kind::Own | Kind::BreakOut)
}

/// The last movement of the needle up to a step.
pub fn last_sewn(seq: &Sequence, step: Step) -> Step {
    let is_sewn = |n: &u32| seq.step(Step(*n)).is_none_or(|m| !is_aside(&m));
    Step((1..=step.0).rev().find(is_sewn).unwrap_or(0))
}

/// The last step before a job.
pub fn before_job(seq: &Sequence, job: Job) -> Step {
    Step(seq.job(job).steps_before)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    #[test]
    fn a_broken_out_bead_does_not_hide_the_beginning_of_the_round() {
        let plain = Sequence::new(testing::single(testing::panel(3, 5)));
        let of_round = |m: &Movement| m.round.is_some_and(|round| round.0 == 4);
        let first = plain.iter().find(of_round).unwrap().step.0;
        let (at, done) = (Step(first + 2), Step(first + 4));
        let seq = plain.break_out(done, at, false).unwrap().sequence;
        for done in [done.0 + 1, done.0 + 3].map(Step) {
            assert_eq!(before_round(&seq, done, 0), Step(first - 1));
        }
        assert_eq!(last_sewn(&seq, Step(done.0 + 1)), done);
    }
}
