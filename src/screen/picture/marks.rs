//! What is marked in the picture: where the needle comes out, where the new
//! beads go, and which beads to enter, in order.

use crate::beadwork::end::{End, Hole};
use crate::beadwork::{Bead, Sequence, Step};

/// The marks of one movement.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Marks {
    /// The bead that the needle leaves.
    pub leaves: Option<Bead>,
    /// The new beads.
    pub seats: Vec<Bead>,
    /// The beads to enter, in order, each by the end at which the needle leaves
    /// it.
    pub enters: Vec<Hole>,
    /// The number of the first of them, if they are numbered.
    pub first: usize,
    /// Whether they are numbered.
    pub numbered: bool,
}

/// How a bead is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BeadMark {
    /// The needle leaves here.
    Leaves,
    /// The new bead.
    Seat,
    /// Enter here and leave by this end; with a number if there are several.
    Enter(Option<usize>, End),
}

impl Marks {
    /// The marks of the next movement, with `done` steps done. `taken` of the
    /// beads to enter have been taken one at a time.
    pub fn of(seq: &Sequence, done: Step, taken: usize) -> Marks {
        let leaves = seq.leaves(done);
        let Some(m) = seq.step(Step(done.0 + 1)) else {
            return Marks {
                leaves,
                ..Marks::default()
            };
        };
        let holes = seq.holes(m.step).into_iter();
        let old: Vec<Hole> = holes.filter(|h| !m.strings.contains(&h.bead)).collect();
        let taken = taken.min(old.len().saturating_sub(1));
        Marks {
            leaves: match taken {
                0 => leaves,
                n => Some(old[n - 1].bead),
            },
            seats: m.strings.to_vec(),
            numbered: old.len() > 1,
            first: taken + 1,
            enters: old[taken..].to_vec(),
        }
    }

    /// All marks with their beads.
    pub fn all(&self) -> Vec<(BeadMark, Bead)> {
        let enters = self.enters.iter().map(|hole| hole.bead);
        let beads = self.leaves.iter().chain(&self.seats).copied().chain(enters);
        let marked = |bead| Some((self.of_bead(bead)?, bead));
        beads.filter_map(marked).collect()
    }

    /// How a bead is marked.
    pub fn of_bead(&self, bead: Bead) -> Option<BeadMark> {
        if self.seats.contains(&bead) {
            return Some(BeadMark::Seat);
        }
        if let Some(at) = self.enters.iter().position(|h| h.bead == bead) {
            let number = self.numbered.then_some(self.first + at);
            return Some(BeadMark::Enter(number, self.enters[at].end));
        }
        (self.leaves == Some(bead)).then_some(BeadMark::Leaves)
    }
}
