//! Join rows: a bead in each gap of a side's edge, and tip beads, if the
//! pattern wants them, in the corner after it.

use super::end::BeadEnd;
use super::finding::Fault;
use super::reading::ReadJob;
use super::verify_state::VerifyState;
use crate::beadwork::movement::Movement;
use crate::beadwork::number::{Bead, Job, Panel, Side};
use crate::beadwork::own_rounds::RowGap;

#[derive(Debug)]
pub(super) struct RowWork {
    panel: Panel,
    sides: Vec<Side>,
    tips: usize,
    /// Number of join beads in each row, if not one in each gap.
    beads: Option<u32>,
    /// Gaps that hold a number of beads other than planned.
    as_stitched: Vec<RowGap>,
    /// Number of gaps of the current side that are worked.
    worked: usize,
    /// Number of join beads in each of them.
    held: Vec<usize>,
    /// The current side, its up beads, and its join beads so far.
    nth: usize,
    edge: Vec<Bead>,
    strung: Vec<Bead>,
}

impl RowWork {
    pub fn new(
        job: Job,
        panel: Panel,
        (sides, beads, as_stitched): (&[Side], Option<u32>, &[RowGap]),
        state: &mut VerifyState,
    ) -> Self {
        let mut work = RowWork {
            panel,
            sides: sides.to_vec(),
            tips: state.tips(job) as usize,
            beads,
            as_stitched: as_stitched.to_vec(),
            worked: 0,
            held: vec![],
            nth: 0,
            edge: vec![],
            strung: vec![],
        };
        work.begin_row(state);
        work
    }

    fn side(&self) -> Option<(Panel, Side)> {
        let side = self.sides.get(self.nth)?;
        Some((self.panel, *side))
    }

    /// Starts the current side; one without gaps is done at once.
    fn begin_row(&mut self, state: &mut VerifyState) {
        while let Some(side) = self.side() {
            self.edge = state.edge(side).unwrap_or_default();
            if self.edge.len() > 1 || self.tips > 0 {
                return;
            }
            self.end_row(side, state);
        }
    }

    fn end_row(&mut self, (panel, side): (Panel, Side), state: &mut VerifyState) {
        let mut beads = std::mem::take(&mut self.strung);
        let gaps = std::mem::take(&mut self.held);
        beads.truncate(gaps.iter().sum());
        if !state.ledger.add_row((panel, side), beads, gaps) {
            state.record(Fault::SideUsedTwice { panel, side });
        }
        self.nth += 1;
        self.worked = 0;
    }

    /// Number of join beads in each gap of the current side.
    fn word(&self) -> Vec<usize> {
        let gaps = self.edge.len().saturating_sub(1);
        let mut word = evenly(self.beads.map_or(gaps, |beads| beads as usize), gaps);
        let own = |gap: &&RowGap| Some((gap.panel, gap.side)) == self.side();
        for gap in self.as_stitched.iter().filter(own) {
            if let Some(beads) = word.get_mut(gap.gap as usize) {
                *beads = gap.beads.into();
            }
        }
        word
    }
}

impl ReadJob for RowWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        let Some((panel, side)) = self.side() else {
            state.unexpected(m, None);
            return;
        };
        state.check_side(m, side);
        let gaps = self.edge.len().saturating_sub(1);
        let at = self.worked;
        let is_tip = at >= gaps;
        let (beads, next) = if is_tip {
            let [_, next] = state.ledger.neighbours((panel, side));
            let next = state.ledger.edge(next).and_then(<[Bead]>::first).copied();
            (self.tips, next)
        } else {
            (self.word()[at], self.edge.get(at + 1).copied())
        };
        state.check_fill(m, at, beads);
        if let Some(&from) = self.edge.get(at.min(gaps)) {
            state.must_leave(BeadEnd::front(from));
        }
        state.check_old_bead(m, next);
        let before = m.strings.last().or(self.edge.get(at.min(gaps))).copied();
        if let (Some(bead), Some(next)) = (before, next) {
            state.draw_together(BeadEnd::front(bead), BeadEnd::back(next));
        }
        if is_tip {
            state.ledger.add_tips((panel, side), &m.strings);
            for end in m.strings.iter().flat_map(|&tip| BeadEnd::both(tip)) {
                state.thread.corners.add(end, (panel, side));
            }
        }
        self.strung.extend(&m.strings);
        if !is_tip {
            self.held.push(m.strings.len());
        }
        self.worked += 1;
        let row: usize = self.word().iter().sum();
        state.check_counts(m, self.strung.len(), row + self.tips);
        if is_tip || (self.worked == gaps && self.tips == 0) {
            self.end_row((panel, side), state);
            self.begin_row(state);
        }
    }

    fn finish(&mut self, state: &mut VerifyState) {
        if self.side().is_some() {
            state.record(Fault::JobUnfinished);
        }
    }
}

/// How many beads lie in each gap when `beads` beads are spread evenly over
/// `gaps` gaps, symmetrically about the middle.
pub(super) fn evenly(beads: usize, gaps: usize) -> Vec<usize> {
    let before = |gap: usize| (gap as f64 * beads as f64 / gaps as f64 + 0.5).floor() as usize;
    (0..gaps).map(|gap| before(gap + 1) - before(gap)).collect()
}
