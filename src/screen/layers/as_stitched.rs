//! As stitched: which gap holds a number of beads other than planned, how many,
//! and how the later rounds went over it; or an extra bead is broken out of it.

use super::changes::{ChangeRow, Changes, Previewed};
use crate::beadwork::number::{Round, Step};
use crate::beadwork::own_rounds::{MOST_IN_A_GAP, MOST_JOIN_BEADS};
use crate::beadwork::plural;
use crate::progress::Stitched;
use crate::screen::furniture::TextEntry;
use crate::screen::keys::keys;
use crate::screen::layer::{Context as _, Flow, Layer};
use crate::screen::session::Session;
use crate::screen::session::amend::gap_words;
use crate::tracking::count::RoundPlace;
use ratatui::text::Line;
use std::collections::BTreeSet;

/// The most gaps that are listed.
const MOST_GAPS: usize = 60;

/// What the gap at the needle can hold, and the choice to name an earlier gap.
pub(super) fn at_the_needle(session: &Session) -> Vec<(String, ChangeRow)> {
    let seq = &session.seq;
    let next = Step(session.done().0 + 1);
    let round = seq.gap_of(next).map(|at| (at.gap.beads, MOST_IN_A_GAP - 1));
    let row = || seq.row_gap_of(next).map(|gap| (gap.beads, MOST_JOIN_BEADS));
    let gap = round.or_else(row);
    let others = gap
        .into_iter()
        .flat_map(|(gap, most)| (0..=most).filter(move |n| *n != gap));
    let as_stitched = |beads: u8| {
        let words = match beads {
            0 => "This gap, as stitched: no bead, drawn together".to_string(),
            beads => format!("This gap, as stitched: {}", plural(beads.into(), "bead")),
        };
        (words, ChangeRow::AsStitched(next, beads, None))
    };
    let mut rows: Vec<_> = others.map(as_stitched).collect();
    rows.extend(kept_for_counts(session));
    if (1..=session.done().0).any(|step| seq.beads_worked(Step(step)).is_some()) {
        let words = "A gap worked before, as stitched: name its step and its beads";
        rows.push((words.into(), ChangeRow::GapNamed));
        let words = "One bead too many in a gap worked before: break it out; name its step";
        rows.push((words.into(), ChangeRow::BeadNamed));
    }
    rows
}

/// Differences that an earlier build stored with its counts, in panels that
/// otherwise agree with the pattern: the maker is now asked which gap they are
/// in.
fn kept_for_counts(session: &Session) -> Vec<(String, ChangeRow)> {
    let (seq, kept) = (&session.seq, &session.piece.state().stitched);
    let row = |kept: &Stitched| {
        let job = seq.jobs().get(kept.job.index())?;
        let spec = seq.layout().panel(job.panel()).spec;
        let is_as_meant = seq.layout().project().panels[spec].own.is_none();
        let (side, round, title) = (kept.side, kept.round, &job.title);
        let beads = plural(kept.by.unsigned_abs() as usize, "bead");
        let more = if kept.by > 0 { "more" } else { "fewer" };
        let words = format!(
            "{title}: side {side} of round {round} had {beads} {more}, kept for counts: name its gap"
        );
        is_as_meant.then_some((words, ChangeRow::GapNamed))
    };
    kept.iter().filter_map(row).collect()
}

/// Keeps what a count has found: this many beads more, or fewer, in one of the
/// gaps at these places. `None` if no gap there can hold them.
pub(super) fn found(session: &Session, places: &[RoundPlace], by: i32) -> Option<Changes> {
    let row = |(at, beads)| {
        let words = gap_words(&session.seq, at, beads);
        (words, ChangeRow::AsStitched(at, beads, None))
    };
    let rows: Vec<_> = gaps_with(session, places, by).map(row).collect();
    let asked = "In which gap is it? It becomes part of the work, as stitched.";
    (!rows.is_empty()).then(|| Changes::new(asked, rows))
}

/// Breaks the extra bead that a count has found out of one of the gaps at these
/// places. `None` if no gap there can hold it.
pub(super) fn found_to_break_out(session: &Session, places: &[RoundPlace]) -> Option<Changes> {
    let row = |(at, beads)| {
        let gap = gap_words(&session.seq, at, beads);
        let words = format!("{gap}; break out the last of them");
        (words, ChangeRow::BreakOut(at, false))
    };
    let rows: Vec<_> = gaps_with(session, places, 1).map(row).collect();
    let asked = "In which gap is the bead too many? It is broken out, and the gap closes.";
    (!rows.is_empty()).then(|| Changes::new(asked, rows))
}

/// No gap is found where the difference could be.
pub(super) const NO_GAP: &str =
    "No gap fits that. Choose what it was and where you see it; or m, and name the step.";

/// The steps of gaps at these places, and the number of beads in each with
/// `more` more.
fn gaps_with(
    session: &Session,
    places: &[RoundPlace],
    more: i32,
) -> impl Iterator<Item = (Step, u8)> {
    let steps = places.iter();
    let steps = steps.flat_map(|place| place.steps.0.0..=place.steps.1.0);
    let steps: BTreeSet<u32> = steps.collect();
    let gap = move |step: u32| {
        let at = Step(step);
        let worked = session.seq.beads_worked(at);
        let (beads, most) = worked.filter(|_| at <= session.done())?;
        let beads = u8::try_from(i32::from(beads) + more).ok();
        Some((at, beads.filter(|beads| *beads <= most)?))
    };
    steps.into_iter().filter_map(gap).take(MOST_GAPS)
}

/// Shows the result of breaking a bead out of the gap of a step; where that is
/// not possible, offers what can be done instead.
pub(super) fn break_out(session: &mut Session, at: Step, is_noted: bool) -> Flow<Session> {
    let refusal = match session.preview_break_out(at, is_noted) {
        Ok(preview) => return Flow::open(Previewed::new(session, preview)),
        Err(refusal) => refusal,
    };
    session.say(format!("It can't be broken out: {refusal}."));
    let Some((beads, most)) = session
        .seq
        .beads_worked(at)
        .filter(|_| at <= session.done())
    else {
        return Flow::Stay;
    };
    let words = format!("Unpick to before step {at}");
    let mut rows = vec![(words, ChangeRow::WayBack(Step(at.0 - 1)))];
    if !is_noted && beads < most {
        let words = gap_words(&session.seq, at, beads + 1);
        rows.push((
            format!("Keep it as stitched: {words}"),
            ChangeRow::AsStitched(at, beads + 1, None),
        ));
    }
    Flow::open(Changes::new("The bead stays. What instead?", rows))
}

/// Shows the result of a gap with `beads` beads; asks first how the later
/// rounds went over it.
pub(super) fn look(
    session: &mut Session,
    at: Step,
    beads: u8,
    since: Option<Option<Round>>,
) -> Flow<Session> {
    let rounds = session.seq.rounds_since(at, session.done());
    let Some(eased) = since.or_else(|| rounds.is_empty().then_some(None)) else {
        let row = |(words, eased)| (words, ChangeRow::AsStitched(at, beads, Some(eased)));
        let job = session.seq.job(session.seq.job_of(at));
        let is_strip = session.seq.layout().kind(job.panel()).strip().is_some();
        let round = if is_strip { "row" } else { "round" };
        let plainly = format!("Each {round} went plainly over it, a bead in each gap");
        let eased = rounds.into_iter().map(|nth| {
            let words =
                format!("In {round} {nth} it was brought back to the pattern at that place");
            (words, Some(nth))
        });
        let rows = std::iter::once((plainly, None)).chain(eased).map(row);
        let asked = format!("How did the {round}s since go over it?");
        return Flow::open(Changes::new(asked, rows.collect()));
    };
    match session.preview_as_stitched(at, beads, eased) {
        Ok(preview) => Flow::open(Previewed::new(session, preview)),
        Err(why) => session.say(format!("That cannot be: {why}.")),
    }
}

/// A step and the beads in its gap, typed; or only the step, from which a bead
/// is broken out.
pub struct GapNamed {
    entry: TextEntry,
    breaks_out: bool,
}

impl Layer<Session> for GapNamed {
    keys! { Session, "A gap as stitched";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let asked = match self.breaks_out {
            true => "Which step strung it?",
            false => "Which step, and how many beads are in its gap? (41 2)",
        };
        let help = "The list of steps says which step works which gap.";
        vec![
            self.entry.line(session.look(), asked),
            self.entry.below(help),
        ]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}

impl GapNamed {
    pub(super) fn new(breaks_out: bool) -> Self {
        GapNamed {
            entry: TextEntry::of(12, |c| c.is_ascii_digit() || c == ' '),
            breaks_out,
        }
    }

    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let typed = self.entry.typed.clone();
        let numbers: Vec<u32> = typed.split(' ').filter_map(|n| n.parse().ok()).collect();
        let (step, beads) = match (numbers.as_slice(), self.breaks_out) {
            (&[step], true) => (step, None),
            (&[step, beads], false) => (step, Some(beads)),
            (_, breaks_out) => {
                self.entry.refuse(match breaks_out {
                    true => "The number of a step, please.",
                    false => "A step and a number of beads, please, as in 41 2.",
                });
                return Flow::Stay;
            }
        };
        let at = Step(step);
        let worked = session.seq.beads_worked(at);
        let Some((_, most)) = worked.filter(|_| at <= session.done()) else {
            self.entry
                .refuse(format!("Step {step} did not work a gap of a round."));
            return Flow::Stay;
        };
        let Some(beads) = beads else {
            let is_noted = session.seq.is_one_too_many(at);
            return break_out(session, at, is_noted);
        };
        match u8::try_from(beads).ok().filter(|beads| *beads <= most) {
            Some(beads) => look(session, at, beads, None),
            None => {
                self.entry.refuse(format!("A gap takes 0 to {most} beads."));
                Flow::Stay
            }
        }
    }
}
