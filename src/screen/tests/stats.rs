//! Thread, holes, hours, rest and the plan, key by key.

use super::*;
use crate::beadwork::{Kind, testing};
use crate::plan::page::{self, Unit};
use crate::plan::{Plan, Wishes};
use crate::progress::Entry;
use crate::screen::settings;
use crate::screen::work_stats::REMINDED;
use crate::tracking::pace::thread::ThreadVerdict;
use crate::tracking::pace::{Pace, Rest};

/// A thread of 34 cm has 4 cm between its tails.
#[test]
fn a_short_thread_is_reported_until_a_new_one_is_taken_up() {
    let mut s = sit(proof::panel(3, 6));
    s.press("___hn34!");
    assert_eq!(s.open(), "Stitching");
    assert_eq!(s.piece.state().threads.get(&2), Some(&340));
    let mut told = vec![];
    for _ in 0..60 {
        let word = s.current_thread().map(|h| h.verdict);
        if told.last() != Some(&word) {
            told.push(word);
        }
        if word == Some(ThreadVerdict::TooShort) {
            break;
        }
        s.press("_");
    }
    let words = [
        ThreadVerdict::Enough,
        ThreadVerdict::LastSide,
        ThreadVerdict::TooShort,
    ]
    .map(Some);
    assert_eq!(told, words);
    for (width, height) in [(80, 24), (120, 40), (40, 12)] {
        let text = s.shown(width, height);
        assert!(text.contains("Thread: ") && text.contains("step"), "{text}");
    }
    s.press("hn!");
    assert_eq!(
        s.current_thread().map(|h| h.verdict),
        Some(ThreadVerdict::Enough)
    );
    assert!(!s.shown(80, 24).contains("Thread: "));
    // Back before it, the older thread is current again.
    s.press("<");
    assert_ne!(
        s.current_thread().map(|h| h.verdict),
        Some(ThreadVerdict::Enough)
    );
}

/// The plan follows: the old thread is woven in first, and the new one has the length
/// that was said.
#[test]
fn a_new_thread_in_the_middle_ends_the_old_one() {
    let mut s = at(proof::panel(3, 12), 49);
    let planned = s.seq.thread_starts().len();
    s.press("hn40!");
    assert!(
        s.said.starts_with("The old thread is woven in first"),
        "{}",
        s.said
    );
    assert_eq!(s.seq.thread_starts().len(), planned + 1);
    assert_eq!(s.movement().map(|m| m.kind), Some(Kind::EndThread));
    let start = s.seq.thread_starts().nth(1).unwrap();
    while s.done() < start {
        s.press("_");
    }
    let current = s.current_thread().unwrap().start;
    let after = Step(start.0 - 1);
    assert_eq!(
        (current.after, current.cut_mm, current.own),
        (after, 400.0, true)
    );
    // Told again, it is this thread that is longer.
    s.press("hn60!");
    assert_eq!(s.seq.thread_starts().len(), planned + 1);
    assert_eq!(s.current_thread().unwrap().start.cut_mm, 600.0);
}

#[test]
fn an_impossible_length_is_asked_for_again() {
    let mut s = sit(proof::panel(3, 6));
    s.press("_hn3!");
    assert!(s.open() == "A new thread");
    assert!(s.shown(80, 24).contains("A thread can be"));
    s.press("^");
    assert!(s.piece.state().threads.is_empty());
}

#[test]
fn in_inches_a_length_is_typed_in_inches() {
    let mut s = sit(proof::panel(3, 6));
    s.press("_pi^hn40!");
    assert_eq!(s.piece.state().threads.get(&0), Some(&1016));
    assert!(s.shown(80, 24).contains("thread left about 34 in"));
}

fn thick() -> Sequence {
    let mut project = testing::ring(8, 3, crate::beadwork::project::Closing::SetIn);
    project.thread.diameter_mm = 0.3;
    Sequence::new(project)
}

#[test]
fn a_full_bead_is_reported_before_the_stitch_and_only_there() {
    let mut s = sit(thick());
    s.wait();
    let first = *s.stats.fulls().unwrap().next(Step(1)).expect("a full bead");
    s.press(&format!("_g{}!", first.step.0 - 1));
    assert!(!s.shown(80, 24).contains("full bead"));
    s.press("_");
    for (width, height) in [(80, 24), (120, 40), (40, 12)] {
        let text = s.shown(width, height);
        let words = format!("Bead {} is ", first.bead);
        assert!(text.contains(&words), "{words}\n{text}");
    }
    s.press("h");
    let text = s.shown(100, 40);
    assert!(
        text.contains(&format!(
            "Bead {} holds {} threads",
            first.bead, first.threads
        )),
        "{text}"
    );
}

#[test]
fn after_half_an_hour_without_a_rest_there_is_a_reminder_unless_it_is_off() {
    let sewn = |off: bool| {
        let mut s = sit(proof::panel(3, 12));
        s.press("_");
        if off {
            let value = crate::progress::Value::Number(0);
            s.record(Entry::set(Rest::SETTING, value, Moment(1)));
        }
        let mut told = vec![];
        for minute in 1..=45 {
            s.now = Moment(minute * 60_000);
            s.press("_");
            if s.shown(80, 24).contains("Rest your eyes and hands") {
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
    let mut lines = settings::lines(&s.piece.state().settings).into_iter();
    let line = lines.position(|line| line.title.starts_with("Reminder to rest"));
    s.press(&format!("_s{}", "↓".repeat(line.unwrap())));
    let mut seen = vec![];
    for _ in 0..5 {
        s.press("!");
        seen.push(settings::rest_minutes(&s.piece.state().settings));
    }
    assert_eq!(seen, [45, 60, 20, 0, 30]);
}

/// The page has the same lines as the command prints.
#[test]
fn the_page_of_the_plan_is_what_the_command_prints() {
    let seq = proof::folded_pair(5, 2);
    let plan = Plan::of(&seq, Wishes::default());
    let page = page::page("", &plan, Unit::Millimetres);
    let mut s = sit(seq);
    s.press("p");
    s.wait();
    let lines = s.stack.top().lines(&s.session);
    let said: Vec<String> = lines.iter().map(|l| l.to_string()).collect();
    let said = said.iter().map(|l| l.trim().trim_end_matches(':'));
    let wanted = page.lines().map(|l| l.trim().trim_end_matches(':'));
    let wanted: Vec<&str> = wanted.filter(|line| !line.is_empty()).collect();
    assert_eq!(said.collect::<Vec<_>>(), wanted);
}

#[test]
fn the_plan_is_turned_part_by_part_and_left() {
    let mut s = sit(proof::tetrahedron(
        4,
        crate::beadwork::project::Closing::SetIn,
        0,
    ));
    s.press("____p");
    s.wait();
    let text = s.shown(80, 24);
    assert!(
        text.contains("From here on") && text.contains("part 1 of"),
        "{text}"
    );
    let head = |s: &mut Sitting, width| {
        let text = s.shown(width, 24);
        let line = text.lines().nth(1).unwrap();
        let at = if width >= 110 { 30 } else { 0 };
        line.chars().skip(at).collect::<String>()
    };
    s.press("⇥");
    assert!(head(&mut s, 80).starts_with("Beads"));
    s.press("←");
    assert!(s.shown(80, 24).contains("part 1 of"));
    // Another width shows the same part at its top.
    s.press("⇥⇥");
    let before = head(&mut s, 80);
    for width in [60, 200, 61, 80] {
        let here = head(&mut s, width);
        assert!(before.starts_with(here.trim_end()), "{width}: {here}");
    }
    s.press(&"⇥".repeat(50));
    assert!(s.shown(80, 24).contains("Take care"));
    s.press("p");
    assert_eq!(s.open(), "Stitching");
}

/// The pace learned while sewing is the same as the pace read from the journal
/// at the next opening.
#[test]
fn the_pace_read_from_the_journal_is_the_pace_learned() {
    let mut s = sit(proof::panel(3, 12));
    s.press("_");
    for n in 1..=80 {
        s.now = Moment(n * 7_000);
        s.press("_");
    }
    let heard = s.stats.pace.usual(crate::beadwork::Kind::Stitch);
    assert!(
        heard.timed > 20 && (heard.mean - 7.0).abs() < 1.0,
        "{heard:?}"
    );
    let mut read = Pace::default();
    let Session { seq, piece, .. } = &mut s.session;
    piece
        .recent(usize::MAX, |entry| read.add(seq, entry))
        .unwrap();
    assert_eq!(read.usual(crate::beadwork::Kind::Stitch), heard);
    // The plan uses it too.
    s.press("p");
    s.wait();
    let lines = s.stack.top().lines(&s.session);
    let own = |line: &ratatui::text::Line| line.to_string().contains("7 s a stitch (your own pace");
    assert!(lines.iter().any(own), "{lines:?}");
    assert_eq!(s.piece.state().step, 80);
}

#[test]
fn the_days_of_the_piece_are_a_chart_of_bars_and_words() {
    let mut s = sit(proof::panel(3, 6));
    s.press("_h");
    let text = s.shown(80, 60);
    assert!(text.contains("No movement is made yet."), "{text}");
    s.press("^_____h");
    let text = s.shown(80, 60);
    let day = text.lines().find(|line| line.contains("5 movements, "));
    assert!(day.is_some_and(|day| day.contains("████")), "{text}");
}
