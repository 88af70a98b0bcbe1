//! The work: what has been stitched so far.
//!
//! It contains facts only: the beads strung and what they touch, the panels
//! begun, the joins made, the corners that have come together, and the bead end
//! from which the thread comes out. What is still to be made is a [`Goal`]; a
//! planner finds the way from the work to the goal.
//!
//! Facts are short: a round worked by its law is one [`Run`] for any number of
//! beads, and everything about a bead is computed from the runs.

mod stages;

use super::goal::AtNeedle;
use super::layout::RimIndex;
pub use super::number::GoalJob;
use super::number::NumberSet;
use super::stage::{Own, Path, Rounds, Steps as _};
use super::{
    Bead, Begin, Corner, Direction, GapChange, Goal, Hole, JobInfo, JobKind, Kind, Layout, Panel,
    PanelLayout, Project, RimSide, Round, RowGap, Seams, Side, SideFit, SideJoin, Stage, Step,
    WorkDirection,
};
use serde::{Deserialize, Serialize};
use std::ops::Range;
use std::sync::Arc;

/// What has been stitched, and in which steps.
#[derive(Clone, Debug)]
pub struct Work {
    /// Where beads sit.
    pub layout: Layout,
    /// What has been joined.
    pub seams: Seams,
    /// Beads strung so far. They are numbered in that order.
    pub strung: u32,
    goal: Arc<Goal>,
    needle: Option<Hole>,
    thread: Option<CurrentThreadState>,
    jobs: Vec<JobInfo>,
    begun: NumberSet<GoalJob>,
    /// The current job: begun last, or being prepared.
    current_job: Option<GoalJob>,
    prepared: NumberSet<(GoalJob, u16)>,
    spans: Vec<Span>,
    /// Changes between movements, each with the number of spans before it.
    changes: Vec<(usize, Change)>,
    /// The number of steps before each start of a thread.
    threads: Vec<u32>,
    steps: u32,
    passes: u64,
}

/// The current thread.
#[derive(Clone, Copy, Debug)]
struct CurrentThreadState {
    /// Passes through beads before it was started.
    passes_before: u64,
    /// Whether it has gone through a bead yet.
    in_a_bead: bool,
    /// How many beads that it went through were broken out since.
    broken_out: u32,
}

/// Consecutive steps `from` to `to` of a stage (from 0, without `to`).
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Run {
    /// The stage.
    pub stage: Stage,
    /// Its first step here.
    pub from: u32,
    /// The step after its last here.
    pub to: u32,
}

/// A run, and its position in the piece.
#[derive(Clone, Debug)]
pub struct Span {
    /// The movements.
    pub run: Run,
    /// The number of steps before it.
    pub steps_before: u32,
    /// The number of beads strung before it.
    pub beads_before: u32,
    /// The number of passes through beads before it.
    pub passes_before: u64,
}

/// A change of the work that is not a movement of the needle.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Change {
    /// A job is begun.
    Begin(GoalJob),
    /// A part of a job is prepared: a side is held against a row, a row is
    /// begun, the corners round an opening are held together.
    Prepare {
        /// The job.
        job: GoalJob,
        /// Which part of it, from 0.
        part: u16,
        /// For a fill, the bead ends from which the needle will come out at
        /// each of its corners.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        corners: Vec<Vec<Hole>>,
    },
    /// The gap at the needle was stitched differently from the plan.
    AsStitched {
        /// The panel.
        panel: Panel,
        /// The gap, and the beads in it.
        #[serde(flatten)]
        gap: GapChange,
    },
    /// A gap of the join row at the needle was stitched differently. Since
    /// minor version 5 of the journal.
    RowAsStitched(RowGap),
}

/// A fact: something that was played.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fact {
    /// Something changed between movements.
    Change(Change),
    /// Movements were made.
    Run(Run),
}

impl Work {
    /// Work without a bead.
    pub fn new(project: Arc<Project>, kinds: Arc<[PanelLayout]>, goal: Arc<Goal>) -> Self {
        Work {
            layout: Layout::new(project, kinds, &goal),
            seams: Seams::default(),
            strung: 0,
            goal,
            needle: None,
            thread: None,
            jobs: vec![],
            begun: NumberSet::default(),
            current_job: None,
            prepared: NumberSet::default(),
            spans: vec![],
            changes: vec![],
            threads: vec![],
            steps: 0,
            passes: 0,
        }
    }

    /// The goal, which numbers its jobs.
    pub fn goal(&self) -> &Arc<Goal> {
        &self.goal
    }

    /// Changes to another goal, which must contain what is begun.
    pub(super) fn set_goal(&mut self, goal: Arc<Goal>) {
        self.layout.set_goal(&goal);
        // For the current job, only what is ahead may have changed. A job that
        // is being prepared is not begun yet.
        let current_job = self.current_job.filter(|job| self.is_begun(*job));
        if let (Some(job), Some(info)) = (current_job, self.jobs.last_mut()) {
            info.kind = goal[job].clone();
            info.title = goal.title(&info.kind);
        }
        self.goal = goal;
    }

    /// How many rounds of a panel are begun.
    pub(super) fn rounds_begun(&self, panel: Panel) -> u32 {
        if !self.layout.is_begun(panel) {
            return 0;
        }
        let (kind, making) = (self.layout.kind(panel), self.layout.making(panel));
        let first = |k: u32| self.layout.bead(panel, Round(k), making.start(Round(k)));
        let rounds = making.innermost().0..=kind.rounds();
        let strung = rounds.filter(|&k| self.is_strung(first(k))).count() as u32;
        // A corner pulled together before the first bead begins a round too.
        let next = match making.begin.way() {
            WorkDirection::Outward => Round(strung),
            WorkDirection::Inward => Round(kind.rounds() + 1 - strung),
        };
        let stage = Stage::from(Rounds { panel, on: next });
        let is_begun = self.spans.iter().any(|span| span.run.stage == stage);
        strung + u32::from(is_begun && strung > 0 && strung < kind.rounds() - making.open)
    }

    /// Whether the middle of a panel is closed, or its rim firmed.
    pub(super) fn is_closed(&self, panel: Panel) -> bool {
        let firms = |path: &Path| matches!(path, Path::Centre(of, _) if *of == panel);
        self.is_shut(panel) || self.has_gone(firms)
    }

    /// Whether the thread has gone through the last ring of a panel to pull it
    /// shut, at least in part.
    pub(super) fn is_shut(&self, panel: Panel) -> bool {
        self.has_gone(|path| *path == Path::Close(panel))
    }

    fn has_gone(&self, way: impl Fn(&Path) -> bool) -> bool {
        let stages = self.spans.iter().map(|span| &span.run.stage);
        stages
            .filter_map(|stage| match stage {
                Stage::Through(through) => Some(&through.path),
                _ => None,
            })
            .any(way)
    }

    /// The bead end from which the thread comes out; `None` if no thread is in
    /// a bead.
    pub fn needle(&self) -> Option<Hole> {
        self.needle
    }

    /// Whether there is a current thread.
    pub fn has_thread(&self) -> bool {
        self.thread.is_some()
    }

    /// Whether the current thread has not gone through a bead yet.
    pub fn has_fresh_thread(&self) -> bool {
        self.thread.is_some_and(|thread| !thread.in_a_bead)
    }

    /// The number of passes of the current thread.
    pub fn passes_of_thread(&self) -> u64 {
        let passes =
            |t: CurrentThreadState| self.passes - t.passes_before + u64::from(t.broken_out);
        self.thread.map_or(0, passes)
    }

    /// Steps made.
    pub fn steps(&self) -> u32 {
        self.steps
    }

    /// The number of passes through beads.
    pub fn passes(&self) -> u64 {
        self.passes
    }

    /// The jobs begun, in that order.
    pub fn jobs(&self) -> &[JobInfo] {
        &self.jobs
    }

    /// The runs of movements, in order.
    pub fn spans(&self) -> &[Span] {
        &self.spans
    }

    /// The span of a step (from 1 to the last).
    pub(super) fn span_of(&self, step: Step) -> &Span {
        let after = self.spans.partition_point(|s| s.steps_before < step.0);
        &self.spans[after - 1]
    }

    /// The span of a step, and the step of its stage that comes after; none for step 0.
    pub(super) fn span_until(&self, step: Step) -> Option<(&Span, u32)> {
        (step.0 > 0).then(|| {
            let span = self.span_of(step);
            (span, span.run.from + (step.0 - span.steps_before))
        })
    }

    /// Beads strung once a step is done; 0 for step 0.
    pub(super) fn strung_after(&self, step: Step) -> u32 {
        let strung = |span: &Span, i| span.run.stage.strung_before(&self.layout, i);
        self.span_until(step).map_or(0, |(span, to)| {
            span.beads_before + strung(span, to) - strung(span, span.run.from)
        })
    }

    /// The number of steps before each start of a thread.
    pub fn threads(&self) -> &[u32] {
        &self.threads
    }

    /// Whether a job is begun.
    pub fn is_begun(&self, job: GoalJob) -> bool {
        self.begun.contains(&job)
    }

    /// The current job: begun last, or being prepared.
    pub(super) fn current_job(&self) -> Option<GoalJob> {
        self.current_job
    }

    /// The jobs of the goal in the order in which they are worked: those begun,
    /// in the order in which they were begun, the one being prepared, and those
    /// ahead, including jobs that could not be made in their turn.
    pub(super) fn order(&self) -> Vec<GoalJob> {
        let begun = self.changes.iter().filter_map(|(_, change)| match change {
            Change::Begin(job) => Some(*job),
            _ => None,
        });
        let prepared = self.current_job.filter(|job| !self.is_begun(*job));
        let ahead = self.goal.order.iter().copied();
        let ahead = ahead.filter(|job| !self.is_taken_up(*job));
        begun.chain(prepared).chain(ahead).collect()
    }

    /// The goal, with its jobs in that order.
    pub(super) fn goal_as_begun(&self) -> Goal {
        Goal {
            order: self.order(),
            ..Goal::clone(&self.goal)
        }
    }

    /// Whether a job is begun or being prepared.
    pub(super) fn is_taken_up(&self, job: GoalJob) -> bool {
        self.is_begun(job) || self.current_job == Some(job)
    }

    /// Whether a job is begun and no longer the current one.
    pub fn is_behind(&self, job: GoalJob) -> bool {
        self.is_begun(job) && self.current_job != Some(job)
    }

    /// Whether a part of a job is prepared.
    pub fn is_prepared(&self, job: GoalJob, part: u16) -> bool {
        self.prepared.contains(&(job, part))
    }

    /// The runs of the job begun last, in order.
    pub fn runs_of_last_job(&self) -> impl DoubleEndedIterator<Item = &Run> {
        let before = self.jobs.last().map_or(0, |job| job.steps_before);
        let first = self.spans.partition_point(|s| s.steps_before < before);
        self.spans[first..].iter().map(|span| &span.run)
    }

    /// Plays a fact.
    pub fn play(&mut self, fact: Fact) {
        match fact {
            Fact::Change(change) => self.change(change),
            Fact::Run(run) => self.run(run),
        }
    }

    /// Applies a change between movements.
    pub fn change(&mut self, change: Change) {
        match &change {
            Change::Begin(job) => self.begin(*job),
            Change::Prepare { job, part, corners } => self.prepare(*job, *part, corners),
            Change::AsStitched { panel, gap } => {
                self.layout.change_gap(*panel, *gap);
                if self.layout.is_rim_round(*panel, gap.round)
                    && let Some(job) = self.jobs.last_mut()
                {
                    let gaps = self.layout.rim_gaps(*panel);
                    let (side, place) = gaps.place_of(gaps.planned_gap(gap.gap));
                    job.row_gaps.push(RowGap {
                        panel: *panel,
                        side,
                        gap: place,
                        beads: gap.beads,
                    });
                }
            }
            Change::RowAsStitched(gap) => {
                self.layout.change_row_gap(*gap);
                if let Some(job) = self.jobs.last_mut() {
                    job.row_gaps.push(*gap);
                }
            }
        }
        self.changes.push((self.spans.len(), change));
    }

    fn begin(&mut self, job: GoalJob) {
        self.begun.insert(job);
        self.current_job = Some(job);
        let goal = self.goal.clone();
        let kind = &goal[job];
        if let JobKind::Panel(panel) = kind {
            let spec = self.layout.panel(*panel).spec;
            let way = self.layout.project().panels[spec].way;
            let begin = self.layout.kind(*panel).begin(way);
            self.layout.begin_panel(*panel, begin, None);
        }
        self.jobs.push(JobInfo {
            title: goal.title(kind),
            kind: kind.clone(),
            row_gaps: match kind {
                JobKind::Fill { panel, .. } => self.layout.planned_otherwise(*panel),
                _ => vec![],
            },
            break_outs: 0,
            steps_before: self.steps,
            steps: 0,
            beads_before: self.strung,
            beads: 0,
            panels_before: self.jobs.last().map_or(0, JobInfo::panels_begun),
        });
    }

    fn prepare(&mut self, job: GoalJob, part: u16, corners: &[Vec<Hole>]) {
        self.prepared.insert((job, part));
        self.current_job = Some(job);
        let goal = self.goal.clone();
        match &goal[job] {
            JobKind::Panel(_) | JobKind::SetInMiddle { .. } | JobKind::Reinforce(..) => {}
            JobKind::JoinRow {
                panel,
                sides,
                tips,
                beads,
            } => {
                let side = sides[usize::from(part)];
                self.layout
                    .add_row((*panel, side), u32::from(*tips), *beads);
            }
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                let join = joins[usize::from(part)];
                self.hold(*panel, join);
                if join.fit == SideFit::Locked {
                    self.layout.add_edge_row((join.onto, join.at));
                }
            }
            JobKind::Fill { rim, .. } if part == 0 => self.hold_round(rim),
            JobKind::Fill { panel, rim } => self.stand_on(*panel, rim, corners),
            JobKind::FirmRim(rim) => {
                let sides = self.rim_sides(rim);
                self.hold_round(rim);
                self.layout.add_rim(sides, vec![]);
            }
            JobKind::Tie(from, to) => self.seams.meet(*from, *to),
        }
    }

    /// Holds a bare side against a row, corner to corner.
    fn hold(&mut self, panel: Panel, join: SideJoin) {
        for (ours, theirs) in self.corners_held(panel, join) {
            self.seams.meet(ours, theirs);
        }
    }

    /// The corners of a bare side, each with the one against which it is held.
    fn corners_held(&self, panel: Panel, join: SideJoin) -> [(Corner, Corner); 2] {
        let [start, end] = self.layout.ends((panel, join.side));
        let [row_start, row_end] = self.layout.ends((join.onto, join.at));
        match join.runs {
            Direction::Against => [(start, row_end), (end, row_start)],
            Direction::With => [(start, row_start), (end, row_end)],
        }
    }

    /// The first opening to be filled or reinforced that the joins and ties of
    /// a goal do not close to a ring: two successive sides do not meet at a
    /// corner.
    pub(super) fn opening_with_a_slit(&self, goal: &Goal) -> Option<GoalJob> {
        let mut seams = self.seams.clone();
        let kinds = goal.ordered();
        for kind in kinds.clone() {
            let held = kind
                .joins()
                .iter()
                .flat_map(|join| self.corners_held(kind.panel(), *join));
            held.for_each(|(ours, theirs)| seams.meet(ours, theirs));
            if let JobKind::Tie(from, to) = kind {
                seams.meet(*from, *to);
            }
        }
        let ends = |side| self.layout.ends(side);
        let meet = |a: Corner, b: Corner| {
            let mut pairs = ends(a).into_iter().flat_map(|a| ends(b).map(|b| (a, b)));
            pairs.any(|(a, b)| seams.are_together(a, b))
        };
        let has_slit = |job: &&GoalJob| match &goal[**job] {
            JobKind::Fill { rim, .. } | JobKind::FirmRim(rim) => {
                let next = rim.iter().cycle().skip(1);
                !self.is_taken_up(**job) && rim.iter().zip(next).any(|(a, b)| !meet(*a, *b))
            }
            _ => false,
        };
        goal.order.iter().find(has_slit).copied()
    }

    /// The sides round an opening with their directions, found from the corners
    /// that have come together.
    pub(super) fn rim_sides(&self, rim: &[Corner]) -> Vec<RimSide> {
        let ends = |side| self.layout.ends(side);
        let side = |nth: usize| {
            let next = ends(rim[(nth + 1) % rim.len()]);
            let meets = |corner: Corner| next.iter().any(|n| self.seams.are_together(corner, *n));
            let [start, end] = ends(rim[nth]);
            let (panel, side) = rim[nth];
            RimSide {
                panel,
                side,
                runs: match !meets(start) && meets(end) {
                    true => Direction::With,
                    false => Direction::Against,
                },
            }
        };
        (0..rim.len()).map(side).collect()
    }

    /// Brings together the corners round an opening: the one after each side
    /// and the one before the next.
    fn hold_round(&mut self, rim: &[Corner]) {
        let sides = self.rim_sides(rim);
        for (nth, side) in sides.iter().enumerate() {
            let [_, leaves] = self.layout.rim_corners(*side);
            let [comes, _] = self.layout.rim_corners(sides[(nth + 1) % sides.len()]);
            self.seams.meet(leaves, comes);
        }
    }

    /// Begins a fill on its rim.
    fn stand_on(&mut self, panel: Panel, rim: &[Corner], corners: &[Vec<Hole>]) {
        let sides = self.rim_sides(rim);
        for (s, side) in sides.iter().enumerate() {
            let row = self.layout.row_on(side.panel, side.side);
            let own = (panel, Side(s as u8));
            self.seams
                .fill(row.expect("a rim is made of join rows"), own);
            let [_, leaves] = self.layout.rim_corners(*side);
            self.seams.meet(own, leaves);
        }
        let index = self.layout.add_rim(sides, corners.to_vec());
        self.layout.begin_panel(panel, Begin::Rim, Some(index));
    }

    /// The rim of the opening that a job fills or reinforces, once it is
    /// prepared.
    pub fn rim_of(&self, job: &JobKind) -> Option<RimIndex> {
        match job {
            JobKind::Fill { panel, .. } => self.layout.panel(*panel).rim,
            JobKind::FirmRim(rim) => self.layout.find_rim(rim),
            _ => None,
        }
    }

    /// Plays movements.
    pub fn run(&mut self, run: Run) {
        let Run { stage, from, to } = &run;
        let layout = &self.layout;
        let passes = stage.passes_before(layout, *to) - stage.passes_before(layout, *from);
        let strung = stage.strung_before(layout, *to) - stage.strung_before(layout, *from);
        let is_whole = *to == stage.steps(layout);
        let broken_out = match stage {
            Stage::BreakOut(bead) => self.step_of_gap(bead),
            _ => None,
        };
        if let (Some(thread), Some(strung)) = (&mut self.thread, broken_out)
            && self.threads.last().is_some_and(|begun| *begun < strung.0)
        {
            thread.broken_out += 1;
        }
        if let Some(hole) = to.checked_sub(1).and_then(|i| stage.leaves(layout, i)) {
            self.needle = Some(hole);
            if let Some(thread) = &mut self.thread {
                thread.in_a_bead = true;
            }
        }
        match stage {
            _ if run.begins_thread() => {
                self.threads.push(self.steps);
                self.thread = Some(CurrentThreadState {
                    passes_before: self.passes,
                    in_a_bead: passes > 0,
                    broken_out: 0,
                });
            }
            Stage::Through(t) if t.kind == Kind::EndThread && is_whole => {
                (self.needle, self.thread) = (None, None);
            }
            Stage::Zip(zip) if is_whole => {
                self.seams.zip(zip);
            }
            Stage::Lock(lock) if is_whole => self.seams.set_in_middle(lock.panel, lock.around),
            Stage::Own(Own(own)) => {
                // Asked for further on, and done here since the maker went back.
                let own = AtNeedle::Own(own.clone());
                let is_to_do = |(step, what): &(u32, AtNeedle)| *step >= self.steps && *what == own;
                if let Some(at) = self.goal.here.iter().position(is_to_do)
                    && self.goal.here[at].0 > self.steps
                {
                    Arc::make_mut(&mut self.goal).here[at].0 = self.steps;
                }
            }
            _ => {}
        }
        let steps = to - from;
        let is_changed = (self.changes.last()).is_some_and(|(at, _)| *at == self.spans.len());
        match self.spans.last_mut().filter(|_| !is_changed) {
            Some(last) if *from > 0 && last.run.to == *from && last.run.stage == *stage => {
                last.run.to = *to;
            }
            _ => self.spans.push(Span {
                run,
                steps_before: self.steps,
                beads_before: self.strung,
                passes_before: self.passes,
            }),
        }
        self.steps += steps;
        self.strung += strung;
        self.passes += u64::from(passes);
        let job = self.jobs.last_mut().expect("a movement belongs to a job");
        job.steps += steps;
        job.beads += strung;
        job.break_outs += u32::from(broken_out.is_some());
    }

    /// Makes a panel that is begun in the same steps as an earlier one, whose spans
    /// these are; only the bead numbers differ. The last length of thread is played,
    /// which brings needle and thread to where they were; what comes before is copied,
    /// so that a piece with many equal panels is planned in the time of one.
    pub(super) fn repeat(&mut self, spans: Range<usize>, panel: Panel) {
        let begins = |nth: &usize| self.spans[*nth].run.begins_thread();
        let played = spans.clone().rev().find(begins).unwrap_or(spans.start);
        let [first, last] = [spans.start, played].map(|nth| &self.spans[nth]);
        let (steps, passes) = (
            self.steps - first.steps_before,
            self.passes - first.passes_before,
        );
        let later = self.strung - first.beads_before;
        let (made_steps, made_passes) = (
            last.steps_before - first.steps_before,
            last.passes_before - first.passes_before,
        );
        let made_beads = last.beads_before - first.beads_before;
        self.spans.reserve(spans.len());
        for nth in spans.start..played {
            let span = &self.spans[nth];
            if span.run.begins_thread() {
                self.threads.push(span.steps_before + steps);
            }
            self.spans.push(Span {
                run: span.run.on_panel(panel, later),
                steps_before: span.steps_before + steps,
                beads_before: span.beads_before + later,
                passes_before: span.passes_before + passes,
            });
        }
        self.steps += made_steps;
        self.strung += made_beads;
        self.passes += made_passes;
        let job = self.jobs.last_mut().expect("the panel is a job");
        job.steps += made_steps;
        job.beads += made_beads;
        for nth in played..spans.end {
            self.run(self.spans[nth].run.on_panel(panel, later));
        }
    }

    /// All facts up to a step, in order. Playing them on empty work gives the
    /// work as it was then.
    pub fn facts_until(&self, step: Step) -> Vec<Fact> {
        self.facts(0, step.0)
    }

    /// The facts after `after` steps until `until` steps are done, in order; none
    /// backward. A change between movements comes with the movement after it.
    pub fn facts(&self, after: u32, until: u32) -> Vec<Fact> {
        let mut facts = vec![];
        if until <= after {
            return facts;
        }
        let is_behind = |s: &Span| s.end() < after || (s.end() == after && s.steps_before < after);
        let first = self.spans.partition_point(is_behind);
        // A change before the first of these spans belongs to it.
        let is_cut = self
            .spans
            .get(first)
            .is_some_and(|s| s.steps_before < after);
        let seen = |change: &(usize, Change)| change.0 < first || (is_cut && change.0 == first);
        let mut changes = self.changes.partition_point(seen);
        for (nth, span) in self.spans.iter().enumerate().skip(first) {
            if span.steps_before >= until {
                break;
            }
            while let Some((_, change)) = self.changes.get(changes).filter(|c| c.0 <= nth) {
                facts.push(Fact::Change(change.clone()));
                changes += 1;
            }
            let Run { stage, from, to } = &span.run;
            facts.push(Fact::Run(Run {
                stage: stage.clone(),
                from: from + after.saturating_sub(span.steps_before),
                to: *to - span.end().saturating_sub(until),
            }));
        }
        facts
    }

    /// The work as it was after a step.
    pub fn at(&self, step: Step) -> Work {
        let project = self.layout.shared_project();
        let kinds = self.layout.shared_kinds();
        let mut work = Work::new(project, kinds, self.goal.clone());
        let facts = self.facts_until(step);
        work.foresee(&facts);
        facts.into_iter().for_each(|fact| work.play(fact));
        work
    }

    /// Applies all changed gaps of facts to be played at once, which is faster
    /// than one by one.
    pub(super) fn foresee<'a>(&mut self, facts: impl IntoIterator<Item = &'a Fact>) {
        let changes = facts.into_iter().filter_map(|fact| match fact {
            Fact::Change(Change::AsStitched { panel, gap }) => Some((*panel, *gap)),
            _ => None,
        });
        self.layout.change_gaps(changes);
    }

    /// The work without changes that are followed by no movement.
    pub(super) fn without_loose_changes(self) -> Work {
        match self.changes.last() {
            Some((spans, _)) if *spans == self.spans.len() => self.at(Step(self.steps)),
            _ => self,
        }
    }

    /// How often thread goes through each bead that is strung, bead 1 first.
    pub fn passes_by_bead(&self) -> Vec<u16> {
        let mut passes = vec![0u16; self.strung as usize];
        let mut pass = |bead: Bead| {
            let count = &mut passes[bead.0 as usize - 1];
            *count = count.saturating_add(1);
        };
        for Run { stage, from, to } in self.spans.iter().map(|span| &span.run) {
            let steps = *from..*to;
            match stage {
                // What is the same for a whole round is computed once.
                Stage::Rounds(round) => {
                    let ready = round.ready(&self.layout);
                    steps.for_each(|i| ready.step(i).passes.into_iter().for_each(&mut pass));
                }
                stage => steps.for_each(|i| {
                    let beads = stage.step(&self.layout, i).passes;
                    beads.into_iter().for_each(&mut pass);
                }),
            }
        }
        passes
    }

    /// Whether a bead is in place.
    pub fn is_strung(&self, bead: Bead) -> bool {
        bead.0 <= self.strung
    }
}

impl Run {
    /// Whether a thread is started with it.
    fn begins_thread(&self) -> bool {
        self.from == 0 && matches!(&self.stage, Stage::Through(t) if t.kind == Kind::StartThread)
    }

    /// The same steps on an equal panel whose beads come `later` beads after these.
    fn on_panel(&self, panel: Panel, later: u32) -> Run {
        Run {
            stage: self.stage.on_panel(panel, later),
            from: self.from,
            to: self.to,
        }
    }
}

impl Span {
    /// The number of steps of the piece after it.
    pub fn end(&self) -> u32 {
        self.steps_before + (self.run.to - self.run.from)
    }
}
