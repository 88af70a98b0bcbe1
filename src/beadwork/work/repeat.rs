//! Repeats the work of a panel for another of the same kind.

use super::{CurrentThreadState, Run, Span, Work};
use crate::beadwork::end::Hole;
use crate::beadwork::number::Panel;
use std::ops::Range;

/// A position in the work.
#[derive(Clone, Copy, Debug)]
pub(in crate::beadwork) struct Mark {
    steps: u32,
    strung: u32,
    passes: u64,
    spans: usize,
    threads: usize,
}

/// A part of the work in which one panel was made, with a new thread.
#[derive(Clone, Debug)]
pub(in crate::beadwork) struct Stretch {
    from: Mark,
    to: Mark,
    thread: Option<CurrentThreadState>,
    needle: Option<Hole>,
}

impl Work {
    /// The current position.
    pub(in crate::beadwork) fn mark(&self) -> Mark {
        Mark {
            steps: self.steps,
            strung: self.strung,
            passes: self.passes,
            spans: self.spans.len(),
            threads: self.threads.len(),
        }
    }

    /// What was worked since a mark.
    pub(in crate::beadwork) fn stretch_since(&self, from: Mark) -> Stretch {
        Stretch {
            from,
            to: self.mark(),
            thread: self.thread,
            needle: self.needle,
        }
    }

    /// Makes a panel that is begun in the same steps as an earlier one; only
    /// the bead numbers differ. So a piece with many equal panels is planned in
    /// the time of one.
    pub(in crate::beadwork) fn repeat(&mut self, like: &Stretch, panel: Panel) {
        let Stretch { from, to, .. } = like;
        let strung = self.strung - from.strung;
        let (steps, passes) = (self.steps - from.steps, self.passes - from.passes);
        let spans: Range<usize> = from.spans..to.spans;
        self.spans.reserve(spans.len());
        for at in spans {
            let Span {
                run,
                steps_before,
                beads_before,
                passes_before,
            } = &self.spans[at];
            self.spans.push(Span {
                run: Run {
                    stage: run.stage.on_panel(panel, strung),
                    from: run.from,
                    to: run.to,
                },
                steps_before: steps_before + steps,
                beads_before: beads_before + strung,
                passes_before: passes_before + passes,
            });
        }
        for at in from.threads..to.threads {
            self.threads.push(self.threads[at] + steps);
        }
        self.steps += to.steps - from.steps;
        self.strung += to.strung - from.strung;
        self.passes += to.passes - from.passes;
        self.needle = like.needle.map(|hole| hole.later(strung));
        self.thread = like.thread.map(|thread| CurrentThreadState {
            passes_before: thread.passes_before + passes,
            ..thread
        });
        let job = self.jobs.last_mut().expect("the panel is a job");
        job.steps += to.steps - from.steps;
        job.beads += to.strung - from.strung;
    }
}
