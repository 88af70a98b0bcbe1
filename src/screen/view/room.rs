//! What the rooms beside the stitches have alike: head, heading, a space, a
//! word to the maker and the keys; and lists in which one line is chosen.

use super::text::{self, rows};
use super::{Shown, foot};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::Line;

/// Draws all but the space, which is given back.
pub fn frame(shown: &Shown, heading: (&str, Style), area: Rect, buf: &mut Buffer) -> Rect {
    let session = shown.session;
    foot::head(shown, rows(area, 0, 1), buf);
    let keys = rows(area, area.height - 1, 1);
    foot::keys(session.look(), session.place(), keys, buf);
    let word = foot::word_rows(shown, area.width);
    let foot = area.height.saturating_sub(1 + word);
    foot::write_word(shown, rows(area, foot, word), buf);
    let from = if area.height >= 16 { 2 } else { 1 };
    let wide = text::inset(area, 2);
    let high = text::height(heading.0, wide.width).min(2);
    buf.set_style(rows(area, from, high), heading.1);
    text::wrapped(rows(wide, from, high), buf, heading.0, heading.1);
    let gap = u16::from(area.height >= 16);
    let top = from + high + gap;
    text::inset(rows(area, top, foot.saturating_sub(top)), 2)
}

/// A line of a list, marked if the maker is on it.
pub fn choice(shown: &Shown, here: bool, words: &str) -> Line<'static> {
    let look = shown.session.look();
    let bold = Style::new().add_modifier(Modifier::BOLD);
    match here {
        true => text::styled(format!("{} {words}", look.signs().enter[1]), bold),
        false => text::styled(format!("  {words}"), Style::new()),
    }
}

/// Writes lines so that the one at `at` can be seen.
pub fn list(area: Rect, buf: &mut Buffer, lines: Vec<Line<'static>>, at: usize) {
    let before = lines
        .iter()
        .take(at)
        .map(|l| text::height(l.clone(), area.width));
    let before: u16 = before.sum();
    let from = before.saturating_sub(area.height / 2);
    text::scrolled(area, buf, lines, usize::from(from));
}
