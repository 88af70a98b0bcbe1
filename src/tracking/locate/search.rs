//! The search: question after question, until one sight is left.

use super::ask::{Ask, Question};
use super::belief::{information, likelihood};
use super::look::Appearance;
use super::sight::{self, Sight};
use super::stretch::{self, StepRange};
use crate::beadwork::{Sequence, Step};
use std::ops::Deref;

/// Up to so many steps each is considered separately; beyond, rounds and rows
/// are asked about first.
pub const FINE: u32 = 100_000;

/// A place with this chance is found.
const SURE: f64 = 0.9;

/// A question that tells less than this, in bits, is not worth asking.
const WORTH: f64 = 0.03;

/// Questions that tell less than this apart tie, and the easier one is asked.
const TIE: f64 = 0.1;

/// The largest answer to a question; a larger count is
/// said as this.
const MOST_ANSWERS: u32 = 1 << 16;

/// The most steps shown when several look the same.
const FEW: usize = 12;

/// How much less likely a sight is when the maker says it is not this.
const DENIED: f64 = 0.02;

/// What the maker says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reply {
    /// This number, or the value of this choice.
    Value(u32),
    /// The maker cannot tell.
    CannotTell,
}

/// What comes next.
#[derive(Clone, Debug, PartialEq)]
pub enum Next {
    /// A question.
    Ask(Question),
    /// The end.
    Found(Found),
}

/// Where the maker is.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The last step done: one, or the few that look the same, likeliest
    /// first.
    pub steps: Vec<Step>,
    /// How likely it is one of them, 0 to 1.
    pub sure: f64,
}

/// A search for a lost place; `S` is a sequence borrowed or shared.
#[derive(Clone)]
pub struct Search<S> {
    seq: S,
    sights: std::rc::Rc<Vec<Sight>>,
    /// Chances of the sights, all together 1.
    belief: Vec<f64>,
    /// Stretches, while the sights are those of stretches.
    coarse: Option<std::rc::Rc<Vec<StepRange>>>,
    said: Vec<(Ask, Reply)>,
    denied: Vec<Appearance>,
}

impl<S: Deref<Target = Sequence>> Search<S> {
    /// A search over all steps of a piece.
    pub fn new(seq: S) -> Self {
        let stretches = stretch::stretches(&seq);
        let (sights, coarse) = match seq.steps() <= FINE {
            true => (sight::fine(&seq, &stretches), None),
            false => (sight::coarse(&stretches), Some(stretches.into())),
        };
        let mut search = Search {
            seq,
            sights: sights.into(),
            belief: vec![],
            coarse,
            said: vec![],
            denied: vec![],
        };
        search.believe();
        search
    }

    /// How many questions were asked and answered, 'can't tell' counted.
    pub fn asked(&self) -> &[(Ask, Reply)] {
        &self.said
    }

    /// How many pictures the maker refused.
    pub fn denials(&self) -> usize {
        self.denied.len()
    }

    /// Takes in an answer.
    pub fn reply(&mut self, ask: Ask, reply: Reply) {
        self.said.push((ask, reply));
        self.believe();
    }

    /// Takes the last answer back. `false` if there is none.
    pub fn take_back(&mut self) -> bool {
        let any = self.said.pop().is_some();
        self.believe();
        any
    }

    /// The maker compared the picture and says that it is not this: an answer
    /// was wrong, and the search goes on.
    pub fn not_this(&mut self) {
        if let Some(at) = self.likeliest() {
            self.denied.push(self.sights[at].look);
            self.believe();
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
                self.make_fine();
                self.turn()
            }
            None => Next::Found(self.found()),
        }
    }

    fn likeliest(&self) -> Option<usize> {
        let chances = self.belief.iter().enumerate();
        chances.max_by(|a, b| a.1.total_cmp(b.1)).map(|(at, _)| at)
    }

    /// Weighs every sight by all that was said.
    fn believe(&mut self) {
        let sights = self.sights.iter();
        self.belief = sights.map(|s| f64::from(s.steps)).collect();
        for (ask, reply) in self.said.clone() {
            let Reply::Value(said) = reply else { continue };
            let said = said.min(MOST_ANSWERS);
            let most = self.most(ask).max(said);
            for (sight, chance) in self.sights.iter().zip(&mut self.belief) {
                *chance *= likelihood(ask, value(&sight.look, ask), said, most);
            }
            self.level();
        }
        for look in &self.denied {
            for (sight, chance) in self.sights.iter().zip(&mut self.belief) {
                if sight.look == *look {
                    *chance *= DENIED;
                }
            }
        }
        self.level();
    }

    /// Makes all chances together 1.
    fn level(&mut self) {
        let all: f64 = self.belief.iter().sum();
        if all > 0.0 {
            self.belief.iter_mut().for_each(|c| *c /= all);
        }
    }

    fn most(&self, ask: Ask) -> u32 {
        let values = self.sights.iter().map(|s| value(&s.look, ask));
        values.max().unwrap_or(0)
    }

    /// The question that tells most; of those that tie, the easiest to see.
    fn best(&self) -> Option<Question> {
        let alive: Vec<(&Appearance, f64)> = self
            .sights
            .iter()
            .zip(&self.belief)
            .filter(|(_, c)| **c > 1e-9)
            .map(|(s, c)| (&s.look, *c))
            .collect();
        let open = |ask: &Ask| {
            // Once an answer is known to be wrong each may be asked again.
            let asked = self.said.iter().filter(|(a, _)| a == ask).count();
            asked <= self.denied.len() && (self.coarse.is_none() || ask.is_coarse())
        };
        let tells = |ask: Ask| {
            let most = alive.iter().map(|(l, _)| value(l, ask)).max().unwrap_or(0);
            let mut chances = vec![0.0; most as usize + 1];
            for (look, chance) in &alive {
                chances[value(look, ask) as usize] += chance;
            }
            (ask, information(ask, &chances))
        };
        let told: Vec<(Ask, f64)> = Ask::ALL.into_iter().filter(open).map(tells).collect();
        let best = told.iter().map(|t| t.1).fold(0.0, f64::max);
        if best < WORTH {
            return None;
        }
        let tie = TIE.min(best / 2.0);
        // What is half done is seen at a glance, and the rest is asked about it.
        let least = match told.first() {
            Some((Ask::Hand, tells)) if *tells >= WORTH => WORTH,
            _ => best - tie,
        };
        let (ask, _) = told.into_iter().find(|t| t.1 >= least)?;
        let mut values: Vec<u32> = match ask.is_counted() {
            true => alive.iter().map(|(l, _)| value(l, ask)).collect(),
            // An answer that seems ruled out may be the true one.
            false => self.sights.iter().map(|s| value(&s.look, ask)).collect(),
        };
        values.sort_unstable();
        values.dedup();
        Some(ask.question(&self.seq, &values))
    }

    /// Changes to single steps once few enough are likely.
    fn refine(&mut self) {
        if self.coarse.is_some() && self.likely_stretches(FINE).is_some() {
            self.make_fine();
        }
    }

    /// The likely stretches, if they have no more than so many steps.
    fn likely_stretches(&self, most: u32) -> Option<Vec<usize>> {
        let mut order: Vec<usize> = (0..self.belief.len()).collect();
        order.sort_by(|&a, &b| self.belief[b].total_cmp(&self.belief[a]));
        let (mut steps, mut sure, mut likely) = (0, 0.0, vec![]);
        for at in order {
            if sure > 0.99 {
                break;
            }
            steps += self.sights[at].steps;
            if steps > most {
                return None;
            }
            sure += self.belief[at];
            likely.push(at);
        }
        Some(likely)
    }

    fn make_fine(&mut self) {
        let Some(stretches) = self.coarse.take() else {
            return;
        };
        let mut order: Vec<usize> = (0..self.belief.len()).collect();
        order.sort_by(|&a, &b| self.belief[b].total_cmp(&self.belief[a]));
        let (mut steps, mut kept) = (0, vec![]);
        for at in order {
            steps += self.sights[at].steps;
            if steps > FINE && !kept.is_empty() {
                break;
            }
            kept.push(at);
        }
        kept.sort_unstable();
        let kept: Vec<StepRange> = kept.into_iter().map(|at| stretches[at]).collect();
        self.sights = sight::fine(&self.seq, &kept).into();
        self.believe();
    }

    /// The likeliest steps.
    fn found(&self) -> Found {
        let mut order: Vec<usize> = (0..self.belief.len()).collect();
        order.sort_by(|&a, &b| self.belief[b].total_cmp(&self.belief[a]));
        let (mut steps, mut sure) = (vec![], 0.0);
        for at in order {
            if sure >= SURE || steps.len() >= FEW {
                break;
            }
            let sight = &self.sights[at];
            sure += self.belief[at];
            let runs = sight.runs.iter().flat_map(|r| r.0.0..=r.1.0);
            steps.extend(runs.map(Step).take(FEW - steps.len()));
        }
        Found { steps, sure }
    }
}

fn value(look: &Appearance, ask: Ask) -> u32 {
    look.get(ask).min(MOST_ANSWERS)
}
