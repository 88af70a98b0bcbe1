//! The journal cut at every byte, and with every byte spoiled: the longest
//! good part is used, the maker is told what was left out, and the damaged file
//! is kept beside.
//!
//! The bits that flip, all of them, are tried on the reading itself in
//! src/progress/journal/tests.rs; here a piece is opened on each journal, and
//! the program itself on some of every line.

use std::fs;
use std::path::PathBuf;

use threadmark::progress::{Mode, Moment, Tray};

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;

/// The program itself is opened at one byte in so many.
const BY_PROGRAM: usize = 16;

/// A piece with some of everything in its journal, and that journal.
fn kept() -> (Whole, PathBuf, Vec<u8>) {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(3));
    whole
        .again("stitch a.json --plain")
        .stdin("\nn tight\nq\n")
        .output();
    let path = whole.tray().join("evening-star/journal");
    let bytes = fs::read(&path).expect("the journal");
    (whole, path, bytes)
}

/// Steps after each line of a journal that is still whole, taken together.
fn step_after(lines: &[&[u8]]) -> u32 {
    let step = |line: &&[u8]| {
        let text = std::str::from_utf8(line).ok()?;
        let (_, rest) = text.split_once("\"step\":")?;
        text.contains("\"move\"")
            .then(|| rest.split(',').next()?.parse().ok())?
    };
    lines.iter().filter_map(step).next_back().unwrap_or(0)
}

/// What the program says when it takes the piece up and lays it down again.
#[track_caller]
fn by_program(whole: &Whole) -> String {
    let call = whole.again("stitch evening-star --plain").stdin("q\n");
    let output = call.output();
    let said = String::from_utf8(output.stdout).expect("text");
    assert_eq!(output.status.code(), Some(0), "{said}");
    said
}

/// The same without a process of its own.
#[track_caller]
fn in_here(whole: &Whole) -> String {
    let now = Moment::now();
    let tray = Tray::open(&whole.tray());
    let piece = tray.open_piece("evening-star", Mode::Work, now);
    let piece = piece.expect("it opens");
    let told: String = piece
        .notices()
        .iter()
        .map(|told| format!("{told}.\n"))
        .collect();
    let step = piece.state().step;
    piece.close(now).expect("it is kept");
    format!("{told}It rests after step {step} of 18.")
}

/// Opens the piece on a journal, and holds what it says against what is left.
#[track_caller]
fn opens(whole: &Whole, path: &PathBuf, damaged: &[u8], is_told: bool, step: u32, at: usize) {
    let what = format!("at byte {at}");
    let dir = path.parent().expect("the piece's directory");
    for entry in fs::read_dir(dir).expect("the piece's directory").flatten() {
        if entry.file_name().to_string_lossy().starts_with("journal") {
            fs::remove_file(entry.path()).expect("the last one's journals");
        }
    }
    fs::write(path, damaged).expect("the journal is damaged");
    let said = match at.is_multiple_of(BY_PROGRAM) {
        true => by_program(whole),
        false => in_here(whole),
    };
    assert!(
        said.contains(&format!("rests after step {step} of 18.")),
        "{what}: {said}"
    );
    let aside = dir.join("journal.damaged-1");
    match is_told {
        true => {
            let told = "The damaged file is kept beside as journal.damaged-1";
            assert!(said.contains(told), "{what}: {said}");
            assert_eq!(
                fs::read(aside).expect("the damaged file"),
                damaged,
                "{what}"
            );
        }
        false => assert!(
            !aside.exists() && !said.contains("damaged"),
            "{what}: {said}"
        ),
    }
    // And the next time there is nothing to tell.
    let again = whole.piece("evening-star");
    assert_eq!(
        (again.state().step, again.notices()),
        (step, &[][..]),
        "{what}"
    );
}

#[test]
fn cut_at_every_byte_the_program_opens_and_tells() {
    let (whole, path, bytes) = kept();
    for cut in 0..bytes.len() {
        let part = &bytes[..cut];
        let mut lines: Vec<&[u8]> = part.split_inclusive(|&byte| byte == b'\n').collect();
        let torn = lines.last().is_none_or(|line| !line.ends_with(b"\n"));
        // A line that lacks nothing but its end is whole.
        let whole_line = torn && !lines.is_empty() && bytes[cut] == b'\n';
        if torn && !whole_line {
            lines.pop();
        }
        let is_told = torn && !whole_line;
        opens(&whole, &path, part, is_told, step_after(&lines), cut);
    }
}

#[test]
fn with_every_byte_spoiled_the_program_opens_and_tells() {
    let (whole, path, bytes) = kept();
    for at in 0..bytes.len() {
        let mut spoiled = bytes.clone();
        spoiled[at] ^= 1 << (at % 8);
        let mut lines: Vec<&[u8]> = bytes.split_inclusive(|&byte| byte == b'\n').collect();
        let hit = bytes[..at].iter().filter(|&&byte| byte == b'\n').count();
        if bytes[at] == b'\n' && hit + 1 < lines.len() {
            lines.remove(hit + 1);
        }
        lines.remove(hit);
        opens(&whole, &path, &spoiled, true, step_after(&lines), at);
    }
}

#[test]
fn the_full_screen_tells_it_on_the_card() {
    let (whole, path, mut bytes) = kept();
    bytes.truncate(bytes.len() - 3);
    fs::write(&path, &bytes).expect("the journal is torn");
    let mut screen = Screen::open(&whole.again("stitch evening-star"), 80, 24);
    screen.says("the last line of the journal is torn");
    screen.says("The damaged file is kept beside as journal.damaged-1");
    screen.keys("<space> q");
    assert_eq!(screen.ends().0, 0);
}
