//! The beginner's tour, key by key.

use super::*;
use crate::beadwork::Kind;
use crate::progress::{Entry, Setting, Value};
use crate::tour;

/// A sitting at the tour's piece, with its card closed.
fn touring() -> Sitting {
    let mut session = sit(proof::practice_pair());
    let on = Entry::set(Setting::TOUR, Value::Flag(true), Moment(0));
    let _ = session.piece.record(on);
    session.press("_");
    session
}

fn name(session: &Sitting) -> Option<&'static str> {
    session.lesson().map(|l| l.name)
}

#[test]
fn lessons_come_up_at_their_movements_and_are_kept() {
    let mut s = touring();
    assert_eq!(name(&s), Some("thread"));
    s.press("_");
    assert_eq!(name(&s), Some("ring"));
    s.press("_");
    assert_eq!(name(&s), None, "the second bead of the ring has no lesson");
    assert_eq!(s.session.shown().words(), ["thread@1", "ring@2"]);
    s.press("<");
    assert_eq!(name(&s), Some("ring"), "gone back, it is there again");
    s.press("___");
    assert_eq!(
        s.session.shown().words(),
        ["thread@1", "ring@2"],
        "and kept once"
    );
}

#[test]
fn the_whole_tour_ends_with_all_its_lessons_kept() {
    let mut s = touring();
    while s.movement().is_some() {
        s.press("_");
    }
    assert_eq!(name(&s), Some("finished"));
    // All except the rim and the fold, and the last one, after which there is
    // no step.
    assert_eq!(s.session.shown().count(), tour::lessons().len() - 3);
}

#[test]
fn a_tour_that_is_left_shows_nothing_until_it_is_taken_up() {
    let mut s = touring();
    s.press("___ex_");
    assert_eq!(s.open(), "Stitching");
    s.press("_");
    assert_eq!(s.movement().unwrap().kind, Kind::Ring);
    assert_eq!(name(&s), None);
    assert_eq!(s.session.shown().count(), 2);
    s.press("ex^");
    assert_eq!(
        name(&s),
        Some("ring-closed"),
        "it goes on where the work is"
    );
}

#[test]
fn a_tour_can_be_repeated() {
    let mut s = touring();
    while s.done() < Step(10) {
        s.press("_");
    }
    s.press("er_");
    assert_eq!(s.session.shown().count(), 0);
    // At a stitch now: of the earlier lessons, this one is about it.
    assert_eq!(name(&s), Some("gap"));
}

#[test]
fn the_page_of_a_lesson_opens_where_the_maker_is_and_leads_to_the_others() {
    let mut s = touring();
    s.press("_____e");
    let page = |s: &mut Sitting| {
        let text = s.shown(120, 40);
        let number = text
            .split("Lesson ")
            .find_map(|t| t.split_once(" of ")?.0.parse().ok());
        tour::lessons()[number.map_or(99, |n: usize| n - 1)].name
    };
    assert_eq!(page(&mut s), "increase");
    s.press("→");
    assert_eq!(page(&mut s), "step-up");
    s.press("←←←←←←←←");
    assert_eq!(page(&mut s), "thread");
    s.press(&"→".repeat(99));
    assert_eq!(page(&mut s), "finished");
    s.press("_");
    assert_eq!((s.open(), s.done()), ("Stitching", Step(5)));
}

#[test]
fn without_a_tour_no_lesson_comes_up() {
    let mut s = sit(proof::practice_pair());
    s.press("______");
    assert_eq!(name(&s), None);
    assert_eq!(s.session.shown().words(), Vec::<String>::new());
    // It can be started on any piece.
    s.press("ex_");
    assert_eq!(name(&s), Some("increase"));
}

#[test]
fn the_tour_is_offered_on_a_new_piece_of_ours_only() {
    let mut s = sit(proof::practice_pair());
    assert!(s.offers_tour());
    assert_eq!(s.press("e"), Some(Exit::Open(Choice::Tour)));
    s.press("__");
    assert!(!s.offers_tour(), "not once it is begun");
    assert!(!touring().offers_tour(), "not on the tour itself");
}
