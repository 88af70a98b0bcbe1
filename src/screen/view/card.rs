//! The card at opening: of a piece that rested, what its maker was doing and
//! how to be sure of the place; of a new one, the cautions.

use super::text::{self, rows, styled};
use super::{Shown, foot, terms};
use crate::beadwork::number::Step;
use crate::progress::SourceState;
use crate::screen::keys::Place;
use crate::screen::{settings, standing};
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
    text::scrolled(space, buf, lines, 0);
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
    if shown.session.piece.source_state() == SourceState::Changed {
        lines.push(styled(
            "The pattern file has changed since this piece was begun: the piece keeps to its own copy.",
            look.ahead(),
        ));
    }
    match shown.session.piece.state().furthest {
        0 => lines.extend(fresh(bold)),
        _ => lines.extend(rested(shown, bold)),
    }
    lines
}

fn fresh(bold: Style) -> Vec<Line<'static>> {
    let mut lines = vec![
        styled(
            "A new piece. Every key is one movement of the needle.",
            bold,
        ),
        styled(
            "space goes on, Backspace goes back, ? explains where you are. Quit whenever you like: \
             the piece remembers every step.",
            Style::new(),
        ),
        Line::default(),
        styled("Before you begin", bold),
    ];
    lines.extend(
        terms::CAUTIONS
            .iter()
            .map(|c| styled(format!("- {c}"), Style::new())),
    );
    lines
}

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
    if let Some(left) = standing::thread_left_mm(seq, &state.threads, done) {
        let unit = settings::thread_unit(&state.settings);
        push(
            "Thread",
            vec![format!("About {} should be left.", unit.say(left))],
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
