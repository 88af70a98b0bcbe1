//! How soon a key is painted, through a pseudo-terminal, on a ring of eight
//! with 200 rounds a face (about two million beads), against `less` paging a
//! file of a million lines: the two in turn, key by key, in the same run, and
//! each goes first as often, so that both find the machine equally busy. Every
//! step is in the journal before it is painted. Run with `cargo bench --bench key_to_paint`.

mod running;

use portable_pty::CommandBuilder;
use running::{Running, ring, stitch};
use std::path::Path;
use std::time::Duration;

/// Keys measured of each program, and starts.
const KEYS: usize = 400;
const STARTS: usize = 15;

/// Keys of ours that are pressed one after another, over and over.
struct Measured {
    what: &'static str,
    /// Pressed before.
    first: &'static [&'static [u8]],
    keys: &'static [&'static [u8]],
    /// To reach, in times of a page of `less`: in the median, and of a hundred
    /// keys the slowest but one.
    within: (f64, f64),
}

const MEASURED: [Measured; 4] = [
    Measured {
        what: "a step",
        first: &[b" ", b" ", b" "],
        keys: &[b" "],
        within: (1.0, 1.2),
    },
    Measured {
        what: "a step back",
        first: &[b" ", b"g", b"500000", b"\r"],
        keys: &[b"\x7f"],
        within: (1.5, f64::INFINITY),
    },
    Measured {
        what: "digits of a count",
        first: &[b" ", b"g", b"500000", b"\r", b"1"],
        keys: &[b"2", b"\x7f"],
        within: (1.5, f64::INFINITY),
    },
    Measured {
        what: "the face",
        first: &[b" ", b"g", b"500000", b"\r", b"f", b"+", b"+", b"+", b"+"],
        keys: &[b"\x1b[D", b"\x1b[C"],
        within: (1.5, f64::INFINITY),
    },
];

/// The time at this part of them all, from the quickest.
fn at(part: f64, times: &mut [Duration]) -> f64 {
    times.sort();
    times[((times.len() - 1) as f64 * part) as usize].as_secs_f64() * 1e3
}

fn compare(what: &str, mut ours: Vec<Duration>, mut pager: Vec<Duration>, within: (f64, f64)) {
    for (name, part, within) in [("median", 0.5, within.0), ("p99", 0.99, within.1)] {
        let (ours, pager) = (at(part, &mut ours), at(part, &mut pager));
        let ratio = ours / pager;
        println!(
            "{what:20} {name:6} {ours:7.3} ms, {pager:7.3} ms: {ratio:.2} times ({within} to reach)"
        );
    }
}

/// Both, each first as often: twice in turn, and then the other way round.
fn both<T>(n: usize, ours: impl FnOnce() -> T, pager: impl FnOnce() -> T) -> (T, T) {
    match n / 2 % 2 {
        0 => (ours(), pager()),
        _ => {
            let pager = pager();
            (ours(), pager)
        }
    }
}

fn less(lines: &Path) -> CommandBuilder {
    let mut command = CommandBuilder::new("less");
    command.arg(lines);
    command
}

fn main() {
    let dir = tempfile::tempdir().expect("a directory");
    let pattern = ring(dir.path(), "A S* A");
    let lines = dir.path().join("lines.txt");
    let text: String = (1..=1_000_000)
        .map(|n| format!("line {n} of a million, long enough to fill some of the width\n"))
        .collect();
    std::fs::write(&lines, text).expect("the lines");
    let tray = dir.path().join("tray");
    let started = |command| {
        let running = Running::start(command);
        running.painted().duration_since(running.begun)
    };
    let start = |n: usize| {
        let ours = || started(stitch(&pattern, &tray));
        both(n, ours, || started(less(&lines)))
    };
    let (ours, pager) = (0..STARTS).map(start).unzip();
    compare("first paint", ours, pager, (2.0, f64::INFINITY));
    for measured in MEASURED {
        let (mut ours, mut pager) = (
            Running::start(stitch(&pattern, &tray)),
            Running::start(less(&lines)),
        );
        ours.painted();
        pager.painted();
        for key in measured.first {
            ours.key(key);
        }
        let key = |n: usize| {
            let pressed = measured.keys[n % measured.keys.len()];
            both(n, || ours.key(pressed), || pager.key(b" "))
        };
        let (ours, pager) = (0..KEYS).map(key).unzip();
        compare(measured.what, ours, pager, measured.within);
    }
}
