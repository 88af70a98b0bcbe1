//! How fast the engine is on a ring of eight tetrahedra with 200 rounds a
//! face, about two million beads: opening it, streaming its steps, looking a
//! step up at random; and a change of mind in a piece of 50,000 beads. Before
//! that the memory that the ring takes: within 60 MB untouched, and within
//! 200 MB with a million beads worked. Run with `cargo bench --bench engine`.
//! With `THREADMARK_BASE` set to an earlier program, its stream of steps is
//! timed against ours, in turn; ours is to take no longer than twice as long.

mod memory;
mod ring;
mod running;

use criterion::{Criterion, Throughput, criterion_group};
use ring::ring;
use std::ffi::{OsStr, OsString};
use std::hint::black_box;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use threadmark::beadwork::amend::Amendment;
use threadmark::beadwork::project::Make;
use threadmark::beadwork::{Bead, Sequence, Step};

fn opening(c: &mut Criterion) {
    let mut group = c.benchmark_group("open");
    for rounds in [8, 200] {
        let project = ring(rounds);
        group.bench_function(format!("{rounds} rounds"), |b| {
            b.iter(|| black_box(Sequence::new(project.clone()).steps()));
        });
    }
    group.finish();
}

fn streaming(c: &mut Criterion) {
    let seq = Sequence::new(ring(200));
    let steps = 1_000_000;
    let mut group = c.benchmark_group("stream");
    group.sample_size(10);
    group.throughput(Throughput::Elements(steps));
    group.bench_function("a million steps", |b| {
        b.iter(|| {
            let first = Step(500_000);
            seq.iter_from(first)
                .take(steps as usize)
                .map(|m| m.passes.len())
                .sum::<usize>()
        });
    });
    group.finish();
}

fn looking_up(c: &mut Criterion) {
    let seq = Sequence::new(ring(200));
    let mut at = 0u32;
    c.bench_function("a step at random", |b| {
        b.iter(|| {
            // A stride that shares no factor with the number of steps visits
            // them all in a scattered order.
            at = (at + 982_451_653 % seq.steps()) % seq.steps();
            black_box(seq.step(Step(at + 1)))
        });
    });
    c.bench_function("the step of a bead", |b| {
        let beads = seq.layout().beads();
        b.iter(|| {
            at = (at + 982_451_653 % beads) % beads;
            black_box(seq.step_of(Bead(at + 1)))
        });
    });
}

/// A change of mind in a piece of about 50,000 beads, of few large panels or of
/// many small ones: it is to be planned within 50 ms, and the list of what can
/// be changed is to come as fast.
fn changing(c: &mut Criterion) {
    for (tetrahedra, rounds) in [(8, 32), (54, 12)] {
        let mut project = ring(rounds);
        if let Make::Ring { tetrahedra: n, .. } = &mut project.make {
            *n = tetrahedra;
        }
        let seq = Sequence::new(project);
        assert!(seq.layout().beads() > 50_000);
        changing_a_piece(c, &format!("change of mind, {tetrahedra} tetrahedra"), &seq);
    }
}

fn changing_a_piece(c: &mut Criterion, name: &str, seq: &Sequence) {
    let mut group = c.benchmark_group(name);
    group.sample_size(10);
    for part in [0, 1, 2] {
        let done = Step(seq.steps() * part / 3);
        let job = *seq.goal().order.last().expect("a job");
        let left = Amendment::LeaveOut(job);
        group.bench_function(format!("planned at {part} thirds"), |b| {
            b.iter(|| black_box(seq.amended(done, &left).map(|after| after.steps())));
        });
        group.bench_function(format!("listed at {part} thirds"), |b| {
            b.iter(|| black_box(seq.amendments(done).len()));
        });
        // One of each sort that has others like it, made of all of them.
        let mut known = vec![];
        for one in seq.amendments(done) {
            let sort = std::mem::discriminant(&one);
            if known.contains(&sort) {
                continue;
            }
            let Some(all) = seq.all_like(done, &one) else {
                continue;
            };
            known.push(sort);
            let words = one.say(seq);
            group.bench_function(format!("found, all like '{words}' at {part} thirds"), |b| {
                b.iter(|| black_box(seq.all_like(done, &one).is_some()));
            });
            group.bench_function(
                format!("planned, all like '{words}' at {part} thirds"),
                |b| {
                    b.iter(|| black_box(seq.amended(done, &all).map(|after| after.steps())));
                },
            );
        }
    }
    group.finish();
}

/// The most memory that the ring takes, untouched and half worked.
fn remembering() {
    let print = |what, within| {
        let most = memory::most().unwrap_or_else(|| "not told".into());
        println!("memory, {what}: {most} ({within} MB to reach)");
    };
    memory::forget();
    let seq = Sequence::new(ring(200));
    assert!(seq.steps() > 1_000_000);
    print("untouched", 60);
    memory::forget();
    let done = seq.step_of(Bead(1_000_000));
    let worked = Sequence::from_work(seq.work_at(done));
    assert_eq!(worked.steps(), seq.steps());
    print("a million beads worked", 200);
}

/// How long a program takes to print every step of the ring.
fn printing(program: &OsStr, pattern: &OsStr) -> Duration {
    let begun = Instant::now();
    let mut command = Command::new(program);
    command.arg("steps").arg(pattern).arg("--json");
    let ended = command.stdout(Stdio::null()).status();
    assert!(ended.expect("it starts").success());
    begun.elapsed()
}

/// The stream of steps against that of an earlier program, in turn.
fn against(base: &OsString) {
    let dir = tempfile::tempdir().expect("a directory");
    let pattern = running::ring(dir.path(), "A S* A");
    let ours = OsStr::new(env!("CARGO_BIN_EXE_threadmark"));
    let both = |_| [ours, base].map(|program| printing(program, pattern.as_os_str()));
    let (ours, base): (Vec<_>, Vec<_>) = (0..5).map(both).map(|[a, b]| (a, b)).unzip();
    let (ours, base) = (running::median(ours), running::median(base));
    let ratio = ours.as_secs_f64() / base.as_secs_f64();
    println!("all steps printed: {ours:.2?}, before {base:.2?}: {ratio:.2} times (2 to reach)");
}

criterion_group!(benches, opening, streaming, looking_up, changing);

fn main() {
    remembering();
    if let Some(base) = std::env::var_os("THREADMARK_BASE") {
        against(&base);
    }
    benches();
    Criterion::default().configure_from_args().final_summary();
}
