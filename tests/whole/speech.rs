//! What is said aloud: the lines that a speech program of the maker's gets.

use std::os::unix::fs::PermissionsExt as _;
use std::time::{Duration, Instant};

use crate::builder::{Whole, threadmark};
use crate::pty::Screen;

/// A speech program that writes down what it hears, and its command.
fn listening(call: &str) -> Whole {
    let whole =
        threadmark(&format!("{call} --say ./hears")).file("hears", "#!/bin/sh\ncat >> heard\n");
    let program = whole.dir().join("hears");
    let mode = std::fs::Permissions::from_mode(0o755);
    std::fs::set_permissions(program, mode).expect("it can be run");
    whole
}

/// Waits until a text was heard.
#[track_caller]
fn hears(whole: &Whole, text: &str) {
    let end = Instant::now() + Duration::from_secs(30);
    let heard = || std::fs::read_to_string(whole.dir().join("heard")).unwrap_or_default();
    while !heard().contains(text) {
        assert!(
            Instant::now() < end,
            "never heard '{text}' but:\n{}",
            heard()
        );
        std::thread::sleep(Duration::from_millis(20));
    }
}

#[test]
fn beside_the_screen_every_step_and_every_answer_is_said() {
    let whole = listening("stitch practice-pair");
    let mut screen = Screen::open(&whole, 80, 24);
    hears(&whole, "A new piece.");
    screen.keys("<space>");
    hears(&whole, "step 1 of 49: New thread");
    screen.rush("<space>9").sees("step 10 of 49");
    hears(&whole, "step 10 of 49: ");
    screen.keys("7 <enter>");
    hears(&whole, "Round 2: 7 counted, there should be 6: 1 too many.");
    screen.keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn the_plain_mode_is_said_as_it_is_printed() {
    let whole = listening("stitch practice-pair --plain");
    let mut screen = Screen::open(&whole, 80, 24);
    hears(&whole, "A new piece.");
    screen.keys("<enter>").sees("step 2 of 49");
    hears(&whole, "step 2 of 49: Pick up 1 L for the ring.");
    screen.keys("q <enter>");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn a_speech_program_that_is_not_there_is_an_error_before_anything_is_begun() {
    let whole = threadmark("stitch practice-pair --plain --say no-such-voice").code(2);
    let said = whole.output();
    let said = String::from_utf8_lossy(&said.stderr);
    assert!(
        said.starts_with("error: the speech program 'no-such-voice' cannot be started: "),
        "{said}"
    );
    assert!(
        said.contains("\n  mend: give the command of one that is installed"),
        "{said}"
    );
    assert!(!whole.tray().exists());
}
