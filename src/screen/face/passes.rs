//! How often the thread goes through a bead, and how full the holes are. All
//! movements must be examined, so this is counted in the background.

use crate::beadwork::hole::{Passing, verdict};
use crate::beadwork::{Bead, Panel, Rgb, Sequence, Step};
use crate::screen::background_task::BackgroundTask;
use std::sync::Arc;
use std::time::Duration;

/// The longest that a key waits for the count: the picture matters more.
const AT_ONCE: Duration = Duration::from_millis(2);

/// The same for the key that asks for the holes.
const HOLES_AT_ONCE: Duration = Duration::from_millis(20);

/// Passes of a bead.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PassCount {
    /// So far.
    pub done: u32,
    /// Once the piece is finished.
    pub all: u32,
}

/// The passes of all beads, by their numbers, with a number of steps done.
#[derive(Debug, Default)]
pub struct Passes(Option<(Step, BackgroundTask<Vec<PassCount>>)>);

impl Passes {
    /// Counts them, with `done` steps done, unless they are counted already.
    pub fn ask(&mut self, seq: &Arc<Sequence>, done: Step) {
        if self.0.as_ref().is_none_or(|(asked, _)| *asked != done) {
            let seq = seq.clone();
            let counting = BackgroundTask::begin_within(AT_ONCE, move || count(&seq, done));
            self.0 = Some((done, counting));
        }
    }

    /// Takes the count; returns whether it is still waited for.
    pub fn look(&mut self) -> bool {
        self.wait(Duration::ZERO)
    }

    fn wait(&mut self, patience: Duration) -> bool {
        self.0.as_mut().is_some_and(|(_, task)| task.wait(patience))
    }

    /// After how many steps they are counted, once they are.
    pub fn counted_after(&self) -> Option<Step> {
        let (asked, counting) = self.0.as_ref()?;
        counting.get().map(|_| *asked)
    }

    fn counted(&self) -> Option<&Vec<PassCount>> {
        self.0.as_ref()?.1.get()
    }

    /// The passes of a bead, once they are counted.
    pub fn of(&self, bead: Bead) -> Option<PassCount> {
        self.counted()?.get(bead.0 as usize).copied()
    }

    /// How full the hole of a bead in place is; `None` for one to come, and
    /// while passes are being counted.
    pub fn fill(&self, seq: &Sequence, bead: Bead) -> Option<HoleFill> {
        let passes = self.of(bead)?.done;
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
    pub fn say_holes(&mut self, seq: &Sequence, panel: Panel) -> String {
        let layout = seq.layout();
        let name = &layout.panel(panel).name;
        if self.wait(HOLES_AT_ONCE) {
            return format!("Holes of {name}: they are being counted ...");
        }
        let beads = (1..=layout.beads()).map(Bead);
        let here = beads.filter(|bead| layout.panel_of(*bead) == panel);
        let mut counts = [0; HoleFill::ALL.len()];
        for fill in here.filter_map(|bead| self.fill(seq, bead)) {
            counts[fill as usize] += 1;
        }
        let said = HoleFill::ALL.map(|fill| format!("{} {}", counts[fill as usize], fill.name()));
        format!("Holes of {name}: {}.", said.join(", "))
    }
}

fn count(seq: &Sequence, done: Step) -> Vec<PassCount> {
    let mut counted = vec![PassCount::default(); seq.layout().beads() as usize + 1];
    for m in seq.iter() {
        for bead in m.passes {
            let count = &mut counted[bead.0 as usize];
            count.all += 1;
            count.done += u32::from(m.step <= done);
        }
    }
    counted
}

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Closing;
    use crate::screen::proof;

    fn counted(seq: Sequence, done: Step) -> (Arc<Sequence>, Passes) {
        let (seq, mut passes) = (Arc::new(seq), Passes::default());
        passes.ask(&seq, done);
        while passes.look() {
            std::thread::yield_now();
        }
        (seq, passes)
    }

    /// The passes of all beads together are the passes of the whole piece.
    #[test]
    fn the_passes_of_all_beads_add_up_to_those_of_the_piece() {
        let seq = proof::tetrahedron(4, Closing::Fill, 1);
        let half = Step(seq.steps() / 2);
        let (seq, passes) = counted(seq, half);
        let (mut so_far, mut all) = (0, 0);
        for bead in (1..=seq.layout().beads()).map(Bead) {
            let counted = passes.of(bead).expect("counted");
            so_far += u64::from(counted.done);
            all += u64::from(counted.all);
        }
        assert_eq!(all, seq.passes());
        assert_eq!(so_far, seq.passes_after(half));
    }

    /// Beads to come have no hole yet; the others are counted once each.
    #[test]
    fn each_bead_in_place_is_counted_once() {
        let steps = proof::panel(3, 6).steps();
        for done in [0, 20, steps] {
            let (seq, mut passes) = counted(proof::panel(3, 6), Step(done));
            let beads = (1..=seq.layout().beads()).map(Bead);
            let told = beads
                .filter(|bead| passes.fill(&seq, *bead).is_some())
                .count();
            assert_eq!(told as u32, seq.strung_after(Step(done)));
            let said = passes.say_holes(&seq, Panel(0));
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
        let seq = Sequence::new(project);
        let steps = Step(seq.steps());
        let (seq, passes) = counted(seq, steps);
        let fills: Vec<_> = (1..=seq.layout().beads())
            .filter_map(|b| passes.fill(&seq, Bead(b)))
            .collect();
        assert!(fills.contains(&HoleFill::OneMore));
        assert!(fills.iter().any(|fill| *fill >= HoleFill::Tight));
        assert!(!fills.contains(&HoleFill::Room));
    }
}
