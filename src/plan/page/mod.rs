//! The plan as a page for a beader: all its sentences, made here.
//!
//! | file | says |
//! |---|---|
//! | [`takes`] | beads, thread, time, size |
//! | [`lies`] | flatness, turning, openings |
//! | [`sewn`] | fullest holes, joins |
//! | [`confused`] | colours and letters |
//! | [`ahead`] | what is left once the work goes |

mod ahead;
mod confused;
mod lies;
mod say;
mod sewn;
mod takes;

pub use lies::law;
pub use say::{Unit, hours};
pub use sewn::help_words;

use super::Plan;
use super::ahead::Ahead;
use std::fmt::Write as _;

/// One part of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is about.
    pub heading: &'static str,
    /// Its lines; what belongs to the line before is set in by two.
    pub lines: Vec<String>,
}

/// A page being written.
struct Page<'a> {
    plan: &'a Plan,
    unit: Unit,
    parts: Vec<Part>,
}

/// The whole page. Headings stand at the margin, what belongs to them is set
/// in by two.
pub fn page(title: &str, plan: &Plan, unit: Unit) -> String {
    let mut text = format!("{title}\n");
    for part in parts(plan, None, unit) {
        let _ = write!(text, "\n{}\n", part.heading);
        for line in part.lines {
            let _ = writeln!(text, "  {line}");
        }
    }
    text
}

/// The page part by part; what is still ahead first, if the work goes already.
pub fn parts(plan: &Plan, ahead: Option<&Ahead>, unit: Unit) -> Vec<Part> {
    let mut page = Page {
        plan,
        unit,
        parts: vec![],
    };
    if let Some(ahead) = ahead {
        page.ahead(ahead);
    }
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
    page.parts
}

impl Page<'_> {
    fn heading(&mut self, heading: &'static str) {
        let lines = vec![];
        self.parts.push(Part { heading, lines });
    }

    fn line(&mut self, line: impl AsRef<str>) {
        let part = self.parts.last_mut().expect("a heading comes first");
        part.lines.push(line.as_ref().to_string());
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
        let seq = Sequence::new(testing::ring(6, 12, Closing::SetIn));
        let plan = Plan::of(&seq, Wishes::default());
        let page = page("Six", &plan, Unit::Millimetres);
        for words in [
            "no: 6 tetrahedra bind at the middle by 0.9 mm",
            "8 tetrahedra or more",
            "faces 28.3 mm high on the hinge (these are 27.0 mm)",
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
