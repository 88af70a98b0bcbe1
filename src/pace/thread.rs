//! Thread in hand: how much is left, and where to end it in good time.

use crate::beadwork::{Kind, Movement, Sequence, Step};

/// The thread in hand.
#[derive(Clone, Debug, PartialEq)]
pub struct InHand {
    /// What is left to stitch with, mm: the tail for weaving in is kept back.
    pub left_mm: f64,
    /// What the rest of the side in hand takes, mm.
    pub side_mm: f64,
    /// What the side after it takes, mm.
    pub next_side_mm: f64,
    /// What to say.
    pub word: Word,
    /// Steps after which it is good to end this thread and begin another:
    /// mid-side, where four beads or more lie between it and a corner or the
    /// work is as far from one as the side allows. Nearest first.
    pub good_ends: Vec<Step>,
}

/// What to say about the thread in hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Word {
    /// It does for this side and the next.
    Enough,
    /// It does for this side, and not for the one after.
    LastSide,
    /// It does not do for this side.
    WillNotDo,
}

/// Good ends told at the most.
const ENDS: usize = 3;

/// The thread in hand once a step is done. `cut_mm` is how long it was cut, if
/// that is another length than the piece says. `None` if no thread is in the
/// work.
///
/// The piece itself plans where each thread ends; what it plans to weave in
/// before a thread's planned end needs no warning.
pub fn in_hand(seq: &Sequence, done: Step, cut_mm: Option<f64>) -> Option<InHand> {
    let start = seq.thread_starts().take_while(|s| *s <= done).last()?;
    if seq.step(done)?.kind == Kind::EndThread {
        return None;
    }
    let tail = seq.layout().project().thread.tail_mm;
    let cut = cut_mm.unwrap_or_else(|| seq.thread_length_mm(start));
    // One tail hangs where it began, the other is needed to weave in.
    let left = cut - 2.0 * tail - seq.thread_used_mm(done);
    let this = side_end(seq, done);
    let next = side_end(seq, this);
    let mm = |from: Step, to: Step| {
        let to = last_of_thread(seq, done, to).max(from);
        (seq.passes_after(to) - seq.passes_after(from)) as f64 * seq.layout().pass_mm()
    };
    let (side_mm, next_side_mm) = (mm(done, this), mm(this, next));
    // Lengths are worked out and not measured: half a bead is no matter.
    let slack = seq.layout().pass_mm() / 2.0;
    let word = match left + slack {
        left if left < side_mm => Word::WillNotDo,
        left if left < side_mm + next_side_mm => Word::LastSide,
        _ => Word::Enough,
    };
    Some(InHand {
        left_mm: left.max(0.0),
        side_mm,
        next_side_mm,
        word,
        good_ends: good_ends(seq, done, next, left),
    })
}

impl InHand {
    /// What to say, or nothing while there is enough.
    pub fn say(&self) -> Option<String> {
        let cm = |mm: f64| (mm / 10.0).round();
        let at = match self.good_ends.first() {
            Some(step) => format!(", best after step {step}, mid-side"),
            None => ", mid-side and not at a corner or a hinge".into(),
        };
        match self.word {
            Word::Enough => None,
            Word::LastSide => Some(format!(
                "Thread: {} cm left, this side takes {}, the next {} more. End it and begin a \
                 new one{at}",
                cm(self.left_mm),
                cm(self.side_mm),
                cm(self.next_side_mm)
            )),
            Word::WillNotDo => Some(format!(
                "Thread: {} cm left, and this side takes {}. End it and begin a new one now{at}",
                cm(self.left_mm),
                cm(self.side_mm)
            )),
        }
    }
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

/// `to`, or the last step before the thread in hand is woven in by plan.
fn last_of_thread(seq: &Sequence, done: Step, to: Step) -> Step {
    let mut ahead = seq.iter_from(Step(done.0 + 1));
    let end = ahead.find(|m| m.kind == Kind::EndThread || m.step >= to);
    match end {
        Some(m) if m.kind == Kind::EndThread => Step(m.step.0 - 1),
        _ => to,
    }
}

/// Steps mid-side, up to `last`, that the thread still reaches.
fn good_ends(seq: &Sequence, done: Step, last: Step, left_mm: f64) -> Vec<Step> {
    let layout = seq.layout();
    let reached = |m: &Movement| {
        let passes = seq.passes_after(m.step) - seq.passes_after(done);
        passes as f64 * layout.pass_mm() <= left_mm
    };
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

    fn seq() -> Sequence {
        Sequence::new(testing::single(testing::panel(3, 10)))
    }

    #[test]
    fn with_thread_to_spare_nothing_is_said() {
        let seq = seq();
        let hand = in_hand(&seq, Step(40), Some(90_000.0)).unwrap();
        assert_eq!((hand.word, hand.say()), (Word::Enough, None));
    }

    /// Shortening the thread bit by bit: first a word one side before, then
    /// that it will not do; never the second without the first.
    #[test]
    fn the_word_comes_one_side_before_it_will_not_do() {
        let seq = seq();
        let done = Step(90);
        let needs = in_hand(&seq, done, Some(90_000.0)).unwrap();
        let used = seq.thread_used_mm(done) + 2.0 * 150.0;
        let word = |left: f64| in_hand(&seq, done, Some(used + left)).unwrap().word;
        let bead = seq.layout().pass_mm();
        assert_eq!(
            word(needs.side_mm + needs.next_side_mm + bead),
            Word::Enough
        );
        assert_eq!(
            word(needs.side_mm + needs.next_side_mm - bead),
            Word::LastSide
        );
        assert_eq!(word(needs.side_mm + bead), Word::LastSide);
        assert_eq!(word(needs.side_mm - bead), Word::WillNotDo);
    }

    #[test]
    fn good_ends_lie_mid_side() {
        let seq = seq();
        let hand = in_hand(&seq, Step(100), Some(90_000.0)).unwrap();
        assert!(!hand.good_ends.is_empty());
        for step in hand.good_ends {
            let m = seq.step(step).unwrap();
            let seat = seq.layout().seat(m.strings[0]);
            assert!(seat.place > 0 && seat.place + 1 < seat.of);
        }
    }

    #[test]
    fn where_the_piece_plans_an_end_no_word_is_needed() {
        let seq = Sequence::new(testing::ring(
            8,
            5,
            crate::beadwork::project::Closing::SetIn,
        ));
        let end = seq.iter().find(|m| m.kind == Kind::EndThread).unwrap();
        let before = Step(end.step.0 - 1);
        let hand = in_hand(&seq, before, None).unwrap();
        assert_ne!(hand.word, Word::WillNotDo, "{hand:?}");
        assert_eq!(in_hand(&seq, end.step, None), None);
    }
}
