//! Two programs on one piece: the second is told, and may look but not write.

use std::thread;

use threadmark::progress::Event;

use super::resting;
use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;

fn open(whole: &Whole) -> Screen {
    Screen::open(&whole.again("stitch evening-star"), 80, 24)
}

#[test]
fn the_second_program_looks_and_the_first_keeps_every_step() {
    let whole = resting();
    let mut first = open(&whole);
    first
        .sees("You were at")
        .keys("<space>2")
        .sees("step 5 of ");
    let mut second = open(&whole);
    second.says("this piece is open elsewhere: you may look, but nothing is written");
    second
        .keys("<space>8")
        .sees("step 12 of ")
        .sees("LOOKING ONLY");
    second.keys("n l o o s e <enter> l");
    first.keys("<space>2").sees("step 7 of ");
    assert_eq!(whole.piece("evening-star").state().step, 6);
    // The second does not become the writer when the first ends.
    first.keys("q");
    assert_eq!(first.ends().0, 0);
    second.keys("<space>").sees("step 13 of ");
    let state = whole.piece("evening-star").state().clone();
    assert_eq!(
        (state.step, state.notes.len(), state.settings.left_handed()),
        (6, 0, false)
    );
    // And does not keep a third from writing.
    let mut third = open(&whole);
    third
        .sees("You were at")
        .keys("<space>2")
        .sees("step 8 of ");
    second.keys("q");
    assert_eq!(second.ends().0, 0);
    third.keys("<space> q");
    assert_eq!(third.ends().0, 0);
    let piece = whole.piece("evening-star");
    assert_eq!((piece.state().step, piece.notices()), (8, &[][..]));
}

#[test]
fn a_program_that_was_killed_keeps_nobody_out() {
    let whole = resting();
    let mut first = open(&whole);
    first
        .sees("You were at")
        .keys("<space>2")
        .sees("step 5 of ")
        .kill();
    let mut second = open(&whole);
    second
        .sees("You were at")
        .keys("<space>2")
        .sees("step 6 of ");
    assert!(!second.text().contains("LOOKING ONLY"));
    second.keys("q");
    assert_eq!(second.ends().0, 0);
    assert_eq!(whole.piece("evening-star").state().step, 5);
}

/// How often the journal says that the piece was opened for work, and rested.
fn openings(whole: &Whole) -> (usize, usize) {
    let (mut opened, mut rested) = (0, 0);
    let read = whole
        .piece("evening-star")
        .recent(usize::MAX, |entry| match entry.did {
            Event::Opened => opened += 1,
            Event::Rested => rested += 1,
            _ => {}
        });
    read.expect("its journal");
    (opened, rested)
}

/// Many at once: whoever comes while another writes is told and looks.
#[test]
fn of_many_started_together_none_writes_beside_another() {
    let whole = resting();
    let words = "\"$0\" \"$@\" & ".repeat(8) + "wait";
    for _ in 0..10 {
        let before = openings(&whole).0;
        // No input, so each says where it stands and ends.
        let run = whole.again("stitch evening-star --plain");
        let output = run.through(&["bash", "-c", &words]).output();
        let said = String::from_utf8(output.stdout).expect("text");
        assert_eq!(said.matches("step 4 of ").count(), 8, "{said}");
        let looked = said.matches("this piece is open elsewhere").count();
        let (opened, rested) = openings(&whole);
        assert_eq!((opened - before, opened), (8 - looked, rested));
        let piece = whole.piece("evening-star");
        assert_eq!((piece.state().step, piece.notices()), (3, &[][..]));
    }
}

#[test]
fn pieces_begun_at_once_are_all_there() {
    let whole = threadmark("").file("a.json", triangle(3));
    let runs: Vec<_> = (0..8)
        .map(|_| whole.call_of("stitch a.json --new --plain"))
        .collect();
    let running: Vec<_> = runs
        .into_iter()
        .map(|mut run| thread::spawn(move || run.output()))
        .collect();
    for run in running {
        let output = run.join().expect("a run").expect("it starts");
        assert_eq!(output.status.code(), Some(0), "{output:?}");
    }
    let tray = threadmark::progress::Tray::open(&whole.tray());
    let pieces = tray.pieces().expect("the tray");
    assert_eq!(pieces.len(), 8);
    assert!(
        pieces
            .iter()
            .all(|piece| whole.piece(&piece.name).notices().is_empty())
    );
}
