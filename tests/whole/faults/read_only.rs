//! The tray may not be written to.
//!
//! Root may write anywhere, so as root the program is run as the user with the
//! number 65534, who may not; where even that cannot be had, the test says that
//! it tests nothing. A file already open for writing stays open for writing
//! when rights are taken away, so the fault is there when the piece is opened.

use std::fs::{self, Permissions};
use std::os::unix::fs::{PermissionsExt, chown};
use std::path::Path;
use std::process::Command;

use crate::builder::{PROGRAM, Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;

const NOBODY: u32 = 65534;
const AS_NOBODY: [&str; 4] = [
    "setpriv",
    "--reuid=65534",
    "--regid=65534",
    "--clear-groups",
];
const CANNOT: &str = "the tray cannot be written to";

/// Sets the rights of a directory and all that lies in it.
fn set(dir: &Path, directories: u32, files: u32) {
    for entry in fs::read_dir(dir).expect("a directory").flatten() {
        match entry.path() {
            path if path.is_dir() => set(&path, directories, files),
            path => rights(&path, files),
        }
    }
    rights(dir, directories);
}

fn rights(path: &Path, mode: u32) {
    fs::set_permissions(path, Permissions::from_mode(mode)).expect("rights are set");
    if rustix::process::geteuid().is_root() {
        chown(path, Some(NOBODY), Some(NOBODY)).expect("it is given away");
    }
}

/// How to start a program as somebody whom rights bind; `None` if there is no
/// way.
fn bound() -> Option<&'static [&'static str]> {
    if !rustix::process::geteuid().is_root() {
        return Some(&[]);
    }
    let mut starts = Command::new(AS_NOBODY[0]);
    let starts = starts
        .args(&AS_NOBODY[1..])
        .args([PROGRAM, "--version"])
        .output();
    match starts.is_ok_and(|output| output.status.success()) {
        true => Some(&AS_NOBODY),
        false => {
            eprintln!("NOT TESTED: root, whom no rights bind, and nobody else may run this");
            None
        }
    }
}

/// A piece that rests after step 3, in a tray that may only be read.
fn resting() -> Option<Whole> {
    let through = bound()?;
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(9));
    whole
        .again("stitch a.json --plain")
        .stdin("\n\n\nq\n")
        .output();
    // The directory of a test is its owner's alone.
    rights(whole.dir(), 0o755);
    set(&whole.tray(), 0o555, 0o444);
    Some(whole.through(through))
}

#[test]
fn a_tray_that_may_not_be_written_is_told_at_opening_and_steps_wait() {
    let Some(whole) = resting() else { return };
    let again = whole
        .again("stitch evening-star")
        .through(bound().expect("a way"));
    let mut screen = Screen::open(&again, 80, 24);
    // Before any key.
    screen.sees("You were at").says(CANNOT);
    screen.keys("<space>").sees("step 4 of ").says(CANNOT);
    screen
        .rush("<space>4")
        .sees("step 8 of ")
        .says("5 entries wait");
    assert_eq!(whole.piece("evening-star").state().step, 3);
    set(&whole.tray(), 0o755, 0o644);
    screen.loses("Not kept");
    assert_eq!(whole.piece("evening-star").state().step, 7);
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert!(whole.piece("evening-star").notices().is_empty());
}

#[test]
fn quitting_then_says_what_was_not_kept_and_the_journal_is_as_it_was() {
    let Some(whole) = resting() else { return };
    let journal = whole.tray().join("evening-star/journal");
    let before = fs::read(&journal).expect("the journal");
    let again = whole
        .again("stitch evening-star")
        .through(bound().expect("a way"));
    let mut screen = Screen::open(&again, 80, 24);
    screen.says(CANNOT).keys("<space>3 q");
    let (code, left) = screen.ends();
    assert_eq!(code, 2);
    assert!(left.contains(CANNOT), "{left}");
    assert_eq!(fs::read(&journal).expect("the journal"), before);
    set(&whole.tray(), 0o755, 0o644);
}

#[test]
fn no_piece_can_be_begun_and_that_is_said() {
    let Some(whole) = resting() else { return };
    let again = whole
        .again("stitch a.json --new --plain")
        .through(bound().expect("a way"));
    let output = again.output();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).expect("text");
    assert!(said.contains("cannot begin a piece in"), "{said}");
    let pieces = fs::read_dir(whole.tray()).expect("the tray").count();
    assert_eq!(pieces, 1);
    set(&whole.tray(), 0o755, 0o644);
}
