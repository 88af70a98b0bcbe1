use super::*;
use crate::beadwork::Sequence;
use crate::beadwork::project::Closing;
use crate::progress::{Moment, Piece};
use crate::screen::face::Do;
use crate::screen::keys::Action;
use crate::screen::look::{Depth, Look};
use crate::screen::proof::{self, LOOK};
use crate::screen::solid::Do as ToSolid;
use crate::screen::way::Way;

fn sit(seq: Sequence, look: Look) -> Session {
    let piece = Piece::in_memory("Evening trial", b"{}", seq.steps(), Moment(0));
    let mut session = Session::new(seq, piece, look, Moment(0));
    session.apply(Action::Leave, Moment(0));
    session
}

fn at(seq: Sequence, look: Look, done: usize) -> Session {
    let mut session = sit(seq, look);
    for _ in 0..done {
        session.apply(Action::Forward, Moment(0));
    }
    session
}

fn shown(session: &mut Session, wide: u16, high: u16) -> String {
    let area = Rect::new(0, 0, wide, high);
    let mut buf = Buffer::empty(area);
    draw(session, area, &mut buf);
    proof::text(&buf)
}

/// A number from 0 to `n` - 1 by a linear congruence (Knuth's MMIX
/// multiplier), so that a failure can be run again.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, n: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (self.0 >> 33) % n
    }
}

const ACTIONS: [Action; 84] = [
    Action::Forward,
    Action::Back,
    Action::Type('7'),
    Action::Type('j'),
    Action::Type('é'),
    Action::Erase,
    Action::Choose,
    Action::Leave,
    Action::Up,
    Action::Down,
    Action::PageUp,
    Action::PageDown,
    Action::Count,
    Action::Whole,
    Action::Overview,
    Action::Jump,
    Action::WayBack,
    Action::Note,
    Action::Hand,
    Action::OneAtATime,
    Action::Help,
    Action::Settings,
    Action::Locate,
    Action::CannotTell,
    Action::NotThis,
    Action::Unpick,
    Action::Keep,
    Action::Type('3'),
    Action::Plan,
    Action::NextPart,
    Action::PartBefore,
    Action::Unit,
    Action::Going,
    Action::NewThread,
    Action::Ask,
    Action::Lesson,
    Action::TourOnOff,
    Action::TourAgain,
    Action::Face(Do::Open),
    Action::Face(Do::Open),
    Action::Face(Do::Zoom(true)),
    Action::Face(Do::Zoom(false)),
    Action::Face(Do::Whole),
    Action::Face(Do::Pan(Way::Left)),
    Action::Face(Do::Pan(Way::Down)),
    Action::Face(Do::Point(Way::Right)),
    Action::Face(Do::Point(Way::Up)),
    Action::Face(Do::Along(true)),
    Action::Face(Do::Along(false)),
    Action::Face(Do::Needle),
    Action::Face(Do::Route),
    Action::Face(Do::Turn),
    Action::Face(Do::Panel(true)),
    Action::Face(Do::Panel(false)),
    Action::Face(Do::Colouring),
    Action::Face(Do::Colouring),
    Action::Face(Do::Paint),
    Action::Face(Do::Paint),
    Action::Face(Do::Hand(true)),
    Action::Face(Do::Hand(false)),
    Action::Face(Do::Letter('P')),
    Action::Face(Do::Letter('Z')),
    Action::Face(Do::Take),
    Action::Face(Do::Reach),
    Action::Face(Do::Undo),
    Action::Face(Do::Redo),
    Action::Face(Do::Write),
    Action::Face(Do::Write),
    Action::Solid(ToSolid::Open),
    Action::Solid(ToSolid::Leave),
    Action::Solid(ToSolid::Explain),
    Action::Solid(ToSolid::Turn(Way::Left)),
    Action::Solid(ToSolid::Turn(Way::Right)),
    Action::Solid(ToSolid::Turn(Way::Up)),
    Action::Solid(ToSolid::Turn(Way::Down)),
    Action::Solid(ToSolid::Zoom(true)),
    Action::Solid(ToSolid::Zoom(false)),
    Action::Solid(ToSolid::Home),
    Action::Solid(ToSolid::States),
    Action::Solid(ToSolid::Motion(true)),
    Action::Solid(ToSolid::Motion(false)),
    Action::Solid(ToSolid::Net),
    Action::Solid(ToSolid::Play),
    Action::Solid(ToSolid::Fine),
];

#[test]
fn ten_thousand_random_actions_at_any_size_draw_within_bounds() {
    let seqs = [proof::panel(4, 7), proof::panel(5, 8)];
    let seqs: Vec<_> = seqs.into_iter().chain(proof::pieces()).collect();
    let mut dice = Dice(11);
    let turns = 10_000 / seqs.len();
    for seq in seqs {
        let depth = Depth::ALL[dice.roll(4) as usize].1;
        let unicode = dice.roll(2) == 0;
        let steps = u64::from(seq.steps());
        let mut session = sit(seq, Look { depth, unicode });
        for _ in 0..turns {
            let action = match dice.roll(3) {
                0 => ACTIONS[dice.roll(ACTIONS.len() as u64) as usize],
                _ => Action::Forward,
            };
            session.apply(action, Moment(1));
            if dice.roll(16) == 0 {
                session.click((dice.roll(120) as u16, dice.roll(40) as u16));
                session.wheel(dice.roll(2) == 0);
            }
            if dice.roll(8) == 0 {
                session.apply(Action::Leave, Moment(1));
                session.apply(Action::Jump, Moment(1));
                for c in (1 + dice.roll(steps)).to_string().chars() {
                    session.apply(Action::Type(c), Moment(1));
                }
                session.apply(Action::Choose, Moment(1));
            }
            let (wide, high) = match dice.roll(16) {
                0 => (1 + dice.roll(300) as u16, 1 + dice.roll(100) as u16),
                1..8 => (1 + dice.roll(45) as u16, 1 + dice.roll(14) as u16),
                8..12 => (80, 24),
                _ => (40, 12),
            };
            // An area in a larger buffer: nothing may be drawn beside it.
            let whole = Rect::new(0, 0, wide + 4, high + 4);
            let area = Rect::new(2, 2, wide, high);
            let mut buf = Buffer::empty(whole);
            draw(&mut session, area, &mut buf);
            for position in whole.positions().filter(|p| !area.contains(*p)) {
                assert_eq!(
                    buf[position],
                    ratatui::buffer::Cell::default(),
                    "{position}"
                );
            }
            if !unicode {
                let odd = buf
                    .content
                    .iter()
                    .find(|c| !c.symbol().is_ascii() && c.symbol() != "é");
                assert_eq!(odd, None, "{:?}", session.pane);
            }
        }
    }
}

/// Every bead that the movement is about can be found on the screen: in the
/// picture, or named below it.
#[test]
fn every_movement_shows_its_sentence_and_its_beads_at_every_full_size() {
    for seq in [proof::folded_pair(4, 1), proof::inward(3, 5, 1)] {
        let steps = seq.steps();
        let mut session = sit(seq, LOOK);
        for _ in 0..steps {
            let m = session.movement().unwrap();
            let text = shown(&mut session, 80, 24).replace('\n', " ");
            let sentence = session.seq.say(&m);
            assert!(text.contains(&sentence), "{sentence}\n{text}");
            if !m.strings.is_empty() {
                assert!(text.contains('╔') || text.contains("new: "), "{text}");
            }
            let entered = crate::screen::session::entered(&m);
            if entered == 1 {
                assert!(text.contains("◀◀") || text.contains("enter "), "{text}");
            }
            for n in 1..=entered {
                let mark = format!("◀{n}◀");
                let named = format!("{n}: ");
                let ok = entered == 1 || text.contains(&mark) || text.contains(&named);
                assert!(ok, "step {} bead {n}\n{text}", m.step);
            }
            session.apply(Action::Forward, Moment(0));
        }
        assert!(shown(&mut session, 80, 24).contains("All"));
    }
}

#[test]
fn done_and_to_come_are_told_apart_without_any_colour() {
    let mut session = at(proof::panel(3, 5), LOOK, 25);
    let area = Rect::new(0, 0, 80, 24);
    let mut buf = Buffer::empty(area);
    draw(&mut session, area, &mut buf);
    for cell in &buf.content {
        assert_eq!(cell.fg, ratatui::style::Color::Reset);
        assert_eq!(cell.bg, ratatui::style::Color::Reset);
    }
    let text = proof::text(&buf);
    assert!(text.contains('┌') && text.contains('▕') && text.contains('╔'));
}

/// The left hand's picture is the right hand's in a mirror.
#[test]
fn the_left_hand_sees_the_mirror_image() {
    let mut session = at(proof::panel(3, 5), LOOK, 27);
    let right = shown(&mut session, 81, 24);
    session.apply(Action::Hand, Moment(0));
    session.said.clear();
    let left = shown(&mut session, 81, 24);
    assert!(right.contains("◀◀") && !right.contains("▶▶"));
    assert!(left.contains("▶▶") && !left.contains("◀◀"));
    let of = |text: &str, sign: char| {
        let line = text
            .lines()
            .find(|l| l.contains('╔') && !l.contains("new bead"));
        line.unwrap().chars().position(|c| c == sign).unwrap() as i32
    };
    // Left end of the seat here, right end there.
    assert!((of(&right, '╔') + of(&left, '╗') - 80).abs() <= 1);
}

#[test]
fn below_the_least_size_there_are_words_only() {
    let mut session = at(proof::panel(3, 5), LOOK, 27);
    let text = shown(&mut session, 39, 11);
    assert!(text.starts_with("Pick up 1 "), "{text}");
    assert!(text.contains("round "), "{text}");
    assert!(!text.contains('╔'));
    assert!(!shown(&mut session, 1, 1).trim().is_empty());
    let mut none = Buffer::empty(Rect::new(0, 0, 0, 0));
    draw(&mut session, Rect::new(0, 0, 0, 0), &mut none);
}

#[test]
fn the_card_of_a_piece_that_rested_says_where_it_is() {
    let seq = proof::panel(3, 5);
    let mut piece = Piece::in_memory("Evening trial", b"{}", seq.steps(), Moment(0));
    let day = 86_400_000;
    for (at, did) in [
        (
            1,
            crate::progress::Did::Move {
                step: 26,
                why: crate::progress::Why::Jump,
                made: vec![],
            },
        ),
        (2, crate::progress::Did::Rested),
        (9 * day + 3, crate::progress::Did::Opened),
    ] {
        let at = Moment(at);
        let _ = piece.record(crate::progress::Entry { at, did });
    }
    let mut session = Session::new(seq, piece, LOOK, Moment(9 * day + 3));
    let text = shown(&mut session, 80, 24);
    for words in [
        "You were at: face, last worked on 9 days ago",
        "Your last movements",
        "step 26: ",
        "The needle comes out of ",
        "To be sure, count",
        "Thread",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    session.apply(Action::Leave, Moment(9 * day + 4));
    assert_eq!(session.pane, Pane::Stitch);
}

#[test]
fn the_stitch_view_at_its_least_full_size() {
    let mut session = at(proof::panel(3, 5), LOOK, 25);
    insta::assert_snapshot!(shown(&mut session, 80, 24));
}

#[test]
fn a_zip_shows_its_teeth() {
    let seq = proof::folded_pair(5, 1);
    let zip = seq
        .iter()
        .filter(|m| m.kind == crate::beadwork::Kind::Zip)
        .nth(2);
    let done = zip.unwrap().step.0 as usize - 1;
    let mut session = at(seq, LOOK, done);
    insta::assert_snapshot!(shown(&mut session, 80, 24));
}

#[test]
fn an_inward_corner_is_drawn_together() {
    let seq = proof::inward(3, 5, 0);
    let corner = seq
        .iter()
        .find(|m| m.kind == crate::beadwork::Kind::Decrease);
    let done = corner.unwrap().step.0 as usize - 1;
    let mut session = at(seq, LOOK, done);
    insta::assert_snapshot!(shown(&mut session, 80, 24));
}

mod face;
mod solid;
mod tour;
