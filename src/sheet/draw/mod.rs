//! The drawings of a handout, each made from the engine's own layout and steps.
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

/// Room for a drawing that fits both A4 and US Letter, mm: within margins of 12
/// mm, with a heading above it.
pub const PAPER: DVec2 = DVec2::new(178.0, 186.0);

/// How tall the drawing of a panel can be, mm, to leave room on the same page
/// for the list of its rounds, with a check box for each of the panels. If the
/// list does not fit, the drawing gets the whole page.
pub fn height(rounds: usize, panels: usize) -> f64 {
    // Heading, text and the head of the list; one line of it; lines with check
    // boxes take two.
    const WORDS: f64 = 54.0;
    let line = if panels > 4 { 10.5 } else { 6.6 };
    match LETTER - WORDS - line * rounds as f64 {
        left if left >= 90.0 => left.min(PAPER.y),
        _ => PAPER.y,
    }
}

/// The height of a US Letter page within its margins, mm; A4 is taller.
const LETTER: f64 = 251.0;

/// The largest length at which a bead is drawn, mm.
pub const LONGEST: f64 = 11.0;

/// The smallest type printed in a bead, mm: about 5 points.
pub const SMALLEST: f64 = 1.7;

/// How many more beads can be drawn one by one, so that the handout of a piece
/// with millions of beads is still a file that opens.
#[derive(Clone, Copy, Debug)]
pub struct Budget {
    left: usize,
}

/// The most beads drawn one by one in one drawing: a triangle of 60 rounds has
/// 5490.
const IN_ONE: usize = 6_000;

/// The most beads drawn one by one on one handout.
const IN_ALL: usize = 30_000;

/// The most beads that are drawn one by one: in one drawing, and on one
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
    /// Takes `beads` beads from the budget, if there are enough left.
    pub fn take(&mut self, beads: u32) -> bool {
        let beads = beads as usize;
        let may = beads <= IN_ONE && beads <= self.left;
        if may {
            self.left -= beads;
        }
        may
    }
}
