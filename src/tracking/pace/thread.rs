//! The current thread: how much is left, how far it reaches, and where to end it
//! in good time.

use crate::beadwork::{Kind, Movement, Sequence, Step, ThreadLength};
use std::collections::BTreeMap;

/// A thread that was taken up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taken {
    /// Steps done when it was taken up.
    pub after: Step,
    /// How long it was cut, mm.
    pub cut_mm: f64,
    /// Whether the maker took it up, or told its length.
    pub own: bool,
}

impl Taken {
    /// What hangs loose at the needle once a step is done, mm. Below 0 it would
    /// have been too short.
    pub fn loose_mm(&self, seq: &Sequence, done: Step) -> f64 {
        seq.loose_mm(self.cut_mm, self.after, done)
    }
}

/// The thread in the work once a step is done: the last one taken up, by the
/// piece's plan or by the maker. `own` are those of the maker: steps done
/// then, and the length in mm. `None` if no thread is in the work.
pub fn taken(seq: &Sequence, own: &BTreeMap<u32, u32>, done: Step) -> Option<Taken> {
    let own = own.range(..=done.0).next_back();
    let own = own.map(|(&after, &mm)| Taken {
        after: Step(after),
        cut_mm: f64::from(mm),
        own: true,
    });
    let planned = seq.thread_of(done).map(|length| Taken {
        after: Step(length.first.0 - 1),
        cut_mm: seq.cut_mm(length),
        own: false,
    });
    let taken = match (planned, own) {
        (Some(planned), Some(own)) if planned.after > own.after => planned,
        (planned, own) => own.or(planned)?,
    };
    let ended = seq.step(done).is_some_and(|m| m.kind == Kind::EndThread);
    (!ended || taken.after == done).then_some(taken)
}

/// Where a thread taken up now counts from: a planned start that was just made
/// belongs to it.
pub fn taken_up_at(seq: &Sequence, done: Step) -> Step {
    match seq.step(done).map(|m| m.kind) {
        Some(Kind::StartThread) => Step(done.0 - 1),
        _ => done,
    }
}

/// How far a thread reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ThreadReach {
    /// The last step that it is enough for.
    Step(Step),
    /// To where the pattern ends it, and this is the last step before.
    PlannedEnd(Step),
    /// To the last step of the piece.
    Piece,
}

/// The current thread.
#[derive(Clone, Debug, PartialEq)]
pub struct InHand {
    /// Which thread that is.
    pub taken: Taken,
    /// What hangs loose at the needle, mm: what is left to stitch with, and
    /// what is kept back to weave in.
    pub loose_mm: f64,
    /// What is kept back to weave it in, mm: a tail, or as much as the piece
    /// plans to leave where this length ends.
    pub weave_in_mm: f64,
    /// What is left to stitch with, mm.
    pub left_mm: f64,
    /// How far it reaches.
    pub reach: ThreadReach,
    /// What the rest of the current side takes, mm.
    pub side_mm: f64,
    /// What the side after it takes, mm.
    pub next_side_mm: f64,
    /// What to say.
    pub word: ThreadVerdict,
    /// Steps after which it is good to end this thread and begin another:
    /// mid-side, where four beads or more lie between it and a corner or the
    /// work is as far from one as the side allows. Nearest first.
    pub good_ends: Vec<Step>,
}

/// What to say about the current thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ThreadVerdict {
    /// It is enough for this side and the next.
    Enough,
    /// It is enough for this side, and not for the one after.
    LastSide,
    /// It is not enough for this side.
    WillNotDo,
}

/// The most good ends told.
const ENDS: usize = 3;

/// The current thread once a step is done. `own` are the threads that the maker
/// took up, or whose length they told: steps done then, and the length in mm.
/// `None` if no thread is in the work.
///
/// The plan says where each thread ends; the planned thread is always long
/// enough up to there, and so is any other that is not shorter.
pub fn in_hand(seq: &Sequence, done: Step, own: &BTreeMap<u32, u32>) -> Option<InHand> {
    let taken = taken(seq, own, done)?;
    let planned = seq.thread_of(Step(done.0 + 1))?;
    let loose = taken.loose_mm(seq, done).max(0.0);
    let weave_in = seq.end_tail_mm(planned).min(loose);
    let left = loose - weave_in;
    let this = side_end(seq, done);
    let next = side_end(seq, this);
    let mm = |from: Step, to: Step| {
        let to = to.min(planned.sewn).max(from);
        seq.drawn_mm(from, to)
    };
    let (side_mm, next_side_mm) = (mm(done, this), mm(this, next));
    // Lengths are worked out and not measured: half a bead does not matter.
    let slack = seq.layout().pass_mm() / 2.0;
    let word = match left + slack {
        left if left < side_mm => ThreadVerdict::WillNotDo,
        left if left < side_mm + next_side_mm => ThreadVerdict::LastSide,
        _ => ThreadVerdict::Enough,
    };
    Some(InHand {
        taken,
        loose_mm: loose,
        weave_in_mm: weave_in,
        left_mm: left,
        reach: reach(seq, done, planned, left + slack),
        side_mm,
        next_side_mm,
        word,
        good_ends: good_ends(seq, done, next, left),
    })
}

impl InHand {
    /// What to say, or nothing while there is enough; `length` puts a length
    /// in mm into words.
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
        match self.word {
            ThreadVerdict::Enough => None,
            ThreadVerdict::LastSide => Some(format!(
                "Thread: {left}. This side takes {side}, the next {} more. End it and begin a new \
                 one{at}",
                length(self.next_side_mm)
            )),
            ThreadVerdict::WillNotDo => Some(format!(
                "Thread: {left}. This side takes {side}. End it and begin a new one now{at}"
            )),
        }
    }

    /// The same in a few words, for a narrow screen.
    pub fn say_shortly(&self, length: impl Fn(f64) -> String) -> Option<String> {
        let left = length(self.loose_mm);
        let at = match self.good_ends.first() {
            Some(step) => format!("after step {step}"),
            None => "mid-side".into(),
        };
        match self.word {
            ThreadVerdict::Enough => None,
            ThreadVerdict::LastSide => Some(format!("Thread: {left} left. New one {at}")),
            ThreadVerdict::WillNotDo => {
                Some(format!("Thread: {left} left, too short. New one {at}"))
            }
        }
    }
}

/// How far so much thread reaches: bisected, since thread only ever gets less.
fn reach(seq: &Sequence, done: Step, planned: ThreadLength, left_mm: f64) -> ThreadReach {
    let does = |to: Step| seq.drawn_mm(done, to) <= left_mm;
    let end = planned.sewn.max(done);
    if does(end) {
        return match planned.last.0 < seq.steps() {
            true => ThreadReach::PlannedEnd(end),
            false => ThreadReach::Piece,
        };
    }
    let (mut low, mut high) = (done.0, end.0);
    while high - low > 1 {
        let mid = low + (high - low) / 2;
        if does(Step(mid)) {
            low = mid;
        } else {
            high = mid;
        }
    }
    ThreadReach::Step(Step(low))
}

/// The last step of the side that the step behind `done` works on.
fn side_end(seq: &Sequence, done: Step) -> Step {
    let mut ahead = seq.iter_from(Step(done.0 + 1));
    let Some(next) = ahead.next() else {
        return done;
    };
    let same = |m: &Movement| m.side == next.side && m.round == next.round && m.job == next.job;
    let last = ahead.take_while(same).last();
    last.map_or(next.step, |m| m.step)
}

/// Steps mid-side, up to `last`, that the thread still reaches.
fn good_ends(seq: &Sequence, done: Step, last: Step, left_mm: f64) -> Vec<Step> {
    let layout = seq.layout();
    let reached = |m: &Movement| seq.drawn_mm(done, m.step) <= left_mm;
    let mid_side = |m: &Movement| {
        let Some(&bead) = m.strings.first() else {
            return false;
        };
        let seat = layout.seat(bead);
        let from_corner = (seat.place + 1).min(seat.of - seat.place);
        // A new bead high on the side, and old ones around to weave into.
        m.kind == Kind::Stitch && seat.of >= 3 && from_corner >= (seat.of / 2).clamp(2, 4)
    };
    seq.iter_from(Step(done.0 + 1))
        .take_while(|m| m.step <= last && reached(m))
        .filter(mid_side)
        .map(|m| m.step)
        .take(ENDS)
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
    fn with_thread_to_spare_nothing_is_said() {
        let seq = seq();
        let hand = in_hand(&seq, Step(40), &cut(90_000.0)).unwrap();
        assert_eq!(
            (hand.word, hand.say(|mm| mm.to_string())),
            (ThreadVerdict::Enough, None)
        );
    }

    /// Shortening the thread bit by bit: first a warning one side before, then
    /// that it is too short; never the second without the first.
    #[test]
    fn the_word_comes_one_side_before_it_will_not_do() {
        let seq = seq();
        let done = Step(90);
        let needs = in_hand(&seq, done, &cut(90_000.0)).unwrap();
        let used = seq.drawn_mm(Step(0), done) + 2.0 * 150.0;
        let word = |left: f64| in_hand(&seq, done, &cut(used + left)).unwrap().word;
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
        assert_eq!(word(needs.side_mm - bead), ThreadVerdict::WillNotDo);
    }

    #[test]
    fn good_ends_lie_mid_side() {
        let seq = seq();
        let hand = in_hand(&seq, Step(100), &cut(90_000.0)).unwrap();
        assert!(!hand.good_ends.is_empty());
        for step in hand.good_ends {
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
    fn where_the_piece_plans_its_threads_no_word_is_needed() {
        for seq in pieces() {
            let mut lengths = 0;
            let mut last = None;
            for done in (0..=seq.steps()).map(Step) {
                let hand = in_hand(&seq, done, &no_own());
                let loose = hand.as_ref().map(|hand| hand.loose_mm);
                lengths += usize::from(loose > last);
                last = loose;
                let Some(hand) = hand else { continue };
                assert_eq!(hand.word, ThreadVerdict::Enough, "{done} {hand:?}");
                assert!(
                    !matches!(hand.reach, ThreadReach::Step(_)),
                    "{done} {hand:?}"
                );
            }
            assert_eq!(last, None);
            assert_eq!(lengths, seq.thread_starts().len());
        }
    }

    /// What a length takes by the plan and what is left of it when it is cut
    /// are what was cut.
    #[test]
    fn what_the_plan_takes_and_what_is_left_are_one_length() {
        for seq in pieces() {
            for length in seq.thread_lengths() {
                let before = Step(length.first.0 - 1);
                let hand = in_hand(&seq, length.sewn, &no_own()).unwrap();
                let takes = seq.thread_mm(before, length.last);
                let all = takes - hand.weave_in_mm + hand.loose_mm;
                assert!((all - seq.cut_mm(length)).abs() < 1e-6, "{length:?}");
            }
        }
    }

    /// The warning says the length that the screen says beside it, and with
    /// nothing more to stitch there is no warning.
    #[test]
    fn the_warning_tells_what_hangs_at_the_needle() {
        let seq = seq();
        let own = BTreeMap::from([(90, 320)]);
        let hand = in_hand(&seq, Step(90), &own).unwrap();
        let cm = |mm: f64| format!("{:.0} cm", mm / 10.0);
        let said = hand.say(cm).unwrap();
        assert!(
            said.starts_with("Thread: 17 cm left, 15 cm of it to weave in."),
            "{said}"
        );
        assert!(hand.say_shortly(cm).unwrap().starts_with("Thread: 17 cm"));
        let end = seq.thread_of(Step(1)).unwrap();
        let own = BTreeMap::from([(end.sewn.0, 340)]);
        for done in end.sewn.0..end.last.0 {
            let hand = in_hand(&seq, Step(done), &own).unwrap();
            assert_eq!(hand.word, ThreadVerdict::Enough, "{hand:?}");
        }
    }

    #[test]
    fn a_thread_of_the_maker_s_own_counts_from_where_it_was_taken_up() {
        let seq = seq();
        let own = BTreeMap::from([(60, 800)]);
        let before = in_hand(&seq, Step(59), &own).unwrap();
        assert_eq!((before.taken.after, before.taken.own), (Step(0), false));
        let fresh = in_hand(&seq, Step(60), &own).unwrap();
        assert_eq!((fresh.taken.after, fresh.taken.own), (Step(60), true));
        assert_eq!((fresh.loose_mm, fresh.left_mm), (650.0, 500.0));
        let on = in_hand(&seq, Step(70), &own).unwrap();
        let used = seq.drawn_mm(Step(60), Step(70));
        assert!((on.left_mm - (500.0 - used)).abs() < 1e-9);
    }

    #[test]
    fn the_next_planned_thread_takes_the_place_of_one_s_own() {
        let seq = Sequence::new(testing::folded_pair(12, 2));
        let second = seq.thread_starts().nth(1).unwrap();
        let own = BTreeMap::from([(3, 5000)]);
        let at = |n: u32| taken(&seq, &own, Step(n)).unwrap();
        assert_eq!(at(second.0).after, Step(second.0 - 1));
        assert!(!at(second.0).own);
        // Once its length is told, it is that long.
        assert_eq!(taken_up_at(&seq, second), Step(second.0 - 1));
        let own = BTreeMap::from([(second.0 - 1, 700)]);
        assert_eq!(taken(&seq, &own, second).unwrap().cut_mm, 700.0);
    }

    /// The reach is judged by walking on step by step.
    #[test]
    fn it_reaches_as_far_as_step_by_step() {
        let seq = seq();
        let tails = 2.0 * seq.layout().project().thread.tail_mm;
        for mm in [400.0, 600.0, 800.0] {
            let hand = in_hand(&seq, Step(20), &BTreeMap::from([(20, mm as u32)])).unwrap();
            let mut left = mm - tails + seq.layout().pass_mm() / 2.0;
            let reached = seq.iter_from(Step(21)).take_while(|m| {
                left -= m.passes.len() as f64 * seq.layout().pass_mm();
                left >= 0.0
            });
            let last = reached.last().map_or(Step(20), |m| m.step);
            assert_eq!(hand.reach, ThreadReach::Step(last), "{mm}");
        }
        let hand = in_hand(&seq, Step(20), &cut(90_000.0)).unwrap();
        assert_eq!(hand.reach, ThreadReach::Piece);
    }
}
