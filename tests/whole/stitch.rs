//! `threadmark stitch`, and the program without a command: that they open
//! what they should. What the keys do then has files of its own.

use threadmark::progress::Tray;

use crate::builder::{Whole, threadmark};
use crate::pattern::{pattern, triangle};

const NO_TERMINAL: &str = "\
error: the stitch-along draws a full screen, and standard input is not a terminal
  mend: run it in a terminal, or add --plain for one line a step
";

fn names(whole: &Whole) -> Vec<String> {
    let pieces = Tray::open(&whole.tray()).pieces().expect("the tray");
    pieces.into_iter().map(|piece| piece.name).collect()
}

#[test]
fn without_a_terminal_nothing_is_begun() {
    for args in ["", "stitch", "stitch practice-triangle", "--colour none"] {
        let whole = threadmark(args).stderr(NO_TERMINAL).code(2);
        whole.stdout("").run();
    }
    let whole = threadmark("stitch").stderr(NO_TERMINAL).code(2);
    whole.run();
    assert!(!whole.tray().exists());
}

#[test]
fn the_plain_mode_takes_lines_and_keeps_the_place() {
    let whole = threadmark("stitch a.json --plain")
        .file("a.json", triangle(3))
        .stdin("\n\n\nq\n");
    let said = whole.run();
    let steps: Vec<&str> = said
        .lines()
        .filter(|line| line.starts_with("step "))
        .collect();
    assert_eq!(steps.len(), 4, "{said}");
    assert!(
        steps[3].starts_with("step 4 of 18: Pick up 1 S for the ring."),
        "{said}"
    );
    assert!(
        said.ends_with(
            "Evening star rests after step 3 of 18.\n\
             `threadmark stitch evening-star` goes on with it; `threadmark` opens the tray.\n"
        ),
        "{said}"
    );
    assert_eq!(whole.piece("evening-star").state().step, 3);
}

#[test]
fn a_piece_goes_on_where_it_rested() {
    let begun = threadmark("stitch a.json --plain")
        .file("a.json", triangle(3))
        .stdin("\n\n\nq\n");
    begun.run();
    let on = begun.again("stitch evening-star --plain").stdin("\nq\n");
    assert!(on.run().contains("\nstep 4 of 18: "));
    assert_eq!(on.piece("evening-star").state().step, 4);
    assert_eq!(names(&on), ["evening-star"]);
    let new = on.again("stitch a.json --plain --new").stdin("q\n");
    new.run();
    let mut both = names(&new);
    both.sort();
    assert_eq!(both, ["evening-star", "evening-star-2"]);
}

#[test]
fn a_pattern_named_again_goes_on_where_its_piece_rested() {
    let whole = threadmark("").file("a.json", triangle(3));
    for name in ["a.json", "practice-triangle", "practice-pair", ""] {
        for step in 1..=3 {
            let run = whole
                .again(&format!("stitch {name} --plain"))
                .stdin("\nq\n");
            let said = run.run();
            assert!(
                said.contains(&format!(" rests after step {step} of ")),
                "{said}"
            );
        }
    }
    assert_eq!(names(&whole).len(), 4, "one piece of each pattern");
    // From another directory it is still the same file.
    let there = std::fs::canonicalize(whole.dir()).unwrap().join("a.json");
    let run = whole.again("stitch --plain").arg(there.to_str().unwrap());
    assert!(run.stdin("\nq\n").run().contains(" rests after step 4 of "));
    assert_eq!(names(&whole).len(), 4);
}

#[test]
fn new_begins_a_piece_though_one_is_not_finished() {
    let whole = threadmark("stitch practice-triangle --plain").stdin("\n\nq\n");
    whole.run();
    let new = whole.again("stitch practice-triangle --plain --new");
    let said = new.stdin("\nq\n").run();
    assert!(said.contains("First sail rests after step 1 of "), "{said}");
    assert!(
        said.contains("`threadmark stitch first-sail-2` goes on with it"),
        "{said}"
    );
}

#[test]
fn a_finished_piece_is_not_gone_on_with() {
    let whole = threadmark("stitch a.json --plain")
        .file("a.json", triangle(2))
        .stdin("\n".repeat(11) + "q\n");
    let said = whole.run();
    assert!(
        said.ends_with(
            "Evening star is finished.\n\
             `threadmark stitch evening-star --look` shows it; `threadmark` opens the tray.\n"
        ),
        "{said}"
    );
    let again = whole.again("stitch a.json --plain").stdin("\nq\n");
    assert!(again.run().contains("rests after step 1 of "));
    assert_eq!(names(&again).len(), 2);
}

#[test]
fn an_empty_tray_opens_the_demo_and_a_tray_with_pieces_is_listed() {
    let first = threadmark("--plain").stdin("\nq\n");
    assert!(
        first
            .run()
            .contains("Harbour lantern rests after step 1 of ")
    );
    let second = first.again("--plain");
    let said = second.run();
    assert!(said.starts_with("  piece"), "{said}");
    assert!(
        said.contains("\n  harbour-lantern  Harbour lantern "),
        "{said}"
    );
    assert!(said.ends_with("`threadmark stitch PIECE --plain` goes on with one.\n"));
}

#[test]
fn looking_writes_nothing() {
    let whole = threadmark("stitch a.json --plain")
        .file("a.json", triangle(3))
        .stdin("\n\nq\n");
    whole.run();
    let journal = whole.tray().join("evening-star/journal");
    let before = std::fs::read(&journal).unwrap();
    let looked = whole
        .again("stitch evening-star --plain --look")
        .stdin("q\n");
    looked.run();
    assert_eq!(std::fs::read(&journal).unwrap(), before);
    let tried = looked
        .again("stitch a.json --plain --look --new")
        .stdin("\n\n\nq\n");
    assert!(tried.run().contains("\nstep 4 of 18: "));
    assert_eq!(names(&tried), ["evening-star"]);
}

#[test]
fn the_hand_is_remembered_with_the_piece() {
    let whole = threadmark("--left-handed stitch a.json --plain")
        .file("a.json", triangle(3))
        .stdin("\nq\n");
    whole.run();
    assert!(whole.piece("evening-star").state().settings.left_handed());
}

#[test]
fn the_piece_s_own_copy_holds_when_the_pattern_changes() {
    let whole = threadmark("stitch a.json --plain")
        .file("a.json", triangle(3))
        .stdin("\nq\n");
    whole.run();
    let changed = whole
        .again("stitch evening-star --plain")
        .file("a.json", triangle(5))
        .stdin("q\n");
    let said = changed.run();
    assert!(said.contains("The pattern file has changed"), "{said}");
    assert!(said.contains("\nstep 2 of 18: "), "{said}");
}

#[test]
fn a_pattern_from_standard_input_is_refused() {
    threadmark("stitch - --plain")
        .stdin(triangle(2))
        .stderr(
            "error: the stitch-along takes its keys from standard input and reads no pattern there\n  \
             mend: save the pattern in a file and name that\n",
        )
        .code(2)
        .run();
}

#[test]
fn a_pattern_that_cannot_be_sewn_begins_no_piece() {
    let wrong = pattern(
        &[("face", r#""sides": 2, "rounds": 3"#)],
        r#"{ "panel": "face" }"#,
    );
    let whole = threadmark("stitch a.json --plain").file("a.json", wrong);
    assert_eq!(whole.output().status.code(), Some(2));
    assert_eq!(names(&whole), Vec::<String>::new());
}

#[cfg(unix)]
mod on_a_terminal {
    use super::*;
    use crate::pty::Screen;

    #[test]
    fn the_first_run_opens_the_demo_at_once() {
        let whole = threadmark("");
        let mut screen = Screen::open(&whole, 80, 24);
        screen
            .sees("Harbour lantern")
            .sees("A new piece")
            .sees("t tray");
        screen.keys("<space>").sees("thread");
        screen.keys("<space>3 q");
        let (code, left) = screen.ends();
        assert_eq!(code, 0);
        assert!(
            left.contains("Harbour lantern rests after step 3 of "),
            "{left}"
        );
        assert!(left.contains("`threadmark` opens the tray."), "{left}");
        assert_eq!(whole.piece("harbour-lantern").state().step, 3);
    }

    #[test]
    fn with_a_piece_in_the_tray_it_opens_the_tray_with_that_chosen() {
        let whole = threadmark("stitch practice-triangle --plain").stdin("\n\n\n\nq\n");
        whole.run();
        let mut screen = Screen::open(&whole.again(""), 80, 24);
        screen.sees("First sail").sees("Harbour lantern");
        screen.keys("<enter>").sees("You were at");
        screen.keys("<space>").sees("Close the ring");
        screen.keys("q");
        assert_eq!(screen.ends().0, 0);
    }

    #[test]
    fn a_pattern_is_begun_from_the_tray() {
        let whole = threadmark("stitch practice-triangle --plain").stdin("q\n");
        whole.run();
        let mut screen = Screen::open(&whole.again(""), 80, 24);
        screen.sees("Porthole").keys("<down>");
        screen.keys("<enter>").sees("A new piece");
        screen.keys("q");
        assert_eq!(screen.ends().0, 0);
        assert_eq!(names(&whole).len(), 2);
    }

    #[test]
    fn killed_at_any_moment_it_finds_the_very_step_again() {
        let whole = threadmark("stitch practice-triangle");
        Screen::begun(&whole).rush("<space>9").kill();
        assert_eq!(whole.piece("first-sail").state().step, 9);
        let mut screen = Screen::open(&whole.again("stitch first-sail"), 80, 24);
        screen.sees("You were at").keys("<space> q");
        let (code, left) = screen.ends();
        assert_eq!(code, 0);
        assert!(left.contains("First sail rests after step 9 of "), "{left}");
    }

    #[test]
    fn any_size_at_any_moment() {
        let whole = threadmark("stitch practice-triangle");
        let mut screen = Screen::open(&whole, 80, 24);
        screen.sees("A new piece").keys("<space>");
        for (columns, rows) in [(1, 1), (300, 100), (39, 11), (1, 40), (200, 2), (80, 24)] {
            screen.resize(columns, rows).keys("<space>");
        }
        screen.sees("First sail").keys("q");
        let (code, left) = screen.ends();
        assert_eq!(code, 0);
        assert!(left.contains("rests after step 6 of "), "{left}");
    }

    #[test]
    fn no_colour_means_none() {
        let coloured = |args: &str| {
            let whole = threadmark(args);
            let mut screen = Screen::open(&whole, 80, 24);
            screen
                .sees("A new piece")
                .keys("<space>")
                .loses("A new piece");
            let coloured = screen.look(|screen| {
                let (rows, columns) = screen.size();
                let (rows, columns) = (rows.get(), columns.get());
                let cells = (0..rows).flat_map(|r| (0..columns).map(move |c| (r, c)));
                let plain = vt100::Color::Default;
                cells
                    .filter_map(|(r, c)| screen.cell(r, c))
                    .filter(|cell| cell.fgcolor() != plain || cell.bgcolor() != plain)
                    .count()
            });
            screen.keys("q");
            assert_eq!(screen.ends().0, 0);
            coloured
        };
        assert_eq!(coloured("stitch practice-triangle --colour none"), 0);
        assert!(coloured("stitch practice-triangle --colour true") > 20);
        assert!(coloured("--colour 16 stitch practice-triangle") > 20);
    }
}

/// Two counts with the same sum have the same first line: it is said both times.
#[test]
fn by_ear_each_count_is_answered_whole() {
    let typed = format!("{}7 7 7\n6 7 8\nq\n", "\n".repeat(66));
    let said = threadmark("stitch practice-decrease --plain")
        .stdin(typed)
        .run();
    let answers = said.matches("\nRound 7: 21 counted, there should be 12");
    assert_eq!(answers.count(), 2, "{said}");
}
