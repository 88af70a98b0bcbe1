use super::super::tests::{press, sit};
use super::*;
use crate::beadwork::testing;
use crate::pace::thread::Word;
use crate::plan::page::{self, Unit};
use crate::plan::{Plan, Wishes};
use crate::screen::keys::Action;
use crate::screen::proof;
use crate::screen::session::plan_room::Row;
use crate::screen::view;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

fn shown(session: &mut Session, width: u16, height: u16) -> String {
    let area = Rect::new(0, 0, width, height);
    let mut buf = Buffer::empty(area);
    view::draw(session, area, &mut buf);
    proof::text(&buf)
}

fn wait(session: &mut Session) {
    while session.look_apart() {
        std::thread::yield_now();
    }
}

/// A thread of 34 cm has 4 cm between its tails.
#[test]
fn a_thread_that_runs_short_is_told_until_a_new_one_is_taken_up() {
    let mut s = sit(proof::panel(3, 6));
    press(&mut s, "___hn34!");
    assert_eq!(s.pane, Pane::Stitch);
    assert_eq!(s.piece.state().threads.get(&2), Some(&340));
    let mut told = vec![];
    for _ in 0..60 {
        let word = s.going.hand().map(|h| h.word);
        if told.last() != Some(&word) {
            told.push(word);
        }
        if word == Some(Word::WillNotDo) {
            break;
        }
        press(&mut s, "_");
    }
    let words = [Word::Enough, Word::LastSide, Word::WillNotDo].map(Some);
    assert_eq!(told, words);
    for (width, height) in [(80, 24), (120, 40), (40, 12)] {
        let text = shown(&mut s, width, height);
        assert!(text.contains("Thread: ") && text.contains("step"), "{text}");
    }
    press(&mut s, "hn!");
    assert_eq!(s.going.hand().map(|h| h.word), Some(Word::Enough));
    assert!(!shown(&mut s, 80, 24).contains("Thread: "));
    // Back before it, the older thread is in hand again.
    press(&mut s, "<");
    assert_ne!(s.going.hand().map(|h| h.word), Some(Word::Enough));
}

#[test]
fn a_length_that_is_none_is_asked_for_again() {
    let mut s = sit(proof::panel(3, 6));
    press(&mut s, "_hn3!");
    assert!(matches!(s.pane, Pane::Thread { .. }));
    assert!(shown(&mut s, 80, 24).contains("No thread is cut like that"));
    press(&mut s, "^");
    assert!(s.piece.state().threads.is_empty());
}

#[test]
fn in_inches_a_length_is_typed_in_inches() {
    let mut s = sit(proof::panel(3, 6));
    press(&mut s, "_pi^hn40!");
    assert_eq!(s.piece.state().threads.get(&0), Some(&1016));
    assert!(shown(&mut s, 80, 24).contains("thread left about 34 in"));
}

fn thick() -> Sequence {
    let mut project = testing::ring(8, 3, crate::beadwork::project::Closing::SetIn);
    project.thread.diameter_mm = 0.3;
    Sequence::new(project)
}

#[test]
fn a_full_bead_is_told_before_the_stitch_and_only_there() {
    let mut s = sit(thick());
    wait(&mut s);
    let first = *s.going.fulls().unwrap().next(Step(1)).expect("a full bead");
    press(&mut s, &format!("_g{}!", first.step.0 - 1));
    assert!(!shown(&mut s, 80, 24).contains("full bead"));
    press(&mut s, "_");
    for (width, height) in [(80, 24), (120, 40), (40, 12)] {
        let text = shown(&mut s, width, height);
        let words = format!("Bead {} is ", first.bead);
        assert!(text.contains(&words), "{words}\n{text}");
    }
    press(&mut s, "h");
    let text = shown(&mut s, 100, 40);
    assert!(
        text.contains(&format!(
            "Bead {} holds {} threads",
            first.bead, first.threads
        )),
        "{text}"
    );
}

#[test]
fn after_half_an_hour_without_a_rest_a_rest_is_told_unless_it_is_off() {
    let sewn = |off: bool| {
        let mut s = sit(proof::panel(3, 12));
        press(&mut s, "_");
        if off {
            let value = crate::progress::Value::Number(0);
            s.record(Entry::set(Rest::SETTING, value, Moment(1)));
        }
        let mut told = vec![];
        for minute in 1..=45 {
            s.apply(Action::Forward, Moment(minute * 60_000));
            if shown(&mut s, 80, 24).contains("Rest your eyes and hands") {
                told.push(minute);
            }
        }
        told
    };
    let told = sewn(false);
    assert!((29..=31).contains(&told[0]), "{told:?}");
    assert_eq!(told.len(), REMINDED as usize, "{told:?}");
    assert!(sewn(true).is_empty());
}

#[test]
fn the_settings_turn_the_reminder_off_in_steps() {
    let mut s = sit(proof::panel(3, 4));
    let line = settings::LINES
        .iter()
        .position(|l| *l == settings::Line::Rest);
    press(&mut s, &format!("_s{}", "v".repeat(line.unwrap())));
    let mut seen = vec![];
    for _ in 0..5 {
        press(&mut s, "!");
        seen.push(settings::rest_minutes(&s.piece.state().settings));
    }
    assert_eq!(seen, [45, 60, 20, 0, 30]);
}

/// The room says what the command prints, line for line.
#[test]
fn the_room_of_the_plan_is_the_page_of_the_plan() {
    let seq = proof::folded_pair(5, 2);
    let plan = Plan::of(&seq, Wishes::default());
    let page = page::page("", &plan, Unit::Millimetres);
    let mut s = sit(seq);
    press(&mut s, "p");
    wait(&mut s);
    let (rows, begins) = s.plan.rows(200);
    let rows: Vec<String> = rows
        .into_iter()
        .map(|row| match row {
            Row::Heading(words) => words.to_string(),
            Row::Words(words) | Row::Watch(words) => words.trim().to_string(),
        })
        .collect();
    let wanted: Vec<&str> = page.trim_start().lines().map(str::trim).collect();
    assert_eq!(rows, wanted);
    assert!(begins.len() >= 8);
}

#[test]
fn the_plan_is_turned_part_by_part_and_left() {
    let mut s = sit(proof::tetrahedron(
        4,
        crate::beadwork::project::Closing::SetIn,
        0,
    ));
    press(&mut s, "____p");
    wait(&mut s);
    let text = shown(&mut s, 80, 24);
    assert!(
        text.contains("From here on") && text.contains("part 1 of"),
        "{text}"
    );
    s.apply(Action::NextPart, Moment(1));
    assert!(
        shown(&mut s, 80, 24)
            .lines()
            .nth(1)
            .unwrap()
            .starts_with("Beads")
    );
    s.apply(Action::PartBefore, Moment(1));
    assert_eq!(s.pane, Pane::Plan(0));
    // Another width shows the same part at its head.
    s.apply(Action::NextPart, Moment(1));
    s.apply(Action::NextPart, Moment(1));
    for width in [38, 200, 61, 80] {
        let heading = |s: &Session| match s.pane {
            Pane::Plan(at) => s.plan.rows(s.width).0[at].clone(),
            _ => panic!(),
        };
        let before = heading(&s);
        s.set_width(width);
        assert_eq!(heading(&s), before, "{width}");
    }
    for _ in 0..50 {
        s.apply(Action::NextPart, Moment(1));
    }
    assert!(shown(&mut s, 80, 24).contains("Take care"));
    press(&mut s, "p");
    assert_eq!(s.pane, Pane::Stitch);
}

/// What was learnt while sewing is what the journal teaches at the next
/// opening.
#[test]
fn pace_is_the_same_read_again_as_heard() {
    let mut s = sit(proof::panel(3, 12));
    press(&mut s, "_");
    for n in 1..=80 {
        s.apply(Action::Forward, Moment(n * 7_000));
    }
    let heard = s.going.pace.usual(crate::beadwork::Kind::Stitch);
    assert!(
        heard.timed > 20 && (heard.mean - 7.0).abs() < 1.0,
        "{heard:?}"
    );
    let mut read = Pace::default();
    s.piece.history(|entry| read.hear(&s.seq, entry)).unwrap();
    assert_eq!(read.usual(crate::beadwork::Kind::Stitch), heard);
    // The plan goes by it too.
    press(&mut s, "p");
    wait(&mut s);
    let (rows, _) = s.plan.rows(200);
    let own = |row: &Row| matches!(row, Row::Words(w) if w.contains("7 s a stitch (your own pace"));
    assert!(rows.iter().any(own), "{rows:?}");
    assert_eq!(s.piece.state().step, 80);
}
