//! The disk is full: the screen says so at once, stitching goes on in memory,
//! no line is left half-written, and all is written when there is room.
//!
//! Two ways to a full disk. A limit on the size of files, which every user may
//! set for a program and lift again (`ulimit -f`, `prlimit`): the write that
//! crosses it gets in in part, as on a disk with a few bytes left. And, where
//! the system lets an ordinary user mount one, a disk of 64 KiB in memory that
//! is really full.

use std::path::Path;
use std::process::Command;

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;

const FULL: &str = "the disk is full: free some space";

fn begun() -> Whole {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(9));
    whole.output();
    whole
}

fn journal(whole: &Whole) -> String {
    let path = whole.tray().join("evening-star/journal");
    std::fs::read_to_string(path).expect("the journal")
}

/// Steps until the disk is full, and how many that took.
#[track_caller]
fn stitch_until_full(screen: &mut Screen, whole: &Whole) -> u32 {
    screen.sees("A new piece").keys("<space>");
    screen.loses("A new piece");
    for step in 1..100 {
        screen
            .press(b" ")
            .sees(&format!("step {} of ", step + 1))
            .settle();
        // At once: with the very painting that shows the step.
        if screen.text().contains(FULL) {
            let there = journal(whole);
            assert!(there.ends_with('\n'), "a half line: {there:?}");
            return step;
        }
    }
    panic!("the disk was never full:\n{}", screen.text());
}

/// Stitching goes on in memory; with room again all of it is written.
#[track_caller]
fn goes_on_and_is_written(mut screen: Screen, whole: &Whole, step: u32, make_room: impl Fn(u32)) {
    let before = whole.piece("evening-star").state().step;
    assert!(before < step, "what did not fit is not there");
    screen.rush("<space>5");
    screen
        .sees(&format!("step {} of ", step + 6))
        .says("6 entries wait in memory");
    assert_eq!(whole.piece("evening-star").state().step, before);
    assert!(
        whole.piece("evening-star").notices().is_empty(),
        "nothing half-written"
    );
    make_room(screen.id());
    // Without a key: it is tried again by itself.
    screen.loses("Not kept");
    assert_eq!(whole.piece("evening-star").state().step, step + 5);
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    let piece = whole.piece("evening-star");
    assert_eq!((piece.state().step, piece.notices()), (step + 5, &[][..]));
}

/// The limit is on blocks of 1024 bytes; the hard limit stays, so that the
/// program's own user may lift it again.
const LIMIT: [&str; 3] = ["bash", "-c", "ulimit -S -f 1; exec \"$0\" \"$@\""];

#[test]
fn a_full_disk_is_told_at_once_and_nothing_is_lost() {
    let whole = begun();
    let again = whole.again("stitch evening-star").through(&LIMIT);
    let mut screen = Screen::open(&again, 80, 24);
    let step = stitch_until_full(&mut screen, &whole);
    goes_on_and_is_written(screen, &whole, step, |id| {
        let mut lift = Command::new("prlimit");
        let lifted = lift
            .args(["--fsize=unlimited:unlimited", "--pid", &id.to_string()])
            .status();
        assert!(lifted.is_ok_and(|s| s.success()), "the limit is not lifted");
    });
}

#[test]
fn quitting_with_a_full_disk_says_what_is_lost_and_the_rest_is_whole() {
    let whole = begun();
    let again = whole.again("stitch evening-star").through(&LIMIT);
    let mut screen = Screen::open(&again, 80, 24);
    let step = stitch_until_full(&mut screen, &whole);
    screen.keys("<space>2 q");
    let (code, left) = screen.ends();
    assert_eq!(code, 2);
    assert!(left.contains(FULL), "{left}");
    // Three steps and the word that it rests.
    let kept = format!(
        "It rests after step {}; 4 entries after that are lost",
        step - 1
    );
    let left = left.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(left.contains(&kept), "{left}");
    assert!(!left.contains("tried again"), "{left}");
    let piece = whole.piece("evening-star");
    assert_eq!((piece.state().step, piece.notices()), (step - 1, &[][..]));
}

#[test]
fn the_plain_mode_says_that_the_disk_is_full() {
    let whole = begun();
    let again = whole.again("stitch evening-star --plain").through(&LIMIT);
    let output = again.stdin("\n".repeat(30) + "q\n").output();
    let said = String::from_utf8(output.stdout).expect("text");
    assert!(said.contains(&format!("Not kept: {FULL}")), "{said}");
    assert_eq!(output.status.code(), Some(2));
    assert!(whole.piece("evening-star").notices().is_empty());
}

#[test]
fn no_piece_is_begun_in_part_on_a_full_disk() {
    // The pattern is longer than the limit.
    let long = triangle(9) + &" ".repeat(2000);
    let whole = threadmark("stitch a.json --plain").file("a.json", long);
    let whole = whole.through(&LIMIT);
    let output = whole.output();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).expect("text");
    assert!(said.contains("cannot begin a piece"), "{said}");
    let left = std::fs::read_dir(whole.tray()).expect("the tray").count();
    assert_eq!(left, 0, "nothing half-written");
}

/// A disk of 64 KiB over the tray, in a world of the program's own; the files
/// in it are seen from outside through the program's process.
#[cfg(target_os = "linux")]
#[test]
fn a_disk_that_is_really_full_is_told_and_nothing_is_lost() {
    const MOUNT: &str = "mkdir -p tray && mount -t tmpfs -o size=64k tmpfs tray && \
        \"$0\" stitch a.json --plain < /dev/null > begun && \
        { head -c 1000000 /dev/zero > tray/filler; :; } 2> full && exec \"$0\" \"$@\"";
    let apart = ["unshare", "--user", "--map-root-user", "--mount"];
    let probe = [&apart[1..], &["mount", "-t", "tmpfs", "tmpfs", "/mnt"]].concat();
    let may = Command::new(apart[0]).args(probe).output();
    if !may.is_ok_and(|output| output.status.success()) {
        eprintln!("NOT TESTED: this system lets nobody mount a small disk");
        return;
    }
    let whole = threadmark("stitch evening-star").file("a.json", triangle(9));
    let whole = whole.through(&[&apart[..], &["bash", "-c", MOUNT]].concat());
    let mut screen = Screen::begun(&whole);
    let root = format!("/proc/{}/root", screen.id());
    let there = Path::new(&root).join(whole.tray().strip_prefix("/").expect("from the root"));
    let journal = || std::fs::read_to_string(there.join("evening-star/journal")).expect("read");
    let mut steps = 0;
    while !screen.text().contains(FULL) {
        steps += 1;
        assert!(steps < 140, "never full:\n{}", screen.text());
        screen
            .press(b" ")
            .sees(&format!("step {} of ", steps + 1))
            .settle();
        assert!(journal().ends_with('\n'));
    }
    let kept = journal();
    screen.rush("<space>5");
    assert_eq!(journal(), kept);
    std::fs::remove_file(there.join("filler")).expect("room is made");
    screen.loses("Not kept");
    let now = journal();
    assert!(
        now.starts_with(&kept) && now.contains(&format!("\"step\":{},", steps + 5)),
        "{now}"
    );
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}
