//! What is marked in the picture: where the needle comes out, where the new
//! beads go, and which beads to enter, in order.

use crate::beadwork::end::{End, Hole};
use crate::beadwork::{Bead, Sequence, Step};

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

/// The marks of one movement: the bead that the needle leaves, the new beads,
/// the beads to enter.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Marks(Vec<(BeadMark, Bead)>);

impl Marks {
    /// The marks of the next movement, with `done` steps done. `taken` of the
    /// beads to enter have been taken one at a time.
    pub fn of(seq: &Sequence, done: Step, taken: usize) -> Marks {
        let next = Step(done.0 + 1);
        let new = seq.step(next).map(|m| m.strings).unwrap_or_default();
        let holes = seq.holes(next).into_iter();
        let old: Vec<Hole> = holes.filter(|hole| !new.contains(&hole.bead)).collect();
        let taken = taken.min(old.len().saturating_sub(1));
        let leaves = match taken {
            0 => seq.leaves(done),
            n => Some(old[n - 1].bead),
        };
        let enters = old.iter().zip(1..).skip(taken).map(|(hole, number)| {
            let number = (old.len() > 1).then_some(number);
            (BeadMark::Enter(number, hole.end), hole.bead)
        });
        let leaves = leaves.map(|bead| (BeadMark::Leaves, bead));
        let new = new.iter().map(|bead| (BeadMark::Seat, *bead));
        Marks(leaves.into_iter().chain(new).chain(enters).collect())
    }

    /// The bead to go into first.
    pub fn first_entered(&self) -> Option<Bead> {
        let mut marks = self.0.iter();
        let entered = marks.find(|(mark, _)| matches!(mark, BeadMark::Enter(..)));
        entered.map(|(_, bead)| *bead)
    }

    /// All marks with their beads.
    pub fn all(&self) -> Vec<(BeadMark, Bead)> {
        let marked = |(_, bead): &(_, Bead)| Some((self.of_bead(*bead)?, *bead));
        self.0.iter().filter_map(marked).collect()
    }

    /// How a bead is marked. What is to come matters more than what is left.
    pub fn of_bead(&self, bead: Bead) -> Option<BeadMark> {
        let mut marks = self.0.iter().filter(|(_, marked)| *marked == bead);
        let (first, _) = marks.next()?;
        let next = marks.next().filter(|_| *first == BeadMark::Leaves);
        Some(next.map_or(*first, |(mark, _)| *mark))
    }
}
