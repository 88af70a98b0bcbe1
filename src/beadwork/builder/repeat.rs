//! Like panels: the second is made as the first was.

use super::Builder;
use crate::beadwork::end::Hole;
use crate::beadwork::number::{Bead, Panel};
use std::ops::Range;

/// What has been done so far.
#[derive(Clone, Copy)]
pub(super) struct Tally {
    steps: u32,
    strung: u32,
    passes: u64,
}

/// The making of one panel, to be repeated.
#[derive(Clone)]
pub(super) struct Made {
    pub(super) from: Tally,
    pub(super) to: Tally,
    pub(super) spans: Range<usize>,
    pub(super) threads: Range<usize>,
    pub(super) reach: u64,
    pub(super) needle: Option<Hole>,
}

impl Builder {
    /// Makes a panel just as an earlier one of its kind was made: both begin
    /// with fresh thread, so step for step they differ in nothing but the
    /// beads. A piece with many like panels opens in the time that one takes.
    pub(super) fn repeat(&mut self, like: &Made, panel: Panel) {
        let on = self.strung - like.from.strung;
        let later = Tally {
            steps: self.steps - like.from.steps,
            strung: on,
            passes: self.passes - like.from.passes,
        };
        for at in like.spans.clone() {
            let mut span = self.spans[at].clone();
            span.stage = span.stage.on_panel(panel, on);
            span.steps_before += later.steps;
            span.beads_before += later.strung;
            span.passes_before += later.passes;
            self.spans.push(span);
        }
        for at in like.threads.clone() {
            self.threads.push(self.threads[at] + later.steps);
        }
        self.steps = like.to.steps + later.steps;
        self.strung = like.to.strung + later.strung;
        self.passes = like.to.passes + later.passes;
        self.reach = like.reach;
        self.needle = like.needle.map(|h| Hole {
            bead: Bead(h.bead.0 + on),
            ..h
        });
        let job = self.jobs.last_mut().expect("the panel is a job");
        job.steps = like.to.steps - like.from.steps;
        job.beads = like.to.strung - like.from.strung;
    }

    pub(super) fn tally(&self) -> Tally {
        Tally {
            steps: self.steps,
            strung: self.strung,
            passes: self.passes,
        }
    }
}
