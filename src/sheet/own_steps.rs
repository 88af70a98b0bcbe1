//! Own steps of the maker, stones among them, that come in the midst of a job:
//! what to do, and after which movement.

use super::join::spans_of;
use crate::beadwork::job::JobInfo;
use crate::beadwork::stage::Stage;
use crate::beadwork::{Kind, Movement, Round, Sequence, Step};

/// An own step in the midst of a job.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct OwnStepOnPaper {
    /// The round after whose beads it comes, if that is known.
    pub round: Option<Round>,
    /// `After round 5 of 8 inward, set the stone: 5 mm`.
    pub words: String,
}

/// The own steps of a job, in order, but for those that end it.
pub(super) fn in_job(seq: &Sequence, info: &JobInfo) -> Vec<OwnStepOnPaper> {
    let end = info.steps_before + info.steps;
    let own = spans_of(seq, info).filter_map(|span| match &span.run.stage {
        Stage::Own(own) if !ends_job(seq, span.steps_before + 2..=end) => Some((span, own)),
        _ => None,
    });
    own.map(|(span, own)| {
        let mut before = (info.steps_before + 1..=span.steps_before).rev();
        let last = before.find_map(|step| seq.step(Step(step)).filter(is_work));
        OwnStepOnPaper {
            round: last.as_ref().and_then(|m| m.round),
            words: match last.map_or(String::new(), |m| seq.say_where(&m)) {
                place if place.is_empty() => own.0.say(),
                place => format!("After {place}, {}", in_a_sentence(&own.0.say())),
            },
        }
    })
    .collect()
}

/// Whether these last steps of a job are all own steps, or end its thread.
fn ends_job(seq: &Sequence, steps: impl Iterator<Item = u32>) -> bool {
    let mut steps = steps.filter_map(|step| seq.step(Step(step)));
    steps.all(|m| matches!(m.kind, Kind::Own | Kind::EndThread))
}

/// Whether a movement works a round or a side, and does not only lead there.
fn is_work(m: &Movement) -> bool {
    use Kind::{BreakOut, EndThread, Fold, Own, PassThrough, StartThread};
    !matches!(
        m.kind,
        BreakOut | EndThread | Fold | Own | PassThrough | StartThread
    )
}

/// A sentence that goes on one: it begins in lower case.
pub(super) fn in_a_sentence(say: &str) -> String {
    let (first, rest) = say.split_at(say.chars().next().map_or(0, char::len_utf8));
    first.to_lowercase() + rest
}
