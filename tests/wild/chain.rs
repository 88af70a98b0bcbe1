//! From bytes to proof, and what that may take.

use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use proptest::prelude::*;
use threadmark::beadwork::verify::verify;
use threadmark::beadwork::{Bead, Sequence, Step};
use threadmark::pattern;
use threadmark::plan::{Plan, Wishes, json};
use threadmark::sheet::{Sheet, SheetOptions, html, svg, text};

/// The most that one pattern may take, in time of the processor: other work on
/// the machine does not count. A build for tests, little optimised and full of
/// checks, may take four times as long as the program that is handed out
/// (`cargo test --release --test wild` holds that to its second).
const LONGEST: Duration = Duration::from_secs(if cfg!(debug_assertions) { 4 } else { 1 });

/// The most memory that the process may have with one pattern, in KiB.
#[cfg(target_os = "linux")]
const MOST: u64 = 200 * 1024;

/// Steps gone through of each piece, at its beginning and at its end.
const STEPS: u32 = 500;

/// Steps of a piece that is proved as well.
const PROVED: u32 = 20_000;

/// One pattern at a time, since the memory that is looked at is that of all.
static TURN: Mutex<()> = Mutex::new(());

/// Takes a pattern through the whole chain. Whether it could be sewn.
pub fn goes_through(bytes: &[u8]) -> Result<bool, TestCaseError> {
    let _turn = TURN.lock().unwrap_or_else(PoisonError::into_inner);
    #[cfg(target_os = "linux")]
    forget_most();
    let begun = spent();
    let sewn = sewn(bytes)?;
    let took = spent().saturating_sub(begun);
    prop_assert!(took < LONGEST, "took {took:?}");
    #[cfg(target_os = "linux")]
    prop_assert!(most_memory() < MOST, "{} KiB", most_memory());
    Ok(sewn)
}

fn sewn(bytes: &[u8]) -> Result<bool, TestCaseError> {
    let pattern = match pattern::read("x.json", bytes) {
        Err(errors) => {
            let told = errors.to_string();
            let steers = |c: char| c.is_control() && c != '\n';
            prop_assert!(!told.contains(steers), "{told:?}");
            return Ok(false);
        }
        Ok(pattern) => pattern,
    };
    let seq = Sequence::new(pattern.project);
    let all = seq.steps();
    prop_assert!(all > 0);
    let ends = (1..=all.min(STEPS)).chain(all.saturating_sub(STEPS).max(1)..=all);
    for number in ends {
        let step = Step(number);
        let movement = seq.step(step);
        prop_assert_eq!(movement.map(|m| m.step), Some(step));
        let (strung, used) = (seq.strung_after(step), seq.drawn_mm(Step(0), step));
        prop_assert!(strung <= seq.layout().beads() && used.is_finite() && used >= 0.0);
    }
    prop_assert!(seq.step(Step(all + 1)).is_none());
    let plan = Plan::of(&seq, Wishes::default());
    prop_assert!(serde_json::to_string(&json::object(&plan)).is_ok());
    handed_out(&seq, &plan, &pattern.title, &pattern.about)?;
    if all <= PROVED {
        let project = seq.layout().project();
        let size_of = |bead: Bead| project.beads[usize::from(seq.layout().colour(bead).0)].size;
        let report = verify(project, seq.goal(), seq.jobs(), seq.iter(), size_of);
        prop_assert_eq!(report.steps, all);
    }
    Ok(true)
}

/// The most that a handout may have, in bytes.
const PAGE: usize = 16 << 20;

/// The handout of a piece can be read whatever the piece is, and stays small.
fn handed_out(seq: &Sequence, plan: &Plan, title: &str, about: &str) -> Result<(), TestCaseError> {
    let sheet = Sheet::of(seq, plan, title, about, SheetOptions::default());
    let page = html::page(&sheet);
    let page = page.strip_prefix("<!DOCTYPE html>\n").unwrap_or_default();
    for written in [page, &svg::file(&sheet)] {
        prop_assert!(written.len() < PAGE, "{} bytes", written.len());
        let read = roxmltree::Document::parse(written);
        prop_assert!(read.is_ok(), "{read:?}");
    }
    let text = text::page(&sheet);
    let steers = |c: char| c.is_control() && c != '\n';
    prop_assert!(!text.contains(steers) && text.len() < PAGE);
    Ok(())
}

/// What this thread has taken of the processor so far.
#[cfg(unix)]
fn spent() -> Duration {
    let now = rustix::time::clock_gettime(rustix::time::ClockId::ThreadCPUTime);
    Duration::try_from(now).expect("a clock does not go below 0")
}

/// Where that cannot be asked: the time that has passed.
#[cfg(not(unix))]
fn spent() -> Duration {
    static BEGUN: std::sync::OnceLock<std::time::Instant> = std::sync::OnceLock::new();
    BEGUN.get_or_init(std::time::Instant::now).elapsed()
}

/// Counts the most memory from now on, so that each pattern answers for
/// itself. A system that does not let a process do so counts all together.
#[cfg(target_os = "linux")]
fn forget_most() {
    let _ = std::fs::write("/proc/self/clear_refs", "5");
}

/// The most memory that this process has had since then, in KiB.
#[cfg(target_os = "linux")]
fn most_memory() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").expect("the process's own status");
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))
        .expect("its peak");
    line.trim()
        .trim_end_matches(" kB")
        .parse()
        .expect("a number")
}

#[cfg(target_os = "linux")]
#[test]
fn memory_that_is_taken_is_seen() {
    let before = most_memory();
    let taken = vec![1_u8; 20 << 20];
    assert!(taken.iter().all(|byte| *byte == 1) && most_memory() >= before.min(20 << 10));
    assert!(most_memory() > 20 << 10, "20 MiB were taken");
}
