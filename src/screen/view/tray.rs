//! The tray: the pieces, and patterns to begin.

use super::text::{self, rows};
use super::{foot, words};
use crate::progress::{Condition, Moment, PieceSummary, PlainText};
use crate::screen::asking::Asking;
use crate::screen::keys::Place;
use crate::screen::look::Look;
use crate::screen::standing;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use unicode_width::UnicodeWidthStr as _;

/// What the tray shows.
#[derive(Clone, Debug, Default)]
pub struct TrayView {
    /// The pieces, the last worked on first.
    pub pieces: Vec<PieceSummary>,
    /// Patterns to begin: title, and a word about it.
    pub patterns: Vec<(String, String)>,
    /// The line that the maker is on: pieces first, then patterns.
    pub at: usize,
    /// A word about the last action.
    pub said: String,
    /// A word asked about.
    pub asking: Option<Asking>,
}

impl TrayView {
    /// Lines that can be chosen.
    pub fn lines(&self) -> usize {
        self.pieces.len() + self.patterns.len()
    }

    /// Up or down.
    pub fn scroll(&mut self, by: isize) {
        let last = self.lines().saturating_sub(1);
        self.at = self.at.saturating_add_signed(by).min(last);
    }

    /// Asks about a word, those in sight first.
    pub fn ask(&mut self, look: Look, now: Moment, (wide, high): (u16, u16)) {
        let area = Rect::new(0, 0, wide, high);
        let mut buf = Buffer::empty(area);
        self.draw(look, now, area, &mut buf);
        self.asking = Some(Asking::about(&super::letters_of(&buf), &[]));
    }

    /// Draws the tray in an area of any size.
    pub fn draw(&self, look: Look, now: Moment, area: Rect, buf: &mut Buffer) {
        if area.is_empty() {
            return;
        }
        text::band(rows(area, 0, 1), buf, " Your tray", look.bar());
        if let Some(asking) = &self.asking {
            return words::draw(look, asking, false, area, buf);
        }
        foot::keys(look, Place::Tray, rows(area, area.height - 1, 1), buf);
        let word = match self.said.is_empty() {
            true => 0,
            false => text::height(self.said.as_str(), area.width).min(area.height / 2),
        };
        let foot = area.height.saturating_sub(1 + word);
        text::wrapped(rows(area, foot, word), buf, &self.said, look.alarm());
        let about = self.about(area.width, foot.saturating_sub(1) / 3);
        let foot = foot - about.len() as u16;
        for (row, line) in about.iter().enumerate() {
            let space = text::inset(rows(area, foot + row as u16, 1), 1);
            text::line(space, buf, line, look.quiet());
        }
        let space = rows(area, 1, foot.saturating_sub(1));
        self.draw_lines(look, now, space, buf);
    }

    /// What there is to say about the line the maker is on, row by row.
    fn about(&self, width: u16, most: u16) -> Vec<String> {
        let words = match self.pieces.get(self.at) {
            Some(piece) => match &piece.condition {
                Condition::Sound => return vec![],
                Condition::Damaged(damage) => damage.to_string(),
                Condition::Newer(version) => format!(
                    "This piece is of format {version}, newer than this program: it is left alone."
                ),
                Condition::Unreadable(why) => why.clone(),
            },
            None => match self.patterns.get(self.at - self.pieces.len()) {
                Some((_, about)) => about.clone(),
                None => return vec![],
            },
        };
        text::broken(&words, width.saturating_sub(2), most)
    }

    fn draw_lines(&self, look: Look, now: Moment, area: Rect, buf: &mut Buffer) {
        let bold = Style::new().add_modifier(Modifier::BOLD);
        // Each line: what it says, how, and whether it can be chosen.
        let mut lines: Vec<(String, String, Style, Option<usize>)> = vec![];
        let head = |text: &str| (text.to_string(), String::new(), look.seat(), None);
        if self.pieces.is_empty() {
            let words = " No pieces yet. Choose a pattern and begin one.";
            lines.push((words.into(), String::new(), bold, None));
        } else {
            lines.push(head(" Pieces"));
        }
        for (i, piece) in self.pieces.iter().enumerate() {
            let (right, style) = piece_words(piece, look, now, area.width);
            let alike = |other: &&PieceSummary| other.title == piece.title;
            let title = match self.pieces.iter().filter(alike).count() {
                1 => format!("   {}", piece.title),
                // Told apart by the names that they have in the tray.
                _ => format!("   {} ({})", piece.title, PlainText::new(&piece.name)),
            };
            lines.push((title, right, style, Some(i)));
        }
        if !self.patterns.is_empty() {
            lines.push((String::new(), String::new(), Style::new(), None));
            lines.push(head(" Begin a new piece"));
        }
        for (i, (title, about)) in self.patterns.iter().enumerate() {
            let about = about.lines().next().unwrap_or_default();
            let left = match about.is_empty() {
                true => format!("   {title}"),
                false => format!("   {title}: {about}"),
            };
            let at = self.pieces.len() + i;
            lines.push((left, String::new(), Style::new(), Some(at)));
        }
        let here = lines.iter().position(|l| l.3 == Some(self.at)).unwrap_or(0);
        let high = usize::from(area.height.max(1));
        let last = lines.len().saturating_sub(high);
        let from = here.saturating_sub(high / 2).min(last);
        for (row, (left, right, style, at)) in lines.iter().enumerate().skip(from).take(high) {
            let space = rows(area, (row - from) as u16, 1);
            let style = match *at == Some(self.at) {
                true => style.patch(look.bar()),
                false => *style,
            };
            buf.set_style(space, style);
            let room = usize::from(space.width).saturating_sub(right.width() + 1);
            text::line(space, buf, &super::super::picture::fit(left, room), style);
            let x = space
                .right()
                .saturating_sub(right.width() as u16)
                .max(space.x);
            let beside = Rect {
                x,
                width: space.right() - x,
                ..space
            };
            text::line(beside, buf, right, style);
        }
    }
}

fn piece_words(piece: &PieceSummary, look: Look, now: Moment, width: u16) -> (String, Style) {
    let plain = Style::new();
    match &piece.condition {
        Condition::Newer(version) => {
            let words = format!("of a newer format ({version}): left alone ");
            return (words, look.quiet());
        }
        Condition::Unreadable(why) => return (format!("cannot be read: {why} "), look.quiet()),
        Condition::Damaged(_) => {
            return (
                "its journal is damaged: opening mends it ".into(),
                look.tinted(crate::beadwork::Rgb(214, 48, 49)),
            );
        }
        Condition::Sound => {}
    }
    let when = match piece.last_worked {
        Some(at) => standing::ago(at, now),
        None => String::new(),
    };
    let (step, steps) = (u64::from(piece.step), piece.steps.map(u64::from));
    let progress = match steps {
        _ if piece.finished => "finished".to_string(),
        Some(steps) if width >= 60 => format!(
            "{} {:3} %",
            text::bar(look.signs().bar, step, steps, 16),
            step * 100 / steps.max(1)
        ),
        Some(steps) => format!("{} %", step * 100 / steps.max(1)),
        None => format!("step {step}"),
    };
    match width {
        0..60 => (format!("{progress} "), plain),
        _ => (format!("{progress}  {when:>21} "), plain),
    }
}
