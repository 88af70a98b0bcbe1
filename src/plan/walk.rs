//! One walk over all steps of a piece: how often each bead is passed, and how
//! many movements there are of each kind.
//!
//! Identical panels are made in the same steps, so only the first of a kind is
//! walked and its figures are used for the others. A ring of thousands of
//! panels takes as long as a few panels.

use crate::beadwork::job::{JobInfo, JobKind};
use crate::beadwork::making::Begin;
use crate::beadwork::thread::Thread;
use crate::beadwork::{Kind, Movement, Sequence, Step};
use std::collections::HashMap;

/// Movements of each kind, in the order of [`Kind::ALL`].
pub type KindCounts = [u32; Kind::ALL.len()];

/// Movements of each kind in the steps after `done`, up to and including
/// `last`.
pub fn kinds(seq: &Sequence, done: Step, last: Step) -> KindCounts {
    let mut kinds = KindCounts::default();
    let ahead = seq.iter_from(Step(done.0 + 1));
    for m in ahead.take_while(|m| m.step <= last) {
        kinds[m.kind as usize] += 1;
    }
    kinds
}

/// What a piece takes, step by step.
#[derive(Clone, Debug)]
pub struct Walk {
    /// For each job, in order.
    pub jobs: Vec<JobWalk>,
    /// How often each bead is passed in the whole piece, bead 1 first.
    pub passes: Vec<u16>,
    /// The threads in each bead, bead 1 first; empty if all thread is alike.
    pub threads: Vec<ThreadsInBead>,
}

/// The threads that lie in a bead when they are not all alike.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ThreadsInBead {
    /// The sum of the squares of their diameters, mm².
    section: f32,
    /// How many there are.
    threads: u16,
}

impl ThreadsInBead {
    /// Adds a thread of this diameter, mm.
    pub fn add(&mut self, diameter_mm: f64) {
        self.section += (diameter_mm * diameter_mm) as f32;
        self.threads = self.threads.saturating_add(1);
    }

    /// A thread such that the same number of them fill the bead equally.
    pub fn mean(self, like: Thread) -> Thread {
        let threads = f64::from(self.threads.max(1));
        Thread {
            diameter_mm: (f64::from(self.section) / threads).sqrt(),
            ..like
        }
    }
}

/// What one job takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct JobWalk {
    /// Its movements, by kind.
    pub kinds: KindCounts,
    /// Beads passed in movements that only take the needle from one place to
    /// another.
    pub retravel: u32,
}

impl Walk {
    /// Walks a whole piece.
    pub fn over(seq: &Sequence) -> Walk {
        Walker::new(seq, true).all()
    }

    /// The same without reusing the first of identical panels: the simple
    /// version, used to check the other.
    pub fn step_by_step(seq: &Sequence) -> Walk {
        Walker::new(seq, false).all()
    }

    /// Movements of a kind over the whole piece.
    pub fn movements(&self, kind: Kind) -> u32 {
        self.jobs.iter().map(|job| job.kinds[kind as usize]).sum()
    }
}

/// The figures of the first panel of a kind.
struct KnownKind {
    steps: u32,
    /// How often its beads are passed while it is made, before any join.
    passes: Vec<u16>,
    job: JobWalk,
}

struct Walker<'a> {
    seq: &'a Sequence,
    repeats: bool,
    /// Lengths of thread taken up, if they are not all alike.
    lengths: usize,
    known: HashMap<(usize, Begin), KnownKind>,
    walk: Walk,
}

impl<'a> Walker<'a> {
    fn new(seq: &'a Sequence, repeats: bool) -> Self {
        let beads = seq.layout().beads() as usize;
        let is_mixed = seq.goal().threads.len() > 1;
        Walker {
            seq,
            repeats: repeats && !is_mixed,
            lengths: 0,
            known: HashMap::new(),
            walk: Walk {
                jobs: Vec::with_capacity(seq.jobs().len()),
                passes: vec![0; beads],
                threads: vec![ThreadsInBead::default(); if is_mixed { beads } else { 0 }],
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

    /// A panel: its making, which is the same for all identical panels, and
    /// what the needle does after it.
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
                self.go(job.steps_before, making);
                let known = KnownKind {
                    steps: making,
                    passes: self.walk.passes[beads_of(job)].to_vec(),
                    job: *self.walk.jobs.last().expect("the job is begun"),
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
        *self.walk.jobs.last_mut().expect("the job is begun") = known.job;
        self.walk.passes[beads_of(job)].copy_from_slice(&known.passes);
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
        if movement.kind == Kind::PassThrough {
            job.retravel += movement.passes.len() as u32;
        }
        if !self.walk.threads.is_empty() {
            self.lengths += usize::from(movement.kind == Kind::StartThread);
            let choice = self.seq.goal().thread_after(self.lengths.saturating_sub(1));
            for bead in &movement.passes {
                self.walk.threads[bead.0 as usize - 1].add(choice.thread.diameter_mm);
            }
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
mod tests;
