//! The card at opening: of a piece that rested, what its maker was doing and
//! how to be sure of the place; of a new one, the cautions.

use super::text::{self, rows, styled};
use super::{Shown, foot};
use crate::beadwork::number::{Bead, Step};
use crate::beadwork::sequence::Sequence;
use crate::pace;
use crate::screen::keys::Place;
use crate::screen::{settings, standing};
use crate::words::care;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::Line;

/// Draws the card.
pub fn draw(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let look = shown.session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Card, rows(area, area.height - 1, 1), buf);
    let word = foot::word_rows(shown, area.width);
    foot::write_word(
        shown,
        rows(area, area.height.saturating_sub(1 + word), word),
        buf,
    );
    let space = text::inset(rows(area, 1, area.height.saturating_sub(2 + word)), 2);
    let lines = lines(shown);
    if text::scrolled(space, buf, lines, shown.session.scroll) {
        let words = "more below: down arrow";
        let last = rows(area, area.height.saturating_sub(2), 1);
        text::line(text::inset(last, 1), buf, words, look.quiet());
    }
}

/// What the card says.
pub fn lines(shown: &Shown) -> Vec<Line<'static>> {
    let look = shown.session.look();
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let mut lines: Vec<Line> = vec![];
    for told in shown.session.piece.told() {
        lines.push(styled(
            format!("{} {told}", look.signs().watch),
            look.ahead(),
        ));
    }
    if shown.session.source_changed {
        let own = match shown.session.piece.state().painted.is_empty() {
            true => "the piece keeps to its own copy.",
            false => "the piece keeps to its own copy, with what you painted on it.",
        };
        let changed = "The pattern file has changed since this piece was begun";
        lines.push(styled(format!("{changed}: {own}"), look.ahead()));
    }
    match shown.session.piece.state().furthest {
        0 => lines.extend(fresh(shown, bold)),
        _ => lines.extend(rested(shown, bold)),
    }
    lines
}

/// What a beginner is told before the first step of a tour.
const TOUR: [&str; 3] = [
    "Sew along: {on} when a movement is made, {back} to go back. The first time a movement comes up, a \
     lesson comes with it: what the hands do, where to look, what to be careful of.",
    "Leave the thread loose until the look is right, then pull. Stop whenever you like with q: the \
     tour goes on where you left it.",
    "{see:e shows the lesson on a page and leaves or repeats the tour; a explains any word on the screen; \
     l mirrors pictures for the left hand.}{hear:e tells the lesson again, a explains the words.}",
];

/// What is offered to a beginner.
const OFFER: &str = "New to this? {see:Press}{hear:Type} e for the beginner's tour: ten minutes, two little triangles, every \
     movement explained as you make it.";

fn fresh(shown: &Shown, bold: Style) -> Vec<Line<'static>> {
    let session = shown.session;
    let plain = Style::new();
    let mut lines = vec![styled(
        "A new piece. Every key is one movement of the needle.",
        bold,
    )];
    if !session.tour_is_on() {
        lines.push(styled(
            "space goes on, Backspace goes back, ? explains where you are. Quit whenever you like: \
             the piece remembers every step.",
            plain,
        ));
    }
    lines.push(Line::default());
    if session.tour_is_on() {
        lines.push(styled("The beginner's tour", session.look().seat()));
        lines.push(styled(needed(&session.seq), plain));
        let reader = session.reader();
        lines.extend(TOUR.map(|words| styled(reader.text(words), plain)));
        lines.push(Line::default());
    } else if session.offers_tour() {
        let offer = session.reader().text(OFFER);
        lines.push(styled(offer, session.look().seat()));
        lines.push(Line::default());
    }
    lines.push(styled("Before you begin", bold));
    lines.extend(
        care::CAUTIONS
            .iter()
            .map(|c| styled(format!("- {c}"), Style::new())),
    );
    lines
}

/// What has to lie ready for a small piece: `You need 18 beads L (linen), …`.
fn needed(seq: &Sequence) -> String {
    let project = seq.layout().project();
    let mut counts = vec![0_u32; project.beads.len()];
    // A big piece has its plan; here nobody waits for a count of it.
    let small = seq.layout().beads().min(MOST_COUNTED);
    for bead in 1..=small {
        counts[usize::from(seq.layout().colour(Bead(bead)).0)] += 1;
    }
    let kinds = project.beads.iter().zip(counts);
    let kinds = kinds.filter(|(_, n)| *n > 0).map(|(kind, n)| match small {
        MOST_COUNTED => format!("beads {} ({})", kind.letter, kind.name),
        _ => format!("{n} beads {} ({})", kind.letter, kind.name),
    });
    let kinds = kinds.collect::<Vec<_>>().join(", ");
    format!(
        "You need {kinds}, thread, a needle, scissors, and a cloth or mat that beads do not roll on."
    )
}

/// Beads of a piece that is counted for a card.
const MOST_COUNTED: u32 = 2000;

fn rested(shown: &Shown, bold: Style) -> Vec<Line<'static>> {
    let session = shown.session;
    let (seq, done) = (&session.seq, session.done());
    let plain = Style::new();
    let state = session.piece.state();
    let mut lines = vec![];
    let when = state
        .last_worked
        .map(|t| format!(", last worked on {}", standing::ago(t, session.now)));
    let job = session.job();
    lines.push(styled(
        format!(
            "You were at: {}{}",
            seq.job(job).title,
            when.unwrap_or_default()
        ),
        bold,
    ));
    let mut push = |head: &str, texts: Vec<String>| {
        lines.push(Line::default());
        lines.push(styled(head.to_string(), bold));
        lines.extend(texts.into_iter().map(|t| styled(t, plain)));
    };
    let first = done.0.saturating_sub(2).max(1);
    let last: Vec<String> = (first..=done.0)
        .filter_map(|s| seq.step(Step(s)))
        .map(|m| {
            let place = seq.say_where(&m);
            let place = if place.is_empty() {
                place
            } else {
                format!(" ({place})")
            };
            format!("step {}: {}{place}", m.step, seq.say(&m))
        })
        .collect();
    if !last.is_empty() {
        push("Your last movements", last);
    }
    let needle = match seq.leaves(done) {
        Some(bead) => format!(
            "The needle comes out of {}.",
            standing::bead_words(seq, bead)
        ),
        None => "No thread is in the work: the next movement takes up a new one.".into(),
    };
    push("The needle", vec![needle]);
    if let Some(seen) = standing::to_see(seq, done) {
        push("To be sure, count", vec![format!("{}.", seen.say(seq))]);
    }
    if session.tour_is_on() {
        let told = session.shown().count();
        let words = match told {
            1 => "1 lesson has come up; e shows it again.".into(),
            n => format!("{n} lessons have come up; e shows them again."),
        };
        push("The beginner's tour goes on", vec![words]);
    }
    if let Some(hand) = pace::in_hand(seq, done, &state.threads) {
        let unit = settings::thread_unit(&state.settings);
        push(
            "Thread",
            vec![format!("About {} should be left.", unit.say(hand.loose_mm))],
        );
    }
    let info = seq.job(job);
    let notes = state
        .notes
        .range(info.steps_before..=info.steps_before + info.steps);
    let notes: Vec<String> = notes.map(|(s, n)| format!("step {s}: {n}")).collect();
    if !notes.is_empty() {
        push("Your notes on this job", notes);
    }
    lines
}
