//! The tray on the full screen: pieces found, renamed, copied out and taken
//! in, put away and brought back.

use crate::builder::{Whole, threadmark};
use crate::pty::Screen;

/// The tray with a piece of two patterns.
fn tray() -> (Whole, Screen) {
    let whole = threadmark("");
    for name in ["practice-triangle", "practice-decrease"] {
        let stitch = whole.again(&format!("stitch {name} --plain"));
        stitch.stdin("\n\nq\n").run();
    }
    let mut screen = Screen::open(&whole.again(""), 80, 24);
    screen.sees("Your tray");
    (whole, screen)
}

fn names(whole: &Whole, args: &str) -> Vec<String> {
    let pieces = whole.again(args).objects("pieces").into_iter();
    let mut names: Vec<String> = pieces
        .map(|piece| piece["piece"].as_str().expect("a name").into())
        .collect();
    names.sort();
    names
}

#[test]
fn letters_typed_leave_only_lines_that_have_them() {
    let (_whole, mut screen) = tray();
    screen
        .sees("? help")
        .keys("/ sail")
        .sees("Lines with: sail");
    // Letters are text now, and the bar says so.
    screen.sees("Esc all lines  F1 help").loses("d more");
    screen
        .sees("First sail")
        .sees("Pair of sails")
        .loses("Porthole");
    // Esc shows all again and leaves nothing else.
    screen.keys("<esc>").sees("Porthole").keys("<esc>3");
    screen
        .sees("Your tray")
        .keys("/ first <enter>")
        .sees("You were at");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn in_a_small_window_the_chosen_piece_is_seen() {
    let (_whole, mut screen) = tray();
    screen.resize(30, 8).sees("▶ Porthole");
    screen.keys("<down>").sees("▶ First sail");
    // The last of the patterns.
    screen.press(&b"\x1b[B".repeat(20)).sees("▶ Weather wheel");
    screen.resize(80, 24).keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn a_piece_is_renamed() {
    let (whole, mut screen) = tray();
    // While letters are typed none of them does anything else.
    screen.keys("/ firstd").sees("Lines with: firstd");
    screen.keys("<esc>").loses("Lines with");
    screen
        .keys("<down> d")
        .sees("What do you want to do with 'First sail'?");
    screen.keys("<enter>").sees("New name: First sail");
    screen.keys("<backspace>10 Key <space> tag <enter>");
    screen.sees("It is called 'Key tag' now.").keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(names(&whole, "pieces --json"), ["key-tag", "porthole"]);
}

#[test]
fn a_piece_is_put_away_and_brought_back() {
    let (whole, mut screen) = tray();
    screen
        .keys("d <down>2 <enter>")
        .sees("'Porthole' is put away");
    assert_eq!(names(&whole, "pieces --json"), ["first-sail"]);
    screen
        .keys("<pagedown>3")
        .sees("Put away; d brings it back.");
    screen.keys("<enter>").sees("Bring it back").keys("<enter>");
    screen
        .sees("'Porthole' is back among your pieces.")
        .keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(names(&whole, "pieces --json"), ["first-sail", "porthole"]);
}

#[test]
fn a_piece_is_copied_out_and_taken_in() {
    let (whole, mut screen) = tray();
    screen
        .keys("d <down> <enter>")
        .sees("Copy to: porthole.piece");
    // All of its place is told: on the full screen nobody sees where the program runs.
    let file = whole.dir().join("porthole.piece");
    screen
        .keys("<enter>")
        .sees(&format!("Copied to {}.", file.display()));
    screen
        .keys("d <down> <enter>2")
        .sees("Not done: porthole.piece");
    screen.keys("<esc>2").sees("Your tray");
    screen.keys("d <down>3 <enter>").sees("Take in from:");
    screen
        .keys("nothing.piece <enter>")
        .says("Not done: cannot read nothing.piece:")
        .says("; check the file's name and place");
    screen.keys("<backspace>13 porthole.piece <enter>");
    screen.sees("'porthole-2' is among your pieces.").keys("q");
    assert_eq!(screen.ends().0, 0);
    let all = ["first-sail", "porthole", "porthole-2"];
    assert_eq!(names(&whole, "pieces --json"), all);
}

#[test]
fn a_tilde_is_the_home_directory_and_a_directory_that_is_not_there_is_said_once() {
    let (whole, mut screen) = tray();
    // The directory of a run is the home directory too.
    let beads = whole.dir().join("beads");
    screen
        .keys("d <down> <enter>")
        .sees("Copy to: porthole.piece");
    screen.keys("<ctrl-u> ~/beads/Ann.piece <enter>");
    let gone = format!("the directory {} is not there: make it", beads.display());
    screen.says(&gone);
    let shown = screen.text();
    assert_eq!(shown.matches("Not done").count(), 1, "{shown}");
    std::fs::create_dir(&beads).unwrap();
    screen.keys("<enter>").sees("Copied to ");
    assert!(beads.join("Ann.piece").is_file());
    screen.keys("d <down>3 <enter> ~/beads/Ann.piece <enter>");
    screen.sees("'porthole-2' is among your pieces.").keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn pieces_of_one_title_are_told_apart_by_their_names() {
    let whole = threadmark("");
    for _ in 0..2 {
        let stitch = whole.again("stitch harbour-lantern --plain --new");
        stitch.stdin("\n\nq\n").run();
    }
    let (first, second) = ("(harbour-lantern)", "(harbour-lantern-2)");
    for (columns, rows) in [(40, 12), (80, 24), (120, 40)] {
        let mut screen = Screen::open(&whole.again(""), columns, rows);
        screen.sees(first).sees(second);
        if columns > 40 {
            screen.sees(&format!("Harbour lantern {second}"));
            let asked = "What do you want to do with 'Harbour lantern'";
            screen.keys("d").sees(&format!("{asked} {second}?"));
            screen.keys("<esc> <down> d");
            screen.sees(&format!("{asked} {first}?")).keys("<esc>");
        }
        screen.keys("q");
        assert_eq!(screen.ends().0, 0);
    }
}

#[test]
fn the_help_tells_what_can_be_done_there() {
    let (_whole, mut screen) = tray();
    screen.keys("?").sees("The tray holds your pieces");
    screen.sees("give the piece another name").keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn patterns_to_begin_stand_easiest_first() {
    let (_whole, mut screen) = tray();
    let titles = ["First sail:", "Pair of sails:", "Weather wheel:"];
    let shown = screen.look(|shown| shown.contents());
    let places = titles.map(|title| shown.find(title));
    assert!(places.is_sorted() && places[0].is_some(), "{shown}");
    screen.keys("q");
}

/// Where there is room, the line that the maker is on has its picture.
#[test]
fn a_wide_tray_shows_the_piece_that_is_chosen() {
    let (whole, screen) = tray();
    drop(screen);
    let mut screen = Screen::open(&whole.again(""), 120, 40);
    let drawn = |screen: &vt100::Screen| {
        let rows = screen.rows(76, 44).collect::<Vec<_>>();
        rows.iter()
            .filter(|row| row.contains(['▀', '▄', '█']))
            .count()
    };
    screen.waits("the picture of the piece", |shown| drawn(shown) > 3);
    let triangle = screen.look(|shown| shown.contents());
    screen
        .keys("/ wheel")
        .waits("the picture of a ring", |shown| {
            drawn(shown) > 3 && shown.contents() != triangle
        });
    // Narrower, all the room is the list's.
    screen.resize(80, 24);
    screen.sees("Weather wheel").keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
}
