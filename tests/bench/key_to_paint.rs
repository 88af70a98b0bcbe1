//! How soon a key is painted, through a pseudo-terminal, on a ring of eight
//! with 200 rounds a face (about two million beads), against `less` paging a
//! file of a million lines in the same run. Run with
//! `cargo bench --bench key_to_paint`.

mod running;

use portable_pty::CommandBuilder;
use running::{Running, median, ring, stitch};
use std::time::Duration;

/// Keys measured of each program.
const KEYS: usize = 200;
/// Starts measured of each program.
const STARTS: usize = 9;

/// What was asked for: first paint within so many times that of `less`, and
/// the median key within so many times.
const FIRST_PAINT_WITHIN: f64 = 3.0;
const KEY_WITHIN: f64 = 2.0;

struct Measured {
    first_paint: Duration,
    key: Duration,
}

fn measure(
    name: &str,
    key: &[u8],
    settle: &[&[u8]],
    command: impl Fn() -> CommandBuilder,
) -> Measured {
    let starts = (0..STARTS).map(|_| {
        let running = Running::start(command());
        running.painted().duration_since(running.begun)
    });
    let first_paint = median(starts.collect());
    let mut running = Running::start(command());
    running.painted();
    for key in settle {
        running.key(key);
    }
    let key = median((0..KEYS).map(|_| running.key(key)).collect());
    println!("{name:12} first paint {first_paint:>12.2?}   key to paint {key:>12.2?}");
    Measured { first_paint, key }
}

fn main() {
    let dir = tempfile::tempdir().expect("a directory");
    let pattern = ring(dir.path(), "A S* A");
    let lines = dir.path().join("lines.txt");
    let text: String = (1..=1_000_000)
        .map(|n| format!("line {n} of a million, long enough to fill some of the width\n"))
        .collect();
    std::fs::write(&lines, text).expect("the lines");

    let less = measure("less", b"j", &[], || {
        let mut command = CommandBuilder::new("less");
        command.arg(&lines);
        command
    });
    let tray = dir.path().join("tray");
    let ours = measure("threadmark", b" ", &[b" ", b" "], || {
        stitch(&pattern, &tray)
    });
    let ratio = |a: Duration, b: Duration| a.as_secs_f64() / b.as_secs_f64();
    let first = ratio(ours.first_paint, less.first_paint);
    let key = ratio(ours.key, less.key);
    println!("first paint {first:.2} times less (to reach: {FIRST_PAINT_WITHIN})");
    println!("key to paint {key:.2} times less (to reach: {KEY_WITHIN})");
}
