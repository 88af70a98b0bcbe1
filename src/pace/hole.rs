//! Holes that get full: a warning before the stitch.

use crate::beadwork::hole::{Passing, most_passes, verdict};
use crate::beadwork::layout::Part;
use crate::beadwork::{Bead, Sequence, Step};

/// A bead of the next step that the needle goes through with a pull or not at
/// all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Full {
    /// The bead.
    pub bead: Bead,
    /// Threads that lie in it already.
    pub threads: u32,
    /// How the needle goes through.
    pub passing: Passing,
    /// A bead next door in the same round that is less full, if there is one:
    /// the way round.
    pub beside: Option<Bead>,
}

/// Steps that are looked through for one bead at the most; beyond, nothing is
/// said about it rather than a wrong number.
const FAR: u32 = 400_000;

/// The beads of the step behind `done` that are full or nearly so.
pub fn full_ahead(seq: &Sequence, done: Step) -> Vec<Full> {
    let Some(next) = seq.step(Step(done.0 + 1)) else {
        return vec![];
    };
    let old = next.passes.iter().filter(|b| !next.strings.contains(b));
    let full = |&bead: &Bead| {
        let threads = threads_in(seq, bead, done)?;
        let passing = passing(seq, bead, threads);
        (passing > Passing::Comfortable).then(|| Full {
            bead,
            threads,
            passing,
            beside: beside(seq, bead, done, threads),
        })
    };
    old.filter_map(full).collect()
}

/// How often thread lies in a bead once a step is done, or `None` if that is
/// too far back to be counted at once.
pub fn threads_in(seq: &Sequence, bead: Bead, done: Step) -> Option<u32> {
    let first = seq.step_of(bead);
    if first > done || done.0 - first.0 > FAR {
        return None;
    }
    let steps = seq.iter_from(first).take_while(|m| m.step <= done);
    let passes = steps.map(|m| m.passes.iter().filter(|b| **b == bead).count());
    Some(passes.sum::<usize>() as u32)
}

fn passing(seq: &Sequence, bead: Bead, threads: u32) -> Passing {
    let project = seq.layout().project();
    let size = project.beads[usize::from(seq.layout().colour(bead).0)].size;
    verdict(threads, size, project.thread, project.needle)
}

/// The less full of the two neighbours in the round.
fn beside(seq: &Sequence, bead: Bead, done: Step, threads: u32) -> Option<Bead> {
    let layout = seq.layout();
    let seat = layout.seat(bead);
    if seat.part != Part::Face {
        return None;
    }
    let beads = layout.kind(seat.panel).in_round(seat.round);
    let near = [seat.index + 1, seat.index + beads - 1];
    let near = near.map(|i| layout.bead(seat.panel, seat.round, i % beads));
    near.into_iter()
        .filter(|b| b.0 <= seq.strung_after(done) && *b != bead)
        .filter_map(|b| Some((threads_in(seq, b, done)?, b)))
        .filter(|(n, b)| *n < threads && passing(seq, *b, *n) < Passing::Blocked)
        .min()
        .map(|(_, b)| b)
}

impl Full {
    /// What to say, and what helps.
    pub fn say(&self, seq: &Sequence) -> String {
        let project = seq.layout().project();
        let size = project.beads[usize::from(seq.layout().colour(self.bead).0)].size;
        let most = most_passes(size, project.thread, project.needle);
        let how = match self.passing {
            Passing::Blocked => "is full: do not force the needle, the bead can break",
            _ => "is nearly full: the needle goes through with a pull",
        };
        let way = match self.beside {
            Some(_) => "; the bead next door in its round has more room",
            None => "",
        };
        format!(
            "Bead {} {how} ({} threads, {most} at the most). A finer needle or a thinner thread \
             helps{way}",
            self.bead, self.threads
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Closing;
    use crate::beadwork::testing;

    fn seq(thread_mm: f64) -> Sequence {
        let mut project = testing::ring(8, 4, Closing::SetIn);
        project.thread.diameter_mm = thread_mm;
        Sequence::new(project)
    }

    #[test]
    fn a_fine_thread_fills_no_hole_of_a_face() {
        let seq = Sequence::new(testing::single(testing::panel(3, 8)));
        for n in 0..seq.steps() {
            assert_eq!(full_ahead(&seq, Step(n)), []);
        }
    }

    /// Warned exactly where the streamed count of passes says so.
    #[test]
    fn warnings_are_those_of_the_plain_count() {
        let seq = seq(0.25);
        let mut passes = vec![0; seq.layout().beads() as usize + 1];
        let mut warned = 0;
        for m in seq.iter() {
            let full = full_ahead(&seq, Step(m.step.0 - 1));
            let mut wanted = vec![];
            for bead in m.passes.iter().filter(|b| !m.strings.contains(b)) {
                let threads = passes[bead.0 as usize];
                if passing(&seq, *bead, threads) > Passing::Comfortable {
                    wanted.push((*bead, threads));
                }
            }
            let said: Vec<(Bead, u32)> = full.iter().map(|f| (f.bead, f.threads)).collect();
            assert_eq!(said, wanted, "step {}", m.step);
            warned += said.len();
            for bead in &m.passes {
                passes[bead.0 as usize] += 1;
            }
        }
        assert!(warned > 0);
    }
}
