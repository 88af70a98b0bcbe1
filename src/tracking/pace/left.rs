//! How long the rest of the work takes.

use super::time::Pace;
use crate::beadwork::{Kind, Movement, Sequence, Step};
use crate::plan::walk::{self, KindCounts};
use std::time::Duration;

/// A time with a range: `low` at the pace of the quickest quarter of steps,
/// `high` at that of the slowest. Since days differ, the range is not made
/// narrower for a long piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Estimate {
    /// The time at the mean pace.
    pub likely: Duration,
    /// The time on a quick day.
    pub low: Duration,
    /// The time on a slow day.
    pub high: Duration,
}

impl Estimate {
    /// How long steps of these kinds take at a pace.
    fn of(kinds: &KindCounts, pace: &Pace) -> Estimate {
        let mut all = [0.0; 3];
        for (kind, _) in Kind::ALL {
            let n = f64::from(kinds[kind as usize]);
            let usual = pace.usual(kind);
            for (sum, each) in all.iter_mut().zip([usual.quick, usual.mean, usual.slow]) {
                *sum += n * each;
            }
        }
        let [quick, likely, slow] = all.map(Duration::from_secs_f64);
        Estimate {
            likely,
            low: quick.min(likely),
            high: slow.max(likely),
        }
    }

    /// `about 40 min (30 to 60 min)`.
    pub fn say(&self) -> String {
        let minutes = |d: Duration| d.as_secs_f64() / 60.0;
        let (low, likely, high) = (minutes(self.low), minutes(self.likely), minutes(self.high));
        if high < 1.5 {
            return "about a minute".into();
        }
        if high < 120.0 {
            let whole = |m: f64| m.round().max(1.0);
            return format!(
                "about {} min ({} to {} min)",
                whole(likely),
                whole(low),
                whole(high)
            );
        }
        let hours = |m: f64| format!("{:.1}", m / 60.0);
        format!(
            "about {} h ({} to {} h)",
            hours(likely),
            hours(low),
            hours(high)
        )
    }
}

/// The time that is left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Left {
    /// Of the current round, row or join.
    pub round: Estimate,
    /// Of the job.
    pub job: Estimate,
    /// Of the piece.
    pub piece: Estimate,
}

/// The time that is left after a step.
pub fn left(seq: &Sequence, pace: &Pace, done: Step) -> Left {
    let job_end = match seq.step(Step(done.0 + 1)) {
        Some(next) => {
            let job = seq.job(next.job);
            Step(job.steps_before + job.steps)
        }
        None => done,
    };
    let to = |last| Estimate::of(&walk::kinds(seq, done, last), pace);
    Left {
        round: to(round_end(seq, done)),
        job: to(job_end),
        piece: to(Step(seq.steps())),
    }
}

/// The last step of the round of the next step, or of its job if it has no
/// round.
fn round_end(seq: &Sequence, done: Step) -> Step {
    last_alike(seq, done, |m| (m.job, m.round))
}

/// The last of the steps ahead that have the same of something as the next.
pub(super) fn last_alike<T: PartialEq>(
    seq: &Sequence,
    done: Step,
    of: impl Fn(&Movement) -> T,
) -> Step {
    let mut ahead = seq.iter_from(Step(done.0 + 1));
    let Some(next) = ahead.next() else {
        return done;
    };
    let last = ahead.take_while(|m| of(m) == of(&next)).last();
    last.map_or(next.step, |m| m.step)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::{Round, testing};

    #[test]
    fn a_round_is_part_of_a_job_and_a_job_of_the_piece() {
        let seq = Sequence::new(testing::folded_pair(5, 2));
        let pace = Pace::default();
        for done in (0..seq.steps()).step_by(11).map(Step) {
            let left = left(&seq, &pace, done);
            assert!(left.round.likely <= left.job.likely);
            assert!(left.job.likely <= left.piece.likely);
            assert!(left.piece.low <= left.piece.likely && left.piece.likely <= left.piece.high);
        }
        let end = left(&seq, &pace, Step(seq.steps()));
        assert_eq!(end.piece.high, Duration::ZERO);
    }

    #[test]
    fn the_round_ends_with_its_step_up() {
        let seq = Sequence::new(testing::single(testing::panel(3, 5)));
        let inside = seq
            .iter()
            .find(|m| m.round == Some(Round(4)) && m.round_beads >= 5)
            .unwrap();
        let end = seq.step(round_end(&seq, inside.step)).unwrap();
        assert_eq!((end.kind, end.round), (Kind::StepUp, Some(Round(4))));
    }

    #[test]
    fn times_are_given_in_minutes_or_hours() {
        let estimate = |low, likely, high| Estimate {
            low: Duration::from_secs(low),
            likely: Duration::from_secs(likely),
            high: Duration::from_secs(high),
        };
        assert_eq!(estimate(20, 30, 60).say(), "about a minute");
        assert_eq!(
            estimate(1500, 2400, 3600).say(),
            "about 40 min (25 to 60 min)"
        );
        assert_eq!(
            estimate(9000, 14400, 21600).say(),
            "about 4.0 h (2.5 to 6.0 h)"
        );
    }
}
