//! How often the thread goes through a bead: many movements have to be looked
//! at, so it is counted apart from the keys.

use crate::beadwork::layout::Part;
use crate::beadwork::stage::{Path, Stage};
use crate::beadwork::work::Span;
use crate::beadwork::{Bead, Sequence, Step};
use crate::screen::background_task::BackgroundTask;
use std::sync::Arc;
use std::time::Duration;

/// A key waits no longer than this for a count: the picture matters more.
const AT_ONCE: Duration = Duration::from_millis(2);

/// Passes of a bead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PassCount {
    /// So far.
    pub done: u32,
    /// Once the piece is finished.
    pub all: u32,
}

/// The bead asked about last, and what is known of it.
#[derive(Debug, Default)]
pub struct Passes {
    wanted: Option<(Bead, Step)>,
    asked: Option<((Bead, Step), BackgroundTask<PassCount>)>,
}

impl Passes {
    /// Asks for a bead once so many steps are done. What is being counted is
    /// finished first, so that no more than one thread is ever at it.
    pub fn ask(&mut self, seq: &Arc<Sequence>, bead: Bead, done: Step) {
        self.wanted = Some((bead, done));
        self.go_on(seq);
    }

    fn go_on(&mut self, seq: &Arc<Sequence>) {
        let Some(wanted) = self.wanted else { return };
        let busy = match &self.asked {
            Some((asked, _)) if *asked == wanted => true,
            Some((_, apart)) => apart.get().is_none() && !apart.failed(),
            None => false,
        };
        if !busy {
            let (bead, done) = wanted;
            let seq = seq.clone();
            let counting = BackgroundTask::begin_within(AT_ONCE, move || count(&seq, bead, done));
            self.asked = Some((wanted, counting));
        }
    }

    /// Takes in what was counted; whether more is waited for.
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

    /// What is known of the bead asked about last.
    pub fn counted(&self) -> Option<PassCount> {
        let (asked, apart) = self.asked.as_ref()?;
        (Some(*asked) == self.wanted).then(|| apart.get().copied())?
    }
}

/// Counts, movement by movement, in those stages that can go through the bead:
/// a round only goes through its own beads and those of the round that it is
/// worked on, a row or a zip only through beads at the edges of its panels.
fn count(seq: &Sequence, bead: Bead, done: Step) -> PassCount {
    let layout = seq.layout();
    let seat = layout.seat(bead);
    let last = layout.kind(seat.panel).last();
    let at_edge = seat.part != Part::Face || seat.round >= last;
    // Past a full bead a zip goes through the round before.
    let is_zipped = seat.part != Part::Face || seat.round.0 + 1 >= last.0;
    let is_near = |span: &&Span| match &span.run.stage {
        Stage::Rounds(round) => {
            let is_own = seat.part == Part::Face && seat.panel == round.panel;
            is_own && [round.on, round.makes(layout)].contains(&seat.round)
        }
        Stage::RowStage(row) => at_edge && layout.row(row.row).panel == seat.panel,
        Stage::Zip(zip) => {
            is_zipped && [zip.panel, layout.row(zip.row).panel].contains(&seat.panel)
        }
        Stage::Through(through) => match &through.path {
            Path::Beads(holes) => holes.iter().any(|hole| hole.bead == bead),
            Path::Edge(panel, _) | Path::Close(panel) | Path::Centre(panel, _) => {
                *panel == seat.panel
            }
            Path::Rim(_) => true,
        },
        _ => true,
    };
    let mut counted = PassCount { done: 0, all: 0 };
    for span in seq.work().spans().iter().filter(is_near) {
        let steps = span.run.to - span.run.from;
        let first = Step(span.steps_before + 1);
        for m in seq.iter_from(first).take(steps as usize) {
            let here = m.passes.iter().filter(|b| **b == bead).count() as u32;
            counted.all += here;
            if m.step <= done {
                counted.done += here;
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

    /// All passes of all beads together are those of the whole piece.
    #[test]
    fn the_passes_of_all_beads_add_up_to_those_of_the_piece() {
        let seq = proof::tetrahedron(4, Closing::Fill, 1);
        let half = Step(seq.steps() / 2);
        let beads = (1..=seq.layout().beads()).map(Bead);
        let (mut so_far, mut all) = (0, 0);
        for counted in beads.map(|bead| count(&seq, bead, half)) {
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
        assert_eq!(counted, count(&seq, Bead(9), Step(20)));
        assert!(counted.all >= 1);
    }
}
