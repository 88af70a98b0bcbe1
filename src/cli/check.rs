//! `check`: compares a count with what it should be.

use std::io::Write;

use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::line::Format;
use super::{jobs, out, source};
use crate::beadwork::amend::as_stitched::GapPlace;
use crate::beadwork::{Job, Round, Sequence, Side, Step};
use crate::progress::{Entry, Event, Mode, Moment, Tray};
use crate::tracking::count::{
    Answer, CountQuestion, Mend, RoundPlace, Verdict, answer, answer_sides, expected, mend,
};

/// The answer as `check --json` prints it; docs/outputs.md says what each
/// field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "The object of check --json")]
pub(super) struct CheckLine<'a> {
    format: Format,
    expected: u32,
    counted: u32,
    #[schemars(extend("enum" = [Verdict::Match, Verdict::Over, Verdict::Under].map(Verdict::name)))]
    verdict: &'static str,
    causes: Vec<CauseLine<'a>>,
    /// The result of `--keep`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "&str", extend("enum" = Keeping::ALL.map(Keeping::name)))]
    kept: Option<&'static str>,
}

/// One thing that explains the count.
#[derive(Serialize, JsonSchema)]
struct CauseLine<'a> {
    #[schemars(length(min = 1))]
    cause: &'a str,
    #[schemars(length(min = 1))]
    look: &'a str,
}

/// Runs the command.
///
/// # Errors
/// The pattern or piece cannot be opened, or has no such job, round or sides.
pub(super) fn run(args: &args::CheckArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let found = source::sequence(tray, &args.of.name)?;
    let seq = found.seq;
    let job = jobs::find(&seq, &args.job)?;
    let round = round_of(&seq, job, args.round.map(Round))?;
    let sides = expected_per_side(&seq, job, round)?.len();
    let each: Vec<u32> = args.sides.iter().flat_map(|c| &c.0).copied().collect();
    let count = args.count.as_ref().map_or(&[][..], |counted| &counted.0);
    // Several numbers are those of the sides, whichever option gives them.
    let each = match (&each[..], count) {
        ([], [_, _, ..]) => count,
        (each, _) => each,
    };
    let answer = match each {
        [] => {
            let side = None;
            let question = CountQuestion { job, round, side };
            let counted = count.first().copied().unwrap_or_default();
            answer(&seq, &question, found.at, counted).ok_or_else(|| no_round(&seq, job, round))?
        }
        counted => {
            add_up(counted, count)?;
            let given = counted.len();
            answer_sides(&seq, job, round, found.at, counted).ok_or_else(|| {
                Failure::new(
                    format!("{given} numbers are given, but the panel has {sides} sides"),
                    format!("give {sides} numbers with commas between, 0 for a side without beads"),
                )
            })?
        }
    };
    let name = found.piece.as_ref().unwrap_or(&args.of.name);
    let keeping = args.keep.map(|at| {
        let at = Step(at);
        let by = answer.by_at(&seq, job, &place_of(&seq, at));
        if by == 0 && answer.sides.iter().any(|(_, by)| *by != 0) {
            return Err(cannot_hold(name, at, &"the counts differ on other sides"));
        }
        keep(tray, name, at, by.into())
    });
    let kept = keeping.as_ref().and_then(|keeping| keeping.as_ref().ok());
    out::answer(args.json, [line(&answer, kept.copied())], |out| {
        let side = None;
        let question = CountQuestion { job, round, side };
        text(&seq, &question, found.at, &answer, out)?;
        kept.map_or(Ok(()), |kept| Ok(writeln!(out, "{}", kept.sentence())?))
    })?;
    Ok(match (keeping.transpose()?, answer.verdict) {
        (Some(Keeping::OpenElsewhere), _) => CommandEnd::No,
        (Some(Keeping::Kept | Keeping::NoDifference), _) | (None, Verdict::Match) => {
            CommandEnd::Done
        }
        (None, Verdict::Over | Verdict::Under) => CommandEnd::No,
    })
}

/// The result of `--keep`.
#[derive(Clone, Copy)]
enum Keeping {
    Kept,
    NoDifference,
    OpenElsewhere,
}

impl Keeping {
    const ALL: [Keeping; 3] = [Keeping::Kept, Keeping::NoDifference, Keeping::OpenElsewhere];

    fn name(self) -> &'static str {
        match self {
            Keeping::Kept => "yes",
            Keeping::NoDifference => "no-difference",
            Keeping::OpenElsewhere => "open-elsewhere",
        }
    }

    fn sentence(self) -> &'static str {
        match self {
            Keeping::Kept => "Kept as stitched: it is part of the work.",
            Keeping::NoDifference => "There is no difference to keep.",
            Keeping::OpenElsewhere => {
                "The piece is open elsewhere, and nothing was kept: close it there and try again."
            }
        }
    }
}

/// Records in a piece of the tray that the gap of step `at` was stitched with
/// `by` beads more or fewer.
fn keep(tray: &Tray, name: &str, at: Step, by: i64) -> Result<Keeping, Failure> {
    if by == 0 {
        return Ok(Keeping::NoDifference);
    }
    let mut piece = tray.open_piece(name, Mode::Work, Moment::now())?;
    if piece.mode() != Mode::Work {
        return Ok(Keeping::OpenElsewhere);
    }
    let seq = source::of_piece(&mut piece)?;
    let done = Step(piece.state().step);
    let cannot = |why: &dyn std::fmt::Display| cannot_hold(name, at, why);
    let worked = seq.beads_worked(at).filter(|_| at <= done);
    let (beads, most) = worked.ok_or_else(|| cannot(&"it worked no gap of a round"))?;
    let beads = u8::try_from(i64::from(beads) + by).ok();
    let beads = beads.filter(|beads| *beads <= most);
    let beads = beads.ok_or_else(|| cannot(&format!("a gap takes 0 to {most} beads")))?;
    let found = seq.as_stitched(done, at, beads, None);
    let found = found.map_err(|why| cannot(&why))?;
    piece.replanned(&found.sequence);
    let (at, did) = (Moment::now(), Event::restated(&found, done));
    // If this cannot be written, closing the piece reports it.
    let _ = piece.record(Entry { at, did });
    piece.close(Moment::now()).map_err(Failure::not_saved)?;
    Ok(Keeping::Kept)
}

fn cannot_hold(name: &str, at: Step, why: &dyn std::fmt::Display) -> Failure {
    Failure::new(
        format!("the gap of step {at} cannot hold that: {why}"),
        format!(
            "name a step behind you that worked a gap of a round: `threadmark steps {name}` lists them"
        ),
    )
}

/// The place of the gap that a step works.
fn place_of(seq: &Sequence, at: Step) -> RoundPlace {
    let (side, corner) = match seq.place_of_gap(at) {
        Some(GapPlace::AtCorner(side)) => (side, true),
        Some(GapPlace::OnSide(side, _)) => (side, false),
        Some(GapPlace::InRow(_)) | None => (Side(0), false),
    };
    RoundPlace {
        side,
        corner,
        first_gap: 0,
        gaps: 1,
        steps: (at, at),
    }
}

/// How many beads there should be on each side.
fn expected_per_side(seq: &Sequence, job: Job, round: Round) -> Result<Vec<u32>, Failure> {
    expected::per_side(seq, job, round).ok_or_else(|| no_round(seq, job, round))
}

/// The round that is counted, if the job has it.
fn round_of(seq: &Sequence, job: Job, given: Option<Round>) -> Result<Round, Failure> {
    let (first, last) = expected::rounds(seq, job);
    match given.or(expected::only_round(seq, job)) {
        Some(round) if (first..=last).contains(&round) => Ok(round),
        Some(round) => Err(no_round(seq, job, round)),
        None => Err(Failure::new(
            format!("the job '{}' has many rounds", seq.job(job).title),
            format!("say which was counted: --round {first} to --round {last}"),
        )),
    }
}

fn no_round(seq: &Sequence, job: Job, round: Round) -> Failure {
    let (first, last) = expected::rounds(seq, job);
    let info = seq.job(job);
    Failure::new(
        format!("the job '{}' has no round {round}", info.title),
        match expected::only_round(seq, job) {
            Some(_) if info.kind.is_zip() => "leave --round out: its teeth are counted".into(),
            Some(_) => "leave --round out: its join beads are counted".into(),
            None => format!("give a round from {first} to {last}"),
        },
    )
}

/// Checks that the sides add up to the count, if both are given.
fn add_up(sides: &[u32], count: &[u32]) -> Result<(), Failure> {
    let sum = |numbers: &[u32]| numbers.iter().copied().map(u64::from).sum::<u64>();
    match (sum(sides), sum(count)) {
        (sum, count_sum) if !count.is_empty() && sum != count_sum => Err(Failure::new(
            format!("the sides add up to {sum}, but --count says {count_sum}"),
            "count again, or give --sides alone",
        )),
        _ => Ok(()),
    }
}

fn line(answer: &Answer, kept: Option<Keeping>) -> CheckLine<'_> {
    let causes = answer.causes.iter().map(|c| CauseLine {
        cause: &c.cause,
        look: &c.look,
    });
    CheckLine {
        format: Format,
        expected: answer.expected,
        counted: answer.counted,
        verdict: answer.verdict.name(),
        causes: causes.collect(),
        kept: kept.map(Keeping::name),
    }
}

/// The answer, its causes, and how to mend the likeliest if it is known how far
/// the piece has come.
fn text(
    seq: &Sequence,
    question: &CountQuestion,
    at: Option<Step>,
    answer: &Answer,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let title = &seq.job(question.job).title;
    let done = at.unwrap_or(Step(seq.steps()));
    writeln!(out, "{title}. {}", answer.say(seq, question, done))?;
    if answer.verdict != Verdict::Match {
        causes(answer, out)?;
    }
    if let (Some(at), Some(cause)) = (at, answer.causes.first()) {
        let mend = mend(seq, question, cause, None, at);
        writeln!(out, "If it is the first: {}.", mend.say(seq))?;
        if let Mend::Unpick { .. } = mend {
            writeln!(out, "{OR_KEEP}")?;
        }
    }
    Ok(())
}

const OR_KEEP: &str = "\
Or leave it as it is: add --keep and the step of the gap, and the rest is planned from it.";

fn causes(answer: &Answer, out: &mut dyn Write) -> Result<(), Failure> {
    if answer.causes.is_empty() {
        writeln!(out, "No one or two slips explain that. Count once more.")?;
        return Ok(());
    }
    writeln!(out, "Likeliest first:")?;
    for (n, cause) in answer.causes.iter().enumerate() {
        writeln!(out, "  {}. {}", n + 1, cause.cause)?;
        writeln!(out, "     look: {}", cause.look)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    fn printed(counted: u32) -> (String, String) {
        let seq = Sequence::new(testing::single(testing::inward(3, 6, 0)));
        let (job, round) = (Job(0), Round(4));
        let question = CountQuestion {
            job,
            round,
            side: None,
        };
        let answer = answer(&seq, &question, None, counted).unwrap();
        let as_json = serde_json::to_string(&line(&answer, None)).unwrap();
        let mut as_text = Vec::new();
        text(&seq, &question, None, &answer, &mut as_text).unwrap();
        (as_json, String::from_utf8(as_text).unwrap())
    }

    #[test]
    fn a_match_needs_no_cause() {
        let (json, text) = printed(12);
        assert_eq!(
            json,
            "{\"format\":1,\"expected\":12,\"counted\":12,\"verdict\":\"match\",\"causes\":[]}"
        );
        assert_eq!(text, "inward. Round 4: 12. Yes, that is right.\n");
    }

    #[test]
    fn one_too_many_is_explained_likeliest_first() {
        let (json, text) = printed(13);
        assert!(
            json.contains("\"verdict\":\"over\",\"causes\":[{\"cause\":\"a bead at a corner"),
            "{json}"
        );
        assert!(text.starts_with("inward. Round 4: 13 counted, there should be 12: 1 too many.\nLikeliest first:\n  1. a bead at a corner"), "{text}");
    }

    #[test]
    fn a_bead_too_many_in_a_piece_can_be_unpicked_or_kept() {
        let seq = Sequence::new(testing::single(testing::inward(3, 6, 0)));
        let (job, round, side) = (Job(0), Round(4), None);
        let question = CountQuestion { job, round, side };
        let at = Some(Step(seq.steps()));
        let answer = answer(&seq, &question, at, 13).unwrap();
        let mut said = Vec::new();
        text(&seq, &question, at, &answer, &mut said).unwrap();
        let said = String::from_utf8(said).unwrap();
        let [unpick, keep] = [
            "If it is the first: Unpick",
            "leave it as it is: add --keep",
        ];
        assert!(said.contains(unpick) && said.contains(keep), "{said}");
    }

    #[test]
    fn sides_must_add_up_to_the_count() {
        assert!(add_up(&[5, 5, 6], &[16]).is_ok());
        assert!(add_up(&[5, 5, 6], &[]).is_ok());
        let failure = add_up(&[5, 5, 6], &[15]).unwrap_err();
        assert_eq!(
            failure.to_string(),
            "error: the sides add up to 16, but --count says 15\n  mend: count again, or give --sides alone"
        );
    }
}
