//! Amendments: changes that the maker makes to the plan of the steps ahead.
//!
//! An amendment changes the goal, never the work. What is stitched stays, and
//! the planner continues from there.

mod alike;
mod another;
pub mod as_stitched;
mod break_out;
pub mod colours;
mod corners;
mod joins;
mod law;
mod middle;
mod opening;
mod order;
mod own;
#[cfg(test)]
mod random_tests;
mod ring;
mod rounds;
pub mod stone;
pub mod thread;

pub use another::SidesJoined;
pub use joins::{JoinChange, JoinWhat, NextDoor, place_in_join};
pub use law::RoundsByLaw;
pub use opening::OpeningEnd;
pub use own::{OwnStep, OwnStepKind};

use self::colours::ColourChange;
use self::thread::ThreadChange;
use super::corner_mark::CornerMark;
use super::planner::PlanRule;
use super::{
    Bead, Corner, GapChange, Goal, GoalJob, JobKind, Panel, Refusal, Sequence, SpecIndex, Step,
    Work,
};
use serde::{Deserialize, Serialize};
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

/// The most amendments of a piece. Each is planned, and some add a job.
const MOST_AMENDMENTS: u32 = 1_000;

/// A change of what is still to be made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Amendment {
    /// Close an opening in another way.
    Opening {
        /// The job that closes it now: a fill, the reinforcing of its rim, or
        /// the setting in of a panel.
        job: GoalJob,
        /// How to close it.
        how: OpeningEnd,
    },
    /// Leave out a job, with all jobs that depend on it.
    LeaveOut(GoalJob),
    /// Do a job next.
    Next(GoalJob),
    /// Give unfinished panels another number of rounds.
    Rounds {
        /// The jobs that make them.
        jobs: Vec<GoalJob>,
        /// How many rounds each will have; for a panel worked inward, how many
        /// are sewn.
        rounds: u32,
    },
    /// Return a panel to the planned rounds by a gap.
    Ease {
        /// The panel.
        panel: Panel,
        /// The gap, and the beads that it will take.
        #[serde(flatten)]
        gap: GapChange,
    },
    /// Continue the current panel by a corner law.
    Law {
        /// The panel.
        panel: Panel,
        /// How many rounds it will have.
        rounds: u32,
        /// The gaps ahead that differ from the plan.
        gaps: Vec<GapChange>,
    },
    /// Mark gaps of the current panel as its corners; from three on, its sides
    /// are between them.
    Corners {
        /// The panel.
        panel: Panel,
        /// All marked corners.
        marks: Vec<CornerMark>,
    },
    /// Make another panel of a kind next, given as an index into the pattern's
    /// kinds, from 0.
    Another(SpecIndex),
    /// Join two sides of finished panels next.
    JoinSides(SidesJoined),
    /// Use a panel that was made before or elsewhere.
    Made(GoalJob),
    /// Change a join.
    Join(JoinChange),
    /// Do an own step next.
    Own(OwnStep),
    /// End the current thread here, or say that it broke.
    ThreadEnds,
    /// Sew through beads that touch to a bead, and come out of it.
    SewThrough(Bead),
    /// Change the number of tetrahedra of a ring that is not closed.
    Tetrahedra(u16),
    /// Use another thread, needle or length from the next length on.
    Thread(ThreadChange),
    /// Several amendments at once, in this order.
    All(Vec<Amendment>),
    /// Finish after the current job: leave out all that is not begun.
    Finish,
    /// Change the colours of beads still to come.
    Colours(ColourChange),
}

impl Amendment {
    /// The job that it changes, if any.
    fn job(&self) -> Option<GoalJob> {
        match self {
            Amendment::Opening { job, .. } => Some(*job),
            Amendment::LeaveOut(job) | Amendment::Next(job) | Amendment::Made(job) => Some(*job),
            _ => None,
        }
    }

    /// Whether it changes the steps ahead.
    pub fn moves_steps(&self) -> bool {
        !matches!(self, Amendment::Colours(_))
    }

    /// The amendment in words, for a piece before the change.
    pub fn say(&self, seq: &Sequence) -> String {
        let goal = seq.goal();
        let title = |job: &GoalJob| goal.jobs.get(job.index()).map(|kind| goal.title(kind));
        let of_job = |job, does: &str| match title(job) {
            Some(title) => format!("{title}: {does}"),
            None => String::new(),
        };
        match self {
            Amendment::Opening { job, how } => how.say(seq, *job),
            Amendment::LeaveOut(job) => of_job(job, "leave this out"),
            Amendment::Next(job) => of_job(job, "do this next"),
            Amendment::Made(job) => of_job(job, "it is made already"),
            Amendment::Rounds { jobs, rounds } => rounds::say(seq, jobs, *rounds),
            Amendment::Ease { panel, gap } => as_stitched::say_ease(seq, *panel, *gap),
            Amendment::Law { panel, rounds, .. } => law::say(seq, *panel, *rounds),
            Amendment::Corners { panel, marks } => corners::say(seq, *panel, marks),
            Amendment::Another(kind) => another::say(seq, *kind),
            Amendment::JoinSides(join) => join.say(goal),
            Amendment::Join(change) => change.say(goal),
            Amendment::Own(own) => format!("A step of your own: {}", own.say()),
            Amendment::ThreadEnds => {
                "The thread ends here, or broke: weave it in and take a new one".into()
            }
            Amendment::SewThrough(bead) => format!("Sew through to bead {bead}"),
            Amendment::Colours(change) => change.say(seq),
            Amendment::Thread(change) => change.say(),
            Amendment::Tetrahedra(n) => format!("A ring of {n} tetrahedra"),
            Amendment::Finish => "Finish here: no job after the current one".into(),
            Amendment::All(all) => {
                let one = match all.as_slice() {
                    [.., Amendment::Rounds { jobs, rounds }] => {
                        let joins = joins::say_fits(all);
                        return format!("{}, and {joins}", rounds::say(seq, jobs, *rounds));
                    }
                    [.., last @ Amendment::Next(_)] => last.say(seq),
                    [first, ..] => first.say(seq),
                    [] => String::new(),
                };
                format!("{one}, and {} more like it", all.len().saturating_sub(1))
            }
        }
    }
}

impl Sequence {
    /// The amendments to suggest after a step: openings first, each with all
    /// ways that fit, then jobs. Some may still be refused.
    pub fn amendments(&self, done: Step) -> Vec<Amendment> {
        self.work_at(done).amendments()
    }

    /// The jobs that the plan leaves out, each with the sides of it that do not lock
    /// into each other; without any if it only needs another of them.
    pub fn left_out(&self) -> Vec<(GoalJob, Option<Refusal>)> {
        let goal = self.work().goal();
        let jobs = goal.order.iter().copied();
        let left_out = jobs.filter(|job| !self.work().is_taken_up(*job));
        let why = |job| (job, self.work().unlike_sides(&goal[job]));
        left_out.map(why).collect()
    }

    /// The piece with an amendment made after a step: the work so far, and a
    /// new plan.
    ///
    /// ```
    /// use threadmark::beadwork::{Sequence, Step, amend::Amendment};
    ///
    /// let pattern = threadmark::pattern::load("patterns/practice-pair.json")?;
    /// let sequence = Sequence::new(pattern.project);
    /// let last = *sequence.goal().order.last().expect("a job");
    /// let amended = sequence.amended(Step(10), &Amendment::LeaveOut(last));
    /// let amended = amended.expect("nothing of that job is begun");
    /// assert!(amended.steps() < sequence.steps());
    /// # Ok::<(), threadmark::problem::Problems>(())
    /// ```
    ///
    /// # Errors
    /// The reason why the amendment cannot be made.
    pub fn amended(&self, done: Step, amendment: &Amendment) -> Result<Sequence, Refusal> {
        if let Amendment::Colours(change) = amendment {
            return self.recoloured(done, change);
        }
        let mut work = self.work_at(done);
        work.amend(amendment)?;
        Ok(Sequence::planned(work, PlanRule::default()))
    }
}

impl Work {
    fn amendments(&self) -> Vec<Amendment> {
        let goal = self.goal();
        let ahead = goal.order.iter().copied();
        let ahead: Vec<GoalJob> = ahead.filter(|job| !self.is_taken_up(*job)).collect();
        let openings = goal.order.iter().flat_map(|&job| {
            let ways = self.ways(goal, job).into_iter();
            ways.map(move |how| Amendment::Opening { job, how })
        });
        let is_panel = |job: &GoalJob| matches!(goal[*job], JobKind::Panel(_));
        let closes = |job: &GoalJob| {
            use JobKind::{Fill, FirmRim, SetIn, SetInMiddle};
            matches!(
                goal[*job],
                Fill { .. } | FirmRim(_) | SetIn(..) | SetInMiddle { .. }
            )
        };
        let begun = goal.order.iter().filter(|job| self.is_taken_up(**job));
        let rows = begun.flat_map(|job| goal[*job].rows_worked());
        let rows: HashSet<Corner> = rows.collect();
        let next = ahead.iter().skip(1).copied().filter(|&job| {
            let mut needed = goal[job].rows_met().into_iter();
            self.check_next(goal, job).is_ok() && needed.all(|row| rows.contains(&row))
        });
        let next = next.map(Amendment::Next);
        let made = ahead.iter().filter(|job| is_panel(job));
        let made = made.copied().map(Amendment::Made);
        // The jobs ahead that work on each panel.
        let mut on: HashMap<Panel, Vec<GoalJob>> = HashMap::new();
        for &job in &ahead {
            for panel in goal[job].panels() {
                on.entry(panel).or_default().push(job);
            }
        }
        let left = ahead.iter().filter(|&&job| {
            let mut gone = vec![job];
            let mut at = 0;
            while let Some(made) = gone.get(at).map(|job| goal[*job].makes()) {
                for other in made.and_then(|panel| on.get(&panel)).into_iter().flatten() {
                    if !gone.contains(other) {
                        if !closes(other) {
                            return false;
                        }
                        gone.push(*other);
                    }
                }
                at += 1;
            }
            gone.len() < goal.order.len() && (is_panel(&job) || closes(&job))
        });
        let left = left.copied().map(Amendment::LeaveOut);
        let finish =
            (!ahead.is_empty() && ahead.len() < goal.order.len()).then_some(Amendment::Finish);
        let easings = self.easings().into_iter();
        let rounds = self.rounds_amendments();
        let all = easings.chain(openings).chain(rounds);
        let mut all: Vec<Amendment> = all.chain(next).chain(left).chain(finish).collect();
        all.extend(made);
        all.extend(self.another_ways());
        all.extend(self.ring_changes());
        all.extend(self.join_changes());
        if self.needle().is_some() && self.can_renew_here() {
            all.push(Amendment::ThreadEnds);
        }
        if !ahead.is_empty() || self.has_thread() {
            all.extend(self.thread_changes());
        }
        all
    }

    /// Changes the goal of the work.
    ///
    /// # Errors
    /// The reason why the amendment cannot be made; then nothing is changed.
    pub fn amend(&mut self, amendment: &Amendment) -> Result<(), Refusal> {
        if let Amendment::All(all) = amendment {
            let at_once = self.all_panels_forward(all);
            if let Some(goal) = at_once.or_else(|| self.all_joins(all)) {
                self.set_goal(Arc::new(goal));
                return Ok(());
            }
            let mut work = self.clone();
            all.iter().try_for_each(|one| work.amend(one))?;
            *self = work;
            return Ok(());
        }
        let mut goal = self.goal_as_begun();
        Refusal::NoSuchJob.when(
            amendment
                .job()
                .is_some_and(|job| !goal.order.contains(&job)),
        )?;
        Refusal::TooManyChanges.when(goal.amendments >= MOST_AMENDMENTS)?;
        match amendment {
            Amendment::Opening { job, how } => self.close(&mut goal, *job, *how)?,
            Amendment::LeaveOut(job) => {
                Refusal::JobBegun.when(self.is_taken_up(*job))?;
                self.leave_out(&mut goal, *job);
                goal.is_in_part = true;
            }
            Amendment::Rounds { jobs, rounds } => self.set_rounds(&mut goal, jobs, *rounds)?,
            Amendment::Ease { panel, gap } => {
                self.check_ease(*panel, *gap)?;
                goal[*panel].eased.push(*gap);
            }
            Amendment::Law {
                panel,
                rounds,
                gaps,
            } => self.plan_gaps(&mut goal, *panel, *rounds, gaps)?,
            Amendment::Corners { panel, marks } => self.mark_corners(&mut goal, *panel, marks)?,
            Amendment::Another(kind) => self.add_another(&mut goal, *kind)?,
            Amendment::JoinSides(join) => self.join_sides(&mut goal, *join)?,
            Amendment::Next(job) => self.bring_forward(&mut goal, *job)?,
            Amendment::Made(job) => self.made_already(&mut goal, *job)?,
            Amendment::Join(change) => self.change_join(&mut goal, *change)?,
            Amendment::Own(own) => self.add_own(&mut goal, own)?,
            Amendment::ThreadEnds => self.end_thread_here(&mut goal)?,
            Amendment::SewThrough(bead) => self.sew_through_here(&mut goal, *bead)?,
            Amendment::Thread(change) => self.change_thread(&mut goal, *change)?,
            Amendment::Tetrahedra(n) => self.resize_ring(&mut goal, *n)?,
            Amendment::All(_) => unreachable!("each of them is made by itself"),
            Amendment::Colours(change) => return self.recolour(change, Bead(self.strung)),
            Amendment::Finish => {
                Refusal::NoJob.when(goal.order.iter().all(|job| !self.is_taken_up(*job)))?;
                goal.order.retain(|job| self.is_taken_up(*job));
                goal.is_in_part = true;
            }
        }
        if let Some((_, refusal)) = self.unworkable(&goal) {
            return Err(refusal);
        }
        Refusal::NothingLeft.when(goal.order.is_empty())?;
        goal.amendments += 1;
        if !matches!(amendment, Amendment::Rounds { .. }) {
            self.set_goal(Arc::new(goal));
            return Ok(());
        }
        let mut amended = self.clone();
        amended.set_goal(Arc::new(goal));
        let unlike = |job| amended.unlike_sides(job);
        if let Some(refusal) = amended.goal().ordered().find_map(unlike) {
            return Err(refusal);
        }
        *self = amended;
        Ok(())
    }

    /// Removes a panel that is not begun from a goal; those after it get lower
    /// numbers.
    fn forget_panel(&self, goal: &mut Goal, panel: Panel) -> Result<(), Refusal> {
        let later = panel.index() + 1..goal.panels.len();
        let begun = |p: usize| self.layout.is_begun(Panel(p as u16));
        if let Some(begun) = later.into_iter().find(|&p| begun(p)) {
            return Err(Refusal::PanelsAfter(Panel(begun as u16)));
        }
        goal.panels.remove(panel.index());
        let panels = goal.jobs.iter_mut().flat_map(JobKind::panels_mut);
        for later in panels.filter(|other| **other > panel) {
            later.0 -= 1;
        }
        Ok(())
    }

    /// Leaves out a job, and those that cannot be done without it.
    fn leave_out(&self, goal: &mut Goal, job: GoalJob) {
        let mut left = Some(job);
        while let Some(job) = left {
            goal.order.retain(|other| *other != job);
            left = self.unworkable(goal).map(|(job, _)| job);
        }
    }

    /// Jobs of the goal that cannot be done with the panels as stitched: sides
    /// that do not fit, jobs that depend on them, and openings that they leave
    /// with a slit.
    pub(super) fn left_out(&self) -> HashSet<GoalJob> {
        let mut goal = self.goal_as_begun();
        let fits = |job: &GoalJob| {
            self.is_taken_up(*job) || self.unlike_sides(&self.goal()[*job]).is_none()
        };
        let order = &self.goal().order;
        if !self.layout.has_own_kinds() || order.iter().all(fits) {
            return HashSet::new();
        }
        let unlike = order.iter().filter(|job| !fits(job)).copied();
        let mut left: HashSet<GoalJob> = unlike.collect();
        goal.order.retain(|job| !left.contains(job));
        let next = |goal: &Goal| match self.unworkable(goal) {
            Some((job, _)) => Some(job),
            None => self.opening_with_a_slit(goal),
        };
        while let Some(job) = next(&goal) {
            goal.order.retain(|other| *other != job);
            left.insert(job);
        }
        left
    }

    /// The first job of a goal that needs something which no job before it
    /// makes.
    pub(super) fn unworkable(&self, goal: &Goal) -> Option<(GoalJob, Refusal)> {
        let (mut made, mut rows) = (HashSet::new(), HashSet::new());
        for &job in &goal.order {
            let kind = &goal[job];
            made.extend(kind.makes());
            rows.extend(kind.rows_worked());
            if self.is_taken_up(job) {
                continue;
            }
            let mut on = kind.rows_met().into_iter();
            if let Some((panel, side)) = on.find(|row| !rows.contains(row)) {
                return Some((job, Refusal::NoRow(panel, side)));
            }
            let mut panels = kind.panels().into_iter();
            if let Some(panel) = panels.rfind(|panel| !made.contains(panel)) {
                return Some((job, Refusal::Unfinished(panel)));
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::job::JobInfo;
    use crate::beadwork::movement::Kind;
    use crate::beadwork::project::{Closing, Make, Project, Solid};
    use crate::beadwork::record::Record;
    use crate::beadwork::testing;
    use crate::beadwork::verify::verify;

    /// A face with a bead more on one side: the face that would be set in there is no job
    /// any more.
    #[test]
    fn an_opening_whose_job_is_left_out_is_named_by_a_panel_around_it() {
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn));
        let open = |seq: &Sequence, at| {
            let offered = seq.amendments(at).into_iter();
            let mut said = offered.map(|change| change.say(seq));
            said.find(|said| said.ends_with(": leave it open and reinforce its rim"))
        };
        let set_in = "Set in Face 4: leave it open and reinforce its rim";
        assert_eq!(open(&seq, Step(20)).as_deref(), Some(set_in));
        let is_set_in = |job: &JobInfo| matches!(job.kind, JobKind::SetIn(..));
        let changed = (20..50).map(Step).find_map(|at| {
            let found = seq.as_stitched(at, at, 2, None).ok()?.sequence;
            let is_left_out = !found.jobs().iter().any(is_set_in);
            is_left_out.then(|| open(&found, at))
        });
        let named = "The opening at Face 2: leave it open and reinforce its rim";
        assert_eq!(changed.flatten().as_deref(), Some(named));
    }

    fn pair(closings: [Closing; 2]) -> Project {
        let specs = closings.map(|closing| (usize::from(closing == Closing::Fill), closing));
        let make = Make::FoldedPair {
            faces: vec![0],
            closings: specs,
            tips: 0,
        };
        testing::project(vec![testing::panel(3, 5), testing::inward(3, 5, 0)], make)
    }

    pub(super) fn assert_proved(sequence: &Sequence) {
        let size = |bead| {
            let layout = sequence.layout();
            layout.bead_kind(sequence.colour_as_made(bead)).size
        };
        let (layout, jobs) = (sequence.layout(), sequence.jobs());
        let report = verify(
            layout.project(),
            sequence.goal(),
            jobs,
            sequence.iter_as_made(),
            size,
        );
        let mut findings = report.findings.iter();
        let fills = |fault| random_tests::fills_a_hole(sequence.goal(), fault);
        assert_eq!(findings.find(|finding| !fills(&finding.fault)), None);
    }

    /// The job that closes an opening, the `nth` from the end.
    fn closing(sequence: &Sequence, nth: usize) -> GoalJob {
        *sequence.goal().order.iter().rev().nth(nth).unwrap()
    }

    fn kinds(sequence: &Sequence) -> Vec<Kind> {
        sequence.iter().map(|m| m.kind).collect()
    }

    const FILL: OpeningEnd = OpeningEnd::Fill { kind: 1, open: 0 };
    const SET_IN: OpeningEnd = OpeningEnd::SetIn { kind: 0 };

    /// Wherever the maker puts a step of their own between the strips that a panel
    /// begins with, they are strung and drawn together as before.
    #[test]
    fn separate_strips_are_gone_on_with_at_every_step() {
        let mut strips = testing::single(testing::inward(3, 5, 0));
        strips.panels[0].strips = true;
        let plain = Sequence::new(strips);
        let own = OwnStep {
            what: OwnStepKind::Note,
            text: "look".into(),
        };
        for done in 1..plain.steps() {
            let amended = plain
                .amended(Step(done), &Amendment::Own(own.clone()))
                .unwrap();
            assert_proved(&amended);
            assert_eq!(amended.steps(), plain.steps() + 1, "step {done}");
        }
    }

    /// The thread ends at any tooth of a zip, also at the last one of a panel that
    /// is zipped all the way round, before the needle goes through the tip bead.
    #[test]
    fn the_thread_may_end_at_any_tooth() {
        let mut project = testing::solid(Solid::Tetrahedron, 4, Closing::SetIn);
        if let Make::Solid { tips, .. } = &mut project.make {
            *tips = 1;
        }
        let plain = Sequence::new(project);
        let zips = plain.iter().filter(|m| m.kind == Kind::Zip);
        for tooth in zips.map(|m| m.step) {
            assert_proved(&plain.amended(tooth, &Amendment::ThreadEnds).unwrap());
        }
    }

    /// An opening that is closed differently before it is begun gives the same
    /// piece as a pattern with that closing.
    #[test]
    fn an_opening_not_begun_can_be_closed_in_every_way() {
        use Closing::{Fill, Open, SetIn};
        for (before, how, after) in [
            (Fill, OpeningEnd::Open, Open),
            (Fill, SET_IN, SetIn),
            (Open, FILL, Fill),
            (Open, SET_IN, SetIn),
            (SetIn, OpeningEnd::Open, Open),
            (SetIn, FILL, Fill),
        ] {
            let plain = Sequence::new(pair([SetIn, before]));
            let job = closing(&plain, 0);
            let amendment = Amendment::Opening { job, how };
            for done in [0, 7, 200] {
                let amended = plain.amended(Step(done), &amendment).unwrap();
                assert_proved(&amended);
                let asked = Sequence::new(pair([SetIn, after]));
                assert_eq!(amended.layout().beads(), asked.layout().beads());
                assert_eq!(kinds(&amended), kinds(&asked), "{before:?} to {after:?}");
            }
        }
    }

    /// Its insert is not made, and comes back when the opening is left open again or
    /// the change is undone; the one of the other opening stays.
    #[test]
    fn an_opening_with_an_insert_is_closed() {
        let mut project = pair([Closing::Open, Closing::Open]);
        project.panels.push(testing::panel(3, 3));
        project.insert = vec![project.panels.len() - 1];
        let plain = Sequence::new(project.clone());
        let titles = |seq: &Sequence| {
            let jobs = seq.jobs().iter().map(|job| job.title.clone());
            let mut titles: Vec<String> = jobs.collect();
            titles.sort();
            titles
        };
        let of = |insert: &str, seq: &Sequence| {
            let titles = titles(seq).into_iter();
            titles.filter(|title| title.contains(insert)).count()
        };
        let slipped = |seq: &Sequence| seq.iter().filter(|m| m.kind == Kind::Own).count();
        let is_open = |job: &JobKind| matches!(job, JobKind::FirmRim(_));
        let closings: Vec<GoalJob> = (plain.goal().order.iter().copied())
            .filter(|job| is_open(&plain.goal()[*job]))
            .collect();
        // At the start, and when both rims are reinforced.
        let made = |seq: &Sequence, title: &str| {
            let job = seq.jobs().iter().find(|job| job.title.contains(title));
            job.unwrap().steps_before
        };
        let ready = made(&plain, "Insert 1");
        for (done, how) in [(0, SET_IN), (0, FILL), (ready, SET_IN), (ready, FILL)] {
            for (nth, &job) in closings.iter().enumerate() {
                let [own, other] = [["Insert 1", "Insert 2"], ["Insert 2", "Insert 1"]][nth];
                let change = Amendment::Opening { job, how };
                let closed = plain.amended(Step(done), &change).unwrap();
                assert_proved(&closed);
                assert_eq!((of(own, &closed), slipped(&closed)), (0, 1));
                assert_eq!(of(other, &closed), of(other, &plain));
                let jobs = &closed.goal().order;
                let closing = |job: &&GoalJob| {
                    use JobKind::{Fill, SetIn};
                    matches!(closed.goal()[**job], Fill { .. } | SetIn(..))
                };
                let again = Amendment::Opening {
                    job: *jobs.iter().rfind(closing).unwrap(),
                    how: OpeningEnd::Open,
                };
                let opened = closed.amended(Step(done), &again).unwrap();
                assert_proved(&opened);
                assert_eq!(titles(&opened), titles(&plain));
                assert_eq!(opened.layout().beads(), plain.layout().beads());

                let mut record = Record::default();
                record.play(&plain.work().facts(0, done), done);
                let resumed = |record: &Record| {
                    let rule = PlanRule::default();
                    let resumed = Sequence::resume(project.clone(), &[], record, rule);
                    assert_eq!(resumed.refused, None);
                    resumed.sequence
                };
                record.amend(change.clone());
                assert!(resumed(&record).iter().eq(closed.iter()));
                record.amend(again);
                assert!(resumed(&record).iter().eq(opened.iter()));
                record.undo();
                assert!(resumed(&record).iter().eq(closed.iter()));
                record.undo();
                assert!(resumed(&record).iter().eq(plain.iter()));
            }
        }
        // One that is begun stays.
        let change = Amendment::Opening {
            job: closings[0],
            how: FILL,
        };
        let closed = plain.amended(Step(ready + 5), &change).unwrap();
        assert_proved(&closed);
        assert_eq!(of("Insert", &closed), of("Insert", &plain));
        assert_eq!(slipped(&closed), 2);
    }

    /// After two rounds of the fill, the face is left open; then it is filled
    /// to the centre after all.
    #[test]
    fn a_fill_that_is_begun_stops_here_or_goes_on() {
        let plain = Sequence::new(pair([Closing::SetIn, Closing::Fill]));
        let job = closing(&plain, 0);
        let turns = plain.iter().filter(|m| m.kind == Kind::StepDown);
        let second = turns.map(|m| m.step).nth(1).unwrap();
        let stop = Amendment::Opening {
            job,
            how: OpeningEnd::Open,
        };
        let stopped = plain.amended(second, &stop).unwrap();
        assert_proved(&stopped);
        // Rounds 5 and 4 of the fill are made, 3, 2 and 1 are not.
        assert_eq!(plain.layout().beads() - stopped.layout().beads(), 18);
        let on = Amendment::Opening { job, how: FILL };
        // At once, and after the rim of its middle is reinforced.
        for done in [second, Step(stopped.steps() - 1)] {
            let again = stopped.amended(done, &on).unwrap();
            assert_proved(&again);
            assert_eq!(again.layout().beads(), plain.layout().beads());
        }
        // A round that is covered cannot be opened.
        let end = Step(plain.steps() - 2);
        assert!(plain.amended(end, &stop).is_err());
    }

    /// All that is suggested can be made, or gives a reason why not; and the
    /// result is proved.
    #[test]
    fn what_is_offered_can_be_made() {
        let plain = Sequence::new(pair([Closing::SetIn, Closing::Fill]));
        let mut made = 0;
        for done in (0..plain.steps()).step_by(37) {
            let offered = plain.amendments(Step(done));
            for amendment in offered {
                let words = amendment.say(&plain);
                match plain.amended(Step(done), &amendment) {
                    Ok(amended) => {
                        assert_proved(&amended);
                        let same = plain.iter().take(done as usize);
                        assert!(amended.iter().take(done as usize).eq(same), "{words}");
                        made += 1;
                    }
                    Err(refusal) => assert!(!refusal.to_string().is_empty(), "{words}"),
                }
            }
        }
        assert!(made > 50, "{made} made");
    }

    #[test]
    fn jobs_can_be_left_out_and_taken_in_another_order() {
        let plain = Sequence::new(testing::listed_tetrahedron(4));
        let last = closing(&plain, 0);
        let left = plain.amended(Step(10), &Amendment::LeaveOut(last)).unwrap();
        assert_eq!(left.jobs().len() + 1, plain.jobs().len());
        // The second panel before the rows of the first.
        let second = GoalJob(2);
        let next = plain.amended(Step(10), &Amendment::Next(second)).unwrap();
        assert_eq!(next.jobs()[1].kind, plain.jobs()[2].kind);
        assert_eq!(next.layout().beads(), plain.layout().beads());
        let unmade = plain.amended(Step(10), &Amendment::Next(last));
        assert!(unmade.is_err(), "its rim is not made");
    }
}
