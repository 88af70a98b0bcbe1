//! A painted picture drawn in cells: quarters of a cell with colours and
//! non-ASCII characters, coloured cells with ASCII only, and signs without
//! colour.
//!
//! A cell has two colours, so its four quarters are divided into two groups,
//! starting from the two colours that are farthest apart.

use super::labels::{Label, word};
use crate::beadwork::{BeadKind, Rgb};
use crate::geometry::SideState;
use crate::picture::{Painted, Picture, SolidPainter, SpotKind};
use crate::screen::look::{Depth, Look, bold};
use ratatui::prelude::{Buffer, Color, Modifier, Rect, Style};

/// Spots of the picture in a cell, across and down.
pub const CELL: (usize, usize) = (2, 2);
/// The sign for each combination of quarters: 1 the upper left, 2 the upper
/// right, 4 the lower left, 8 the lower right.
const QUARTERS: [char; 16] = [
    ' ', '▘', '▝', '▀', '▖', '▌', '▞', '▛', '▗', '▚', '▐', '▜', '▄', '▙', '▟', '█',
];
/// All pairs of the four quarters.
const PAIRS: [(usize, usize); 6] = [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)];
/// Colours closer than this (sum of squares) count as one in a cell.
const NEAR: i32 = 150;
/// Signs from dark to light, for when there is no colour and no state is shown.
const RAMP: &[u8; 8] = b".,:;-=+*";

/// The size in spots of a picture for this many columns and rows, and how many
/// spots side by side are as wide as one is high: a cell is about twice as high
/// as wide.
pub fn on_cells(wide: u16, high: u16) -> ((usize, usize), f64) {
    let size = (CELL.0 * usize::from(wide), CELL.1 * usize::from(high));
    (size, 2.0 * CELL.0 as f64 / CELL.1 as f64)
}

/// Paints a picture in cells, [`CELL`] of its spots for each cell of the area.
pub fn show(look: Look, painter: &SolidPainter, seen: &Picture, area: Rect, buf: &mut Buffer) {
    let (across, down) = seen.size;
    let all = (0..down).flat_map(|y| (0..across).map(move |x| (x, y)));
    let spots: Vec<_> = all
        .map(|(x, y)| seen.at(x, y).map(|spot| painter.paint(seen, spot)))
        .collect();
    let beads = painter.layout.bead_kinds();
    put(
        look,
        &spots,
        beads,
        painter.has_room_for_letters(seen),
        area,
        buf,
    );
}

/// Draws painted spots in cells, row by row.
fn put(
    look: Look,
    spots: &[Option<Painted>],
    beads: &[BeadKind],
    letters: bool,
    area: Rect,
    buf: &mut Buffer,
) {
    let wide = CELL.0 * usize::from(area.width);
    let mut known = Known::default();
    for y in 0..usize::from(area.height) {
        for x in 0..usize::from(area.width) {
            let first = CELL.1 * y * wide + CELL.0 * x;
            let four = [0, 1, wide, wide + 1].map(|to| spots[first + to]);
            let Some(one) = strongest(&four) else {
                continue;
            };
            let cell = &mut buf[(area.x + x as u16, area.y + y as u16)];
            let (sign, style) = match (look.depth, look.unicode) {
                (Depth::None, _) => sign(one, beads, letters),
                (_, true) => quarters(&four, |rgb| known.colour(look, rgb)),
                (_, false) => (' ', Style::new().bg(known.colour(look, one.rgb))),
            };
            cell.set_char(sign).set_style(style);
        }
    }
}

/// Writes labels over a picture.
pub fn label(look: Look, labels: &[Label], area: Rect, buf: &mut Buffer) {
    for label in labels {
        let (x, y) = (label.at.0 as u16, label.at.1 as u16);
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

/// Four quarters as a sign and its two colours.
fn quarters(four: &[Option<Painted>; 4], mut colour: impl FnMut(Rgb) -> Color) -> (char, Style) {
    let seen = || four.iter().flatten().map(|spot| spot.rgb);
    if seen().count() < 4 {
        let mask = (0..4).filter(|i| four[*i].is_some());
        let sign = QUARTERS[mask.map(|i| 1 << i).sum::<usize>()];
        return (sign, Style::new().fg(colour(mean(seen()))));
    }
    let all = four.map(|spot| spot.map_or(Rgb(0, 0, 0), |s| s.rgb));
    if all.iter().all(|rgb| *rgb == all[0]) {
        return (' ', Style::new().bg(colour(all[0])));
    }
    let mut most = (0, 0, 0);
    for (i, j) in PAIRS {
        let apart = between(all[i], all[j]);
        if apart > most.0 {
            most = (apart, i, j);
        }
    }
    let (apart, i, j) = most;
    if apart <= NEAR {
        return (' ', Style::new().bg(colour(mean(seen()))));
    }
    let is_front = |rgb: &Rgb| between(*rgb, all[i]) <= between(*rgb, all[j]);
    let mask = (0..4).filter(|n| is_front(&all[*n])).map(|n| 1 << n);
    let sign = QUARTERS[mask.sum::<usize>()];
    let front = mean(seen().filter(is_front));
    let back = mean(seen().filter(|rgb| !is_front(rgb)));
    (sign, Style::new().fg(colour(front)).bg(colour(back)))
}

/// The distance between two colours: the sum of squares.
fn between(a: Rgb, b: Rgb) -> i32 {
    let one = |x: u8, y: u8| (i32::from(x) - i32::from(y)).pow(2);
    one(a.0, b.0) + one(a.1, b.1) + one(a.2, b.2)
}

fn mean(of: impl Iterator<Item = Rgb>) -> Rgb {
    let (mut sum, mut n) = ([0u32; 3], 0);
    for Rgb(r, g, b) in of {
        sum = [
            sum[0] + u32::from(r),
            sum[1] + u32::from(g),
            sum[2] + u32::from(b),
        ];
        n += 1;
    }
    let [r, g, b] = sum.map(|c| (c / n.max(1)) as u8);
    Rgb(r, g, b)
}

/// Which of four spots a cell shows if there is room for only one: sides before
/// faces, and the current work before all else.
fn strongest(four: &[Option<Painted>; 4]) -> Option<Painted> {
    let rank = |spot: &Painted| match spot.kind {
        SpotKind::Face { .. } => 1,
        SpotKind::Side(SideState::Free, _) => 2,
        SpotKind::Side(SideState::Joined, _) => 3,
        SpotKind::Side(SideState::Waiting, _) => 4,
        SpotKind::Side(SideState::Now, _) => 5,
    };
    four.iter().rev().flatten().max_by_key(|s| rank(s)).copied()
}

/// The sign of a spot without colour.
fn sign(spot: Painted, beads: &[BeadKind], letters: bool) -> (char, Style) {
    let plain = Style::new();
    match spot.kind {
        SpotKind::Side(SideState::Now, _) => ('#', bold()),
        SpotKind::Side(SideState::Waiting, _) => ('%', bold()),
        SpotKind::Side(_, runs) => (runs, bold()),
        SpotKind::Face { bead: None, .. } => (' ', plain),
        SpotKind::Face {
            bead: Some(colour), ..
        } if letters => (beads[usize::from(colour.0)].letter, plain),
        SpotKind::Face {
            state: Some(state), ..
        } => (word(state).0, plain),
        SpotKind::Face { shade, .. } => {
            let at = usize::from(shade) * RAMP.len() / 16;
            (char::from(RAMP[at.min(RAMP.len() - 1)]), plain)
        }
    }
}

/// Colours already looked up for this picture, so that each is looked up once.
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
        // A few bits fewer: the 256 colours are farther apart than that.
        let Rgb(r, g, b) = rgb;
        let near = |c: u8| (c & 0xf8) | 4;
        let key = Rgb(near(r), near(g), near(b));
        let colour = *self.all.entry(key).or_insert_with(|| look.nearest(key));
        self.last = Some((rgb, colour));
        colour
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOLD: Rgb = Rgb(220, 170, 40);
    const BLUE: Rgb = Rgb(40, 60, 140);

    fn spot(rgb: Rgb) -> Option<Painted> {
        Some(Painted {
            rgb,
            kind: SpotKind::Face {
                bead: None,
                shade: 0,
                state: None,
            },
        })
    }

    fn shown(four: [Option<Painted>; 4]) -> (char, Style) {
        quarters(&four, |Rgb(r, g, b)| Color::Rgb(r, g, b))
    }

    #[test]
    fn a_cell_groups_its_quarters_by_colour() {
        let (gold, blue) = (spot(GOLD), spot(BLUE));
        let style = |front: Rgb, back: Option<Rgb>| {
            let of = |Rgb(r, g, b): Rgb| Color::Rgb(r, g, b);
            let style = Style::new().fg(of(front));
            back.map_or(style, |back| style.bg(of(back)))
        };
        assert_eq!(
            shown([gold, blue, gold, blue]),
            ('▌', style(GOLD, Some(BLUE)))
        );
        assert_eq!(
            shown([gold, gold, blue, gold]),
            ('▜', style(GOLD, Some(BLUE)))
        );
        // The screen's own background shows where nothing is drawn.
        assert_eq!(shown([None, blue, None, None]), ('▝', style(BLUE, None)));
        let Rgb(r, g, b) = GOLD;
        let plain = Style::new().bg(Color::Rgb(r, g, b));
        assert_eq!(shown([gold; 4]), (' ', plain));
    }

    #[test]
    fn where_there_is_room_for_one_the_current_work_shows() {
        let now = Some(Painted {
            rgb: GOLD,
            kind: SpotKind::Side(SideState::Now, '-'),
        });
        assert_eq!(strongest(&[spot(BLUE), None, now, spot(BLUE)]), now);
        assert_eq!(strongest(&[None; 4]), None);
    }
}
