//! How full the holes of the beads in place are, as a map on the face: the
//! colour and the sign of each bead show how the needle will next go through
//! it.

use crate::beadwork::hole::{Passing, verdict};
use crate::beadwork::{Bead, Panel, Rgb, Sequence, Step};
use crate::screen::background_task::BackgroundTask;
use std::sync::Arc;
use std::time::Duration;

/// The longest that a key waits for the map.
const AT_ONCE: Duration = Duration::from_millis(20);

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
        HoleMap(BackgroundTask::begin_within(AT_ONCE, move || {
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
mod tests {
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
