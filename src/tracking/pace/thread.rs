//! The current thread: how much is left, how far it reaches, and where to end
//! it.

use super::left::last_alike;
use crate::beadwork::{Kind, Movement, Sequence, Step, ThreadLength};
use std::collections::BTreeMap;

/// Where a thread was started, and its length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadStart {
    /// Steps done when it was started.
    pub after: Step,
    /// How long it was cut, mm.
    pub cut_mm: f64,
    /// Whether the maker started it without a plan, or gave its length.
    pub own: bool,
}

impl ThreadStart {
    /// The loose thread at the needle after a step, mm; negative if it was too
    /// short.
    pub fn loose_mm(&self, seq: &Sequence, done: Step) -> f64 {
        seq.loose_mm(self.cut_mm, self.after, done)
    }
}

/// How long the maker cut a planned length, mm, if that was told: see [`thread_start`].
/// A thread that was taken inside the length is none of the plan's.
pub fn own_cut_mm(seq: &Sequence, own: &BTreeMap<u32, u32>, length: ThreadLength) -> Option<f64> {
    let start = thread_start(seq, own, length.sewn)?;
    (start.own && start.after.0 + 1 == length.first.0).then_some(start.cut_mm)
}

/// The start of the thread in use after a step: planned, or started by the
/// maker. `own` are the maker's threads: the length in mm by steps done. `None`
/// if no thread is in use.
pub fn thread_start(seq: &Sequence, own: &BTreeMap<u32, u32>, done: Step) -> Option<ThreadStart> {
    let own = own.range(..=done.0).next_back();
    let own = own.map(|(&after, &mm)| ThreadStart {
        after: Step(after),
        cut_mm: f64::from(mm),
        own: true,
    });
    let planned = seq.thread_of(done).map(|length| ThreadStart {
        after: Step(length.first.0 - 1),
        cut_mm: seq.cut_mm(length),
        own: false,
    });
    let is_end = |step| {
        seq.step(Step(step))
            .is_some_and(|m| m.kind == Kind::EndThread)
    };
    let start = match (planned, own) {
        // The maker ended the thread before, and said how long this one is.
        (Some(planned), Some(own))
            if planned.after > own.after && (own.after.0 + 1..=planned.after.0).all(is_end) =>
        {
            let after = planned.after;
            ThreadStart { after, ..own }
        }
        (Some(planned), Some(own)) if planned.after > own.after => planned,
        (planned, own) => own.or(planned)?,
    };
    let ended = seq.thread_ended(done).is_some_and(|end| start.after < end);
    (!ended).then_some(start)
}

/// Where a thread started now counts from: a planned start that was just made
/// belongs to it.
pub fn new_thread_start(seq: &Sequence, done: Step) -> Step {
    match seq.step(done).map(|m| m.kind) {
        Some(Kind::StartThread) => Step(done.0 - 1),
        _ => done,
    }
}

/// How far a thread reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ThreadReach {
    /// To this step.
    Step(Step),
    /// To where the plan ends it; this is the last step before.
    PlannedEnd(Step),
    /// To the end of the piece.
    Piece,
}

/// The current thread.
#[derive(Clone, Debug, PartialEq)]
pub struct CurrentThread {
    /// Where it was started, and its length.
    pub start: ThreadStart,
    /// The loose thread at the needle, mm: what is left to stitch with, and
    /// what is needed to weave in.
    pub loose_mm: f64,
    /// What is needed to weave it in, mm: a tail, or what the plan leaves at
    /// the end of this length.
    pub weave_in_mm: f64,
    /// What is left to stitch with, mm.
    pub left_mm: f64,
    /// How far it reaches.
    pub reach: ThreadReach,
    /// What the rest of the current side needs, mm.
    pub side_mm: f64,
    /// What the side after it needs, mm.
    pub next_side_mm: f64,
    /// Whether it is enough.
    pub verdict: ThreadVerdict,
    /// Steps after which it is good to end this thread and start another: in
    /// the middle of a side, four beads or more from a corner, or as far from
    /// it as the side allows. Nearest first.
    pub good_ends: Vec<Step>,
}

/// Whether the current thread is enough.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ThreadVerdict {
    /// It is enough for this side and the next.
    Enough,
    /// It is enough for this side, and not for the one after.
    LastSide,
    /// It is not enough for this side.
    TooShort,
}

/// The most good ends listed.
const MAX_ENDS: usize = 3;

/// The current thread after a step. `own` are threads that the maker started or
/// whose length the maker gave: the length in mm by steps done. `None` if no
/// thread is in use.
///
/// The planned thread is always long enough for the plan, and so is any other
/// that is not shorter.
pub fn current_thread(
    seq: &Sequence,
    done: Step,
    own: &BTreeMap<u32, u32>,
) -> Option<CurrentThread> {
    let start = thread_start(seq, own, done)?;
    let planned = seq.thread_of(Step(done.0 + 1))?;
    let loose = start.loose_mm(seq, done).max(0.0);
    let weave_in = seq.end_tail_mm(planned).min(loose);
    let left = loose - weave_in;
    let this = side_end(seq, done);
    let next = side_end(seq, this);
    let mm = |from: Step, to: Step| {
        let to = to.min(planned.sewn).max(from);
        seq.drawn_mm(from, to)
    };
    let (side_mm, next_side_mm) = (mm(done, this), mm(this, next));
    // Lengths are computed, not measured: half a bead does not matter.
    let slack = seq.layout().pass_mm() / 2.0;
    let verdict = match left + slack {
        left if left < side_mm => ThreadVerdict::TooShort,
        left if left < side_mm + next_side_mm => ThreadVerdict::LastSide,
        _ => ThreadVerdict::Enough,
    };
    Some(CurrentThread {
        start,
        loose_mm: loose,
        weave_in_mm: weave_in,
        left_mm: left,
        reach: reach(seq, done, planned, left + slack),
        side_mm,
        next_side_mm,
        verdict,
        good_ends: good_ends(seq, done, next, left),
    })
}

impl CurrentThread {
    /// A warning, or `None` if there is enough; `length` writes a length in mm.
    pub fn say(&self, length: impl Fn(f64) -> String) -> Option<String> {
        let at = match self.good_ends.first() {
            Some(step) => format!(", best after step {step}, mid-side"),
            None => ", mid-side and not at a corner or a hinge".into(),
        };
        let left = format!(
            "{} left, {} of it to weave in",
            length(self.loose_mm),
            length(self.weave_in_mm)
        );
        let side = length(self.side_mm);
        match self.verdict {
            ThreadVerdict::Enough => None,
            ThreadVerdict::LastSide => Some(format!(
                "Thread: {left}. This side takes {side}, the next {} more. End it and begin a new \
                 one{at}",
                length(self.next_side_mm)
            )),
            ThreadVerdict::TooShort => Some(format!(
                "Thread: {left}. This side takes {side}. End it and begin a new one now{at}"
            )),
        }
    }

    /// The warning in a few words, for a narrow screen.
    pub fn say_shortly(&self, length: impl Fn(f64) -> String) -> Option<String> {
        let left = length(self.loose_mm);
        let at = match self.good_ends.first() {
            Some(step) => format!("after step {step}"),
            None => "mid-side".into(),
        };
        match self.verdict {
            ThreadVerdict::Enough => None,
            ThreadVerdict::LastSide => Some(format!("Thread: {left} left. New one {at}")),
            ThreadVerdict::TooShort => {
                Some(format!("Thread: {left} left, too short. New one {at}"))
            }
        }
    }
}

/// How far this much thread reaches, found by bisection.
fn reach(seq: &Sequence, done: Step, planned: ThreadLength, left_mm: f64) -> ThreadReach {
    let is_enough_to = |to: Step| seq.drawn_mm(done, to) <= left_mm;
    let end = planned.sewn.max(done);
    if is_enough_to(end) {
        return match planned.last.0 < seq.steps() {
            true => ThreadReach::PlannedEnd(end),
            false => ThreadReach::Piece,
        };
    }
    let (mut low, mut high) = (done.0, end.0);
    while high - low > 1 {
        let mid = low + (high - low) / 2;
        if is_enough_to(Step(mid)) {
            low = mid;
        } else {
            high = mid;
        }
    }
    ThreadReach::Step(Step(low))
}

/// The last step of the side that the step after `done` works on.
fn side_end(seq: &Sequence, done: Step) -> Step {
    last_alike(seq, done, |m| (m.job, m.round, m.side))
}

/// Steps in the middle of a side, up to `last`, that the thread reaches.
fn good_ends(seq: &Sequence, done: Step, last: Step, left_mm: f64) -> Vec<Step> {
    let layout = seq.layout();
    let reached = |m: &Movement| seq.drawn_mm(done, m.step) <= left_mm;
    let mid_side = |m: &Movement| {
        let Some(&bead) = m.strings.first() else {
            return false;
        };
        let seat = layout.seat(bead);
        let from_corner = (seat.place + 1).min(seat.of - seat.place);
        // A bead in the middle of a side has older beads around it to weave
        // into.
        m.kind == Kind::Stitch && seat.of >= 3 && from_corner >= (seat.of / 2).clamp(2, 4)
    };
    seq.iter_from(Step(done.0 + 1))
        .take_while(|m| m.step <= last && reached(m))
        .filter(mid_side)
        .map(|m| m.step)
        .take(MAX_ENDS)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    fn no_own() -> BTreeMap<u32, u32> {
        BTreeMap::new()
    }

    /// A first thread of this length.
    fn cut(mm: f64) -> BTreeMap<u32, u32> {
        BTreeMap::from([(0, mm.round() as u32)])
    }

    fn seq() -> Sequence {
        Sequence::new(testing::single(testing::panel(3, 10)))
    }

    #[test]
    fn a_long_thread_gives_no_warning() {
        let seq = seq();
        let thread = current_thread(&seq, Step(40), &cut(90_000.0)).unwrap();
        assert_eq!(
            (thread.verdict, thread.say(|mm| mm.to_string())),
            (ThreadVerdict::Enough, None)
        );
    }

    /// With a shorter and shorter thread, first comes a warning one side
    /// before, then that it is too short.
    #[test]
    fn the_warning_comes_one_side_before_it_is_too_short() {
        let seq = seq();
        let done = Step(90);
        let needs = current_thread(&seq, done, &cut(90_000.0)).unwrap();
        let used = seq.drawn_mm(Step(0), done) + 2.0 * 150.0;
        let word = |left: f64| {
            current_thread(&seq, done, &cut(used + left))
                .unwrap()
                .verdict
        };
        let bead = seq.layout().pass_mm();
        assert_eq!(
            word(needs.side_mm + needs.next_side_mm + bead),
            ThreadVerdict::Enough
        );
        assert_eq!(
            word(needs.side_mm + needs.next_side_mm - bead),
            ThreadVerdict::LastSide
        );
        assert_eq!(word(needs.side_mm + bead), ThreadVerdict::LastSide);
        assert_eq!(word(needs.side_mm - bead), ThreadVerdict::TooShort);
    }

    #[test]
    fn good_ends_lie_mid_side() {
        let seq = seq();
        let thread = current_thread(&seq, Step(100), &cut(90_000.0)).unwrap();
        assert!(!thread.good_ends.is_empty());
        for step in thread.good_ends {
            let m = seq.step(step).unwrap();
            let seat = seq.layout().seat(m.strings[0]);
            assert!(seat.place > 0 && seat.place + 1 < seat.of);
        }
    }

    fn pieces() -> [Sequence; 4] {
        use crate::beadwork::project::Closing;
        // Threads of 80 cm end in the middle of everything.
        let mut short = testing::folded_pair(12, 2);
        short.thread.cut_mm = 800.0;
        let projects = [
            testing::ring(8, 5, Closing::SetIn),
            testing::single(testing::panel(3, 30)),
            testing::single(testing::inward(3, 150, 140)),
            short,
        ];
        projects.map(Sequence::new)
    }

    #[test]
    fn planned_threads_give_no_warning() {
        for seq in pieces() {
            let mut lengths = 0;
            let mut last = None;
            for done in (0..=seq.steps()).map(Step) {
                let thread = current_thread(&seq, done, &no_own());
                let loose = thread.as_ref().map(|thread| thread.loose_mm);
                lengths += usize::from(loose > last);
                last = loose;
                let Some(thread) = thread else { continue };
                assert_eq!(thread.verdict, ThreadVerdict::Enough, "{done} {thread:?}");
                assert!(
                    !matches!(thread.reach, ThreadReach::Step(_)),
                    "{done} {thread:?}"
                );
            }
            assert_eq!(last, None);
            assert_eq!(lengths, seq.thread_starts().len());
        }
    }

    /// The thread used by the plan and what is left at the end add up to the
    /// length cut.
    #[test]
    fn thread_used_and_thread_left_add_up_to_the_length_cut() {
        for seq in pieces() {
            for length in seq.thread_lengths() {
                let before = Step(length.first.0 - 1);
                let thread = current_thread(&seq, length.sewn, &no_own()).unwrap();
                let takes = seq.thread_mm(before, length.last);
                let all = takes - thread.weave_in_mm + thread.loose_mm;
                assert!((all - seq.cut_mm(length)).abs() < 1e-6, "{length:?}");
            }
        }
    }

    /// The warning has the length that the screen shows, and there is none if
    /// nothing is left to stitch.
    #[test]
    fn the_warning_has_the_length_of_the_loose_thread() {
        let seq = seq();
        let own = BTreeMap::from([(90, 320)]);
        let thread = current_thread(&seq, Step(90), &own).unwrap();
        let cm = |mm: f64| format!("{:.0} cm", mm / 10.0);
        let said = thread.say(cm).unwrap();
        assert!(
            said.starts_with("Thread: 17 cm left, 15 cm of it to weave in."),
            "{said}"
        );
        assert!(thread.say_shortly(cm).unwrap().starts_with("Thread: 17 cm"));
        let end = seq.thread_of(Step(1)).unwrap();
        let own = BTreeMap::from([(end.sewn.0, 340)]);
        for done in end.sewn.0..end.last.0 {
            let thread = current_thread(&seq, Step(done), &own).unwrap();
            assert_eq!(thread.verdict, ThreadVerdict::Enough, "{thread:?}");
        }
    }

    #[test]
    fn a_thread_of_the_maker_counts_from_where_it_was_started() {
        let seq = seq();
        let own = BTreeMap::from([(60, 800)]);
        let before = current_thread(&seq, Step(59), &own).unwrap();
        assert_eq!((before.start.after, before.start.own), (Step(0), false));
        let fresh = current_thread(&seq, Step(60), &own).unwrap();
        assert_eq!((fresh.start.after, fresh.start.own), (Step(60), true));
        assert_eq!((fresh.loose_mm, fresh.left_mm), (650.0, 500.0));
        let on = current_thread(&seq, Step(70), &own).unwrap();
        let used = seq.drawn_mm(Step(60), Step(70));
        assert!((on.left_mm - (500.0 - used)).abs() < 1e-9);
    }

    #[test]
    fn the_next_planned_thread_replaces_a_thread_of_the_maker() {
        let seq = Sequence::new(testing::folded_pair(12, 2));
        let second = seq.thread_starts().nth(1).unwrap();
        let own = BTreeMap::from([(3, 5000)]);
        let at = |n: u32| thread_start(&seq, &own, Step(n)).unwrap();
        assert_eq!(at(second.0).after, Step(second.0 - 1));
        assert!(!at(second.0).own);
        // With its length given, it has that length.
        assert_eq!(new_thread_start(&seq, second), Step(second.0 - 1));
        let own = BTreeMap::from([(second.0 - 1, 700)]);
        assert_eq!(thread_start(&seq, &own, second).unwrap().cut_mm, 700.0);
    }

    /// The reach is compared with adding up step by step.
    #[test]
    fn it_reaches_as_far_as_step_by_step() {
        let seq = seq();
        let tails = 2.0 * seq.layout().project().thread.tail_mm;
        for mm in [400.0, 600.0, 800.0] {
            let thread =
                current_thread(&seq, Step(20), &BTreeMap::from([(20, mm as u32)])).unwrap();
            let mut left = mm - tails + seq.layout().pass_mm() / 2.0;
            let reached = seq.iter_from(Step(21)).take_while(|m| {
                left -= m.passes.len() as f64 * seq.layout().pass_mm();
                left >= 0.0
            });
            let last = reached.last().map_or(Step(20), |m| m.step);
            assert_eq!(thread.reach, ThreadReach::Step(last), "{mm}");
        }
        let thread = current_thread(&seq, Step(20), &cut(90_000.0)).unwrap();
        assert_eq!(thread.reach, ThreadReach::Piece);
    }
}
