use super::*;
use crate::beadwork::project::{Closing, Project, Solid};
use crate::beadwork::testing;

fn shapes() -> Vec<(&'static str, Project)> {
    use Closing::*;
    vec![
        ("triangle", testing::single(testing::panel(3, 7))),
        ("hexagon", testing::single(testing::panel(6, 12))),
        ("inward", testing::single(testing::inward(3, 9, 3))),
        ("tetrahedron", testing::solid(Solid::Tetrahedron, 6, SetIn)),
        ("open", testing::solid(Solid::Tetrahedron, 6, Open)),
        ("filled", testing::solid(Solid::Octahedron, 6, Fill)),
        ("cube", testing::solid(Solid::Cube, 9, SetIn)),
        ("folded pair", testing::folded_pair(8, 3)),
        ("ring", testing::ring(8, 14, SetIn)),
        ("long ring", testing::ring(12, 30, Fill)),
    ]
}

/// Reusing the first of identical panels makes no difference.
#[test]
fn like_panels_are_walked_once_and_come_out_the_same() {
    for (name, project) in shapes() {
        let seq = Sequence::new(project);
        let (quick, plain) = (Walk::over(&seq), Walk::step_by_step(&seq));
        assert_eq!(quick.passes, plain.passes, "{name}");
        assert_eq!(quick.jobs, plain.jobs, "{name}");
    }
}

/// The walk agrees with the engine and with a plain count of the steps.
#[test]
fn nothing_is_missed_on_the_way() {
    for (name, project) in shapes() {
        let seq = Sequence::new(project);
        let walk = Walk::over(&seq);
        let mut passes = vec![0u16; seq.layout().beads() as usize];
        for m in seq.iter() {
            for bead in &m.passes {
                passes[bead.0 as usize - 1] += 1;
            }
        }
        assert_eq!(walk.passes, passes, "{name}");
        let all: u32 = walk.jobs.iter().flat_map(|j| j.kinds).sum();
        assert_eq!(all, seq.steps(), "{name}");
    }
}
