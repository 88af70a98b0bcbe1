//! The step is found from answers about what is on the mat, for every step.

use super::look::look;
use super::search::{Next, Reply, Search};
use super::{Appearance, Ask};
use crate::beadwork::project::{Closing, Solid};
use crate::beadwork::{Movement, Project, Round, Sequence, Step, testing};
use proptest::prelude::*;

fn pieces() -> Vec<Project> {
    vec![
        testing::single(testing::panel(3, 6)),
        testing::single(testing::panel(6, 7)),
        testing::single(testing::inward(3, 7, 0)),
        testing::single(testing::inward(4, 9, 3)),
        testing::solid(Solid::Tetrahedron, 5, Closing::Fill),
        testing::solid(Solid::Cube, 5, Closing::SetIn),
        testing::folded_pair(6, 2),
        testing::ring(8, 4, Closing::SetIn),
        testing::single(testing::strip(6, 9)),
    ]
}

/// Answers correctly except where `twist` changes the answer, and compares the
/// picture at the end. Returns the number of questions asked, or `None` if the
/// step is not found.
fn play(seq: &Sequence, at: Step, twist: impl Fn(usize, Ask, u32) -> Reply) -> Option<usize> {
    let mut search = Search::new(seq);
    let seen = look(seq, at)?;
    for _ in 0..3 {
        let found = loop {
            match search.turn() {
                Next::Ask(q) => {
                    let nth = search.asked().len();
                    search.reply(q.ask, twist(nth, q.ask, seen.get(q.ask)));
                }
                Next::Found(found) => break found,
            }
        };
        let pictures = found.steps.iter().filter_map(|&s| look(seq, s));
        // If it is not sure, it says so: then the steps shown are not all.
        if found.sure < 0.5 || pictures.into_iter().any(|l| l == seen) {
            return Some(search.asked().len());
        }
        search.deny_result();
    }
    None
}

fn correctly(_: usize, _: Ask, seen: u32) -> Reply {
    Reply::Value(seen)
}

#[test]
fn every_step_is_found_by_correct_answers() {
    for project in pieces() {
        let seq = Sequence::new(project);
        for n in (1..=seq.steps()).step_by(7) {
            let mut search = Search::new(&seq);
            let seen = look(&seq, Step(n)).unwrap();
            let found = loop {
                match search.turn() {
                    Next::Ask(q) => search.reply(q.ask, Reply::Value(seen.get(q.ask))),
                    Next::Found(found) => break found,
                }
            };
            let shown = |s: &Step| look(&seq, *s) == Some(seen);
            assert!(
                found.steps.iter().any(shown),
                "step {n} of {}: {found:?}",
                seq.steps()
            );
        }
    }
}

/// The look of a single step is the same as in the stream from the first step.
#[test]
fn a_look_does_not_depend_on_where_reading_begins() {
    for project in pieces() {
        let seq = Sequence::new(project);
        let all = super::look::looks(&seq, Step(1), Step(seq.steps()));
        for (step, seen) in all {
            assert_eq!(look(&seq, step), Some(seen), "step {step}");
        }
    }
}

#[test]
fn coarse_questions_have_one_answer_for_a_whole_stretch() {
    for project in pieces() {
        let seq = Sequence::new(project);
        for stretch in super::stretch::stretches(&seq) {
            for (step, seen) in super::look::looks(&seq, stretch.first, stretch.last) {
                for ask in Ask::ALL.into_iter().filter(|a| a.is_coarse()) {
                    assert_eq!(seen.get(ask), stretch.look.get(ask), "{ask:?} step {step}");
                }
            }
        }
    }
}

#[test]
fn without_any_answer_no_step_is_claimed_to_be_sure() {
    let seq = Sequence::new(testing::single(testing::panel(3, 6)));
    let mut search = Search::new(&seq);
    while let Next::Ask(q) = search.turn() {
        search.reply(q.ask, Reply::CannotTell);
    }
    let Next::Found(found) = search.turn() else {
        panic!("questions are left")
    };
    assert!(found.sure < 0.5, "{found:?}");
    assert_eq!(
        search.asked().len(),
        search.asked().len().min(Ask::ALL.len())
    );
}

#[test]
fn an_answer_can_be_taken_back() {
    let seq = Sequence::new(testing::single(testing::panel(3, 6)));
    let mut search = Search::new(&seq);
    let first = search.turn();
    let Next::Ask(q) = &first else { panic!() };
    search.reply(q.ask, Reply::Value(0));
    assert!(search.take_back());
    assert_eq!(search.turn(), first);
    assert!(!search.take_back());
}

#[test]
fn a_large_piece_is_narrowed_to_stretches_first() {
    let seq = Sequence::new(testing::ring(8, 60, Closing::SetIn));
    assert!(seq.steps() > super::search::MAX_FINE_STEPS);
    for n in [1, 70_000, 111_111, seq.steps() - 5] {
        let asked = play(&seq, Step(n), correctly);
        assert!(asked.is_some_and(|a| a <= 10), "step {n}: {asked:?}");
    }
}

fn seq_of(nth: usize) -> Sequence {
    Sequence::new(pieces().swap_remove(nth))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Any one answer may be wrong, by one or more, and the picture at the end
    /// may be refused.
    #[test]
    fn the_step_is_found_in_spite_of_one_wrong_answer(
        nth in 0..9usize,
        at in any::<prop::sample::Index>(),
        wrong in 0..6usize,
        by in prop_oneof![Just(-1i64), Just(1), -4i64..5],
    ) {
        let seq = seq_of(nth);
        let at = Step(at.index(seq.steps() as usize) as u32 + 1);
        let twist = |n: usize, _: Ask, seen: u32| match n == wrong {
            true => Reply::Value((i64::from(seen) + by).max(0) as u32),
            false => Reply::Value(seen),
        };
        let all_correct = play(&seq, at, correctly).unwrap();
        let asked = play(&seq, at, twist);
        prop_assert!(asked.is_some(), "step {at}");
        prop_assert!(asked.unwrap() <= all_correct + 20, "{asked:?} not {all_correct}");
    }

    #[test]
    fn a_question_without_an_answer_costs_another_question(
        nth in 0..9usize,
        at in any::<prop::sample::Index>(),
        unanswered in 0..6usize,
    ) {
        let seq = seq_of(nth);
        let at = Step(at.index(seq.steps() as usize) as u32 + 1);
        let twist = |n: usize, _: Ask, seen: u32| match n == unanswered {
            true => Reply::CannotTell,
            false => Reply::Value(seen),
        };
        prop_assert!(play(&seq, at, twist).is_some());
    }
}

#[test]
fn a_look_answers_what_a_maker_sees() {
    let seq = Sequence::new(testing::single(testing::panel(3, 4)));
    // Round 3 of a triangle, with its step-up still to come.
    let m = seq
        .iter()
        .find(|m| m.round.map(|r| r.0) == Some(3) && m.round_beads == 9)
        .unwrap();
    let seen: Appearance = look(&seq, m.step).unwrap();
    assert_eq!(seen.get(Ask::Rounds), 3);
    assert_eq!(seen.get(Ask::InRound), 9);
    assert_eq!(seen.get(Ask::SidesWhole), 3);
    assert_eq!(seen.get(Ask::Corner), 2);
    assert_eq!(seen.get(Ask::Faces), 0);
}

/// A strip has no step that closes its string: its third row ends it.
#[test]
fn the_third_row_of_a_strip_is_no_string() {
    let seq = Sequence::new(testing::single(testing::strip(6, 9)));
    let seen = |m: &Movement| {
        let seen = look(&seq, m.step).unwrap();
        [Ask::HalfDone, Ask::Rounds, Ask::InRound].map(|ask| seen.get(ask))
    };
    let mut rows = seq.iter().filter(|m| m.round == Some(Round(3)));
    let (first, last) = (rows.next().unwrap(), rows.last().unwrap());
    let half_done = |m: &Movement| Ask::HalfDone.value_in_words(&seq, seen(m)[0]);
    assert_eq!(half_done(&first), half_done(&last));
    assert_ne!(half_done(&first), half_done(&seq.step(Step(9)).unwrap()));
    assert_eq!(seen(&first)[1..], [3, 1]);
    assert_eq!(seen(&last)[1..], [3, 6]);
}
