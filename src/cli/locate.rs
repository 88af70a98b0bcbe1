//! `locate`: asks what lies on the mat until a lost place is found.
//!
//! Questions are lines on standard output, answers are lines on standard input.
//! With `--json` the questions go to standard error, and only the result goes
//! to standard output.

use std::io::{self, BufRead, Write};

use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::line::{Format, Lines};
use super::source::{self, PatternAt};
use crate::beadwork::{Sequence, Step};
use crate::plain_file::{self, Line};
use crate::plan::json::thousandths;
use crate::progress::{Entry, Mode, Moment, MoveReason, Tray};
use crate::tracking::locate::look::look;
use crate::tracking::locate::{Ask, Choices, Found, Next, Question, Reply, Search};

/// The result as `locate --json` prints it; docs/outputs.md says what each
/// field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "The object of locate --json")]
pub(super) struct ResultLine {
    format: Format,
    found: bool,
    #[schemars(inner(range(min = 1)))]
    steps: Vec<u32>,
    #[schemars(range(min = 0, max = 1))]
    sure: f64,
    answers: Vec<AnswerLine>,
}

/// One question and its answer.
#[derive(Serialize, JsonSchema)]
struct AnswerLine {
    #[schemars(length(min = 1))]
    question: &'static str,
    answer: Option<u32>,
}

/// What the maker typed.
enum Typed {
    Reply(Reply),
    Back,
    Quit,
    Unclear,
}

/// Runs the command.
///
/// # Errors
/// The pattern or piece cannot be opened, or input or output fails.
pub(super) fn run(args: &args::LocateArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let PatternAt { seq, piece, .. } = source::sequence(tray, &args.name)?;
    let mut search = Search::new(&seq);
    let mut answers = io::stdin().lock();
    let found = match args.json.json {
        true => converse(&seq, &mut search, &mut answers, &mut io::stderr().lock())?,
        false => converse(&seq, &mut search, &mut answers, &mut io::stdout().lock())?,
    };
    if args.json.json {
        json(&search, found.as_ref(), &mut io::stdout().lock())?;
    }
    let Some(found) = found else {
        return Ok(CommandEnd::No);
    };
    if let (Some(name), false, [step]) = (piece, args.json.json, found.steps.as_slice()) {
        offer_to_move(tray, &name, *step, &mut answers)?;
    }
    Ok(CommandEnd::Done)
}

/// Asks until the place is found and the maker agrees, or gives up.
fn converse(
    seq: &Sequence,
    search: &mut Search<&Sequence>,
    answers: &mut dyn BufRead,
    out: &mut dyn Write,
) -> Result<Option<Found>, Failure> {
    writeln!(out, "Lay the work on the mat as it is; pull nothing yet.")?;
    writeln!(
        out,
        "Answer with a number; ? if you cannot tell, b one question back, q to give up."
    )?;
    loop {
        match search.turn() {
            Next::Ask(question) => {
                ask(search, &question, out)?;
                match read(answers, &question)? {
                    Typed::Reply(reply) => search.reply(question.ask, reply),
                    Typed::Back if search.take_back() => {}
                    Typed::Back => writeln!(out, "This is the first question.")?,
                    Typed::Quit => return Ok(None),
                    Typed::Unclear => writeln!(out, "That is not an answer to this question.")?,
                }
            }
            Next::Found(found) => {
                print_found(seq, &found, out)?;
                write!(out, "Does the work look like this? y or n: ")?;
                out.flush()?;
                match line(answers)?.as_deref() {
                    Some("n" | "no") if search.denials() < MAX_DENIALS => {
                        writeln!(
                            out,
                            "Then one of the answers was not right. The search goes on."
                        )?;
                        search.deny_result();
                    }
                    Some("n" | "no") => return Ok(None),
                    Some("b") => {
                        search.take_back();
                    }
                    Some("q") => return Ok(None),
                    _ => return Ok(Some(found)),
                }
            }
        }
    }
}

/// How often the maker may say that the work looks different before the search
/// gives up.
const MAX_DENIALS: usize = 5;

fn ask(search: &Search<&Sequence>, question: &Question, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out)?;
    writeln!(
        out,
        "Question {}: {}",
        search.asked().len() + 1,
        question.text
    )?;
    if let Choices::OneOf(choices) = &question.choices {
        for (n, (_, words)) in choices.iter().enumerate() {
            writeln!(out, "  {} {words}", n + 1)?;
        }
    }
    write!(out, "> ")?;
    out.flush()
}

/// The next line typed, trimmed and in lower case; `None` at the end of the
/// input.
fn line(answers: &mut dyn BufRead) -> io::Result<Option<String>> {
    Ok(match plain_file::line(answers)? {
        Line::End => None,
        Line::Text(typed) => Some(typed.to_lowercase()),
        Line::TooLong => Some("too long".into()),
    })
}

fn read(answers: &mut dyn BufRead, question: &Question) -> io::Result<Typed> {
    let Some(typed) = line(answers)? else {
        return Ok(Typed::Quit);
    };
    let number = typed.parse::<u32>().ok();
    let value = match &question.choices {
        Choices::Number(_) => number,
        Choices::OneOf(choices) => {
            let nth = number.and_then(|n| (n as usize).checked_sub(1));
            nth.and_then(|n| choices.get(n)).map(|(value, _)| *value)
        }
    };
    Ok(match (typed.as_str(), value) {
        ("?", _) => Typed::Reply(Reply::CannotTell),
        ("b", _) => Typed::Back,
        ("q", _) => Typed::Quit,
        (_, Some(value)) => Typed::Reply(Reply::Value(value)),
        _ => Typed::Unclear,
    })
}

/// Says where the maker is, and what should lie on the mat, to compare.
fn print_found(seq: &Sequence, found: &Found, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out)?;
    match found.steps.as_slice() {
        [] => return writeln!(out, "That is not enough to find the place."),
        [_] => writeln!(out, "The last step that you did is:")?,
        more => writeln!(
            out,
            "The last step that you did is one of these {}, which look the same:",
            more.len()
        )?,
    }
    for &step in &found.steps {
        if let Some(m) = seq.step(step) {
            let title = &seq.job(m.job).title;
            let place = seq.say_where(&m);
            let place = if place.is_empty() {
                place
            } else {
                format!(", {place}")
            };
            writeln!(
                out,
                "  step {step} of {}: {} ({title}{place})",
                seq.steps(),
                seq.say(&m)
            )?;
        }
    }
    if let Some(seen) = found.steps.first().and_then(|&s| look(seq, s)) {
        writeln!(out, "There should be on the mat:")?;
        for ask in Ask::ALL.into_iter().filter(|ask| ask.is_about(seq)) {
            let (text, value) = (ask.text(seq), seen.get(ask));
            if !ask.is_counted() || value > 0 {
                let text = text.split(" (0 if").next().unwrap_or(text);
                let text = text.trim_end_matches('?');
                writeln!(out, "  {text}? {}", ask.value_in_words(seq, value))?;
            }
        }
    }
    Ok(())
}

fn json(
    search: &Search<&Sequence>,
    found: Option<&Found>,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let answers = search.asked().iter().map(|(ask, reply)| AnswerLine {
        question: ask.name(),
        answer: match reply {
            Reply::Value(value) => Some(*value),
            Reply::CannotTell => None,
        },
    });
    Lines::new(out).write(&ResultLine {
        format: Format,
        found: found.is_some_and(|f| f.steps.len() == 1),
        steps: found.map_or(vec![], |f| f.steps.iter().map(|s| s.0).collect()),
        sure: found.map_or(0.0, |f| thousandths(f.sure)),
        answers: answers.collect(),
    })?;
    Ok(())
}

/// Moves the piece to the step that was found, if the maker wants it. It can be
/// undone like any jump.
fn offer_to_move(
    tray: &Tray,
    name: &str,
    step: Step,
    answers: &mut dyn BufRead,
) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    write!(out, "Move the piece to step {step}? y or n: ")?;
    out.flush()?;
    if !matches!(line(answers)?.as_deref(), Some("y" | "yes")) {
        writeln!(out)?;
        return Ok(());
    }
    let mut piece = tray.open_piece(name, Mode::Work, Moment::now())?;
    if piece.mode() != Mode::Work {
        writeln!(out, "The piece is open elsewhere; nothing was moved.")?;
        return Ok(());
    }
    let from = piece.state().step;
    if from != step.0 {
        let seq = source::of_piece(&mut piece)?;
        // If this cannot be written, closing the piece reports it.
        let _ = piece.record(Entry::played(
            &seq,
            (from, step.0),
            MoveReason::Jump,
            Moment::now(),
        ));
    }
    piece.close(Moment::now()).map_err(Failure::not_saved)?;
    writeln!(out, "Moved. `threadmark stitch {name}` goes on from there.")?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    fn conversation(typed: &str) -> (Option<Found>, String) {
        let seq = Sequence::new(testing::single(testing::panel(3, 4)));
        let mut search = Search::new(&seq);
        let mut out = Vec::new();
        let found = converse(&seq, &mut search, &mut typed.as_bytes(), &mut out).unwrap();
        (found, String::from_utf8(out).unwrap())
    }

    #[test]
    fn giving_up_and_the_end_of_input_find_nothing() {
        assert_eq!(conversation("q\n").0, None);
        assert_eq!(conversation("").0, None);
        assert_eq!(conversation("b\nnonsense\n").0, None);
        let (_, said) = conversation("b\nnonsense\n");
        assert!(said.contains("This is the first question."));
        assert!(said.contains("That is not an answer to this question."));
    }

    #[test]
    fn correct_answers_find_the_step_and_show_what_to_compare() {
        let seq = Sequence::new(testing::single(testing::panel(3, 4)));
        let seen = look(&seq, Step(20)).unwrap();
        let mut search = Search::new(&seq);
        let mut typed = String::new();
        while let Next::Ask(q) = search.turn() {
            let value = seen.get(q.ask);
            let answer = match &q.choices {
                Choices::Number(_) => value,
                Choices::OneOf(all) => {
                    all.iter().position(|(v, _)| *v == value).unwrap() as u32 + 1
                }
            };
            typed += &format!("{answer}\n");
            search.reply(q.ask, Reply::Value(value));
        }
        let (found, said) = conversation(&format!("{typed}y\n"));
        assert_eq!(found.unwrap().steps, [Step(20)]);
        assert!(
            said.contains("The last step that you did is:\n  step 20 of"),
            "{said}"
        );
        assert!(said.contains("There should be on the mat:"), "{said}");
    }
}
