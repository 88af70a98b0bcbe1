//! The whole face on a terminal: opened, made larger, pointed at, jumped from;
//! painted, written, and taken up again after a kill.

use crate::builder::{Whole, threadmark};
use crate::pattern::{tetrahedron, triangle};
use crate::pty::Screen;

fn piece(text: String) -> (Whole, Screen) {
    let whole = threadmark("stitch a.json").file("a.json", text);
    let mut screen = Screen::begun(&whole);
    screen.rush("<space>9").sees("step 10 of");
    (whole, screen)
}

/// A click on a cell, from 0, as a terminal tells it (mode 1006 of xterm).
fn click(screen: &mut Screen, column: u16, row: u16) {
    let (x, y) = (column + 1, row + 1);
    screen.press(format!("\x1b[<0;{x};{y}M\x1b[<0;{x};{y}m").as_bytes());
}

/// The place of the bead pointed at: between its brackets.
fn pointed(screen: &Screen) -> (u16, u16) {
    let text = screen.text();
    let found = text.lines().zip(0..).find_map(|(line, y)| {
        let chars: Vec<char> = line.chars().collect();
        let at =
            (0..chars.len().saturating_sub(2)).find(|x| chars[*x] == '[' && chars[x + 2] == ']')?;
        Some((at as u16 + 1, y))
    });
    found.expect("a bead is pointed at")
}

#[test]
fn a_bead_is_pointed_at_told_gone_to_and_left_again() {
    let (_whole, mut screen) = piece(triangle(6));
    screen.keys("f").sees("The whole face: face, 6 rounds");
    screen
        .sees("In place since step")
        .sees("The thread goes through it");
    let here = pointed(&screen);
    screen.keys("<up>3").sees("To come: step ");
    let text = screen.text();
    let step = text.split("To come: step ").nth(1).unwrap();
    let step = step.split(' ').next().unwrap().to_string();
    assert_ne!(pointed(&screen), here);
    screen.keys("+ +").sees("[").keys("0");
    screen.keys("<enter>").sees(&format!("step {step} of"));
    screen.keys("b").sees("step 10 of");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn a_click_points_where_it_hits_and_the_wheel_zooms() {
    let (_whole, mut screen) = piece(triangle(6));
    screen.keys("f").sees("The whole face");
    let here = pointed(&screen);
    screen.keys("<up>").settle();
    assert_ne!(pointed(&screen), here);
    screen.loses("[◆]");
    click(&mut screen, here.0, here.1);
    // Back at the bead that the needle leaves.
    screen.sees("[◆]");
    assert_eq!(pointed(&screen), here, "{}", screen.text());
    // Large beads have their brackets further apart.
    screen.press(&b"\x1b[<64;20;10M".repeat(4));
    screen.loses("[◆]").sees("◆");
    screen.press(&b"\x1b[<65;20;10M".repeat(4)).sees("[◆]");
    screen.keys("q").sees("step 10 of");
    // Where there is no face a click is nothing.
    click(&mut screen, 40, 8);
    screen.keys("<space>").sees("step 11 of");
}

#[test]
fn in_a_small_window_it_is_told_in_words() {
    let (_whole, mut screen) = piece(triangle(6));
    screen
        .keys("f")
        .resize(40, 12)
        .sees("round 2, side 3, bead");
    screen.resize(20, 5).sees("round 2");
    screen.resize(120, 40).sees("needle comes out");
    screen
        .keys("c")
        .sees("In hand")
        .resize(40, 12)
        .sees("In hand");
    screen
        .keys("A <space>")
        .says("This bead is sewn: it keeps its colour");
    screen.keys("<esc> <esc>").resize(80, 24).sees("step 10 of");
}

#[test]
fn paint_survives_a_kill_and_is_written_to_the_file_it_came_from() {
    let text = tetrahedron(5);
    let (whole, mut screen) = piece(text.clone());
    screen
        .keys("f <up>3 c")
        .says("You paint all 4 panels of the kind 'face'");
    screen
        .keys("A s s <space>")
        .sees("3 beads are A now, alike in 4 panels");
    screen.sees("(+12)").sees("(-12)");
    // No word of it is in the file yet.
    let file = whole.dir().join("a.json");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), text);
    screen.kill();
    let mut screen = Screen::open(&whole.again("stitch evening-star"), 80, 24);
    screen.sees("You were at").keys("<space> f <up>3 c");
    screen
        .says("You paint all 4 panels")
        .keys("e")
        .sees("In hand  A  amber");
    screen
        .keys("w")
        .sees("Write the colours to: ")
        .sees("a.json");
    screen.keys("<enter>").sees("Written to ");
    let now = std::fs::read_to_string(&file).unwrap();
    let changed: Vec<(&str, &str)> = text
        .lines()
        .zip(now.lines())
        .filter(|(a, b)| a != b)
        .collect();
    assert_eq!(changed.len(), 1, "{now}");
    let painted = "\"colours\": [\"all: S*\", \"";
    assert!(changed[0].1.contains(painted), "{now}");
    screen.keys("z").loses("Written").keys("<esc> <esc> q");
    assert_eq!(screen.ends().0, 0);
    // The file can be sewn, and counts as the screen counted.
    let counts = |name: &str| {
        let whole = whole.again(&format!("plan {name} --json"));
        whole.objects("plan")[0]["beads"].to_string()
    };
    assert!(
        counts("a.json").contains("\"count\":12,"),
        "{}",
        counts("a.json")
    );
}

#[test]
fn what_cannot_be_written_is_said_and_stays_painted() {
    let (whole, mut screen) = piece(triangle(5));
    screen.keys("f <up>3 c A <space>").sees("1 bead is A now");
    std::fs::write(whole.dir().join("a.json"), "{ nothing").unwrap();
    screen
        .keys("w <enter>")
        .says("Not written, and nothing is lost: what is there is no pattern");
    let left = std::fs::read_to_string(whole.dir().join("a.json")).unwrap();
    assert_eq!(left, "{ nothing");
    screen.keys("<esc>").sees("Colouring");
    screen
        .keys("w <backspace>4 2 . j s o n <enter>")
        .sees("Written to");
    let files = std::fs::read_dir(whole.dir()).unwrap();
    let names: Vec<_> = files
        .map(|f| f.unwrap().file_name().into_string().unwrap())
        .collect();
    assert!(
        names.iter().any(|name| name.ends_with("2.json")),
        "{names:?}"
    );
    screen.keys("<esc> <esc> q");
    assert_eq!(screen.ends().0, 0);
}
