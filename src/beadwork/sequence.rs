//! The sequence: every step of a piece, looked up by its number.

use super::amend::colours::ColourChange;
use super::broken_out::BrokenOut;
use super::number::last_where;
use super::paint::RoundColours;
use super::planner::{self, PlanRule};
use super::stage::{Holes, ReadyRound, Steps as _};
use super::work::Span;
use super::{
    Bead, Change, Fact, Goal, GoalJob, Job, JobInfo, Kind, Layout, Movement, PanelLayout, Project,
    Refusal, Seams, SpecIndex, Stage, Step, Work,
};
use serde::{Deserialize, Serialize};
use std::sync::{Arc, LazyLock};

/// A piece planned to its end: the work as it will be when all is made, with
/// every movement that leads there.
///
/// A step is looked up by arithmetic; memory follows the panels and the
/// lengths of thread, not the steps. A piece is planned when it is first asked
/// for a step, so that a screen need not wait for it; clones share the plan.
///
/// ```
/// use threadmark::beadwork::{Bead, Kind, Sequence, Step};
///
/// let pattern = threadmark::pattern::load("patterns/practice-pair.json")?;
/// let sequence = Sequence::new(pattern.project);
/// assert_eq!(sequence.step(Step(1)).map(|m| m.kind), Some(Kind::StartThread));
/// let movement = sequence.step(sequence.step_of(Bead(20))).expect("a step");
/// assert!(movement.strings.contains(&Bead(20)));
/// assert_eq!(sequence.step(Step(sequence.steps() + 1)), None);
/// # Ok::<(), threadmark::problem::Problems>(())
/// ```
#[derive(Clone, Debug)]
pub struct Sequence {
    planned: Arc<LazyLock<PlannedPiece, Box<dyn FnOnce() -> PlannedPiece + Send>>>,
}

/// What planning gives.
#[derive(Debug)]
struct PlannedPiece {
    work: Work,
    /// What is to be made, without what cannot be made as it lies.
    goal: Arc<Goal>,
    /// Beads that are broken out, in the order in which they were strung.
    broken_out: Vec<BrokenOut>,
}

impl Sequence {
    /// Plans a project that has been checked, from an empty mat.
    pub fn new(project: Project) -> Self {
        Sequence::with_rule(project, PlanRule::default())
    }

    /// Plans a project as pieces were planned that were begun under this rule.
    pub fn with_rule(mut project: Project, rule: PlanRule) -> Self {
        Sequence::planned_by(move || {
            project.forget_own();
            let kinds: Arc<[PanelLayout]> = project.panels.iter().map(PanelLayout::new).collect();
            let mut goal = Goal::of(&project, &kinds);
            goal.short_ends = rule <= PlanRule::ShortEnds;
            PlannedPiece::of(Work::new(Arc::new(project), kinds, Arc::new(goal)), rule)
        })
    }

    /// Plans the rest, from the work as it lies to its goal.
    pub fn from_work(work: Work) -> Self {
        Sequence::planned(work, PlanRule::default())
    }

    /// Plans the rest by a rule.
    pub(super) fn planned(work: Work, rule: PlanRule) -> Self {
        Sequence::planned_by(move || PlannedPiece::of(work, rule))
    }

    /// Takes work that is planned to its end, and the order of its jobs.
    fn whole(work: Work, order: Vec<GoalJob>) -> Self {
        Sequence::planned_by(move || PlannedPiece::whole(work, order))
    }

    /// The same, planned only once `go` returns.
    #[cfg(test)]
    pub fn planned_after(self, go: impl FnOnce() + Send + 'static) -> Self {
        Sequence::planned_by(move || {
            go();
            PlannedPiece::whole(self.work().clone(), self.goal().order.clone())
        })
    }

    fn planned_by(plan: impl FnOnce() -> PlannedPiece + Send + 'static) -> Self {
        Sequence {
            planned: Arc::new(LazyLock::new(Box::new(plan))),
        }
    }

    /// Whether it is planned already, and need not be waited for.
    pub fn is_planned(&self) -> bool {
        LazyLock::get(&self.planned).is_some()
    }

    /// The beads that are broken out, in the order in which they were strung.
    pub fn broken_out(&self) -> &[BrokenOut] {
        &self.planned.broken_out
    }

    /// What is to be made.
    pub fn goal(&self) -> &Goal {
        &self.planned.goal
    }

    /// The work as it will be at the end.
    pub fn work(&self) -> &Work {
        &self.planned.work
    }

    /// The work as it is when a step is done, with nothing of what comes.
    pub fn work_at(&self, step: Step) -> Work {
        self.planned.work.at(step)
    }

    /// Where every bead sits.
    pub fn layout(&self) -> &Layout {
        &self.planned.work.layout
    }

    /// The same piece with kinds of panel painted all over, as if the pattern
    /// had them so; but no step moves. The colours must fit.
    pub fn painted(self, panels: &[(SpecIndex, RoundColours)]) -> Self {
        if !panels.is_empty() {
            let mut goal = Goal::clone(self.planned.work.goal());
            for (spec, round_colours) in panels {
                goal.paint_all(*spec, round_colours);
            }
            let mut work = self.planned.work.clone();
            work.set_goal(Arc::new(goal));
            return Sequence::whole(work, self.planned.goal.order.clone());
        }
        self
    }

    /// The piece with other colours once a step is done. No step moves.
    ///
    /// # Errors
    /// The change does not fit the piece.
    pub fn recoloured(&self, done: Step, change: &ColourChange) -> Result<Sequence, Refusal> {
        let mut work = self.planned.work.clone();
        work.recolour(change, Bead(self.strung_after(done)))?;
        Ok(Sequence::whole(work, self.planned.goal.order.clone()))
    }

    /// What is joined to what in the finished piece.
    pub fn seams(&self) -> &Seams {
        &self.planned.work.seams
    }

    /// The jobs, in order.
    pub fn jobs(&self) -> &[JobInfo] {
        self.planned.work.jobs()
    }

    /// One job.
    pub fn job(&self, job: Job) -> &JobInfo {
        &self.jobs()[job.index()]
    }

    /// How many steps the piece has.
    pub fn steps(&self) -> u32 {
        self.planned.work.steps()
    }

    /// The first step of each length of thread.
    pub fn thread_starts(&self) -> impl ExactSizeIterator<Item = Step> + '_ {
        self.steps_before_threads()
            .iter()
            .map(|&before| Step(before + 1))
    }

    /// How many steps come before each length of thread.
    pub(super) fn steps_before_threads(&self) -> &[u32] {
        self.planned.work.threads()
    }

    fn spans(&self) -> &[Span] {
        self.planned.work.spans()
    }

    /// The job that a step belongs to.
    pub fn job_of(&self, step: Step) -> Job {
        let after = self.jobs().partition_point(|j| j.steps_before < step.0);
        Job((after - 1) as u16)
    }

    fn span_of(&self, step: Step) -> &Span {
        self.planned.work.span_of(step)
    }

    /// Movements of a job until a step, that one included, which begin, end and
    /// weave no thread and are not the maker's own.
    pub fn movements_before(&self, job: Job, until: Step) -> u32 {
        let JobInfo {
            steps_before,
            steps,
            ..
        } = *self.job(job);
        let end = until.0.min(steps_before + steps);
        let runs = self.spans().iter().filter(|span| span.run.stage.is_work());
        let within = |span: &Span| {
            let from = span.steps_before.max(steps_before);
            span.end().min(end).saturating_sub(from)
        };
        runs.map(within).sum()
    }

    /// A step, or `None` past the end (steps count from 1).
    pub fn step(&self, step: Step) -> Option<Movement> {
        let (stage, i) = self.stage_at(step)?;
        let draft = stage.step(self.layout(), i);
        Some(draft.numbered(step, self.job_of(step)))
    }

    /// The stage that a step belongs to (from 1 to the last).
    pub fn stage_of(&self, step: Step) -> &Stage {
        &self.span_of(step).run.stage
    }

    /// Whether a step works a gap differently from what was planned when it was
    /// planned.
    pub fn is_changed_at(&self, step: Step) -> bool {
        let facts = self.planned.work.facts(step.0.saturating_sub(1), step.0);
        let is_changed = |fact: &Fact| {
            use Change::{AsStitched, RowAsStitched};
            matches!(fact, Fact::Change(AsStitched { .. } | RowAsStitched(_)))
                || matches!(fact, Fact::Run(run) if matches!(run.stage, Stage::BreakOut(_)))
        };
        facts.iter().any(is_changed)
    }

    /// The stage of a step, and which step of it, from 0; `None` past the end.
    pub(super) fn stage_at(&self, step: Step) -> Option<(&Stage, u32)> {
        if step.0 == 0 || step.0 > self.steps() {
            return None;
        }
        let Span {
            run, steps_before, ..
        } = self.span_of(step);
        Some((&run.stage, run.from + (step.0 - 1 - steps_before)))
    }

    /// The steps from one on, in order.
    pub fn iter_from(&self, first: Step) -> impl Iterator<Item = Movement> + Clone + '_ {
        let first = first.0.max(1);
        let mut spans =
            self.spans()[self.spans().partition_point(|s| s.steps_before < first)..].iter();
        let mut span = (first <= self.steps()).then(|| self.span_of(Step(first)));
        let mut jobs = self.jobs().partition_point(|j| j.steps_before < first);
        let mut ready = span.and_then(|s| self.ready(s));
        (first..=self.steps()).map(move |n| {
            while span.is_some_and(|span| span.end() < n) {
                span = spans.next();
                ready = span.and_then(|s| self.ready(s));
            }
            while self.jobs().get(jobs).is_some_and(|j| j.steps_before < n) {
                jobs += 1;
            }
            let span = span.expect("every step lies in a span");
            let i = span.run.from + (n - 1 - span.steps_before);
            let draft = match &ready {
                Some(round) => round.step(i),
                None => span.run.stage.step(self.layout(), i),
            };
            draft.numbered(Step(n), Job(jobs as u16 - 1))
        })
    }

    /// What is the same for all steps of a round, so that it is worked out
    /// once a round and not once a step.
    fn ready(&self, span: &Span) -> Option<ReadyRound<'_>> {
        match &span.run.stage {
            Stage::Rounds(round) => Some(round.ready(self.layout())),
            _ => None,
        }
    }

    /// All steps, in order.
    pub fn iter(&self) -> impl Iterator<Item = Movement> + Clone + '_ {
        self.iter_from(Step(1))
    }

    /// Beads strung once a step is done; 0 for step 0.
    pub fn strung_after(&self, step: Step) -> u32 {
        self.planned.work.strung_after(step)
    }

    /// Beads gone through, over the whole piece, once a step is done.
    pub fn passes_after(&self, step: Step) -> u64 {
        let passes = |span: &Span, i| span.run.stage.passes_before(self.layout(), i);
        self.planned.work.span_until(step).map_or(0, |(span, to)| {
            span.passes_before + u64::from(passes(span, to) - passes(span, span.run.from))
        })
    }

    /// Beads gone through over the whole making.
    pub fn passes(&self) -> u64 {
        self.planned.work.passes()
    }

    /// The step that strings a bead, found by bisection over the runs and then
    /// over the steps of one.
    pub fn step_of(&self, bead: Bead) -> Step {
        let spans = self.spans();
        let at = spans.partition_point(|span| span.beads_before < bead.0);
        let span = &spans[at.max(1) - 1];
        let (stage, from) = (&span.run.stage, span.run.from);
        let strung = |i| stage.strung_before(self.layout(), i);
        let wanted = bead.0 - span.beads_before + strung(from);
        let before = last_where(from..span.run.to, |i| strung(i) < wanted);
        Step(span.steps_before + before + 1 - from)
    }

    /// The beads that a step goes through, in order, each by the end that the
    /// needle leaves it by. None of a step that is not there.
    pub fn holes(&self, step: Step) -> Holes {
        let of_stage = |(stage, i): (&Stage, u32)| stage.holes(self.layout(), i);
        self.stage_at(step).map_or(Holes::new(), of_stage)
    }

    /// The bead that the needle leaves once a step is done, if thread is in
    /// the work.
    pub fn leaves(&self, step: Step) -> Option<Bead> {
        for step in (1..=step.0).rev() {
            let movement = self.step(Step(step))?;
            match (movement.kind, movement.passes.last()) {
                (Kind::EndThread, _) | (Kind::StartThread, None) => return None,
                (_, None) => {}
                (_, leaves) => return leaves.copied(),
            }
        }
        None
    }

    /// Where the work is once a step is done.
    pub fn anchor(&self, step: Step) -> Anchor {
        let bead = self.strung_after(step);
        Anchor {
            bead,
            then: step.0 - self.first_step_with(bead),
        }
    }

    /// The step after which the work is at an anchor, or the last before
    /// another bead is strung.
    pub fn step_at(&self, anchor: Anchor) -> Step {
        let beads = self.layout().beads();
        let bead = anchor.bead.min(beads);
        let last = match bead < beads {
            true => self.step_of(Bead(bead + 1)).0 - 1,
            false => self.steps(),
        };
        let step = self.first_step_with(bead).saturating_add(anchor.then);
        Step(step.min(last))
    }

    fn first_step_with(&self, bead: u32) -> u32 {
        match bead {
            0 => 0,
            bead => self.step_of(Bead(bead)).0,
        }
    }
}

impl PlannedPiece {
    fn of(work: Work, rule: PlanRule) -> Self {
        let order = work.order();
        PlannedPiece::whole(planner::plan(work, rule), order)
    }

    /// Takes work that is planned to its end, and the order of its jobs.
    fn whole(work: Work, mut order: Vec<GoalJob>) -> Self {
        let mut goal = work.goal().clone();
        if !goal.order.iter().all(|job| work.is_begun(*job)) {
            let left = Arc::make_mut(&mut goal);
            left.amendments += 1;
            left.is_in_part = true;
            order.retain(|job| work.is_begun(*job));
        }
        if goal.order != order {
            Arc::make_mut(&mut goal).order = order;
        }
        let broken_out = work.find_broken_out();
        PlannedPiece {
            work,
            goal,
            broken_out,
        }
    }
}

/// A place in the work, whatever is planned, where something hangs, such as a note: a
/// number of movements after a bead was strung. A step's number moves when the plan
/// changes; a bead stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Anchor {
    /// The bead strung last, from 1; 0 before the first.
    pub bead: u32,
    /// Movements made since, from 0.
    pub then: u32,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Project, Solid};
    use crate::beadwork::testing;

    fn all_shapes() -> Vec<(&'static str, Project)> {
        use Closing::*;
        vec![
            ("triangle", testing::single(testing::panel(3, 7))),
            ("square", testing::single(testing::panel(4, 11))),
            ("pentagon", testing::single(testing::panel(5, 12))),
            ("hexagon", testing::single(testing::panel(6, 12))),
            ("inward triangle", testing::single(testing::inward(3, 7, 0))),
            ("inward hexagon", testing::single(testing::inward(6, 13, 4))),
            ("strip", testing::single(testing::strip(7, 20))),
            ("tetrahedron", testing::solid(Solid::Tetrahedron, 6, SetIn)),
            (
                "filled tetrahedron",
                testing::solid(Solid::Tetrahedron, 6, Fill),
            ),
            (
                "open tetrahedron",
                testing::solid(Solid::Tetrahedron, 6, Open),
            ),
            ("octahedron", testing::solid(Solid::Octahedron, 5, SetIn)),
            ("icosahedron", testing::solid(Solid::Icosahedron, 4, SetIn)),
            ("cube", testing::solid(Solid::Cube, 9, SetIn)),
            ("folded pair", testing::folded_pair(8, 3)),
            ("ring", testing::ring(8, 5, SetIn)),
            ("filled ring", testing::ring(8, 5, Fill)),
            ("long ring", testing::ring(8, 30, SetIn)),
        ]
    }

    #[test]
    fn every_bead_is_strung_once_and_in_order() {
        for (name, project) in all_shapes() {
            let seq = Sequence::new(project);
            let mut strung = 0;
            let mut passes = 0;
            for m in seq.iter() {
                for bead in &m.strings {
                    strung += 1;
                    assert_eq!(bead.0, strung, "{name} step {}", m.step);
                    assert!(m.passes.contains(bead));
                }
                passes += m.passes.len() as u64;
                assert_eq!(seq.strung_after(m.step), strung, "{name} step {}", m.step);
                assert_eq!(seq.passes_after(m.step), passes, "{name} step {}", m.step);
                assert_eq!(seq.step(m.step).as_ref(), Some(&m));
            }
            assert_eq!(strung, seq.layout().beads(), "{name}");
        }
    }

    #[test]
    fn a_piece_is_planned_when_it_is_asked_for_and_its_clones_with_it() {
        let sequence = Sequence::new(testing::folded_pair(4, 1));
        let clone = sequence.clone();
        assert!(!clone.is_planned());
        assert!(sequence.steps() > 0);
        assert!(clone.is_planned());
    }

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

    #[test]
    fn every_step_has_an_anchor_of_its_own() {
        let sequence = Sequence::new(testing::folded_pair(4, 1));
        for step in (0..=sequence.steps()).map(Step) {
            assert_eq!(sequence.step_at(sequence.anchor(step)), step);
        }
        let beyond = Anchor {
            bead: 9999,
            then: 9999,
        };
        assert_eq!(sequence.step_at(beyond), Step(sequence.steps()));
    }
}
