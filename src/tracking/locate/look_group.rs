//! Groups of steps, or of stretches, that look the same.

use super::look::{Appearance, looks};
use super::stretch::StepRange;
use crate::beadwork::{Sequence, Step};
use std::collections::HashMap;

/// Steps that look the same.
#[derive(Clone, Debug)]
pub(super) struct LookGroup {
    /// How they look.
    pub look: Appearance,
    /// The steps, first and last of each run.
    pub runs: Vec<(Step, Step)>,
    /// How many steps.
    pub steps: u32,
}

impl LookGroup {
    fn add(&mut self, first: Step, last: Step) {
        self.steps += last.0 + 1 - first.0;
        match self.runs.last_mut() {
            Some(run) if run.1.0 + 1 == first.0 => run.1 = last,
            _ => self.runs.push((first, last)),
        }
    }
}

/// The groups of all steps in these stretches.
pub(super) fn of_steps(seq: &Sequence, stretches: &[StepRange]) -> Vec<LookGroup> {
    let all = stretches
        .iter()
        .flat_map(|s| looks(seq, s.first, s.last))
        .map(|(step, look)| (step, step, look));
    grouped(all)
}

/// A group for each stretch.
pub(super) fn of_stretches(stretches: &[StepRange]) -> Vec<LookGroup> {
    let one = |s: &StepRange| LookGroup {
        look: s.look,
        runs: vec![(s.first, s.last)],
        steps: s.last.0 + 1 - s.first.0,
    };
    stretches.iter().map(one).collect()
}

fn grouped(all: impl Iterator<Item = (Step, Step, Appearance)>) -> Vec<LookGroup> {
    let mut groups: Vec<LookGroup> = vec![];
    let mut index_of: HashMap<Appearance, usize> = HashMap::new();
    for (first, last, look) in all {
        let at = *index_of.entry(look).or_insert_with(|| {
            groups.push(LookGroup {
                look,
                runs: vec![],
                steps: 0,
            });
            groups.len() - 1
        });
        groups[at].add(first, last);
    }
    groups
}
