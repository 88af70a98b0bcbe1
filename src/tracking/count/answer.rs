//! The answer to a count: whether it is right, how far off it is, and the
//! likely causes.

use super::expected::CountQuestion;
use super::mistake::{CountedRound, Mistake, MistakeOutcome, RoundPlace};
use crate::beadwork::{Job, Round, Sequence, Side, Step};

/// How a count compares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The right number.
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

/// A possible cause of a wrong count, and what to look at to be sure.
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
    /// Where it can have been made; empty if only the counting is wrong. For
    /// two mistakes at once, the places of both.
    pub places: Vec<RoundPlace>,
}

/// The answer to a count.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// How many there should be; for an unfinished round, those in place.
    pub expected: u32,
    /// How many were counted.
    pub counted: u32,
    /// Beads of the finished round.
    pub whole: u32,
    /// How the two compare.
    pub verdict: Verdict,
    /// Sides that differ, and by how many beads, if each side was counted
    /// separately.
    pub sides: Vec<(Side, i32)>,
    /// What explains the difference, likeliest first; empty on a match.
    pub causes: Vec<Cause>,
    /// Whether they are single mistakes in what is worked so far.
    are_near: bool,
}

impl Answer {
    /// How many beads more than planned, or negative fewer, a gap at this place holds if
    /// what was counted there is right; 0 if the sides next to it differ by none, or one
    /// by too many and the other by too few.
    pub fn by_at(&self, seq: &Sequence, job: Job, place: &RoundPlace) -> i32 {
        if self.sides.is_empty() {
            return self.counted as i32 - self.expected as i32;
        }
        let next = seq
            .layout()
            .kind(seq.job(job).panel())
            .next_side(place.side);
        let is_here = |side| side == place.side || place.corner && side == next;
        let sides = self.sides.iter().filter(|(side, _)| is_here(*side));
        let by: Vec<i32> = sides.map(|(_, by)| *by).collect();
        match by.iter().all(|b| *b > 0) || by.iter().all(|b| *b < 0) {
            true => by.iter().fold(0, |sum, b| sum.saturating_add(*b)),
            false => 0,
        }
    }
}

/// The most causes that are listed.
const MAX_CAUSES: usize = 6;

/// Compares a count with what it should be. `at` is the last step done, if
/// known; it tells an unfinished round from a wrong one.
///
/// `None` if the job works on no such round or side.
pub fn answer(seq: &Sequence, q: &CountQuestion, at: Option<Step>, counted: u32) -> Option<Answer> {
    let round = CountedRound {
        seq,
        job: q.job,
        round: q.round,
        at,
    };
    let beads = round.beads()?;
    let due = beads.due();
    let expected = match q.side {
        Some(side) => *due.get(side.index())?,
        None => due.iter().sum(),
    };
    let (_, whole) = beads.of(q.side)?;
    let seen = |o: &MistakeOutcome| match q.side {
        // A side is counted while its round is being worked, before the step at the
        // round's end can be missed.
        Some(side) => o.mistake != Mistake::TurnMissed && o.sides[side.index()] == counted,
        // The side at which the counting began does not change the total.
        None => !o.mistake.is_wrong_side() && o.sides.iter().sum::<u32>() == counted,
    };
    let one_side = match q.side {
        Some(_) => None,
        None => round.one_side(counted),
    };
    let on_thread = round.on_thread(counted, expected);
    let verdict = Verdict::of(counted, expected);
    let (causes, are_near) = causes(&round, verdict, one_side, on_thread, seen);
    Some(Answer {
        expected,
        counted,
        whole,
        verdict,
        sides: vec![],
        causes,
        are_near,
    })
}

/// Compares a count for each side. The verdict is that of the total, or, if the
/// total is right, of the first side that differs.
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
    let counted_round = CountedRound {
        seq,
        job,
        round,
        at,
    };
    let beads = counted_round.beads()?;
    let right = beads.due();
    if right.len() != counted.len() {
        return None;
    }
    // A maker may type very large numbers.
    let total = counted.iter().fold(0u32, |sum, &c| sum.saturating_add(c));
    let expected = right.iter().sum();
    let by = |(&seen, &right): (&u32, &u32)| {
        let by = i64::from(seen) - i64::from(right);
        by.clamp(i32::MIN.into(), i32::MAX.into()) as i32
    };
    let sides = (0..).map(Side).zip(counted.iter().zip(right).map(by));
    let sides: Vec<(Side, i32)> = sides.filter(|(_, by)| *by != 0).collect();
    let verdict = match (Verdict::of(total, expected), sides.first()) {
        (Verdict::Match, Some((_, by))) => {
            Verdict::of(by.max(&0).unsigned_abs(), by.min(&0).unsigned_abs())
        }
        (verdict, _) => verdict,
    };
    let on_thread = counted_round.on_thread(total, expected);
    let seen = |o: &MistakeOutcome| o.sides == counted;
    let (causes, are_near) = causes(&counted_round, verdict, None, on_thread, seen);
    Some(Answer {
        expected,
        counted: total,
        whole: beads.whole.iter().sum(),
        verdict,
        causes,
        are_near,
        sides,
    })
}

/// The most movements that a maker is likely to be ahead of the screen or behind it.
const FEW_PRESSES: u32 = 6;

/// The answer for the round below the unfinished one that was asked about. A bead
/// too many is often seen only when the next round is begun.
///
/// `None` unless a single mistake in the round below explains the count, the count
/// is nearer to that round, and nothing near explains it in the unfinished one.
/// `counted`: one number, or one for each side.
pub fn answer_of_round_below(
    seq: &Sequence,
    q: &CountQuestion,
    at: Option<Step>,
    asked: &Answer,
    counted: &[u32],
) -> Option<(CountQuestion, Answer)> {
    let (job, round) = (q.job, q.round);
    let round = CountedRound {
        seq,
        job,
        round,
        at,
    };
    let presses = |step: Step| at.map_or(0, |at| at.0.abs_diff(step.0));
    let is_far = |cause: &Cause| matches!(cause.mistake, Mistake::OtherStep(step) if presses(step) > FEW_PRESSES);
    let is_explained = asked.are_near && !asked.causes.iter().all(is_far);
    let is_open = asked.verdict != Verdict::Match && !is_explained && round.is_begun();
    let below = round.worked_on().filter(|_| is_open && !round.is_zip())?;
    let q = CountQuestion {
        job,
        round: below,
        side: None,
    };
    let mut answer = match counted {
        [counted] => answer(seq, &q, at, *counted),
        counted => answer_sides(seq, job, below, at, counted),
    }?;
    let off = |answer: &Answer| answer.counted.abs_diff(answer.expected);
    let is_there = answer.are_near
        && answer.causes.iter().any(|c| c.mistake.is_small())
        && off(&answer) < off(asked);
    let far = asked.causes.iter().filter(|cause| is_far(cause));
    answer.causes.extend(far.cloned());
    is_there.then_some((q, answer))
}

/// The mistakes that explain the count, likeliest first: single ones, or two at
/// once if no single one does; and whether they are single ones in what is
/// worked so far. `one_side`: that only one side was counted.
/// `on_thread`: what it is if beads are being strung and nothing else explains it.
fn causes(
    round: &CountedRound<'_>,
    verdict: Verdict,
    mut one_side: Option<MistakeOutcome>,
    on_thread: Option<MistakeOutcome>,
    seen: impl Fn(&MistakeOutcome) -> bool,
) -> (Vec<Cause>, bool) {
    if verdict == Verdict::Match {
        return (vec![], false);
    }
    // If nothing up to the last step explains it, the work may be at another
    // step.
    let anywhere = CountedRound { at: None, ..*round };
    let tries = [
        (round, false),
        (&anywhere, false),
        (round, true),
        (&anywhere, true),
    ];
    let most = if on_thread.is_some() { 1 } else { tries.len() };
    for (nth, (round, two)) in tries.into_iter().take(most).enumerate() {
        let mut found = match two {
            false => round.single_mistakes(),
            true => round.double_mistakes(),
        };
        found.retain(&seen);
        found.extend(one_side.take());
        if !found.is_empty() {
            return (combined(round, found), nth == 0);
        }
    }
    (combined(round, on_thread.into_iter().collect()), true)
}

/// Combines the same mistake at several places to one cause with several places
/// to look at.
fn combined(round: &CountedRound<'_>, mut found: Vec<MistakeOutcome>) -> Vec<Cause> {
    found.sort_by(|a, b| b.odds.total_cmp(&a.odds));
    let all: f64 = found.iter().map(|o| o.odds).sum();
    let mut groups: Vec<(String, MistakeOutcome)> = vec![];
    let is_other_round = |o: &MistakeOutcome| matches!(o.mistake, Mistake::OtherRound(_));
    let are_both = found.iter().filter(|o| is_other_round(o)).count() > 1;
    for outcome in found {
        // The round before and the round after are one cause.
        let cause = match are_both && is_other_round(&outcome) {
            true => round.cause_of_neighbours(),
            false => round.cause(&outcome.mistake),
        };
        let Some((_, known)) = groups.iter_mut().find(|(known, _)| *known == cause) else {
            groups.push((cause, outcome));
            continue;
        };
        known.odds += outcome.odds;
        for (known, places) in known.places.iter_mut().zip(outcome.places) {
            for place in places {
                if !known.contains(&place) {
                    known.push(place);
                }
            }
        }
    }
    groups.sort_by(|(_, a), (_, b)| b.odds.total_cmp(&a.odds));
    groups.truncate(MAX_CAUSES);
    let cause = |(cause, outcome): (String, MistakeOutcome)| {
        let [first, second] = match &outcome.mistake {
            Mistake::Two(a, b) => [&**a, &**b],
            one => [one, one],
        };
        let [of_first, of_second] = &outcome.places;
        let mut places: Vec<RoundPlace> = vec![];
        let counted = CountedRound {
            round: outcome.mistake.other_round().unwrap_or(round.round),
            ..*round
        };
        let steps = |p: &RoundPlace, of| counted.with_steps(*p, of);
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
    use super::super::expected::BeadsInRound;
    use super::*;
    use crate::beadwork::testing;

    fn ask(seq: &Sequence, round: u32, side: Option<u8>, counted: u32) -> Answer {
        let q = CountQuestion {
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
    fn the_right_number_matches_without_causes() {
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
    fn the_round_before_and_the_round_after_are_recognized() {
        let seq = inward();
        let before = ask(&seq, 5, None, 18);
        assert_eq!(before.causes[0].mistake, Mistake::OtherRound(Round(6)));
        assert_eq!(
            before.causes[0].look,
            "look along the round from its first bead; if every gap is right, it is round 6"
        );
        let after = ask(&seq, 5, None, 12);
        assert_eq!(after.causes[0].mistake, Mistake::OtherRound(Round(4)));
    }

    #[test]
    fn a_round_that_is_not_begun_is_an_unlikely_cause() {
        let seq = Sequence::new(testing::single(testing::panel(3, 6)));
        // Side 1 of round 3 is just finished; four beads are those of round 4,
        // or one too many.
        let q = CountQuestion {
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

    /// Common practice, no source: asked for all beads of a round, beginners
    /// count one side.
    #[test]
    fn a_number_that_one_side_has_is_first_of_all_one_side() {
        for spec in [
            testing::inward(3, 8, 0),
            testing::panel(3, 6),
            testing::panel(6, 7),
        ] {
            let seq = Sequence::new(testing::single(spec));
            let steps = (1..=seq.steps()).step_by(9).map(|n| Some(Step(n)));
            for (at, round) in steps
                .chain([None])
                .flat_map(|at| (2..=6).map(move |r| (at, r)))
            {
                let (job, round, side) = (Job(0), Round(round), None);
                let q = CountQuestion { job, round, side };
                let whole = super::super::expected::per_side(&seq, job, round).unwrap();
                for counted in 1..=whole[0] + 1 {
                    let a = answer(&seq, &q, at, counted).unwrap();
                    let is_first = a
                        .causes
                        .first()
                        .is_some_and(|c| c.mistake == Mistake::OneSide);
                    let wanted = counted < a.expected && whole.contains(&counted);
                    assert!(is_first || !wanted, "round {round} {at:?}: {a:?}");
                    assert!(!is_first || counted < a.expected, "{a:?}");
                    let Some(cause) = a.causes.first().filter(|_| is_first) else {
                        continue;
                    };
                    let words = match a.expected < a.whole {
                        true => "that is one side; on all sides so far there should be",
                        false => "that is one side; all round there should be",
                    };
                    assert_eq!(cause.cause, format!("{words} {}", a.expected));
                    assert_eq!(cause.look.ends_with("to the needle"), a.expected < a.whole);
                    let done = at.unwrap_or(Step(0));
                    let mend = super::super::mend(&seq, &q, cause, None, done);
                    assert_eq!(mend, super::super::Mend::CountAgain);
                }
            }
        }
    }

    #[test]
    fn one_side_in_place_is_one_side_too_and_a_side_asked_for_is_not() {
        let (seq, q, at) = half_a_round();
        // Side 2 has two beads so far.
        let two = answer(&seq, &q, at, 2).unwrap();
        assert_eq!(two.causes[0].mistake, Mistake::OneSide);
        let side = Some(Side(0));
        let of_side = answer(&seq, &CountQuestion { side, ..q }, at, 2).unwrap();
        assert!(of_side.causes.iter().all(|c| c.mistake != Mistake::OneSide));
    }

    /// The corner before side 1 of an outward round gives side 3 its first bead.
    #[test]
    fn half_a_corner_pair_is_no_side() {
        let seq = Sequence::new(testing::single(testing::panel(3, 7)));
        let at = seq
            .iter()
            .find(|m| m.round == Some(Round(7)) && m.round_beads == 12);
        let (job, round, side) = (Job(0), Round(7), None);
        let q = CountQuestion { job, round, side };
        let at = at.map(|m| m.step);
        let there = BeadsInRound::at(&seq, job, round, at).unwrap().there;
        assert_eq!(there, [7, 4, 1]);
        let first = |counted| answer(&seq, &q, at, counted).unwrap().causes.remove(0);
        assert_ne!(first(1).mistake, Mistake::OneSide);
        for counted in [7, 4] {
            assert_eq!(first(counted).mistake, Mistake::OneSide);
        }
    }

    #[test]
    fn while_beads_are_strung_no_round_is_taken_for_another() {
        for spec in [testing::panel(3, 6), testing::inward(3, 6, 0)] {
            let seq = Sequence::new(testing::single(spec));
            // The thread begins at step 1.
            let at = Some(Step(2));
            let q = super::super::current_question(&seq, Step(2)).unwrap();
            for counted in [0, 2, 3, 5, 7, 50] {
                let a = answer(&seq, &q, at, counted).unwrap();
                assert_eq!(a.expected, 1);
                let first = &a.causes[0];
                let of_string = |mistake: &Mistake| {
                    use Mistake::{OnThread, OtherStep, StrungOver, StrungUnder};
                    let found = matches!(mistake, OnThread(_) | OtherStep(_) | StrungOver(_));
                    found || matches!(mistake, StrungUnder(_))
                };
                assert!(a.causes.iter().all(|c| of_string(&c.mistake)), "{a:?}");
                if counted == 50 {
                    assert_eq!(first.mistake, Mistake::OnThread(49));
                    assert_eq!(first.cause, "49 beads too many on the thread");
                    assert_eq!(first.look, "nothing is closed yet: take 49 off the thread");
                }
            }
        }
    }

    #[test]
    fn two_mistakes_are_searched_when_no_single_one_explains_it() {
        let a = answer_sides(&inward(), Job(0), Round(5), None, &[6, 5, 4]).unwrap();
        assert!(matches!(a.causes[0].mistake, Mistake::Two(..)));
        assert_eq!(a.verdict, Verdict::Over);
    }

    /// Seven of the fifteen beads of round 5 are in place: side 1 and two more.
    fn half_a_round() -> (Sequence, CountQuestion, Option<Step>) {
        let seq = inward();
        let half = seq
            .iter()
            .find(|m| m.round == Some(Round(5)) && m.round_beads == 7);
        let q = CountQuestion {
            job: Job(0),
            round: Round(5),
            side: None,
        };
        (seq, q, half.map(|m| m.step))
    }

    #[test]
    fn a_count_in_an_unfinished_round_is_compared_with_what_is_in_place() {
        let (seq, q, at) = half_a_round();
        let a = answer(&seq, &q, at, 7).unwrap();
        assert_eq!((a.expected, a.whole, a.verdict), (7, 15, Verdict::Match));
        let sides = answer_sides(&seq, Job(0), Round(5), at, &[5, 2, 0]).unwrap();
        assert_eq!(sides.verdict, Verdict::Match);
        // A finished round means another step than the screen's.
        let whole = answer_sides(&seq, Job(0), Round(5), at, &[5, 5, 5]).unwrap();
        assert_eq!(whole.verdict, Verdict::Over);
        let Mistake::OtherStep(step) = whole.causes[0].mistake else {
            panic!("{whole:?}");
        };
        assert_eq!(seq.step(step).unwrap().round_beads, 15);
    }

    /// Common practice, no source: one too many in a round is often noticed when
    /// the next round is begun.
    #[test]
    fn a_mistake_in_the_round_below_is_found_when_the_next_round_is_begun() {
        for spec in [
            testing::inward(3, 9, 4),
            testing::panel(3, 9),
            testing::panel(6, 12),
        ] {
            let way_in = spec.way == crate::beadwork::project::WorkDirection::Inward;
            let seq = Sequence::new(testing::single(spec));
            let (below, next) = if way_in { (7, 6) } else { (7, 8) };
            let (job, side) = (Job(0), None);
            let q = |round| CountQuestion {
                job,
                round: Round(round),
                side,
            };
            for beads in 1..=5 {
                let at = seq
                    .iter()
                    .find(|m| m.round == Some(Round(next)) && m.round_beads >= beads);
                let (at, beads) = at.map(|m| (Some(m.step), m.round_beads)).unwrap();
                let due = answer(&seq, &q(below), at, 0).unwrap().expected;
                for counted in [due - 1, due + 1] {
                    let asked = answer(&seq, &q(next), at, counted).unwrap();
                    let found = answer_of_round_below(&seq, &q(next), at, &asked, &[counted]);
                    let (found, there) = found.unwrap();
                    assert_eq!((found.round, there.expected), (Round(below), due));
                    let of_below = |c: &&Cause| c.mistake.other_round() == Some(Round(below));
                    let of_asked = asked.causes.iter().filter(of_below);
                    let causes = there.causes.iter().chain(of_asked);
                    let places = causes.flat_map(|cause| &cause.places);
                    assert!(places.clone().count() > 0);
                    for place in places {
                        assert_eq!(seq.step(place.steps.0).unwrap().round, Some(Round(below)));
                        assert!(place.steps.1 <= at.unwrap());
                    }
                }
                // A slip in the round that is asked about stays there.
                let asked = answer(&seq, &q(next), at, beads + 1).unwrap();
                let found = answer_of_round_below(&seq, &q(next), at, &asked, &[beads + 1]);
                assert_eq!(found, None);
            }
        }
    }

    #[test]
    fn a_count_that_fits_a_step_nearby_says_how_many_movements_away_it_is() {
        let (seq, q, at) = half_a_round();
        let at = at.unwrap();
        let ahead = answer(&seq, &q, Some(at), 9).unwrap();
        assert_eq!(ahead.causes[0].mistake, Mistake::OtherStep(Step(at.0 + 2)));
        assert_eq!(
            ahead.causes[0].cause,
            "you are 2 movements ahead of the screen"
        );
        let behind = answer(&seq, &q, Some(at), 6).unwrap();
        assert!(
            behind.causes[0].cause.contains("1 movement behind"),
            "{behind:?}"
        );
    }

    #[test]
    fn a_right_sum_with_sides_that_differ_says_so() {
        let a = answer_sides(&inward(), Job(0), Round(5), None, &[4, 5, 6]).unwrap();
        assert_eq!((a.expected, a.counted), (15, 15));
        assert_eq!(a.sides, [(Side(0), -1), (Side(2), 1)]);
        assert_ne!(a.verdict, Verdict::Match);
    }

    /// Where a count of the whole round begins does not matter, and no cause is
    /// listed twice.
    #[test]
    fn no_impossible_cause_is_listed_and_none_twice() {
        let (seq, q, at) = half_a_round();
        for (seq, at) in [(&inward(), None), (&seq, at)] {
            for counted in 0..40 {
                for cause in answer(seq, &q, at, counted).unwrap().causes {
                    assert!(!cause.mistake.is_wrong_side(), "{counted}: {cause:?}");
                    let parts: Vec<&str> = cause.cause.split(", and ").collect();
                    assert!(parts.len() < 2 || parts[0] != parts[1], "{cause:?}");
                    let looks: Vec<&str> = cause.look.split("; and ").collect();
                    assert!(looks.len() < 2 || looks[0] != looks[1], "{cause:?}");
                }
            }
        }
    }

    /// The string of a free start is rounds 8 and 7 on one thread: 45 beads.
    #[test]
    fn a_string_is_counted_whole() {
        let seq = inward();
        let ninth = seq
            .iter()
            .find(|m| m.strings.contains(&crate::beadwork::Bead(9)));
        let at = ninth.map(|m| m.step).unwrap();
        let q = super::super::current_question(&seq, at).unwrap();
        let a = answer(&seq, &q, Some(at), 9).unwrap();
        assert_eq!((a.verdict, a.whole), (Verdict::Match, 24 + 21));
    }

    #[test]
    fn the_teeth_of_a_zip_are_counted_and_so_is_a_join_row() {
        use crate::beadwork::Kind;
        use crate::beadwork::project::{Closing, Solid};
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::Fill));
        let third = |kind, row: bool| {
            let is_row = |m: &crate::beadwork::Movement| (m.round > Some(Round(6))) == row;
            let m = seq
                .iter()
                .find(|m| m.kind == kind && is_row(m) && m.round_beads == 3);
            m.unwrap().step
        };
        for at in [third(Kind::Zip, false), third(Kind::Stitch, true)] {
            let q = super::super::current_question(&seq, at).unwrap();
            let a = answer(&seq, &q, Some(at), 3).unwrap();
            assert_eq!((a.verdict, a.whole), (Verdict::Match, 5));
            let under = answer(&seq, &q, Some(at), 2).unwrap();
            assert!(
                under.causes.iter().any(|c| c.mistake.is_in_the_work()),
                "{under:?}"
            );
            let over = answer(&seq, &q, Some(at), 4).unwrap();
            assert_eq!(over.causes[0].mistake, Mistake::OtherStep(Step(at.0 + 1)));
        }
    }
}
