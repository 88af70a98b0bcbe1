//! The record of a piece: what was played, as a journal gives it back.
//!
//! It holds facts, and no number of a step in some plan stands for one. Where
//! a journal says no more than that steps were made (as those of earlier
//! builds do, and as a damaged one may), the record keeps how many, and they
//! are taken from the plan that the piece was begun with.

use super::goal::Goal;
use super::planner::CornerRule;
use super::project::Project;
use super::rules::Refusal;
use super::sequence::Sequence;
use super::work::{Fact, Run, Work};

/// What was played, in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    played: Vec<Played>,
    steps: u32,
}

#[derive(Clone, Debug, PartialEq)]
enum Played {
    Fact(Fact),
    /// So many steps as they were planned.
    AsPlanned(u32),
}

/// A piece taken up again.
#[derive(Clone, Debug)]
pub struct Resumed {
    /// The work as recorded, and the plan from there.
    pub sequence: Sequence,
    /// The step and the reason, if the record holds what cannot be played. From
    /// there on the plan stands for it.
    pub refused: Option<(u32, Refusal)>,
}

impl Record {
    /// Steps made.
    pub fn steps(&self) -> u32 {
        self.steps
    }

    /// Adds facts that lead to a step. They say themselves where they begin:
    /// what was made beyond that is gone, and what is missing before was made
    /// as planned.
    pub fn play(&mut self, facts: &[Fact], until: u32) {
        let Some(after) = steps_of(facts).and_then(|steps| until.checked_sub(steps)) else {
            self.skip_to(until);
            return;
        };
        self.back_to(after);
        self.skip_to(after);
        for fact in facts {
            push(&mut self.played, Played::Fact(fact.clone()));
        }
        self.steps = until;
    }

    /// Moves on to a step by steps that nothing more is known of.
    pub fn skip_to(&mut self, step: u32) {
        if step > self.steps {
            push(&mut self.played, Played::AsPlanned(step - self.steps));
            self.steps = step;
        }
    }

    /// Takes movements back until so many steps are made.
    pub fn back_to(&mut self, step: u32) {
        while self.steps > step {
            let most = self.steps - step;
            let taken = match self.played.last_mut() {
                Some(Played::Fact(Fact::Run(run))) => shorten(&mut run.to, run.from, most),
                Some(Played::AsPlanned(steps)) => shorten(steps, 0, most),
                Some(Played::Fact(Fact::Change(_))) => None,
                None => return,
            };
            match taken {
                Some(taken) => self.steps -= taken,
                None => {
                    self.played.pop();
                }
            }
        }
        // A change belongs to the movement after it.
        while let Some(Played::Fact(Fact::Change(_))) = self.played.last() {
            self.played.pop();
        }
    }

    /// All facts, those that are not recorded taken from a plan.
    fn facts(&self, plan: &Work) -> Vec<Fact> {
        let mut facts: Vec<Played> = vec![];
        let mut steps = 0;
        for played in &self.played {
            match played {
                Played::AsPlanned(more) => {
                    let until = steps + more;
                    for fact in plan.facts(steps, until) {
                        push(&mut facts, Played::Fact(fact));
                    }
                    steps = until;
                }
                Played::Fact(fact) => {
                    steps += fact.steps();
                    push(&mut facts, Played::Fact(fact.clone()));
                }
            }
        }
        let fact = |played| match played {
            Played::Fact(fact) => Some(fact),
            Played::AsPlanned(_) => None,
        };
        facts.into_iter().filter_map(fact).collect()
    }

    fn is_all_facts(&self) -> bool {
        self.played.iter().all(|p| matches!(p, Played::Fact(_)))
    }
}

/// Takes up to `most` off the end of a run that begins at `from`; `None` if
/// nothing would be left of it to take.
fn shorten(to: &mut u32, from: u32, most: u32) -> Option<u32> {
    let length = to.saturating_sub(from);
    let taken = length.min(most);
    *to -= taken;
    (taken > 0).then_some(taken)
}

/// Steps of facts, if they can be counted.
fn steps_of(facts: &[Fact]) -> Option<u32> {
    facts.iter().try_fold(0u32, |steps, fact| match fact {
        Fact::Run(Run { from, to, .. }) => steps.checked_add(to.checked_sub(*from)?),
        Fact::Change(_) => Some(steps),
    })
}

/// Adds to a list in which what goes on without a break stands as one.
fn push(list: &mut Vec<Played>, next: Played) {
    match (list.last_mut(), &next) {
        (Some(Played::AsPlanned(steps)), Played::AsPlanned(more)) => *steps += more,
        (Some(Played::Fact(Fact::Run(last))), Played::Fact(Fact::Run(run)))
            if run.from > 0 && last.to == run.from && last.stage == run.stage =>
        {
            last.to = run.to;
        }
        _ => list.push(next),
    }
}

impl Fact {
    /// Movements of a fact.
    pub fn steps(&self) -> u32 {
        match self {
            Fact::Run(run) => run.to.saturating_sub(run.from),
            Fact::Change(_) => 0,
        }
    }
}

impl Sequence {
    /// Takes up a piece again: its work is as recorded, whatever the planner
    /// would do today, and the rest is planned from there. `rule` is the one
    /// that the piece was begun under.
    pub fn resume(project: Project, record: &Record, rule: CornerRule) -> Resumed {
        let planned = Sequence::new(project.clone());
        let begun_with = match record.is_all_facts() || rule == CornerRule::default() {
            true => None,
            false => Some(Sequence::with_corners(project, rule)),
        };
        let facts = record.facts(begun_with.as_ref().unwrap_or(&planned).work());
        let steps = facts.iter().map(Fact::steps).sum();
        if planned.work().facts(0, steps) == facts {
            return Resumed {
                sequence: planned,
                refused: None,
            };
        }
        let mut work = planned.work().at(super::Step(0));
        let played = facts.into_iter().try_for_each(|fact| work.try_play(fact));
        let refused = played.err().map(|refusal| (work.steps() + 1, refusal));
        Resumed {
            sequence: Sequence::from_work(work),
            refused,
        }
    }

    /// What is to be made.
    pub fn goal(&self) -> &Goal {
        self.work().goal()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Step, testing};

    fn pair() -> Project {
        testing::folded_pair(4, 1)
    }

    /// A record of the first steps of a plan, made one by one.
    fn recorded(sequence: &Sequence, steps: u32) -> Record {
        let mut record = Record::default();
        for done in 0..steps {
            record.play(&sequence.work().facts(done, done + 1), done + 1);
        }
        record
    }

    #[test]
    fn a_record_gives_back_what_was_played() {
        let planned = Sequence::new(pair());
        for done in 0..=planned.steps() {
            let record = recorded(&planned, done);
            assert_eq!(record.facts(planned.work()), planned.work().facts(0, done));
        }
    }

    #[test]
    fn going_back_takes_movements_off_and_what_is_played_after_counts() {
        let planned = Sequence::new(pair());
        let mut record = recorded(&planned, 300);
        record.back_to(123);
        assert_eq!(record, recorded(&planned, 123));
        record.play(&planned.work().facts(123, 300), 300);
        assert_eq!(record, recorded(&planned, 300));
    }

    /// One line of a journal that is lost costs nothing that the plan knows.
    #[test]
    fn a_lost_entry_is_taken_from_the_plan() {
        let planned = Sequence::new(pair());
        let all = planned.steps();
        for lost in (0..all).step_by(7) {
            let mut record = Record::default();
            for done in (0..all).filter(|done| *done != lost) {
                record.play(&planned.work().facts(done, done + 1), done + 1);
            }
            record.skip_to(all);
            let facts = record.facts(planned.work());
            assert_eq!(facts, planned.work().facts(0, all), "without step {lost}");
        }
    }

    /// The planner has been changed since: here, the rule by which it turns a
    /// fill's corners. What was sewn stays as it was sewn, and the plan goes
    /// on from there.
    #[test]
    fn a_changed_planner_leaves_the_work_as_it_was() {
        let old = Sequence::with_corners(pair(), CornerRule::AcrossHinge);
        let new = Sequence::new(pair());
        let (before, after): (Vec<_>, Vec<_>) = (old.iter().collect(), new.iter().collect());
        let differ = before.iter().zip(&after).position(|(a, b)| a != b);
        let differ = differ.expect("the planners differ") as u32;
        for done in [differ, differ + 1, differ + 9, old.steps()] {
            let record = recorded(&old, done);
            let resumed = Sequence::resume(pair(), &record, CornerRule::default());
            assert_eq!(resumed.refused, None);
            let steps: Vec<_> = resumed.sequence.iter().take(done as usize).collect();
            assert_eq!(steps[..], before[..done as usize], "from step {done}");
            assert_eq!(
                resumed.sequence.layout().beads(),
                new.layout().beads(),
                "the piece is made to its end"
            );
        }
        let record = recorded(&new, differ);
        let resumed = Sequence::resume(pair(), &record, CornerRule::default());
        assert_eq!(resumed.sequence.iter().collect::<Vec<_>>(), after);
    }

    /// A piece of which only the number of steps is known was planned by the
    /// rule that it was begun under.
    #[test]
    fn steps_without_facts_were_made_as_they_were_planned() {
        let old = Sequence::with_corners(pair(), CornerRule::AcrossHinge);
        let mut record = Record::default();
        record.skip_to(old.steps());
        let resumed = Sequence::resume(pair(), &record, CornerRule::AcrossHinge);
        let steps: Vec<_> = resumed.sequence.iter().collect();
        assert_eq!(steps, old.iter().collect::<Vec<_>>());
    }

    /// Facts of another piece are refused, and the place is kept by number.
    #[test]
    fn facts_that_do_not_fit_are_refused() {
        let other = Sequence::new(testing::solid(Solid::Cube, 5, Closing::Fill));
        let record = recorded(&other, other.steps());
        let resumed = Sequence::resume(pair(), &record, CornerRule::default());
        assert!(resumed.refused.is_some());
        assert!(resumed.sequence.step(Step(1)).is_some());
    }
}
