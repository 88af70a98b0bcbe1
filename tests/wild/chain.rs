//! From bytes to proof, and what that may take.

use std::path::Path;

use proptest::prelude::*;
use threadmark::beadwork::verify::verify;
use threadmark::beadwork::{Bead, Sequence, Step};
use threadmark::pattern;
use threadmark::plan::{Plan, Wishes, json};
use threadmark::sheet::{Sheet, SheetOptions, html, svg, text};

/// Seconds of the processor after which the system ends a pattern that hangs: far more than
/// any takes. The patterns that were tried then are in the directory below.
#[cfg(unix)]
const PATIENCE: u64 = 60;

/// Where each test writes the pattern that it tries, under its own name.
const TRIED: &str = env!("CARGO_TARGET_TMPDIR");

/// The most memory that the process may have, whatever is tried at the same time, in KiB.
#[cfg(target_os = "linux")]
const MOST: u64 = 200 * 1024;

/// Steps gone through of each piece, at its beginning and at its end.
const STEPS: u32 = 500;

/// Steps of a piece that is proved as well.
const PROVED: u32 = 20_000;

/// Takes a pattern through the whole chain. Whether it could be sewn.
pub fn goes_through(bytes: &[u8]) -> Result<bool, TestCaseError> {
    within_limits(bytes, || sewn(bytes))
}

/// Does what is to be done with a pattern, ended when it hangs, and held to its memory.
pub fn within_limits<T>(
    bytes: &[u8],
    what: impl FnOnce() -> Result<T, TestCaseError>,
) -> Result<T, TestCaseError> {
    let test = std::thread::current();
    let name = test.name().unwrap_or("wild").replace("::", "-");
    let tried = Path::new(TRIED).join(name).with_extension("json");
    std::fs::write(tried, bytes).expect("it is written");
    #[cfg(unix)]
    end_when_it_hangs();
    let done = what()?;
    #[cfg(target_os = "linux")]
    prop_assert!(most_memory() < MOST, "{} KiB", most_memory());
    Ok(done)
}

/// The system ends this process when it has had the processor so much longer.
#[cfg(unix)]
fn end_when_it_hangs() {
    use rustix::process::{Resource, Rlimit, getrlimit, setrlimit};
    use rustix::time::{ClockId, clock_gettime};
    let spent = clock_gettime(ClockId::ProcessCPUTime).tv_sec as u64;
    let limit = Rlimit {
        current: Some(spent + PATIENCE),
        ..getrlimit(Resource::Cpu)
    };
    setrlimit(Resource::Cpu, limit).expect("a limit below the system's");
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

/// The most memory that this process has had, in KiB.
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
