//! The half cells of the window: which bead lies behind each, and where beads
//! begin and end.
//!
//! ```text
//!   o o o . . .      a half cell is a border where the one above it or to
//!   o x x . x x      its right is another bead's, or a side is bare; so
//!   o x x . x x      neighbours share one line
//! ```

use super::view::Window;
use crate::beadwork::Bead;
use crate::beadwork::flat_face::{Brick, FlatFace};
use glam::DVec2;

/// A bead as shown in a half cell.
#[derive(Clone, Copy, Debug)]
pub struct SeenBead {
    pub bead: Bead,
    /// Its place.
    pub brick: Brick,
    /// Its kind, as an index.
    pub kind: usize,
    /// Whether it is in place.
    pub placed: bool,
}

/// What lies behind every half cell, and behind those just outside the window.
#[derive(Debug)]
pub struct Grid {
    /// Columns, including one beyond each edge.
    wide: usize,
    cells: Vec<Option<SeenBead>>,
}

impl Grid {
    /// Looks up every half cell once. If `halves` is false, both halves of a
    /// cell show what lies behind its middle.
    pub fn new(face: &FlatFace, window: &Window, strung: u32, halves: bool) -> Grid {
        let (wide, rows) = (i32::from(window.area.width), i32::from(window.area.height));
        let mut cells = Vec::with_capacity((wide as usize + 2) * (2 * rows as usize + 2));
        let mut last: Option<SeenBead> = None;
        for half in -1..=2 * rows {
            for column in -1..=wide {
                let down = match halves {
                    true => f64::from(half) + 0.5,
                    false => f64::from(half.div_euclid(2) * 2) + 1.0,
                };
                let point = window.point(DVec2::new(f64::from(column) + 0.5, down));
                // Most half cells show the same as the one before.
                let seen = match last {
                    Some(seen) if is_alone(&seen.brick, point) => last,
                    _ => face.at(point).map(|brick| match last {
                        Some(seen) if seen.brick.seat == brick.seat => seen,
                        _ => SeenBead::of(face, brick, strung),
                    }),
                };
                last = seen.or(last);
                cells.push(seen);
            }
        }
        let wide = wide as usize + 2;
        Grid { wide, cells }
    }

    fn index(&self, column: u16, half: u16) -> usize {
        (usize::from(half) + 1) * self.wide + usize::from(column) + 1
    }

    /// What lies behind a half cell of the window.
    pub fn at(&self, column: u16, half: u16) -> Option<&SeenBead> {
        self.cells[self.index(column, half)].as_ref()
    }

    /// Whether a bead ends there.
    pub fn is_border(&self, column: u16, half: u16) -> bool {
        let at = self.index(column, half);
        let bead = |at: usize| self.cells[at].as_ref().map(|seen| seen.bead);
        let here = bead(at);
        let (above, below) = (bead(at - self.wide), bead(at + self.wide));
        let (left, right) = (bead(at - 1), bead(at + 1));
        here.is_some() && (above != here || right != here || below.is_none() || left.is_none())
    }
}

/// Whether a point is so far inside a brick that it cannot be in another: away
/// from the corners bricks lie side by side, and overlap only at their ends.
fn is_alone(brick: &Brick, point: DVec2) -> bool {
    let (place, of) = (brick.seat.place, brick.seat.of);
    place >= 3 && place + 3 < of && brick.own(point).abs().max_element() < 0.85
}

impl SeenBead {
    /// A bead with this brick.
    pub fn of(face: &FlatFace, brick: Brick, strung: u32) -> SeenBead {
        let layout = face.layout();
        let bead = layout.bead_in(brick.seat);
        SeenBead {
            bead,
            brick,
            kind: usize::from(layout.colour_of(brick.seat).0),
            placed: bead.0 <= strung,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::{Panel, Side};
    use crate::screen::proof;
    use ratatui::layout::Rect;

    /// Every half cell shows the bead at its middle.
    #[test]
    fn half_cells_show_the_bead_behind_them() {
        let seq = proof::panel(3, 24);
        let face = FlatFace::new(seq.layout(), Panel(0), Side(1));
        for per_bead in [2.0, 5.0, 9.0] {
            let window = Window {
                area: Rect::new(0, 0, 80, 24),
                per_mm: per_bead / face.brick().x,
                centre: DVec2::new(1.0, 3.0),
                mirrored: per_bead == 5.0,
            };
            let grid = Grid::new(&face, &window, 20, true);
            for (half, column) in (0..48).flat_map(|half| (0..80).map(move |c| (half, c))) {
                let middle = DVec2::new(f64::from(column) + 0.5, f64::from(half) + 0.5);
                let there = face.at(window.point(middle)).map(|brick| brick.seat);
                let seen = grid.at(column, half).map(|seen| seen.brick.seat);
                assert_eq!(seen, there, "{column} {half}");
            }
        }
    }

    /// Between two beads there is always a border, and there is none inside a
    /// bead; checked by walking from cell to cell.
    #[test]
    fn neighbours_share_one_line() {
        let seq = proof::panel(3, 7);
        let face = FlatFace::new(seq.layout(), Panel(0), Side(0));
        let area = Rect::new(2, 1, 90, 30);
        let window = Window {
            area,
            per_mm: 9.0 / face.brick().x,
            centre: DVec2::new(0.0, 2.0),
            mirrored: false,
        };
        let grid = Grid::new(&face, &window, 20, true);
        let (mut borders, mut crossed) = (0, 0);
        for half in 1..60 {
            for column in 0..89 {
                let Some(here) = grid.at(column, half) else {
                    continue;
                };
                let border = grid.is_border(column, half);
                borders += usize::from(border);
                let right = grid.at(column + 1, half).map(|s| s.bead);
                let above = grid.at(column, half - 1).map(|s| s.bead);
                if [right, above].iter().any(|other| *other != Some(here.bead)) {
                    crossed += 1;
                    assert!(border, "{column} {half}");
                }
                let own = here
                    .brick
                    .own(window.point(DVec2::new(f64::from(column) + 0.5, f64::from(half) + 0.5)));
                // Beads are crowded round the middle of a panel.
                if own.abs().max_element() < 0.5 && here.brick.seat.round.0 > 3 {
                    assert!(!border, "{column} {half}");
                }
            }
        }
        assert!(
            crossed > 400 && borders < 2 * crossed,
            "{crossed} {borders}"
        );
    }
}
