//! Step by step: each movement is passed to the reader of its job, and then the
//! needle moves as the movement says.

use super::finding::Fault;
use super::firm::FirmWork;
use super::hinge;
use super::lock::LockWork;
use super::mend::Mends;
use super::panel::PanelWork;
use super::row::RowWork;
use super::strip::StripWork;
use super::tie::TieWork;
use super::verify_state::VerifyState;
use super::woven;
use super::zip::ZipWork;
use crate::beadwork::bead::BeadSize;
use crate::beadwork::job::{JobInfo, JobKind};
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Job, Step};
use crate::beadwork::own_rounds::MOST_IN_A_GAP;
use crate::beadwork::project::{Growth, WorkDirection};

pub(super) struct StepReader<'a> {
    jobs: &'a [JobInfo],
    /// Number of jobs begun.
    begun: usize,
    work: Option<Box<dyn ReadJob>>,
    mends: Mends,
    steps: u32,
    beads: u32,
}

/// Reads the steps of a job.
pub(super) trait ReadJob {
    /// Reads a movement.
    fn read(&mut self, m: &Movement, state: &mut VerifyState);

    /// Reads a count of a round.
    fn count(&self, m: &Movement, state: &mut VerifyState) {
        state.check_counts(m, m.round_target as usize, m.round_target as usize);
    }

    /// The needle passes beads on its way to the next stitch.
    fn pass(&mut self, _: &Movement) {}

    /// The thread does not go on from where it was: a new length begins, or the
    /// maker wants the current one to end here.
    fn part_thread(&mut self) {}

    /// The thread ends, and its end may draw together what nothing held yet.
    fn end_thread(&self, _: &Movement, _: &mut VerifyState) {}

    /// Checks that the job is complete.
    fn finish(&mut self, state: &mut VerifyState);
}

impl<'a> StepReader<'a> {
    pub fn new(jobs: &'a [JobInfo], broken_out: Vec<Bead>) -> Self {
        StepReader {
            mends: Mends::new(broken_out),
            jobs,
            begun: 0,
            work: None,
            steps: 0,
            beads: 0,
        }
    }

    /// Reads one step.
    pub fn read(
        &mut self,
        m: &Movement,
        state: &mut VerifyState,
        size_of: &impl Fn(Bead) -> BeadSize,
    ) {
        self.go_to_job(m, state);
        state.set_step(m);
        state.report.steps += 1;
        let expected = Step(state.report.steps);
        if m.step != expected {
            state.record(Fault::StepNumber { expected });
            // Continue from here, so that one gap in the numbers gives one
            // finding.
            state.report.steps = m.step.0;
        }
        self.steps += 1;
        let job = self.begun.checked_sub(1).map(|job| &self.jobs[job].kind);
        let is_row = matches!(job, Some(JobKind::JoinRow { .. }));
        let m = &self.mends.without(m, is_row, state, size_of);
        self.beads += m.strings.len() as u32;
        strings(m, state);
        hinge::note(m, state);
        match m.kind {
            Kind::StartThread => {
                if state.thread.is_in() {
                    state.record(Fault::ThreadStillIn);
                }
                state.thread.start();
                state.holes.take_thread();
                state.report.threads += 1;
                state.check_counts(m, 0, 0);
                if let Some(work) = &mut self.work {
                    work.part_thread();
                }
            }
            Kind::EndThread => {
                if !state.thread.is_in() {
                    state.record(Fault::NoThread);
                }
                state.check_counts(m, 0, 0);
                if let Some(work) = &mut self.work {
                    work.end_thread(m, state);
                    if state.required.thread_ends.contains(&(m.step.0 - 1)) {
                        work.part_thread();
                    }
                }
            }
            Kind::PassThrough if m.round.is_none() => {
                state.check_counts(m, 0, 0);
                if let Some(work) = &mut self.work {
                    work.pass(m);
                }
            }
            Kind::Count => match &self.work {
                Some(work) => work.count(m, state),
                None => state.check_counts(m, m.round_target as usize, m.round_target as usize),
            },
            // The maker's own steps move no thread.
            Kind::Own if m.passes.is_empty() => state.check_counts(m, 0, 0),
            // These were read with the mends.
            Kind::BreakOut if m.passes.is_empty() => {}
            _ => match &mut self.work {
                Some(work) => work.read(m, state),
                None => state.unexpected(m, None),
            },
        }
        woven::read(m, self.mends.has_extra(), state, size_of);
        go(m, state, size_of);
        if m.kind == Kind::EndThread {
            state.thread.end();
        }
    }

    // --- jobs ---

    fn go_to_job(&mut self, m: &Movement, state: &mut VerifyState) {
        let to = m.job.index() + 1;
        if to < self.begun || to > self.jobs.len() {
            state.set_step(m);
            state.record(Fault::JobOutOfOrder);
            return;
        }
        while self.begun < to {
            self.finish_job(state);
            self.begin_job(state);
        }
    }

    fn begin_job(&mut self, state: &mut VerifyState) {
        let job = Job(self.begun as u16);
        self.begun += 1;
        state.set_job(Some(job));
        let JobInfo { kind, row_gaps, .. } = &self.jobs[job.index()];
        if let Some(list) = &state.required.jobs
            && list.get(job.index()).is_some_and(|line| line != kind)
        {
            state.record(Fault::NotAsListed);
        }
        state.face_is_begun = false;
        state.face = match kind {
            JobKind::Panel(panel) | JobKind::Fill { panel, .. } => Some(*panel),
            _ => None,
        };
        match kind {
            JobKind::Fill { rim, .. } => state.ledger.close_rim(rim),
            JobKind::SetIn(_, joins) => {
                let sides: Vec<_> = joins.iter().map(|join| (join.onto, join.at)).collect();
                state.ledger.close_rim(&sides);
            }
            _ => {}
        }
        self.work = match kind {
            JobKind::Panel(panel) => {
                let required = state.required.panels.get(state.panels() as usize);
                let project = state.project;
                let spec = required.map(|panel| &project.panels[panel.spec]);
                if let Some(Growth::Rows { beads, words }) = spec.map(|spec| &spec.growth) {
                    let rows = spec.map_or(0, |spec| spec.rounds);
                    state.next_panel(*panel);
                    boxed(StripWork::new(*beads, rows, words))
                } else {
                    let way = spec.map_or(WorkDirection::Outward, |spec| spec.way);
                    PanelWork::alone(*panel, way, state).and_then(boxed)
                }
            }
            JobKind::Fill { panel, rim } => {
                state.ledger.fills += 1;
                super::whole::hold_rim(job, state);
                PanelWork::fill(*panel, (rim, row_gaps), state).and_then(boxed)
            }
            JobKind::JoinRow {
                panel,
                sides,
                beads,
                ..
            } => {
                let rows = (&sides[..], *beads, &row_gaps[..]);
                boxed(RowWork::new(job, *panel, rows, state))
            }
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                boxed(ZipWork::new(*panel, joins, state))
            }
            JobKind::SetInMiddle { panel, around } => boxed(LockWork::new(*panel, *around, state)),
            JobKind::Reinforce(panel, side) => boxed(FirmWork::join((*panel, *side), state)),
            JobKind::FirmRim(rim) => boxed(FirmWork::rim(rim, state)),
            JobKind::Tie(from, to) => boxed(TieWork::new(*from, *to, state)),
        };
    }

    fn finish_job(&mut self, state: &mut VerifyState) {
        let Some(before) = self.begun.checked_sub(1) else {
            return;
        };
        state.set_job(Some(Job(before as u16)));
        if let Some(work) = &mut self.work {
            work.finish(state);
        }
        let info = &self.jobs[before];
        if self.mends.take_number() != info.break_outs {
            state.record(Fault::BreakOutsOfJob);
        }
        let (steps, beads) = (self.steps, self.beads);
        if steps != info.steps {
            let (expected, found) = (info.steps, steps);
            state.record(Fault::JobSteps { expected, found });
        }
        if beads != info.beads {
            let (expected, found) = (info.beads, beads);
            state.record(Fault::JobBeads { expected, found });
        }
        (self.steps, self.beads) = (0, 0);
    }

    /// Ends the last job, and begins and ends jobs that have no steps.
    pub fn finish(&mut self, state: &mut VerifyState) {
        while self.begun < self.jobs.len() {
            self.finish_job(state);
            self.begin_job(state);
        }
        self.finish_job(state);
        state.set_job(None);
    }
}

fn boxed(work: impl ReadJob + 'static) -> Option<Box<dyn ReadJob>> {
    Some(Box::new(work))
}

/// Each kind of movement strings a certain number of beads, once, and passes
/// them.
fn strings(m: &Movement, state: &mut VerifyState) {
    let found = m.strings.len() as u32;
    let expected = match m.kind {
        Kind::Stitch => 1,
        // As stitched, a gap can take more beads.
        Kind::Increase => found.clamp(2, MOST_IN_A_GAP.into()),
        Kind::Ring => found.min(1),
        _ => 0,
    };
    if found != expected {
        let kind = m.kind;
        state.record(Fault::StringsWrong {
            kind,
            expected,
            found,
        });
    }
    for &bead in &m.strings {
        if !m.passes.contains(&bead) {
            state.record(Fault::NotPassed(bead));
        }
    }
}

/// The needle goes through the beads of a step.
fn go(m: &Movement, state: &mut VerifyState, size_of: &impl Fn(Bead) -> BeadSize) {
    let mut new = m.strings.iter().peekable();
    for &bead in &m.passes {
        state.report.passes += 1;
        if !state.is_known(bead) {
            state.record(Fault::UnknownBead(bead));
            continue;
        }
        let is_new = new.next_if(|&&first| first == bead).is_some();
        let result = if is_new {
            if state.is_strung(bead) {
                state.record(Fault::StrungTwice(bead));
            } else {
                state.string(bead);
            }
            state.thread.string(bead)
        } else if state.is_strung(bead) {
            state.thread.pass(bead)
        } else {
            Err(Fault::NotYetStrung(bead))
        };
        state.check(result);
        if let Some(passes) = state.holes.pass(bead, size_of) {
            state.record(Fault::Blocked { bead, passes });
        }
    }
}
