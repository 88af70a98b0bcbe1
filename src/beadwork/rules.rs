//! The rules: what can be stitched next on the current work, and why not.
//!
//! A stage says by itself which beads each of its movements strings and goes
//! through; the rules say whether it can be worked here and now. Every rule
//! stands here once. (The proof in [`super::verify`] has rules of its own, so
//! that neither can hide a fault of the other.)
//!
//! | rule | |
//! |---|---|
//! | jobs | a job is begun once, when its panels are made and the job before it is done |
//! | numbers | beads get their numbers once all that have one are strung |
//! | ground | a side takes one row or one zip; a rim is made of rows |
//! | turn | the stages of a job come in turn, step after step |
//! | thread | one thread at a time; nothing is sewn without it |
//! | needle | a stage goes on from the bead end that the needle leaves |
//! | touch | the needle goes into a bead end that touches the one it leaves |

mod refusal;

use super::own_rounds::{MOST_IN_A_GAP, MOST_JOIN_BEADS, can_change};
use super::route;
use super::stage::{
    BeadPath, BreakOut, FreeStart, Lock, Path, RimRound, Ring, Rounds, RowStage, Steps as _, Still,
    Through, Zip,
};
use super::work::GoalJob;
use super::{
    Bead, Begin, Change, Corner, Fact, GapChange, Goal, Hole, JobKind, Kind, Panel, Round, RowGap,
    Run, SideFit, SideJoin, Stage, Work,
};

pub use refusal::Refusal;

type Checked = Result<(), Refusal>;

impl Work {
    /// Whether a fact can be played on the work as it lies.
    ///
    /// # Errors
    /// The first rule that it breaks.
    pub fn check(&self, fact: &Fact) -> Checked {
        match fact {
            Fact::Change(Change::Begin(job)) => self.check_begin(*job),
            Fact::Change(Change::Prepare { job, part, corners }) => {
                self.check_prepare(*job, *part, corners)
            }
            Fact::Change(Change::AsStitched { panel, gap }) => self.check_gap(*panel, *gap),
            Fact::Change(Change::RowAsStitched(gap)) => self.check_row_gap(*gap),
            Fact::Run(run) => self.check_run(run),
        }
    }

    /// Plays a fact, if the rules allow it.
    ///
    /// ```
    /// use threadmark::beadwork::{Sequence, Step, rules::Refusal};
    ///
    /// let pattern = threadmark::pattern::load("patterns/practice-pair.json")?;
    /// let sequence = Sequence::new(pattern.project);
    /// let mut work = sequence.work_at(Step(10));
    /// for fact in sequence.work().facts(10, 20) {
    ///     assert_eq!(work.try_play(fact), Ok(()));
    /// }
    /// let again = sequence.work().facts(10, 11).remove(0);
    /// assert_eq!(work.try_play(again), Err(Refusal::OutOfTurn));
    /// # Ok::<(), threadmark::problem::Problems>(())
    /// ```
    ///
    /// # Errors
    /// As [`Work::check`]; nothing is played then.
    pub fn try_play(&mut self, fact: Fact) -> Checked {
        self.check(&fact)?;
        self.play(fact);
        Ok(())
    }

    fn goal_job(&self, job: GoalJob) -> Result<&JobKind, Refusal> {
        let goal: &Goal = self.goal();
        let job = goal.order.contains(&job).then(|| &goal[job]);
        job.ok_or(Refusal::NoSuchJob)
    }

    fn check_begin(&self, job: GoalJob) -> Checked {
        let kind = self.goal_job(job)?;
        Refusal::JobBegun.when(self.is_begun(job))?;
        self.check_before(job)?;
        self.check_ground(kind)?;
        match kind {
            JobKind::Panel(_) => self.check_all_strung(),
            // The ground of a fill is laid before it is begun.
            JobKind::Fill { panel, .. } if !self.layout.is_begun(*panel) => Err(Refusal::NotNext),
            JobKind::FirmRim(rim) if self.layout.find_rim(rim).is_none() => Err(Refusal::NotNext),
            _ => Ok(()),
        }
    }

    /// A job comes up once the one before it is done.
    fn check_before(&self, job: GoalJob) -> Checked {
        match self.current_job() {
            Some(current) if current != job && !self.is_begun(current) => Err(Refusal::NotNext),
            Some(current) if current != job => self.check_done(self.goal_job(current)?),
            _ => Ok(()),
        }
    }

    /// Whether the current job is done.
    fn check_done(&self, kind: &JobKind) -> Checked {
        let is_whole = |stage: &Stage| self.done(stage) == Some(stage.steps(&self.layout));
        let is_done = match kind {
            JobKind::Panel(panel) | JobKind::Fill { panel, .. } => {
                self.stages(*panel).last().is_some_and(is_whole)
            }
            JobKind::JoinRow { panel, sides, .. } => {
                let mut sides = sides.iter();
                return sides.try_for_each(|&side| self.check_row((*panel, side)));
            }
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                let is_zipped = |join: &SideJoin| self.seams.row_of((*panel, join.side)).is_some();
                joins.iter().all(is_zipped)
            }
            JobKind::SetInMiddle { panel, around } => {
                self.seams.in_middle_of(*around) == Some(*panel)
            }
            JobKind::Reinforce(..) | JobKind::FirmRim(_) => {
                let is_firm = |run: &Run| {
                    matches!(&run.stage, Stage::Through(t) if t.kind == Kind::Firm)
                        && run.to == run.stage.steps(&self.layout)
                };
                self.runs_of_last_job().any(is_firm)
            }
            JobKind::Tie(..) => true,
        };
        Refusal::Unfinished(kind.panel()).unless(is_done)
    }

    fn check_all_strung(&self) -> Checked {
        let last = Bead(self.layout.beads());
        Refusal::NotStrung(Hole::front(last)).unless(self.is_strung(last))
    }

    /// Steps done of a stage of the job begun last; `None` if it is not begun.
    fn done(&self, stage: &Stage) -> Option<u32> {
        let runs = self.runs_of_last_job();
        runs.filter(|run| run.stage == *stage)
            .map(|run| run.to)
            .max()
    }

    /// The panels that a job works on are made.
    pub(super) fn check_ground(&self, kind: &JobKind) -> Checked {
        match kind {
            JobKind::Panel(_) => Ok(()),
            JobKind::JoinRow { panel, .. } => self.check_edge(*panel),
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                self.check_edge(*panel)?;
                joins.iter().try_for_each(|join| self.check_edge(join.onto))
            }
            JobKind::SetInMiddle { panel, around } => {
                self.check_edge(*panel)?;
                self.check_edge(*around)?;
                match self.seams.in_middle_of(*around) {
                    Some(_) => Err(Refusal::NoOpening),
                    None => self.check_middle(*panel, *around),
                }
            }
            JobKind::Fill { rim, .. } | JobKind::FirmRim(rim) => {
                rim.iter().try_for_each(|&side| self.check_row(side))
            }
            JobKind::Reinforce(panel, side) => match self.seams.row_of((*panel, *side)) {
                Some(_) => Ok(()),
                None => Err(Refusal::NoRow(*panel, *side)),
            },
            JobKind::Tie((from, _), (to, _)) => {
                self.check_edge(*from)?;
                self.check_edge(*to)
            }
        }
    }

    /// Whether a panel is finished and has an edge to join by.
    pub(super) fn check_edge(&self, panel: Panel) -> Checked {
        Refusal::Unfinished(panel).unless(self.is_finished(panel))?;
        Refusal::NoEdge(panel).unless(self.layout.kind(panel).can_be_joined())
    }

    /// Whether a panel lies in the open middle of another as its own rounds
    /// would.
    pub(super) fn check_middle(&self, panel: Panel, around: Panel) -> Checked {
        let kind = self.layout.kind(panel);
        let open = match self.layout.is_begun(around) {
            true => self.layout.making(around).open,
            false => self.layout.panel(around).open(),
        };
        let outer = self.layout.kind(around);
        Refusal::OtherEdge.unless(kind.fits_middle(kind.rounds(), outer, Round(open + 1)))
    }

    fn check_row(&self, (panel, side): Corner) -> Checked {
        self.check_edge(panel)?;
        let row = self.layout.row_on(panel, side);
        let row = row.ok_or(Refusal::NoRow(panel, side))?;
        let row = self.layout.row(row);
        Refusal::NoRow(panel, side)
            .unless(row.beads == 0 || self.is_strung(self.layout.last_of_row(row)))
    }

    /// Whether all beads of a panel are strung.
    pub fn is_finished(&self, panel: Panel) -> bool {
        self.layout.is_begun(panel) && self.is_strung(self.layout.last_of_panel(panel))
    }

    fn check_prepare(&self, job: GoalJob, part: u16, corners: &[Vec<Hole>]) -> Checked {
        let kind = self.goal_job(job)?;
        Refusal::JobBegun.when(self.is_behind(job))?;
        self.check_before(job)?;
        self.check_ground(kind)?;
        let before = part.checked_sub(1);
        if self.is_prepared(job, part) || before.is_some_and(|b| !self.is_prepared(job, b)) {
            return Err(Refusal::NotNext);
        }
        let nth = usize::from(part);
        match kind {
            JobKind::JoinRow { panel, sides, .. } => {
                let side = *sides.get(nth).ok_or(Refusal::NotNext)?;
                self.check_bare((*panel, side))?;
                self.check_all_strung()
            }
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                let join = joins.get(nth).ok_or(Refusal::NotNext)?;
                self.check_bare((*panel, join.side))?;
                match join.fit {
                    SideFit::Locked => self.check_bare((join.onto, join.at)),
                    _ => self.check_row((join.onto, join.at)),
                }
            }
            JobKind::Fill { rim, .. } if part == 1 => {
                let held =
                    |hole: &Hole| Refusal::NotStrung(*hole).unless(self.is_strung(hole.bead));
                if corners.len() != rim.len() || corners.iter().any(Vec::is_empty) {
                    return Err(Refusal::NotNext);
                }
                self.check_all_strung()?;
                corners.iter().flatten().try_for_each(held)
            }
            JobKind::Fill { .. } | JobKind::FirmRim(_) | JobKind::Tie(..) if part == 0 => Ok(()),
            _ => Err(Refusal::NotNext),
        }
    }

    /// The gap is the one at the needle, and the round keeps a bead.
    pub(super) fn check_gap(&self, panel: Panel, change: GapChange) -> Checked {
        let GapChange { round, gap, beads } = change;
        let is_there = panel.index() < self.layout.panels().len()
            && self.layout.is_begun(panel)
            && beads <= MOST_IN_A_GAP
            && can_change(self.layout.kind(panel), self.layout.making(panel), round);
        Refusal::NoSuchGap.unless(is_there)?;
        let making = self.layout.making(panel);
        if self.layout.is_rim_round(panel, round) {
            return self.check_rim_gap(panel, change);
        }
        let strung = making.strung_rounds(self.layout.kind(panel));
        if strung.contains(&round.0) {
            return self.check_strung(panel, change);
        }
        let on = self.layout.worked_on(panel, round);
        let on = on.ok_or(Refusal::NoSuchGap)?;
        let work = self.layout.work(panel, on);
        let others = work.beads() - work.in_gap_from_entry(gap);
        Refusal::NoSuchGap.when(gap >= work.gaps() || others + u32::from(beads) == 0)?;
        Refusal::EdgeOfStrip.when(!work.steps_up() && gap == 0 && beads == 0)?;
        self.check_step(Rounds { panel, on }.into(), gap)
    }

    /// The gap of a rim is the one at the needle; at its corners the first round of
    /// a fill has a bead.
    fn check_rim_gap(&self, panel: Panel, change: GapChange) -> Checked {
        let gaps = self.layout.rim_gaps(panel);
        let rim = self.layout.panel(panel).rim;
        let kind = self.layout.planned_kind(panel);
        let rim = rim.filter(|_| change.gap < kind.in_round(kind.last()));
        let round = RimRound {
            panel,
            rim: rim.ok_or(Refusal::NoSuchGap)?,
        };
        let gap = gaps.planned_gap(change.gap);
        Refusal::NoSuchGap.when(gaps.planned_bead_in(gap).is_none())?;
        Refusal::CornerOfFill.when(change.beads == 0 && gaps.is_at_corner(gap))?;
        self.check_step(round.into(), round.step_of_gap(&self.layout, gap))
    }

    /// The gap of a join row is the one at the needle, and the row keeps a bead.
    fn check_row_gap(&self, change: RowGap) -> Checked {
        let RowGap {
            panel,
            side,
            gap,
            beads,
        } = change;
        let missing = Refusal::NoRow(panel, side);
        let index = self.layout.row_on(panel, side).ok_or(missing)?;
        let row = self.layout.row(index);
        Refusal::NoSuchGap.when(gap >= row.gaps)?;
        let others = row.beads - row.in_gap(gap, row.gaps).len() as u32;
        Refusal::TooManyJoinBeads
            .when(beads > MOST_JOIN_BEADS || others + u32::from(beads) == 0)?;
        self.check_step(RowStage { row: index }.into(), gap)
    }

    /// A step of a stage of the current job comes next.
    fn check_step(&self, stage: Stage, from: u32) -> Checked {
        let job = &self.jobs().last().ok_or(Refusal::NoJob)?.kind;
        self.check_stage(job, &stage)?;
        let to = from + 1;
        self.check_turn(job, &Run { stage, from, to })
    }

    /// The bead of a ring or a string is still to be strung, and what is strung
    /// then can be closed.
    fn check_strung(&self, panel: Panel, change: GapChange) -> Checked {
        let stage = match self.layout.making(panel).begin {
            Begin::Ring => Stage::from(Ring { panel }),
            _ => FreeStart { panel }.into(),
        };
        let before = self.layout.strung_before(panel, change);
        Refusal::NoSuchGap.when(before.is_none() || before < self.done(&stage))?;
        let job = &self.jobs().last().ok_or(Refusal::NoJob)?.kind;
        self.check_stage(job, &stage)?;
        let mut layout = self.layout.clone();
        layout.change_gap(panel, change);
        let (kind, making) = (layout.kind(panel), layout.making(panel));
        let strung = making.strung_rounds(kind).map(Round);
        Refusal::SmallRing.when(
            strung
                .map(|round| kind.in_round(round))
                .any(|beads| beads < 3),
        )?;
        Refusal::StringBegins
            .when(making.begin == Begin::FreeStart && layout.work(panel, kind.last()).skipped() > 0)
    }

    fn check_bare(&self, (panel, side): Corner) -> Checked {
        let row = self.layout.any_row_on(panel, side);
        Refusal::SideTaken(panel, side)
            .when(row.is_some() || self.seams.row_of((panel, side)).is_some())
    }

    fn check_run(&self, run: &Run) -> Checked {
        let job = self.jobs().last().ok_or(Refusal::NoJob)?;
        // A thread may end, and a step of the maker's own may come, while the ground
        // of the next job is being laid.
        let is_between = match &run.stage {
            Stage::Through(through) => through.kind == Kind::EndThread,
            stage => stage.is_aside(),
        };
        if !is_between && self.current_job().is_some_and(|job| !self.is_begun(job)) {
            return Err(Refusal::NotNext);
        }
        self.check_stage(&job.kind, &run.stage)?;
        let (stage, steps) = (&run.stage, run.stage.steps(&self.layout));
        Refusal::OutOfTurn.when(run.to > steps || (run.from >= run.to && steps > 0))?;
        self.check_turn(&job.kind, run)?;
        self.check_thread(stage)?;
        match stage {
            Stage::Through(through) => match &through.path {
                Path::Beads(beads) => self.check_path(through, run.from, beads),
                _ => self.check_needle(run),
            },
            _ => self.check_needle(run),
        }
    }

    /// Whether the gap of a bead that is to be broken out was worked, and can
    /// have held it.
    fn can_break_out(&self, bead: &BreakOut) -> bool {
        let is_row = bead.side.is_some();
        let is_there = bead.panel.index() < self.layout.panels().len()
            && self.layout.is_begun(bead.panel)
            && usize::from(bead.colour.0) < self.layout.bead_kinds().len();
        if !is_there {
            return false;
        }
        let (kind, making) = (self.layout.kind(bead.panel), self.layout.making(bead.panel));
        let is_strung = making.strung_rounds(kind).contains(&bead.round.0);
        let is_round = is_row || can_change(kind, making, bead.round) && !is_strung;
        if !is_round || self.step_of_gap(bead).is_none() {
            return false;
        }
        let Some((stage, at)) = bead.worked_in(&self.layout) else {
            return false;
        };
        let beads = stage.step(&self.layout, at).strings.len() + self.broken_out_of(bead);
        beads
            < usize::from(if is_row {
                MOST_JOIN_BEADS
            } else {
                MOST_IN_A_GAP
            })
    }

    /// Whether the job has such a stage, all that it names being there.
    fn check_stage(&self, job: &JobKind, stage: &Stage) -> Checked {
        let is_there = match (stage, job) {
            (Stage::RowStage(r), JobKind::JoinRow { panel, sides, .. }) => sides
                .iter()
                .any(|&side| self.layout.row_on(*panel, side) == Some(r.row)),
            (Stage::Zip(z), JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins)) => {
                let is_bare = |join: &SideJoin| self.seams.row_of((*panel, join.side)).is_none();
                let next = joins.iter().position(is_bare);
                next.is_some_and(|nth| {
                    let is_held = |job| self.is_prepared(job, nth as u16);
                    Zip::of(&self.layout, *panel, &joins[nth], z.forward) == Some(*z)
                        && self.current_job().is_some_and(is_held)
                })
            }
            (&Stage::Lock(Lock { panel, around }), job) => {
                *job == JobKind::SetInMiddle { panel, around }
            }
            (Stage::Still(s), JobKind::Zip(_, joins) | JobKind::SetIn(_, joins)) => {
                let mut folds = joins.iter().map(|join| Still::fold(Some(join.side)));
                folds.any(|fold| fold == *s)
            }
            (Stage::Still(s), JobKind::Tie(..)) => *s == Still::fold(None),
            (Stage::Through(t), _) => return self.check_through(job, t),
            (Stage::Own(_), _) => true,
            (Stage::BreakOut(bead), _) => self.can_break_out(bead),
            (stage, JobKind::Panel(panel) | JobKind::Fill { panel, .. }) => {
                self.stages(*panel).contains(stage)
            }
            _ => false,
        };
        Refusal::OutOfTurn.unless(is_there)
    }

    fn check_through(&self, job: &JobKind, through: &Through) -> Checked {
        let is_weaving =
            matches!(through.path, Path::Beads(_)) && (through.round, through.side) == (None, None);
        let is_there = match (through.kind, job) {
            (Kind::StartThread | Kind::EndThread, _) => is_weaving,
            (Kind::PassThrough, _) => match &through.path {
                Path::Edge(panel, side) => {
                    self.check_edge(*panel)?;
                    let is_there = side.0 < self.layout.kind(*panel).sides();
                    is_there
                        && (through.round, through.side) == (None, Some(*side))
                        && self.layout.is_edge_even(*panel, *side)
                }
                _ => is_weaving,
            },
            (Kind::Fold, JobKind::Tie(..)) => is_weaving,
            (Kind::Firm, JobKind::Reinforce(_, side)) => {
                matches!(through.path, Path::Beads(_))
                    && (through.round, through.side) == (None, Some(*side))
            }
            (Kind::Firm, JobKind::FirmRim(_)) => {
                let paths = |rim| [Path::Rim(rim), Path::RimWithCorners(rim)];
                let is_path = |rim| paths(rim).contains(&through.path);
                self.rim_of(job).is_some_and(is_path)
                    && (through.round, through.side) == (None, None)
            }
            (_, JobKind::Panel(panel) | JobKind::Fill { panel, .. }) => {
                self.stages(*panel).contains(&through.clone().into())
            }
            _ => false,
        };
        Refusal::OutOfTurn.unless(is_there)
    }

    /// The stages of a job come in turn, each from its first step to its last.
    fn check_turn(&self, job: &JobKind, run: &Run) -> Checked {
        let Run { stage, from, .. } = run;
        let mut runs = self.runs_of_last_job().rev();
        let is_whole = |stage: &Stage| self.done(stage) == Some(stage.steps(&self.layout));
        let is_next = match job {
            _ if !stage.is_work() || matches!(job, JobKind::Tie(..)) => {
                let last = runs.next();
                *from == 0 || last.is_some_and(|r| r.stage == *stage && r.to == *from)
            }
            JobKind::Panel(panel) | JobKind::Fill { panel, .. } => {
                let stages = self.stages(*panel);
                let at = stages.iter().position(|other| other == stage);
                let before = at.and_then(|at| at.checked_sub(1)).map(|at| &stages[at]);
                before.is_none_or(is_whole) && self.goes_on(run)
            }
            _ => {
                let last = runs.map(|run| &run.stage).find(|stage| stage.is_work());
                last.is_none_or(|last| last == stage || is_whole(last)) && self.goes_on(run)
            }
        };
        Refusal::OutOfTurn.unless(is_next)
    }

    /// Whether a run goes on where its stage was left, or begins it.
    fn goes_on(&self, run: &Run) -> bool {
        match self.done(&run.stage) {
            Some(done) => done == run.from && done < run.to,
            None => run.from == 0,
        }
    }

    fn check_thread(&self, stage: &Stage) -> Checked {
        let starts = matches!(stage, Stage::Through(t) if t.kind == Kind::StartThread);
        match (starts, self.has_thread()) {
            (true, true) if self.needle().is_some() || self.has_fresh_thread() => {
                // A start of several movements goes on.
                let last = self.spans().last().map(|span| &span.run.stage);
                Refusal::ThreadInWork.unless(last == Some(stage))
            }
            (false, false) if !stage.is_aside() && !matches!(stage, Stage::Still(_)) => {
                Err(Refusal::NoThread)
            }
            _ => Ok(()),
        }
    }

    /// The needle leaves the bead end where the stage goes on.
    fn check_needle(&self, run: &Run) -> Checked {
        let needed = match run.from.checked_sub(1) {
            Some(before) => run.stage.leaves(&self.layout, before),
            None => self.start_of(&run.stage),
        };
        Refusal::NeedleElsewhere(needed).unless(needed.is_none() || needed == self.needle())
    }

    /// Every bead of a way is there, and each touches the one before.
    fn check_path(&self, through: &Through, from: u32, beads: &BeadPath) -> Checked {
        let touching = self.touching();
        let mut needle = match through.kind {
            Kind::StartThread if from == 0 => None,
            _ => self.needle(),
        };
        let first = from.saturating_mul(through.at_once());
        for hole in beads.iter().skip(first as usize) {
            Refusal::NotStrung(hole).unless(self.is_strung(hole.bead))?;
            let into = hole.through();
            let reaches = |from: Hole| {
                route::next_holes(touching, from).contains(&into)
                    || touching.meet_at_a_tip(from, into)
            };
            Refusal::OutOfReach(hole).unless(needle.is_none_or(reaches))?;
            needle = Some(hole);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
