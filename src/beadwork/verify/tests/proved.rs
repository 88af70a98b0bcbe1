//! The steps of every shape are proved.

use super::*;
use crate::beadwork::project::{Closing, Make, Solid, Way};

#[test]
fn explore() {
    use std::collections::BTreeMap;
    let mut seen: BTreeMap<String, (u32, String)> = BTreeMap::new();
    let mut note = |name: String, p: Project| {
        let r = match std::panic::catch_unwind(|| prove(p)) { Ok(r) => r, Err(_) => { seen.entry("PANIC".into()).or_insert((0, name)).0 += 1; return } };
        for f in &r.findings {
            let key = format!("{:?}", f.fault).split([' ', '{']).next().unwrap().to_string();
            println!("{name}: {f}");
            let e = seen.entry(key).or_insert((0, format!("{name}: {f}")));
            e.0 += 1;
        }
    };
    for cut in [330.0, 350.0, 400.0, 520.0, 800.0, 1500.0] {
        let cutp = |mut p: Project| { p.thread.cut_mm = cut; p };
        for n in 3..=8u8 { for k in 2..=9 { for open in 0..k.min(4) {
            if open + 2 <= k { note(format!("inward {n} {k} open {open} cut {cut}"), cutp(testing::single(testing::inward(n, k, open)))); }
            note(format!("outward {n} {k} cut {cut}"), cutp(testing::single(testing::panel(n, k))));
        }}}
        for k in 2..=7 { for tips in 0..=2u8 { for closing in [Closing::SetIn, Closing::Fill, Closing::Open] {
            for solid in [Solid::Tetrahedron, Solid::Octahedron, Solid::Icosahedron, Solid::Cube] {
                if solid == Solid::Cube && (k == 6) { continue; }
                let mut p = testing::solid(solid, k, closing);
                if let Make::Solid { tips: t, .. } = &mut p.make { *t = tips; }
                note(format!("{solid:?} {closing:?} {k} tips {tips} cut {cut}"), cutp(p));
            }
            let mut p = testing::ring(8, k, closing);
            if let Make::Ring { tips: t, .. } = &mut p.make { *t = tips; }
            note(format!("ring {closing:?} {k} tips {tips} cut {cut}"), cutp(p));
        }
            for open in 0..3 { if open + 2 <= k {
            let mut p = testing::folded_pair(k, open);
            if let Make::FoldedPair { tips: t, .. } = &mut p.make { *t = tips; }
            note(format!("pair {k} open {open} tips {tips} cut {cut}"), cutp(p)); } }
        }}
    }
    for (k, v) in seen { println!("{k}: {} e.g. {}", v.0, v.1); }
    let _ = Way::Inward;
}
#[test]
fn debug_one() {
    let mut p = testing::single(testing::inward(3, 4, 0));
    p.thread.cut_mm = 400.0;
    let seq = Sequence::new(p);
    for m in seq.iter().skip(20).take(30) {
        println!("{} {:?} {:?} r{:?} s{:?} {:?} passes {:?}", m.step, m.job, m.kind, m.round, m.side, m.strings, m.passes.iter().map(|&b| { let s = seq.layout().seat(b); format!("{}:p{} {:?} r{} s{} {}/{}", b.0, s.panel.0, s.part, s.round, s.side, s.place, s.of) }).collect::<Vec<_>>());
    }
}
