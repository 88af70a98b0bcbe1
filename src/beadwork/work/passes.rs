//! Counts how often thread goes through each bead.

use super::{Run, Work};
use crate::beadwork::number::Bead;
use crate::beadwork::stage::{Stage, Steps as _};

impl Work {
    /// How often thread goes through each bead that is strung, bead 1 first.
    pub fn passes_by_bead(&self) -> Vec<u16> {
        let mut passes = vec![0u16; self.strung as usize];
        let mut pass = |bead: Bead| {
            let count = &mut passes[bead.0 as usize - 1];
            *count = count.saturating_add(1);
        };
        for Run { stage, from, to } in self.spans().iter().map(|span| &span.run) {
            let steps = *from..*to;
            match stage {
                // What is the same for a whole round is computed once.
                Stage::Rounds(round) => {
                    let ready = round.ready(&self.layout);
                    steps.for_each(|i| ready.step(i).passes.into_iter().for_each(&mut pass));
                }
                stage => steps.for_each(|i| {
                    let beads = stage.step(&self.layout, i).passes;
                    beads.into_iter().for_each(&mut pass);
                }),
            }
        }
        passes
    }
}

#[cfg(test)]
mod tests {
    use crate::beadwork::{Sequence, testing};

    #[test]
    fn passes_are_those_of_the_movements() {
        let sequence = Sequence::new(testing::folded_pair(4, 1));
        let all: u64 = sequence
            .work()
            .passes_by_bead()
            .into_iter()
            .map(u64::from)
            .sum();
        assert_eq!(all, sequence.passes());
    }
}
