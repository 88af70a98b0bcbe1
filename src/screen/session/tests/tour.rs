//! The beginner's tour, and asking about a word, key by key.

use super::*;
use crate::progress::{Entry, Setting};
use crate::tour;

/// A sitting at the tour's piece, its card left behind.
fn touring() -> Session {
    let mut session = sit(proof::practice_pair());
    let on = Entry::set(Setting::TOUR, Value::Flag(true), Moment(0));
    let _ = session.piece.record(on);
    press(&mut session, "_");
    session
}

fn name(session: &Session) -> Option<&'static str> {
    session.lesson().map(|l| l.name)
}

#[test]
fn lessons_come_up_at_their_movements_and_are_kept() {
    let mut s = touring();
    assert_eq!(name(&s), Some("thread"));
    press(&mut s, "_");
    assert_eq!(name(&s), Some("ring"));
    press(&mut s, "_");
    assert_eq!(name(&s), None, "the second bead of the ring has no lesson");
    assert_eq!(s.shown().words(), ["thread@1", "ring@2"]);
    press(&mut s, "<");
    assert_eq!(name(&s), Some("ring"), "gone back, it is there again");
    press(&mut s, "___");
    assert_eq!(s.shown().words(), ["thread@1", "ring@2"], "and kept once");
}

#[test]
fn the_whole_tour_ends_with_all_its_lessons_kept() {
    let mut s = touring();
    while s.movement().is_some() {
        press(&mut s, "_");
    }
    assert_eq!(name(&s), Some("finished"));
    // All but the rim and the fold, and the last, which no step follows.
    assert_eq!(s.shown().count(), tour::lessons().len() - 3);
}

#[test]
fn a_tour_that_is_left_shows_nothing_until_it_is_taken_up() {
    let mut s = touring();
    press(&mut s, "___ex_");
    assert_eq!(s.pane, Pane::Stitch);
    press(&mut s, "_");
    assert_eq!(s.movement().unwrap().kind, Kind::Ring);
    assert_eq!(name(&s), None);
    assert_eq!(s.shown().count(), 2);
    press(&mut s, "ex^");
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
        press(&mut s, "_");
    }
    press(&mut s, "er_");
    assert_eq!(s.shown().count(), 0);
    // At a stitch now: of the lessons that were, this one is about it.
    assert_eq!(name(&s), Some("gap"));
}

#[test]
fn the_page_of_a_lesson_opens_where_the_maker_is_and_leads_to_the_others() {
    let mut s = touring();
    press(&mut s, "_____e");
    let page = |s: &Session| match s.pane {
        Pane::Lesson { at, .. } => tour::lessons()[at].name,
        _ => panic!("{:?}", s.pane),
    };
    assert_eq!(page(&s), "increase");
    press(&mut s, "v");
    assert_eq!(page(&s), "step-up");
    press(&mut s, "kkkkkkkk");
    assert_eq!(page(&s), "thread");
    press(&mut s, &"v".repeat(99));
    assert_eq!(page(&s), "finished");
    press(&mut s, "_");
    assert_eq!((s.pane.clone(), s.done()), (Pane::Stitch, Step(5)));
}

#[test]
fn without_a_tour_no_lesson_comes_up() {
    let mut s = sit(proof::practice_pair());
    press(&mut s, "______");
    assert_eq!(name(&s), None);
    assert_eq!(s.shown().words(), Vec::<String>::new());
    // It can be taken up on any piece.
    press(&mut s, "ex_");
    assert_eq!(name(&s), Some("increase"));
}

#[test]
fn a_word_is_asked_about_from_the_stitches_and_back() {
    let mut s = touring();
    while s.movement().unwrap().kind != Kind::StepUp {
        press(&mut s, "_");
    }
    let at = s.done();
    press(&mut s, "a");
    assert_eq!(s.place(), Place::Words);
    press(&mut s, "!");
    assert_eq!(s.place(), Place::Word);
    let open = |s: &Session| match &s.pane {
        Pane::Words { asking, .. } => asking.open().unwrap().word,
        other => panic!("{other:?}"),
    };
    assert_eq!(open(&s), "step-up", "what is going on comes first");
    press(&mut s, "1");
    assert_eq!(open(&s), "step-down");
    press(&mut s, "<");
    assert_eq!(open(&s), "step-up");
    press(&mut s, "^");
    assert_eq!((s.pane.clone(), s.done()), (Pane::Stitch, at));
}

/// Wherever letters are no text, `a` asks, and leaving leads back there.
#[test]
fn words_are_asked_about_wherever_the_maker_is() {
    for keys in ["", "_", "_?", "_o", "_s", "_e"] {
        let mut s = sit(proof::practice_pair());
        press(&mut s, keys);
        let before = s.pane.clone();
        press(&mut s, "a");
        let Pane::Words { asking, .. } = &s.pane else {
            panic!("{keys}: {:?}", s.pane);
        };
        assert!(!asking.here().is_empty(), "{keys}");
        press(&mut s, "!^");
        assert_eq!(s.pane, before, "{keys}");
    }
    // A note may begin with the letter.
    let mut s = sit(proof::practice_pair());
    press(&mut s, "_na");
    assert!(matches!(&s.pane, Pane::Note { typed } if typed == "a"));
}

#[test]
fn the_tour_is_offered_on_a_new_piece_of_ours_only() {
    let mut s = sit(proof::practice_pair());
    assert!(s.offers_tour());
    assert_eq!(press(&mut s, "e").leave, Some(Leaving::Tour));
    press(&mut s, "__");
    assert!(!s.offers_tour(), "not once it is begun");
    assert!(!touring().offers_tour(), "not on the tour itself");
}
