//! A round: stitch by stitch round the beads of the round before.
//!
//! The last stitch passes its new bead only; the step-up (inward the
//! step-down) is a step of its own and passes two beads, the one where the
//! round began and the first that it strung. A last gap that takes no bead has
//! no stitch: the step-down draws it together.

use super::{Draft, Steps};
use crate::beadwork::layout::Layout;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Panel, Round};
use crate::beadwork::project::Way;
use crate::beadwork::round_work::RoundWork;

/// One round worked on another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rounds {
    /// The panel.
    pub panel: Panel,
    /// The round it is worked on.
    pub on: Round,
}

impl Rounds {
    /// The work of the round.
    pub fn work<'a>(&self, layout: &'a Layout) -> RoundWork<'a> {
        let kind = layout.kind(self.panel);
        layout.making(self.panel).work(kind, self.on)
    }
}

/// Stitches of a round: one a gap, but for a last gap without a bead.
fn stitches(work: &RoundWork) -> u32 {
    work.gaps() - u32::from(work.in_gap(work.gaps() - 1) == 0)
}

impl Steps for Rounds {
    fn steps(&self, layout: &Layout) -> u32 {
        let work = self.work(layout);
        work.skipped() + stitches(&work) + 1
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let (work, kind) = (self.work(layout), layout.kind(self.panel));
        let old = |index| layout.bead(self.panel, work.on, index);
        let new = |n| layout.bead(self.panel, work.makes, work.new_bead(n));
        let round = Some(work.makes);
        let target = work.beads();
        if i < work.skipped() {
            let from = (work.entry + i) % work.gaps();
            let side = kind.side(work.on, from);
            let mut draft = Draft::new(Kind::Decrease)
                .at(round, Some(side))
                .counting(0, target);
            draft.pass(old((from + 1) % work.gaps()));
            return draft;
        }
        let j = i - work.skipped();
        if j == stitches(&work) {
            let turn = match layout.making(self.panel).begin.way() {
                Way::Outward => Kind::StepUp,
                Way::Inward => Kind::StepDown,
            };
            let mut draft = Draft::new(turn).at(round, None).counting(target, target);
            draft.pass(old(work.old_bead(0)));
            draft.pass(new(0));
            return draft;
        }
        let (before, after) = (work.strung_before(j), work.strung_before(j + 1));
        let (stitch, side) = match after - before {
            0 => (Kind::Decrease, kind.side(work.on, work.old_bead(j))),
            1 => (Kind::Stitch, kind.side(work.makes, work.new_bead(before))),
            _ => (Kind::Increase, kind.side(work.makes, work.new_bead(before))),
        };
        let mut draft = Draft::new(stitch)
            .at(round, Some(side))
            .counting(after, target);
        for n in before..after {
            draft.string(new(n));
        }
        if j + 1 < work.gaps() {
            draft.pass(old(work.old_bead(j + 1)));
        }
        draft
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        let work = self.work(layout);
        if i <= work.skipped() {
            return i;
        }
        let j = i - work.skipped();
        let (stitches, gaps) = (stitches(&work), work.gaps());
        let old = j.min(stitches).min(gaps - 1);
        let turn = if j > stitches { 2 } else { 0 };
        work.skipped() + old + work.strung_before(j.min(gaps)) + turn
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        let work = self.work(layout);
        work.strung_before(i.saturating_sub(work.skipped()).min(work.gaps()))
    }
}
