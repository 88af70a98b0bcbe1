//! One bead as a brick of cells.
//!
//! ```text
//! in place    to come     new bead    enter here
//!  S ▕        ┌S╌┐        ╔S═╗         S ▕
//!  ▁▁▁▕       └╌╌┘        ╚══╝        ◀1◀◀
//! ```

use super::marks::BeadMark;
use crate::beadwork::Rgb;
use crate::screen::look::Look;
use ratatui::prelude::{Buffer, Position, Rect, Style};
use std::ops::RangeInclusive;

/// How large a bead is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    /// Cells along the hole.
    pub wide: i32,
    /// Rows of half a bead.
    pub half: i32,
}

/// The scales at which a whole side can be shown, from the largest.
pub const FULL_SIDES: [Scale; 5] = [
    Scale { wide: 10, half: 3 },
    Scale { wide: 6, half: 2 },
    Scale { wide: 5, half: 2 },
    LONG,
    LONG_NARROW,
];

/// For a side that does not fit: letter and mark are still easy to see.
pub const LONG: Scale = Scale { wide: 4, half: 1 };

/// The same where there is little room.
pub const LONG_NARROW: Scale = Scale { wide: 3, half: 1 };

/// A bead to draw.
#[derive(Clone, Copy, Debug)]
pub struct Drawn {
    pub letter: char,
    pub colour: Rgb,
    /// Whether it is in place.
    pub placed: bool,
    /// How it is marked.
    pub mark: Option<BeadMark>,
    /// Whether the needle that enters it goes to the right on the screen.
    pub rightward: bool,
}

/// The part of the buffer in which a picture is drawn.
pub struct Canvas<'a> {
    pub buf: &'a mut Buffer,
    /// The part.
    pub area: Rect,
}

impl Canvas<'_> {
    fn put(&mut self, x: i32, y: i32, sign: char, style: Style) {
        let (Ok(x), Ok(y)) = (u16::try_from(x), u16::try_from(y)) else {
            return;
        };
        let at = Position { x, y };
        if self.area.contains(at)
            && let Some(cell) = self.buf.cell_mut(at)
        {
            cell.set_char(sign).set_style(style);
        }
    }

    /// Puts a sign into every cell of these columns and rows.
    fn fill(
        &mut self,
        columns: RangeInclusive<i32>,
        rows: RangeInclusive<i32>,
        sign: char,
        style: Style,
    ) {
        let seen = |cells: RangeInclusive<i32>, from: u16, to: u16| {
            let (first, last) = cells.into_inner();
            first.clamp(from.into(), to.into()) as u16
                ..(last + 1).clamp(from.into(), to.into()) as u16
        };
        let area = self.area.intersection(self.buf.area);
        let columns = seen(columns, area.x, area.right());
        for y in seen(rows, area.y, area.bottom()) {
            for x in columns.clone() {
                self.buf[(x, y)].set_char(sign).set_style(style);
            }
        }
    }

    /// Draws a bead with its upper left cell at `x`, `y`, which can lie
    /// outside.
    pub fn brick(&mut self, look: Look, scale: Scale, x: i32, y: i32, bead: Drawn) {
        let (right, floor) = (x + scale.wide - 1, y + 2 * scale.half - 1);
        let is_solid = bead.placed && bead.mark != Some(BeadMark::Seat);
        let letter = match is_solid {
            true => self.solid(look, (x..=right, y..=floor), bead),
            false => self.hollow(look, (x..=right, y..=floor), bead),
        };
        let middle = x + (scale.wide - 1) / 2;
        self.put(middle, y + scale.half - 1, bead.letter, letter);
        self.mark(
            look,
            (x..=right, y + scale.half..=floor),
            middle,
            bead,
            is_solid,
        );
    }

    /// A bead in place; returns the style of its letter.
    fn solid(&mut self, look: Look, (xs, ys): Cells, bead: Drawn) -> Style {
        let signs = look.signs();
        let (solid, edge) = (look.solid(bead.colour), look.brick_edge(bead.colour));
        let ((left, right), (top, floor)) = (xs.into_inner(), ys.into_inner());
        self.fill(left..=right - 1, top..=floor - 1, ' ', solid);
        self.fill(left..=right - 1, floor..=floor, signs.floor, edge);
        self.fill(right..=right, top..=floor, signs.edge, edge);
        solid
    }

    /// A bead to come, or a new one; returns the style of its letter.
    fn hollow(&mut self, look: Look, (xs, ys): Cells, bead: Drawn) -> Style {
        let signs = look.signs();
        let (frame, style) = match bead.mark {
            Some(BeadMark::Seat) => (signs.seat, look.seat()),
            Some(_) => (signs.hollow, look.enter_sign()),
            None => (signs.hollow, look.hollow()),
        };
        let [
            upper_left,
            upper_right,
            lower_left,
            lower_right,
            across,
            down,
        ] = frame;
        let ((left, right), (top, floor)) = (xs.into_inner(), ys.into_inner());
        let inner = (left + 1..=right - 1, top + 1..=floor - 1);
        self.fill(inner.0.clone(), inner.1.clone(), ' ', style);
        for x in [left, right] {
            self.fill(x..=x, inner.1.clone(), down, style);
        }
        for y in [top, floor] {
            self.fill(inner.0.clone(), y..=y, across, style);
        }
        self.put(left, top, upper_left, style);
        self.put(right, top, upper_right, style);
        self.put(left, floor, lower_left, style);
        self.put(right, floor, lower_right, style);
        style
    }

    /// Where the needle enters or leaves, in the lower half of a bead.
    fn mark(&mut self, look: Look, (xs, ys): Cells, middle: i32, bead: Drawn, is_solid: bool) {
        let (signs, floor) = (look.signs(), *ys.end());
        match bead.mark {
            Some(BeadMark::Enter(number, _)) => {
                let arrow = signs.enter[usize::from(bead.rightward)];
                let digit = |n: usize| char::from_digit(n as u32 % 10, 10).unwrap_or('+');
                let sign = number.map_or(arrow, digit);
                if is_solid {
                    self.fill(xs, ys, arrow, look.enter());
                    self.put(middle, floor, sign, look.enter());
                } else {
                    self.put(middle, floor, sign, look.enter_sign());
                }
            }
            Some(BeadMark::Leaves) if is_solid => {
                self.fill(xs.clone(), ys, ' ', look.needle());
                self.fill(xs, floor..=floor, signs.rule[0], look.needle());
                self.put(middle, floor, signs.needle, look.needle());
            }
            _ => {}
        }
    }
}

/// Columns and rows.
type Cells = (RangeInclusive<i32>, RangeInclusive<i32>);
