//! A round: stitch by stitch round the beads of the round before.
//!
//! The last stitch passes its new bead only; the step-up (inward the
//! step-down) is a step of its own and passes two beads, the one where the
//! round began and the first that it strung. A last gap that takes no bead has
//! no stitch: the step-down draws it together.
//!
//! A row of a strip has neither: its last stitch goes through the up bead at
//! the edge, and the next row begins there.

use super::{Draft, Holes, Steps};
use crate::beadwork::{
    Bead, Hole, Kind, Layout, Panel, PanelLayout, Round, RoundWork, WorkDirection,
};
use serde::{Deserialize, Serialize};

/// One round worked on another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Rounds {
    /// The panel.
    pub panel: Panel,
    /// The round it is worked on.
    pub on: Round,
}

impl Rounds {
    /// The work of the round, ready to be asked step by step.
    pub fn ready<'a>(&self, layout: &'a Layout) -> ReadyRound<'a> {
        ReadyRound {
            layout,
            kind: layout.kind(self.panel),
            panel: self.panel,
            work: layout.work(self.panel, self.on),
        }
    }
}

/// A round with all that is the same for each of its steps.
#[derive(Clone, Copy, Debug)]
pub struct ReadyRound<'a> {
    layout: &'a Layout,
    kind: &'a PanelLayout,
    panel: Panel,
    work: RoundWork<'a>,
}

impl ReadyRound<'_> {
    /// Stitches: one a gap, but for a last gap without a bead.
    fn stitches(&self) -> u32 {
        self.work.gaps() - u32::from(self.work.ends_drawn())
    }

    fn worked(&self, index: u32) -> Bead {
        self.layout.bead(self.panel, self.work.on, index)
    }

    fn strung(&self, nth: u32) -> Bead {
        let index = self.work.new_bead(nth);
        self.layout.bead(self.panel, self.work.makes, index)
    }

    /// Step `i` of the round, from 0.
    pub fn step(&self, i: u32) -> Draft {
        let skipped = self.work.skipped();
        if i < skipped {
            return self.drawn_first(i);
        }
        match i - skipped {
            j if j == self.stitches() => self.turn(),
            j => self.stitch(j),
        }
    }

    /// A corner drawn together before the first bead.
    fn drawn_first(&self, i: u32) -> Draft {
        let work = &self.work;
        let from = (work.entry + i) % work.gaps();
        let mut draft = Draft::new(Kind::Decrease)
            .at(Some(work.makes), Some(self.kind.side(work.on, from)))
            .counting(0, work.beads());
        draft.pass(self.worked((from + 1) % work.gaps()));
        draft
    }

    fn stitch(&self, j: u32) -> Draft {
        let work = &self.work;
        let (before, in_gap) = work.gap(j);
        let side = match in_gap {
            0 => self.kind.side(work.on, work.old_bead(j)),
            _ => self.kind.side(work.makes, work.new_bead(before)),
        };
        let beads = (before..before + in_gap).map(|nth| self.strung(nth));
        let mut draft = Draft::into_gap(beads)
            .at(Some(work.makes), Some(side))
            .counting(before + in_gap, work.beads());
        if j + 1 < work.gaps() || !work.steps_up() {
            draft.pass(self.worked(work.old_bead(j + 1)));
        }
        draft
    }

    /// The step-up or step-down.
    fn turn(&self) -> Draft {
        let work = &self.work;
        let turn = match self.layout.making(self.panel).begin.way() {
            WorkDirection::Outward => Kind::StepUp,
            WorkDirection::Inward => Kind::StepDown,
        };
        let target = work.beads();
        let mut draft = Draft::new(turn)
            .at(Some(work.makes), None)
            .counting(target, target);
        draft.pass(self.worked(work.old_bead(0)));
        draft.pass(self.strung(0));
        draft
    }
}

impl Steps for Rounds {
    fn steps(&self, layout: &Layout) -> u32 {
        let ready = self.ready(layout);
        ready.work.skipped() + ready.stitches() + u32::from(ready.work.steps_up())
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        self.ready(layout).step(i)
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        let ready = self.ready(layout);
        let work = &ready.work;
        if i <= work.skipped() {
            return i;
        }
        let j = i - work.skipped();
        let (stitches, gaps) = (ready.stitches(), work.gaps());
        let old = match work.steps_up() {
            true => j.min(stitches).min(gaps - 1),
            false => j.min(gaps),
        };
        let turn = if j > stitches { 2 } else { 0 };
        work.skipped() + old + work.strung_before(j.min(gaps)) + turn
    }

    fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
        let work = self.ready(layout).work;
        work.strung_before(i.saturating_sub(work.skipped()).min(work.gaps()))
    }

    fn holes(&self, layout: &Layout, i: u32) -> Holes {
        let ready = self.ready(layout);
        let (draft, by) = (ready.step(i), ready.work.leaves_by());
        let hole = |&bead: &Bead| match draft.strings.contains(&bead) {
            true => Hole::front(bead),
            false => Hole { bead, end: by },
        };
        draft.passes.iter().map(hole).collect()
    }
}
