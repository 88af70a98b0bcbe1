//! The record of a piece: what was played, read from a journal.
//!
//! It contains facts rather than step numbers of a plan. If a journal says only
//! that steps were made (a journal of an earlier build, or a damaged one), the
//! record has their number, and the facts are taken from the plan with which
//! the piece was begun.

use super::paint::RoundColours;
use super::planner::PlanRule;
use super::{Amendment, Change, Fact, Project, Refusal, Run, Sequence, SpecIndex, Work};

/// What was played, in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    played: Vec<Played>,
    steps: u32,
}

#[derive(Clone, Debug, PartialEq)]
enum Played {
    Fact(Fact),
    /// This many steps, as planned.
    AsPlanned(u32),
    /// The maker changed the plan.
    Amended(Amendment),
    /// Movements were taken back, past a change of the plan, until this many
    /// steps were left. The record before it is kept, since an amendment
    /// depends on the work when it was made.
    Back(u32),
    /// What was played last replaced these entries, which came after the first
    /// `usize` entries.
    Restated(usize, Vec<Played>),
}

/// What was taken back.
#[derive(Clone, Debug, PartialEq)]
pub enum Undone {
    /// The last movement.
    Movement,
    /// The last amendment.
    Amendment(Amendment),
    /// The last correction of earlier work.
    Restated,
}

/// A piece that was opened again.
#[derive(Clone, Debug)]
pub struct Resumed {
    /// The work as recorded, and the plan from there.
    pub sequence: Sequence,
    /// The step and the reason, if something in the record cannot be played.
    /// From there on the plan is used instead; an amendment that is refused is
    /// left out.
    pub refused: Option<(u32, Refusal)>,
}

impl Record {
    /// Steps made.
    pub fn steps(&self) -> u32 {
        self.steps
    }

    /// Adds facts that lead to step `until`. Their number of steps gives their
    /// start: steps after the start are removed, and missing steps before it
    /// are assumed as planned.
    pub fn play(&mut self, facts: &[Fact], until: u32) {
        // Earlier builds wrote a run backward when the maker went back.
        let Some(after) = steps_of(facts).and_then(|steps| until.checked_sub(steps)) else {
            self.back_to(until);
            self.skip_to(until);
            return;
        };
        self.take_off(after);
        self.skip_to(after);
        for fact in facts {
            push(&mut self.played, Played::Fact(fact.clone()));
        }
        self.steps = until;
    }

    /// Adds steps without facts, up to a step.
    pub fn skip_to(&mut self, step: u32) {
        if step > self.steps {
            push(&mut self.played, Played::AsPlanned(step - self.steps));
            self.steps = step;
        }
    }

    /// Adds an amendment of the steps to come.
    pub fn amend(&mut self, amendment: Amendment) {
        self.played.push(Played::Amended(amendment));
    }

    /// Replaces what was played after step `after` by other facts, which lead
    /// to `until`.
    pub fn restate(&mut self, after: u32, facts: &[Fact], until: u32) {
        let mut was = self.played.clone();
        self.take_off(after);
        self.play(facts, until);
        let both = self.played.iter().zip(&was);
        let kept = both.take_while(|(now, was)| now == was).count();
        let replaced = was.split_off(kept);
        self.played.push(Played::Restated(kept, replaced));
    }

    /// Takes back the last movement, amendment or correction. If movements were
    /// taken back past an amendment, the amendment comes first.
    pub fn undo(&mut self) -> Option<Undone> {
        if let Some(Played::Restated(kept, replaced)) = self.played.last_mut() {
            let (kept, replaced) = (*kept, std::mem::take(replaced));
            self.played.truncate(kept);
            self.played.extend(replaced);
            self.steps = self.played.iter().fold(0, Played::steps_after);
            return Some(Undone::Restated);
        }
        if !matches!(self.played.last()?, Played::Amended(_) | Played::Back(_)) {
            self.take_off(self.steps.saturating_sub(1));
            return Some(Undone::Movement);
        }
        let is_decision = |p: &Played| p.is_amendment() || p.is_as_stitched();
        let last = self.played.iter().rposition(is_decision)?;
        // Steps after it depend on it.
        let decision = self.played.drain(last..).next()?;
        let steps = self.steps;
        self.steps = self.played.iter().fold(0, Played::steps_after);
        self.back_to(steps);
        Some(match decision {
            Played::Amended(amendment) => Undone::Amendment(amendment),
            _ => Undone::Restated,
        })
    }

    /// The amendments, each with the record before it.
    pub fn changes_made(&self) -> Vec<(Record, Amendment)> {
        let mut before = Record::default();
        let mut changes = vec![];
        for played in &self.played {
            if let Played::Amended(amendment) = played {
                changes.push((before.clone(), amendment.clone()));
            }
            before.steps = Played::steps_after(before.steps, played);
            before.played.push(played.clone());
        }
        changes
    }

    /// The amendment that [`undo`](Record::undo) would take back, if it would
    /// take back one.
    pub fn last_amendment(&self) -> Option<&Amendment> {
        let is_fact = |played: &&Played| !matches!(played, Played::Back(_));
        match self.played.iter().rfind(is_fact)? {
            Played::Amended(amendment) => Some(amendment),
            _ => None,
        }
    }

    /// Whether [`undo`](Record::undo) would take back a gap as stitched whose movement
    /// was taken back.
    pub fn undoes_a_gap(&self) -> bool {
        let is_decision = |p: &&Played| p.is_amendment() || p.is_as_stitched();
        let last = self.played.iter().rfind(is_decision);
        matches!(self.played.last(), Some(Played::Back(_)))
            && last.is_some_and(Played::is_as_stitched)
    }

    /// The amendments, in order.
    pub fn amendments(&self) -> impl Iterator<Item = &Amendment> {
        self.played.iter().filter_map(|played| match played {
            Played::Amended(amendment) => Some(amendment),
            _ => None,
        })
    }

    /// Takes movements back until `step` steps are left. Amendments stay, and so do
    /// gaps as stitched: they are planned again as they were.
    pub fn back_to(&mut self, step: u32) {
        if step >= self.steps {
            return;
        }
        let mut steps = self.steps;
        let mut is_kept = false;
        for played in self.played.iter().rev() {
            match played {
                Played::Amended(_) | Played::Back(_) => break,
                played if played.is_as_stitched() => is_kept = true,
                played => steps = steps.saturating_sub(played.steps()),
            }
            if is_kept || steps < step {
                break;
            }
        }
        match is_kept {
            true => {
                self.played.push(Played::Back(step));
                self.steps = step;
            }
            false => self.take_off(step),
        }
    }

    /// Takes movements back, with gaps as stitched in them. Amendments stay.
    fn take_off(&mut self, step: u32) {
        if step >= self.steps {
            return;
        }
        let mut steps = self.steps;
        let mut kept = self.played.len();
        while steps > step {
            match kept.checked_sub(1).map(|last| &self.played[last]) {
                Some(Played::Amended(_) | Played::Back(_)) => break,
                Some(played) => steps = steps.saturating_sub(played.steps()),
                None => steps = 0,
            }
            kept = kept.saturating_sub(1);
        }
        match (kept.checked_sub(1), steps > step) {
            (Some(last), true) => {
                let is_back = matches!(self.played[last], Played::Back(_));
                if is_back {
                    self.played.truncate(last);
                }
                self.played.push(Played::Back(step));
            }
            _ => self.shorten(step),
        }
        self.steps = step;
    }

    /// Removes movements from the end, if no amendment comes between.
    fn shorten(&mut self, step: u32) {
        let mut over = self.steps - step;
        while let Some(last) = self.played.last_mut() {
            let taken = match last {
                Played::Fact(Fact::Run(run)) => take(&mut run.to, run.from, over),
                Played::AsPlanned(steps) => take(steps, 0, over),
                Played::Restated(..) if over == 0 => break,
                Played::Fact(Fact::Change(_)) | Played::Restated(..) => 0,
                Played::Amended(_) | Played::Back(_) => break,
            };
            over -= taken;
            // A change belongs to the movement after it, and an empty run is
            // removed.
            match last.steps() {
                0 => _ = self.played.pop(),
                _ => break,
            }
        }
    }

    /// All facts; those that are not recorded come from a plan.
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
                Played::Amended(_) | Played::Back(_) | Played::Restated(..) => {}
            }
        }
        let fact = |played| match played {
            Played::Fact(fact) => Some(fact),
            _ => None,
        };
        facts.into_iter().filter_map(fact).collect()
    }

    /// The facts from an entry on, until the next amendment or until movements
    /// are taken back, both of which depend on the work at that point.
    fn facts_until_amendment(&self, from: usize) -> impl Iterator<Item = &Fact> {
        let played = self.played[from..].iter();
        let is_end = |played: &&Played| matches!(played, Played::Back(_) | Played::Amended(_));
        let until = played.take_while(move |played| !is_end(played));
        until.filter_map(|played| match played {
            Played::Fact(fact) => Some(fact),
            _ => None,
        })
    }

    /// Whether there are amendments, or movements taken back that are still planned.
    fn has_decisions_ahead(&self) -> bool {
        let mut played = self.played.iter();
        played.any(|p| matches!(p, Played::Amended(_) | Played::Back(_)))
    }

    fn is_all_facts(&self) -> bool {
        let mut played = self.played.iter();
        played.all(|p| !matches!(p, Played::AsPlanned(_)))
    }
}

impl Played {
    fn is_amendment(&self) -> bool {
        matches!(self, Played::Amended(_))
    }

    fn is_as_stitched(&self) -> bool {
        use Change::{AsStitched, RowAsStitched};
        matches!(
            self,
            Played::Fact(Fact::Change(AsStitched { .. } | RowAsStitched(_)))
        )
    }

    /// The number of steps after an entry, given the number before it.
    fn steps_after(steps: u32, played: &Played) -> u32 {
        match played {
            Played::Back(to) => *to,
            played => steps + played.steps(),
        }
    }

    fn steps(&self) -> u32 {
        match self {
            Played::Fact(fact) => fact.steps(),
            Played::AsPlanned(steps) => *steps,
            Played::Amended(_) | Played::Back(_) | Played::Restated(..) => 0,
        }
    }
}

/// Removes up to `most` steps from the end of a run that begins at `from`;
/// returns how many.
fn take(to: &mut u32, from: u32, most: u32) -> u32 {
    let taken = to.saturating_sub(from).min(most);
    *to -= taken;
    taken
}

/// The number of steps of facts; `None` if a run is invalid.
fn steps_of(facts: &[Fact]) -> Option<u32> {
    facts.iter().try_fold(0u32, |steps, fact| match fact {
        Fact::Run(Run { from, to, .. }) => steps.checked_add(to.checked_sub(*from)?),
        Fact::Change(_) => Some(steps),
    })
}

/// Adds to a list, combined with the last entry if it continues that.
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
    /// The number of movements of a fact.
    pub fn steps(&self) -> u32 {
        match self {
            Fact::Run(run) => run.to.saturating_sub(run.from),
            Fact::Change(_) => 0,
        }
    }
}

impl Work {
    /// Whether this work begins with everything that was played on another.
    fn goes_on_from(&self, other: &Work) -> bool {
        let steps = other.steps();
        self.steps() >= steps && self.facts(0, steps) == other.facts(0, steps)
    }
}

/// Whether a fact comes next in the steps that were taken back, and the work
/// has not departed from them.
fn lies_ahead(ahead: Option<&Work>, work: &Work, fact: &Fact) -> bool {
    let (after, until) = (work.steps(), work.steps() + fact.steps());
    let full = ahead.filter(|full| full.goes_on_from(work));
    full.is_some_and(|full| full.facts(after, until).contains(fact))
}

/// The work to plan from: the work before steps were taken back, if the work
/// has not departed from it.
fn work_to_plan_from<'a>(work: &'a Work, ahead: Option<&'a Work>) -> &'a Work {
    ahead.filter(|full| full.goes_on_from(work)).unwrap_or(work)
}

impl Sequence {
    /// Opens a piece again: its work is as recorded, even if the planner would
    /// plan it differently today, and the rest is planned from there. `painted`
    /// is paint of earlier builds, which also changes sewn beads; `rule` is the
    /// planning rule with which the piece was begun.
    ///
    /// ```
    /// use threadmark::beadwork::{Sequence, planner::PlanRule, record::Record};
    ///
    /// let project = threadmark::pattern::load("patterns/practice-pair.json")?.project;
    /// let sequence = Sequence::new(project.clone());
    /// let mut record = Record::default();
    /// record.play(&sequence.work().facts(0, 25), 25);
    /// let resumed = Sequence::resume(project, &[], &record, PlanRule::default());
    /// assert_eq!(resumed.refused, None);
    /// assert!(resumed.sequence.iter().eq(sequence.iter()));
    /// # Ok::<(), threadmark::problem::Problems>(())
    /// ```
    pub fn resume(
        project: Project,
        painted: &[(SpecIndex, RoundColours)],
        record: &Record,
        rule: PlanRule,
    ) -> Resumed {
        // The steps ahead follow the current rule, except for thread ends.
        let ahead = rule.max(PlanRule::ShortEnds);
        let planned = Sequence::with_rule(project.clone(), ahead).painted(painted);
        if record.played.is_empty() {
            return Resumed {
                sequence: planned,
                refused: None,
            };
        }
        let begun_with = match record.is_all_facts() || rule == ahead {
            true => None,
            false => Some(Sequence::with_rule(project, rule).painted(painted)),
        };
        let begun_with = begun_with.as_ref().unwrap_or(&planned);
        if record.has_decisions_ahead() {
            return Sequence::resume_amended(record, begun_with);
        }
        let facts = record.facts(begun_with.work());
        let steps = facts.iter().map(Fact::steps).sum();
        if planned.work().facts(0, steps) == facts {
            return Resumed {
                sequence: planned,
                refused: None,
            };
        }
        let mut work = planned.work().at(super::Step(0));
        work.foresee(&facts);
        let played = facts.into_iter().try_for_each(|fact| work.try_play(fact));
        let refused = played.err().map(|refusal| (work.steps() + 1, refusal));
        Resumed {
            sequence: Sequence::from_work(work.without_loose_changes()),
            refused,
        }
    }

    /// Opens a piece whose record has amendments.
    fn resume_amended(record: &Record, begun_with: &Sequence) -> Resumed {
        let mut work = begun_with.work().at(super::Step(0));
        work.foresee(record.facts_until_amendment(0));
        let mut refused = None;
        // The work before movements were taken back. Its further steps are the
        // plan until the maker departs from them.
        let mut ahead: Option<Work> = None;
        for (nth, played) in record.played.iter().enumerate() {
            let done = match played {
                Played::Back(step) => {
                    let full = ahead.take().filter(|full| full.goes_on_from(&work));
                    let full = full.unwrap_or_else(|| work.clone());
                    work = full.at(super::Step((*step).min(work.steps())));
                    work.foresee(record.facts_until_amendment(nth + 1));
                    ahead = Some(full);
                    Ok(())
                }
                Played::Restated(..) => {
                    if let Some(full) = ahead.take() {
                        work.keep_colours(&full);
                    }
                    Ok(())
                }
                Played::Fact(fact) => match work.try_play(fact.clone()) {
                    // Movements of an earlier plan may be taken back and made
                    // again.
                    Err(_) if lies_ahead(ahead.as_ref(), &work, fact) => {
                        work.play(fact.clone());
                        Ok(())
                    }
                    played => played,
                },
                Played::Amended(amendment) => {
                    ahead = None;
                    work = work.without_loose_changes();
                    let amended = work.amend(amendment);
                    work.foresee(record.facts_until_amendment(nth + 1));
                    amended
                }
                Played::AsPlanned(more) => {
                    let (after, until) = (work.steps(), work.steps() + more);
                    let plan = match work.goal().amendments {
                        0 => begun_with,
                        _ => &Sequence::from_work(work_to_plan_from(&work, ahead.as_ref()).clone()),
                    };
                    let mut facts = plan.work().facts(after, until).into_iter();
                    facts.try_for_each(|fact| work.try_play(fact))
                }
            };
            if let Err(refusal) = done {
                refused.get_or_insert((work.steps() + 1, refusal));
                if !played.is_amendment() {
                    break;
                }
            }
        }
        Resumed {
            sequence: Sequence::from_work(
                work_to_plan_from(&work, ahead.as_ref())
                    .clone()
                    .without_loose_changes(),
            ),
            refused,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::amend::thread::ThreadChange;
    use crate::beadwork::amend::{OwnStep, OwnStepKind};
    use crate::beadwork::project::{Closing, Make, Solid};
    use crate::beadwork::{Kind, Movement, Step, testing};

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
    fn going_back_removes_movements_and_playing_adds_them_again() {
        let planned = Sequence::new(pair());
        let mut record = recorded(&planned, 300);
        record.back_to(123);
        assert_eq!(record, recorded(&planned, 123));
        record.play(&planned.work().facts(123, 300), 300);
        assert_eq!(record, recorded(&planned, 300));
    }

    /// An own step is done once, also where the maker went back and changed the plan
    /// before it.
    #[test]
    fn an_own_step_done_sooner_than_it_was_asked_for_is_done() {
        let own = OwnStep {
            what: OwnStepKind::Fit,
            text: "the neck".to_string(),
        };
        let own = Amendment::Own(own);
        let cut = Amendment::Thread(ThreadChange::Cut(1_450));
        let plain = Sequence::new(pair());
        let mut record = recorded(&plain, 30);
        record.amend(own.clone());
        record.back_to(20);
        record.amend(cut.clone());
        let asked = plain.amended(Step(30), &own).unwrap();
        let mut sequence = asked.amended(Step(20), &cut).unwrap();
        let is_own = |m: &Movement| m.kind == Kind::Own;
        let steps: Vec<_> = sequence.iter().filter(is_own).map(|m| m.step).collect();
        assert_eq!(steps, [Step(21)]);
        record.play(&sequence.work().facts(20, 25), 25);
        let resumed = Sequence::resume(pair(), &[], &record, PlanRule::default());
        assert!(resumed.refused.is_none());
        assert!(resumed.sequence.iter().eq(sequence.iter()));
        // Behind it, it is not planned again; before it, it is.
        for (done, at) in [(25, 21), (20, 21), (15, 16)] {
            let cut = Amendment::Thread(ThreadChange::Cut(1_000 + done));
            sequence = sequence.amended(Step(done), &cut).unwrap();
            let steps: Vec<_> = sequence.iter().filter(is_own).map(|m| m.step).collect();
            assert_eq!(steps, [Step(at)]);
        }
    }

    /// A lost line of a journal is replaced from the plan.
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

    /// The planner has changed since, here in how it turns a fill's corners.
    /// What was sewn stays as it was, and the plan continues from there.
    #[test]
    fn a_changed_planner_leaves_the_work_as_it_was() {
        let old = Sequence::with_rule(pair(), PlanRule::AcrossHinge);
        let new = Sequence::new(pair());
        let (before, after): (Vec<_>, Vec<_>) = (old.iter().collect(), new.iter().collect());
        let differ = before.iter().zip(&after).position(|(a, b)| a != b);
        let differ = differ.expect("the planners differ") as u32;
        for done in [differ, differ + 1, differ + 9, old.steps()] {
            let record = recorded(&old, done);
            let resumed = Sequence::resume(pair(), &[], &record, PlanRule::default());
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
        let resumed = Sequence::resume(pair(), &[], &record, PlanRule::default());
        assert_eq!(resumed.sequence.iter().collect::<Vec<_>>(), after);
    }

    /// A piece with only a number of steps was planned by the rule with which
    /// it was begun.
    #[test]
    fn steps_without_facts_were_made_as_they_were_planned() {
        let mut tipped = testing::solid(Solid::Tetrahedron, 5, Closing::SetIn);
        if let Make::Solid { tips, .. } = &mut tipped.make {
            *tips = 2;
        }
        for (project, rule) in [
            (pair(), PlanRule::AcrossHinge),
            (tipped, PlanRule::PastTips),
        ] {
            let old = Sequence::with_rule(project.clone(), rule);
            let mut record = Record::default();
            record.skip_to(old.steps());
            let resumed = Sequence::resume(project.clone(), &[], &record, rule);
            let steps: Vec<_> = resumed.sequence.iter().collect();
            assert_eq!(steps, old.iter().collect::<Vec<_>>());
            assert_ne!(steps, Sequence::new(project).iter().collect::<Vec<_>>());
        }
    }

    /// An amendment, and everything after it, is restored.
    #[test]
    fn an_amended_piece_is_restored() {
        use crate::beadwork::amend::OpeningEnd;
        let planned = Sequence::new(pair());
        let job = *planned.goal().order.last().unwrap();
        for done in (0..planned.steps()).step_by(11) {
            let amendment = Amendment::Opening {
                job,
                how: OpeningEnd::Open,
            };
            let Ok(amended) = planned.amended(Step(done), &amendment) else {
                continue;
            };
            let mut record = recorded(&planned, done);
            record.amend(amendment.clone());
            for step in done..amended.steps() {
                record.play(&amended.work().facts(step, step + 1), step + 1);
                if step % 13 == 0 {
                    let resumed = Sequence::resume(pair(), &[], &record, PlanRule::default());
                    assert_eq!(resumed.refused, None, "amended at {done}, step {step}");
                    let steps: Vec<_> = resumed.sequence.iter().take(step as usize + 1).collect();
                    assert!(
                        steps.iter().eq(amended
                            .iter()
                            .take(steps.len())
                            .collect::<Vec<_>>()
                            .iter())
                    );
                }
            }
            // Going back past it removes the movements; the amendment stays.
            record.back_to(done.saturating_sub(5));
            assert_eq!(record.amendments().collect::<Vec<_>>(), [&amendment]);
            assert_eq!(record.undo(), Some(Undone::Amendment(amendment)));
            assert_eq!(record, recorded(&planned, done.saturating_sub(5)));
        }
    }

    /// After going back past amendments, the plan is the same when the piece is
    /// opened again, and the steps ahead are still there.
    #[test]
    fn after_going_back_past_amendments_the_plan_is_the_same_when_opened_again() {
        use crate::beadwork::amend::OpeningEnd;
        let planned = Sequence::new(pair());
        let job = *planned.goal().order.last().unwrap();
        let how = OpeningEnd::Fill { kind: 1, open: 1 };
        let (first, second) = (Amendment::Opening { job, how }, Amendment::Finish);
        let (one, other) = (200, 230);
        let once = planned.amended(Step(one), &first).unwrap();
        let twice = once.amended(Step(other), &second).unwrap();
        let mut record = recorded(&planned, one);
        record.amend(first.clone());
        record.play(&once.work().facts(one, other), other);
        record.amend(second.clone());
        let end = twice.steps();
        record.play(&twice.work().facts(other, end), end);
        let opened = |record: &Record| {
            let resumed = Sequence::resume(pair(), &[], record, PlanRule::default());
            assert_eq!(resumed.refused, None);
            resumed.sequence
        };
        for back in (0..end).rev().step_by(9) {
            let mut looked = record.clone();
            looked.back_to(back);
            assert_eq!(looked.steps(), back);
            assert!(opened(&looked).iter().eq(twice.iter()), "back at {back}");
            looked.back_to(back / 2);
            assert!(opened(&looked).iter().eq(twice.iter()), "and at half");
            looked.play(&twice.work().facts(back / 2, end), end);
            assert!(opened(&looked).iter().eq(twice.iter()), "ahead again");
            // Another amendment there departs from the steps ahead.
            looked.back_to(back);
            let again = Amendment::LeaveOut(job);
            if let Ok(amended) = twice.amended(Step(back), &again) {
                looked.amend(again.clone());
                assert!(opened(&looked).iter().eq(amended.iter()), "at {back}");
                assert_eq!(looked.undo(), Some(Undone::Amendment(again)));
            }
            assert!(opened(&looked).iter().eq(twice.iter()));
            let mut looked = record.clone();
            looked.back_to(back);
            if back <= one {
                assert_eq!(looked.undo(), Some(Undone::Amendment(second.clone())));
                assert!(opened(&looked).iter().eq(once.iter()), "at {back}");
                assert_eq!(looked.undo(), Some(Undone::Amendment(first.clone())));
                assert_eq!(looked, recorded(&planned, back));
            }
        }
    }

    /// A gap as stitched is planned as it was when the maker goes back past it, and
    /// when the piece is opened again; undo takes it out of the plan.
    #[test]
    fn a_gap_as_stitched_stays_in_the_plan_until_undo() {
        let planned = Sequence::new(pair());
        let (done, found) = (30..)
            .find_map(|done| {
                let found = planned.as_stitched(Step(done), Step(done + 1), 3, None);
                Some((done, found.ok()?))
            })
            .unwrap();
        let mut record = recorded(&planned, done);
        record.play(&found.made, found.step);
        let full = &found.sequence;
        let further = found.step + 30;
        record.play(&full.work().facts(found.step, further), further);
        let opened = |record: &Record| {
            let resumed = Sequence::resume(pair(), &[], record, PlanRule::default());
            assert_eq!(resumed.refused, None);
            resumed.sequence
        };
        for step in [further - 1, found.step, done, 20, 1] {
            let mut back = record.clone();
            back.back_to(step);
            assert_eq!(back.steps(), step);
            assert!(opened(&back).iter().eq(full.iter()), "back at {step}");
            let mut ahead = back.clone();
            ahead.play(&full.work().facts(step, further), further);
            assert!(opened(&ahead).iter().eq(full.iter()), "ahead from {step}");
            let is_past = step < found.step;
            let undone = match is_past {
                true => Undone::Restated,
                false => Undone::Movement,
            };
            assert_eq!(back.undo(), Some(undone), "at {step}");
            assert_eq!(back.steps(), step - u32::from(!is_past));
            let plan = if step <= found.step { &planned } else { full };
            assert!(opened(&back).iter().eq(plan.iter()), "undone at {step}");
        }
    }

    /// Facts of another piece are refused.
    #[test]
    fn facts_that_do_not_fit_are_refused() {
        let other = Sequence::new(testing::solid(Solid::Cube, 5, Closing::Fill));
        let record = recorded(&other, other.steps());
        let resumed = Sequence::resume(pair(), &[], &record, PlanRule::default());
        assert!(resumed.refused.is_some());
        assert!(resumed.sequence.step(Step(1)).is_some());
    }
}
