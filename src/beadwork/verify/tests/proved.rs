//! The steps of every shape are proved.

use super::*;
use crate::beadwork::project::{Closing, Make, Solid, Way};
use crate::beadwork::testing;

#[test]
fn look() {
    use Closing::*;
    let mut shapes = vec![
        ("triangle", testing::single(testing::panel(3, 7))),
        ("square", testing::single(testing::panel(4, 11))),
        ("pentagon", testing::single(testing::panel(5, 12))),
        ("hexagon", testing::single(testing::panel(6, 12))),
        ("inward triangle", testing::single(testing::inward(3, 7, 0))),
        ("inward hexagon", testing::single(testing::inward(6, 13, 4))),
        ("tetrahedron", testing::solid(Solid::Tetrahedron, 6, SetIn)),
        (
            "filled tetrahedron",
            testing::solid(Solid::Tetrahedron, 6, Fill),
        ),
        (
            "open tetrahedron",
            testing::solid(Solid::Tetrahedron, 6, Open),
        ),
        ("octahedron", testing::solid(Solid::Octahedron, 5, SetIn)),
        ("icosahedron", testing::solid(Solid::Icosahedron, 4, SetIn)),
        ("cube", testing::solid(Solid::Cube, 9, SetIn)),
        ("folded pair", testing::folded_pair(8, 3)),
        ("ring", testing::ring(8, 5, SetIn)),
        ("filled ring", testing::ring(8, 5, Fill)),
        ("long ring", testing::ring(8, 30, SetIn)),
    ];
    shapes.push(("from three", testing::single(super::from_three())));
    shapes.push((
        "from three inward",
        testing::single(PanelSpec {
            way: Way::Inward,
            ..super::from_three()
        }),
    ));
    shapes.push((
        "from three inward open",
        testing::single(PanelSpec {
            way: Way::Inward,
            open: 2,
            ..super::from_three()
        }),
    ));
    for (name, way, open) in [("k", Way::Outward, 0), ("inward k", Way::Inward, 0)] {
        for k in 1..=5 {
            for n in [3, 4, 5, 6] {
                if way == Way::Inward && k == 1 {
                    continue;
                }
                shapes.push((
                    name,
                    testing::single(PanelSpec {
                        way,
                        open,
                        ..testing::panel(n, k)
                    }),
                ));
            }
        }
    }
    for tips in 0..=2u8 {
        for k in 1..=4 {
            for closing in [SetIn, Fill, Open] {
                for solid in [
                    Solid::Tetrahedron,
                    Solid::Octahedron,
                    Solid::Icosahedron,
                    Solid::Cube,
                ] {
                    let mut p = testing::solid(solid, k, closing);
                    if let Make::Solid { tips: t, .. } = &mut p.make {
                        *t = tips;
                    }
                    let name: &'static str = Box::leak(
                        format!("{solid:?} {closing:?} k {k} tips {tips}").into_boxed_str(),
                    );
                    shapes.push((name, p));
                }
                let mut p = testing::ring(8, k, closing);
                if let Make::Ring { tips: t, .. } = &mut p.make {
                    *t = tips;
                }
                let name: &'static str =
                    Box::leak(format!("ring {closing:?} k {k} tips {tips}").into_boxed_str());
                shapes.push((name, p));
            }
            let mut p = testing::folded_pair(k, 0);
            if let Make::FoldedPair { tips: t, .. } = &mut p.make {
                *t = tips;
            }
            let name: &'static str = Box::leak(format!("pair k {k} tips {tips}").into_boxed_str());
            shapes.push((name, p));
        }
    }
    for (name, project) in shapes {
        let report = match std::panic::catch_unwind(|| prove(project)) {
            Ok(r) => r,
            Err(_) => {
                println!("== {name}: PANIC");
                continue;
            }
        };
        if report.is_proved() {
            continue;
        }
        println!(
            "== {name}: {} findings, {} steps, {} beads, {} threads, fullest {}",
            report.findings.len() as u64 + report.more,
            report.steps,
            report.beads,
            report.threads,
            report.fullest
        );
        for f in report.findings.iter().take(6) {
            println!("   {f}");
        }
    }
}

#[test]
fn debug_cube() {
    let seq = Sequence::new(testing::solid(Solid::Cube, 9, Closing::SetIn));
    for m in seq.iter().skip(432).take(14) {
        println!(
            "{} {:?} {:?} r{:?} s{:?} {:?} passes {:?}",
            m.step,
            m.job,
            m.kind,
            m.round,
            m.side,
            m.strings,
            m.passes
                .iter()
                .map(|&b| {
                    let s = seq.layout().seat(b);
                    format!(
                        "{}:p{} {:?} r{} s{} {}/{}",
                        b.0, s.panel.0, s.part, s.round, s.side, s.place, s.of
                    )
                })
                .collect::<Vec<_>>()
        );
    }
    for k in 3..14 {
        let r = prove(testing::solid(Solid::Cube, k, Closing::SetIn));
        println!("cube {k}: {}", r.findings.len());
    }
    for k in 3..9 {
        let r = prove(testing::solid(Solid::Cube, k, Closing::Fill));
        println!("cube fill {k}: {:?}", r.findings.first());
    }
}
