//! Where am I: a question about what lies on the mat; or what was found, with
//! the picture to compare.

use super::text::{self, rows, styled};
use super::{Shown, room, scene};
use crate::locate::{Choices, Found, Next, Question};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::Line;

/// Draws it.
pub fn draw(shown: &Shown, typed: &str, at: usize, area: Rect, buf: &mut Buffer) {
    let Some(locating) = &shown.session.locating else {
        return;
    };
    let seat = shown.session.look().seat();
    match &locating.next {
        Next::Ask(_) => {
            let heading = format!("Where am I: question {}", locating.answered() + 1);
            let space = room::frame(shown, (&heading, seat), area, buf);
            text::scrolled(space, buf, lines(shown, typed, at), 0);
        }
        Next::Found(found) => {
            let space = room::frame(shown, (heading(found), seat), area, buf);
            let lines = lines(shown, typed, at);
            let wanted = lines.iter().map(|l| text::height(l.clone(), space.width));
            let words = wanted.sum::<u16>().min(space.height / 2).max(1);
            room::list(rows(space, 0, words), buf, lines, 1 + at);
            if let Some(done) = shown.session.compared() {
                let picture = Rect {
                    x: area.x,
                    width: area.width,
                    ..rows(space, words + 1, space.height.saturating_sub(words + 1))
                };
                scene::draw_at(shown, done, &scene::MAKING, picture, buf);
            }
        }
    }
}

fn heading(found: &Found) -> &'static str {
    match found.steps.len() {
        0 => "The place cannot be told from that",
        1 => "This is the place: compare the picture",
        _ => "One of these: compare the pictures",
    }
}

/// The question, or what was found, in lines.
pub fn lines(shown: &Shown, typed: &str, at: usize) -> Vec<Line<'static>> {
    match shown.session.locating.as_ref().map(|l| &l.next) {
        Some(Next::Ask(question)) => asked(shown, question, typed, at),
        Some(Next::Found(found)) => compared(shown, found, at),
        None => vec![],
    }
}

fn asked(shown: &Shown, question: &Question, typed: &str, at: usize) -> Vec<Line<'static>> {
    let (session, look) = (shown.session, shown.session.look());
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let mut lines = vec![];
    if session.locating.as_ref().is_some_and(|l| l.answered() == 0) {
        let first = "Lay the work on the mat as it is; pull nothing yet.";
        lines.push(styled(first, Style::new()));
        lines.push(Line::default());
    }
    lines.push(styled(question.text.clone(), bold));
    lines.push(Line::default());
    match &question.choices {
        Choices::Number(_) => {
            let cursor = if look.unicode { '█' } else { '_' };
            lines.push(styled(format!("Your count: {typed}{cursor}"), bold));
        }
        Choices::OneOf(choices) => {
            for (i, (_, words)) in choices.iter().enumerate() {
                lines.push(room::choice(shown, i == at, &format!("{} {words}", i + 1)));
            }
        }
    }
    lines.push(Line::default());
    lines.push(styled("? if it cannot be told.", look.quiet()));
    lines
}

fn compared(shown: &Shown, found: &Found, at: usize) -> Vec<Line<'static>> {
    let seq = &shown.session.seq;
    let head = match found.steps.len() {
        0 => "Backspace takes an answer back.",
        1 => "The last movement that you made is:",
        _ => "The last movement that you made is one of these, which look alike:",
    };
    let mut lines = vec![styled(head, Style::new())];
    for (i, m) in found.steps.iter().filter_map(|&s| seq.step(s)).enumerate() {
        let place = seq.say_where(&m);
        let title = &seq.job(m.job).title;
        let dot = if place.is_empty() { "" } else { ", " };
        let words = format!("step {}: {} ({title}{dot}{place})", m.step, seq.say(&m));
        lines.push(room::choice(shown, i == at, &words));
    }
    lines
}
