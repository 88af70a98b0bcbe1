//! `threadmark pieces`, and pieces where a pattern may stand.

use threadmark::progress::{Entry, Moment, Saved, Tray, Why};

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;

/// Wednesday, 5 March 2025, 14:30 UTC.
const MARCH: Moment = Moment(1_741_185_000_000);

/// Puts a piece of a triangle of four rounds in the tray, worked so far.
fn with_piece(whole: Whole, title: &str, step: u32) -> Whole {
    let tray = Tray::open(&whole.tray());
    let pattern = triangle(4);
    let mut piece = tray
        .begin(title, pattern.as_bytes(), None, 32, MARCH)
        .expect("a piece is begun");
    for n in 1..=step {
        let saved = piece.record(Entry::to(n, Why::Forward, MARCH));
        assert_eq!(saved, Saved::Written);
    }
    piece.close(MARCH).expect("it is put away");
    whole
}

#[test]
fn an_empty_tray_says_how_to_begin() {
    threadmark("pieces")
        .stdout("The tray is empty. `threadmark stitch` begins the demo piece.\n")
        .run();
    threadmark("pieces --json").stdout("").run();
}

#[test]
fn a_piece_with_its_progress() {
    let whole = with_piece(threadmark("pieces"), "Evening star", 8);
    whole
        .stdout(
            "  piece         title         step  of       last worked
  evening-star  Evening star     8  32  25%  2025-03-05 14:30
Each is a directory of [dir]/tray.
",
        )
        .run();
}

#[test]
fn a_piece_in_json() {
    let whole = with_piece(threadmark("pieces --json"), "Evening star", 32);
    let pieces = whole
        .stdout(concat!(
            r#"{"format":1,"piece":"evening-star","title":"Evening star","step":32,"steps":32,"#,
            r#""finished":true,"last_worked":"2025-03-05T14:30:00Z","path":"[dir]/tray/evening-star","condition":"sound","note":null}"#,
            "\n"
        ))
        .objects("pieces");
    assert_eq!(pieces.len(), 1);
}

#[test]
fn a_torn_journal_is_told() {
    let whole = with_piece(threadmark("pieces --json"), "Evening star", 8);
    let journal = whole.tray().join("evening-star/journal");
    let mut bytes = std::fs::read(&journal).unwrap();
    bytes.truncate(bytes.len() - 3);
    std::fs::write(&journal, bytes).unwrap();
    let pieces = whole.objects("pieces");
    assert_eq!(pieces[0]["condition"], "damaged");
    assert!(pieces[0]["note"].is_string());
}

#[test]
fn another_tray_is_another_tray() {
    let whole = with_piece(threadmark("pieces --tray elsewhere"), "Evening star", 8);
    whole
        .stdout("The tray is empty. `threadmark stitch` begins the demo piece.\n")
        .run();
}

#[test]
fn a_check_takes_a_piece_by_its_name() {
    let args = "check evening-star --job 1 --round 2 --count 6";
    with_piece(threadmark(args), "Evening star", 32)
        .stdout("face, round 2: 6, as it must be\n")
        .run();
}

#[test]
fn a_piece_that_is_not_there_asks_for_the_nearest() {
    let args = "check evening-sta --job 1 --round 2 --count 6";
    with_piece(threadmark(args), "Evening star", 1)
        .stderr(
            "error: 'evening-sta' is no piece of the tray, no file, and no pattern of threadmark\n  \
             mend: did you mean 'evening-star'?\n",
        )
        .code(2)
        .run();
}

#[test]
fn looking_changes_nothing() {
    let args = "check evening-star --job 1 --round 2 --count 6";
    let whole = with_piece(threadmark(args), "Evening star", 8);
    let journal = whole.tray().join("evening-star/journal");
    let before = std::fs::read(&journal).unwrap();
    whole.run();
    assert_eq!(std::fs::read(&journal).unwrap(), before);
}

#[test]
fn a_piece_stands_wherever_a_pattern_does() {
    let whole = with_piece(threadmark(""), "Evening star", 8).file("a.json", triangle(4));
    for args in [
        "rounds",
        "steps",
        "beads",
        "verify",
        "plan",
        "plan --json --cut 900",
        "sheet --to text",
        "check --job 1 --round 2 --count 6",
    ] {
        let of_piece = whole.again(args).arg("evening-star").run();
        let of_pattern = whole.again(args).arg("a.json").run();
        let piped = whole.again(args).arg("-").stdin(triangle(4)).run();
        assert_eq!(of_piece, of_pattern, "{args}");
        assert_eq!(piped, of_pattern, "{args}");
    }
}

#[test]
fn each_step_of_a_piece_says_whether_it_is_worked() {
    let whole = with_piece(threadmark("steps evening-star --json"), "Evening star", 8);
    for step in whole.objects("steps") {
        assert_eq!(step["worked"], step["step"].as_u64() <= Some(8), "{step}");
        assert_eq!(step["job_number"], 1);
    }
    let pattern = whole
        .again("steps a.json --json")
        .file("a.json", triangle(4));
    for step in pattern.objects("steps") {
        assert!(step.get("worked").is_none(), "a pattern is not worked on");
    }
}
