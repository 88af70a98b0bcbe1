//! How fast a ring of eight tetrahedra with 200 rounds a face, about two
//! million beads, is planned, from its project to the finished JSON. To reach:
//! under a second and under 200 MB. Run with `cargo bench --bench plan`; the
//! most memory it took is printed at the end (where the system tells).

mod memory;
mod ring;

use criterion::{Criterion, criterion_group, criterion_main};
use ring::ring;
use std::hint::black_box;
use threadmark::beadwork::Sequence;
use threadmark::plan::{Plan, Wishes, json, page};

fn planning(c: &mut Criterion) {
    let mut group = c.benchmark_group("plan");
    group.sample_size(10);
    for rounds in [8, 200] {
        let project = ring(rounds);
        group.bench_function(format!("ring of eight, {rounds} rounds"), |b| {
            b.iter(|| {
                let seq = Sequence::new(project.clone());
                let plan = Plan::of(&seq, Wishes::default());
                let text = serde_json::to_string(&json::object(&plan)).expect("text");
                black_box(text.len() + page::page("ring", &plan, page::Unit::default()).len())
            });
        });
    }
    group.finish();
    if let Some(line) = memory::most() {
        println!("most memory of the whole run: {line}");
    }
}

criterion_group!(benches, planning);
criterion_main!(benches);
