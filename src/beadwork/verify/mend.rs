//! Beads that are broken out: each was strung, nothing is sewn onto it, and
//! then it is gone. All other rules are checked as if it had never been strung.

use super::finding::Fault;
use super::verify_state::VerifyState;
use crate::beadwork::bead::BeadSize;
use crate::beadwork::job::JobInfo;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Job, Round, Side};
use std::borrow::Cow;
use std::collections::HashMap;

/// The beads that are broken out in steps, if a job says that it has such a
/// step.
pub(super) fn broken_out(jobs: &[JobInfo], steps: impl Iterator<Item = Movement>) -> Vec<Bead> {
    if jobs.iter().all(|job| job.break_outs == 0) {
        return vec![];
    }
    steps.filter_map(|m| m.removes).collect()
}

/// What is counted together: the round of a job, or the side of a join row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Counted {
    job: Job,
    round: Option<Round>,
    /// For a join row.
    side: Option<Side>,
}

#[derive(Debug)]
pub(super) struct Mends {
    /// The place of each: `None` before it is strung, and again after it is
    /// gone.
    beads: HashMap<Bead, Option<Counted>>,
    /// The last counts in the steps, without these beads.
    counts: HashMap<Counted, (u32, u32)>,
    /// Number of break-outs in the current job.
    number: u32,
}

impl Mends {
    pub fn new(beads: Vec<Bead>) -> Self {
        Mends {
            beads: beads.into_iter().map(|bead| (bead, None)).collect(),
            counts: HashMap::new(),
            number: 0,
        }
    }

    /// Number of break-outs since this was last called.
    pub fn take_number(&mut self) -> u32 {
        std::mem::take(&mut self.number)
    }

    /// Whether a bead is in place that will be broken out.
    pub fn has_extra(&self) -> bool {
        self.beads.values().any(Option::is_some)
    }

    /// A step without the beads that are broken out.
    pub fn without<'m>(
        &mut self,
        m: &'m Movement,
        is_row: bool,
        state: &mut VerifyState,
        size_of: &impl Fn(Bead) -> BeadSize,
    ) -> Cow<'m, Movement> {
        if let (Kind::BreakOut, _) | (_, Some(_)) = (m.kind, m.removes) {
            self.break_out(m, state);
        }
        if self.beads.is_empty() {
            return Cow::Borrowed(m);
        }
        let mut left = m.clone();
        let counted = Counted {
            job: m.job,
            round: m.round,
            side: m.side.filter(|_| is_row),
        };
        for &bead in &m.passes {
            let Some(lies) = self.beads.get_mut(&bead) else {
                continue;
            };
            if !m.strings.contains(&bead) || state.is_strung(bead) {
                state.record(Fault::SewnOnto(bead));
                continue;
            }
            state.string(bead);
            state.report.passes += 1;
            if let Some(passes) = state.holes.pass(bead, size_of) {
                state.record(Fault::Blocked { bead, passes });
            }
            *lies = Some(counted);
        }
        left.strings.retain(|bead| !self.beads.contains_key(bead));
        left.passes.retain(|bead| !self.beads.contains_key(bead));
        if left.strings.len() < m.strings.len() && matches!(m.kind, Kind::Stitch | Kind::Increase) {
            left.kind = match left.strings.len() {
                0 => Kind::Decrease,
                1 => Kind::Stitch,
                _ => Kind::Increase,
            };
        }
        if m.round_target > 0 {
            let there = self.beads.values().flatten();
            let more = there.filter(|lies| **lies == counted).count() as u32;
            left.round_beads = left.round_beads.saturating_sub(more);
            left.round_target = left.round_target.saturating_sub(more);
            let found = (left.round_beads, left.round_target);
            match self.counts.insert(counted, found) {
                // A bead that is broken out does not change the count of the
                // others.
                Some(expected) if m.kind == Kind::BreakOut && expected != found => {
                    state.record(Fault::RoundFields { expected, found });
                }
                _ => {}
            }
        }
        Cow::Owned(left)
    }

    fn break_out(&mut self, m: &Movement, state: &mut VerifyState) {
        self.number += 1;
        let lies = m.removes.and_then(|bead| self.beads.get_mut(&bead));
        if m.kind != Kind::BreakOut || lies.and_then(Option::take).is_none() {
            let bead = m.removes;
            state.record(Fault::NotThere(bead));
        }
    }
}
