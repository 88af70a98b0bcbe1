//! How often the thread goes through a bead, and how full the holes are. Many
//! movements must be examined, so this is counted in the background.

use crate::beadwork::hole::{Passing, verdict};
use crate::beadwork::stage::{Path, Stage};
use crate::beadwork::work::Span;
use crate::beadwork::{Bead, Panel, Rgb, Sequence, Step};
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

/// The longest that a key waits for the map.
const MAP_AT_ONCE: Duration = Duration::from_millis(20);

/// How full a hole is for the next pass of the needle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HoleFill {
    /// There is room for more than one more pass.
    Room,
    /// The needle goes through comfortably once more, but not after that.
    OneMore,
    /// Only with force.
    Tight,
    /// Not at all.
    Full,
}

impl HoleFill {
    /// All of them, the emptiest first.
    pub const ALL: [HoleFill; 4] = [
        HoleFill::Room,
        HoleFill::OneMore,
        HoleFill::Tight,
        HoleFill::Full,
    ];

    /// The sign shown in its beads.
    pub fn sign(self) -> char {
        ['.', '1', 't', 'X'][self as usize]
    }

    /// The colour of its beads.
    pub fn colour(self) -> Rgb {
        [
            Rgb(226, 232, 240),
            Rgb(140, 180, 222),
            Rgb(232, 160, 40),
            Rgb(176, 32, 48),
        ][self as usize]
    }

    /// What it means.
    pub fn name(self) -> &'static str {
        ["room", "one more pass", "tight", "full"][self as usize]
    }
}

/// The map: how often the thread has gone through each bead so far.
#[derive(Debug)]
pub struct HoleMap(BackgroundTask<Vec<u32>>);

impl HoleMap {
    /// Counts the passes of all beads in the background, with `done` steps
    /// done.
    pub fn after(seq: &Arc<Sequence>, done: Step) -> HoleMap {
        let seq = seq.clone();
        HoleMap(BackgroundTask::begin_within(MAP_AT_ONCE, move || {
            let mut passes = vec![0; seq.layout().beads() as usize + 1];
            for m in seq.iter().take_while(|m| m.step <= done) {
                for bead in m.passes {
                    passes[bead.0 as usize] += 1;
                }
            }
            passes
        }))
    }

    /// Takes the count; returns whether it is still waited for.
    pub fn look(&mut self) -> bool {
        self.0.look()
    }

    /// How full a bead in place is; `None` for one to come, and while passes
    /// are being counted.
    pub fn of(&self, seq: &Sequence, bead: Bead) -> Option<HoleFill> {
        let passes = *self.0.get()?.get(bead.0 as usize)?;
        if passes == 0 {
            return None;
        }
        let layout = seq.layout();
        let size = layout.bead_kind(layout.colour(bead)).size;
        let choice = seq.goal().thread_to_come();
        let next = |passes| verdict(passes, size, choice.thread, choice.needle);
        Some(match (next(passes), next(passes + 1)) {
            (Passing::Comfortable, Passing::Comfortable) => HoleFill::Room,
            (Passing::Comfortable, _) => HoleFill::OneMore,
            (Passing::Tight, _) => HoleFill::Tight,
            (Passing::Blocked, _) => HoleFill::Full,
        })
    }

    /// `Holes of Panel 1: 80 room, 20 one more pass, 3 tight, 0 full.`
    pub fn say(&self, seq: &Sequence, panel: Panel) -> String {
        let layout = seq.layout();
        let name = &layout.panel(panel).name;
        let Some(passes) = self.0.get() else {
            return format!("Holes of {name}: they are being counted ...");
        };
        let beads = (1..passes.len() as u32).map(Bead);
        let here = beads.filter(|bead| layout.seat(*bead).panel == panel);
        let mut counts = [0; HoleFill::ALL.len()];
        for fill in here.filter_map(|bead| self.of(seq, bead)) {
            counts[fill as usize] += 1;
        }
        let said = HoleFill::ALL.map(|fill| format!("{} {}", counts[fill as usize], fill.name()));
        format!("Holes of {name}: {}.", said.join(", "))
    }
}

#[cfg(test)]
mod passes_tests {
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

#[cfg(test)]
mod holes_tests {
    use super::*;
    use crate::screen::proof;

    /// Beads to come have no hole yet; the others are counted once each.
    #[test]
    fn each_bead_in_place_is_counted_once() {
        let seq = Arc::new(proof::panel(3, 6));
        for done in [0, 20, seq.steps()] {
            let mut map = HoleMap::after(&seq, Step(done));
            while map.look() {
                std::thread::yield_now();
            }
            let beads = (1..=seq.layout().beads()).map(Bead);
            let told = beads.filter(|bead| map.of(&seq, *bead).is_some()).count();
            assert_eq!(told as u32, seq.strung_after(Step(done)));
            let said = map.say(&seq, Panel(0));
            let numbers = said.split([' ', '.']).filter_map(|w| w.parse::<u32>().ok());
            assert_eq!(numbers.sum::<u32>(), seq.strung_after(Step(done)), "{said}");
        }
    }

    /// A hole of 0.8 mm and a thread of 0.3 mm: after one pass a needle of
    /// 0.36 mm (0.3 + 0.36 <= 0.8) goes through comfortably, after two
    /// (2 x 0.3 + 0.36 > 0.8) it does not.
    #[test]
    fn a_thick_thread_fills_holes() {
        let mut project = crate::beadwork::testing::single(crate::beadwork::testing::panel(3, 6));
        project.thread.diameter_mm = 0.3;
        project.needle.diameter_mm = 0.36;
        let seq = Arc::new(Sequence::new(project));
        let mut map = HoleMap::after(&seq, Step(seq.steps()));
        while map.look() {
            std::thread::yield_now();
        }
        let fills: Vec<_> = (1..=seq.layout().beads())
            .filter_map(|b| map.of(&seq, Bead(b)))
            .collect();
        assert!(fills.contains(&HoleFill::OneMore));
        assert!(fills.iter().any(|fill| *fill >= HoleFill::Tight));
        assert!(!fills.contains(&HoleFill::Room));
    }
}
