//! The drawings of a handout, each from the engine's own layout and steps.
//!
//! | file | draws |
//! |---|---|
//! | [`panel`](mod@panel) | a panel bead by bead, or a large one by its rounds |
//! | [`join`] | a zip, a fill, a tie, a hinge |
//! | [`net`](mod@net) | the faces laid out flat, and which sides meet |
//! | `covered` | letters moved to where their beads are seen |

mod covered;
pub mod join;
pub mod net;
pub mod panel;

pub use panel::panel;

use glam::DVec2;

/// Room for a drawing on A4 and on US Letter alike, mm: between margins of
/// 12 mm, with a heading over it.
pub const PAPER: DVec2 = DVec2::new(178.0, 186.0);

/// How tall the drawing of a panel may be, mm, so that the list of its rounds,
/// with a box for each of the panels, has room on the same page. Where it has
/// none the drawing has the page for itself.
pub fn height(rounds: usize, panels: usize) -> f64 {
    // Heading, words and the head of the list; a line of it; boxes take two.
    const WORDS: f64 = 54.0;
    let line = if panels > 4 { 10.5 } else { 6.6 };
    match LETTER - WORDS - line * rounds as f64 {
        left if left >= 90.0 => left.min(PAPER.y),
        _ => PAPER.y,
    }
}

/// The height of a page of US Letter within its margins, mm; A4 is taller.
const LETTER: f64 = 251.0;

/// The longest that a bead is drawn, mm.
pub const LONGEST: f64 = 11.0;

/// The smallest type that is printed in a bead, mm: about 5 points.
pub const SMALLEST: f64 = 1.7;

/// How many beads may still be drawn one by one, so that a handout of a piece
/// of millions stays a file that opens.
#[derive(Clone, Copy, Debug)]
pub struct Budget {
    left: usize,
}

/// Beads drawn one by one in one drawing: a triangle of 60 rounds has 5490.
const IN_ONE: usize = 6_000;

/// Beads drawn one by one on one handout.
const IN_ALL: usize = 30_000;

/// How many beads are drawn one by one at most: in one drawing, and on one
/// handout.
#[cfg(test)]
pub(super) fn limits() -> (usize, usize) {
    (IN_ONE, IN_ALL)
}

impl Default for Budget {
    fn default() -> Self {
        Budget { left: IN_ALL }
    }
}

impl Budget {
    /// Takes so many beads out of it, if they are not too many.
    pub fn take(&mut self, beads: u32) -> bool {
        let beads = beads as usize;
        let may = beads <= IN_ONE && beads <= self.left;
        if may {
            self.left -= beads;
        }
        may
    }
}
