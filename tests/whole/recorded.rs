//! The steps of many patterns against a recording of them: beads, passes, kinds, rounds and sides.
//! How a step is worded isn't recorded. `THREADMARK_WRITE_RECORDED=1 cargo test --test whole recorded`
//! records anew, for a change that mends a fault; read the difference before you commit it.
//!
//! `tests/data/recorded/` has a file for each pattern of `patterns/` and of
//! `tests/data/patterns/`, with a line for each job:
//!
//! ```text
//! 22 128 90 1c291ca3 Fill Face B     the job from 1, its steps and beads, a sum, its title
//! ```
//!
//! The sum is the CRC-32 of the job's lines of `steps --json`, the numbers of
//! steps and jobs and the words left out, so that a job is the same however many steps come before it.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::builder::threadmark;

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

fn file_of(name: &str) -> PathBuf {
    here(&format!("tests/data/recorded/{name}.txt"))
}

fn record(name: &str, jobs: &[Recorded]) {
    let mut text = String::new();
    for (job, n) in jobs.iter().zip(1..) {
        let Recorded {
            steps,
            beads,
            sum,
            title,
        } = job;
        let _ = writeln!(text, "{n} {steps} {beads} {sum} {title}");
    }
    std::fs::write(file_of(name), text).expect("a place for the recording");
}

fn recorded(name: &str) -> Vec<Recorded> {
    let text = std::fs::read_to_string(file_of(name)).expect("a recording");
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

fn without_numbers_and_words(line: &str, step: &Value) -> String {
    ["step", "job_number", "text"]
        .iter()
        .fold(line.into(), |line: String, field| {
            let value = format!("\"{field}\":{},", step[field]);
            assert!(line.contains(&value), "{line}");
            line.replacen(&value, "", 1)
        })
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
        sum.update(without_numbers_and_words(line, &step).as_bytes());
        sum.update(b"\n");
    }
    let summed = |(job, sum): (Recorded, crc32fast::Hasher)| Recorded {
        sum: format!("{:08x}", sum.finalize()),
        ..job
    };
    jobs.into_iter().map(summed).collect()
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
        if was != is {
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
            let now = now(&pattern);
            if std::env::var_os("THREADMARK_WRITE_RECORDED").is_some() {
                record(&name, &now);
            }
            differs += &compare(&name, &recorded(&name), &now);
            compared.insert(name);
        }
    }
    assert_eq!(compared, names("tests/data/recorded", ".txt"));
    assert!(differs.is_empty(), "{differs}");
}
