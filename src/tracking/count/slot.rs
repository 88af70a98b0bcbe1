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

impl<'a> CountedRound<'a> {
    /// The round as it is worked on the round before, if it is.
    pub(super) fn round_work(&self) -> Option<RoundWork<'a>> {
        let layout = self.seq.layout();
        let panel = self.panel();
        let on = self.worked_on().filter(|_| !self.is_join_row())?;
        Some(layout.making(panel).work(layout.kind(panel), on))
    }

    /// The round's slots in working order; of an unfinished round, only gaps
    /// that are worked already.
    pub(super) fn slots(&self) -> Vec<Slot> {
        let done = self.gaps_done();
        let mut slots: Vec<Slot> = vec![];
        for gap in self.gaps().into_iter().take_while(|gap| gap.first < done) {
            match slots.last_mut() {
                Some(last) if last.is_like(&gap) => last.gaps += 1,
                _ => slots.push(gap),
            }
        }
        slots
    }

    /// How many gaps are worked, if the round is not finished; else
    /// [`u32::MAX`].
    fn gaps_done(&self) -> u32 {
        let Some(m) = self.last_of_unfinished() else {
            return u32::MAX;
        };
        let (mut filled, mut done) = (0, 0);
        for gap in self.gaps() {
            filled += gap.takes;
            if filled > m.round_beads {
                break;
            }
            if gap.takes > 0 {
                done = gap.first + 1;
            }
        }
        done + u32::from(matches!(m.kind, Kind::Decrease | Kind::PassThrough))
    }

    /// The round's gaps in working order.
    fn gaps(&self) -> Vec<Slot> {
        match self.round_work() {
            Some(work) => {
                let mut before = 0;
                let gaps = 0..work.gaps();
                gaps.map(|j| self.gap(&work, j, &mut before)).collect()
            }
            None => self.strung().into_iter().map(|(gap, _)| gap).collect(),
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

    /// The gaps of a round that is not worked on the round before, each with the
    /// step that works it: one for each bead of a string, or for each bead along
    /// the rim of an opening or the edge of the finished panel, and its corners.
    fn strung(&self) -> Vec<(Slot, Option<Step>)> {
        let (layout, panel, round) = (self.seq.layout(), self.panel(), self.round);
        let (kind, making) = (layout.kind(panel), layout.making(panel));
        let step_of = |bead| Some(self.seq.step_of(bead));
        if !self.is_join_row() && making.begin != Begin::Rim {
            let (start, beads) = (making.start(round), kind.in_round(round));
            let gap = |j| {
                let index = (start + j) % beads;
                let slot = Slot {
                    strung: true,
                    ..Slot::plain(kind.side(round, index), j)
                };
                (slot, step_of(layout.bead(panel, round, index)))
            };
            return (0..beads).map(gap).collect();
        }
        let mut gaps = vec![];
        for side in (0..kind.sides()).map(Side) {
            let row = layout.row_on(panel, side).filter(|_| self.is_join_row());
            let (beads, tips, next) = match row.map(|row| layout.row(row)) {
                // Tip beads belong to the side whose row they end.
                Some(row) => (row.beads, row.tips, side),
                None if self.is_join_row() => continue,
                None => (kind.on_side(round, side), 0, kind.next_side(side)),
            };
            let step = |at: u32| match row {
                Some(row) => step_of(layout.row_bead(row, at)),
                None => step_of(layout.edge_bead(panel, side, at)),
            };
            let first = gaps.len() as u32;
            gaps.extend((0..beads).map(|at| (Slot::plain(side, first + at), step(at))));
            let corner = Slot {
                takes: tips,
                next,
                corner: true,
                ..Slot::plain(side, first + beads)
            };
            let at_corner = match (tips, beads.checked_sub(1)) {
                (0, last) => last.and_then(step).map(|last| Step(last.0 + 1)),
                _ => step(beads),
            };
            gaps.push((corner, at_corner));
        }
        gaps
    }

    /// The step that works a gap of the round.
    pub(super) fn step_of_gap(&self, j: u32) -> Option<Step> {
        let Some(work) = self.round_work() else {
            return self.strung().get(j as usize)?.1;
        };
        let (layout, panel) = (self.seq.layout(), self.panel());
        let step_of = |nth| {
            let bead = layout.bead(panel, work.makes, work.new_bead(nth));
            self.seq.step_of(bead)
        };
        let before = work.strung_before(j);
        match work.in_gap(j) {
            0 => self.drawn_after(step_of(before.max(1) - 1)),
            _ => Some(step_of(before)),
        }
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
        let work = self.round_work().filter(RoundWork::steps_up)?;
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
