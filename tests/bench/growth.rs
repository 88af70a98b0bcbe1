//! How time grows with the work: opening a piece, its plan, the first question
//! that finds a lost place, and taking a journal up again. Prints tables,
//! in milliseconds of processor time, the best of three. Run
//! with `cargo bench --bench growth`.

use rustix::time::{ClockId, clock_gettime};
use std::fmt::Write as _;
use std::hint::black_box;
use threadmark::beadwork::Sequence;
use threadmark::plan::{Plan, Wishes, page};
use threadmark::progress::{Entry, Mode, Moment, MoveReason, Tray};
use threadmark::tracking::locate::Search;
use threadmark::tracking::pace::Pace;

/// Runs of each measurement.
const RUNS: usize = 3;

/// The best of a few runs, in milliseconds of the processor's time.
fn millis<T>(mut run: impl FnMut() -> T) -> f64 {
    let now = || {
        let now = clock_gettime(ClockId::ProcessCPUTime);
        now.tv_sec as f64 * 1e3 + now.tv_nsec as f64 / 1e6
    };
    let one = |_| {
        let begun = now();
        black_box(run());
        now() - begun
    };
    (0..RUNS).map(one).fold(f64::MAX, f64::min)
}

/// A pattern file of triangles of so many rounds.
fn pattern(rounds: u32, make: &str) -> String {
    format!(
        r##"{{ "threadmark": 1, "title": "Growing", "thread": "braided 0.15", "needle": 12,
        "beads": {{ "S": {{ "name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79" }} }},
        "panels": {{ "face": {{ "sides": 3, "rounds": {rounds}, "colours": ["all: S*"] }} }},
        "make": {make} }}"##
    )
}

fn ring(tetrahedra: u32, rounds: u32) -> String {
    let make = format!(r#"{{ "ring": {tetrahedra}, "faces": ["face"], "close": "set-in" }}"#);
    pattern(rounds, &make)
}

/// Triangles zipped one to another in a strip, by jobs of the maker's own.
fn strip(jobs: usize) -> String {
    let mut list = r#"{"panel": "face", "as": "p0"}"#.to_string();
    for n in 1..=(jobs - 1) / 3 {
        let (before, at) = (n - 1, 2 + n % 2);
        let _ = write!(
            list,
            r#", {{"row": "p{before}", "sides": [{at}]}}, {{"panel": "face", "as": "p{n}"}},
            {{"zip": "p{n}", "sides": [{{"side": 1, "onto": "p{before}", "at": {at}}}]}}"#
        );
    }
    pattern(2, &format!(r#"{{ "jobs": [{list}] }}"#))
}

fn open(text: &str) -> Sequence {
    let read = threadmark::pattern::read("pattern.json", text.as_bytes());
    let seq = Sequence::new(read.expect("a pattern").project);
    // It is planned when it is asked for a step.
    black_box(seq.steps());
    seq
}

fn pieces(what: &str, pieces: impl Iterator<Item = (usize, String)>) {
    println!("| {what} | steps | open | plan | first question |\n|---|---|---|---|---|");
    for (size, text) in pieces {
        let seq = open(&text);
        let opened = millis(|| open(&text));
        let planned = millis(|| {
            let plan = Plan::of(&open(&text), Wishes::default());
            page::page("ring", &plan, page::Unit::default())
        });
        let asked = millis(|| Search::new(&open(&text)).turn());
        let steps = seq.steps();
        println!("| {size} | {steps} | {opened:.1} | {planned:.1} | {asked:.1} |");
    }
    println!();
}

/// A journal of so many movements of the ring of two million beads, made one by
/// one, taken up again as the stitch-along does.
fn journals() {
    println!("| movements in the journal | its size, MB | open |\n|---|---|---|");
    let text = ring(8, 200);
    let seq = open(&text);
    for movements in [1_000, 10_000, 100_000, 1_000_000] {
        let dir = tempfile::tempdir().expect("a directory");
        let tray = Tray::open(dir.path());
        let at = |step: u32| Moment(1_700_000_000_000 + 4_000 * i64::from(step));
        let begun = tray.begin("Growing", text.as_bytes(), None, seq.steps(), at(0));
        let mut piece = begun.expect("a piece");
        for step in 1..=movements {
            let _ = piece.record(Entry::played(
                &seq,
                (step - 1, step),
                MoveReason::Forward,
                at(step),
            ));
        }
        piece.close(at(movements)).expect("it is kept");
        let opened = millis(|| {
            let mut piece = tray
                .open_piece("growing", Mode::Look, at(movements))
                .expect("it opens");
            let read = threadmark::pattern::read("pattern.json", piece.pattern());
            let seq = piece.resume(read.expect("a pattern").project, &[]);
            let mut pace = Pace::default();
            piece
                .recent(10_000, |entry| pace.add(&seq, entry))
                .expect("it is read");
            assert_eq!(piece.state().step, movements);
            pace
        });
        let journal = std::fs::metadata(dir.path().join("growing/journal")).expect("a journal");
        println!(
            "| {movements} | {:.1} | {opened:.1} |",
            journal.len() as f64 / 1e6
        );
    }
}

fn main() {
    let rounds = [8, 16, 32, 64, 128, 200, 285];
    pieces(
        "rounds, ring of 8",
        rounds.into_iter().map(|n| (n, ring(8, n as u32))),
    );
    let tetrahedra = [8, 16, 32, 64, 128, 250, 500, 1_000];
    pieces(
        "tetrahedra, 8 rounds",
        tetrahedra.into_iter().map(|n| (n, ring(n as u32, 8))),
    );
    let jobs = [10, 100, 1_000, 10_000];
    pieces("jobs, a strip", jobs.into_iter().map(|n| (n, strip(n))));
    journals();
}
