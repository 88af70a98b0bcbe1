//! As stitched: which gap holds a number of beads other than planned, how many,
//! and how the later rounds went over it; or an extra bead is broken out of it.

use super::changes::{ChangeRow, changes, list};
use super::menu::{Prompt, row};
use super::other_beads;
use super::preview::Previewed;
use super::way_back;
use crate::beadwork::own_rounds::{MOST_IN_A_GAP, MOST_JOIN_BEADS};
use crate::beadwork::{Round, Step, plural};
use crate::progress::Stitched;
use crate::screen::layer::{Flow, Keys, LOOK};
use crate::screen::session::Session;
use crate::screen::session::amend::{cannot, gap_words, in_gap};
use crate::screen::widgets::{TextEntry, scene};
use crate::tracking::count::{RoundPlace, numbers};
use std::collections::BTreeMap;

pub(super) const GAP: &Keys = &Keys::new("A gap as stitched", LOOK);

/// The most gaps that are listed.
const MOST_GAPS: usize = 60;

/// A line for the gap of a step with this many beads, as stitched.
fn gap_row(words: String, at: Step, beads: u8) -> ChangeRow {
    row(words, move |session| as_stitched(session, at, beads))
}

/// What the gap at the needle can hold, and the choice to name an earlier gap.
pub(super) fn at_the_needle(session: &Session) -> Vec<ChangeRow> {
    let seq = &session.seq;
    let next = session.next_step();
    let round = seq.gap_of(next).map(|at| (at.gap.beads, MOST_IN_A_GAP - 1));
    let row_gap = || seq.row_gap_of(next).map(|gap| (gap.beads, MOST_JOIN_BEADS));
    let gap = round.or_else(row_gap);
    let others = gap.map(|(gap, most)| (0..=most).filter(move |beads| *beads != gap));
    let line = |beads| {
        let words = format!("This gap, as stitched: {}", in_gap(beads));
        gap_row(words, next, beads)
    };
    let mut rows: Vec<_> = others.into_iter().flatten().map(line).collect();
    rows.extend(kept_for_counts(session));
    if (1..=session.done().0).any(|step| seq.beads_worked(Step(step)).is_some()) {
        let words = "A gap worked before, as stitched: name its step and its beads";
        rows.push(row(words, |_| ask_gap()));
        let words = "One bead too many in a gap worked before: break it out; name its step";
        rows.push(row(words, |_| ask_bead()));
    }
    if session.seq.strung_after(session.done()) > 0 && seq.layout().bead_kinds().len() > 1 {
        let words = "A bead strung before was another: name its step and its letter";
        rows.push(row(words, |_| other_beads::strung()));
    }
    rows
}

/// Differences that an earlier build stored with its counts, in panels that
/// otherwise agree with the pattern: the maker is now asked which gap they are
/// in.
fn kept_for_counts(session: &Session) -> Vec<ChangeRow> {
    let (seq, kept) = (&session.seq, &session.piece.state().stitched);
    let line = |kept: &Stitched| {
        let job = seq.jobs().get(kept.job.index())?;
        let spec = seq.layout().panel(job.panel()).spec;
        let is_by_pattern = seq.layout().project().panels[spec].own.is_none();
        let (side, round, title) = (kept.side, kept.round, &job.title);
        let beads = plural(kept.by.unsigned_abs() as usize, "bead");
        let more = if kept.by > 0 { "more" } else { "fewer" };
        let words = format!(
            "{title}: side {side} of round {round} had {beads} {more}, kept for counts: name its gap"
        );
        is_by_pattern.then(|| row(words, |_| ask_gap()))
    };
    kept.iter().filter_map(line).collect()
}

/// Keeps what a count has found: a number of beads more, or fewer, in one of the
/// gaps at each of these places.
pub(super) fn found(session: &mut Session, places: &[(RoundPlace, i32)]) -> Flow<Session> {
    let line = |(at, beads)| {
        let words = gap_words(&session.seq, at, beads);
        (at, gap_row(words, at, beads))
    };
    let rows = gaps_with(session, places).map(line).unzip();
    let asked = "In which gap is it? It becomes part of the work, as stitched.";
    in_which_gap(session, asked, rows)
}

/// Breaks the extra bead that a count has found out of one of the gaps at those of
/// these places that have more beads.
pub(super) fn found_to_break_out(
    session: &mut Session,
    places: &[(RoundPlace, i32)],
) -> Flow<Session> {
    let line = |(at, beads)| {
        let gap = gap_words(&session.seq, at, beads);
        let words = format!("{gap}; break out the last of them");
        (at, row(words, move |session| break_out(session, at, false)))
    };
    let places = places.iter().filter(|(_, by)| *by > 0);
    let places: Vec<_> = places.map(|(place, _)| (*place, 1)).collect();
    let rows = gaps_with(session, &places).map(line).unzip();
    let asked = "In which gap is the bead too many? It is broken out, and the gap closes.";
    in_which_gap(session, asked, rows)
}

/// Lists gaps, each by its step, with the picture of that step below.
fn in_which_gap(
    session: &mut Session,
    asked: &str,
    (steps, rows): (Vec<Step>, Vec<ChangeRow>),
) -> Flow<Session> {
    if rows.is_empty() {
        return session.say(
            "No gap fits that. Choose what it was and where you see it; or m, and name the step.",
        );
    }
    let list = list(asked, rows).with_picture(move |session, nth, area, buf| {
        let before = Step(steps[nth].0 - 1);
        scene::draw_at(session, before, &scene::MAKING, area, buf);
    });
    Flow::open(list)
}

/// The steps of gaps at these places, and the number of beads in each with
/// so many more.
fn gaps_with(session: &Session, places: &[(RoundPlace, i32)]) -> impl Iterator<Item = (Step, u8)> {
    let steps = places.iter().flat_map(|(place, more)| {
        let steps = place.steps.0.0..=place.steps.1.0;
        steps.map(|step| (step, *more))
    });
    let steps: BTreeMap<u32, i32> = steps.collect();
    let gap = move |(step, more): (u32, i32)| {
        let at = Step(step);
        let (beads, most) = worked(session, at).ok()?;
        let beads = u8::try_from(i32::from(beads) + more).ok();
        Some((at, beads.filter(|beads| *beads <= most)?))
    };
    steps.into_iter().filter_map(gap).take(MOST_GAPS)
}

/// Shows the result of breaking a bead out of the gap of a step; where that is
/// not possible, offers what can be done instead.
fn break_out(session: &mut Session, at: Step, is_noted: bool) -> Flow<Session> {
    let refusal = match session.preview_break_out(at, is_noted) {
        Ok(preview) => return Flow::open(Previewed::new(session, preview)),
        Err(refusal) => refusal,
    };
    session.say(format!("It can't be broken out: {refusal}."));
    let Ok((beads, most)) = worked(session, at) else {
        return Flow::Stay;
    };
    let words = format!("Unpick to before step {at}");
    let to = Step(at.0 - 1);
    let mut rows = vec![row(words, move |session| way_back(session, to))];
    if !is_noted && beads < most {
        let words = gap_words(&session.seq, at, beads + 1);
        rows.push(gap_row(
            format!("Keep it as stitched: {words}"),
            at,
            beads + 1,
        ));
    }
    changes("The bead stays. What instead?", rows)
}

/// Shows the result of a gap with `beads` beads; asks first how the later
/// rounds went over it.
fn as_stitched(session: &mut Session, at: Step, beads: u8) -> Flow<Session> {
    let rounds = session.seq.rounds_since(at, session.done());
    if rounds.is_empty() {
        return look(session, at, beads, None);
    }
    let line = |(words, eased)| row(words, move |session| look(session, at, beads, eased));
    let job = session.seq.job(session.seq.job_of(at));
    let is_strip = session.seq.layout().kind(job.panel()).strip().is_some();
    let round = if is_strip { "row" } else { "round" };
    let plainly = format!("Each {round} went plainly over it, a bead in each gap");
    let eased = rounds.into_iter().map(|nth| {
        let words = format!("In {round} {nth} it was brought back to the pattern at that place");
        (words, Some(nth))
    });
    let ways = std::iter::once((plainly, None)).chain(eased);
    let rows: Vec<_> = ways.map(line).collect();
    changes(format!("How did the {round}s since go over it?"), rows)
}

/// Shows the result if one of the later rounds, or none, has made up for the
/// difference.
fn look(session: &mut Session, at: Step, beads: u8, eased: Option<Round>) -> Flow<Session> {
    match session.preview_as_stitched(at, beads, eased) {
        Ok(preview) => Flow::open(Previewed::new(session, preview)),
        Err(why) => session.say(cannot(why)),
    }
}

/// Which gap the step that is typed has worked.
fn gap_typed(session: &Session, typed: &str) -> String {
    let typed = numbers::<u32>(typed).unwrap_or_default();
    let Some(at) = typed.first().map(|step| Step(*step)) else {
        let last = session.done();
        return format!(
            "Type a step: this line says which gap it worked. Your last step is {last}."
        );
    };
    match worked(session, at) {
        Ok((beads, _)) => format!("{} now", gap_words(&session.seq, at, beads)),
        Err(why) => why,
    }
}

/// Asks for a step and the beads in its gap.
fn ask_gap() -> Flow<Session> {
    let asked = "Which step, and how many beads are in its gap? (41 2)";
    let answer = |session: &mut Session, typed: &str| {
        let Some(&[step, beads]) = numbers(typed).as_deref() else {
            return Err("A step and a number of beads, please, as in 41 2.".into());
        };
        let (_, most) = worked(session, Step(step))?;
        let beads = u8::try_from(beads).ok().filter(|beads| *beads <= most);
        let beads = beads.ok_or(format!("A gap takes 0 to {most} beads."))?;
        Ok(as_stitched(session, Step(step), beads))
    };
    Flow::open(Prompt::new(
        GAP,
        TextEntry::numbers(12),
        move |session, typed| (asked, gap_typed(session, typed)),
        answer,
    ))
}

/// Asks for the step of a bead that is broken out.
fn ask_bead() -> Flow<Session> {
    let answer = |session: &mut Session, typed: &str| {
        let Some(&[step]) = numbers(typed).as_deref() else {
            return Err("The number of a step, please.".into());
        };
        worked(session, Step(step))?;
        let is_noted = session.seq.is_one_too_many(Step(step));
        Ok(break_out(session, Step(step), is_noted))
    };
    let asks =
        |session: &Session, typed: &str| ("Which step strung it?", gap_typed(session, typed));
    Flow::open(Prompt::new(GAP, TextEntry::numbers(12), asks, answer))
}

/// The beads in the gap that a step has worked, and the most that it can hold.
fn worked(session: &Session, at: Step) -> Result<(u8, u8), String> {
    let worked = session.seq.beads_worked(at);
    let worked = worked.filter(|_| at <= session.done());
    worked.ok_or(format!("Step {at} did not work a gap of a round."))
}
