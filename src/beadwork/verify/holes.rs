//! How often each bead has been passed, compared with what its hole can hold.

use crate::beadwork::bead::BeadSize;
use crate::beadwork::goal::Goal;
use crate::beadwork::hole;
use crate::beadwork::number::Bead;
use crate::beadwork::thread::ThreadChoice;

#[derive(Debug)]
pub(super) struct HoleUse {
    passes: Vec<u16>,
    /// For each bead, the sum of the squares of the diameters of the threads in
    /// it, mm², if threads differ.
    sections: Vec<f32>,
    choices: Vec<ThreadChoice>,
    /// Number of lengths of thread taken up.
    lengths: usize,
    /// The number of passes for which every kind of bead in the piece has room;
    /// a bead's own size matters only beyond that.
    all_take: u32,
    fullest: u32,
}

impl HoleUse {
    pub fn new(goal: &Goal, beads: u32) -> Self {
        let all = beads as usize + 1;
        let sizes = goal.beads.iter().map(|kind| kind.size);
        // The thickest thread and the thickest needle.
        let thread = goal.threads.iter().map(|choice| choice.thread);
        let needle = goal.threads.iter().map(|choice| choice.needle);
        let thread = thread.max_by(|a, b| a.diameter_mm.total_cmp(&b.diameter_mm));
        let needle = needle.max_by(|a, b| a.diameter_mm.total_cmp(&b.diameter_mm));
        let most = thread.zip(needle).and_then(|(thread, needle)| {
            sizes
                .map(|size| hole::most_passes(size, thread, needle))
                .min()
        });
        HoleUse {
            passes: vec![0; all],
            sections: vec![0.0; if goal.threads.len() > 1 { all } else { 0 }],
            choices: goal.threads.clone(),
            lengths: 0,
            all_take: most.unwrap_or(0),
            fullest: 0,
        }
    }

    /// Takes up a length of thread.
    pub fn take_thread(&mut self) {
        self.lengths += 1;
    }

    /// Thread and needle of the current length.
    fn choice(&self) -> Option<ThreadChoice> {
        let begun = self.lengths.saturating_sub(1);
        let is_begun = |choice: &&ThreadChoice| choice.lengths_before <= begun;
        self.choices.iter().rfind(is_begun).copied()
    }

    /// Passes a bead. Returns its passes so far if the hole has no room for
    /// this one.
    pub fn pass(&mut self, bead: Bead, size_of: impl Fn(Bead) -> BeadSize) -> Option<u32> {
        let passes = &mut self.passes[bead.0 as usize];
        let before = u32::from(*passes);
        *passes = passes.saturating_add(1);
        self.fullest = self.fullest.max(u32::from(*passes));
        let choice = self.choice()?;
        let mut thread = choice.thread;
        if let Some(section) = self.sections.get_mut(bead.0 as usize) {
            let mm = thread.diameter_mm;
            thread.diameter_mm = (f64::from(*section) / f64::from(before.max(1))).sqrt();
            *section += (mm * mm) as f32;
        }
        if before < self.all_take {
            return None;
        }
        let verdict = hole::verdict(before, size_of(bead), thread, choice.needle);
        (verdict == hole::Passing::Blocked).then_some(before)
    }

    /// How often a bead has been passed.
    pub fn passes(&self, bead: Bead) -> u32 {
        u32::from(self.passes[bead.0 as usize])
    }

    /// Whether a bead has room for `more` passes.
    pub fn has_room(&self, bead: Bead, more: u32, size_of: impl Fn(Bead) -> BeadSize) -> bool {
        let passes = self.passes(bead) + more;
        self.choice().is_some_and(|choice| {
            let verdict = hole::verdict(passes, size_of(bead), choice.thread, choice.needle);
            verdict != hole::Passing::Blocked
        })
    }

    pub fn fullest(&self) -> u32 {
        self.fullest
    }
}
