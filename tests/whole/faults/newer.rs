//! A journal from a later version of the program. A later minor version is
//! worked on, and what is not known is kept; a later major version is left
//! alone, to the letter.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;

/// A line of a journal, with its sum (CRC-32 of RFC 1952).
fn line(json: &str) -> String {
    format!("{json} {:08x}\n", crc32fast::hash(json.as_bytes()))
}

/// A piece at step 2 whose journal names this version; with an entry, a field
/// and a reason for a move that nobody knows yet.
fn of_version(major: u32, minor: u32) -> (Whole, String) {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(3));
    whole.output();
    let journal = [
        format!(r#"{{"threadmark":"journal","major":{major},"minor":{minor}}}"#),
        r#"{"at":1700000001500,"did":{"move":{"step":1,"why":"forward"}}}"#.into(),
        r#"{"at":1700000002000,"did":{"rewound":{"bobbin":9}},"lamp":"warm"}"#.into(),
        r#"{"at":1700000003000,"did":{"move":{"step":2,"why":"teleport","hand":"left"}}}"#.into(),
    ];
    let journal: String = journal.iter().map(|json| line(json)).collect();
    fs::write(whole.tray().join("evening-star/journal"), &journal).expect("the journal");
    (whole, journal)
}

/// All files under the tray.
fn files(whole: &Whole) -> BTreeMap<PathBuf, Vec<u8>> {
    let entries = fs::read_dir(whole.tray().join("evening-star"))
        .expect("the piece")
        .flatten();
    let read = |path: PathBuf| (path.clone(), fs::read(&path).expect("a file"));
    entries.map(|entry| read(entry.path())).collect()
}

#[test]
fn a_newer_minor_version_is_worked_on_and_what_is_unknown_is_kept() {
    let (whole, journal) = of_version(1, 9);
    let mut screen = Screen::open(&whole.again("stitch evening-star"), 80, 24);
    screen.says("1 entry of the journal is from a newer threadmark; it is kept");
    screen
        .keys("<space>")
        .sees("step 3 of 18")
        .keys("<space>2")
        .sees("step 5 of 18");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    let now = fs::read_to_string(whole.tray().join("evening-star/journal")).expect("read");
    assert!(now.starts_with(&journal), "kept to the letter: {now}");
    assert_eq!(whole.piece("evening-star").state().step, 4);
}

/// Mending damage keeps them as well.
#[test]
fn a_newer_minor_version_that_is_torn_is_mended_without_loss_of_the_unknown() {
    let (whole, journal) = of_version(1, 9);
    let torn = journal.clone() + "{\"at\":17";
    fs::write(whole.tray().join("evening-star/journal"), torn).expect("the journal is torn");
    whole
        .again("stitch evening-star --plain")
        .stdin("\nq\n")
        .run();
    let now = fs::read_to_string(whole.tray().join("evening-star/journal")).expect("read");
    assert!(now.starts_with(&journal), "kept to the letter: {now}");
    assert_eq!(whole.piece("evening-star").state().step, 3);
}

#[test]
fn a_newer_major_version_is_refused_in_a_sentence_and_left_alone() {
    let (whole, _) = of_version(2, 0);
    let before = files(&whole);
    for args in [
        "stitch evening-star --plain",
        "stitch evening-star --plain --look",
        "locate evening-star",
        "check evening-star --job 1 --round 2 --count 6",
    ] {
        let output = whole.again(args).output();
        assert_eq!(output.status.code(), Some(2), "{args}: {output:?}");
        let said = String::from_utf8(output.stderr).expect("text");
        assert!(
            said.contains("2.0") && said.contains("newer"),
            "{args}: {said}"
        );
        assert_eq!(files(&whole), before, "{args}");
    }
    let listed = whole.again("pieces").output();
    let said = String::from_utf8(listed.stdout).expect("text");
    assert!(said.contains("newer than this threadmark reads"), "{said}");
    // Chosen in the tray it is said there, and nothing is touched.
    let mut screen = Screen::open(&whole.again(""), 80, 24);
    screen.sees("Evening star").keys("<enter>").says("newer");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(files(&whole), before);
}
