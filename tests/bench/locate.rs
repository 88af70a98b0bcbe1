//! How many questions find a lost place: the mean and the most over every
//! step of every shipped pattern, against the information limit. Run with
//! `cargo bench --bench locate`.
//!
//! The maker answers truly. Steps that look the same are one place, so the
//! limit is the entropy of the looks, shared by what one question can tell at
//! most: nobody can do with fewer bits. The limit in yes-or-no questions,
//! log2 of the steps, stands beside it.

use std::collections::HashMap;
use std::path::Path;
use threadmark::beadwork::{Sequence, Step};
use threadmark::tracking::locate::look::look;
use threadmark::tracking::locate::{Appearance, Next, Reply, Search};

/// Steps with their looks that have answered alike so far.
type Alike = Vec<(Step, Appearance)>;

#[derive(Default)]
struct Tally {
    questions: u64,
    most: usize,
    steps: u64,
    lost: u64,
    ends: HashMap<usize, u64>,
}

/// All makers who have answered alike get the same next question.
fn follow(mut search: Search<&Sequence>, alike: Alike, tally: &mut Tally) {
    match search.turn() {
        Next::Found(found) => {
            let asked = search.asked().len();
            let here = alike.len() as u64;
            tally.questions += asked as u64 * here;
            tally.most = tally.most.max(asked);
            tally.steps += here;
            *tally.ends.entry(asked).or_default() += here;
            let shown: Vec<Appearance> = found
                .steps
                .iter()
                .filter_map(|s| alike.iter().find(|(t, _)| t == s))
                .map(|(_, l)| *l)
                .collect();
            tally.lost += alike.iter().filter(|(_, l)| !shown.contains(l)).count() as u64;
        }
        Next::Ask(question) => {
            let mut answers: HashMap<u32, Alike> = HashMap::new();
            for (step, seen) in alike {
                let answer = seen.get(question.ask);
                answers.entry(answer).or_default().push((step, seen));
            }
            for (answer, alike) in answers {
                let mut next = search.clone();
                next.reply(question.ask, Reply::Value(answer));
                follow(next, alike, tally);
            }
        }
    }
}

fn report(path: &Path) {
    let Ok(pattern) = threadmark::pattern::load(path) else {
        println!("{}: not read", path.display());
        return;
    };
    let seq = Sequence::new(pattern.project);
    let all: Alike = (1..=seq.steps())
        .map(Step)
        .filter_map(|s| Some((s, look(&seq, s)?)))
        .collect();
    let mut looks: HashMap<Appearance, u64> = HashMap::new();
    for (_, seen) in &all {
        *looks.entry(*seen).or_default() += 1;
    }
    let n = all.len() as f64;
    let entropy: f64 = looks
        .values()
        .map(|&c| c as f64 / n)
        .map(|p| -p * p.log2())
        .sum();
    let mut tally = Tally::default();
    follow(Search::new(&seq), all, &mut tally);
    let mean = tally.questions as f64 / tally.steps as f64;
    println!(
        "{:<22} {:>6} {:>6} {:>9.2} {:>9.2} {:>9.2} {:>6} {:>6.2} {:>6}",
        path.file_stem().unwrap_or_default().to_string_lossy(),
        seq.steps(),
        looks.len(),
        n.log2(),
        entropy,
        mean,
        tally.most,
        entropy / mean,
        tally.lost,
    );
}

fn main() {
    println!(
        "{:<22} {:>6} {:>6} {:>9} {:>9} {:>9} {:>6} {:>6} {:>6}",
        "pattern", "steps", "looks", "log2", "entropy", "mean", "most", "bits/q", "lost"
    );
    let mut patterns: Vec<_> = std::fs::read_dir("patterns")
        .expect("run from the project's directory")
        .filter_map(|e| Some(e.ok()?.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "json"))
        .collect();
    patterns.sort();
    patterns.iter().for_each(|p| report(p));
}
