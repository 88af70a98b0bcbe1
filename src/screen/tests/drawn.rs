//! The stitches and the card, drawn; lessons and words.

use super::*;
use crate::beadwork::amend::{Amendment, JoinChange, JoinWhat};
use crate::beadwork::job::JobKind;
use crate::beadwork::project::Closing;
use crate::beadwork::{Movement, Stage};
use crate::progress::{Entry, Setting, Value};
use crate::screen::look::{Depth, Ground};
use crate::words;

#[test]
fn the_card_of_a_new_piece_does_not_wait_for_its_plan() {
    let (planned, wait) = std::sync::mpsc::channel::<()>();
    let go = move || {
        // If the card waits for the plan, the plan comes, and the test fails.
        let _ = wait.recv_timeout(std::time::Duration::from_secs(20));
    };
    let seq = proof::folded_pair(4, 1).planned_after(go);
    let piece = Piece::in_memory("Evening trial", b"{}", None, Moment(0));
    let mut sitting = Sitting::of(Session::new(seq, piece, LOOK, Moment(0)));
    let first = sitting.shown(80, 24);
    assert!(
        first.contains("Before you begin") && !sitting.seq.is_planned(),
        "{first}"
    );
    assert_eq!(sitting.piece.steps(), None);
    planned.send(()).unwrap();
    sitting.wait();
    let (whole, steps) = (sitting.shown(80, 24), sitting.seq.steps());
    assert!(whole.contains(&format!("step 1 of {steps}")), "{whole}");
    assert_eq!(sitting.piece.steps(), Some(steps));
}

/// Every bead that the movement is about is on the screen: in the picture, or
/// named below it.
#[test]
fn every_movement_shows_its_sentence_and_its_beads_at_every_full_size() {
    for seq in [proof::folded_pair(4, 1), proof::inward(3, 5, 1)] {
        let steps = seq.steps();
        let mut session = at(seq, 0);
        for _ in 0..steps {
            let m = session.movement().unwrap();
            let text = session.shown(80, 24).replace('\n', " ");
            let sentence = session.seq.say(&m);
            assert!(text.contains(&sentence), "{sentence}\n{text}");
            if !m.strings.is_empty() {
                assert!(text.contains('╔') || text.contains("new: "), "{text}");
            }
            let entered = crate::screen::session::entered(&m);
            if entered == 1 {
                let marks = ["◀◀", "▶▶", "enter "];
                assert!(marks.iter().any(|mark| text.contains(mark)), "{text}");
            }
            for n in 1..=entered {
                let marks = [format!("◀{n}◀"), format!("▶{n}▶"), format!("{n}: ")];
                let ok = entered == 1 || marks.iter().any(|mark| text.contains(mark));
                assert!(ok, "step {} bead {n}\n{text}", m.step);
            }
            session.press("_");
        }
        assert!(session.shown(80, 24).contains("All"));
    }
}

/// While beads are taken one at a time, the next one is said whole and is in the
/// picture, also where the way leads far; the help lists them all.
#[test]
fn of_a_long_way_the_next_bead_is_said_whole_and_drawn() {
    let bytes = include_bytes!("../../../patterns/harbour-lantern.json");
    let lantern = crate::pattern::read("harbour-lantern", bytes).unwrap();
    let seq = Sequence::new(lantern.project);
    for (wide, high) in [(80, 24), (40, 12)] {
        for step in [733, 737] {
            let mut session = sit(seq.clone());
            session.go_to(step);
            let m = session.movement().unwrap();
            let beads = crate::screen::session::entered(&m);
            session.press("?");
            let help = session.stack.spoken_of_top(&session.session);
            let help: Vec<String> = help.collect();
            assert!(help.contains(&seq.say_fully(&m)), "{help:?}");
            session.press("^");
            if step == 733 {
                let text = session.shown(wide, high);
                assert!(text.contains("▶2▶") || text.contains("2: A"), "{text}");
            }
            session.press("x");
            for nth in 0..beads {
                let text = session.shown(wide, high);
                let bead = seq.say_one_passed(&m, nth).unwrap();
                assert!(running(&text).contains(&bead), "{bead}\n{text}");
                let n = nth + 1;
                assert!(
                    running(&text).contains(&format!("Bead {n} of {beads}: ")),
                    "{text}"
                );
                let marks = [format!("◀{n}"), format!("▶{n}")];
                assert!(marks.iter().any(|mark| text.contains(mark)), "{text}");
                session.press("_");
            }
            assert_eq!(session.next_step().0, step + 1);
        }
    }
}

#[test]
fn done_and_to_come_differ_without_any_colour() {
    let mut session = at(proof::inward(3, 6, 0), 30);
    let area = Rect::new(0, 0, 80, 24);
    let mut buf = Buffer::empty(area);
    session.draw(area, &mut buf);
    for cell in &buf.content {
        assert_eq!(cell.fg, ratatui::style::Color::Reset);
        assert_eq!(cell.bg, ratatui::style::Color::Reset);
    }
    let text = proof::text(&buf);
    assert!(text.contains('┌') && text.contains('▕') && text.contains('╔'));
}

/// From step to step of a panel the picture keeps its scale and its rows, and
/// no line ends with a 'then' and nothing after it.
#[test]
fn the_picture_stays_as_large_and_as_high_from_step_to_step() {
    for (seq, wide, high) in [
        (proof::practice_pair(), 80, 24),
        (proof::inward(3, 8, 0), 80, 24),
        (proof::panel(3, 8), 120, 40),
        (proof::panel(3, 8), 40, 12),
    ] {
        let steps = seq.steps();
        let mut session = at(seq, 0);
        let mut scales = std::collections::BTreeMap::new();
        for _ in 0..steps - 1 {
            let text = session.shown(wide, high);
            let lines: Vec<&str> = text.lines().collect();
            // A long message at the foot may cover it.
            let progress = lines.iter().position(|line| line.contains("piece "));
            assert!(
                progress.is_none_or(|row| row == usize::from(high) - 3),
                "{text}"
            );
            let dangling = lines.iter().find(|line| line.trim_end().ends_with("then"));
            assert_eq!(dangling, None, "{text}");
            let area = Rect::new(0, 0, wide, high - 12 + high % 7);
            let scene = crate::screen::widgets::scene::of(&session.session, session.done());
            let scale = crate::screen::picture::scale(&scene, area);
            let job = session.job();
            assert_eq!(*scales.entry(job).or_insert(scale), scale, "{text}");
            session.press("_");
        }
    }
}

/// The left-handed picture is the mirror image of the right-handed one.
#[test]
fn the_left_hand_sees_the_mirror_image() {
    let mut session = at(proof::panel(3, 5), 27);
    let right = session.shown(81, 24);
    session.press("l");
    session.said.clear();
    let left = session.shown(81, 24);
    assert!(right.contains("◀◀") && !right.contains("▶▶"));
    assert!(left.contains("▶▶") && !left.contains("◀◀"));
    let of = |text: &str, sign: char| {
        let line = text
            .lines()
            .find(|l| l.contains('╔') && !l.contains("new bead"));
        line.unwrap().chars().position(|c| c == sign).unwrap() as i32
    };
    // The left end of the seat here, its right end there.
    assert!((of(&right, '╔') + of(&left, '╗') - 80).abs() <= 1);
}

#[test]
fn below_the_least_size_there_are_words_only() {
    let mut session = at(proof::panel(3, 5), 27);
    let text = session.shown(39, 11);
    assert!(text.starts_with("Pick up 1 "), "{text}");
    assert!(text.contains("round "), "{text}");
    assert!(!text.contains('╔'));
    assert!(!session.shown(1, 1).trim().is_empty());
    let mut none = Buffer::empty(Rect::new(0, 0, 0, 0));
    session.draw(Rect::new(0, 0, 0, 0), &mut none);
}

#[test]
fn below_the_least_size_the_chosen_line_of_a_list_is_seen() {
    for keys in ["m", "o", "s"] {
        let mut s = at(proof::tetrahedron(5, Closing::Fill, 1), 27);
        s.press(keys);
        for n in 0..30 {
            let text = s.shown(30, 6);
            assert!(text.contains('▶'), "{keys}, line {n}: {text}");
            s.press("↓");
        }
    }
}

/// A piece that rested at a step for nine days.
fn rested(seq: Sequence, step: u32) -> Sitting {
    let mut piece = Piece::in_memory("Evening trial", b"{}", seq.steps(), Moment(0));
    let day = 86_400_000;
    for (at, did) in [
        (
            1,
            crate::progress::Event::Move {
                step,
                why: crate::progress::MoveReason::Jump,
                made: vec![],
            },
        ),
        (2, crate::progress::Event::Rested),
        (9 * day + 3, crate::progress::Event::Opened),
    ] {
        let at = Moment(at);
        let _ = piece.record(crate::progress::Entry { at, did });
    }
    let session = Session::new(seq, piece, LOOK, Moment(9 * day + 3));
    Sitting::of(session)
}

#[test]
fn the_card_of_a_piece_that_rested_says_where_it_is() {
    let mut session = rested(proof::panel(3, 5), 26);
    let first = [
        "You were at: face, last worked on 9 days ago",
        "The needle comes out of ",
        "Next: Increase: pick up 2 P",
        "To be sure, count",
    ];
    let rest = ["Your last movements", "step 26: ", "Thread"];
    for (height, words) in [(24, &first[..]), (40, &first), (40, &rest)] {
        let text = session.shown(80, height);
        for words in words {
            assert!(text.contains(words), "{words}\n{text}");
        }
        assert!(text.contains('◆'), "{text}");
    }
    assert!(!session.shown(40, 12).contains('◆'));
    session.press("^");
    assert_eq!(session.open(), "Stitching");
}

/// Both panels, the next beads, the teeth that are locked, and the picture.
#[test]
fn the_card_of_a_zip_shows_where_the_teeth_are() {
    let seq = proof::folded_pair(5, 1);
    let zip = seq.iter().filter(|m| m.kind == crate::beadwork::Kind::Zip);
    let done = zip.skip(2).map(|m| m.step.0 - 1).next().unwrap();
    let mut session = rested(seq, done);
    for (width, height) in [(80, 24), (120, 40)] {
        let text = session.shown(width, height);
        for words in [
            "You were at: Zip Panel 2 to Panel 1",
            "Next: Zip: sew through the join bead and the edge bead (",
            "of Panel 1, then ",
            "the teeth of side 1: 2 of 4 locked",
            "◆",
        ] {
            assert!(text.contains(words), "{words}\n{text}");
        }
    }
    // A difference in a zip is a difference in its row: no key offers to keep
    // it here.
    session.press("1!");
    let text = session.shown(120, 40);
    assert!(text.contains("1 too few"), "{text}");
    assert!(!text.contains("keep as stitched"), "{text}");
}

#[test]
fn the_stitch_view_at_its_least_full_size() {
    let mut session = at(proof::panel(3, 5), 25);
    insta::assert_snapshot!(session.shown(80, 24));
}

#[test]
fn a_zip_shows_its_teeth() {
    let seq = proof::folded_pair(5, 1);
    let zip = seq
        .iter()
        .filter(|m| m.kind == crate::beadwork::Kind::Zip)
        .nth(2);
    let done = zip.unwrap().step.0 as usize - 1;
    let mut session = at(seq, done);
    insta::assert_snapshot!(session.shown(80, 24));
}

/// Two join beads in one gap lie side by side, in the row and in its zip, and
/// every bead that a movement is about is in the picture.
#[test]
fn two_join_beads_in_a_gap_lie_side_by_side() {
    let planned = proof::tetrahedron(8, Closing::SetIn, 0);
    let of_gap = |step: &Step| planned.row_gap_of(*step).map(|gap| gap.gap);
    let third = (1..=planned.steps()).map(Step);
    let third = third.clone().find(|step| of_gap(step) == Some(2)).unwrap();
    let before = Step(third.0 - 1);
    let found = planned.as_stitched(before, third, 2, None);
    let row = planned.row_gap_of(third).unwrap();
    let spread = |beads| {
        let change = JoinChange {
            panel: row.panel,
            side: row.side,
            what: JoinWhat::Beads(beads),
        };
        let before_the_row = Step(planned.job(planned.job_of(third)).steps_before);
        let amended = planned.amended(before_the_row, &Amendment::Join(change));
        amended.unwrap()
    };
    for seq in [found.unwrap().sequence, spread(8), spread(10)] {
        let is_join = |m: &Movement| {
            let stage = seq.stage_of(m.step);
            matches!(stage, Stage::RowStage(_) | Stage::Zip(_))
        };
        let movements: Vec<_> = seq.iter().filter(is_join).collect();
        let mut s = at(seq.clone(), 0);
        let mut pairs = 0;
        for m in movements {
            s.go_to(m.step.0);
            for (wide, high) in [(80, 24), (120, 40)] {
                let text = s.shown(wide, high);
                assert!(!text.contains("elsewhere: "), "step {}\n{text}", m.step);
                let legend = text.matches("╔╗").count();
                let new = text.matches('╔').count() - legend;
                assert_eq!(new, m.strings.len(), "step {}\n{text}", m.step);
            }
            pairs += usize::from(m.strings.len() == 2);
        }
        assert!(pairs > 0);
    }
}

/// In a fill, too, whether the needle comes to them from the same side or from the
/// one before.
#[test]
fn two_join_beads_in_a_gap_of_a_rim_lie_side_by_side() {
    let planned = proof::tetrahedron(5, Closing::Fill, 0);
    let fill = planned.jobs().last().unwrap();
    let on = match &fill.kind {
        JobKind::Fill { rim, .. } => rim[1],
        other => panic!("{other:?}"),
    };
    for gap in 0..4 {
        let is_there = |step: &Step| {
            let at = planned.row_gap_of(*step);
            at.is_some_and(|at| (at.panel, at.side, at.gap) == (on.0, on.1, gap))
        };
        let step = (1..=planned.steps()).map(Step).find(is_there).unwrap();
        let found = planned.as_stitched(Step(step.0 - 1), step, 2, None);
        let seq = found.unwrap().sequence;
        let first = seq.jobs().last().unwrap().steps_before + 1;
        let is_rim = |m: &Movement| matches!(seq.stage_of(m.step), Stage::RimRound(_));
        let mut s = at(seq.clone(), 0);
        let movements: Vec<_> = seq.iter_from(Step(first)).filter(is_rim).collect();
        assert!(movements.len() > 12);
        for m in movements {
            s.go_to(m.step.0);
            for (wide, high) in [(80, 24), (120, 40)] {
                let text = s.shown(wide, high);
                assert!(!text.contains("elsewhere: "), "step {}\n{text}", m.step);
            }
        }
    }
}

#[test]
fn an_inward_corner_is_drawn_together() {
    let seq = proof::inward(3, 5, 0);
    let corner = seq
        .iter()
        .find(|m| m.kind == crate::beadwork::Kind::Decrease);
    let done = corner.unwrap().step.0 as usize - 1;
    let mut session = at(seq, done);
    insta::assert_snapshot!(session.shown(80, 24));
}

fn touring(look: Look) -> Sitting {
    let seq = proof::practice_pair();
    let mut piece = Piece::in_memory("Pair of sails", b"{}", seq.steps(), Moment(0));
    let _ = piece.record(Entry::set(Setting::TOUR, Value::Flag(true), Moment(0)));
    Sitting::of(Session::new(seq, piece, look, Moment(0)))
}

/// All spaces and line ends as one space, without the line beside a lesson.
fn running(text: &str) -> String {
    let words = text.split_whitespace().filter(|w| *w != "│");
    words.collect::<Vec<_>>().join(" ")
}

/// The right part of each line, after the line beside a lesson.
fn beside(text: &str) -> String {
    let lines = text.lines().filter_map(|l| l.split_once("│ "));
    lines.map(|(_, right)| right).collect::<Vec<_>>().join(" ")
}

/// If there is a legend, it names the signs in the picture and no others.
#[track_caller]
fn the_legend_names_what_is_drawn(text: &str) {
    let signs = [
        (&['◆'][..], " needle"),
        (&['╔'], "╗ new bead"),
        (&['◀', '▶'], " go in here"),
        (&['┌'], "┐ to come"),
    ];
    let is_legend = |l: &&str| {
        let begins = |(sign, means): &(&[char], &str)| {
            let rest = l.strip_prefix(*sign);
            rest.is_some_and(|rest| rest.starts_with(means))
        };
        signs.iter().any(begins)
    };
    let Some(legend) = text.lines().find(is_legend) else {
        return;
    };
    let picture: String = text.lines().filter(|l| *l != legend).collect();
    for (sign, means) in signs {
        let (drawn, named) = (picture.contains(sign), legend.contains(means));
        // Where there is little room, what is to come is not explained.
        let is_fine = drawn == named || drawn && means.ends_with("to come");
        assert!(is_fine, "{means}\n{text}");
    }
}

/// The tour at its smallest full size: each lesson in full, and with it the
/// whole movement and every bead that it is about.
#[test]
fn a_lesson_hides_neither_itself_nor_the_movement_nor_the_picture() {
    for (wide, high) in [(80, 24), (76, 24), (120, 40), (100, 30), (76, 60)] {
        for left in [false, true] {
            let mut session = touring(LOOK);
            session.press("^");
            if left {
                session.press("l");
            }
            let mut lessons = 0;
            while let Some(m) = session.movement() {
                let text = session.shown(wide, high);
                let all = running(&text);
                assert!(all.contains(&session.seq.say_fully(&m)), "{text}");
                if !m.strings.is_empty() {
                    assert!(text.contains('╔') || text.contains("new: "), "{text}");
                }
                // In more columns there is a map, which has the needle too.
                if wide <= 80 {
                    the_legend_names_what_is_drawn(&text);
                }
                let entered = crate::screen::session::entered(&m);
                for n in 1..=entered {
                    let marks = [format!("◀{n}◀"), format!("▶{n}▶"), format!("{n}: ")];
                    let one = entered == 1 && text.contains(['◀', '▶']);
                    let seen = one || marks.iter().any(|mark| text.contains(mark));
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
                session.press("_");
            }
            assert_eq!(lessons, 18);
        }
    }
}

#[test]
fn in_a_small_terminal_a_line_says_that_there_is_a_lesson() {
    let mut session = touring(LOOK);
    session.press("^");
    while let Some(m) = session.movement() {
        let text = running(&session.shown(40, 12));
        if !m.strings.is_empty() {
            assert!(text.contains('╔') || text.contains("new: "), "{text}");
        }
        let told = text.contains("e reads the lesson: ");
        assert_eq!(told, session.lesson().is_some(), "{text}");
        session.press("_");
    }
}

#[test]
fn the_page_of_a_lesson_closes_on_a_key() {
    let mut session = touring(LOOK);
    session.press("^");
    let stitches = session.shown(40, 12);
    session.press("e");
    let page = session.shown(40, 12);
    assert!(page.contains("Cut the thread"), "{page}");
    session.press("^");
    assert_eq!(session.shown(40, 12), stitches);
}

/// What can do damage is said before the first step, all of it on one screen.
#[test]
fn the_card_of_the_tour_has_all_cautions() {
    for (wide, high) in [(80, 24), (120, 40)] {
        let mut session = touring(LOOK);
        let text = running(&session.shown(wide, high));
        for caution in words::care::CAUTIONS {
            assert!(text.contains(caution), "{text}");
        }
        assert!(text.contains("You need 18 beads L (linen), 20 beads R (rust red)"));
        assert!(!text.contains("more below"));
    }
    // In a small terminal they are further down, and the card says so.
    let mut session = touring(LOOK);
    assert!(session.shown(40, 12).contains("more below: down arrow"));
    let mut text = String::new();
    for _ in 0..40 {
        text += &running(&session.shown(40, 12));
        session.press("↓");
    }
    assert!(text.contains("wash your hands."), "{text}");
}

#[test]
fn a_step_up_with_its_lesson() {
    let mut session = touring(LOOK);
    session.press("^");
    for _ in 0..8 {
        session.press("_");
    }
    insta::assert_snapshot!(session.shown(80, 24));
}

#[test]
fn a_word_with_its_drawing() {
    let mut session = touring(LOOK);
    session.press("^");
    for _ in 0..8 {
        session.press("_");
    }
    session.press("a");
    session.press("!");
    insta::assert_snapshot!(session.shown(80, 24));
}

/// Every word can be read in full in a small terminal, in letters and signs
/// that it can show.
#[test]
fn every_word_is_drawn_in_ascii_too() {
    let look = Look {
        depth: Depth::None,
        unicode: false,
        ground: Ground::Dark,
    };
    let mut session = touring(look);
    session.press("_a");
    for word in words::all() {
        session.press(&format!("{}!", word.word.replace(' ', "_")));
        for _ in 0..2 {
            let lines = session.stack.top().lines(&session.session);
            let text: String = lines.iter().map(|l| format!("{l}\n")).collect();
            assert!(text.starts_with(word.word), "{text}");
            assert!(text.is_ascii(), "{text}");
            assert!(text.contains(word.means) && text.contains("See also: 1 "));
            session.switch_hand();
        }
        session.press("^");
        session.press(&"<".repeat(40));
    }
}

#[test]
fn drawings_are_mirrored_for_the_left_hand() {
    let stitch = words::named("stitch").unwrap();
    let drawn = |left| {
        let lines = crate::screen::widgets::drawing(stitch, left, LOOK);
        lines[1].to_string().trim().to_string()
    };
    assert_eq!(drawn(false), "◀[A]     [A]◆");
    assert_eq!(drawn(true), "◆[A]     [A]▶");
}

/// Thread goes from bead 1 to bead 4 against the working direction: the arrows
/// show it, mirrored for the left hand.
#[test]
fn arrows_show_the_way_that_the_needle_really_goes() {
    let seq = proof::practice_pair();
    let weave = seq
        .iter()
        .find(|m| m.passes.len() == 4 && m.kind == crate::beadwork::Kind::PassThrough);
    let done = weave.unwrap().step.0 as usize - 1;
    let mut session = at(seq, done);
    let column = |text: &str, mark: &str| {
        let line = text.lines().find(|line| line.contains(mark));
        let line = line.unwrap_or_else(|| panic!("no {mark}\n{text}"));
        line.find(mark).map(|at| line[..at].chars().count())
    };
    let text = session.shown(100, 40);
    assert!(column(&text, "▶1▶") < column(&text, "▶4▶"), "{text}");
    session.press("l");
    let text = session.shown(100, 40);
    assert!(column(&text, "◀1◀") > column(&text, "◀4◀"), "{text}");
}

/// A frame drawn before its key is the same as the one drawn after it, forward
/// and back, and drawing ahead changes nothing in the piece.
#[test]
fn a_frame_drawn_ahead_is_the_frame_after_the_key() {
    let area = Rect::new(0, 0, 80, 24);
    for seq in [
        proof::panel(3, 5),
        proof::inward(4, 5, 1),
        proof::tetrahedron(3, Closing::SetIn, 2),
        proof::tetrahedron(3, Closing::Fill, 0),
        proof::folded_pair(3, 1),
        proof::strip(5, 4),
    ] {
        let steps = seq.steps() as usize;
        let mut s = at(seq, 0);
        s.wait();
        let keys = "_".repeat(steps) + &"<".repeat(steps);
        for key in keys.chars() {
            let code = if key == '_' {
                KeyCode::Char(' ')
            } else {
                KeyCode::Backspace
            };
            let before = s.piece.state().clone();
            let event = KeyEvent::new(code, KeyModifiers::NONE);
            let ahead = s.frame_after(event, area).expect("it moves the work");
            assert_eq!(s.piece.state(), &before);
            s.key(code);
            let mut after = Buffer::empty(area);
            s.draw(area, &mut after);
            assert_eq!(ahead, after, "step {}", s.done());
        }
        let first = KeyEvent::new(KeyCode::Backspace, KeyModifiers::NONE);
        assert_eq!(s.frame_after(first, area), None);
    }
}

/// What is under a box is the same as if it were drawn again.
#[test]
fn what_is_under_a_box_does_not_change() {
    let mut s = at(proof::panel(3, 6), 40);
    for keys in ["1", "2", "<", "!", "c3", "4", "^", "_", "7", "8"] {
        s.press(keys);
        let kept = s.shown(80, 24);
        let anew = (s.shown(81, 24), s.shown(80, 24)).1;
        assert_eq!(kept, anew, "{keys}");
    }
}
