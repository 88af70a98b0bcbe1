//! A storm of bytes on the keyboard of a real terminal whose size changes:
//! the program goes on, ends cleanly where a key ends it, and leaves a sound
//! journal. Twenty thousand more are in src/screen/storm.rs; here the way
//! of the bytes through the terminal is tried as well.

use super::dice::Dice;
use crate::builder::threadmark;
use crate::pattern::folded_pair;
use crate::pty::Screen;

const BYTES: u64 = 6_000;
/// Keys between two new sizes.
const GUST: u64 = 60;

/// What comes from a keyboard, or from a cat on it: letters, sequences whole
/// and cut short, mouse and paste that nobody asked for, bytes of no text.
fn key(dice: &mut Dice) -> Vec<u8> {
    let sequences: [&[u8]; 12] = [
        b"\x1b[A",
        b"\x1b[B",
        b"\x1b[5~",
        b"\x1b[6~",
        b"\x1b[Z",
        b"\x1bOP",
        b"\x1b[15;5~",
        b"\x1b[",
        b"\x1b[M !!",
        b"\x1b[<0;9;9M",
        b"\x1b[200~q\x1b[201~",
        b"\x1b[I",
    ];
    match dice.roll(12) {
        0..4 => vec![b' '],
        4..9 => vec![b' ' + dice.roll(95) as u8],
        9 => sequences[dice.roll(12) as usize].to_vec(),
        10 => vec![[b'\r', 0x1b][dice.roll(2) as usize]],
        // Ctrl-Z would stop it: as_found.rs.
        _ => vec![dice.roll(256) as u8]
            .into_iter()
            .filter(|b| *b != 0x1a)
            .collect(),
    }
}

#[test]
fn bytes_at_random_and_sizes_at_random_stop_nothing_and_spoil_nothing() {
    let mut dice = Dice::seeded();
    println!("SEED={}", dice.0);
    let whole = threadmark("stitch a.json --plain").file("a.json", folded_pair(5, 1));
    whole.output();
    // Before it has taken the terminal, Ctrl-C is a signal and no key.
    let open = || {
        let mut screen = Screen::open(&whole.again("stitch evening-star"), 80, 24);
        screen.sees("space go on");
        screen
    };
    let mut screen = open();
    let (mut sittings, mut typed) = (1, 0);
    while typed < BYTES {
        for _ in 0..GUST {
            let bytes = key(&mut dice);
            typed += bytes.len() as u64;
            screen.press(&bytes);
        }
        let (columns, rows) = match dice.roll(3) {
            0 => (1 + dice.roll(300), 1 + dice.roll(100)),
            _ => (1 + dice.roll(80), 1 + dice.roll(24)),
        };
        if screen.resize(columns as u16, rows as u16).is_over() {
            let said = String::from_utf8_lossy(&screen.bytes()).into_owned();
            let end: String = said
                .chars()
                .rev()
                .take(900)
                .collect::<Vec<_>>()
                .into_iter()
                .rev()
                .collect();
            assert_eq!(screen.ended(), 0, "{end}");
            assert!(whole.piece("evening-star").notices().is_empty());
            screen = open();
            sittings += 1;
        }
    }
    // What begins like a sequence swallows all up to its last letter.
    for _ in 0..20 {
        if !screen.is_over() {
            screen.press(b"M~\x03").settle();
        }
    }
    assert_eq!(screen.ended(), 0, "{}", screen.text());
    let piece = whole.piece("evening-star");
    assert_eq!(piece.notices(), []);
    assert!(piece.state().furthest > 0);
    println!("{sittings} sittings");
}
