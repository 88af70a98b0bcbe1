//! Thread: taken up, ended, and renewed where it would not last.

use super::{Builder, WOVEN};
use crate::beadwork::end::{End, Hole};
use crate::beadwork::movement::Kind;
use crate::beadwork::number::Bead;
use crate::beadwork::route;
use crate::beadwork::stage::{Run, Stage, Steps, Through};

impl Builder {
    pub(super) fn take_thread(&mut self, through: Vec<Bead>) {
        self.threads.push(self.steps);
        let usable = self.layout.project().thread.usable_mm();
        self.reach = (usable / self.layout.pass_mm()).max(1.0) as u64;
        self.add(Through {
            kind: Kind::StartThread,
            round: None,
            side: None,
            run: Run::Beads(through.into()),
        });
    }

    pub(super) fn end_thread(&mut self) {
        let Some(needle) = self.needle.take() else {
            return;
        };
        let beads = route::weave_in(self.work(), needle, WOVEN);
        self.add(Through {
            kind: Kind::EndThread,
            round: None,
            side: None,
            run: Run::Beads(beads.into()),
        });
    }

    pub(super) fn renew_thread(&mut self, at: Hole) {
        self.leave(at);
        self.end_thread();
        let beads = route::weave_out(self.work(), at, WOVEN);
        self.take_thread(beads);
        self.leave(at);
    }

    /// Adds a stage, renewing thread before it or within it where it would
    /// not last.
    pub(super) fn push(&mut self, stage: impl Into<Stage>) {
        let stage = stage.into();
        let steps = stage.steps(&self.layout);
        let (mut from, mut fresh) = (0, false);
        loop {
            let done = stage.passes_before(&self.layout, from);
            let all = stage.passes_before(&self.layout, steps);
            if u64::from(all - done) <= self.reach || !may_renew(&stage) {
                self.add_span(stage, from, steps);
                return;
            }
            let most = done.saturating_add(self.reach as u32);
            let at = self.break_before(&stage, from, most, fresh);
            fresh = at == from;
            if at > from {
                let hole = self.hole_after(&stage, at - 1);
                self.add_span(stage.clone(), from, at);
                self.renew_thread(hole);
            } else {
                // Not one step more: renew first. A fresh thread always does
                // a few steps, so this ends.
                let Some(needle) = self.stage_needle(&stage, from) else {
                    self.add_span(stage, from, steps);
                    return;
                };
                self.renew_thread(needle);
                if self.reach < 8 {
                    self.add_span(stage, from, steps);
                    return;
                }
            }
            from = at;
        }
    }

    /// Where the needle leaves before step `from` of a stage.
    pub(super) fn stage_needle(&self, stage: &Stage, from: u32) -> Option<Hole> {
        if from > 0 {
            return Some(self.hole_after(stage, from - 1));
        }
        match stage {
            Stage::Rounds(r) => Some(self.first_of(r.panel, r.on)),
            _ => self.needle,
        }
    }

    /// The best place to renew thread: the last step that the thread does,
    /// moved back into the middle of a side if a corner is near; or, with
    /// thread that is not fresh, before the stage goes on at all.
    fn break_before(&self, stage: &Stage, from: u32, passes: u32, fresh: bool) -> u32 {
        let (mut low, mut high) = (from, stage.steps(&self.layout));
        while high - low > 1 {
            let mid = low + (high - low) / 2;
            if stage.passes_before(&self.layout, mid) <= passes {
                low = mid;
            } else {
                high = mid;
            }
        }
        let quiet = |i: &u32| self.is_mid_side(stage, *i - 1) && !self.draws(stage, *i);
        let earliest = low.saturating_sub(64).max(from + 1);
        let steps = || (earliest..=low).rev();
        let held = |i: &u32| !self.draws(stage, *i);
        let at = steps().find(quiet).or_else(|| steps().find(held));
        at.unwrap_or(if fresh { low } else { from })
    }

    /// Whether a step draws beads together that no thread holds yet.
    fn draws(&self, stage: &Stage, i: u32) -> bool {
        i < stage.steps(&self.layout) && {
            let kind = stage.step(&self.layout, i).kind;
            matches!(kind, Kind::Decrease | Kind::StepUp | Kind::StepDown)
        }
    }

    pub(super) fn is_mid_side(&self, stage: &Stage, i: u32) -> bool {
        let draft = stage.step(&self.layout, i);
        match (draft.kind, draft.strings.first()) {
            (Kind::Stitch, Some(&bead)) => {
                let seat = self.layout.seat(bead);
                let margin = (seat.of / 4).min(3);
                seat.place >= margin && seat.place + margin < seat.of
            }
            (Kind::Zip, _) => true,
            _ => false,
        }
    }

    /// Where the needle leaves after step `i` of a stage.
    pub(super) fn hole_after(&self, stage: &Stage, i: u32) -> Hole {
        if let Stage::RimRound(round) = stage {
            return round.leaves(&self.layout, i);
        }
        let draft = stage.step(&self.layout, i);
        let bead = *draft.passes.last().expect("such a step passes beads");
        let end = match stage {
            Stage::Zip(zip) if !zip.forward => End::Back,
            _ => End::Front,
        };
        Hole { bead, end }
    }
}

/// Whether thread can be renewed in the midst of a stage: not while a string
/// is not yet a ring, and not in a run that is over in a few steps.
fn may_renew(stage: &Stage) -> bool {
    matches!(
        stage,
        Stage::Rounds(_) | Stage::RimRound(_) | Stage::RowStage(_) | Stage::Zip(_)
    )
}
