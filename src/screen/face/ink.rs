//! What a cell is drawn with: two halves, one above the other, each a part of a
//! bead or bare.
//!
//! | | in place | to come |
//! |---|---|---|
//! | large | solid, a darker line round it | a faint line round nothing |
//! | small | solid | a faint grain |
//!
//! So what is in place and what is to come differ without colour.

use crate::beadwork::Rgb;
use crate::screen::look::{Depth, Look};
use ratatui::prelude::{Color, Modifier, Style};

/// What half a cell shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// No beadwork.
    Bare,
    /// A bead in place.
    Solid(Rgb),
    /// The border of a bead in place.
    Border(Rgb),
    /// A bead to come, drawn small.
    Grain(Rgb),
    /// The border of a bead to come.
    Line(Rgb),
}

/// A half cell as the terminal can show it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum HalfCell {
    None,
    Full(Color),
    Faint(Rgb),
}

/// A colour blended towards the background.
fn faded(Rgb(r, g, b): Rgb) -> Rgb {
    let fade = |c: u8| (u16::from(c) * 2 / 5 + 40) as u8;
    Rgb(fade(r), fade(g), fade(b))
}

fn half(look: Look, ink: Ink) -> HalfCell {
    let few = matches!(look.depth, Depth::Sixteen | Depth::None);
    match ink {
        Ink::Bare => HalfCell::None,
        Ink::Solid(rgb) => HalfCell::Full(look.colour(rgb)),
        // With few colours, a shade may be the colour itself.
        Ink::Border(_) if few => HalfCell::None,
        Ink::Border(rgb) => HalfCell::Full(look.brick_edge(rgb).fg.unwrap_or(Color::Reset)),
        Ink::Line(rgb) if few => HalfCell::Faint(rgb),
        Ink::Line(rgb) => HalfCell::Full(look.colour(faded(rgb))),
        Ink::Grain(rgb) => HalfCell::Faint(rgb),
    }
}

/// The sign and the style for the two halves.
pub fn cell(look: Look, upper: Ink, lower: Ink) -> (char, Style) {
    let (upper, lower) = (half(look, upper), half(look, lower));
    let style = Style::new();
    match look.depth {
        Depth::None => {
            let dim = style.add_modifier(Modifier::DIM);
            match (upper, lower) {
                (HalfCell::None, HalfCell::None) => (' ', style),
                _ if !look.unicode => match (upper, lower) {
                    (HalfCell::Full(_), _) | (_, HalfCell::Full(_)) => ('#', style),
                    _ => ('.', dim),
                },
                (HalfCell::Full(_), HalfCell::Full(_)) => ('█', style),
                (HalfCell::Full(_), _) => ('▀', style),
                (_, HalfCell::Full(_)) => ('▄', style),
                _ => ('░', dim),
            }
        }
        _ if !look.unicode => match (upper, lower) {
            (HalfCell::Full(c), _) | (_, HalfCell::Full(c)) => (' ', style.bg(c)),
            (HalfCell::Faint(c), _) | (_, HalfCell::Faint(c)) => ('.', style.fg(look.colour(c))),
            _ => (' ', style),
        },
        _ => match (upper, lower) {
            (HalfCell::None, HalfCell::None) => (' ', style),
            (HalfCell::Full(a), HalfCell::Full(b)) if a == b => (' ', style.bg(a)),
            (HalfCell::Full(a), HalfCell::Full(b)) => ('▀', style.fg(a).bg(b)),
            (HalfCell::Full(a), HalfCell::None) => ('▀', style.fg(a)),
            (HalfCell::None, HalfCell::Full(b)) => ('▄', style.fg(b)),
            (HalfCell::Full(a), HalfCell::Faint(b)) => ('▀', style.fg(a).bg(look.colour(faded(b)))),
            (HalfCell::Faint(a), HalfCell::Full(b)) => ('▄', style.fg(b).bg(look.colour(faded(a)))),
            (HalfCell::Faint(a), HalfCell::Faint(b)) if look.depth == Depth::Sixteen => {
                let _ = b;
                ('▒', style.fg(look.colour(a)))
            }
            (HalfCell::Faint(a), HalfCell::Faint(b)) => {
                ('▒', style.fg(look.colour(a)).bg(look.colour(faded(b))))
            }
            (HalfCell::Faint(a), HalfCell::None) | (HalfCell::None, HalfCell::Faint(a)) => {
                ('░', style.fg(look.colour(a)))
            }
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::look::Ground;

    const BLUE: Rgb = Rgb(36, 48, 196);

    fn look(depth: Depth, unicode: bool) -> Look {
        let ground = Ground::Dark;
        Look {
            depth,
            unicode,
            ground,
        }
    }

    #[test]
    fn in_place_and_to_come_differ_without_colour() {
        for unicode in [true, false] {
            for depth in Depth::ALL.map(|(_, depth)| depth) {
                let look = look(depth, unicode);
                let there = cell(look, Ink::Solid(BLUE), Ink::Solid(BLUE)).0;
                let to_come = cell(look, Ink::Grain(BLUE), Ink::Grain(BLUE)).0;
                assert_ne!(there, to_come, "{depth:?}");
            }
        }
    }

    #[test]
    fn without_colours_none_is_used() {
        let look = look(Depth::None, true);
        let inks = [
            Ink::Bare,
            Ink::Solid(BLUE),
            Ink::Border(BLUE),
            Ink::Grain(BLUE),
            Ink::Line(BLUE),
        ];
        for (upper, lower) in inks.iter().flat_map(|a| inks.map(|b| (*a, b))) {
            let (_, style) = cell(look, upper, lower);
            assert!(style.fg.is_none() && style.bg.is_none());
        }
    }

    #[test]
    fn two_colours_share_a_cell() {
        let look = look(Depth::True, true);
        let red = Rgb(200, 0, 0);
        let (sign, style) = cell(look, Ink::Solid(red), Ink::Solid(BLUE));
        assert_eq!(sign, '▀');
        assert_eq!(
            (style.fg, style.bg),
            (Some(look.colour(red)), Some(look.colour(BLUE)))
        );
    }
}
