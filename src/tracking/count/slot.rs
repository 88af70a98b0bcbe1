//! The slots of a round: its gaps in working order, with neighbouring gaps of
//! the same kind combined, so that a mistake is simulated once for all of them.
//!
//! ```text
//! a side of five and the corner after it, worked inward
//!       o . o . o . o . o  (none)  o . o …
//!         1   1   1   1      0       1
//! slots   [ side 1, four gaps ]  [ corner ]  [ side 2 …
//! ```

use super::mistake::CountedRound;
use crate::beadwork::making::Begin;
use crate::beadwork::project::Growth;
use crate::beadwork::round_work::RoundWork;
use crate::beadwork::{Kind, Round, Side, Step};

/// Neighbouring gaps of a round of the same kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Slot {
    /// Beads that each takes: 0, 1 or 2.
    pub takes: u32,
    /// The side, or the side that ends at the corner.
    pub side: Side,
    /// The side after the corner; the same side if it is not a corner.
    pub next: Side,
    /// Whether it is a corner.
    pub corner: bool,
    /// Whether the beads are strung to a ring and not into gaps.
    pub strung: bool,
    /// The first gap, from 0 at the beginning of the round.
    pub first: u32,
    /// How many gaps.
    pub gaps: u32,
}

impl Slot {
    /// A gap that takes one bead, not at a corner.
    fn plain(side: Side, first: u32) -> Slot {
        Slot {
            takes: 1,
            side,
            next: side,
            corner: false,
            strung: false,
            first,
            gaps: 1,
        }
    }

    fn is_like(&self, other: &Slot) -> bool {
        Slot {
            first: other.first,
            gaps: other.gaps,
            ..*self
        } == *other
    }
}

/// What a round is worked on, which has its gaps.
pub(super) enum GapBase<'a> {
    /// The string that the panel begins with.
    String,
    /// The round before.
    Round(RoundWork<'a>),
    /// The rim of an opening.
    Rim,
    /// The edge of the finished panel.
    Edge,
}

impl<'a> CountedRound<'a> {
    pub(super) fn gap_base(&self) -> GapBase<'a> {
        let layout = self.seq.layout();
        let panel = self.panel();
        let making = layout.making(panel);
        match self.worked_on() {
            _ if self.is_join_row() => GapBase::Edge,
            Some(on) => GapBase::Round(making.work(layout.kind(panel), on)),
            None if making.begin == Begin::Rim => GapBase::Rim,
            None => GapBase::String,
        }
    }

    /// The round's slots in working order; with `done`, only gaps that are
    /// worked already.
    pub(super) fn slots(&self, done: bool) -> Vec<Slot> {
        let mut slots: Vec<Slot> = vec![];
        let all = match done {
            true => self.gaps_done(),
            false => u32::MAX,
        };
        self.each_gap(|slot| {
            let end = slot.first + slot.gaps;
            if end > all {
                return false;
            }
            match slots.last_mut() {
                Some(last) if last.is_like(&slot) => last.gaps += slot.gaps,
                _ => slots.push(slot),
            }
            true
        });
        slots
    }

    /// How many gaps are worked, if the round is not finished; else
    /// [`u32::MAX`].
    fn gaps_done(&self) -> u32 {
        let Some(m) = self.last_of_unfinished() else {
            return u32::MAX;
        };
        let drawn = u32::from(matches!(m.kind, Kind::Decrease | Kind::PassThrough));
        let (mut filled, mut after_corner, mut gap) = (0, 0, 0);
        self.each_gap(|slot| {
            gap = slot.first + slot.gaps;
            filled += slot.takes;
            if filled <= m.round_beads && slot.takes > 0 {
                after_corner = gap;
            }
            filled < m.round_beads
        });
        after_corner + drawn
    }

    /// Calls `each` for gap after gap until it returns false.
    fn each_gap(&self, mut each: impl FnMut(Slot) -> bool) {
        match self.gap_base() {
            GapBase::Round(work) => {
                let mut before = 0;
                for j in 0..work.gaps() {
                    let slot = self.gap(&work, j, &mut before);
                    if !each(slot) {
                        return;
                    }
                }
            }
            GapBase::String => {
                let kind = self.seq.layout().kind(self.panel());
                let start = self.seq.layout().making(self.panel()).start(self.round);
                let beads = kind.in_round(self.round);
                for j in 0..beads {
                    let side = kind.side(self.round, (start + j) % beads);
                    let slot = Slot {
                        strung: true,
                        ..Slot::plain(side, j)
                    };
                    if !each(slot) {
                        return;
                    }
                }
            }
            GapBase::Rim | GapBase::Edge => {
                for slot in self.edge_slots() {
                    // Bead by bead, since a side may be partly worked.
                    for first in slot.first..slot.first + slot.gaps {
                        let gap = Slot {
                            first,
                            gaps: 1,
                            ..slot
                        };
                        if !each(gap) {
                            return;
                        }
                    }
                }
            }
        }
    }

    /// Gap `j` of a round worked on another; `before` counts the beads strung
    /// before it.
    fn gap(&self, work: &RoundWork<'_>, j: u32, before: &mut u32) -> Slot {
        let kind = self.seq.layout().kind(self.panel());
        let takes = work.in_gap(j);
        let nth = *before;
        *before += takes;
        let old = |j| kind.side(work.on, work.old_bead(j));
        let new = |n| kind.side(work.makes, work.new_bead(n));
        let between = old(j) != old(j + 1);
        let (side, next, corner) = match takes {
            0 => (old(j), old(j + 1), between),
            1 => {
                let corner = between && self.is_corner_gap(work.on);
                (new(nth), new(nth), corner)
            }
            _ => (new(nth), new(nth + 1), new(nth) != new(nth + 1)),
        };
        Slot {
            takes,
            next,
            corner,
            ..Slot::plain(side, j)
        }
    }

    /// Whether a corner law makes gaps of the corners of a round.
    fn is_corner_gap(&self, on: Round) -> bool {
        let layout = self.seq.layout();
        let panel = self.panel();
        let spec = &layout.project().panels[layout.panel(panel).spec];
        matches!(spec.growth, Growth::Law(_) | Growth::Own(_)) && layout.kind(panel).corner(on) != 1
    }

    /// A side worked along an edge, and the corner after it.
    fn along_an_edge(&self, side: Side, first: u32) -> [Option<Slot>; 2] {
        let layout = self.seq.layout();
        let kind = layout.kind(self.panel());
        let next = kind.next_side(side);
        let (beads, tips, after_corner) = if self.is_join_row() {
            let Some(row) = layout.row_on(self.panel(), side) else {
                return [None, None];
            };
            let row = layout.row(row);
            // Tip beads belong to the side whose row they end.
            (row.beads, row.tips, side)
        } else {
            (kind.on_side(self.round, side), 0, next)
        };
        let along = Slot {
            gaps: beads,
            ..Slot::plain(side, first)
        };
        let corner = Slot {
            takes: tips,
            next: after_corner,
            corner: true,
            ..Slot::plain(side, first + beads)
        };
        [(beads > 0).then_some(along), Some(corner)]
    }

    /// The slots of a round worked along an edge, side by side.
    fn edge_slots(&self) -> impl Iterator<Item = Slot> {
        let sides = self.seq.layout().kind(self.panel()).sides();
        let mut first = 0;
        (0..sides).map(Side).flat_map(move |side| {
            let slots = self.along_an_edge(side, first);
            let last = slots.iter().flatten().last();
            first = last.map_or(first, |slot| slot.first + slot.gaps);
            slots.into_iter().flatten()
        })
    }

    /// The step that works a gap of the round.
    pub(super) fn step_of_gap(&self, j: u32) -> Option<Step> {
        let layout = self.seq.layout();
        let panel = self.panel();
        match self.gap_base() {
            GapBase::String => {
                let start = layout.making(panel).start(self.round);
                let index = (start + j) % layout.kind(panel).in_round(self.round);
                Some(self.seq.step_of(layout.bead(panel, self.round, index)))
            }
            GapBase::Round(work) => {
                let before = work.strung_before(j);
                if work.in_gap(j) > 0 {
                    let index = work.new_bead(before);
                    return Some(self.seq.step_of(layout.bead(panel, work.makes, index)));
                }
                let last = layout.bead(panel, work.makes, work.new_bead(before.max(1) - 1));
                self.drawn_after(self.seq.step_of(last))
            }
            GapBase::Rim | GapBase::Edge => self.step_along_an_edge(j),
        }
    }

    fn step_along_an_edge(&self, j: u32) -> Option<Step> {
        let layout = self.seq.layout();
        let panel = self.panel();
        let holds = |slot: &Slot| (slot.first..slot.first + slot.gaps).contains(&j);
        let slot = self.edge_slots().find(holds)?;
        let side = slot.side;
        let row = layout.row_on(panel, side).filter(|_| self.is_join_row());
        let along = |at: u32| match row {
            Some(row) => layout.row_bead(row, at),
            None => layout.edge_bead(panel, side, at),
        };
        if !slot.corner {
            return Some(self.seq.step_of(along(j - slot.first)));
        }
        let beads = match row {
            Some(row) => layout.row(row).beads,
            None => layout.kind(panel).on_side(self.round, side),
        };
        if slot.takes > 0 {
            return Some(self.seq.step_of(along(beads)));
        }
        let last = beads.checked_sub(1)?;
        Some(Step(self.seq.step_of(along(last)).0 + 1))
    }

    /// The step after `strung` that pulls a corner together; a new thread may
    /// be started between the two.
    fn drawn_after(&self, strung: Step) -> Option<Step> {
        let draws = |kind| matches!(kind, Kind::Decrease | Kind::StepUp | Kind::StepDown);
        let mut steps = self.seq.iter_from(Step(strung.0 + 1));
        steps.find(|m| draws(m.kind)).map(|m| m.step)
    }

    /// The step-up or step-down at the end of the round.
    pub(super) fn turn(&self) -> Option<Step> {
        let GapBase::Round(work) = self.gap_base() else {
            return None;
        };
        if !work.steps_up() {
            return None;
        }
        let layout = self.seq.layout();
        let last = work.new_bead(work.beads().checked_sub(1)?);
        let strung = self
            .seq
            .step_of(layout.bead(self.panel(), work.makes, last));
        let turns = |kind| matches!(kind, Kind::StepUp | Kind::StepDown);
        let mut steps = self.seq.iter_from(Step(strung.0 + 1));
        steps.find(|m| turns(m.kind)).map(|m| m.step)
    }
}
