//! The answer to a count: match, or how far off, and what is likely.

use super::expected::{Question, expected, per_side};
use super::mistake::{Counted, Mistake, Outcome};
use crate::beadwork::{Job, Round, Sequence, Step};

/// How a count compares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// As many as must be there.
    Match,
    /// Too many.
    Over,
    /// Too few.
    Under,
}

impl Verdict {
    /// Its name in output.
    pub fn name(self) -> &'static str {
        match self {
            Verdict::Match => "match",
            Verdict::Over => "over",
            Verdict::Under => "under",
        }
    }

    fn of(counted: u32, expected: u32) -> Self {
        match counted.cmp(&expected) {
            std::cmp::Ordering::Equal => Verdict::Match,
            std::cmp::Ordering::Greater => Verdict::Over,
            std::cmp::Ordering::Less => Verdict::Under,
        }
    }
}

/// One thing that explains a count, and the look that tells it from others.
#[derive(Clone, Debug, PartialEq)]
pub struct Cause {
    /// What happened.
    pub cause: String,
    /// What to look at to be sure.
    pub look: String,
    /// The mistake itself.
    pub mistake: Mistake,
}

/// The answer to a count.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// How many there must be.
    pub expected: u32,
    /// How many were counted.
    pub counted: u32,
    /// How the two compare.
    pub verdict: Verdict,
    /// What explains the difference, likeliest first; empty on a match.
    pub causes: Vec<Cause>,
}

/// Causes told at the most; more is no help at the bead mat.
const MOST: usize = 6;

/// Compares a count with what must be there. `at` is the last step done, if
/// it is known; then a round still in hand can be told from a wrong one.
///
/// `None` if the job works on no such round or side.
pub fn answer(seq: &Sequence, q: &Question, at: Option<Step>, counted: u32) -> Option<Answer> {
    let expected = expected(seq, q)?;
    let round = Counted {
        seq,
        job: q.job,
        round: q.round,
        at,
    };
    let seen = |o: &Outcome| match q.side {
        Some(side) => o.sides[side.index()] == counted,
        None => o.sides.iter().sum::<u32>() == counted,
    };
    let causes = match Verdict::of(counted, expected) {
        Verdict::Match => vec![],
        _ => causes(&round, seen),
    };
    Some(Answer {
        expected,
        counted,
        verdict: Verdict::of(counted, expected),
        causes,
    })
}

/// Compares a count for each side. The verdict is that of the total, or of
/// the first side that differs when the total is right.
///
/// `None` if the job works on no such round, or it has another number of
/// sides.
pub fn answer_sides(
    seq: &Sequence,
    job: Job,
    round: Round,
    at: Option<Step>,
    counted: &[u32],
) -> Option<Answer> {
    let right = per_side(seq, job, round)?;
    if right.len() != counted.len() {
        return None;
    }
    let (expected, total) = (right.iter().sum(), counted.iter().sum());
    let by_side = right.iter().zip(counted).find(|(r, c)| r != c);
    let verdict = match (Verdict::of(total, expected), by_side) {
        (Verdict::Match, Some((&r, &c))) => Verdict::of(c, r),
        (verdict, _) => verdict,
    };
    let counted_round = Counted {
        seq,
        job,
        round,
        at,
    };
    let causes = match verdict {
        Verdict::Match => vec![],
        _ => causes(&counted_round, |o| o.sides == counted),
    };
    Some(Answer {
        expected,
        counted: total,
        verdict,
        causes,
    })
}

/// The mistakes that give what was seen, likeliest first: single ones, or two
/// at once where no single one does.
fn causes(round: &Counted<'_>, seen: impl Fn(&Outcome) -> bool) -> Vec<Cause> {
    let mut found: Vec<Outcome> = round.single_mistakes();
    found.retain(&seen);
    if found.is_empty() {
        found = round.double_mistakes();
        found.retain(&seen);
    }
    found.sort_by(|a, b| b.odds.total_cmp(&a.odds));
    merge_sides(round, found)
}

/// Like mistakes on several sides are one cause with several places to look.
fn merge_sides(round: &Counted<'_>, found: Vec<Outcome>) -> Vec<Cause> {
    let mut causes: Vec<Cause> = vec![];
    for outcome in found {
        let cause = round.explain(&outcome.mistake);
        match causes.iter_mut().find(|c| c.cause == cause.cause) {
            Some(known) if known.look != cause.look => {
                if !known.look.contains(&cause.look) {
                    known.look = format!("{}; or {}", known.look, cause.look);
                }
            }
            Some(_) => {}
            None => causes.push(cause),
        }
    }
    causes.truncate(MOST);
    causes
}

impl Counted<'_> {
    /// A mistake in words.
    fn explain(&self, mistake: &Mistake) -> Cause {
        let round = self.round;
        let (cause, look) = match mistake {
            Mistake::BeadAtCorner(side) => (
                "a bead at a corner that should have been drawn together".to_string(),
                format!(
                    "at the end of side {side} the two end beads should touch with no bead between them"
                ),
            ),
            Mistake::PairAsOne(side, _) => (
                "a corner pair worked as one bead".to_string(),
                format!("at the end of side {side} two beads should lie side by side in one gap"),
            ),
            Mistake::TwoInGap(side) => (
                "two beads in one gap".to_string(),
                format!("on side {side} every gap should show one bead; two sit crowded"),
            ),
            Mistake::GapSkipped(side) => (
                "a gap skipped".to_string(),
                format!("on side {side} look for two low beads with bare thread between them"),
            ),
            Mistake::OtherRound(other) => (
                format!("round {other} was counted, or worked, instead of round {round}"),
                format!("trace the step from the round's first bead; if all else is right you are at round {other}"),
            ),
            Mistake::BothEdges(under) => (
                "high and low beads were both counted".to_string(),
                format!("count only the beads that stick out; those of round {under} lie lower, between them"),
            ),
            Mistake::NotWhole => (
                format!("round {round} is still in hand"),
                "the needle has not yet come round to the round's first bead".to_string(),
            ),
            Mistake::TurnMissed => (
                format!("the step at the end of round {round} was missed, so the work spirals"),
                "at the start of the round the needle should have gone through two beads in one movement"
                    .to_string(),
            ),
            Mistake::Two(a, b) => {
                let (a, b) = (self.explain(a), self.explain(b));
                (
                    format!("{}, and {}", a.cause, b.cause),
                    format!("{}; and {}", a.look, b.look),
                )
            }
        };
        Cause {
            cause,
            look,
            mistake: mistake.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::{Side, testing};

    fn ask(seq: &Sequence, round: u32, side: Option<u8>, counted: u32) -> Answer {
        let q = Question {
            job: Job(0),
            round: Round(round),
            side: side.map(Side),
        };
        answer(seq, &q, None, counted).unwrap()
    }

    fn inward() -> Sequence {
        Sequence::new(testing::single(testing::inward(3, 8, 0)))
    }

    #[test]
    fn the_right_number_matches_and_says_no_more() {
        let a = ask(&inward(), 5, None, 15);
        assert_eq!((a.verdict, a.causes.len()), (Verdict::Match, 0));
    }

    /// Common practice, no source: each decrease at a corner adds no bead, and
    /// one too many is most often a bead strung there.
    #[test]
    fn one_too_many_inward_is_first_a_bead_at_a_corner() {
        let a = ask(&inward(), 5, None, 16);
        assert_eq!(a.verdict, Verdict::Over);
        assert!(a.causes[0].cause.contains("at a corner"));
        for side in 1..=3 {
            assert!(a.causes[0].look.contains(&format!("side {side}")));
        }
    }

    #[test]
    fn one_too_few_is_a_gap_skipped_on_the_side_that_was_counted() {
        let a = ask(&inward(), 5, Some(1), 4);
        assert_eq!(a.verdict, Verdict::Under);
        assert!(
            a.causes
                .iter()
                .any(|c| c.mistake == Mistake::GapSkipped(Side(1)))
        );
        assert!(
            !a.causes
                .iter()
                .any(|c| c.mistake == Mistake::GapSkipped(Side(0)))
        );
    }

    #[test]
    fn the_round_before_and_the_round_after_are_known_by_their_numbers() {
        let seq = inward();
        let before = ask(&seq, 5, None, 18);
        assert_eq!(before.causes[0].mistake, Mistake::OtherRound(Round(6)));
        let after = ask(&seq, 5, None, 12);
        assert_eq!(after.causes[0].mistake, Mistake::OtherRound(Round(4)));
    }

    #[test]
    fn a_count_near_twice_is_both_edges() {
        let a = ask(&inward(), 5, None, 15 + 18);
        assert_eq!(a.causes[0].mistake, Mistake::BothEdges(Round(6)));
    }

    #[test]
    fn two_mistakes_are_searched_when_no_single_one_explains_it() {
        let a = answer_sides(&inward(), Job(0), Round(5), None, &[6, 5, 4]).unwrap();
        assert!(matches!(a.causes[0].mistake, Mistake::Two(..)));
        assert_eq!(a.verdict, Verdict::Over);
    }

    #[test]
    fn a_round_in_hand_is_told_from_a_wrong_one() {
        let seq = inward();
        let half = seq
            .iter()
            .find(|m| m.round == Some(Round(5)) && m.round_beads == 7)
            .unwrap();
        let q = Question {
            job: Job(0),
            round: Round(5),
            side: None,
        };
        let a = answer(&seq, &q, Some(half.step), 7).unwrap();
        assert_eq!(a.causes[0].mistake, Mistake::NotWhole);
    }
}
