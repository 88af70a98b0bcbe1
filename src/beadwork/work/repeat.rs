//! Like panels: the second is worked as the first was.

use super::{Run, Span, ThreadInHand, Work};
use crate::beadwork::end::Hole;
use crate::beadwork::number::Panel;
use std::ops::Range;

/// How far a work had come.
#[derive(Clone, Copy, Debug)]
pub(in crate::beadwork) struct Mark {
    steps: u32,
    strung: u32,
    passes: u64,
    spans: usize,
    threads: usize,
}

/// A stretch of work by which one panel was made, with fresh thread.
#[derive(Clone, Debug)]
pub(in crate::beadwork) struct Stretch {
    from: Mark,
    to: Mark,
    thread: Option<ThreadInHand>,
    needle: Option<Hole>,
}

impl Work {
    /// How far the work has come.
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

    /// Makes a panel that is begun just as an earlier one was made: step for
    /// step they differ in nothing but the beads. A piece with many like
    /// panels is planned in the time that one takes.
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
        self.thread = like.thread.map(|thread| ThreadInHand {
            passes_before: thread.passes_before + passes,
            ..thread
        });
        let job = self.jobs.last_mut().expect("the panel is a job");
        job.steps += to.steps - from.steps;
        job.beads += to.strung - from.strung;
    }
}
