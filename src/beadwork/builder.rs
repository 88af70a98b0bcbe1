//! The builder: carries out jobs one after another, as the needle goes.
//!
//! It knows where the needle leaves, weaves it to where the next stage must
//! start, and takes up new thread where the old will not do or does not reach.

mod join;
mod needle;
mod panel;
mod repeat;
mod thread;
mod tie;

use super::corner_way::CornerRule;
use super::end::Hole;
use super::job::{JobInfo, JobKind, Span};
use super::layout::{Layout, RowIndex};
use super::making::Begin;
use super::number::{Panel, Round, Side};
use super::project::{Project, SpecIndex};
use super::seams::Seams;
use super::stage::{Stage, Steps};
use super::touch::Work;
use repeat::Made;
use std::cell::Cell;
use std::collections::HashMap;

/// Beads that an end of thread is woven through.
const WOVEN: usize = 4;

/// Holes looked at before a way is given up as too far; new thread is then
/// the better way.
const FAR: usize = 4_000;

/// Holes looked at for all the ways of a piece. A piece of many hundreds of
/// panels has a long way from each to the next, and would be long in opening;
/// beyond this only ways near at hand are sought.
const ALL_WAYS: usize = 600_000;

/// Holes looked at for a way near at hand.
const NEAR: usize = 100;

/// A piece being worked out.
pub(super) struct Builder {
    pub corner_rule: CornerRule,
    pub layout: Layout,
    pub seams: Seams,
    pub jobs: Vec<JobInfo>,
    pub spans: Vec<Span>,
    /// Steps before each start of a thread.
    pub threads: Vec<u32>,
    /// Where the needle leaves; none while no thread is in the work.
    needle: Option<Hole>,
    /// Beads that the thread in hand can still go through.
    reach: u64,
    steps: u32,
    strung: u32,
    passes: u64,
    /// Holes looked at so far.
    looked_at: Cell<usize>,
    /// How each kind of panel was made the first time.
    made: HashMap<(SpecIndex, Begin), Made>,
}
impl Builder {
    pub fn new(project: Project, corner_rule: CornerRule) -> Self {
        Builder {
            corner_rule,
            layout: Layout::new(project),
            seams: Seams::default(),
            jobs: vec![],
            spans: vec![],
            threads: vec![],
            needle: None,
            reach: 0,
            steps: 0,
            strung: 0,
            passes: 0,
            looked_at: Cell::new(0),
            made: HashMap::new(),
        }
    }

    pub fn project(&self) -> &Project {
        self.layout.project()
    }

    pub fn steps(&self) -> u32 {
        self.steps
    }

    pub fn passes(&self) -> u64 {
        self.passes
    }

    pub fn work(&self) -> Work<'_> {
        Work {
            layout: &self.layout,
            seams: &self.seams,
            strung: self.strung,
        }
    }

    fn begin(&mut self, kind: JobKind, title: String) {
        self.jobs.push(JobInfo {
            kind,
            title,
            steps_before: self.steps,
            steps: 0,
            beads_before: self.strung,
            beads: 0,
        });
    }

    fn name(&self, panel: Panel) -> String {
        self.layout.panel(panel).name.clone()
    }

    /// Ends the thread at the end of the piece.
    pub fn finish(&mut self) {
        self.end_thread();
    }

    fn first_of(&self, panel: Panel, round: Round) -> Hole {
        let start = self.layout.making(panel).start(round);
        Hole::front(self.layout.bead(panel, round, start))
    }

    fn row_on(&self, (panel, side): (Panel, Side)) -> RowIndex {
        self.layout
            .row_on(panel, side)
            .expect("the plan works a row before it is joined")
    }

    /// The corners round an opening meet: the start of each rim side and the
    /// end of the next.
    fn meet_round(&mut self, rim: &[(Panel, Side)]) {
        for (nth, &(panel, side)) in rim.iter().enumerate() {
            let next = rim[(nth + 1) % rim.len()];
            let start = (panel, self.layout.kind(panel).side_before(side));
            self.seams.meet(start, next);
        }
    }

    fn add(&mut self, stage: impl Into<Stage>) {
        let stage = stage.into();
        let steps = stage.steps(&self.layout);
        self.add_span(stage, 0, steps);
    }

    fn add_span(&mut self, stage: Stage, from: u32, to: u32) {
        let layout = &self.layout;
        let passes = stage.passes_before(layout, to) - stage.passes_before(layout, from);
        let strung = stage.strung_before(layout, to) - stage.strung_before(layout, from);
        self.spans.push(Span {
            stage,
            from,
            to,
            steps_before: self.steps,
            beads_before: self.strung,
            passes_before: self.passes,
        });
        self.steps += to - from;
        self.strung += strung;
        self.passes += u64::from(passes);
        self.reach = self.reach.saturating_sub(u64::from(passes));
        let job = self.jobs.last_mut().expect("a stage belongs to a job");
        job.steps += to - from;
        job.beads += strung;
    }
}
