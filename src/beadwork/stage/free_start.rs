//! A free start: rounds K and K−1 strung together and closed to a ring, as
//! tubular peyote begins. Closing passes two beads, the first of each round,
//! and so is a step-down already.
//!
//! Or a strip of rows K and K−1 for each side, all but the last with threads of
//! their own, which the first corners draw together.

use super::{Draft, Steps};
use crate::beadwork::layout::Layout;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Bead, Panel};
use crate::beadwork::round_work::RoundWork;
use serde::{Deserialize, Serialize};

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
        let bead = |round, index| layout.bead(self.panel, round, index);
        if i == work.gaps() + work.beads() {
            let mut draft = Draft::new(Kind::StepDown)
                .at(Some(work.makes), None)
                .counting(work.beads(), work.beads());
            draft.pass(bead(work.on, work.old_bead(0)));
            draft.pass(bead(work.makes, work.new_bead(0)));
            return draft;
        }
        let kind = layout.kind(self.panel);
        let (round, index) = layout.making(self.panel).bead(kind, i);
        let first = bead(work.on, work.old_bead(0));
        // Beads up to this one are those of the one round and of the other.
        let strung = i + 1;
        let inner = strung_inner(&work, i, round == work.makes);
        let (beads, target) = if round == work.makes {
            (inner, work.beads())
        } else {
            (strung - inner, work.gaps())
        };
        let mut draft = Draft::new(Kind::Ring)
            .at(Some(round), Some(kind.side(round, index)))
            .counting(beads, target);
        draft.string(Bead(first.0 + i));
        draft
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        i + u32::from(i > self.beads(layout))
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        i.min(self.beads(layout))
    }
}

/// How many of the beads 0 to `i` of the string belong to the inner round.
fn strung_inner(work: &RoundWork, i: u32, is_inner: bool) -> u32 {
    // Bead i is inner bead i − j − 1, behind outer bead j; or outer bead j
    // with i − j inner beads before it.
    let outer = work.old_in_string(i);
    match is_inner {
        true => i - outer,
        false => work.strung_before(outer),
    }
}
