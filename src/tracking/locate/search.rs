//! The search: asks questions until one group of steps is left.

use super::ask::{Ask, Question};
use super::belief::{information, likelihood};
use super::look::Appearance;
use super::look_group::{self, LookGroup};
use super::stretch::{self, StepRange};
use crate::beadwork::{Sequence, Step};
use std::ops::Deref;

/// Up to this many steps, each step is considered; in larger pieces rounds and
/// rows are asked about first.
pub const MAX_FINE_STEPS: u32 = 100_000;

/// A group of this probability is the result.
const SURE: f64 = 0.9;

/// A question with less expected information than this, in bits, is not asked.
const MIN_BITS: f64 = 0.03;

/// If the expected information of questions differs by less than this, in bits,
/// the easiest is asked.
const TIE_BITS: f64 = 0.1;

/// The largest answer to a question; a larger count is reduced to this.
const MAX_ANSWER: u32 = 1 << 16;

/// The most steps shown when several look the same.
const MAX_STEPS_SHOWN: usize = 12;

/// The factor for a group's probability when the maker says that the work looks
/// different.
const DENIED: f64 = 0.02;

/// The maker's answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reply {
    /// This number, or the value of this choice.
    Value(u32),
    /// The maker cannot tell.
    CannotTell,
}

/// The next turn of the search.
#[derive(Clone, Debug, PartialEq)]
pub enum Next {
    /// A question.
    Ask(Question),
    /// The result.
    Found(Found),
}

/// The result: where the maker is.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The last step done: one, or the few that look the same, likeliest
    /// first.
    pub steps: Vec<Step>,
    /// How likely it is one of them, 0 to 1.
    pub sure: f64,
}

/// A search for a lost place; `S` is a borrowed or shared sequence.
#[derive(Clone)]
pub struct Search<S> {
    seq: S,
    groups: std::rc::Rc<Vec<LookGroup>>,
    /// Probabilities of the groups; the sum is 1.
    belief: Vec<f64>,
    /// The stretches, while each group is a stretch.
    coarse: Option<std::rc::Rc<Vec<StepRange>>>,
    replies: Vec<(Ask, Reply)>,
    denied: Vec<Appearance>,
}

impl<S: Deref<Target = Sequence>> Search<S> {
    /// A search over all steps of a piece.
    pub fn new(seq: S) -> Self {
        let stretches = stretch::stretches(&seq);
        let (groups, coarse) = match seq.steps() <= MAX_FINE_STEPS {
            true => (look_group::of_steps(&seq, &stretches), None),
            false => (look_group::of_stretches(&stretches), Some(stretches.into())),
        };
        let mut search = Search {
            seq,
            groups: groups.into(),
            belief: vec![],
            coarse,
            replies: vec![],
            denied: vec![],
        };
        search.update_belief();
        search
    }

    /// The questions asked and their answers, including 'can't tell'.
    pub fn asked(&self) -> &[(Ask, Reply)] {
        &self.replies
    }

    /// How often the maker said that the work looks different.
    pub fn denials(&self) -> usize {
        self.denied.len()
    }

    /// Adds an answer.
    pub fn reply(&mut self, ask: Ask, reply: Reply) {
        self.replies.push((ask, reply));
        self.update_belief();
    }

    /// Takes back the last answer. `false` if there is none.
    pub fn take_back(&mut self) -> bool {
        let any = self.replies.pop().is_some();
        self.update_belief();
        any
    }

    /// The maker says that the work looks different from the result: an answer
    /// was wrong, and the search goes on.
    pub fn deny_result(&mut self) {
        if let Some(at) = self.likeliest() {
            self.denied.push(self.groups[at].look);
            self.update_belief();
        }
    }

    /// The next question, or the end.
    pub fn turn(&mut self) -> Next {
        self.refine();
        if self.coarse.is_none()
            && let Some(at) = self.likeliest()
            && self.belief[at] >= SURE
        {
            return Next::Found(self.found());
        }
        match self.best() {
            Some(question) => Next::Ask(question),
            None if self.coarse.is_some() => {
                self.use_single_steps();
                self.turn()
            }
            None => Next::Found(self.found()),
        }
    }

    fn likeliest(&self) -> Option<usize> {
        let chances = self.belief.iter().enumerate();
        chances.max_by(|a, b| a.1.total_cmp(b.1)).map(|(at, _)| at)
    }

    /// Computes the probability of every group from all answers.
    fn update_belief(&mut self) {
        let groups = self.groups.iter();
        self.belief = groups.map(|s| f64::from(s.steps)).collect();
        for (ask, reply) in self.replies.clone() {
            let Reply::Value(said) = reply else { continue };
            let said = said.min(MAX_ANSWER);
            let most = self.most(ask).max(said);
            for (group, chance) in self.groups.iter().zip(&mut self.belief) {
                *chance *= likelihood(ask, value(&group.look, ask), said, most);
            }
            self.normalize();
        }
        for look in &self.denied {
            for (group, chance) in self.groups.iter().zip(&mut self.belief) {
                if group.look == *look {
                    *chance *= DENIED;
                }
            }
        }
        self.normalize();
    }

    /// Normalizes the probabilities.
    fn normalize(&mut self) {
        let all: f64 = self.belief.iter().sum();
        if all > 0.0 {
            self.belief.iter_mut().for_each(|c| *c /= all);
        }
    }

    fn most(&self, ask: Ask) -> u32 {
        let values = self.groups.iter().map(|s| value(&s.look, ask));
        values.max().unwrap_or(0)
    }

    /// The question with the most expected information; of those that tie, the
    /// one easiest to answer.
    fn best(&self) -> Option<Question> {
        let alive: Vec<(&Appearance, f64)> = self
            .groups
            .iter()
            .zip(&self.belief)
            .filter(|(_, c)| **c > 1e-9)
            .map(|(s, c)| (&s.look, *c))
            .collect();
        let open = |ask: &Ask| {
            // If the maker has denied a result, an answer was wrong, so
            // questions may be asked again.
            let asked = self.replies.iter().filter(|(a, _)| a == ask).count();
            asked <= self.denied.len() && (self.coarse.is_none() || ask.is_coarse())
        };
        let expected_bits = |ask: Ask| {
            let most = alive.iter().map(|(l, _)| value(l, ask)).max().unwrap_or(0);
            let mut chances = vec![0.0; most as usize + 1];
            for (look, chance) in &alive {
                chances[value(look, ask) as usize] += chance;
            }
            (ask, information(ask, &chances))
        };
        let ranked: Vec<(Ask, f64)> = Ask::ALL
            .into_iter()
            .filter(open)
            .map(expected_bits)
            .collect();
        let best = ranked.iter().map(|t| t.1).fold(0.0, f64::max);
        if best < MIN_BITS {
            return None;
        }
        let tie = TIE_BITS.min(best / 2.0);
        // What is half done is seen at a glance, and other questions depend on
        // it, so it is asked first.
        let least = match ranked.first() {
            Some((Ask::HalfDone, expected_bits)) if *expected_bits >= MIN_BITS => MIN_BITS,
            _ => best - tie,
        };
        let (ask, _) = ranked.into_iter().find(|t| t.1 >= least)?;
        let mut values: Vec<u32> = match ask.is_counted() {
            true => alive.iter().map(|(l, _)| value(l, ask)).collect(),
            // An answer that seems ruled out may be the right one.
            false => self.groups.iter().map(|s| value(&s.look, ask)).collect(),
        };
        values.sort_unstable();
        values.dedup();
        Some(ask.question(&self.seq, &values))
    }

    /// Changes from stretches to single steps once few enough are likely.
    fn refine(&mut self) {
        if self.coarse.is_some() && self.likely_stretches(MAX_FINE_STEPS).is_some() {
            self.use_single_steps();
        }
    }

    /// The indices of the groups, the likeliest first.
    fn likeliest_first(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.belief.len()).collect();
        order.sort_by(|&a, &b| self.belief[b].total_cmp(&self.belief[a]));
        order
    }

    /// The likely stretches, if they have at most `most` steps.
    fn likely_stretches(&self, most: u32) -> Option<Vec<usize>> {
        let (mut steps, mut sure, mut likely) = (0, 0.0, vec![]);
        for at in self.likeliest_first() {
            if sure > 0.99 {
                break;
            }
            steps += self.groups[at].steps;
            if steps > most {
                return None;
            }
            sure += self.belief[at];
            likely.push(at);
        }
        Some(likely)
    }

    fn use_single_steps(&mut self) {
        let Some(stretches) = self.coarse.take() else {
            return;
        };
        let (mut steps, mut kept) = (0, vec![]);
        for at in self.likeliest_first() {
            steps += self.groups[at].steps;
            if steps > MAX_FINE_STEPS && !kept.is_empty() {
                break;
            }
            kept.push(at);
        }
        kept.sort_unstable();
        let kept: Vec<StepRange> = kept.into_iter().map(|at| stretches[at]).collect();
        self.groups = look_group::of_steps(&self.seq, &kept).into();
        self.update_belief();
    }

    /// The likeliest steps.
    fn found(&self) -> Found {
        let (mut steps, mut sure) = (vec![], 0.0);
        for at in self.likeliest_first() {
            if sure >= SURE || steps.len() >= MAX_STEPS_SHOWN {
                break;
            }
            let group = &self.groups[at];
            sure += self.belief[at];
            let runs = group.runs.iter().flat_map(|r| r.0.0..=r.1.0);
            steps.extend(runs.map(Step).take(MAX_STEPS_SHOWN - steps.len()));
        }
        Found { steps, sure }
    }
}

fn value(look: &Appearance, ask: Ask) -> u32 {
    look.get(ask).min(MAX_ANSWER)
}
