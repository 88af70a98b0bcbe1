//! The plan as a page for a beader: all its sentences, made here.
//!
//! | file | says |
//! |---|---|
//! | [`takes`] | beads, thread, time, size |
//! | [`lies`] | flatness, turning, openings |
//! | [`sewn`] | fullest holes, joins |
//! | [`confused`] | colours and letters |

mod confused;
mod lies;
mod say;
mod sewn;
mod takes;

pub use lies::law;
pub use say::{Unit, hours};

use super::Plan;
use std::fmt::Write as _;

/// A page being written.
struct Page<'a> {
    plan: &'a Plan,
    unit: Unit,
    text: String,
}

/// The whole page. Headings stand at the margin, what belongs to them is set
/// in by two.
pub fn page(title: &str, plan: &Plan, unit: Unit) -> String {
    let mut page = Page {
        plan,
        unit,
        text: format!("{title}\n"),
    };
    page.beads();
    page.thread();
    page.time();
    page.size();
    page.flatness();
    page.ring();
    page.openings();
    page.holes();
    page.joining();
    page.colours();
    page.cautions();
    page.text
}

impl Page<'_> {
    fn heading(&mut self, heading: &str) {
        let _ = write!(self.text, "\n{heading}\n");
    }

    fn line(&mut self, line: impl AsRef<str>) {
        let _ = writeln!(self.text, "  {}", line.as_ref());
    }

    fn cautions(&mut self) {
        self.heading("Take care");
        for line in CAUTIONS {
            self.line(line);
        }
    }
}

/// What can hurt.
const CAUTIONS: [&str; 4] = [
    "Needles and broken glass are sharp: protect your eyes when you break out a bead,",
    "and keep beads and needles from small children and pets. Rest your eyes and hands.",
    "Old and painted beads may contain lead. Never force a needle through a full bead:",
    "it can break.",
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Sequence, testing};
    use crate::plan::Wishes;

    #[test]
    fn a_ring_that_binds_hears_what_would_let_it_turn() {
        let seq = Sequence::new(testing::ring(6, 8, Closing::SetIn));
        let plan = Plan::of(&seq, Wishes::default());
        let page = page("Six", &plan, Unit::Millimetres);
        for words in [
            "no: 6 tetrahedra bind at the middle by 1.9 mm",
            "8 tetrahedra or more",
            "faces 20.8 mm high on the hinge (these are 18.0 mm)",
        ] {
            assert!(page.contains(words), "{words}\n{page}");
        }
    }

    #[test]
    fn lines_are_short_enough_to_read() {
        let seq = Sequence::new(testing::solid(Solid::Octahedron, 6, Closing::SetIn));
        let plan = Plan::of(&seq, Wishes::default());
        for line in page("Eight", &plan, Unit::Millimetres).lines() {
            assert!(line.chars().count() <= 110, "{line}");
        }
    }
}
