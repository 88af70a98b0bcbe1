//! Whatever a terminal sends, the program stays awake: a new size is painted,
//! a signal ends it, Ctrl-C ends it, and what makes no key swallows none.

use std::thread;
use std::time::Duration;

use super::as_found::{as_found, rested};
use super::dice::Dice;
use super::{at_once, stitching};
use crate::pty::Screen;

/// Sequences tried in one sitting.
const A_SITTING: usize = 40;

/// Longer than the program waits for the rest of a sequence.
const GIVEN_UP: Duration = Duration::from_millis(500);

/// What stands between `ESC [` and the final byte.
const PARAMETERS: [&str; 8] = ["5", "99", "1;5", "200", "?62;4", "<0;9", ">1;2;3", "1 "];

/// Beginnings of sequences that no terminal finishes: keys with Alt, cut lines,
/// half answers to a question (about pictures, attributes, a colour, a
/// setting), a letter of several bytes.
const UNFINISHED: [&[u8]; 24] = [
    b"\x1b[",
    b"\x1b[5",
    b"\x1b[1;5",
    b"\x1b[?62",
    b"\x1b[<0;9;9",
    b"\x1b[[",
    b"\x1b[M",
    b"\x1b[M !",
    b"\x1b[200",
    b"\x1b[ ",
    b"\x1bO",
    b"\x1bO5",
    b"\x1b\x1b[",
    b"\x1b_",
    b"\x1b_Gi=298",
    b"\x1b_Gi=29800;OK",
    b"\x1b]11;rgb:0000/",
    b"\x1bP1$r",
    b"\x1bX",
    b"\x1b^",
    b"\xc3",
    b"\xe2\x97",
    b"\xf0\x9f\xa7",
    b"\x1b\xc3",
];

/// How often the whole screen was painted: each time it is emptied first
/// (ECMA-48 ED, `ESC [ 2 J`), or taken anew, as on the way to the tray (mode
/// 1049 of xterm).
fn paintings(sent: &[u8]) -> usize {
    let count = |what: &[u8]| sent.windows(what.len()).filter(|w| *w == what).count();
    count(b"\x1b[2J") + count(b"\x1b[?1049h")
}

/// Gives the terminal another size, and waits until all is painted in it.
#[track_caller]
fn is_awake(screen: &mut Screen, after: &[u8]) {
    let before = paintings(&screen.bytes());
    let (rows, columns) = screen.look(|terminal| terminal.size());
    screen.becomes(columns.get(), 50 - rows.get());
    let what = format!("it is painted anew after {}", after.escape_ascii());
    screen.sends(&what, |sent| paintings(sent) > before);
}

/// Sends each to the running program, in any order, and holds it awake after
/// each; Ctrl-C ends it.
fn hold_awake(mut sequences: Vec<Vec<u8>>) {
    let mut dice = Dice::seeded();
    println!("SEED={}", dice.0);
    for last in (1..sequences.len()).rev() {
        sequences.swap(last, dice.roll(last as u64 + 1) as usize);
    }
    let sittings: Vec<&[Vec<u8>]> = sequences.chunks(A_SITTING).collect();
    at_once(&sittings, |some| {
        let (whole, mut screen) = stitching();
        for sequence in *some {
            screen.press(sequence);
            is_awake(&mut screen, sequence);
        }
        screen.press(b"\x03");
        assert_eq!(screen.ended(), 0);
        as_found(&screen);
        assert!(rested(&whole));
    });
}

#[test]
fn control_sequences_of_every_final_byte_leave_it_awake() {
    let mut dice = Dice::seeded();
    let mut all = vec![];
    for last in '@'..='~' {
        let parameters = PARAMETERS[dice.roll(PARAMETERS.len() as u64) as usize];
        all.push(format!("\x1b[{last}").into_bytes());
        all.push(format!("\x1b[{parameters}{last}").into_bytes());
    }
    hold_awake(all);
}

#[test]
fn escape_sequences_and_single_shifts_of_every_byte_leave_it_awake() {
    // ESC and a control are Alt and a key, which may end it.
    let escapes = (b' '..=b'~').map(|last| vec![0x1b, last]);
    // What follows ESC N, the other shift, is a key of its own.
    let shifted = (b' '..=b'~').map(|last| vec![0x1b, b'O', last]);
    hold_awake(escapes.chain(shifted).collect());
}

#[test]
fn bytes_of_no_text_leave_it_awake() {
    hold_awake((0x80..=0xff).map(|byte| vec![byte]).collect());
}

#[test]
fn after_an_unfinished_sequence_a_signal_ends_it_at_once_and_the_piece_rests() {
    at_once(&UNFINISHED, |start| {
        let (whole, mut screen) = stitching();
        screen.press(start);
        is_awake(&mut screen, start);
        screen.signal("-TERM");
        // Ended by itself, and not by the signal.
        assert_eq!(screen.ended(), 0, "{}", start.escape_ascii());
        as_found(&screen);
        assert!(rested(&whole), "{}", start.escape_ascii());
    });
}

#[test]
fn ctrl_c_is_taken_right_behind_an_unfinished_sequence() {
    at_once(&UNFINISHED, |start| {
        let (whole, mut screen) = stitching();
        screen.press(&[start, &b"\x03"[..]].concat());
        assert_eq!(screen.ended(), 0, "{}", start.escape_ascii());
        as_found(&screen);
        assert!(rested(&whole), "{}", start.escape_ascii());
    });
}

#[test]
fn an_unfinished_sequence_is_given_up_and_keys_are_taken_again() {
    let sittings: Vec<&[&[u8]]> = UNFINISHED.chunks(6).collect();
    at_once(&sittings, |some| {
        let (whole, mut screen) = stitching();
        let mut step = 3;
        // The Esc key is one of its own.
        let starts = some.iter().filter(|start| !start.starts_with(b"\x1b\x1b"));
        for start in starts {
            screen.press(start);
            is_awake(&mut screen, start);
            thread::sleep(GIVEN_UP);
            step += 1;
            screen.press(b" ").sees(&format!("step {} of ", step + 1));
        }
        screen.press(b"\x03");
        assert_eq!(screen.ended(), 0);
        assert_eq!(whole.piece("evening-star").state().step, step);
    });
}

/// A slow line sends a sequence byte by byte.
#[test]
fn a_key_that_comes_byte_by_byte_is_one_key() {
    let (whole, mut screen) = stitching();
    for byte in b"\x1b[1;1C\x1b[C" {
        screen.press(&[*byte]);
    }
    screen.sees("step 6 of ").press(b"\x03");
    assert_eq!(screen.ended(), 0);
    assert_eq!(whole.piece("evening-star").state().step, 5);
}
