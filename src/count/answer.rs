//! The answer to a count: match, or how far off, and what is likely.

use super::expected::{Question, expected_as_stitched, per_side_as_stitched};
use super::kept::Kept;
use super::mistake::{Counted, Mistake, Outcome};
use super::place::Place;
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
    /// The mistake itself, at its likeliest place.
    pub mistake: Mistake,
    /// How likely it is among all that explain the count, 0 to 1.
    pub odds: f64,
    /// Where it can have been made; empty if only the counting went wrong. Of
    /// two mistakes at once, the places of both.
    pub places: Vec<Place>,
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
    answer_as_stitched(seq, q, at, counted, &[])
}

/// The same for work in which the maker keeps differences.
pub fn answer_as_stitched(
    seq: &Sequence,
    q: &Question,
    at: Option<Step>,
    counted: u32,
    kept: &[Kept],
) -> Option<Answer> {
    let expected = expected_as_stitched(seq, q, kept)?;
    let round = Counted {
        seq,
        job: q.job,
        round: q.round,
        at,
        kept,
    };
    let seen = |o: &Outcome| match q.side {
        // A side is counted while its round is in hand, before the step at the
        // round's end can be missed.
        Some(side) => o.mistake != Mistake::TurnMissed && o.sides[side.index()] == counted,
        None => o.sides.iter().sum::<u32>() == counted,
    };
    let verdict = Verdict::of(counted, expected);
    Some(Answer {
        expected,
        counted,
        verdict,
        causes: causes(&round, verdict, seen),
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
    answer_sides_as_stitched(seq, job, round, at, counted, &[])
}

/// The same for work in which the maker keeps differences.
pub fn answer_sides_as_stitched(
    seq: &Sequence,
    job: Job,
    round: Round,
    at: Option<Step>,
    counted: &[u32],
    kept: &[Kept],
) -> Option<Answer> {
    let right = per_side_as_stitched(seq, job, round, kept)?;
    if right.len() != counted.len() {
        return None;
    }
    // What a maker types may be more than there are numbers.
    let total = counted.iter().fold(0u32, |sum, &c| sum.saturating_add(c));
    let expected = right.iter().sum();
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
        kept,
    };
    Some(Answer {
        expected,
        counted: total,
        verdict,
        causes: causes(&counted_round, verdict, |o| o.sides == counted),
    })
}

/// The mistakes that give what was seen, likeliest first: single ones, or two
/// at once where no single one does.
fn causes(round: &Counted<'_>, verdict: Verdict, seen: impl Fn(&Outcome) -> bool) -> Vec<Cause> {
    if verdict == Verdict::Match {
        return vec![];
    }
    // If nothing behind the needle explains it, the needle may be elsewhere.
    let anywhere = Counted { at: None, ..*round };
    let tries = [
        (round, false),
        (&anywhere, false),
        (round, true),
        (&anywhere, true),
    ];
    for (round, two) in tries {
        let mut found = match two {
            false => round.single_mistakes(),
            true => round.double_mistakes(),
        };
        found.retain(&seen);
        if !found.is_empty() {
            return together(round, found);
        }
    }
    vec![]
}

/// Like mistakes at several places are one cause with several places to look.
fn together(round: &Counted<'_>, mut found: Vec<Outcome>) -> Vec<Cause> {
    found.sort_by(|a, b| b.odds.total_cmp(&a.odds));
    let all: f64 = found.iter().map(|o| o.odds).sum();
    let mut groups: Vec<(String, Outcome)> = vec![];
    for outcome in found {
        let cause = round.cause(&outcome.mistake);
        // The round before and the round after are told in one.
        let other = |m: &Mistake| matches!(m, Mistake::OtherRound(_));
        let same = |(known, o): &&mut (String, Outcome)| {
            *known == cause || (other(&o.mistake) && other(&outcome.mistake))
        };
        if let (Some((known, first)), true) =
            (groups.iter_mut().find(same), other(&outcome.mistake))
        {
            known.clone_from(&round.cause_of_neighbours());
            first.odds += outcome.odds;
            continue;
        }
        match groups.iter_mut().find(|(known, _)| *known == cause) {
            Some((_, known)) => {
                known.odds += outcome.odds;
                for (known, places) in known.places.iter_mut().zip(outcome.places) {
                    known.extend(
                        places
                            .iter()
                            .filter(|p| !known.contains(p))
                            .copied()
                            .collect::<Vec<_>>(),
                    );
                }
            }
            None => groups.push((cause, outcome)),
        }
    }
    groups.sort_by(|(_, a), (_, b)| b.odds.total_cmp(&a.odds));
    groups.truncate(MOST);
    let cause = |(cause, outcome): (String, Outcome)| {
        let [first, second] = match &outcome.mistake {
            Mistake::Two(a, b) => [&**a, &**b],
            one => [one, one],
        };
        let [of_first, of_second] = &outcome.places;
        let mut places: Vec<Place> = vec![];
        let steps = |p: &Place, of| round.with_steps(*p, of);
        places.extend(of_first.iter().map(|p| steps(p, first)));
        places.extend(of_second.iter().map(|p| steps(p, second)));
        places.sort_by_key(|p| (p.first_gap, p.side));
        places.dedup();
        Cause {
            look: round.look(&outcome.mistake, &outcome.places),
            odds: outcome.odds / all,
            mistake: outcome.mistake,
            cause,
            places,
        }
    };
    groups.into_iter().map(cause).collect()
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
    fn a_round_that_is_not_begun_is_hardly_the_one_that_was_counted() {
        let seq = Sequence::new(testing::single(testing::panel(3, 6)));
        // Side 1 of round 3 is just whole; four beads are those of round 4,
        // or one too many.
        let q = Question {
            job: Job(0),
            round: Round(3),
            side: Some(Side(0)),
        };
        let at = seq
            .iter()
            .find(|m| m.round == Some(Round(3)) && m.round_beads == 5);
        let found = answer(&seq, &q, at.map(|m| m.step), 4).unwrap();
        assert!(matches!(found.causes[0].mistake, Mistake::TwoInGap(_)));
        let later = answer(&seq, &q, Some(Step(seq.steps())), 4).unwrap();
        assert!(matches!(later.causes[0].mistake, Mistake::OtherRound(_)));
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
