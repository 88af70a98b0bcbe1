//! The steps of many patterns against a recording of them. A change that should
//! move no step is held to that here; one that mends a fault names the jobs that
//! it changes in [`MENDED`].
//!
//! `tests/data/recorded/` has a file for each pattern of `patterns/` and of
//! `tests/data/patterns/`, with a line for each job:
//!
//! ```text
//! 22 128 90 1c291ca3 Fill Face B     the job from 1, its steps and beads, a sum, its title
//! ```
//!
//! The sum is the CRC-32 of the job's lines of `steps --json`, the numbers of
//! steps and jobs left out, so that a job is the same however many steps come before it.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::builder::threadmark;

/// Jobs, counted from 1, whose steps have changed since they were recorded
/// because they were wrong. The beads that they string have not.
///
/// All are fills that turned a corner at a hinge through a bead of the solid
/// across it.
const MENDED: &[(&str, &[u32])] = &[
    ("harbour-lantern", &[22]),
    ("draft-folded-pair-stone", &[22]),
    ("draft-ring-stone", &[19, 30, 42, 53, 65, 76, 89, 90]),
    ("hand-pair-filled", &[20, 21]),
    ("pair-both-filled", &[20, 21]),
    ("pair-open-filled", &[21]),
    ("ring-filled", &[19, 30, 42, 53, 65, 76, 89, 90]),
];

/// What is recorded of a job.
#[derive(Debug, PartialEq)]
struct Recorded {
    steps: u32,
    beads: u32,
    sum: String,
    title: String,
}

fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// The names of the files of a directory that end so, without that end.
fn names(dir: &str, end: &str) -> BTreeSet<String> {
    let files = std::fs::read_dir(here(dir)).expect("a directory");
    let name = |file: std::io::Result<std::fs::DirEntry>| {
        let name = file.expect("a file").file_name();
        name.to_str()?.strip_suffix(end).map(str::to_owned)
    };
    files.filter_map(name).collect()
}

fn recorded(name: &str) -> Vec<Recorded> {
    let file = here(&format!("tests/data/recorded/{name}.txt"));
    let text = std::fs::read_to_string(file).expect("a recording");
    let line = |line: &str| {
        let [_, steps, beads, sum, title] = line.splitn(5, ' ').collect::<Vec<_>>()[..] else {
            panic!("{name}: '{line}' has not five parts");
        };
        Recorded {
            steps: steps.parse().expect("a number of steps"),
            beads: beads.parse().expect("a number of beads"),
            sum: sum.into(),
            title: title.into(),
        }
    };
    text.lines().map(line).collect()
}

fn without_numbers(line: &str, step: &Value) -> String {
    let without = |line: String, field: &str| {
        let number = format!("\"{field}\":{},", step[field]);
        assert!(line.contains(&number), "{line}");
        line.replacen(&number, "", 1)
    };
    without(without(line.into(), "step"), "job_number")
}

fn now(pattern: &Path) -> Vec<Recorded> {
    let printed = threadmark("steps --json")
        .arg(pattern.to_str().expect("a name that is text"))
        .run();
    let mut jobs: Vec<(Recorded, crc32fast::Hasher)> = vec![];
    for line in printed.lines() {
        let step: Value = serde_json::from_str(line).expect("JSON");
        let title = step["job"].as_str().expect("a title");
        if jobs.last().is_none_or(|(job, _)| job.title != title) {
            let job = Recorded {
                steps: 0,
                beads: 0,
                sum: String::new(),
                title: title.into(),
            };
            jobs.push((job, crc32fast::Hasher::new()));
        }
        let (job, sum) = jobs.last_mut().expect("a job");
        job.steps += 1;
        job.beads += step["strings"].as_array().expect("a list").len() as u32;
        sum.update(without_numbers(line, &step).as_bytes());
        sum.update(b"\n");
    }
    let summed = |(job, sum): (Recorded, crc32fast::Hasher)| Recorded {
        sum: format!("{:08x}", sum.finalize()),
        ..job
    };
    jobs.into_iter().map(summed).collect()
}

fn is_mended(name: &str, job: u32) -> bool {
    let mut mended = MENDED.iter().filter(|(pattern, _)| *pattern == name);
    mended.any(|(_, jobs)| jobs.contains(&job))
}

/// What differs, a line for each job.
fn compare(name: &str, recorded: &[Recorded], now: &[Recorded]) -> String {
    let mut differs = String::new();
    if recorded.len() != now.len() {
        let (were, are) = (recorded.len(), now.len());
        let _ = writeln!(
            differs,
            "{name}: there were {were} jobs, now there are {are}"
        );
    }
    for ((was, is), job) in recorded.iter().zip(now).zip(1..) {
        let fits = match is_mended(name, job) {
            true => was.sum != is.sum && (was.beads, &was.title) == (is.beads, &is.title),
            false => was == is,
        };
        if !fits {
            let _ = writeln!(differs, "{name}, job {job}: was {was:?}, is {is:?}");
        }
    }
    differs
}

#[test]
fn every_pattern_is_stitched_as_it_was_recorded() {
    let mut differs = String::new();
    let mut compared = BTreeSet::new();
    for dir in ["patterns", "tests/data/patterns"] {
        for name in names(dir, ".json") {
            let pattern = here(dir).join(format!("{name}.json"));
            differs += &compare(&name, &recorded(&name), &now(&pattern));
            compared.insert(name);
        }
    }
    assert_eq!(compared, names("tests/data/recorded", ".txt"));
    assert!(differs.is_empty(), "{differs}");
}

#[test]
fn jobs_that_are_mended_are_jobs_that_are_recorded() {
    for (name, jobs) in MENDED {
        let all = recorded(name).len() as u32;
        assert!(jobs.iter().all(|job| (1..=all).contains(job)), "{name}");
    }
}
