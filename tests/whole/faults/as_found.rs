//! However the program ends or is set aside, the terminal is left as it was
//! found: its settings to the letter, the first screen shown, the cursor seen,
//! no mouse, no bracketed paste, no colour left on.

use std::collections::BTreeMap;
use std::io::Read;
use std::thread;
use std::time::{Duration, Instant};

use portable_pty::{CommandBuilder, PtySize, native_pty_system};
use rustix::process::{Pid, WaitOptions, waitpid};
use threadmark::progress::Event;

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;

/// Modes of a terminal that are on when nobody has asked for anything, of the
/// ones that programs switch: 7, lines wrap; 25, the cursor is seen. (DEC
/// private modes as xterm documents them in "XTerm Control Sequences".)
const ON: [u16; 2] = [7, 25];

/// The modes that were switched and are not as they are on a fresh terminal.
fn left_switched(bytes: &[u8]) -> Vec<u16> {
    let mut modes = BTreeMap::new();
    let text = String::from_utf8_lossy(bytes);
    for part in text.split("\x1b[?").skip(1) {
        let end = part.find(|c: char| !c.is_ascii_digit() && c != ';');
        let Some(end) = end else { continue };
        let on = match part.as_bytes()[end] {
            b'h' => true,
            b'l' => false,
            _ => continue,
        };
        let numbers = part[..end].split(';').filter_map(|n| n.parse().ok());
        modes.extend(numbers.map(|mode: u16| (mode, on)));
    }
    modes.retain(|mode, on| *on != ON.contains(mode));
    modes.into_keys().collect()
}

/// Holds the terminal against how it was found.
#[track_caller]
pub fn as_found(screen: &Screen) {
    let (now, before) = screen.set_now_and_before();
    assert_eq!(now, before, "how the terminal is set");
    assert_eq!(left_switched(&screen.bytes()), [0_u16; 0]);
    screen.look(|terminal| {
        assert!(!terminal.alternate_screen() && !terminal.hide_cursor());
        assert!(!terminal.bracketed_paste() && !terminal.application_cursor());
        assert_eq!(
            terminal.mouse_protocol_mode(),
            vt100::MouseProtocolMode::None
        );
        let plain = vt100::Color::Default;
        assert_eq!((terminal.fgcolor(), terminal.bgcolor()), (plain, plain));
    });
}

/// The other way round: it is taken.
#[track_caller]
fn taken(screen: &Screen) {
    let (now, before) = screen.set_now_and_before();
    assert_ne!(now, before);
    assert!(screen.look(|terminal| terminal.alternate_screen() && terminal.hide_cursor()));
}

/// A piece three steps on, the terminal taken.
fn stitching() -> (Whole, Screen) {
    let (whole, screen) = super::stitching();
    taken(&screen);
    (whole, screen)
}

/// Whether the last thing that its journal says is that the piece was put away.
pub fn rested(whole: &Whole) -> bool {
    let mut last = None;
    let read = whole
        .piece("evening-star")
        .recent(usize::MAX, |entry| last = Some(entry.did.clone()));
    read.expect("its journal");
    last == Some(Event::Rested)
}

/// Keys that open what can be opened, from wherever they are bound.
const PANES: [&str; 12] = [
    "",
    "n",
    "g",
    "c",
    "?",
    "s",
    "o",
    "c 9 <enter>",
    "x",
    "f",
    "f c",
    "f c A <space> w",
];

#[test]
fn ctrl_c_ends_from_everywhere() {
    for keys in PANES {
        let (whole, mut screen) = stitching();
        screen.keys(keys).keys("<ctrl-c>");
        assert_eq!(screen.ended(), 0, "after {keys:?}");
        as_found(&screen);
        assert_eq!(whole.piece("evening-star").state().step, 3);
        assert!(rested(&whole));
    }
}

/// While one screen gives the terminal back and the next has not taken it yet,
/// Ctrl-C is a signal that no screen hears.
#[test]
fn ctrl_c_between_the_piece_and_the_tray_is_not_lost() {
    for wait_ms in 0..8 {
        let (_, mut screen) = stitching();
        screen.press(b"t");
        std::thread::sleep(std::time::Duration::from_millis(wait_ms));
        screen.press(b"\x03");
        assert_eq!(screen.ended(), 0, "after {wait_ms} ms");
        as_found(&screen);
    }
}

#[test]
fn signals_that_ask_for_an_end_put_the_piece_away() {
    for signal in ["-TERM", "-HUP", "-INT", "-QUIT"] {
        let (whole, mut screen) = stitching();
        screen.signal(signal);
        assert_eq!(screen.ended(), 0, "after {signal}");
        as_found(&screen);
        assert_eq!(whole.piece("evening-star").state().step, 3);
        assert!(rested(&whole), "after {signal}");
    }
}

#[test]
fn a_signal_in_the_midst_of_keys_loses_none_that_was_painted() {
    let (whole, mut screen) = stitching();
    screen.press(&b" ".repeat(60)).signal("-TERM");
    assert_eq!(screen.ended(), 0);
    as_found(&screen);
    let step = whole.piece("evening-star").state().step;
    assert!((3..=63).contains(&step), "{step}");
    assert!(rested(&whole));
}

#[test]
fn the_tray_is_left_as_found_too() {
    for end in ["<ctrl-c>", "q"] {
        let whole = threadmark("stitch practice-triangle --plain").stdin("q\n");
        whole.run();
        let mut screen = Screen::open(&whole.again(""), 80, 24);
        screen.sees("First sail").keys(end);
        assert_eq!(screen.ended(), 0);
        as_found(&screen);
    }
    let whole = threadmark("stitch practice-triangle --plain").stdin("q\n");
    whole.run();
    let mut screen = Screen::open(&whole.again(""), 80, 24);
    screen.sees("First sail").signal("-TERM");
    assert_eq!(screen.ended(), 0);
    as_found(&screen);
}

/// Keys that come together with one that leads elsewhere are not lost on the
/// way, Ctrl-C least of all.
#[test]
fn keys_typed_ahead_of_the_tray_count_there() {
    let (whole, mut screen) = stitching();
    screen.press(b"t\r   \x03");
    assert_eq!(screen.ended(), 0);
    as_found(&screen);
    // Back from the tray, the card away, and two steps on.
    assert_eq!(whole.piece("evening-star").state().step, 5);
}

/// Waits until the program is stopped, as Ctrl-Z stops it.
#[track_caller]
fn stops(screen: &mut Screen) {
    let id = Pid::from_raw(screen.id() as i32);
    let (_, status) = waitpid(id, WaitOptions::UNTRACED)
        .expect("it is ours")
        .expect("news");
    assert!(status.stopped(), "{status:?}");
    // What it sent before may still be on its way.
    screen.waits("the terminal is given back", |terminal| {
        !terminal.alternate_screen() && !terminal.hide_cursor()
    });
}

#[test]
fn suspended_it_gives_the_terminal_back_and_takes_it_again() {
    for by_key in [true, false] {
        let (whole, mut screen) = stitching();
        for round in 1..=2 {
            match by_key {
                true => screen.press(b"\x1a"),
                false => screen.signal("-TSTP"),
            };
            stops(&mut screen);
            as_found(&screen);
            screen.signal("-CONT");
            let next = format!("step {} of ", 3 + round);
            screen
                .sees(&next)
                .waits("the terminal is taken", |terminal| {
                    terminal.alternate_screen() && terminal.hide_cursor()
                });
            taken(&screen);
            screen
                .keys("<space>")
                .sees(&format!("step {} of ", 4 + round));
        }
        screen.keys("q");
        assert_eq!(screen.ended(), 0);
        as_found(&screen);
        assert_eq!(whole.piece("evening-star").state().step, 5);
    }
}

/// On the whole face the mouse is asked for; nowhere else, and not while the
/// program is set aside.
#[test]
fn the_mouse_is_taken_on_the_whole_face_only() {
    let (_whole, mut screen) = stitching();
    let none = vt100::MouseProtocolMode::None;
    let asked = move |t: &vt100::Screen| t.mouse_protocol_mode() != none;
    assert!(!screen.look(asked));
    screen.keys("f").sees("The whole face");
    screen.waits("the mouse is asked for", asked);
    screen.press(b"\x1a");
    stops(&mut screen);
    as_found(&screen);
    screen.signal("-CONT").waits("it is asked for again", asked);
    screen.keys("f").sees("step 4 of ");
    screen.waits("it is not", |t| !asked(t));
    screen.keys("f").waits("it is", asked);
    screen.signal("-TERM");
    assert_eq!(screen.ended(), 0);
    as_found(&screen);
}

#[test]
fn resized_while_suspended_it_comes_back_in_the_new_size() {
    let (_whole, mut screen) = stitching();
    screen.press(b"\x1a");
    stops(&mut screen);
    screen.resize(50, 14).signal("-CONT").sees("step 4 of ");
    screen.keys("<space>").sees("step 5 of ").keys("q");
    assert_eq!(screen.ended(), 0);
    as_found(&screen);
}

/// Input or output that is no terminal is refused before anything is touched.
#[test]
fn input_closed_or_output_elsewhere_is_refused_and_nothing_is_begun() {
    for (turned, what) in [
        ("<&-", "standard input"),
        ("</dev/null", "standard input"),
        (">out", "standard output"),
        (">/dev/null", "standard output"),
    ] {
        let shell = format!("exec \"$0\" \"$@\" {turned}");
        let whole = threadmark("stitch practice-triangle").through(&["bash", "-c", &shell]);
        let mut screen = Screen::open(&whole, 80, 24);
        assert_eq!(screen.ended(), 2, "{turned}");
        as_found(&screen);
        assert!(
            !screen.bytes().contains(&0x1b),
            "{turned}: {}",
            screen.text()
        );
        screen.says(&format!("{what} is not a terminal"));
        assert!(!whole.tray().exists());
    }
}

/// A terminal that cannot move its cursor gets the plain mode, and no escape
/// sequence.
#[test]
fn a_dumb_terminal_gets_the_plain_mode() {
    let dumb = |whole: Whole| whole.variable("TERM", "dumb");
    let whole = dumb(threadmark("stitch a.json").file("a.json", triangle(9)));
    let mut screen = Screen::open(&whole, 80, 24);
    screen.sees("step 1 of ").press(b"\n").sees("step 2 of ");
    screen.press(b"q\n");
    assert_eq!(screen.ended(), 0);
    as_found(&screen);
    assert!(!screen.bytes().contains(&0x1b), "{}", screen.text());
    assert!(rested(&whole));
    // Its tray is a list.
    let mut tray = Screen::open(&dumb(whole.again("")), 80, 24);
    tray.says("`threadmark stitch PIECE --plain` goes on with one.");
    assert_eq!(tray.ended(), 0);
    assert!(!tray.bytes().contains(&0x1b), "{}", tray.text());
}

#[test]
fn the_plain_mode_with_its_input_closed_ends_and_rests() {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(3));
    let whole = whole.through(&["bash", "-c", "exec \"$0\" \"$@\" <&-"]);
    let output = whole.output();
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert!(rested(&whole));
}

#[test]
fn the_plain_mode_with_nobody_to_hear_it_keeps_every_step_it_was_given() {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(9));
    let whole = whole.through(&["bash", "-c", "exec \"$0\" \"$@\" >/dev/full"]);
    let output = whole.stdin("\n\n\nq\n").output();
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(9));
    let whole = whole.through(&["bash", "-c", "\"$0\" \"$@\" | head -n 30 > heard"]);
    let whole = whole.stdin("\n".repeat(60) + "q\n");
    let output = whole.output();
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
    let heard = std::fs::read_to_string(whole.dir().join("heard")).expect("what was heard");
    let last = heard
        .lines()
        .filter_map(|line| line.strip_prefix("step "))
        .next_back();
    let last: u32 = last
        .and_then(|l| l.split(' ').next()?.parse().ok())
        .expect("a step");
    assert!(last > 5 && whole.piece("evening-star").state().step + 1 >= last);
}

/// Starts the program on a terminal whose other end is ours alone; nothing
/// reads there unless the test does.
struct Bare {
    pair: portable_pty::PtyPair,
    child: Box<dyn portable_pty::Child + Send + Sync>,
}

impl Bare {
    fn open(whole: &Whole) -> Bare {
        let size = PtySize {
            rows: 24,
            cols: 80,
            ..PtySize::default()
        };
        let pair = native_pty_system().openpty(size).expect("a terminal");
        let (program, args) = whole.call();
        let mut command = CommandBuilder::new(program);
        command.args(args);
        command.cwd(whole.dir());
        command.env("THREADMARK_TRAY", whole.tray());
        command.env("TERM", "xterm-256color");
        let child = pair.slave.spawn_command(command).expect("it starts");
        Bare { pair, child }
    }

    fn signal(&self, signal: rustix::process::Signal) {
        let id = Pid::from_raw(self.child.process_id().expect("it runs") as i32);
        rustix::process::kill_process(id.expect("a number"), signal).expect("it is sent");
    }
}

#[track_caller]
fn until(what: &str, mut is_so: impl FnMut() -> bool) {
    let end = Instant::now() + Duration::from_secs(30);
    while !is_so() {
        assert!(Instant::now() < end, "waited in vain until {what}");
        thread::sleep(Duration::from_millis(5));
    }
}

/// Closed while nothing goes on, and while many keys wait and much is painted.
#[test]
fn a_terminal_that_is_closed_ends_the_program_and_the_piece_rests() {
    for more in [vec![], b"? ".repeat(200)] {
        let whole = threadmark("stitch a.json").file("a.json", triangle(9));
        let Bare { pair, mut child } = Bare::open(&whole);
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().expect("its output");
        let mut writer = pair.master.take_writer().expect("its input");
        let mut terminal = vt100::Parser::default();
        let mut reads_until = |text: &str| {
            let mut bytes = [0; 4096];
            while !terminal.screen().contents().contains(text) {
                let came = reader.read(&mut bytes).expect("output");
                assert!(came > 0, "it ended before '{text}'");
                terminal.process(&bytes[..came]);
            }
        };
        reads_until("A new piece");
        writer.write_all(b"    ").expect("keys");
        reads_until("step 4 of ");
        writer.write_all(&more).expect("keys");
        drop((reader, writer, pair.master));
        until("it ends", || child.try_wait().expect("news").is_some());
        // No panic (101), and no error that nobody can read (2).
        assert_eq!(child.wait().expect("it has ended").exit_code(), 0);
        assert!(whole.piece("evening-star").state().step >= 3);
        assert!(rested(&whole));
    }
}

/// A terminal that takes no more output (stopped by Ctrl-S, say, or by a
/// machine at the other end of a line) must not keep the program for ever.
#[test]
fn a_terminal_that_takes_no_more_does_not_keep_the_program_for_ever() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(9));
    let mut bare = Bare::open(&whole);
    let found = format!("{:?}", bare.pair.master.get_termios());
    let mut writer = bare.pair.master.take_writer().expect("its input");
    let journal = whole.tray().join("evening-star/journal");
    let length = || std::fs::metadata(&journal).map_or(0, |file| file.len());
    until("the terminal is taken", || {
        format!("{:?}", bare.pair.master.get_termios()) != found
    });
    // Nobody reads; each key paints, until nothing more goes out and no key is
    // taken either.
    writer.write_all(b" ").expect("a key");
    until("it can paint no more", || {
        let before = length();
        // Help, and away again: two paintings of the whole screen.
        for key in [b"?", b"\x1b", b" "] {
            writer.write_all(key).expect("a key");
            thread::sleep(Duration::from_millis(40));
        }
        let still = Instant::now() + Duration::from_millis(500);
        while length() == before && Instant::now() < still {
            thread::sleep(Duration::from_millis(10));
        }
        length() == before
    });
    bare.signal(rustix::process::Signal::TERM);
    until("it ends", || bare.child.try_wait().expect("news").is_some());
    assert_eq!(format!("{:?}", bare.pair.master.get_termios()), found);
    let piece = whole.piece("evening-star");
    assert!(piece.state().step > 0 && piece.notices().is_empty());
}
