//! What a panel begins with: beads strung one by one, before anything is worked on
//! them.
//!
//! - [`Ring`]: the ring in the middle, closed by going through its first bead again.
//! - [`FreeStart`]: rounds K and K−1 strung together and closed to a ring, as tubular
//!   peyote begins. Closing passes two beads, the first of each round, and so is a
//!   step-down already. Or a strip of rows K and K−1 for each side, all but the last
//!   with threads of their own, which the first corners draw together.
//! - [`TwoRows`]: rows 1 and 2 of a strip, row 2 first. Nothing closes them.

use super::{Draft, Steps};
use crate::beadwork::{Bead, Kind, Layout, Panel, Round, RoundWork};
use serde::{Deserialize, Serialize};

/// Bead `i` of a panel, of whose round so many are in place with it.
fn strung(layout: &Layout, panel: Panel, i: u32, in_place: u32) -> Draft {
    let kind = layout.kind(panel);
    let (round, index) = layout.making(panel).bead(kind, i);
    let mut draft = Draft::new(Kind::Ring)
        .at(Some(round), Some(kind.side(round, index)))
        .counting(in_place, kind.in_round(round));
    draft.string(Bead(layout.before_panel(panel) + i + 1));
    draft
}

/// Round 1 of a panel worked outward.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ring {
    /// The panel.
    pub panel: Panel,
}

impl Ring {
    fn beads(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).in_round(Round(1))
    }
}

impl Steps for Ring {
    fn steps(&self, layout: &Layout) -> u32 {
        self.beads(layout) + 1
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let beads = self.beads(layout);
        if i < beads {
            return strung(layout, self.panel, i, i + 1);
        }
        let mut closing = Draft::new(Kind::Ring)
            .at(Some(Round(1)), None)
            .counting(beads, beads);
        closing.pass(layout.bead(self.panel, Round(1), 0));
        closing
    }

    fn passes_before(&self, _: &Layout, i: u32) -> u32 {
        i
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        i.min(self.beads(layout))
    }
}

/// The string that an inward panel begins with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FreeStart {
    /// The panel.
    pub panel: Panel,
}

impl FreeStart {
    fn work<'a>(&self, layout: &'a Layout) -> RoundWork<'a> {
        layout.work(self.panel, layout.kind(self.panel).last())
    }

    /// The numbers of steps after which a strip is whole and the next one begins
    /// with a thread of its own; none if all is one string.
    pub fn strip_ends(&self, layout: &Layout) -> Vec<u32> {
        let kind = layout.kind(self.panel);
        let side = |i: u32| {
            let (round, index) = layout.making(self.panel).bead(kind, i);
            kind.side(round, index)
        };
        match layout.begins_with_strips(self.panel) {
            true => (1..self.beads(layout))
                .filter(|&i| side(i) != side(i - 1))
                .collect(),
            false => vec![],
        }
    }

    fn beads(&self, layout: &Layout) -> u32 {
        let work = self.work(layout);
        work.gaps() + work.beads()
    }
}

impl Steps for FreeStart {
    fn steps(&self, layout: &Layout) -> u32 {
        self.beads(layout) + 1
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let work = self.work(layout);
        if i < self.beads(layout) {
            // Bead i is outer bead j, or lies behind it.
            let outer = work.old_in_string(i);
            let is_outer = outer + work.strung_before(outer) == i;
            let in_place = if is_outer { outer + 1 } else { i - outer };
            return strung(layout, self.panel, i, in_place);
        }
        let bead = |round, index| layout.bead(self.panel, round, index);
        let mut closing = Draft::new(Kind::StepDown)
            .at(Some(work.makes), None)
            .counting(work.beads(), work.beads());
        closing.pass(bead(work.on, work.old_bead(0)));
        closing.pass(bead(work.makes, work.new_bead(0)));
        closing
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        i + u32::from(i > self.beads(layout))
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        i.min(self.beads(layout))
    }
}

/// Rows 1 and 2 of a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TwoRows {
    /// The panel.
    pub panel: Panel,
}

impl Steps for TwoRows {
    fn steps(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).before(Round(3))
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        strung(layout, self.panel, i, i / 2 + 1)
    }

    fn passes_before(&self, _: &Layout, i: u32) -> u32 {
        i
    }

    fn strung_before(&self, _: &Layout, i: u32) -> u32 {
        i
    }
}
