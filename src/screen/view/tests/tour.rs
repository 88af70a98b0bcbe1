//! How lessons and words are drawn.

use super::*;
use crate::progress::{Entry, Setting, Value};
use crate::words;

fn touring(look: Look) -> Session {
    let seq = proof::practice_pair();
    let mut piece = Piece::in_memory("Pair of sails", b"{}", seq.steps(), Moment(0));
    let _ = piece.record(Entry::set(Setting::TOUR, Value::Flag(true), Moment(0)));
    Session::new(seq, piece, look, Moment(0))
}

/// All blanks and line ends as one blank, and the line beside a lesson away.
fn running(text: &str) -> String {
    let words = text.split_whitespace().filter(|w| *w != "│");
    words.collect::<Vec<_>>().join(" ")
}

/// The right part of each line, behind the line beside a lesson.
fn beside(text: &str) -> String {
    let lines = text.lines().filter_map(|l| l.split_once("│ "));
    lines.map(|(_, right)| right).collect::<Vec<_>>().join(" ")
}

/// The tour at its least full size: each lesson whole, and with it the whole
/// movement and every bead that it is about.
#[test]
fn a_lesson_hides_neither_itself_nor_the_movement_nor_the_picture() {
    for (wide, high) in [(80, 24), (76, 24), (120, 40), (100, 30), (76, 60)] {
        for left in [false, true] {
            let mut session = touring(LOOK);
            session.apply(Action::Leave, Moment(0));
            if left {
                session.apply(Action::Hand, Moment(0));
            }
            let mut lessons = 0;
            while let Some(m) = session.movement() {
                let text = shown(&mut session, wide, high);
                let all = running(&text);
                assert!(all.contains(&session.seq.say(&m)), "{text}");
                if !m.strings.is_empty() {
                    assert!(text.contains('╔') || text.contains("new: "), "{text}");
                }
                let entered = crate::screen::session::entered(&m);
                for n in 1..=entered {
                    let arrow = if left { '▶' } else { '◀' };
                    let mark = format!("{arrow}{n}{arrow}");
                    let named = format!("{n}: ");
                    let one = entered == 1 && text.contains(arrow);
                    let seen = one || text.contains(&mark) || text.contains(&named);
                    assert!(seen || text.contains("enter "), "bead {n}\n{text}");
                }
                if let Some(lesson) = session.lesson() {
                    lessons += 1;
                    let right = running(&beside(&text));
                    for words in [lesson.hands, lesson.look, lesson.wrong] {
                        let words = session.reader().text(words);
                        let whole = all.contains(&words) || right.contains(&words);
                        assert!(whole, "{wide}x{high}: {words}\n{text}");
                    }
                }
                session.apply(Action::Forward, Moment(0));
            }
            assert_eq!(lessons, 18);
        }
    }
}

#[test]
fn in_a_small_terminal_a_line_says_that_there_is_a_lesson() {
    let mut session = touring(LOOK);
    session.apply(Action::Leave, Moment(0));
    while let Some(m) = session.movement() {
        let text = running(&shown(&mut session, 40, 12));
        if !m.strings.is_empty() {
            assert!(text.contains('╔') || text.contains("new: "), "{text}");
        }
        let told = text.contains("e reads the lesson: ");
        assert_eq!(told, session.lesson().is_some(), "{text}");
        session.apply(Action::Forward, Moment(0));
    }
}

#[test]
fn the_page_of_a_lesson_gives_way_on_a_key() {
    let mut session = touring(LOOK);
    session.apply(Action::Leave, Moment(0));
    let stitches = shown(&mut session, 40, 12);
    session.apply(Action::Lesson, Moment(0));
    let page = shown(&mut session, 40, 12);
    assert!(page.contains("Cut the thread"), "{page}");
    session.apply(Action::Leave, Moment(0));
    assert_eq!(shown(&mut session, 40, 12), stitches);
}

/// What can hurt is told before the first step, all of it on one screen.
#[test]
fn the_card_of_the_tour_tells_all_cautions() {
    for (wide, high) in [(80, 24), (120, 40)] {
        let mut session = touring(LOOK);
        let text = running(&shown(&mut session, wide, high));
        for caution in words::care::CAUTIONS {
            assert!(text.contains(caution), "{text}");
        }
        assert!(text.contains("You need 18 beads L (linen), 20 beads R (rust red)"));
        assert!(!text.contains("more below"));
    }
    // In a small terminal they are further down, and the card says so.
    let mut session = touring(LOOK);
    assert!(shown(&mut session, 40, 12).contains("more below: down arrow"));
    let mut text = String::new();
    for _ in 0..40 {
        text += &running(&shown(&mut session, 40, 12));
        session.apply(Action::Down, Moment(0));
    }
    assert!(text.contains("wash your hands."), "{text}");
}

#[test]
fn a_step_up_with_its_lesson() {
    let mut session = touring(LOOK);
    session.apply(Action::Leave, Moment(0));
    for _ in 0..8 {
        session.apply(Action::Forward, Moment(0));
    }
    insta::assert_snapshot!(shown(&mut session, 80, 24));
}

#[test]
fn a_word_with_its_drawing() {
    let mut session = touring(LOOK);
    session.apply(Action::Leave, Moment(0));
    for _ in 0..8 {
        session.apply(Action::Forward, Moment(0));
    }
    session.apply(Action::Ask, Moment(0));
    session.apply(Action::Choose, Moment(0));
    insta::assert_snapshot!(shown(&mut session, 80, 24));
}

/// Every word can be read to its end in a small terminal, in letters and signs
/// that it can show.
#[test]
fn every_word_is_drawn_in_ascii_too() {
    let look = Look {
        depth: Depth::None,
        unicode: false,
    };
    for word in words::all() {
        for left in [false, true] {
            let lines = super::super::words::explained(word, left, look);
            let text: String = lines.iter().map(|l| format!("{l}\n")).collect();
            assert!(text.is_ascii(), "{text}");
            assert!(text.contains(word.means) && text.contains("See also: 1 "));
        }
    }
}

#[test]
fn drawings_are_mirrored_for_the_left_hand() {
    let stitch = words::named("stitch").unwrap();
    let drawn = |left| {
        let lines = super::super::words::drawing(stitch, left, LOOK);
        lines[1].to_string().trim().to_string()
    };
    assert_eq!(drawn(false), "◀[A]     [A]◆");
    assert_eq!(drawn(true), "◆[A]     [A]▶");
}
