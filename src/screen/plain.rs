//! The plain mode: one line a step, for screen readers and for sounding out
//! loud. It reads lines, so it works from a pipe as well.

use super::error::Error;
use super::gist;
use super::keys::Action;
use super::look::Look;
use super::run::Outcome;
use super::session::{Pane, Session};
use super::view::{
    plain_card, plain_going, plain_help, plain_lesson, plain_verdict, plain_warnings, plain_word,
};
use crate::beadwork::Sequence;
use crate::beadwork::number::Step;
use crate::plain_file::{self, Line};
use crate::progress::{Moment, Piece};
use crate::words;
use std::io::{BufRead, Write};

/// What the plain mode understands.
const HELP: &str = "Enter: the step is made, on to the next. b: one step back. A number: the count of the side or \
                    round just ended. w and a number: the count of the whole round. g and a place: go \
                    there (g 120, g j3, g r5). r: the way back. n and words: a note on this step. \
                    o: the jobs. p: the plan. h: thread and time. h and a length: a new thread, cut \
                    so long. a: the words of the trade; a and a word: what it means. e: the lesson again; \
                    e on, e off, e again: the beginner's tour. ?: help. t: this line again. q: end.";

/// Between two looks for what is worked out apart.
const A_MOMENT: std::time::Duration = std::time::Duration::from_millis(10);

/// Sews a piece line by line, and puts it away at the end.
///
/// # Errors
/// [`Error::Io`] when output fails, or [`Error::NotKept`].
pub fn plain(
    seq: Sequence,
    piece: Piece,
    mut input: impl BufRead,
    mut out: impl Write,
) -> Result<Outcome, Error> {
    let look = Look {
        depth: super::look::Depth::None,
        unicode: false,
    };
    let mut session = Session::new(seq, piece, look, Moment::now());
    session.plain = true;
    let outcome = talk(&mut session, &mut input, &mut out);
    let kept = session.piece.close(Moment::now());
    let outcome = outcome?;
    kept.map_err(Error::NotKept)?;
    Ok(outcome)
}

fn talk(
    session: &mut Session,
    input: &mut impl BufRead,
    out: &mut impl Write,
) -> Result<Outcome, Error> {
    if session.pane == Pane::Card {
        for line in plain_card(session) {
            writeln!(out, "{line}")?;
        }
    }
    session.pane = Pane::Stitch;
    writeln!(out, "{HELP}")?;
    let mut told = None;
    say_step(session, out)?;
    loop {
        out.flush()?;
        match plain_file::line(input)? {
            Line::End => return Ok(Outcome::Ended),
            Line::TooLong => writeln!(
                out,
                "That line is longer than {} KiB, and nothing was done.",
                plain_file::LINE_BYTES >> 10
            )?,
            Line::Text(line) => {
                if let Some(outcome) = obey(session, &line, out)? {
                    return Ok(outcome);
                }
            }
        }
        let trouble = session.piece.trouble();
        if trouble != told {
            if let Some(trouble) = &trouble {
                writeln!(out, "Not kept: {trouble}")?;
            }
            told = trouble;
        }
    }
}

/// Does what a line asks for.
fn obey(session: &mut Session, line: &str, out: &mut impl Write) -> Result<Option<Outcome>, Error> {
    let now = Moment::now();
    let (word, rest) = match line.split_once(char::is_whitespace) {
        Some((word, rest)) => (word, rest.trim()),
        None => (line, ""),
    };
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    match word {
        "q" => return Ok(Some(Outcome::Quit)),
        "" | "b" | "r" => {
            let action = match word {
                "" => Action::Forward,
                "b" => Action::Back,
                _ => Action::WayBack,
            };
            let effect = session.apply(action, now);
            session.look_apart();
            if effect.bell {
                write!(out, "\x07")?;
            }
            say_word(session, out)?;
            say_step(session, out)?;
        }
        "t" => say_step(session, out)?,
        "?" => {
            for line in plain_help(session) {
                writeln!(out, "{line}")?;
            }
            writeln!(out, "{HELP}")?;
        }
        "o" => {
            let done = session.done().0;
            for (j, job) in session.seq.jobs().iter().enumerate() {
                let part = done.saturating_sub(job.steps_before).min(job.steps);
                let (n, title, steps) = (j + 1, &job.title, job.steps);
                writeln!(out, "job {n}, {title}: {part} of {steps} steps")?;
            }
        }
        "a" => ask(session, rest, out)?,
        "e" => return lesson(session, rest, out),
        "n" => {
            session.apply(Action::Note, now);
            if let Pane::Note { typed } = &mut session.pane {
                typed.clear();
            }
            enter(session, rest, now);
            say_word(session, out)?;
        }
        "g" => {
            session.apply(Action::Jump, now);
            enter(session, rest, now);
            if let Pane::Jump {
                found: Err(error), ..
            } = &session.pane
            {
                writeln!(out, "{error}")?;
                session.apply(Action::Leave, now);
            } else {
                say_step(session, out)?;
            }
        }
        "p" => {
            session.apply(Action::Plan, now);
            while session.look_apart() {
                std::thread::sleep(A_MOMENT);
            }
            match session.plan.parts() {
                Ok(parts) => {
                    for part in parts {
                        writeln!(out, "{}:", part.heading)?;
                        for line in &part.lines {
                            writeln!(out, "{line}")?;
                        }
                    }
                }
                Err(word) => writeln!(out, "{word}")?,
            }
            session.apply(Action::Leave, now);
        }
        "h" => {
            session.apply(Action::Going, now);
            while session.look_apart() {
                std::thread::sleep(A_MOMENT);
            }
            if rest.is_empty() {
                for line in plain_going(session) {
                    writeln!(out, "{line}")?;
                }
            } else if session.typed_cut_mm(rest).is_some() {
                session.apply(Action::NewThread, now);
                enter(session, rest, now);
                say_word(session, out)?;
            } else {
                writeln!(out, "No thread is cut like that: {rest}.")?;
            }
            session.apply(Action::Leave, now);
        }
        "w" if digits(rest) => count(session, rest, true, out)?,
        _ if digits(line) => count(session, line, false, out)?,
        _ => writeln!(out, "That is not understood. {HELP}")?,
    }
    Ok(None)
}

/// Explains a word; without one, names those that stand in the step's
/// sentences and all others.
fn ask(session: &Session, word: &str, out: &mut impl Write) -> Result<(), Error> {
    if let Some(word) = words::named(word) {
        for line in plain_word(session, word) {
            writeln!(out, "{line}")?;
        }
        return Ok(());
    }
    if !word.is_empty() {
        writeln!(out, "That word is not among these.")?;
    }
    let now = session.movement().map(|m| m.step);
    let sentence = now.map_or(String::new(), |step| step_line(&session.seq, step));
    let here = words::found(&sentence);
    let names = |words: Vec<&'static words::Word>| {
        let names = words.into_iter().map(|w| w.word);
        names.collect::<Vec<_>>().join(", ")
    };
    if !here.is_empty() {
        writeln!(out, "In this step: {}.", names(here.clone()))?;
    }
    let others = words::all().filter(|w| !here.contains(w)).collect();
    writeln!(out, "Other words: {}.", names(others))?;
    writeln!(out, "a and one of them tells what it means.")?;
    Ok(())
}

/// The lesson again, or the tour left, taken up, repeated, or begun.
fn lesson(
    session: &mut Session,
    what: &str,
    out: &mut impl Write,
) -> Result<Option<Outcome>, Error> {
    let now = Moment::now();
    let on = session.tour_is_on();
    match what {
        "" if session.offers_tour() => return Ok(Some(Outcome::Tour)),
        "" => match session.lesson() {
            Some(_) => say_lesson(session, out)?,
            None if on => writeln!(out, "No lesson is due at this step.")?,
            None => writeln!(out, "The tour is off on this piece: e on takes it up.")?,
        },
        "on" | "off" => {
            if on != (what == "on") {
                session.apply(Action::TourOnOff, now);
            }
            let is = if what == "on" { "on" } else { "left" };
            writeln!(out, "The tour is {is}.")?;
        }
        "again" => {
            session.apply(Action::TourAgain, now);
            say_word(session, out)?;
        }
        _ => writeln!(out, "That is not understood. {HELP}")?,
    }
    Ok(None)
}

fn say_lesson(session: &Session, out: &mut impl Write) -> Result<(), Error> {
    if let Some(lesson) = session.lesson() {
        for line in plain_lesson(session, lesson) {
            writeln!(out, "{line}")?;
        }
    }
    Ok(())
}

fn enter(session: &mut Session, text: &str, now: Moment) {
    for c in text.chars() {
        session.apply(Action::Type(c), now);
    }
    session.apply(Action::Choose, now);
}

fn count(
    session: &mut Session,
    typed: &str,
    whole: bool,
    out: &mut impl Write,
) -> Result<(), Error> {
    let now = Moment::now();
    session.apply(Action::Count, now);
    if let Pane::Count { question, .. } = &mut session.pane
        && whole
    {
        question.side = None;
    }
    enter(session, typed, now);
    say_word(session, out)?;
    if let Pane::Answer(answered) = &session.pane {
        let (question, answer) = (&answered.question, &answered.answer);
        writeln!(out, "{}", plain_verdict(session, question, answer))?;
        for cause in &answer.causes {
            writeln!(out, "Perhaps: {}. Look: {}", cause.cause, cause.look)?;
        }
    }
    session.pane = Pane::Stitch;
    Ok(())
}

fn say_word(session: &Session, out: &mut impl Write) -> Result<(), Error> {
    if !session.said.is_empty() {
        writeln!(out, "{}", session.said)?;
    }
    Ok(())
}

/// `step 41 of 988: Pick up 1 S, go through the next bead. Round 4 of 8
/// outward, side 2 of 3, bead 3 of 4. 9 of 12 in this round.`
fn say_step(session: &Session, out: &mut impl Write) -> Result<(), Error> {
    let seq = &session.seq;
    say_lesson(session, out)?;
    let Some(m) = session.movement() else {
        writeln!(
            out,
            "All {} steps are done: the piece is finished.",
            seq.steps()
        )?;
        return Ok(());
    };
    writeln!(out, "{}", step_line(seq, m.step))?;
    let next = seq.step(Step(m.step.0 + 1));
    if let Some(words) = next.and_then(|n| gist::announced(seq, Some(&m), &n)) {
        writeln!(out, "Next: {words}.")?;
    }
    for word in plain_warnings(session) {
        writeln!(out, "{word}")?;
    }
    if let Some(note) = session.piece.state().notes.get(&m.step.0) {
        writeln!(out, "Note: {note}")?;
    }
    if let Some(q) = session.offered() {
        let what = match q.side {
            Some(side) => format!("side {side} of round {}", q.round),
            None => format!("round {}", q.round),
        };
        writeln!(out, "If you like, count {what} and type the number.")?;
    }
    Ok(())
}

/// A step in one line.
pub fn step_line(seq: &Sequence, step: Step) -> String {
    let Some(m) = seq.step(step) else {
        return String::new();
    };
    let mut line = format!("step {step} of {}: {}.", seq.steps(), seq.say(&m));
    let place = seq.say_where(&m);
    let mut letters = place.chars();
    if let Some(first) = letters.next() {
        line.push_str(&format!(" {}{}.", first.to_uppercase(), letters.as_str()));
    }
    if m.round_target > 0 && m.round.is_some() {
        let (n, all) = (m.round_beads, m.round_target);
        line.push_str(&format!(" {n} of {all} in this round."));
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::proof;

    fn talk_to(seq: Sequence, typed: &str) -> String {
        let piece = Piece::in_memory("Trial", b"{}", seq.steps(), Moment(0));
        let mut out = vec![];
        plain(seq, piece, typed.as_bytes(), &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn a_line_a_step() {
        let said = talk_to(proof::panel(3, 4), "\n\n\n\n\nb\nq\n");
        let steps: Vec<_> = said.lines().filter(|l| l.starts_with("step ")).collect();
        assert_eq!(steps.len(), 7);
        assert!(steps[1].starts_with("step 2 of"), "{said}");
        assert_eq!(
            steps[5],
            "step 6 of 28: Increase: pick up 2 P, go through the next bead. Round 2 of 4 outward, \
             side 3 of 3, bead 2 of 2. 2 of 6 in this round."
        );
        assert!(steps[6].starts_with("step 5 of"));
    }

    #[test]
    fn a_count_is_answered_and_an_end_of_input_ends() {
        let on = "\n".repeat(9);
        let said = talk_to(
            proof::panel(3, 4),
            &format!("{on}6\n7\nnonsense\ng 99999\n"),
        );
        assert!(said.contains("Yes, that is right."), "{said}");
        assert!(said.contains("1 too many"), "{said}");
        assert!(said.contains("Look: "), "{said}");
        assert!(said.contains("That is not understood."));
        assert!(said.contains("there is no step 99999"));
    }

    #[test]
    fn plan_and_thread_are_told_and_a_short_thread_warned_of() {
        let said = talk_to(
            proof::panel(3, 6),
            "p\nh\nh x\nh 34\n\n\n\n\n\n\n\n\n\n\n\n\n\n\nq\n",
        );
        assert!(said.contains("Thread and needle:\n"), "{said}");
        assert!(said.contains("\nThe piece: about "), "{said}");
        assert!(said.contains("No thread is cut like that: x."), "{said}");
        assert!(said.contains("The new thread is kept"), "{said}");
        assert!(said.contains("Thread: "), "{said}");
    }
}
