//! How often the thread goes through a bead. Many movements must be examined,
//! so this is counted in the background.

use crate::beadwork::stage::{Path, Stage};
use crate::beadwork::work::Span;
use crate::beadwork::{Bead, Panel, Sequence, Step};
use crate::screen::background_task::BackgroundTask;
use foldhash::fast::FixedState;
use std::collections::HashMap;
use std::sync::Arc;
use std::time::Duration;

/// The longest that a key waits for a count: the picture matters more.
const AT_ONCE: Duration = Duration::from_millis(2);

/// Passes of a bead.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PassCount {
    /// So far.
    pub done: u32,
    /// Once the piece is finished.
    pub all: u32,
}

/// The passes of all beads of the panel last asked about. They are counted
/// together, because the next bead asked about is probably nearby.
#[derive(Debug, Default)]
pub struct Passes {
    wanted: Option<(Bead, PanelAt)>,
    asked: Option<(PanelAt, BackgroundTask<PanelPasses>)>,
}

/// A panel with a number of steps done.
type PanelAt = (Panel, Step);

type PanelPasses = HashMap<Bead, PassCount, FixedState>;

impl Passes {
    /// Asks about a bead, with `done` steps done. A count that is running is
    /// finished first, so that there is never more than one thread counting.
    pub fn ask(&mut self, seq: &Arc<Sequence>, bead: Bead, done: Step) {
        self.wanted = Some((bead, (seq.layout().seat(bead).panel, done)));
        self.go_on(seq);
    }

    fn go_on(&mut self, seq: &Arc<Sequence>) {
        let Some((_, wanted)) = self.wanted else {
            return;
        };
        let busy = match &self.asked {
            Some((asked, _)) if *asked == wanted => true,
            Some((_, apart)) => apart.get().is_none() && !apart.failed(),
            None => false,
        };
        if !busy {
            let (panel, done) = wanted;
            let seq = seq.clone();
            let counting = BackgroundTask::begin_within(AT_ONCE, move || count(&seq, panel, done));
            self.asked = Some((wanted, counting));
        }
    }

    /// Takes the count; returns whether more is waited for.
    pub fn look(&mut self, seq: &Arc<Sequence>) -> bool {
        let waits = self.asked.as_mut().is_some_and(|(_, apart)| apart.look());
        if !waits {
            self.go_on(seq);
        }
        self.wanted.is_some() && self.counted().is_none() && !self.failed()
    }

    fn failed(&self) -> bool {
        self.asked.as_ref().is_some_and(|(_, apart)| apart.failed())
    }

    /// What is known about the bead last asked about.
    pub fn counted(&self) -> Option<PassCount> {
        let (bead, wanted) = self.wanted?;
        let (asked, apart) = self.asked.as_ref()?;
        let counted = apart.get().filter(|_| *asked == wanted)?;
        Some(counted.get(&bead).copied().unwrap_or_default())
    }
}

/// Counts the passes of a panel's beads, movement by movement, in those stages
/// that can go through them.
fn count(seq: &Sequence, panel: Panel, done: Step) -> PanelPasses {
    let layout = seq.layout();
    let is_near = |span: &&Span| match &span.run.stage {
        Stage::Rounds(round) => round.panel == panel,
        Stage::RowStage(row) => layout.row(row.row).panel == panel,
        Stage::Zip(zip) => [zip.panel, layout.row(zip.row).panel].contains(&panel),
        Stage::Through(through) => match &through.path {
            Path::Edge(of, _) | Path::Close(of) | Path::Centre(of, _) => *of == panel,
            Path::Beads(_) | Path::Rim(_) => true,
        },
        _ => true,
    };
    let mut counted = PanelPasses::default();
    for span in seq.work().spans().iter().filter(is_near) {
        let steps = span.run.to - span.run.from;
        let first = Step(span.steps_before + 1);
        for m in seq.iter_from(first).take(steps as usize) {
            let own = m.passes.iter().filter(|b| layout.seat(**b).panel == panel);
            for bead in own {
                let count = counted.entry(*bead).or_default();
                count.all += 1;
                count.done += u32::from(m.step <= done);
            }
        }
    }
    counted
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Closing;
    use crate::screen::proof;

    /// The passes of all beads together are the passes of the whole piece.
    #[test]
    fn the_passes_of_all_beads_add_up_to_those_of_the_piece() {
        let seq = proof::tetrahedron(4, Closing::Fill, 1);
        let half = Step(seq.steps() / 2);
        let panels = seq.layout().begun_panels().map(|(panel, _)| panel);
        let (mut so_far, mut all) = (0, 0);
        for counted in panels.flat_map(|panel| count(&seq, panel, half).into_values()) {
            so_far += u64::from(counted.done);
            all += u64::from(counted.all);
        }
        assert_eq!(all, seq.passes());
        assert_eq!(so_far, seq.passes_after(half));
    }

    #[test]
    fn the_last_bead_asked_about_is_answered() {
        let seq = Arc::new(proof::panel(3, 6));
        let mut passes = Passes::default();
        for bead in 1..=9 {
            passes.ask(&seq, Bead(bead), Step(20));
        }
        while passes.look(&seq) {
            std::thread::yield_now();
        }
        let counted = passes.counted().expect("counted");
        assert_eq!(counted, count(&seq, Panel(0), Step(20))[&Bead(9)]);
        assert!(counted.all >= 1);
    }
}
