//! The whole solid on a terminal: turned, folded, moving of itself, and how
//! much is sent for it.

use std::time::{Duration, Instant};

use crate::builder::{Whole, threadmark};
use crate::pty::{PATIENCE, Screen};

fn coloured(args: &str) -> Whole {
    threadmark(args)
        .variable("LANG", "C.UTF-8")
        .variable("COLORTERM", "truecolor")
}

/// Opens a piece that was just begun, on its solid.
fn solid(whole: &Whole, columns: u16, rows: u16) -> Screen {
    let mut screen = Screen::open(whole, columns, rows);
    screen.sees("A new piece").keys("<space>");
    screen.loses("A new piece").keys("v").sees("Now: ");
    screen
}

/// How long no frame comes once nothing moves, even where a busy machine sends the
/// last ones late.
const LATE: Duration = Duration::from_millis(400);

/// Waits a good while in which nothing may be sent: no frame; and the look at
/// the journal, once a second, changes nothing.
#[track_caller]
fn stands_still(screen: &mut Screen) {
    let mut before = screen.settle().bytes().len();
    let end = Instant::now() + PATIENCE;
    while screen.came_within(LATE, before + 1) && Instant::now() < end {
        before = screen.settle().bytes().len();
    }
    let more = screen.came_within(Duration::from_millis(1300), before + 1);
    assert!(!more, "{}", screen.text());
}

#[test]
fn a_folded_pair_from_its_net_to_its_tie_and_no_step_is_made() {
    let whole = coloured("stitch harbour-lantern");
    let mut screen = solid(&whole, 80, 24);
    screen.sees("Panel 1").sees("* now 1").sees("- open 7");
    // It lies flat on the mat until it is folded.
    screen.sees("folded 0 %: the same letters meet");
    screen.keys("n").loses("folded 0 %").loses("folded");
    stands_still(&mut screen);
    screen.keys(". , , <right> <up>").sees("folded 75 %");
    screen.keys("0 s").sees("as finished").loses("* now 1");
    screen.keys("?").sees("a meets a, b meets b").keys("<esc>");
    screen
        .sees("as finished")
        .keys("<esc>")
        .sees("step 1 of 989");
    // To the job of the tie, where it folds by itself.
    screen
        .keys("o")
        .sees("Fold and tie the corners")
        .keys("<esc>");
    screen.keys("g j19 <enter>").keys("v").sees("Fold and tie");
    screen.loses("folded");
    stands_still(&mut screen);
    screen.keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn a_ring_turns_of_itself_until_it_is_stopped_and_keys_are_heard_meanwhile() {
    let whole = coloured("stitch weather-wheel");
    let mut screen = solid(&whole, 80, 24);
    screen.sees("ring turned 0 degrees");
    stands_still(&mut screen);
    screen.press(b" ").loses("ring turned 0 degrees");
    screen.press(b"s").sees("as finished");
    screen.press(b" ");
    stands_still(&mut screen);
    // Away from the solid nothing moves either.
    screen.press(b" ").loses("turned 0 degrees");
    screen.press(b"\x1b").sees("New thread: cut");
    screen.loses("as finished");
    stands_still(&mut screen);
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(whole.piece("weather-wheel").state().step, 0);
}

/// What a key changes is sent, and nothing else.
#[test]
fn a_frame_sends_what_changed() {
    let whole = coloured("stitch weather-wheel");
    let mut screen = solid(&whole, 80, 24);
    let mut sent = |keys: &str| {
        let before = screen.settle().bytes().len();
        screen.keys(keys);
        // All but the first change what is shown, a busy machine only later.
        if keys != "0" {
            screen.came_within(PATIENCE, before + 1);
            screen.settle();
        }
        screen.bytes().len() - before
    };
    // Home is where it is: nothing at all.
    assert_eq!(sent("0"), 0);
    let turned = sent("<right>");
    // The picture has about 700 cells; each in two true colours takes up to 40
    // bytes, and most change when it is turned by ten degrees.
    assert!((500..28_000).contains(&turned), "{turned}");
    let on = sent(".");
    assert!((500..28_000).contains(&on), "{on}");
    // The page about it and back is no more than a whole screen.
    let page = sent("?");
    assert!(page < 40_000, "{page}");
}

#[test]
fn a_ring_of_six_binds_where_it_binds() {
    let whole = threadmark("draft ring --tetrahedra 6 --rounds 12 -o six.json");
    assert!(whole.output().status.success());
    let six = whole.again("stitch six.json");
    let mut screen = solid(&six, 80, 24);
    screen
        .rush(". . . . . . . . . . . .")
        .says("The ring binds here");
    screen.says("It turns back.");
    screen.keys(",").loses("binds here");
    screen.keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn a_single_panel_is_shown_and_says_that_nothing_folds() {
    let whole = coloured("stitch flat-hexagon");
    let mut screen = solid(&whole, 40, 12);
    screen.keys("n").says("there is nothing to fold");
    stands_still(&mut screen);
    screen.keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn without_colour_the_solid_is_told_by_signs() {
    let whole = threadmark("stitch night-kite")
        .variable("LANG", "C")
        .variable("NO_COLOR", "1");
    let mut screen = solid(&whole, 80, 24);
    screen.keys("<esc> g j6 <enter> v").sees("Face 1 made");
    screen.sees("3 now").sees("%%%").sees("DDT");
    screen.keys("s").loses("%%%").sees("as finished");
    let sent = String::from_utf8_lossy(&screen.bytes()).into_owned();
    for colour in ["[38;", ";38;", "[48;", ";48;"] {
        assert!(!sent.contains(colour), "{colour}");
    }
    let text = screen.text();
    assert!(text.is_ascii(), "{text}");
    screen.keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
}
