//! Random mistakes in random panels: the true cause must be among the first
//! three, with its place.
//!
//! The counts are computed here from the gap words, without the slots.

use super::mistake::{CountedRound, Mistake};
use super::{Answer, Cause, CountQuestion, answer, answer_sides};
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::project::{Growth, PanelSpec, WorkDirection};
use crate::beadwork::round_work::RoundWork;
use crate::beadwork::{Job, Panel, Round, Sequence, Side, Step, testing};
use proptest::prelude::*;

/// A panel by the usual law, outward or inward, or by gap words, or a strip.
fn any_panel() -> impl Strategy<Value = PanelSpec> {
    let by_law = (3u8..=8, 3u32..=12, any::<bool>(), 0u32..3).prop_map(
        |(sides, rounds, out, open)| match out {
            true => testing::panel(sides, rounds),
            false => testing::inward(sides, rounds, open.min(rounds - 2)),
        },
    );
    let words = (3u8..=6, prop::collection::vec(any::<u64>(), 1..5)).prop_map(|(sides, seeds)| {
        let ring = u32::from(sides) * 2;
        let mut beads = ring;
        let words: Vec<GapWord> = seeds
            .iter()
            .map(|&seed| {
                let gap = |i: u32| match seed.rotate_left(i * 7) % 8 {
                    0 => 0,
                    1 | 2 => 2,
                    _ => 1,
                };
                let mut word = GapWord::new((0..beads).map(gap));
                if word.beads() < u32::from(sides) {
                    word = GapWord::new((0..beads).map(|_| 1));
                }
                beads = word.beads();
                word
            })
            .collect();
        PanelSpec {
            rounds: words.len() as u32 + 1,
            growth: Growth::Words { ring, words },
            ..testing::panel(sides, words_rounds(&seeds))
        }
    });
    let strips = (2u32..=8, 3u32..=12).prop_map(|(beads, rows)| testing::strip(beads, rows));
    prop_oneof![3 => by_law, 1 => words, 1 => strips]
}

fn words_rounds(seeds: &[u64]) -> u32 {
    seeds.len() as u32 + 1
}

/// A mistake at gap `j`: its kind, the change of each side's count, its side,
/// and whether it is at a corner.
fn slip(
    seq: &Sequence,
    work: &RoundWork<'_>,
    j: u32,
    more: bool,
    second: bool,
) -> (Mistake, Vec<i32>, Side, bool) {
    let kind = seq.layout().kind(Panel(0));
    let before = work.strung_before(j);
    let takes = work.in_gap(j);
    let mut by = vec![0; usize::from(kind.sides())];
    let old = |j| kind.side(work.on, work.old_bead(j));
    let new = |n| kind.side(work.makes, work.new_bead(n));
    let mut at = |side: Side, n: i32| by[side.index()] += n;
    let (mistake, side) = match takes {
        0 => {
            let counts_to = if second { old(j + 1) } else { old(j) };
            at(counts_to, 1);
            (Mistake::BeadAtCorner(old(j)), old(j))
        }
        1 if more => {
            at(new(before), 1);
            (Mistake::TwoInGap(new(before)), new(before))
        }
        1 => {
            at(new(before), -1);
            (Mistake::GapSkipped(new(before)), new(before))
        }
        _ => {
            let missing = new(before + u32::from(second));
            at(missing, -1);
            if more {
                at(new(before + u32::from(!second)), -1);
                (Mistake::CornerPassed(new(before)), new(before))
            } else {
                (Mistake::PairAsOne(new(before), missing), new(before))
            }
        }
    };
    let corner = match takes {
        0 => old(j) != old(j + 1),
        2 => new(before) != new(before + 1),
        _ => false,
    };
    (mistake, by, side, corner)
}

/// The kind of a mistake, without its place.
fn kind(mistake: &Mistake) -> std::mem::Discriminant<Mistake> {
    std::mem::discriminant(mistake)
}

/// Among how many first causes the true one must be. On a panel with gap words,
/// a neighbouring round can have the same beads on each side as the mistake
/// gives, so there four causes fit.
fn rank_allowed(spec: &PanelSpec) -> usize {
    match spec.growth {
        Growth::Law(_) | Growth::Rows { .. } => 3,
        Growth::Words { .. } | Growth::Own(_) => 4,
    }
}

fn has_cause(answer: &Answer, mistake: &Mistake, at: Option<(Side, bool)>) -> bool {
    has_cause_among(3, answer, mistake, at)
}

/// That only one side was counted comes before all others.
fn has_cause_among(
    first: usize,
    answer: &Answer,
    mistake: &Mistake,
    at: Option<(Side, bool)>,
) -> bool {
    let one_side = |cause: &&Cause| cause.mistake == Mistake::OneSide;
    let others = answer.causes.iter().skip_while(one_side);
    others.take(first).any(|cause| {
        let place = |(side, corner): (Side, bool)| {
            let named = cause.look.contains(&format!("side {side}"))
                || cause.look.contains("any of the sides");
            let is_there = |p: &super::RoundPlace| p.side == side && (p.corner || !corner);
            named && cause.places.iter().any(is_there)
        };
        kind(&cause.mistake) == kind(mistake) && at.is_none_or(place)
    })
}

fn counted(seq: &Sequence, round: Round) -> CountedRound<'_> {
    CountedRound {
        seq,
        job: Job(0),
        round,
        at: None,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn a_mistake_in_any_gap_is_among_the_first_three_with_its_place(
        spec in any_panel(),
        which in any::<prop::sample::Index>(),
        gap in any::<prop::sample::Index>(),
        (more, second) in any::<(bool, bool)>(),
    ) {
        let by_law = matches!(spec.growth, Growth::Law(_));
        let first = rank_allowed(&spec);
        let seq = Sequence::new(testing::single(spec));
        let layout = seq.layout();
        let (making, layout_of) = (layout.making(Panel(0)), layout.kind(Panel(0)));
        let last = layout_of.rounds();
        let worked: Vec<u32> = match making.begin.way() {
            WorkDirection::Outward => (making.strung_rounds(layout_of).end - 1..last).collect(),
            WorkDirection::Inward => (making.innermost().0 + 1..=last).collect(),
        };
        prop_assume!(!worked.is_empty());
        let on = Round(*which.get(&worked));
        let work = making.work(layout_of, on);
        let j = gap.index(work.gaps() as usize) as u32;
        let (mistake, by, side, corner) = slip(&seq, &work, j, more, second);
        let right: Vec<u32> = (0..layout_of.sides()).map(|s| layout_of.on_side(work.makes, Side(s))).collect();
        prop_assume!(right.iter().zip(&by).all(|(&r, &b)| r as i32 + b >= 0));
        let seen: Vec<u32> = right.iter().zip(&by).map(|(r, &b)| r.saturating_add_signed(b)).collect();

        let by_sides = answer_sides(&seq, Job(0), work.makes, None, &seen).unwrap();
        prop_assert!(
            has_cause_among(first, &by_sides, &mistake, Some((side, corner))),
            "{mistake:?} at {j} in {by_sides:#?}"
        );
        let q = CountQuestion { job: Job(0), round: work.makes, side: None };
        let whole = answer(&seq, &q, None, seen.iter().sum()).unwrap();
        prop_assert!(
            has_cause_among(first, &whole, &mistake, Some((side, corner))),
            "{mistake:?} at {j} in {whole:#?}"
        );

        // The count of a single side.
        let changed = (0..seen.len()).find(|&s| seen[s] != right[s]).unwrap();
        let q_side = CountQuestion { side: Some(Side(changed as u8)), ..q };
        let of_side = answer(&seq, &q_side, None, seen[changed]).unwrap();
        let single = by.iter().filter(|b| **b != 0).count() == 1;
        if single && by_law {
            prop_assert!(has_cause(&of_side, &mistake, Some((side, corner))), "{mistake:?} at {j} in {of_side:#?}");
        }

        // One of its places is this gap, and the mend goes back to it.
        let cause = by_sides.causes.iter().find(|c| kind(&c.mistake) == kind(&mistake)).unwrap();
        let place = cause.places.iter().find(|p| (p.first_gap..p.first_gap + p.gaps).contains(&j)).unwrap();
        let step = counted(&seq, work.makes).step_of_gap(j).unwrap();
        prop_assert!(place.steps.0 <= step && step <= place.steps.1);
        let m = seq.step(step).unwrap();
        prop_assert_eq!(m.round, Some(work.makes));
        prop_assert_eq!(m.strings.len() as u32, work.in_gap(j));
        let end = crate::beadwork::Step(seq.steps());
        match super::mend(&seq, &q, cause, Some(place), end) {
            super::Mend::Unpick { back_to, .. } => prop_assert!(back_to < step),
            other => prop_assert!(false, "{other:?}"),
        }
    }

    #[test]
    fn a_missed_step_up_is_among_the_first_three(
        spec in any_panel(),
        which in any::<prop::sample::Index>(),
    ) {
        let first_causes = rank_allowed(&spec);
        let seq = Sequence::new(testing::single(spec));
        let steps: Vec<_> = seq
            .iter()
            .filter(|m| matches!(m.kind, crate::beadwork::Kind::StepUp | crate::beadwork::Kind::StepDown))
            .collect();
        prop_assume!(!steps.is_empty());
        let missed = which.get(&steps);
        let round = missed.round.unwrap();
        let c = counted(&seq, round);
        // A free start is closed by another kind of step.
        prop_assume!(c.turn() == Some(missed.step));
        let kind = seq.layout().kind(Panel(0));
        let first = *missed.passes.last().unwrap();
        let side = seq.layout().seat(first).side;
        let mut seen: Vec<u32> = (0..kind.sides()).map(|s| kind.on_side(round, Side(s))).collect();
        seen[side.index()] += 1;
        let by_sides = answer_sides(&seq, Job(0), round, None, &seen).unwrap();
        prop_assert!(has_cause_among(first_causes, &by_sides, &Mistake::TurnMissed, Some((side, false))), "{by_sides:#?}");
        let cause = by_sides.causes.iter().find(|c| c.mistake == Mistake::TurnMissed).unwrap();
        prop_assert_eq!(cause.places[0].steps.0, missed.step);
    }

    #[test]
    fn a_mistake_in_counting_is_among_the_first_three(
        spec in any_panel(),
        which in any::<prop::sample::Index>(),
        what in 0..3,
    ) {
        let first = rank_allowed(&spec);
        let seq = Sequence::new(testing::single(spec));
        let layout = seq.layout();
        let rounds: Vec<u32> = (layout.making(Panel(0)).innermost().0..=layout.kind(Panel(0)).rounds()).collect();
        let round = Round(*which.get(&rounds));
        let c = counted(&seq, round);
        let right = c.sides();
        let (mistake, at, seen) = match what {
            0 => {
                let Some(&other) = c.neighbours().first() else { return Ok(()) };
                (Mistake::OtherRound(other), None, c.sides_of(other))
            }
            1 => {
                let Some(under) = c.worked_on() else { return Ok(()) };
                let both = right.iter().zip(c.sides_of(under));
                // A side without an up bead cannot be counted double.
                let both = both.map(|(&h, l)| if h == 0 { 0 } else { h + l });
                (Mistake::BothEdges(under), None, both.collect())
            }
            _ => {
                let inside = seq.iter().filter(|m| m.round == Some(round) && m.round_beads < m.round_target);
                let Some(m) = inside.last() else { return Ok(()) };
                let at = CountedRound { at: Some(m.step), ..c };
                // The maker has pressed the key once too often.
                let before = CountedRound { at: Some(Step(m.step.0 - 1)), ..c };
                let there = |c: &CountedRound<'_>| c.beads().map_or(vec![], |b| b.there);
                let seen = there(&before);
                prop_assume!(seen.iter().any(|&n| n > 0) && seen != there(&at));
                (Mistake::OtherStep(Step(m.step.0 - 1)), Some(m.step), seen)
            }
        };
        prop_assume!(seen != right);
        let by_sides = answer_sides(&seq, Job(0), round, at, &seen).unwrap();
        prop_assert!(has_cause_among(first, &by_sides, &mistake, None), "{mistake:?} in {by_sides:#?}");
        let total: u32 = seen.iter().sum();
        if total != right.iter().sum::<u32>() {
            let q = CountQuestion { job: Job(0), round, side: None };
            let whole = answer(&seq, &q, at, total).unwrap();
            prop_assert!(has_cause_among(first, &whole, &mistake, None), "{mistake:?} in {whole:#?}");
        }
    }
}
