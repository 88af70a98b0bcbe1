//! How often each bead has been passed, against what its hole holds.

use crate::beadwork::bead::{BeadKind, BeadSize};
use crate::beadwork::hole;
use crate::beadwork::number::Bead;
use crate::beadwork::project::Project;
use crate::beadwork::thread::{Needle, Thread};

#[derive(Debug)]
pub(super) struct Holes {
    passes: Vec<u16>,
    thread: Thread,
    needle: Needle,
    /// Passes that every kind of bead of the piece takes; only beyond them a
    /// bead's own size is asked for.
    all_take: u32,
    fullest: u32,
}

impl Holes {
    pub fn new(project: &Project, kinds: &[BeadKind], beads: u32) -> Self {
        let (thread, needle) = (project.thread, project.needle);
        let most = |size| hole::most_passes(size, thread, needle);
        let all_take = kinds.iter().map(|kind| most(kind.size)).min();
        Holes {
            passes: vec![0; beads as usize + 1],
            thread,
            needle,
            all_take: all_take.unwrap_or(0),
            fullest: 0,
        }
    }

    /// Passes a bead; its passes so far, if the hole would not take this one.
    pub fn pass(&mut self, bead: Bead, size_of: impl Fn(Bead) -> BeadSize) -> Option<u32> {
        let passes = &mut self.passes[bead.0 as usize];
        let before = u32::from(*passes);
        *passes = passes.saturating_add(1);
        self.fullest = self.fullest.max(u32::from(*passes));
        if before < self.all_take {
            return None;
        }
        let verdict = hole::verdict(before, size_of(bead), self.thread, self.needle);
        (verdict == hole::Passing::Blocked).then_some(before)
    }

    pub fn fullest(&self) -> u32 {
        self.fullest
    }
}
