//! Stitching with keys: the whole demo, a wrong count, a place found again.

use threadmark::progress::Tray;

use crate::builder::threadmark;
use crate::pattern::inward;
use crate::pty::Screen;

#[test]
fn the_whole_demo_from_first_to_last_step() {
    let whole = threadmark("stitch harbour-lantern");
    let mut screen = Screen::begun(&whole);
    for done in (99..=891).step_by(99) {
        screen.rush("<space>99");
        screen.sees(&format!("step {} of 989", done + 1));
    }
    screen.rush("<space>97");
    screen.sees("step 989 of 989");
    screen.keys("<space>");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(whole.piece("harbour-lantern").state().step, 989);
}

/// Three six-panel nets, joined to a band, folded and closed to a ring of six: 24
/// faces of eight rounds (common practice, no source).
#[test]
fn a_ring_of_nets_from_first_to_last_step() {
    let whole = threadmark("stitch heron-ring");
    let mut screen = Screen::begun(&whole);
    for done in (500..=3000).step_by(500) {
        screen.rush("<space>500");
        screen.sees(&format!("step {} of 3033", done + 1));
    }
    screen.rush("<space>33");
    screen.sees("All 3033 steps are done: 2823 beads");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(whole.piece("heron-ring").state().step, 3033);
}

#[test]
fn a_wrong_count_after_a_corner_is_caught() {
    let whole = threadmark("stitch a.json").file("a.json", inward(6));
    let mut screen = Screen::begun(&whole);
    // The string of rounds 6 and 5, 33 beads, and its closing; then side 1 of
    // round 4, four beads, and the corner drawn together.
    screen.rush("<space>35 <space>4");
    screen.sees("Corner: no bead, draw the two together");
    screen.keys("<space>").sees("count");
    screen.keys("c 5 <enter>").sees("1 too many");
    screen.sees("corner");
    screen.keys("<esc> c 4 <enter>").sees("Yes, that is right");
    screen.keys("<space> q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn quit_and_resumed_days_later_it_is_at_the_very_bead() {
    let whole = threadmark("stitch practice-decrease");
    let mut screen = Screen::begun(&whole);
    screen.rush("<space>60").keys("q");
    assert_eq!(screen.ends().0, 0);
    let left = whole.piece("porthole").state().step;
    let mut again = Screen::open(&whole.again("stitch porthole"), 80, 24);
    again
        .sees("You were at")
        .sees("The needle")
        .sees("To be sure, count");
    again
        .keys("<space>")
        .sees(&format!("step {} of 134", left + 1));
    again.keys("q");
    assert_eq!(again.ends().0, 0);
}

#[test]
fn a_pattern_named_again_leads_to_the_piece_begun_before() {
    let whole = threadmark("stitch a.json").file("a.json", inward(6));
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>3 q");
    assert_eq!(screen.ends().0, 0);
    let name = {
        let pieces = Tray::open(&whole.tray()).pieces().expect("the tray");
        pieces[0].name.clone()
    };
    let mut screen = Screen::open(&whole.again("stitch a.json"), 80, 24);
    screen.sees("You were at").keys("q");
    assert_eq!(screen.ends().0, 0);
    let mut screen = Screen::begun(&whole.again("stitch a.json --new"));
    // In the tray the two bear their names.
    screen.keys("t").sees("Your tray");
    screen
        .sees(&format!("({name})"))
        .sees(&format!("({name}-2)"));
    screen.keys("<down> <enter>").sees("step 4 of");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}
