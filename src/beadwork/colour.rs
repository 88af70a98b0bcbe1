//! Colour words: which colour lies at each place of a side.
//!
//! A word has a head, a middle that repeats as often as it must, and a tail,
//! so that one word fits every round however long its sides are:
//!
//! ```text
//! head  middle...........  tail
//!  A    S S S S S S S S S   A       "A S* A" on a side of eleven
//! ```
//!
//! Half a word can stand for the whole when the side is a mirror of itself.

use super::{Bead, Colour, Round, Side};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// The colours of one side, from its first place to its last.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct ColourWord {
    /// The colours before the part that repeats.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub head: Vec<Colour>,
    /// The part that repeats; empty for a word of fixed length.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub middle: Vec<Colour>,
    /// The colours after the part that repeats.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tail: Vec<Colour>,
    /// The word gives the first half (with the middle bead of an odd side);
    /// the second half is its mirror image.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub mirror: bool,
}

impl ColourWord {
    /// A word of one colour throughout.
    pub fn plain(colour: Colour) -> Self {
        ColourWord {
            head: vec![],
            middle: vec![colour],
            tail: vec![],
            mirror: false,
        }
    }

    /// All colours that are in it.
    pub fn letters(&self) -> impl Iterator<Item = &Colour> {
        self.head.iter().chain(&self.middle).chain(&self.tail)
    }

    /// Whether the word can colour a side of `len` beads.
    pub fn fits(&self, len: u32) -> bool {
        let given = (self.head.len() + self.tail.len()) as u32;
        let wanted = if self.mirror { len.div_ceil(2) } else { len };
        if self.middle.is_empty() {
            given == wanted
        } else {
            given <= wanted
        }
    }

    /// The colour of its first bead; the first letter of the pattern if the word
    /// has none.
    pub fn first(&self) -> Colour {
        self.letters().copied().next().unwrap_or(Colour(0))
    }

    /// How many letters the word gives of its own accord, and whether it can
    /// be longer. For messages.
    pub fn given(&self) -> (usize, bool) {
        (self.head.len() + self.tail.len(), !self.middle.is_empty())
    }

    /// The colour at `place` (from 0) of a side of `len` beads. On a side that
    /// holds more beads than planned, a word without `*` begins again.
    pub fn at(&self, place: u32, len: u32) -> Colour {
        let (place, len) = if self.mirror {
            (place.min(len - 1 - place), len.div_ceil(2))
        } else {
            (place, len)
        };
        let (head, tail) = (self.head.len() as u32, self.tail.len() as u32);
        if place < head {
            self.head[place as usize]
        } else if place + tail >= len {
            self.tail[(place + tail - len) as usize]
        } else if self.middle.is_empty() {
            let given = self.head.iter().chain(&self.tail);
            let colour = given.cycle().nth(place as usize);
            colour.copied().unwrap_or(self.first())
        } else {
            self.middle[((place - head) as usize) % self.middle.len()]
        }
    }
}

/// The colours of a panel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Colours {
    /// The rules, in the order of the file.
    pub rules: Vec<Rule>,
    /// For each round (round 1 first), the rule that colours it; that of the
    /// last colours all after it.
    pub of_round: Vec<u16>,
    /// The colours of its join rows: one word, or one for each side.
    pub row: Rule,
    /// The colour of tip beads.
    pub tip: Colour,
}

/// One line of colours: the same word on every side, or a word a side.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rule {
    /// One word, or as many as the panel has sides.
    pub sides: Vec<ColourWord>,
}

impl Rule {
    /// The same word of one colour on every side.
    pub fn plain(colour: Colour) -> Self {
        Rule {
            sides: vec![ColourWord::plain(colour)],
        }
    }

    /// The colours of the sides, bead by bead in working order, `of` telling
    /// how many beads a side has.
    pub fn spelt(&self, sides: u8, of: impl Fn(Side) -> u32) -> Vec<Vec<Colour>> {
        let on = |side| {
            let (word, of) = (self.word(side), of(side));
            (0..of).map(|place| word.at(place, of)).collect()
        };
        (0..sides).map(Side).map(on).collect()
    }

    /// The word of a side.
    pub fn word(&self, side: Side) -> &ColourWord {
        &self.sides[side.index() % self.sides.len()]
    }
}

impl Colours {
    /// A panel of one colour throughout.
    pub fn plain(colour: Colour, rounds: u32) -> Self {
        Colours {
            rules: vec![Rule::plain(colour)],
            of_round: vec![0; rounds as usize],
            row: Rule::plain(colour),
            tip: colour,
        }
    }

    /// Whether its rounds and its join rows are each of one colour, so that
    /// they fit every panel.
    pub(super) fn is_one_colour(&self) -> bool {
        let plain = |rule: &Rule| rule.sides[..] == [ColourWord::plain(rule.sides[0].first())];
        self.rules.len() == 1 && plain(&self.rules[0]) && plain(&self.row)
    }

    /// The rule that colours a round.
    pub fn rule(&self, round: Round) -> &Rule {
        let rule = self.of_round.get(round.0 as usize - 1);
        let rule = rule.or(self.of_round.last()).copied().unwrap_or(0);
        &self.rules[usize::from(rule)]
    }

    /// The colour of a bead of a panel at `place` (from 0) of a side that has
    /// `len` beads in that round.
    pub fn at(&self, round: Round, side: Side, place: u32, len: u32) -> Colour {
        self.rule(round).word(side).at(place, len)
    }
}

/// The colours of a panel and its join rows, as they were planned when each bead was
/// strung: rules, each from a bead of the piece on. What is sewn keeps its colour; a
/// change holds from the bead after the needle on.
///
/// ```text
/// beads     1 2 3 4 5 6 | 7 8 9 10 11 12
/// rules     as the      | amber ran out:
///           pattern     | A is N from bead 7 on
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct PanelColours {
    rules: Vec<(Bead, Arc<Colours>)>,
    /// The planned rules, while beads are chosen one by one instead.
    planned: Option<Arc<Colours>>,
}

impl PanelColours {
    /// The same rules for all beads.
    pub fn new(rules: Arc<Colours>) -> Self {
        PanelColours {
            rules: vec![(Bead(1), rules)],
            planned: None,
        }
    }

    /// The rules for beads that are still to come.
    pub fn to_come(&self) -> &Arc<Colours> {
        &self.rules.last().expect("there is a first one").1
    }

    /// The planned rules, while beads are chosen one by one instead.
    pub(super) fn planned(&self) -> Option<&Arc<Colours>> {
        self.planned.as_ref()
    }

    /// The planned rules are these, while beads are chosen one by one.
    pub(super) fn plan(&mut self, rules: Arc<Colours>) {
        self.planned = Some(rules);
    }

    /// The planned rules again from a bead on, if beads were chosen instead.
    pub(super) fn as_planned(&mut self, from: Bead) {
        if let Some(planned) = self.planned.take() {
            self.change(from, planned);
        }
    }

    /// Whether all beads go by the same rules.
    pub fn is_plain(&self) -> bool {
        self.rules.len() == 1
    }

    /// The rules for a bead.
    pub fn at(&self, bead: Bead) -> &Arc<Colours> {
        &self.rules[self.index_at(bead)].1
    }

    fn index_at(&self, bead: Bead) -> usize {
        let after = self.rules.partition_point(|(from, _)| *from <= bead);
        after.saturating_sub(1)
    }

    /// The rules for a run of beads: how many beads of the run come before
    /// each, and the rules.
    pub fn of_run(&self, first: Bead, last: Bead) -> Vec<(u32, Arc<Colours>)> {
        let of_run = &self.rules[self.index_at(first)..=self.index_at(last.max(first))];
        let rules = of_run.iter();
        let before = |(from, rules): &(Bead, Arc<Colours>)| {
            (from.0.saturating_sub(first.0), Arc::clone(rules))
        };
        rules.map(before).collect()
    }

    /// Other rules for all that lies in one panel.
    pub(super) fn map(&self, other: impl Fn(&Colours) -> Colours) -> Self {
        let rules = self.rules.iter();
        let rules = rules.map(|(from, rules)| (*from, Arc::new(other(rules))));
        PanelColours {
            rules: rules.collect(),
            planned: self.planned.as_ref().map(|rules| Arc::new(other(rules))),
        }
    }

    /// The same rules where beads have other numbers.
    pub(super) fn renumber(&mut self, number: impl Fn(Bead) -> Bead) {
        let changes = self.rules.iter_mut().skip(1);
        changes.for_each(|(from, _)| *from = number(*from));
    }

    /// One bead is of another colour; the rules for those around it stay.
    pub(super) fn put(&mut self, bead: Bead, colour: Colour) {
        let at = self.index_at(bead);
        let next = Bead(bead.0 + 1);
        let (begin, was) = self.rules[at].clone();
        let has_next = self
            .rules
            .get(at + 1)
            .is_some_and(|(from, _)| *from == next);
        let one = (bead, Arc::new(Colours::plain(colour, 1)));
        let after = (!has_next).then_some((next, was.clone()));
        let before = (begin < bead).then_some((begin, was));
        let rules = before.into_iter().chain([one]).chain(after);
        self.rules.splice(at..=at, rules);
    }

    /// Other rules from a bead on.
    pub(super) fn change(&mut self, from: Bead, rules: Arc<Colours>) {
        self.rules.retain(|(begin, _)| *begin < from);
        self.rules.push((from, rules));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const A: Colour = Colour(0);
    const S: Colour = Colour(1);

    fn spell(word: &ColourWord, len: u32) -> String {
        (0..len)
            .map(|p| if word.at(p, len) == A { 'A' } else { 'S' })
            .collect()
    }

    #[test]
    fn a_middle_stretches_between_head_and_tail() {
        let word = ColourWord {
            head: vec![A],
            middle: vec![S],
            tail: vec![A],
            mirror: false,
        };
        assert_eq!(spell(&word, 5), "ASSSA");
        assert_eq!(spell(&word, 2), "AA");
        assert!(!word.fits(1));
    }

    #[test]
    fn a_mirrored_word_gives_half_with_the_middle_bead() {
        let word = ColourWord {
            head: vec![A, S],
            middle: vec![],
            tail: vec![A],
            mirror: true,
        };
        assert_eq!(spell(&word, 5), "ASASA");
        assert_eq!(spell(&word, 6), "ASAASA");
        assert!(word.fits(5) && word.fits(6) && !word.fits(7));
    }

    #[test]
    fn a_word_of_no_bead_has_a_colour_for_beads_that_come_later() {
        let none = ColourWord::default();
        assert!(none.fits(0));
        assert_eq!(none.at(1, 2), none.first());
    }

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
