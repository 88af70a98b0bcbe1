//! The fine picture of the solid, on a terminal that shows pictures, on one
//! that does not, and on one that does not answer.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

use crate::builder::{Whole, threadmark};
use crate::pty::Screen;

/// What terminals answer: the attributes alone, or that they show pictures
/// before it.
const NONE: &[u8] = b"\x1b[?62;22c";
const SHOWS: &[u8] = b"\x1b_Gi=29800;OK\x1b\\\x1b[?62;22c";

/// The question, as the program sends it.
const QUESTION: &[u8] = b"\x1b_Gi=29800,s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\\x1b[c";

/// The solid in front, and the terminal asked: it must answer within a second.
fn asked(whole: &Whole) -> Screen {
    let mut screen = Screen::begun(whole);
    screen.keys("v").sees("Now: ").press(b"i");
    screen.sends("the terminal is asked", |sent| {
        sent.windows(QUESTION.len()).any(|w| w == QUESTION)
    });
    screen
}

fn lantern() -> Whole {
    threadmark("stitch harbour-lantern")
        .variable("LANG", "C.UTF-8")
        .variable("COLORTERM", "truecolor")
}

/// The pictures sent so far, put together from their parts.
fn pictures(sent: &[u8]) -> Vec<Vec<u8>> {
    let sent = String::from_utf8_lossy(sent);
    let mut all: Vec<String> = vec![];
    for part in sent.split("\x1b_G").skip(1) {
        let Some((inside, _)) = part.split_once("\x1b\\") else {
            continue;
        };
        let (told, data) = inside.split_once(';').unwrap_or((inside, ""));
        match told {
            _ if told.starts_with("a=T,") => all.push(data.into()),
            _ if told.starts_with("m=") => all.last_mut().expect("a first part").push_str(data),
            _ => {}
        }
    }
    let png = |text: String| STANDARD.decode(text).expect("base64");
    all.into_iter().map(png).collect()
}

fn taken_away(sent: &[u8]) -> bool {
    let sent = String::from_utf8_lossy(sent);
    let (gone, shown) = (sent.rfind("\x1b_Ga=d,d=I,"), sent.rfind("\x1b_Ga=T,"));
    gone > shown
}

#[test]
fn a_terminal_that_shows_pictures_is_sent_one_and_it_is_taken_away_when_the_piece_turns() {
    let whole = lantern();
    let mut screen = asked(&whole);
    screen
        .press(SHOWS)
        .sees("A fine picture while nothing moves");
    screen.sends("a picture comes", |s| !pictures(s).is_empty());
    screen.settle();
    let first = pictures(&screen.bytes());
    let decoder = png::Decoder::new(std::io::Cursor::new(first.last().expect("one")));
    let info = decoder.read_info().expect("a PNG");
    // As wide as the screen, in points of cells of 10 by 20.
    assert_eq!(info.info().width, 800);
    assert!(info.info().height.is_multiple_of(20) && info.info().height > 200);
    assert!(!taken_away(&screen.bytes()));
    // Names of faces stay, written over it.
    screen.sees("Panel 1");
    screen.keys("<right>");
    let before = first.len();
    screen.sends("another comes", |s| pictures(s).len() > before);
    // Back to cells, and to the stitches: nothing of it stays.
    screen.keys("i").sends("it is gone", taken_away);
    screen.keys("i").sends("it is there", |s| !taken_away(s));
    screen.keys("<esc>").sends("it is gone", taken_away);
    screen.sees("step 1 of 989");
}

#[test]
fn the_picture_is_gone_with_the_program() {
    let whole = lantern();
    let mut screen = asked(&whole);
    screen.press(SHOWS);
    screen.sends("a picture comes", |s| !pictures(s).is_empty());
    screen.signal("-TERM").sends("it is gone", taken_away);
}

#[test]
fn a_terminal_that_shows_none_keeps_its_cells_and_keys_typed_meanwhile_count() {
    let whole = lantern();
    let mut screen = asked(&whole);
    // 's' is typed before the answer has come.
    screen.press(b"s").press(NONE);
    screen.sees("as finished").keys("i");
    screen.sees("does not say that it shows pictures");
    assert!(pictures(&screen.bytes()).is_empty());
}

#[test]
fn a_terminal_that_does_not_answer_is_not_waited_for_long_and_a_late_answer_is_no_key() {
    let whole = lantern();
    let mut screen = asked(&whole);
    screen.sees("does not say that it shows pictures");
    // Taken for keys, 'i' and 's' would do something.
    screen.press(b"\x1b_Gi=29800;OKs\x1b\\\x1b[?62c").settle();
    screen.keys("<right>").sees("* now 1");
    screen.keys("s").sees("as finished");
}

/// Half an answer is given up, and the keys after it are keys; so is a whole
/// one that comes unasked.
#[test]
fn half_a_late_answer_swallows_no_key() {
    let whole = lantern();
    let mut screen = asked(&whole);
    screen.sees("does not say that it shows pictures");
    screen.press(&SHOWS[..SHOWS.len() / 2]).settle();
    // Longer than the program waits for the rest of a sequence.
    std::thread::sleep(std::time::Duration::from_millis(500));
    screen.keys("s").sees("as finished");
    screen.press(SHOWS).keys("s").loses("as finished");
}
