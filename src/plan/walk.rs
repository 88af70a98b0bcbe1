//! One walk over all steps of a piece: thread job by job and length by
//! length, how often each bead is passed, how many movements of each kind.
//!
//! Like panels are made step for step alike, so the first of a kind is
//! walked and the others are taken from it: a ring of thousands of panels
//! takes the time of a few.

use super::needle_path::NeedlePath;
use crate::beadwork::job::{JobInfo, JobKind};
use crate::beadwork::making::Begin;
use crate::beadwork::{Bead, Kind, Movement, Sequence, Step};
use std::collections::HashMap;

/// Movements of each kind, in the order of [`Kind::ALL`].
pub type KindCounts = [u32; Kind::ALL.len()];

/// What a piece takes, step by step.
#[derive(Clone, Debug)]
pub struct Walk {
    /// For each job, in order.
    pub jobs: Vec<JobWalk>,
    /// Each length of thread, in order.
    pub threads: Vec<ThreadLength>,
    /// How often each bead is passed over the whole making, bead 1 first.
    pub passes: Vec<u16>,
}

/// What one job takes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct JobWalk {
    /// Thread through holes and over hops, mm.
    pub path_mm: f64,
    /// Ends of thread that hang in this job: starts and ends.
    pub tails: u32,
    /// Its movements, by kind.
    pub kinds: KindCounts,
    /// Beads passed in movements that only get the needle from one place to
    /// another.
    pub retravel: u32,
}

/// One length of thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadLength {
    /// The step that takes it up.
    pub first: Step,
    /// The last step that is sewn with it.
    pub last: Step,
    /// The bead it is started through, none if it begins with a ring or a
    /// string.
    pub begins: Option<Bead>,
    /// The bead that it leaves at its end.
    pub ends: Option<Bead>,
    /// Thread through holes and over hops, mm; the tails not counted.
    pub path_mm: f64,
}

impl Walk {
    /// Walks a piece.
    pub fn over(seq: &Sequence) -> Walk {
        Walker::new(seq, true).all()
    }

    /// The same without taking like panels from the first of them: the plain
    /// version, to judge the other by.
    pub fn step_by_step(seq: &Sequence) -> Walk {
        Walker::new(seq, false).all()
    }

    /// Movements of a kind over the whole piece.
    pub fn movements(&self, kind: Kind) -> u32 {
        self.jobs.iter().map(|job| job.kinds[kind as usize]).sum()
    }

    /// Thread through holes and over hops of the whole piece, mm.
    pub fn path_mm(&self) -> f64 {
        self.jobs.iter().map(|job| job.path_mm).sum()
    }
}

/// How a kind of panel was walked the first time.
struct Known {
    steps: u32,
    from: Step,
    first_bead: u32,
    /// How often its beads are passed while it is made, before any join.
    passes: Vec<u16>,
    job: JobWalk,
    threads: Vec<ThreadLength>,
    leaves: Option<(Bead, bool)>,
}

struct Walker<'a> {
    seq: &'a Sequence,
    repeats: bool,
    known: HashMap<(usize, Begin), Known>,
    needle: NeedlePath,
    /// Whether the thread in hand is being ended.
    ending: bool,
    walk: Walk,
}

impl<'a> Walker<'a> {
    fn new(seq: &'a Sequence, repeats: bool) -> Self {
        Walker {
            seq,
            repeats,
            known: HashMap::new(),
            needle: NeedlePath::default(),
            ending: false,
            walk: Walk {
                jobs: Vec::with_capacity(seq.jobs().len()),
                threads: Vec::with_capacity(seq.thread_starts().len()),
                passes: vec![0; seq.layout().beads() as usize],
            },
        }
    }

    fn all(mut self) -> Walk {
        for job in self.seq.jobs() {
            self.walk.jobs.push(JobWalk::default());
            match job.kind {
                JobKind::Panel(_) if self.repeats => self.panel(job),
                _ => self.go(job.steps_before, job.steps),
            }
        }
        self.walk
    }

    /// A panel: its making, which is that of all like panels, and what the
    /// needle does after it.
    fn panel(&mut self, job: &JobInfo) {
        let layout = self.seq.layout();
        let panel = job.panel();
        let key = (layout.panel(panel).spec, layout.making(panel).begin);
        let making = job.steps - self.steps_after_making(job);
        match self.known.get(&key) {
            Some(known) if known.steps == making && known.passes.len() == job.beads as usize => {
                self.repeat(key, job);
            }
            Some(_) => self.go(job.steps_before, making),
            None => {
                let threads = self.walk.threads.len();
                self.go(job.steps_before, making);
                let known = Known {
                    steps: making,
                    from: Step(job.steps_before),
                    first_bead: job.beads_before,
                    passes: self.walk.passes[beads_of(job)].to_vec(),
                    job: *self.walk.jobs.last().expect("the job is begun"),
                    threads: self.walk.threads[threads..].to_vec(),
                    leaves: self.needle.leaves(),
                };
                self.known.insert(key, known);
            }
        }
        self.go(job.steps_before + making, job.steps - making);
    }

    /// Steps at the end of a panel's job that end its thread.
    fn steps_after_making(&self, job: &JobInfo) -> u32 {
        let ends = |i: &u32| {
            let step = Step(job.steps_before + job.steps - i);
            self.seq.step(step).map(|m| m.kind) == Some(Kind::EndThread)
        };
        (0..job.steps).take_while(ends).count() as u32
    }

    fn repeat(&mut self, key: (usize, Begin), job: &JobInfo) {
        let known = &self.known[&key];
        let (steps, beads) = (
            job.steps_before - known.from.0,
            job.beads_before - known.first_bead,
        );
        let bead = |b: Bead| Bead(b.0 + beads);
        *self.walk.jobs.last_mut().expect("the job is begun") = known.job;
        for thread in &known.threads {
            self.walk.threads.push(ThreadLength {
                first: Step(thread.first.0 + steps),
                last: Step(thread.last.0 + steps),
                begins: thread.begins.map(bead),
                ends: thread.ends.map(bead),
                path_mm: thread.path_mm,
            });
        }
        self.walk.passes[beads_of(job)].copy_from_slice(&known.passes);
        if let Some((b, front)) = known.leaves {
            self.needle = NeedlePath::leaving(self.seq.layout(), bead(b), front);
        }
        self.ending = false;
    }

    fn go(&mut self, before: u32, steps: u32) {
        let seq = self.seq;
        for movement in seq.iter_from(Step(before + 1)).take(steps as usize) {
            self.step(&movement);
        }
    }

    fn step(&mut self, movement: &Movement) {
        let job = self.walk.jobs.last_mut().expect("the job is begun");
        job.kinds[movement.kind as usize] += 1;
        match movement.kind {
            Kind::StartThread => {
                job.tails += 1;
                self.ending = false;
                self.needle = NeedlePath::default();
                self.walk.threads.push(ThreadLength {
                    first: movement.step,
                    last: movement.step,
                    begins: movement.passes.first().copied(),
                    ends: None,
                    path_mm: 0.0,
                });
            }
            Kind::EndThread if !self.ending => {
                job.tails += 1;
                self.ending = true;
            }
            Kind::PassThrough => job.retravel += movement.passes.len() as u32,
            _ => {}
        }
        let mm = self.needle.go(self.seq.layout(), &movement.passes);
        job.path_mm += mm;
        if let Some(thread) = self.walk.threads.last_mut() {
            thread.path_mm += mm;
            thread.last = movement.step;
            thread.ends = movement.passes.last().copied().or(thread.ends);
        }
        for bead in &movement.passes {
            let passes = &mut self.walk.passes[bead.0 as usize - 1];
            *passes = passes.saturating_add(1);
        }
    }
}

/// The beads that a job strings, bead 1 first.
fn beads_of(job: &JobInfo) -> std::ops::Range<usize> {
    let before = job.beads_before as usize;
    before..before + job.beads as usize
}

#[cfg(test)]
#[path = "walk_tests.rs"]
mod tests;
