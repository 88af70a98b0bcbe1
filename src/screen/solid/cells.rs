//! A painted picture put on cells: half-blocks where there are colours and
//! letters beyond ASCII, coloured cells where there is ASCII only, and signs
//! where there is no colour.

use super::labels::Label;
use super::paint::{Painted, Stroke};
use crate::beadwork::{BeadKind, Rgb};
use crate::screen::look::{Depth, Look};
use crate::sight::SideState;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier, Style};

/// Signs from dark to light, where there is no colour.
const RAMP: &[u8; 8] = b".,:;-=+*";

/// Puts a picture on cells: `spots` row by row, two rows of them for each row
/// of the area, and labels over it.
pub fn put(
    look: Look,
    spots: &[Option<Painted>],
    beads: &[BeadKind],
    letters: bool,
    labels: &[Label],
    area: Rect,
    buf: &mut Buffer,
) {
    let wide = usize::from(area.width);
    let mut known = Known::default();
    for y in 0..usize::from(area.height) {
        for x in 0..wide {
            let above = spots[2 * y * wide + x];
            let below = spots[(2 * y + 1) * wide + x];
            let cell = &mut buf[(area.x + x as u16, area.y + y as u16)];
            let colour = |rgb| known.colour(look, rgb);
            match (look.depth, look.unicode) {
                (Depth::None, _) => {
                    let Some(one) = stronger(above, below) else {
                        continue;
                    };
                    let (sign, style) = sign(one, beads, letters);
                    cell.set_char(sign).set_style(style);
                }
                (_, true) => blocks(cell, above, below, colour),
                (_, false) => {
                    if let Some(one) = stronger(above, below) {
                        let style = Style::new().bg(known.colour(look, one.rgb));
                        cell.set_char(' ').set_style(style);
                    }
                }
            }
        }
    }
    for label in labels {
        let (x, y) = (label.at.0 as u16, (label.at.1 / 2) as u16);
        if y >= area.height || x >= area.width {
            continue;
        }
        let style = match (look.depth, label.now) {
            (_, true) => look.ahead(),
            (Depth::None, _) => Style::new().add_modifier(Modifier::REVERSED),
            _ => look.solid(Rgb(16, 18, 22)).add_modifier(Modifier::BOLD),
        };
        let room = usize::from(area.width - x);
        buf.set_stringn(area.x + x, area.y + y, &label.text, room, style);
    }
}

/// One cell of two spots.
fn blocks(
    cell: &mut ratatui::buffer::Cell,
    above: Option<Painted>,
    below: Option<Painted>,
    mut colour: impl FnMut(Rgb) -> Color,
) {
    let (sign, style) = match (above, below) {
        (None, None) => return,
        (Some(a), None) => ('▀', Style::new().fg(colour(a.rgb))),
        (None, Some(b)) => ('▄', Style::new().fg(colour(b.rgb))),
        (Some(a), Some(b)) => {
            let (a, b) = (colour(a.rgb), colour(b.rgb));
            match a == b {
                true => (' ', Style::new().bg(a)),
                false => ('▀', Style::new().fg(a).bg(b)),
            }
        }
    };
    cell.set_char(sign).set_style(style);
}

/// Which of two spots a cell shows that has room for one: the side before the
/// face, what is worked before all.
fn stronger(above: Option<Painted>, below: Option<Painted>) -> Option<Painted> {
    let rank = |spot: &Option<Painted>| match spot.map(|s| s.stroke) {
        None => 0,
        Some(Stroke::Face(..)) => 1,
        Some(Stroke::Side(SideState::Free, _)) => 2,
        Some(Stroke::Side(SideState::Joined, _)) => 3,
        Some(Stroke::Side(SideState::Waiting, _)) => 4,
        Some(Stroke::Side(SideState::Now, _)) => 5,
    };
    match rank(&below) > rank(&above) {
        true => below,
        false => above,
    }
}

/// The sign of a spot without colour.
fn sign(spot: Painted, beads: &[BeadKind], letters: bool) -> (char, Style) {
    let plain = Style::new();
    let bold = Style::new().add_modifier(Modifier::BOLD);
    match spot.stroke {
        Stroke::Side(SideState::Now, _) => ('#', bold),
        Stroke::Side(SideState::Waiting, _) => ('%', bold),
        Stroke::Side(_, runs) => (runs, bold),
        Stroke::Face(None, _) => (' ', plain),
        Stroke::Face(Some(colour), _) if letters => (beads[usize::from(colour.0)].letter, plain),
        Stroke::Face(Some(_), shade) => {
            let at = usize::from(shade) * RAMP.len() / 16;
            (char::from(RAMP[at.min(RAMP.len() - 1)]), plain)
        }
    }
}

/// Colours looked for in this picture, so that each is looked for once.
#[derive(Default)]
struct Known {
    last: Option<(Rgb, Color)>,
    all: std::collections::HashMap<Rgb, Color>,
}

impl Known {
    fn colour(&mut self, look: Look, rgb: Rgb) -> Color {
        if look.depth == Depth::True {
            return look.colour(rgb);
        }
        if let Some((_, colour)) = self.last.filter(|(known, _)| *known == rgb) {
            return colour;
        }
        // A few bits less: the 256 colours are farther apart than that.
        let Rgb(r, g, b) = rgb;
        let near = |c: u8| (c & 0xf8) | 4;
        let key = Rgb(near(r), near(g), near(b));
        let colour = *self.all.entry(key).or_insert_with(|| look.nearest(key));
        self.last = Some((rgb, colour));
        colour
    }
}
