//! Thread and needle; how much thread steps take, and what is left of a length.
//! Every figure of thread in the program comes from here, in millimetres.
//!
//! ```text
//!   tail        drawn into the work               loose at the needle
//!  ------|=================================|-----------------------------
//!        first step                     done   to stitch with | to weave in
//! ```
//!
//! Thread drawn in is counted by beads gone through: each takes its hole and
//! the hop to the next hole ([`pass_mm`]). A length of thread has a tail at
//! either end. The first hangs at its start; the last is what it is woven in
//! with, so that the beads of the weaving come out of that tail.
//!
//! Some runs of steps cannot be parted, and thread is renewed only before or
//! after them. Where the last run of a length goes on a little beyond what lies
//! between the tails, the last tail is that much shorter; where not even that
//! is enough, the length is cut longer ([`Sequence::cut_mm`]).

use super::{Kind, Layout, Sequence, Step, Work};

/// The thread of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    /// Its diameter in mm.
    pub diameter_mm: f64,
    /// How long a piece the maker cuts at a time, mm.
    pub cut_mm: f64,
    /// What is left hanging at each end to hold and to weave in, mm.
    pub tail_mm: f64,
}

/// Braided and nylon threads by diameter in mm (from memory).
pub const THREADS: [(&str, f64); 5] = [
    ("braided 0.12", 0.12),
    ("braided 0.15", 0.15),
    ("braided 0.18", 0.18),
    ("nylon 0.20", 0.20),
    ("nylon 0.30", 0.30),
];

/// The needle of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needle {
    /// Its diameter in mm.
    pub diameter_mm: f64,
}

/// Thread and needle from one length of thread on: what the maker decides at
/// the needle holds from the next length that she takes up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadChoice {
    /// Lengths of thread taken up before.
    pub lengths_before: usize,
    /// The thread.
    pub thread: Thread,
    /// The needle.
    pub needle: Needle,
}

impl Thread {
    /// What lies between the two tails of a length, mm.
    pub fn usable_mm(&self) -> f64 {
        self.cut_mm - 2.0 * self.tail_mm
    }

    /// Its name among the usual threads, if it has one.
    pub fn name(self) -> Option<&'static str> {
        let same = |(_, mm): &&(&str, f64)| (mm - self.diameter_mm).abs() < 1e-9;
        THREADS.iter().find(same).map(|(name, _)| *name)
    }
}

impl Needle {
    /// Its size number, if it is a usual one.
    pub fn size(self) -> Option<u8> {
        let same = |(_, mm): &&(u8, f64)| (mm - self.diameter_mm).abs() < 1e-9;
        NEEDLES.iter().find(same).map(|(size, _)| *size)
    }
}

/// Beading needles by size number, mm. Size 10 is published at 0.46 mm; the
/// rest are from memory.
pub const NEEDLES: [(u8, f64); 5] = [(10, 0.46), (11, 0.41), (12, 0.36), (13, 0.33), (15, 0.30)];

/// Millimetres of thread for each bead gone through: the hole, and the hop to
/// the next hole. Between neighbouring rounds that is half a diameter across;
/// corners and weaving take more, and over whole pieces the way measured from
/// hole to hole comes to about 0.65 of a diameter at the most. Here too much is a
/// tail to cut off, too little a thread that ends early.
pub fn pass_mm(length_mm: f64, diameter_mm: f64) -> f64 {
    length_mm + diameter_mm * 0.65
}

impl Layout {
    /// Millimetres of thread for each bead gone through, by the longest and the
    /// widest bead of the piece: see [`pass_mm`].
    pub fn pass_mm(&self) -> f64 {
        pass_mm(self.bead_length_mm(), self.bead_diameter_mm())
    }
}

impl Work {
    /// The current thread and needle; without a thread in the work, the next
    /// ones.
    pub(super) fn thread_choice(&self) -> ThreadChoice {
        let taken = self.threads().len() - usize::from(self.has_thread());
        self.goal().thread_after(taken)
    }
}

/// One length of thread, as the piece plans it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ThreadLength {
    /// The step that takes it up.
    pub first: Step,
    /// The last step before it is woven in.
    pub sewn: Step,
    /// The last step of all, which cuts it.
    pub last: Step,
}

impl Sequence {
    /// The lengths of thread, in order.
    pub fn thread_lengths(&self) -> impl ExactSizeIterator<Item = ThreadLength> + '_ {
        (0..self.steps_before_threads().len()).map(|nth| self.thread_length(nth))
    }

    /// The length of thread that a step belongs to; `None` before the first.
    pub fn thread_of(&self, step: Step) -> Option<ThreadLength> {
        let begun = self.steps_before_threads();
        let begun = begun.partition_point(|&before| before < step.0);
        Some(self.thread_length(begun.checked_sub(1)?))
    }

    fn thread_length(&self, nth: usize) -> ThreadLength {
        let before = self.steps_before_threads();
        let last = before.get(nth + 1).copied().unwrap_or(self.steps());
        let last = self.thread_ended(Step(last)).map_or(last, |end| end.0);
        let weaves = |n: &u32| {
            let step = self.step(Step(*n));
            step.is_some_and(|m| m.kind == Kind::EndThread)
        };
        let woven = (before[nth] + 1..=last).rev().take_while(weaves).count();
        ThreadLength {
            first: Step(before[nth] + 1),
            sewn: Step(last - woven as u32),
            last: Step(last),
        }
    }

    /// The step that cut the thread, if after `done` steps none is in the work; own
    /// steps may have followed.
    pub fn thread_ended(&self, done: Step) -> Option<Step> {
        let steps = (1..=done.0).rev().filter_map(|step| self.step(Step(step)));
        let mut sewn = steps.skip_while(|m| m.kind == Kind::Own);
        let last = sewn.next().filter(|m| m.kind == Kind::EndThread);
        last.map(|end| end.step)
    }

    /// Thread drawn into the work by the steps after `after`, up to and with
    /// `to`, mm. No tails.
    pub fn drawn_mm(&self, after: Step, to: Step) -> f64 {
        let passes = self.passes_after(to) - self.passes_after(after);
        // The thread that went through a bead stays when it is broken out.
        let broken = self.broken_out().iter();
        let broken = broken.filter(|bead| after < bead.strung && bead.strung <= to);
        (passes + broken.count() as u64) as f64 * self.layout().pass_mm()
    }

    /// Thread and needle of a length.
    pub fn thread_choice(&self, length: ThreadLength) -> ThreadChoice {
        let before = self.steps_before_threads();
        let before = before.partition_point(|&before| before + 1 < length.first.0);
        self.goal().thread_after(before)
    }

    /// How long a length is to be cut, mm, tails included: as the maker cuts
    /// thread, or longer where the work cannot be parted (a string not yet
    /// closed to a ring).
    pub fn cut_mm(&self, length: ThreadLength) -> f64 {
        let thread = self.thread_choice(length).thread;
        let drawn = self.drawn_mm(Step(length.first.0 - 1), length.last);
        thread.cut_mm.max(thread.tail_mm + drawn)
    }

    /// What a length takes in all, mm: drawn in and left as tails.
    pub fn takes_mm(&self, length: ThreadLength) -> f64 {
        self.thread_mm(Step(length.first.0 - 1), length.last)
    }

    /// How long a thread that takes so much needs to be cut, mm: in whole steps
    /// of 5 cm.
    pub fn fitted_mm(takes_mm: f64) -> f64 {
        (takes_mm / 50.0).ceil() * 50.0
    }

    /// The tail that is left at the end of a length, to weave in, mm.
    pub fn end_tail_mm(&self, length: ThreadLength) -> f64 {
        let tail = self.layout().project().thread.tail_mm;
        let loose = self.loose_mm(self.cut_mm(length), Step(length.first.0 - 1), length.sewn);
        tail.min(loose)
    }

    /// What hangs loose at the needle once `done` is done, mm, of a thread cut
    /// to `cut_mm` and taken up after step `after`: what was cut, less the tail
    /// at its start, less what is drawn in. Below 0 it would not have done.
    pub fn loose_mm(&self, cut_mm: f64, after: Step, done: Step) -> f64 {
        let tail = self.layout().project().thread.tail_mm;
        cut_mm - tail - self.drawn_mm(after, done)
    }

    /// What the steps after `after`, up to and with `to`, take of all the
    /// thread, mm: drawn in and left as tails.
    pub fn thread_mm(&self, after: Step, to: Step) -> f64 {
        let tail = self.layout().project().thread.tail_mm;
        let before = self.steps_before_threads();
        let begun_before = before.partition_point(|&before| before <= after.0);
        let begun = before.partition_point(|&before| before < to.0);
        let mut mm = 0.0;
        for length in (begun_before.saturating_sub(1)..begun).map(|nth| self.thread_length(nth)) {
            let (from, sewn) = (after.0.max(length.first.0 - 1), to.0.min(length.sewn.0));
            if from == length.first.0 - 1 {
                mm += tail;
            }
            mm += self.drawn_mm(Step(from), Step(sewn.max(from)));
            if from <= length.sewn.0 && length.sewn < to {
                mm += self.end_tail_mm(length);
            }
        }
        mm
    }
}

#[cfg(test)]
mod measured;

#[cfg(test)]
mod tests {
    use super::measured::measured_mm;
    use super::*;
    use crate::beadwork::project::{Closing, Project, Solid};
    use crate::beadwork::testing;

    fn pieces() -> Vec<Project> {
        vec![
            testing::single(testing::panel(3, 7)),
            testing::single(testing::panel(6, 30)),
            testing::single(testing::inward(3, 150, 140)),
            testing::solid(Solid::Tetrahedron, 8, Closing::Fill),
            testing::solid(Solid::Cube, 9, Closing::Open),
            testing::folded_pair(12, 2),
            testing::ring(8, 5, Closing::SetIn),
        ]
    }

    /// The formula against the way measured from hole to hole in the finished
    /// piece: over a whole piece never a hundredth less, and not by a fifth more.
    #[test]
    fn the_formula_comes_near_the_way_that_is_measured() {
        for project in pieces() {
            let seq = Sequence::new(project);
            let formula = seq.drawn_mm(Step(0), Step(seq.steps()));
            let part = formula / measured_mm(&seq);
            assert!((0.99..1.2).contains(&part), "{part}");
        }
    }

    /// All the thread is the sum of its lengths, however the steps are parted;
    /// and no length takes more than it is cut to.
    #[test]
    fn lengths_and_stretches_add_up_to_all_the_thread() {
        for project in pieces() {
            let seq = Sequence::new(project);
            let all = seq.thread_mm(Step(0), Step(seq.steps()));
            let mut sum = 0.0;
            for length in seq.thread_lengths() {
                let takes = seq.thread_mm(Step(length.first.0 - 1), length.last);
                assert!(takes <= seq.cut_mm(length) + 1e-9, "{length:?}");
                assert!(length.first <= length.sewn && length.sewn < length.last);
                sum += takes;
            }
            assert!((sum - all).abs() < 1e-6);
            for done in (0..=seq.steps()).step_by(7).map(Step) {
                let parts = seq.thread_mm(Step(0), done) + seq.thread_mm(done, Step(seq.steps()));
                assert!((parts - all).abs() < 1e-6, "step {done}");
            }
        }
    }

    /// By hand: a triangle of one round is a ring of three beads, gone through
    /// again at the first; pass by pass 1.3 + 0.65·1.6 = 2.34 mm.
    #[test]
    fn a_ring_of_three_takes_four_passes_and_two_tails() {
        let seq = Sequence::new(testing::single(testing::panel(3, 1)));
        let length = seq.thread_of(Step(1)).unwrap();
        let passes = seq.passes_after(length.sewn) as f64;
        assert!(passes >= 4.0);
        let all = seq.thread_mm(Step(0), Step(seq.steps()));
        assert!((all - (passes * 2.34 + 300.0)).abs() < 1e-9);
        assert_eq!(seq.thread_of(Step(0)), None);
    }

    #[test]
    fn a_string_longer_than_a_thread_asks_for_a_longer_thread() {
        let seq = Sequence::new(testing::single(testing::inward(3, 150, 140)));
        assert!(seq.cut_mm(seq.thread_of(Step(1)).unwrap()) > 1500.0);
    }
}
