//! How to mend a cause that the maker has confirmed: how far to unpick and what
//! to do again, or that nothing needs unpicking.

use super::answer::Cause;
use super::expected::CountQuestion;
use super::mistake::{CountedRound, Mistake, RoundPlace};
use crate::beadwork::{Sequence, Step, plural};

/// How a cause is mended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mend {
    /// The work is wrong: take steps back and do them again.
    Unpick {
        /// The last step that stays.
        back_to: Step,
        /// The last step done now: steps `back_to` + 1 to this come out.
        from: Step,
        /// The first and the last step in which the mistake can be; the same
        /// step if the gap is known.
        slip: (Step, Step),
    },
    /// The work is right but at another step: move there.
    MoveTo(Step),
    /// The work is right: count again.
    CountAgain,
}

impl Mend {
    /// How many steps come out.
    pub fn steps(&self) -> u32 {
        match self {
            Mend::Unpick { back_to, from, .. } => from.0.saturating_sub(back_to.0),
            _ => 0,
        }
    }

    /// What to do, as one sentence without a full stop.
    pub fn say(&self, seq: &Sequence) -> String {
        match self {
            Mend::Unpick { back_to, slip, .. } => {
                let redo = Step(back_to.0 + 1);
                let how = seq.step(redo).map_or(String::new(), |m| seq.say(&m));
                let place_words = match slip.0 == slip.1 {
                    true => format!("the slip is in step {}", slip.0),
                    false => format!(
                        "the slip is in one of steps {} to {}; stop where you see it",
                        slip.0, slip.1
                    ),
                };
                format!(
                    "Unpick {}: {place_words}. Then go on from step {redo}: {how}",
                    plural(self.steps() as usize, "step")
                )
            }
            Mend::MoveTo(done) => {
                format!("Nothing to unpick. Go on from step {}", Step(done.0 + 1))
            }
            Mend::CountAgain => "Nothing to unpick. Count again, by the look above".into(),
        }
    }
}

/// How to mend a cause, at one of its places if that is known. `at` is the last
/// step done.
pub fn mend(
    seq: &Sequence,
    q: &CountQuestion,
    cause: &Cause,
    place: Option<&RoundPlace>,
    at: Step,
) -> Mend {
    if cause.mistake.is_in_the_work() {
        let places: Vec<&RoundPlace> = match place {
            Some(place) => vec![place],
            None => cause.places.iter().collect(),
        };
        let first = places.iter().map(|p| p.steps.0).min();
        let last = places.iter().map(|p| p.steps.1).max();
        return match first.zip(last) {
            Some((first, last)) if first <= at && first.0 > 0 => Mend::Unpick {
                back_to: Step(first.0 - 1),
                from: at,
                slip: (first, last.min(at)),
            },
            // What is not worked yet cannot be wrong.
            _ => Mend::CountAgain,
        };
    }
    match &cause.mistake {
        Mistake::OtherRound(round) => {
            let counted = CountedRound {
                seq,
                job: q.job,
                round: *round,
                at: Some(at),
            };
            counted.end().map_or(Mend::CountAgain, Mend::MoveTo)
        }
        Mistake::OtherStep(done) => Mend::MoveTo(*done),
        _ => Mend::CountAgain,
    }
}

impl CountedRound<'_> {
    /// The step that finishes the round: its step-up or step-down, or if it has
    /// none, the step that strings its last bead.
    fn end(&self) -> Option<Step> {
        if let Some(turn) = self.turn() {
            return Some(turn);
        }
        let layout = self.seq.layout();
        let panel = self.panel();
        let beads = 0..layout.kind(panel).in_round(self.round);
        let last = beads.map(|i| layout.bead(panel, self.round, i)).max()?;
        Some(self.seq.step_of(last))
    }
}
