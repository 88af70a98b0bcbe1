//! The colours of a panel and its join rows, as they were planned when each
//! bead was strung. What is sewn keeps its colour; a change holds from the bead
//! after the needle on.
//!
//! ```text
//! beads     1 2 3 4 5 6 | 7 8 9 10 11 12
//! rules     as the      | amber ran out:
//!           pattern     | A is N from bead 7 on
//! ```

use super::colour::Colours;
use super::number::Bead;
use std::sync::Arc;

/// Rules of colour, each from a bead of the piece on.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelColours(Vec<(Bead, Arc<Colours>)>);

impl PanelColours {
    /// The same rules for all beads.
    pub fn new(rules: Arc<Colours>) -> Self {
        PanelColours(vec![(Bead(1), rules)])
    }

    /// The rules for beads that are still to come.
    pub fn to_come(&self) -> &Arc<Colours> {
        &self.0.last().expect("there is a first one").1
    }

    /// Whether all beads go by the same rules.
    pub fn is_plain(&self) -> bool {
        self.0.len() == 1
    }

    /// The rules for a bead.
    pub fn at(&self, bead: Bead) -> &Arc<Colours> {
        &self.0[self.index_at(bead)].1
    }

    fn index_at(&self, bead: Bead) -> usize {
        let after = self.0.partition_point(|(from, _)| *from <= bead);
        after.saturating_sub(1)
    }

    /// The rules for a run of beads: how many beads of the run come before
    /// each, and the rules.
    pub fn of_run(&self, first: Bead, last: Bead) -> Vec<(u32, Arc<Colours>)> {
        let of_run = &self.0[self.index_at(first)..=self.index_at(last.max(first))];
        let rules = of_run.iter();
        let before = |(from, rules): &(Bead, Arc<Colours>)| {
            (from.0.saturating_sub(first.0), Arc::clone(rules))
        };
        rules.map(before).collect()
    }

    /// Other rules for all that lies in one panel.
    pub(super) fn map(&self, other: impl Fn(&Colours) -> Colours) -> Self {
        let rules = self.0.iter();
        let rules = rules.map(|(from, rules)| (*from, Arc::new(other(rules))));
        PanelColours(rules.collect())
    }

    /// The same rules where beads have other numbers.
    pub(super) fn renumber(&mut self, number: impl Fn(Bead) -> Bead) {
        let changes = self.0.iter_mut().skip(1);
        changes.for_each(|(from, _)| *from = number(*from));
    }

    /// Other rules from a bead on.
    pub(super) fn change(&mut self, from: Bead, rules: Arc<Colours>) {
        self.0.retain(|(begin, _)| *begin < from);
        self.0.push((from, rules));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::Colour;

    #[test]
    fn beads_before_a_change_keep_their_rules() {
        let rules = |c| Arc::new(Colours::plain(Colour(c), 3));
        let mut colours = PanelColours::new(rules(0));
        assert!(colours.is_plain());
        colours.change(Bead(7), rules(1));
        colours.change(Bead(9), rules(2));
        let seen = |colours: &PanelColours| {
            let tips = (1..=10).map(|bead| colours.at(Bead(bead)).tip.0);
            tips.collect::<Vec<_>>()
        };
        assert_eq!(seen(&colours), [0, 0, 0, 0, 0, 0, 1, 1, 2, 2]);
        let run = colours.of_run(Bead(5), Bead(8));
        assert_eq!(run, [(0, rules(0)), (2, rules(1))]);
        // Unpicked to bead 5, and changed again there.
        colours.change(Bead(5), rules(3));
        assert_eq!(seen(&colours), [0, 0, 0, 0, 3, 3, 3, 3, 3, 3]);
        // A change before the first bead leaves nothing of the old.
        colours.change(Bead(1), rules(4));
        assert!(colours.is_plain());
    }
}
