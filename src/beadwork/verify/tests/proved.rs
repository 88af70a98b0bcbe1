//! The steps of every shape are proved.

use super::*;
use crate::beadwork::project::{Closing, Solid};
use crate::beadwork::testing;

#[test]
fn look() {
    use Closing::*;
    let shapes = vec![
        ("triangle", testing::single(testing::panel(3, 7))),
        ("square", testing::single(testing::panel(4, 11))),
        ("pentagon", testing::single(testing::panel(5, 12))),
        ("hexagon", testing::single(testing::panel(6, 12))),
        ("inward triangle", testing::single(testing::inward(3, 7, 0))),
        ("inward hexagon", testing::single(testing::inward(6, 13, 4))),
        ("tetrahedron", testing::solid(Solid::Tetrahedron, 6, SetIn)),
        ("filled tetrahedron", testing::solid(Solid::Tetrahedron, 6, Fill)),
        ("open tetrahedron", testing::solid(Solid::Tetrahedron, 6, Open)),
        ("octahedron", testing::solid(Solid::Octahedron, 5, SetIn)),
        ("icosahedron", testing::solid(Solid::Icosahedron, 4, SetIn)),
        ("cube", testing::solid(Solid::Cube, 9, SetIn)),
        ("folded pair", testing::folded_pair(8, 3)),
        ("ring", testing::ring(8, 5, SetIn)),
        ("filled ring", testing::ring(8, 5, Fill)),
        ("long ring", testing::ring(8, 30, SetIn)),
    ];
    for (name, project) in shapes {
        let report = prove(project);
        println!("== {name}: {} findings, {} steps, {} beads, {} threads, fullest {}", report.findings.len() as u64 + report.more, report.steps, report.beads, report.threads, report.fullest);
        for f in report.findings.iter().take(6) {
            println!("   {f}");
        }
    }
}
