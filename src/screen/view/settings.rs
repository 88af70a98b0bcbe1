//! The settings.

use super::text::{self, rows};
use super::{Shown, foot};
use crate::screen::keys::Place;
use crate::screen::settings::LINES;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// Draws the settings, the maker on line `at`.
pub fn draw(shown: &Shown, at: usize, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let look = session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Settings, rows(area, area.height - 1, 1), buf);
    let word = foot::word_rows(shown, area.width);
    foot::write_word(
        shown,
        rows(area, area.height.saturating_sub(1 + word), word),
        buf,
    );
    text::line(
        rows(area, 1, 1),
        buf,
        " Kept with this piece:",
        look.quiet(),
    );
    let space = rows(area, 2, area.height.saturating_sub(3 + word));
    let high = usize::from(space.height.max(1));
    let from = at.saturating_sub(high.saturating_sub(1)).min(LINES.len());
    for (row, line) in LINES.iter().enumerate().skip(from).take(high) {
        let (what, how) = line.words(&session.piece.state().settings);
        let space = rows(space, (row - from) as u16, 1);
        let style = match row == at {
            true => look.bar(),
            false => Style::new(),
        };
        let how = format!("[{how}]");
        let wide = usize::from(space.width)
            .saturating_sub(how.len() + 4)
            .min(60);
        let what = super::super::picture::fit(&what, wide);
        text::band(space, buf, &format!("  {what:wide$} {how}"), style);
    }
}
