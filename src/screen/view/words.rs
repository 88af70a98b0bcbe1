//! Words asked about: the list, and the page of a word with its drawing.

use super::text::{self, rows, styled};
use super::{Shown, foot};
use crate::screen::asking::Asking;
use crate::screen::look::Look;
use crate::words::{Word, mirrored};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};

/// Draws what is asked in the course of a sitting.
pub fn draw_asked(shown: &Shown, asking: &Asking, area: Rect, buf: &mut Buffer) {
    foot::head(shown, rows(area, 0, 1), buf);
    let left = shown.session.left_handed();
    draw(shown.session.look(), asking, left, area, buf);
}

/// Draws the list or the page below the line at the top.
pub fn draw(look: Look, asking: &Asking, left_handed: bool, area: Rect, buf: &mut Buffer) {
    foot::keys(look, asking.place(), rows(area, area.height - 1, 1), buf);
    let space = text::inset(rows(area, 1, area.height.saturating_sub(3)), 1);
    let more = match asking.open() {
        None => list(look, asking, space, buf),
        Some(word) => {
            let lines = explained(word, left_handed, look);
            text::scrolled(space, buf, lines, asking.scroll)
        }
    };
    if more && area.height > 2 {
        let words = " more below: down arrow";
        text::line(rows(area, area.height - 2, 1), buf, words, look.quiet());
    }
}

/// A heading, or a word with its place in the list.
enum Row {
    Heading(&'static str),
    Word(usize, &'static Word),
}

fn list(look: Look, asking: &Asking, area: Rect, buf: &mut Buffer) -> bool {
    let here = asking.here().len();
    let mut lines = vec![];
    for (i, word) in asking.list().enumerate() {
        match i {
            0 if here > 0 => lines.push(Row::Heading("Words on the screen just now")),
            _ if i == here => lines.push(Row::Heading("All other words")),
            _ => {}
        }
        lines.push(Row::Word(i, word));
    }
    let at = |row: &Row| matches!(row, Row::Word(i, _) if *i == asking.at);
    let at = lines.iter().position(at).unwrap_or(0);
    let high = usize::from(area.height.max(1));
    let last = lines.len().saturating_sub(high);
    // With the first word its heading is seen too.
    let from = at.saturating_sub(high / 2).min(last);
    for (y, row) in lines.iter().skip(from).take(high).enumerate() {
        let space = rows(area, y as u16, 1);
        match row {
            Row::Heading(words) => text::line(space, buf, words, look.seat()),
            Row::Word(i, word) => {
                let style = match *i == asking.at {
                    true => look.bar(),
                    false => Style::new(),
                };
                buf.set_style(space, style);
                let first = word.means.split('.').next().unwrap_or_default();
                let words = format!("{}: {first}", word.word);
                let inside = text::inset(space, 2);
                let words = text::broken(&words, inside.width, 1);
                let words = words.first().map_or("", String::as_str);
                text::line(inside, buf, words, style);
            }
        }
    }
    from < last
}

/// A word explained: what it means, a drawing, its neighbours.
pub fn explained(word: &'static Word, left_handed: bool, look: Look) -> Vec<Line<'static>> {
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let mut lines = vec![styled(word.word, look.seat()), Line::from(word.means)];
    if !word.drawing.is_empty() {
        lines.push(Line::default());
        lines.extend(drawing(word, left_handed, look));
    }
    lines.push(Line::default());
    let mut spans = vec![Span::raw("See also: ")];
    for (i, other) in word.neighbours().enumerate() {
        if i > 0 {
            spans.push(Span::raw(", "));
        }
        spans.push(Span::styled((i + 1).to_string(), bold));
        spans.push(Span::raw(format!(" {}", other.word)));
    }
    lines.push(Line::from(spans));
    lines
}

/// The drawing, and what it shows.
pub fn drawing(word: &'static Word, left_handed: bool, look: Look) -> Vec<Line<'static>> {
    let drawn = match left_handed {
        true => mirrored(word.drawing),
        false => word.drawing.iter().map(|l| l.to_string()).collect(),
    };
    let drawn = drawn
        .into_iter()
        .map(|l| format!("    {}", look.letters(&l)));
    let mut lines: Vec<Line> = drawn.map(Line::from).collect();
    lines.push(styled(look.letters(word.shows), look.quiet()));
    lines
}
