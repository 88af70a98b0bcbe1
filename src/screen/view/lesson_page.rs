//! A lesson of the tour on a page of its own.

use super::text::{self, rows, styled};
use super::{Shown, foot, lesson, words};
use crate::screen::keys::Place;
use crate::screen::session::Session;
use crate::tour;
use crate::words::named;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::Line;

/// The page of a lesson, from a line on.
pub fn draw(shown: &Shown, at: usize, scroll: usize, area: Rect, buf: &mut Buffer) {
    let look = shown.session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Lesson, rows(area, area.height - 1, 1), buf);
    let word = foot::word_rows(shown, area.width);
    let from = area.height.saturating_sub(1 + word);
    foot::write_word(shown, rows(area, from, word), buf);
    let space = text::inset(rows(area, 1, area.height.saturating_sub(2 + word)), 1);
    text::scrolled(space, buf, page(shown.session, at), scroll);
}

/// What the page says.
pub fn page(session: &Session, at: usize) -> Vec<Line<'static>> {
    let look = session.look();
    let left = session.left_handed();
    let lessons = tour::lessons();
    let one = &lessons[at.min(lessons.len() - 1)];
    let mut lines = lesson::told(one, session.reader(), look);
    if let Some(word) = named(one.words[0]).filter(|w| !w.drawing.is_empty()) {
        lines.push(Line::default());
        lines.extend(words::drawing(word, left, look));
    }
    lines.push(Line::default());
    let shown = session.shown();
    let state = match (session.tour_is_on(), shown.came_up(one)) {
        (true, true) => "This lesson has come up.",
        (true, false) if session.lesson() == Some(one) => "This lesson is due now.",
        (true, false) => "This lesson comes up when its movement does.",
        (false, _) => {
            "The tour is off on this piece: x takes it up, and lessons come as you stitch."
        }
    };
    let (n, all) = (at + 1, lessons.len());
    let words = format!("Lesson {n} of {all}. {state} Up and down arrow: other lessons.");
    lines.push(styled(words, look.quiet()));
    lines
}
