//! The views: what the maker sees, drawn from the session alone.

mod big;
mod card;
mod count;
mod face;
mod foot;
mod going;
mod help;
mod lesson;
mod lesson_page;
mod locate;
mod map;
mod mend;
mod overview;
mod palette;
pub mod plan;
mod prompt;
mod room;
mod scene;
mod settings;
mod small;
mod solid;
mod stitch;
mod text;
pub mod tray;
mod unpick;
mod warn;
mod words;

use crate::count::{Answer, Question};
use crate::screen::session::{Pane, Session};
use crate::tour::Lesson;
use crate::words::Word;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::Line;

/// The least size at which a picture helps; below it there are words only.
pub const LEAST: (u16, u16) = (40, 12);

/// Draws what is in front of the maker, in an area of any size.
pub fn draw(session: &mut Session, area: Rect, buf: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    session.size = (area.width, area.height);
    let shown = Shown::of(session);
    let is_small = area.width < LEAST.0 || area.height < LEAST.1;
    match &shown.session.pane {
        _ if is_small => small::draw(&shown, area, buf),
        Pane::Stitch => stitch::draw(&shown, area, buf),
        Pane::Card => card::draw(&shown, area, buf),
        Pane::Plan(at) => plan::draw(&shown, *at, area, buf),
        Pane::Going(at) => going::draw(&shown, *at, area, buf),
        Pane::Face => face::draw(&shown, area, buf),
        Pane::WritePaint { .. } => {
            face::draw(&shown, area, buf);
            prompt::draw(&shown, area, buf);
        }
        Pane::Thread { .. } => {
            going::draw(&shown, 0, area, buf);
            prompt::draw(&shown, area, buf);
        }
        Pane::Count { .. } | Pane::Jump { .. } | Pane::Note { .. } => {
            stitch::draw(&shown, area, buf);
            prompt::draw(&shown, area, buf);
        }
        Pane::Answer(answered) => count::draw(&shown, answered, area, buf),
        Pane::Mend(answered) => mend::draw(&shown, answered, area, buf),
        Pane::Locate { typed, at } => locate::draw(&shown, typed, *at, area, buf),
        Pane::Unpick { .. } | Pane::WayBack { .. } | Pane::Unpicking { .. } => {
            unpick::draw(&shown, area, buf);
        }
        Pane::Overview(at) => overview::draw(&shown, *at, area, buf),
        Pane::Settings(at) => settings::draw(&shown, *at, area, buf),
        Pane::Help(at) => help::draw(&shown, *at, area, buf),
        Pane::Solid => solid::draw(&shown, area, buf),
        Pane::Lesson { at, scroll } => lesson_page::draw(&shown, *at, *scroll, area, buf),
        Pane::Words { asking, .. } => words::draw_asked(&shown, asking, area, buf),
    }
}

/// The cells of a picture that may be shown finer than cells.
pub fn fine_place(session: &mut Session, area: Rect) -> Option<Rect> {
    let is_small = area.width < LEAST.0 || area.height < LEAST.1;
    let shown = Shown::of(session);
    solid::place(&shown, area).filter(|_| !is_small)
}

/// What the views are drawn from.
struct Shown<'a> {
    session: &'a Session,
    /// What keeps steps from the disk, in words.
    trouble: Option<String>,
}

impl Shown<'_> {
    /// For lines that are only said: what is not kept is told by itself.
    fn plain(session: &Session) -> Shown<'_> {
        Shown {
            session,
            trouble: None,
        }
    }

    fn of(session: &mut Session) -> Shown<'_> {
        let trouble = session.piece.trouble();
        Shown {
            session,
            trouble: trouble.map(|t| format!("Not kept: {t}")),
        }
    }
}

/// What stands on the screen, as text.
pub fn said(session: &mut Session, (wide, high): (u16, u16)) -> String {
    let area = Rect::new(0, 0, wide, high);
    let mut buf = Buffer::empty(area);
    draw(session, area, &mut buf);
    letters_of(&buf)
}

/// The letters of a buffer, line by line.
fn letters_of(buf: &Buffer) -> String {
    let area = buf.area;
    let mut text = String::new();
    for y in area.top()..area.bottom() {
        text.extend((area.left()..area.right()).map(|x| buf[(x, y)].symbol()));
        text.push('\n');
    }
    text
}

/// The card at opening, in lines.
pub fn plain_card(session: &Session) -> Vec<String> {
    let shown = Shown::plain(session);
    lines_of(card::lines(&shown))
}

/// The help, in lines.
pub fn plain_help(session: &Session) -> Vec<String> {
    let shown = Shown::plain(session);
    lines_of(help::explained(&shown))
}

/// Words about thread, full beads and rest, in lines.
pub fn plain_warnings(session: &Session) -> Vec<String> {
    let shown = Shown::plain(session);
    warn::plain(&shown)
}

/// Thread and time, in lines.
pub fn plain_going(session: &Session) -> Vec<String> {
    let shown = Shown::plain(session);
    lines_of(going::lines(&shown))
}

/// A lesson, in lines.
pub fn plain_lesson(session: &Session, lesson: &'static Lesson) -> Vec<String> {
    lines_of(lesson::told(lesson, session.reader(), session.look()))
}

/// A word explained, in lines, drawing and all.
pub fn plain_word(session: &Session, word: &'static Word) -> Vec<String> {
    let left = session.left_handed();
    lines_of(words::explained(word, left, session.look()))
}

/// The answer to a count, in one line.
pub fn plain_verdict(session: &Session, q: &Question, answer: &Answer) -> String {
    let shown = Shown::plain(session);
    count::verdict(&shown, q, answer)
}

fn lines_of(lines: Vec<Line<'static>>) -> Vec<String> {
    let lines = lines.into_iter().map(|l| l.to_string());
    lines.filter(|l| !l.is_empty()).collect()
}

#[cfg(test)]
mod tests;
