//! Sights: steps, or stretches, that look the same, taken together.

use super::look::{Appearance, looks};
use super::stretch::StepRange;
use crate::beadwork::{Sequence, Step};
use std::collections::HashMap;

/// What looks the same.
#[derive(Clone, Debug)]
pub(super) struct Sight {
    /// How it looks.
    pub look: Appearance,
    /// The steps that look so, first and last of each run.
    pub runs: Vec<(Step, Step)>,
    /// How many steps they are.
    pub steps: u32,
}

impl Sight {
    fn add(&mut self, first: Step, last: Step) {
        self.steps += last.0 + 1 - first.0;
        match self.runs.last_mut() {
            Some(run) if run.1.0 + 1 == first.0 => run.1 = last,
            _ => self.runs.push((first, last)),
        }
    }
}

/// The sights of all steps in these stretches.
pub(super) fn fine(seq: &Sequence, stretches: &[StepRange]) -> Vec<Sight> {
    let all = stretches
        .iter()
        .flat_map(|s| looks(seq, s.first, s.last))
        .map(|(step, look)| (step, step, look));
    gather(all)
}

/// The sights of stretches, one for each.
pub(super) fn coarse(stretches: &[StepRange]) -> Vec<Sight> {
    let one = |s: &StepRange| Sight {
        look: s.look,
        runs: vec![(s.first, s.last)],
        steps: s.last.0 + 1 - s.first.0,
    };
    stretches.iter().map(one).collect()
}

fn gather(all: impl Iterator<Item = (Step, Step, Appearance)>) -> Vec<Sight> {
    let mut sights: Vec<Sight> = vec![];
    let mut known: HashMap<Appearance, usize> = HashMap::new();
    for (first, last, look) in all {
        let at = *known.entry(look).or_insert_with(|| {
            sights.push(Sight {
                look,
                runs: vec![],
                steps: 0,
            });
            sights.len() - 1
        });
        sights[at].add(first, last);
    }
    sights
}
