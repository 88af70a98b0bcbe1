//! Where on the piece something hangs, whatever is planned: a note, a new
//! thread. A step's number moves when the plan changes; a bead stays.

use super::{Bead, Sequence, Step};
use serde::{Deserialize, Serialize};

/// A place in the work: a number of movements after a bead was strung.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Anchor {
    /// The bead strung last, from 1; 0 before the first.
    pub bead: u32,
    /// Movements made since, from 0.
    pub then: u32,
}

impl Sequence {
    /// Where the work is once a step is done.
    pub fn anchor(&self, step: Step) -> Anchor {
        let bead = self.strung_after(step);
        Anchor {
            bead,
            then: step.0 - self.first_step_with(bead),
        }
    }

    /// The step after which the work is at an anchor, or the last before
    /// another bead is strung.
    pub fn step_at(&self, anchor: Anchor) -> Step {
        let beads = self.layout().beads();
        let bead = anchor.bead.min(beads);
        let last = match bead < beads {
            true => self.step_of(Bead(bead + 1)).0 - 1,
            false => self.steps(),
        };
        let step = self.first_step_with(bead).saturating_add(anchor.then);
        Step(step.min(last))
    }

    fn first_step_with(&self, bead: u32) -> u32 {
        match bead {
            0 => 0,
            bead => self.step_of(Bead(bead)).0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    #[test]
    fn every_step_has_an_anchor_of_its_own() {
        let sequence = Sequence::new(testing::folded_pair(4, 1));
        for step in (0..=sequence.steps()).map(Step) {
            assert_eq!(sequence.step_at(sequence.anchor(step)), step);
        }
        let beyond = Anchor {
            bead: 9999,
            then: 9999,
        };
        assert_eq!(sequence.step_at(beyond), Step(sequence.steps()));
    }
}
