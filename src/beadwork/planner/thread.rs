//! Thread: taken up, ended, and renewed where it would not last.

use super::Planner;
use crate::beadwork::number::last_where;
use crate::beadwork::route::{self, WOVEN};
use crate::beadwork::stage::{Path, RowStage, Steps, Through};
use crate::beadwork::{Change, Hole, Kind, RowGap, Run, Stage};

/// Beads through which an end is woven in for a piece with short ends.
const SHORT: usize = 4;

impl Planner {
    /// Number of beads that the current thread, or the next one, can go
    /// through.
    fn usable(&self) -> u64 {
        let usable = self.work.thread_choice().thread.usable_mm();
        (usable / self.layout().pass_mm()).max(1.0) as u64
    }

    /// Number of beads that the current thread can still go through.
    fn reach(&self) -> u64 {
        self.usable().saturating_sub(self.work.passes_of_thread())
    }

    pub(super) fn take_thread(&mut self, through: Vec<Hole>) {
        self.add(through, Kind::StartThread);
    }

    pub(super) fn end_thread(&mut self) {
        if let Some(needle) = self.work.needle() {
            let beads = self.way_of_end(needle, 0);
            self.add(beads, Kind::EndThread);
        }
    }

    /// Takes up a new thread, woven in so that it comes out at a hole.
    pub(super) fn take_thread_to(&mut self, to: Hole) {
        // The same path in the other direction: from the bead's other end.
        let way = self.way_of_end(to.through(), 1);
        let back = way.into_iter().rev().map(Hole::through);
        self.take_thread(back.chain([to]).collect());
    }

    /// The path of an end that must also pass `besides` other beads.
    fn way_of_end(&mut self, leaving: Hole, besides: usize) -> Vec<Hole> {
        match self.work.goal().short_ends {
            false => self.weave_in(leaving, WOVEN - besides),
            true => route::weave_in(self.work.touching(), leaving, SHORT - besides),
        }
    }

    fn add(&mut self, beads: Vec<Hole>, kind: Kind) {
        let stage = Stage::from(Through::new(kind, Path::Beads(beads.into())));
        let to = stage.steps(self.layout());
        self.work.run(Run { stage, from: 0, to });
    }

    fn renew_thread(&mut self, at: Hole) {
        self.end_thread();
        self.take_thread_to(at);
    }

    /// Adds a stage, renewing thread before it or within it where the thread
    /// would not last.
    pub(super) fn push(&mut self, stage: impl Into<Stage>) {
        self.push_from(stage.into(), 0);
    }

    /// Adds the rest of a stage of which `from` steps are already made.
    pub(super) fn push_from(&mut self, stage: Stage, mut from: u32) {
        for end in stage.strip_ends(self.layout()) {
            if end < from {
                continue;
            }
            if end > from {
                self.push_part(stage.clone(), from, end);
                from = end;
            }
            if !self.work.has_fresh_thread() {
                self.end_thread();
                self.take_thread(vec![]);
            }
        }
        for gap in self.row_gaps(&stage, from) {
            if gap.gap > from {
                self.push_part(stage.clone(), from, gap.gap);
                from = gap.gap;
            }
            self.work.change(Change::RowAsStitched(gap));
        }
        let to = stage.steps(self.layout());
        self.push_part(stage, from, to);
    }

    /// The gaps of a join row, from one on, where the goal asks for another number of beads.
    fn row_gaps(&self, stage: &Stage, from: u32) -> Vec<RowGap> {
        let Stage::RowStage(RowStage { row }) = stage else {
            return vec![];
        };
        let row = self.layout().row(*row);
        let planned = self.work.goal()[row.panel].row_gaps.iter();
        let is_other = |gap: &&RowGap| {
            let is_ahead = gap.side == row.side && (from..row.gaps).contains(&gap.gap);
            is_ahead && row.in_gap(gap.gap, row.gaps).len() != usize::from(gap.beads)
        };
        planned.filter(is_other).copied().collect()
    }

    fn push_part(&mut self, stage: Stage, mut from: u32, to: u32) {
        let mut fresh = false;
        loop {
            let done = stage.passes_before(self.layout(), from);
            let all = stage.passes_before(self.layout(), to);
            let reach = self.reach();
            if u64::from(all - done) <= reach || !stage.can_be_parted() {
                self.run(stage, from, to);
                return;
            }
            let most = done.saturating_add(reach as u32);
            let at = self.break_before(&stage, from, most, fresh);
            fresh = at == from;
            if at > from {
                let hole = stage.leaves(self.layout(), at - 1);
                self.run(stage.clone(), from, at);
                self.renew_thread(hole.expect("such a step goes through beads"));
            } else {
                // Not one more step is possible: renew first. A new thread
                // always lasts for a few steps, so this ends.
                if let Some(needle) = self.work.needle() {
                    self.renew_thread(needle);
                }
                if self.work.needle().is_none() || self.reach() < 8 {
                    self.work.run(Run { stage, from, to });
                    return;
                }
            }
            from = at;
        }
    }

    /// The best place to renew thread: after the last step for which the thread
    /// lasts, moved back into the middle of a side if a corner is near; or,
    /// with thread that is not new, before the stage continues at all.
    fn break_before(&self, stage: &Stage, from: u32, passes: u32, fresh: bool) -> u32 {
        let steps = stage.steps(self.layout());
        let lasts = |i| stage.passes_before(self.layout(), i) <= passes;
        let last = last_where(from..steps, lasts);
        let quiet =
            |i: &u32| stage.is_mid_side(self.layout(), *i - 1) && !stage.draws(self.layout(), *i);
        let earliest = last.saturating_sub(64).max(from + 1);
        let steps = || (earliest..=last).rev();
        let held = |i: &u32| !stage.draws(self.layout(), *i);
        let at = steps().find(quiet).or_else(|| steps().find(held));
        at.unwrap_or(if fresh { last } else { from })
    }
}
