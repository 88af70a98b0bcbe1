//! As stitched: which gap holds other than was meant, how many beads, and how
//! the rounds since went over it.

use super::changes::{ChangeRow, Changes, Previewed};
use crate::beadwork::number::{Round, Step};
use crate::beadwork::own_rounds::{MOST_IN_A_GAP, MOST_JOIN_BEADS};
use crate::beadwork::plural;
use crate::screen::furniture::TextEntry;
use crate::screen::keys::keys;
use crate::screen::layer::{Context as _, Flow, Layer};
use crate::screen::session::Session;
use crate::screen::session::amend::gap_words;
use crate::tracking::count::Place;
use ratatui::text::Line;

/// Gaps that are listed at the most.
const MOST_GAPS: u32 = 60;

/// What the gap at the needle can take, and an earlier one that is named.
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
    if (1..=session.done().0).any(|step| seq.beads_worked(Step(step)).is_some()) {
        let words = "A gap worked before, as stitched: name its step and its beads";
        rows.push((words.into(), ChangeRow::GapNamed));
    }
    rows
}

/// What a count has found is kept: so many beads more, or fewer, in one of
/// the gaps at these places. None if no gap there can hold them.
pub(super) fn found(session: &Session, places: &[Place], by: i32) -> Option<Changes> {
    let steps = places
        .iter()
        .flat_map(|place| place.steps.0.0..=place.steps.1.0);
    let gap = |step: u32| {
        let at = Step(step);
        let worked = session.seq.beads_worked(at);
        let (beads, most) = worked.filter(|_| at <= session.done())?;
        let beads = u8::try_from(i32::from(beads) + by).ok();
        let beads = beads.filter(|beads| *beads <= most)?;
        let words = gap_words(&session.seq, at, beads);
        Some((words, ChangeRow::AsStitched(at, beads, None)))
    };
    let rows: Vec<_> = steps.filter_map(gap).take(MOST_GAPS as usize).collect();
    let asked = "In which gap is it? It becomes part of the work, as stitched.";
    (!rows.is_empty()).then(|| Changes::new(asked, rows))
}

/// Looks at what comes of a gap with so many beads; first asks how the rounds
/// since went over it.
pub(super) fn look(
    session: &mut Session,
    at: Step,
    beads: u8,
    since: Option<Option<Round>>,
) -> Flow<Session> {
    let rounds = session.seq.rounds_since(at, session.done());
    let Some(eased) = since.or_else(|| rounds.is_empty().then_some(None)) else {
        let row = |(words, eased)| (words, ChangeRow::AsStitched(at, beads, Some(eased)));
        let plainly = "Each round went plainly over it, a bead in each gap".to_string();
        let eased = rounds.into_iter().map(|round| {
            let words = format!("Round {round} brought it back to the pattern at that place");
            (words, Some(round))
        });
        let rows = std::iter::once((plainly, None)).chain(eased).map(row);
        let asked = "How did the rounds since go over it?";
        return Flow::open(Changes::new(asked, rows.collect()));
    };
    match session.preview_as_stitched(at, beads, eased) {
        Ok(preview) => Flow::open(Previewed::new(session, preview)),
        Err(why) => session.say(format!("That cannot be: {why}.")),
    }
}

/// A step and the beads in its gap, typed.
pub struct GapNamed {
    entry: TextEntry,
}

impl Layer<Session> for GapNamed {
    keys! { Session, "A gap as stitched";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let asked = "Which step, and how many beads are in its gap? (41 2)";
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
    pub(super) fn new() -> Self {
        GapNamed {
            entry: TextEntry::of(12, |c| c.is_ascii_digit() || c == ' '),
        }
    }

    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let typed = self.entry.typed.clone();
        let numbers: Vec<u32> = typed.split(' ').filter_map(|n| n.parse().ok()).collect();
        let &[step, beads] = numbers.as_slice() else {
            self.entry
                .refuse("A step and a number of beads, please, as in 41 2.");
            return Flow::Stay;
        };
        let at = Step(step);
        let worked = session.seq.beads_worked(at);
        let Some((_, most)) = worked.filter(|_| at <= session.done()) else {
            self.entry
                .refuse(format!("Step {step} has worked no gap of a round."));
            return Flow::Stay;
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
