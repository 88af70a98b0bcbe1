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
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

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

    /// Draws a bead with its upper left cell at `x`, `y`, which can lie
    /// outside.
    pub fn brick(&mut self, look: Look, scale: Scale, x: i32, y: i32, bead: Drawn) {
        let (wide, high) = (scale.wide, 2 * scale.half);
        let letter = (x + (wide - 1) / 2, y + (scale.half - 1).max(0));
        let letter = match wide {
            2 => (x, y),
            _ => letter,
        };
        if bead.mark == Some(BeadMark::Seat) || !bead.placed {
            self.hollow(look, (wide, high), (x, y), letter, bead);
        } else {
            self.solid(look, (wide, high), (x, y), letter, bead);
        }
    }

    fn solid(
        &mut self,
        look: Look,
        (wide, high): (i32, i32),
        (x, y): (i32, i32),
        letter: (i32, i32),
        bead: Drawn,
    ) {
        let signs = look.signs();
        let (solid, edge) = (look.solid(bead.colour), look.brick_edge(bead.colour));
        for row in 0..high {
            for col in 0..wide {
                let (sign, style) = if col + 1 == wide && wide > 2 {
                    (signs.edge, edge)
                } else if row + 1 == high {
                    (signs.floor, edge)
                } else {
                    (' ', solid)
                };
                self.put(x + col, y + row, sign, style);
            }
        }
        self.put(letter.0, letter.1, bead.letter, solid);
        let floor = y + high - 1;
        match bead.mark {
            Some(BeadMark::Enter(number, _)) => {
                let arrow = signs.enter[usize::from(bead.rightward)];
                for row in y + high / 2..=floor {
                    for col in 0..wide {
                        self.put(x + col, row, arrow, look.enter());
                    }
                }
                if let Some(n) = number {
                    let digit = char::from_digit(n as u32 % 10, 10).unwrap_or('+');
                    self.put(x + (wide - 1) / 2, floor, digit, look.enter());
                }
            }
            Some(BeadMark::Leaves) => {
                for row in y + high / 2..=floor {
                    for col in 0..wide {
                        self.put(x + col, row, ' ', look.needle());
                    }
                }
                for col in 0..wide {
                    self.put(x + col, floor, signs.rule[0], look.needle());
                }
                self.put(x + (wide - 1) / 2, floor, signs.needle, look.needle());
            }
            _ => {}
        }
    }

    fn hollow(
        &mut self,
        look: Look,
        (wide, high): (i32, i32),
        (x, y): (i32, i32),
        letter: (i32, i32),
        bead: Drawn,
    ) {
        let signs = look.signs();
        let seat = bead.mark == Some(BeadMark::Seat);
        let (frame, style) = match (seat, bead.mark) {
            (true, _) => (signs.seat, look.seat()),
            (_, Some(_)) => (signs.hollow, look.enter_sign()),
            _ => (signs.hollow, look.hollow()),
        };
        let [
            upper_left,
            upper_right,
            lower_left,
            lower_right,
            across,
            down,
        ] = frame;
        for row in 0..high {
            for col in 0..wide {
                let (left, right) = (col == 0, col + 1 == wide);
                let sign = match (row == 0, row + 1 == high) {
                    (true, _) if left => upper_left,
                    (true, _) if right => upper_right,
                    (_, true) if left => lower_left,
                    (_, true) if right => lower_right,
                    (false, false) if left || right => down,
                    (true, _) | (_, true) => across,
                    _ => ' ',
                };
                self.put(x + col, y + row, sign, style);
            }
        }
        self.put(letter.0, letter.1, bead.letter, style);
        if let Some(BeadMark::Enter(number, _)) = bead.mark {
            let arrow = signs.enter[usize::from(bead.rightward)];
            let digit = number.and_then(|n| char::from_digit(n as u32 % 10, 10));
            let sign = digit.unwrap_or(arrow);
            self.put(x + (wide - 1) / 2, y + high - 1, sign, style);
        }
    }
}
