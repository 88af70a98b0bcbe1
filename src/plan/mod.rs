//! The plan: what a piece takes, known before the first bead is strung.
//!
//! All of it is computed from the same layout and the same steps that are
//! stitched, so the plan always agrees with the work.
//!
//! | file | says |
//! |---|---|
//! | [`materials`] | beads by colour, grams, spare beads |
//! | [`walk`] | passes of every bead, movements of every kind |
//! | [`fullest`] | the fullest holes and what helps |
//! | [`pace`] | hours |
//! | [`level`] | how hard it is |
//! | [`ahead`] | what is still ahead once a step is done |
//! | [`size`] | how big it gets |
//! | [`flat`] | whether panels lie flat, and the flattest law |
//! | [`turning`] | whether a ring turns |
//! | [`stone`], [`lining`] | stones in openings, cups in open faces |
//! | [`kinds`], [`joins`], [`order`], [`inspection`] | which side carries which row, and the order of the joins |
//! | [`colours`] | colours and letters that are easily confused |
//! | [`json`], [`page`] | the plan as JSON, and as a page |
//! | [`draft`] | new patterns |
//!
//! ```
//! use threadmark::beadwork::Sequence;
//! use threadmark::plan::{Plan, Wishes};
//!
//! let project = threadmark::pattern::load("patterns/practice-triangle.json")?.project;
//! let sequence = Sequence::new(project);
//! let plan = Plan::of(&sequence, Wishes::default());
//! assert!(plan.thread_mm() > 0.0 && plan.grams() > 0.0);
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

pub mod ahead;
pub mod colours;
pub mod cuts;
pub mod draft;
pub mod flat;
pub mod fullest;
pub mod inspection;
pub mod joins;
pub mod json;
pub mod kinds;
pub mod level;
pub mod lining;
pub mod materials;
pub mod order;
pub mod pace;
pub mod page;
pub mod size;
pub mod stone;
pub mod turning;
pub mod walk;

use crate::beadwork::job::JobInfo;
use crate::beadwork::kaleidocycle::Kaleidocycle;
use crate::beadwork::project::{Closing, Make, Solid, SpecIndex};
use crate::beadwork::thread::{Needle, Thread, ThreadChoice};
use crate::beadwork::{Bead, BeadSize, Colour, Sequence, Step, ThreadLength};
use lining::Lining;
use walk::{JobWalk, Walk};

/// What a maker can set for a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wishes {
    /// Spare beads to buy beyond what is needed, percent.
    pub spare_percent: f64,
    /// Seconds that a stitch takes the maker.
    pub stitch_seconds: f64,
    /// Whether that was timed on this piece.
    pub own_pace: bool,
    /// Diameter of a round stone to be held, mm.
    pub stone_mm: Option<f64>,
}

impl Default for Wishes {
    /// 5 % spare, a typical pace, no stone.
    fn default() -> Self {
        Wishes {
            spare_percent: 5.0,
            stitch_seconds: pace::STITCH,
            own_pace: false,
            stone_mm: None,
        }
    }
}

/// What a piece takes.
#[derive(Clone, Debug)]
pub struct Plan {
    /// What the maker set.
    pub wishes: Wishes,
    /// Beads by colour.
    pub beads: Vec<materials::ColourAmount>,
    /// All beads.
    pub total_beads: u32,
    /// All steps.
    pub total_steps: u32,
    /// Its jobs.
    pub jobs: Vec<PlannedJob>,
    /// Each length of thread, in order.
    pub threads: Vec<PlannedThread>,
    /// How thread is best cut.
    pub cuts: cuts::Cuts,
    /// Thread and needle.
    pub thread: Thread,
    /// The needle.
    pub needle: Needle,
    /// How often each bead is passed, and movements of each kind.
    pub walk: Walk,
    /// The fullest holes.
    pub fullest: fullest::Fullest,
    /// How each kind of panel lies.
    pub panels: Vec<flat::Flatness>,
    /// How big it gets.
    pub size: size::Size,
    /// Whether it turns, if it is a ring.
    pub ring: Option<turning::Turning>,
    /// Openings and the stones that they hold.
    pub openings: Vec<stone::Opening>,
    /// Where to stop each kind of panel for the maker's stone.
    pub stones: Vec<stone::StoneFit>,
    /// The lining that an open face takes.
    pub lining: Option<lining::Lining>,
    /// Kinds of panel.
    pub kinds: kinds::Kinds,
    /// The order of joins.
    pub order: order::Order,
    /// Colours that are easily confused.
    pub alike: Vec<colours::Alike>,
    /// Letters that are easily confused.
    pub like_letters: Vec<colours::LikeLetters>,
    /// How long it takes, minutes.
    pub minutes: f64,
}

/// One length of thread.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedThread {
    /// Its steps.
    pub steps: ThreadLength,
    /// The jobs of its first step and of its last.
    pub jobs: (usize, usize),
    /// The bead through which it is started; none if it begins with a ring or a
    /// string.
    pub first_bead: Option<Bead>,
    /// The last bead that the needle leaves.
    pub last_bead: Option<Bead>,
    /// What it takes, mm, with its two tails.
    pub takes_mm: f64,
    /// How long it must be cut for that, mm.
    pub fitted_mm: f64,
    /// The cut length, the thickness and the needle.
    pub choice: ThreadChoice,
}

impl PlannedThread {
    fn of(seq: &Sequence, steps: ThreadLength) -> PlannedThread {
        let (first, last) = (steps.first, steps.last);
        let job = |step| seq.job_of(step).index();
        let step = |step: u32| seq.step(Step(step)).map(|m| seq.as_made(m));
        let passes = |at: u32| step(at).map(|m| m.passes).unwrap_or_default();
        let takes_mm = seq.takes_mm(steps);
        PlannedThread {
            steps,
            jobs: (job(first), job(last)),
            first_bead: passes(first.0).first().copied(),
            last_bead: (first.0..=last.0)
                .rev()
                .find_map(|n| passes(n).last().copied()),
            takes_mm,
            fitted_mm: Sequence::fitted_mm(takes_mm),
            choice: seq.thread_choice(steps),
        }
    }
}

/// One job.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedJob {
    /// Its title.
    pub title: String,
    /// Its steps.
    pub steps: u32,
    /// Thread that it takes, mm, including its tails.
    pub thread_mm: f64,
    /// How long it takes, minutes.
    pub minutes: f64,
}

impl Plan {
    /// Plans a piece.
    pub fn of(seq: &Sequence, wishes: Wishes) -> Plan {
        let layout = seq.layout();
        let project = layout.project();
        let walk = Walk::over(seq);
        let fullest = fullest::fullest(seq, &walk);
        let bead = stone::bead(layout);
        let size = size::size(seq);
        let stones = wishes.stone_mm.map(|stone_mm| {
            let of_kind = |spec: &crate::beadwork::project::PanelSpec| {
                let kind = crate::beadwork::panel::PanelLayout::new(spec);
                stone::stop_for(&spec.name, &kind, stone_mm, bead)
            };
            project.panels.iter().map(of_kind).collect()
        });
        let job = |(job, walk): (&JobInfo, &JobWalk)| {
            let before = Step(job.steps_before);
            PlannedJob {
                title: job.title.clone(),
                steps: job.steps,
                thread_mm: seq.thread_mm(before, Step(before.0 + job.steps)),
                minutes: pace::minutes(&walk.kinds, wishes.stitch_seconds),
            }
        };
        let jobs: Vec<PlannedJob> = seq.jobs().iter().zip(&walk.jobs).map(job).collect();
        let threads = seq.thread_lengths().map(|t| PlannedThread::of(seq, t));
        let threads: Vec<PlannedThread> = threads.collect();
        Plan {
            wishes,
            beads: materials::beads(layout, wishes.spare_percent),
            total_beads: layout.beads(),
            total_steps: seq.steps(),
            cuts: cuts::Cuts::of(seq, &threads),
            threads,
            thread: seq.goal().thread_to_come().thread,
            needle: seq.goal().thread_to_come().needle,
            panels: flat::panels(layout),
            ring: Kaleidocycle::of(layout).map(turning::Turning::of),
            openings: stone::openings(seq),
            stones: stones.unwrap_or_default(),
            lining: insert(seq, bead),
            kinds: kinds::kinds(layout),
            order: order::order(seq, &walk),
            alike: colours::alike(layout.bead_kinds()),
            like_letters: colours::like_letters(layout.bead_kinds()),
            minutes: jobs.iter().map(|job| job.minutes).sum(),
            jobs,
            size,
            fullest,
            walk,
        }
    }

    /// The plan with the lengths that the maker cut otherwise, mm.
    pub fn with_own_cuts(mut self, own_mm: impl Fn(ThreadLength) -> Option<f64>) -> Plan {
        for thread in &mut self.threads {
            let cut_mm = &mut thread.choice.thread.cut_mm;
            *cut_mm = own_mm(thread.steps).unwrap_or(*cut_mm);
        }
        self
    }

    /// How long the first length is cut, mm.
    pub fn first_cut_mm(&self) -> f64 {
        let first = self.threads.first();
        first.map_or(self.thread.cut_mm, |first| first.choice.thread.cut_mm)
    }

    /// All thread of the piece, mm, with the tails.
    pub fn thread_mm(&self) -> f64 {
        self.cuts.takes_mm
    }

    /// How many lengths of thread need more than is cut at a time.
    pub fn too_long(&self) -> usize {
        let long = |thread: &&PlannedThread| thread.takes_mm > thread.choice.thread.cut_mm;
        self.threads.iter().filter(long).count()
    }

    /// How much longer than its cut the longest of them is, mm; negative if all
    /// are long enough.
    pub fn over_cut_mm(&self) -> f64 {
        let over = |thread: &PlannedThread| thread.takes_mm - thread.choice.thread.cut_mm;
        self.threads.iter().map(over).fold(f64::MIN, f64::max)
    }

    /// Lengths of thread that are cut alike: the numbers of the first and the
    /// last, from 1, and how they are cut.
    pub fn threads_alike(&self) -> Vec<(usize, usize, ThreadChoice)> {
        let mut alike: Vec<(usize, usize, ThreadChoice)> = vec![];
        for (number, thread) in (1..).zip(&self.threads) {
            match alike.last_mut().filter(|last| last.2 == thread.choice) {
                Some(last) => last.1 = number,
                None => alike.push((number, number, thread.choice)),
            }
        }
        alike
    }

    /// What all its beads weigh, g.
    pub fn grams(&self) -> f64 {
        self.beads.iter().map(|b| b.grams).sum()
    }

    /// The thread: `braided 0.15 mm`, or only how thick it is.
    pub fn thread_words(&self) -> String {
        match self.thread.name() {
            Some(name) => format!("{name} mm"),
            None => format!("{} mm", self.thread.diameter_mm),
        }
    }

    /// Whether the insert that the pattern makes fits, in words; `None` if it
    /// makes none.
    pub fn words_of_insert(&self) -> Option<String> {
        self.lining.as_ref()?.says_of_made()
    }

    /// The jobs in which a length of thread begins and ends.
    pub fn jobs_of(&self, thread: &PlannedThread) -> (&PlannedJob, &PlannedJob) {
        let (first, last) = thread.jobs;
        (&self.jobs[first], &self.jobs[last])
    }

    /// The widest needle that goes through every bead comfortably, if that is
    /// another than planned.
    pub fn widest_other_needle(&self) -> Option<u8> {
        let widest = self.fullest.widest_comfortable;
        widest.filter(|size| self.needle.size() != Some(*size))
    }

    /// The beads of a colour.
    pub fn beads_of(&self, colour: Colour) -> &materials::ColourAmount {
        &self.beads[usize::from(colour.0)]
    }
}

/// The insert that an open face can take, and the one that the pattern makes.
fn insert(seq: &Sequence, bead: BeadSize) -> Option<Lining> {
    let (layout, inserts) = (seq.layout(), &seq.goal().inserts);
    let project = layout.project();
    let edge_mm = layout.edge_mm(layout.panels().first()?.spec);
    let lining = lining::lining(open_face(project.make.shape())?, edge_mm, bead)?;
    let is_made = inserts.iter().any(|insert| insert.left_out.is_empty());
    let made_rounds = (project.insert.first())
        .filter(|_| is_made)
        .map(|spec| layout.kind_of(*spec).rounds());
    Some(Lining {
        made_rounds,
        ..lining
    })
}

/// The solid, if one of its faces stays open.
fn open_face(make: &Make) -> Option<Solid> {
    let of_pairs = |closings: &[(SpecIndex, Closing)]| {
        let is_open = |(_, closing): &(_, Closing)| *closing == Closing::Open;
        closings.iter().any(is_open).then_some(Solid::Tetrahedron)
    };
    match make {
        Make::Solid { solid, closing, .. } => (*closing == Closing::Open).then_some(*solid),
        Make::FoldedPair { closings, .. } => of_pairs(closings),
        Make::RingOfNets { closings, .. } => of_pairs(closings),
        Make::Ring { closings, .. } => closings
            .contains(&Closing::Open)
            .then_some(Solid::Tetrahedron),
        Make::Single(_) | Make::Jobs(_) => None,
    }
}

#[cfg(test)]
mod tests;
