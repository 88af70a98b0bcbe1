//! Every kind of terminal: how many colours it has, and what it writes on.

use crate::builder::threadmark;
use crate::pty::Screen;

/// Whether bytes hold others.
fn holds(bytes: &[u8], wanted: &str) -> bool {
    bytes.windows(wanted.len()).any(|w| w == wanted.as_bytes())
}

/// The colours that a terminal of this environment is sent: `2` for 16 million,
/// `5` for 256 or fewer, none.
fn colours(environment: &[(&str, &str)]) -> Option<char> {
    let whole = threadmark("stitch practice-pair");
    let whole = environment
        .iter()
        .fold(whole, |w, (name, value)| w.variable(name, value));
    let mut screen = Screen::open(&whole, 80, 24);
    screen
        .sees("A new piece")
        .rush("<space>4")
        .sees("step 4 of");
    let bytes = screen.bytes();
    let sent = ['2', '5'].into_iter().find(|kind| {
        holds(&bytes, &format!("38;{kind};")) || holds(&bytes, &format!("48;{kind};"))
    });
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    sent
}

/// The environments are those of terminals in use and of the conventions
/// NO_COLOR, CLICOLOR and CLICOLOR_FORCE.
#[test]
fn colours_are_sent_as_the_terminal_has_them() {
    for (environment, sent) in [
        (&[("TERM", "foot")][..], Some('5')),
        (&[("TERM", "foot"), ("COLORTERM", "truecolor")], Some('2')),
        (&[("TERM", "xterm-256color")], Some('5')),
        (&[("TERM", "xterm"), ("CLICOLOR_FORCE", "1")], Some('5')),
        (&[("TERM", "xterm-direct")], Some('2')),
        (&[("TERM", "foot"), ("NO_COLOR", "1")], None),
        (&[("TERM", "foot"), ("CLICOLOR", "0")], None),
        (&[("CLICOLOR", "0"), ("CLICOLOR_FORCE", "1")], Some('5')),
    ] {
        assert_eq!(colours(environment), sent, "{environment:?}");
    }
}

/// The colour of the frame where the new bead goes.
fn seat(screen: &vt100::Screen) -> Option<vt100::Color> {
    let all = (0..24).flat_map(|y| (0..80).map(move |x| (y, x)));
    let mut cells = all.filter_map(|(y, x)| screen.cell(y, x));
    let seat = cells.find(|cell| cell.contents() == "\u{2554}");
    seat.map(vt100::Cell::fgcolor)
}

/// The terminal is asked what it writes on (OSC 11), and what it answers is
/// followed at once; the flag goes first.
#[test]
fn the_light_set_is_taken_up_when_the_terminal_says_that_it_is_light() {
    let whole = threadmark("stitch practice-pair").variable("COLORTERM", "truecolor");
    let mut screen = Screen::open(&whole, 80, 24);
    screen.sends("a question", |bytes| holds(bytes, "\x1b]11;?"));
    screen
        .sees("A new piece")
        .rush("<space>4")
        .sees("step 4 of");
    let dark = screen.look(seat);
    assert!(dark.is_some());
    screen.press(b"\x1b]11;rgb:ffff/ffff/ffff\x1b\\");
    screen.waits("the light set", |screen| seat(screen) != dark);
    let light = screen.look(seat);
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);

    let whole =
        threadmark("stitch practice-pair --ground light").variable("COLORTERM", "truecolor");
    let mut screen = Screen::open(&whole, 80, 24);
    screen
        .sees("A new piece")
        .rush("<space>4")
        .sees("step 4 of");
    assert_eq!(screen.look(seat), light);
    assert!(!holds(&screen.bytes(), "\x1b]11;"));
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}
