//! The clock is wrong, is set back, or shows another time zone: the order of
//! the journal is what counts.

use threadmark::progress::{Entry, Mode, Moment, MoveReason, Saved, Tray};

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;

const DAY: i64 = 24 * 3600 * 1000;

/// The moments in a piece's journal, one an entry, in its order.
fn moments(whole: &Whole) -> Vec<i64> {
    let mut moments = vec![];
    let read = whole
        .piece("evening-star")
        .recent(usize::MAX, |entry| moments.push(entry.at.0));
    read.expect("its journal");
    moments
}

/// A piece that was worked on by a clock that ran so many days ahead.
fn from_days_to_come(days: i64) -> Whole {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(9));
    whole.output();
    let then = Moment(Moment::now().0 + days * DAY);
    let tray = Tray::open(&whole.tray());
    let mut piece = tray
        .open_piece("evening-star", Mode::Work, then)
        .expect("the piece");
    for step in 1..=5 {
        let at = Moment(then.0 + i64::from(step) * 9_000);
        assert_eq!(
            piece.record(Entry::to(step, MoveReason::Forward, at)),
            Saved::Written
        );
    }
    piece.close(Moment(then.0 + 60_000)).expect("it rests");
    whole
}

/// The clock was three days, or thirty years, ahead and has been set back:
/// every entry written now is earlier than those before it.
#[test]
fn with_the_clock_set_back_the_place_is_the_last_of_the_journal() {
    for days in [3, 11_000] {
        let whole = from_days_to_come(days);
        let mut screen = Screen::open(&whole.again("stitch evening-star"), 80, 24);
        screen
            .sees("You were at")
            .says("a time to come (was a clock set back?)");
        screen.keys("<space>").sees("step 6 of ");
        screen.keys("<space>3").sees("step 9 of ").keys("q");
        assert_eq!(screen.ends().0, 0);
        let moments = moments(&whole);
        assert!(
            moments.windows(2).any(|pair| pair[1] < pair[0] - DAY),
            "{moments:?}"
        );
        let piece = whole.piece("evening-star");
        assert_eq!((piece.state().step, piece.notices()), (8, &[][..]));
        let again = whole
            .again("stitch evening-star --plain")
            .stdin("q\n")
            .run();
        assert!(again.contains("\nstep 9 of "), "{again}");
        let listed = whole.again("pieces --json").run();
        assert!(listed.contains("\"step\":8,"), "{listed}");
    }
}

/// A clock that stands at its beginning, as on a machine with an empty battery,
/// and times no calendar has.
#[test]
fn impossible_times_in_a_journal_cost_nothing() {
    for at in [0, -1, i64::MIN, i64::MAX, 253_402_300_800_000] {
        let whole = threadmark("stitch a.json --plain").file("a.json", triangle(9));
        whole.output();
        let tray = Tray::open(&whole.tray());
        let mut piece = tray
            .open_piece("evening-star", Mode::Work, Moment(at))
            .expect("it opens");
        let _ = piece.record(Entry::to(7, MoveReason::Jump, Moment(at)));
        piece.close(Moment(at)).expect("it rests");
        let mut screen = Screen::open(&whole.again("stitch evening-star"), 80, 24);
        screen
            .sees("You were at")
            .keys("<space>2")
            .sees("step 9 of ")
            .keys("q");
        assert_eq!(screen.ends().0, 0, "at {at}");
        for args in ["pieces", "pieces --json", "locate evening-star"] {
            let output = whole.again(args).stdin("q\n").output();
            assert!(
                matches!(output.status.code(), Some(0 | 1)),
                "{args} at {at}: {output:?}"
            );
        }
        assert_eq!(whole.piece("evening-star").state().step, 8);
    }
}

/// Sittings in time zones 26 hours apart (as POSIX writes them: hours west of
/// Greenwich), and with daylight saving time.
#[test]
fn a_journey_through_time_zones_changes_no_step_and_no_moment() {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(9));
    whole.output();
    let before = moments(&whole).len();
    let mut step = 0;
    for zone in [
        "UTC0",
        "LINT-14",
        "AOE12",
        "CET-1CEST,M3.5.0,M10.5.0/3",
        "nowhere",
        "",
    ] {
        let again = whole
            .again("stitch evening-star --plain")
            .variable("TZ", zone);
        let said = again.stdin("\n\nq\n").run();
        assert!(
            said.contains(&format!("\nstep {} of ", step + 1)),
            "{zone}: {said}"
        );
        step += 2;
        assert_eq!(whole.piece("evening-star").state().step, step);
    }
    let of_sittings = moments(&whole).split_off(before);
    let now = Moment::now().0;
    assert_eq!(of_sittings.len(), 6 * 4);
    assert!(of_sittings.is_sorted() && of_sittings.iter().all(|at| *at <= now));
    // Other programs read one time, whatever the zone; a maker her own.
    let listed = |args: &str, zone: &str| whole.again(args).variable("TZ", zone).run();
    assert_eq!(
        listed("pieces --json", "LINT-14"),
        listed("pieces --json", "AOE12")
    );
    assert_ne!(listed("pieces", "LINT-14"), listed("pieces", "AOE12"));
}
