//! The movement in letters large enough to read from the bead mat, and a patch
//! of the bead's colour.

use super::text::{columns, line, rows};
use crate::beadwork::{Movement, Sequence};
use crate::screen::look::Look;
use ratatui::prelude::{Buffer, Line, Modifier, Rect, Style, Widget as _};
use tui_big_text::{BigText, PixelSize};
use unicode_width::UnicodeWidthStr as _;

/// The sizes of letters, from the largest: columns and rows of one letter.
const SIZES: [(PixelSize, u16, u16); 3] = [
    (PixelSize::Full, 8, 8),
    (PixelSize::HalfHeight, 8, 4),
    (PixelSize::Quadrant, 4, 4),
];

/// Writes a text as large as fits. With only ASCII, just the largest size can
/// be drawn, as reversed cells.
pub fn write(look: Look, text: &str, area: Rect, buf: &mut Buffer, style: Style) {
    let style = style.add_modifier(Modifier::BOLD);
    let letters = text.width() as u16;
    let sizes = SIZES
        .iter()
        .filter(|(size, ..)| look.unicode || *size == PixelSize::Full);
    let fits = |(_, wide, high): &&(PixelSize, u16, u16)| {
        letters.saturating_mul(*wide) <= area.width + 1 && *high <= area.height
    };
    // Characters that the large alphabet does not have would be missing from
    // the screen.
    let known = text.is_ascii();
    match sizes.clone().find(fits) {
        Some((size, _, high)) if known => {
            let area = rows(area, 0, *high);
            letters_in(text, *size, style, area, buf);
            if !look.unicode {
                as_reversed(area, buf, style);
            }
        }
        _ => {
            let middle = rows(area, area.height.saturating_sub(1) / 2, 1);
            let words = format!(" {} ", text.to_uppercase());
            line(middle, buf, &words, style.add_modifier(Modifier::REVERSED));
        }
    }
}

fn letters_in(text: &str, size: PixelSize, style: Style, area: Rect, buf: &mut Buffer) {
    let mut big = BigText::builder();
    let big = big.pixel_size(size).style(style);
    big.lines(vec![Line::from(text.to_string())])
        .build()
        .render(area, buf);
}

fn as_reversed(area: Rect, buf: &mut Buffer, style: Style) {
    for position in area.intersection(buf.area).positions() {
        let cell = &mut buf[position];
        if cell.symbol() != " " {
            cell.set_char(' ')
                .set_style(style.add_modifier(Modifier::REVERSED));
        }
    }
}

/// Columns that the patch takes.
pub fn patch_width(m: &Movement) -> u16 {
    8 * m.strings.len() as u16
}

/// A patch for each new bead: its colour, and its letter.
pub fn patch(look: Look, seq: &Sequence, m: &Movement, area: Rect, buf: &mut Buffer) {
    let count = m.strings.len() as u16;
    if count == 0 || area.is_empty() {
        return;
    }
    let wide = area.width / count;
    for (i, &bead) in m.strings.iter().enumerate() {
        let colour = seq.layout().colour(bead);
        let kind = seq.layout().bead_kind(colour);
        // A gap between two beads of the same colour.
        let gap = u16::from(count > 1);
        let one = columns(area, i as u16 * wide, wide.saturating_sub(gap));
        let style = look.solid(kind.colour);
        for position in one.intersection(buf.area).positions() {
            buf[position].set_char(' ').set_style(style);
        }
        let letter = kind.letter.to_string();
        let fits = |(_, wide, high): &&(PixelSize, u16, u16)| {
            *wide <= one.width && *high <= one.height && look.unicode && letter.is_ascii()
        };
        if let Some((size, wide, high)) = SIZES.iter().rev().filter(fits).max_by_key(|s| s.2) {
            let middle = Rect {
                x: one.x + (one.width - wide) / 2,
                y: one.y + (one.height - high) / 2,
                width: *wide,
                height: *high,
            };
            letters_in(&letter, *size, style, middle, buf);
        } else if one.width > 0 {
            let (x, y) = (one.x + one.width / 2, one.y + one.height / 2);
            buf.set_string(x, y, letter, style.add_modifier(Modifier::BOLD));
        }
    }
}
