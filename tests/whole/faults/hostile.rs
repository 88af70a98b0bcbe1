//! Texts that want to steer the terminal: escape sequences, marks that turn
//! the reading direction, names without end; in a pattern, in a piece's own
//! files, in the names of files and in arguments. None of it reaches the
//! terminal, through whatever command.

use std::fs;
use std::process::Output;

use crate::builder::{Whole, threadmark};
use crate::pty::Screen;

/// What must never come out. (As ECMA-48 and xterm's "XTerm Control Sequences"
/// have them; direction marks from the Unicode bidirectional algorithm, UAX 9.)
const STEERING: [&str; 8] = [
    "\u{1b}]0;taken\u{7}",
    "\u{1b}[2J",
    "\u{1b}[5;31m",
    "\u{1b}P1$r\u{1b}\\",
    "\u{9b}6n",
    "\u{202e}",
    "\u{2067}",
    "\u{8}\u{8}\u{8}\u{7f}\u{0}",
];

/// A name with all of it.
fn name(word: &str) -> String {
    format!("{word}{}", STEERING.join("-"))
}

/// And without end.
fn endless(word: &str) -> String {
    name(word) + &"x".repeat(30_000)
}

/// A pattern that can be sewn, with such names wherever a maker may give one;
/// a panel's, which other places refer to, may hold nothing that is not seen.
fn pattern() -> String {
    let panel = "face";
    let pattern = serde_json::json!({
        "threadmark": 1,
        "title": name("Star"),
        "about": name("About") + "\n" + &name("more"),
        "beads": { "S": { "name": name("sea"), "size": "cylinder 11/0", "colour": "#2f7f79" } },
        "thread": "braided 0.12",
        "needle": 12,
        "panels": { panel: { "sides": 3, "rounds": 4, "colours": ["all: S*"] } },
        "make": { "panel": panel },
    });
    pattern.to_string()
}

/// No control character but the line feed, no mark that turns the direction.
fn steers(c: char) -> bool {
    (c.is_control() && c != '\n')
        || matches!(
            c,
            '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}'
        )
        || matches!(c, '\u{2066}'..='\u{2069}')
}

#[track_caller]
fn is_clean(what: &str, output: &Output) {
    for bytes in [&output.stdout, &output.stderr] {
        let text = std::str::from_utf8(bytes).unwrap_or_else(|e| panic!("{what}: {e}"));
        let found = text.find(steers).map(|at| {
            let near: String = text[at..].chars().take(20).collect();
            format!(
                "{near:?} in …{:?}",
                text[..at].chars().rev().take(60).collect::<String>()
            )
        });
        assert_eq!(found, None, "{what}");
    }
    let code = output.status.code();
    assert!(matches!(code, Some(0..=2)), "{what}: {code:?} {output:?}");
}

/// Every command that the help names, so that none is forgotten.
fn commands() -> Vec<String> {
    let help = threadmark("--help").run();
    let (_, list) = help.split_once("Commands:\n").expect("the commands");
    let list = list.split("\n\n").next().unwrap_or_default();
    let named = list
        .lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names: Vec<String> = named
        .filter_map(|line| line.split_whitespace().next().map(String::from))
        .collect();
    for one in [
        "rounds", "steps", "beads", "verify", "plan", "check", "locate", "pieces", "patterns",
    ] {
        assert!(
            names.iter().any(|name| name == one),
            "{one} among {names:?}"
        );
    }
    names
}

/// Runs every command on something, in all ways that there may be; what a
/// command does not know it refuses, and that is looked at too.
fn every_command(whole: &Whole, on: &str) {
    for command in commands() {
        for more in [
            "",
            "--json",
            "--count 2",
            "--json --count 2",
            "--plain",
            "--plain --look",
            "--job 1 --round 2 --count 7",
            "--job 1 --round 2 --count 7 --json",
            "--job \u{1b}[2J\u{202e} --round 2 --count 7",
            "--to text",
            "--to html",
            "--to svg",
        ] {
            let run = whole
                .again(&format!("{command} {on} {more}"))
                .stdin("\n\no\n?\n1\nq\n");
            is_clean(&format!("{command} {on} {more}"), &run.output());
        }
    }
}

#[test]
fn names_in_a_pattern_do_not_steer_any_command() {
    let whole = threadmark("").file("a.json", pattern());
    let made = whole.again("rounds a.json").output();
    assert_eq!(made.status.code(), Some(0), "{made:?}");
    every_command(&whole, "a.json");
}

/// A piece whose own files were written by somebody else.
fn piece() -> (Whole, String) {
    let whole = threadmark("stitch a.json --plain")
        .file("a.json", pattern())
        .stdin("\n\nq\n");
    whole.output();
    let entry = fs::read_dir(whole.tray())
        .expect("the tray")
        .flatten()
        .next();
    let dir = entry.expect("a piece").path();
    let facts = dir.join("piece.json");
    let mut told: serde_json::Value =
        serde_json::from_slice(&fs::read(&facts).expect("facts")).expect("facts");
    told["title"] = endless("Title").into();
    told["source"] = format!("/{}", endless("source")).into();
    fs::write(facts, told.to_string()).expect("facts are written");
    let entry = serde_json::json!({"at": 1, "did": {"note": {"step": 3, "text": endless("note")}}});
    let json = entry.to_string();
    let line = format!("{json} {:08x}\n", crc32fast::hash(json.as_bytes()));
    let journal = dir.join("journal");
    let text = fs::read_to_string(&journal).expect("the journal") + &line;
    fs::write(journal, text).expect("the journal is written");
    let name = dir
        .file_name()
        .expect("a name")
        .to_string_lossy()
        .into_owned();
    (whole, name)
}

#[test]
fn names_in_a_piece_do_not_steer_any_command() {
    let (whole, name) = piece();
    assert!(!name.contains(steers) && name.len() < 60, "{name:?}");
    every_command(&whole, &name);
}

#[test]
fn what_is_wrong_is_told_without_what_steers() {
    let panel = endless("face");
    let json = |value: serde_json::Value| value.to_string();
    let wrong = [
        pattern().replace("\"needle\":12", "\"needle\":\"\\u001b[2J\\u202e\""),
        pattern().replace("\"make\"", &json(endless("field").into())),
        pattern().replace("all: S*", "all: \\u001b[2J*"),
        pattern().replace("\\u001b", "\u{1b}"),
        format!("{{\"threadmark\": 1, {}", endless("unquoted")),
        json(
            serde_json::json!({"threadmark": 1, "panels": {panel.clone(): {panel.clone(): panel}}}),
        ),
        endless("no JSON at all"),
        pattern().replace("face", &"face".repeat(9_000)),
        pattern().replace("Star", &"Star".repeat(9_000)),
        pattern().replace("sea", &"sea".repeat(9_000)),
        pattern().replace("About", &"About".repeat(9_000)),
    ];
    for (n, text) in wrong.iter().enumerate() {
        let whole = threadmark("").file("a.json", text);
        for command in ["rounds", "steps", "verify", "plan", "stitch --plain"] {
            let output = whole.again(&format!("{command} a.json")).output();
            is_clean(&format!("{command} on wrong pattern {n}"), &output);
            assert_eq!(
                output.status.code(),
                Some(2),
                "{command} on wrong pattern {n}"
            );
            assert!(output.stderr.len() < 20_000, "{}", output.stderr.len());
        }
    }
}

#[test]
fn names_of_files_and_arguments_do_not_steer() {
    let steering = "a\u{1b}[2J\u{202e}\u{7}b";
    let whole = threadmark("").file(&format!("{steering}.json"), pattern());
    for command in commands() {
        for named in [
            steering,
            &format!("{steering}.json"),
            &format!("{steering}/c.json"),
        ] {
            let output = whole.again(&command).arg(named).stdin("q\n").output();
            is_clean(&format!("{command} on {named:?}"), &output);
            let output = whole.again(&command).arg("--tray").arg(named).output();
            is_clean(&format!("{command} with the tray {named:?}"), &output);
        }
        let output = whole
            .again("")
            .arg(&format!("{command}{steering}"))
            .output();
        is_clean("a command that there is not", &output);
    }
}

/// The sequences that the screen itself sends hold none of those.
#[track_caller]
fn screen_is_clean(screen: &Screen) {
    let bytes = screen.bytes();
    // The ground is asked for at the start, by a sequence that shows nothing.
    let text = String::from_utf8_lossy(&bytes).replace("\u{1b}]11;?\u{1b}\\", "");
    let taken = ["\u{7}", "\u{1b}]", "\u{1b}P", "\u{8}", "\u{7f}", "\u{0}"];
    for steering in taken {
        assert!(!text.contains(steering), "{steering:?} came out");
    }
    // The screen clears itself with this one, when it is taken.
    let cleared = text.matches("\u{1b}[2J").count();
    assert!(cleared <= 2, "cleared {cleared} times");
    assert!(!text.contains("\u{1b}[5;31m") && !text.contains("\u{1b}[5m"));
    let marks = text.find(|c| steers(c) && !matches!(c, '\u{1b}' | '\r'));
    assert_eq!(
        marks.map(|at| text[at..].chars().take(9).collect::<String>()),
        None
    );
}

#[test]
fn nothing_steers_the_full_screen_or_the_tray() {
    let (whole, name) = piece();
    // The note of this step, a count, the overview, settings, help, and
    // whatever else opens with a letter.
    let letters = ('a'..='z').chain(['?', '9']).filter(|c| *c != 'q');
    let sizes = [(80, 24), (40, 12), (20, 5)].into_iter().cycle();
    for (letter, (columns, rows)) in letters.zip(sizes) {
        let mut screen = Screen::open(&whole.again(&format!("stitch {name}")), columns, rows);
        screen.sees("You were at").keys("<space>");
        screen.walk(&letter.to_string()).settle();
        screen_is_clean(&screen);
        screen.press(b"\x03");
        assert_eq!(screen.ended(), 0, "after {letter}");
        screen_is_clean(&screen);
    }
    let mut screen = Screen::open(&whole.again(""), 80, 24);
    screen.sees("Your tray").keys("<down> <up>").settle();
    screen_is_clean(&screen);
    screen.keys("q");
    assert_eq!(screen.ended(), 0);
}
