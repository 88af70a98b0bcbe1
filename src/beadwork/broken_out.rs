//! Beads that were broken out, and the steps as they were made, with these
//! beads in them.
//!
//! ```text
//! on the mat     o   o   o   o          as made    o   o   oo   o
//!                1   2   3   4                     1   2   34   5
//! ```
//!
//! A bead that is broken out is no longer there, so nothing that looks at the
//! work knows it. Who tells how the work came about numbers all beads that were
//! strung, and those behind it have a number more.

use super::stage::BreakOut;
use super::work::Span;
use super::{Bead, Colour, Kind, Movement, Sequence, Stage, Step, Work};

/// A bead that was broken out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BrokenOut {
    /// Its number among all beads that were strung.
    pub bead: Bead,
    /// The step that strung it.
    pub strung: Step,
    /// The step that broke it out.
    pub removed: Step,
    /// Where it lay.
    pub gap: BreakOut,
    /// Beads strung before it that are still there.
    before: u32,
}

impl Work {
    /// The beads that are broken out, each with the step that did it.
    fn break_outs(&self) -> impl Iterator<Item = (Step, BreakOut)> + '_ {
        let spans = self.spans().iter();
        spans.filter_map(|span| match span.run.stage {
            Stage::BreakOut(bead) => Some((Step(span.end()), bead)),
            _ => None,
        })
    }

    /// Beads of a gap that are broken out.
    pub(super) fn broken_out_of(&self, gap: &BreakOut) -> usize {
        let beads = self.break_outs();
        beads.filter(|(_, bead)| bead.is_in_the_gap_of(gap)).count()
    }

    /// The step that has worked the gap of a bead that is broken out.
    pub(super) fn step_of_gap(&self, gap: &BreakOut) -> Option<Step> {
        let (stage, at) = gap.worked_in(&self.layout)?;
        let works =
            |span: &&Span| span.run.stage == stage && (span.run.from..span.run.to).contains(&at);
        let span = self.spans().iter().find(works)?;
        Some(Step(span.steps_before + at - span.run.from + 1))
    }

    /// The beads that are broken out, in the order in which they were strung.
    pub(super) fn find_broken_out(&self) -> Vec<BrokenOut> {
        let known = self.break_outs().filter_map(|(removed, gap)| {
            let strung = self.step_of_gap(&gap)?;
            Some(BrokenOut {
                bead: Bead(0),
                strung,
                removed,
                gap,
                before: self.strung_after(strung),
            })
        });
        let mut broken: Vec<BrokenOut> = known.collect();
        broken.sort_by_key(|bead| (bead.strung, bead.removed));
        for (nth, bead) in (1..).zip(&mut broken) {
            bead.bead = Bead(bead.before + nth);
        }
        broken
    }
}

impl Sequence {
    /// The number of a bead of the work among all that were strung.
    pub fn bead_as_made(&self, bead: Bead) -> Bead {
        let broken = self.broken_out();
        Bead(bead.0 + broken.partition_point(|other| other.before < bead.0) as u32)
    }

    /// The colour of a bead by its number among all that were strung.
    pub fn colour_as_made(&self, bead: Bead) -> Colour {
        let broken = self.broken_out();
        match broken.binary_search_by_key(&bead, |other| other.bead) {
            Ok(at) => broken[at].gap.colour,
            Err(before) => self.layout().colour(Bead(bead.0 - before as u32)),
        }
    }

    /// A movement as it was made: with the beads that were broken out since, and
    /// all beads numbered as they were strung.
    pub fn as_made(&self, mut m: Movement) -> Movement {
        let broken = self.broken_out();
        if broken.is_empty() {
            return m;
        }
        for bead in m.strings.iter_mut().chain(&mut m.passes) {
            *bead = self.bead_as_made(*bead);
        }
        for bead in broken.iter().filter(|bead| bead.strung == m.step) {
            let at = m.strings.len();
            m.strings.push(bead.bead);
            m.passes.insert(at, bead.bead);
            m.kind = match (m.kind, at) {
                (Kind::Decrease, _) => Kind::Stitch,
                (Kind::Stitch, _) => Kind::Increase,
                (kind, _) => kind,
            };
        }
        if let Some(bead) = broken.iter().find(|bead| bead.removed == m.step) {
            m.removes = Some(bead.bead);
            if self.job_of(bead.strung) == m.job {
                let side = self.step(bead.strung).and_then(|strung| strung.side);
                (m.round, m.side) = (Some(bead.gap.round), side);
                (m.round_beads, m.round_target) = self.in_place(&bead.gap, m.step);
            }
        }
        let (beads, target) = (m.round_beads, m.round_target);
        let more = broken.iter().filter(|bead| self.counts(bead, &m)).count() as u32;
        (m.round_beads, m.round_target) = (beads + more, target + more);
        m
    }

    /// Whether a bead that was broken out later counts to the round of a movement.
    fn counts(&self, bead: &BrokenOut, m: &Movement) -> bool {
        let is_there = bead.strung <= m.step && m.step < bead.removed;
        is_there
            && m.round_target > 0
            && (self.job_of(bead.strung), Some(bead.gap.round)) == (m.job, m.round)
            && (bead.gap.side.is_none() || bead.gap.side == m.side)
    }

    /// Beads of the round of a gap in place once a step is done, and of the whole
    /// round.
    fn in_place(&self, gap: &BreakOut, step: Step) -> (u32, u32) {
        let layout = self.layout();
        let (before, all) = match gap.side.and_then(|side| layout.row_on(gap.panel, side)) {
            Some(row) => {
                let beads = layout.row(row).beads + layout.row(row).tips;
                (layout.row_bead(row, 0).0 - 1, beads)
            }
            None => {
                let start = layout.making(gap.panel).start(gap.round);
                let first = layout.bead(gap.panel, gap.round, start);
                (first.0 - 1, layout.kind(gap.panel).in_round(gap.round))
            }
        };
        let strung = self.strung_after(step);
        (strung.saturating_sub(before).min(all), all)
    }

    /// The steps as they were made: see [`as_made`](Sequence::as_made).
    pub fn iter_as_made(&self) -> impl Iterator<Item = Movement> + Clone + '_ {
        self.iter().map(|m| self.as_made(m))
    }

    /// What a movement as it lies on the mat has more: `1 S more, broken out in
    /// step 60`.
    pub fn say_broken_out(&self, step: Step) -> Option<String> {
        let here = self.broken_out().iter().filter(|bead| bead.strung == step);
        let kinds = self.layout().bead_kinds();
        let say = |bead: &BrokenOut| {
            let letter = kinds[usize::from(bead.gap.colour.0)].letter;
            format!("1 {letter} more, broken out in step {}", bead.removed)
        };
        let said: Vec<String> = here.map(say).collect();
        (!said.is_empty()).then(|| said.join(", "))
    }
}
