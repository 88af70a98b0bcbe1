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

/// Like panels taken from the first of them make no difference.
#[test]
fn like_panels_are_walked_once_and_come_out_the_same() {
    for (name, project) in shapes() {
        let seq = Sequence::new(project);
        let (quick, plain) = (Walk::over(&seq), Walk::step_by_step(&seq));
        assert_eq!(quick.passes, plain.passes, "{name}");
        assert_eq!(quick.jobs.len(), plain.jobs.len());
        for (a, b) in quick.jobs.iter().zip(&plain.jobs) {
            assert!((a.path_mm - b.path_mm).abs() < 1e-6, "{name}");
            let bare = |j: &JobWalk| JobWalk { path_mm: 0.0, ..*j };
            assert_eq!(bare(a), bare(b), "{name}");
        }
        assert_eq!(quick.threads.len(), plain.threads.len());
        for (a, b) in quick.threads.iter().zip(&plain.threads) {
            assert!((a.path_mm - b.path_mm).abs() < 1e-6, "{name}");
            let bare = |t: &ThreadLength| ThreadLength { path_mm: 0.0, ..*t };
            assert_eq!(bare(a), bare(b), "{name}");
        }
    }
}

/// The walk against what the engine and a plain count of the steps say.
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
        let starts: Vec<Step> = walk.threads.iter().map(|t| t.first).collect();
        assert_eq!(starts, seq.thread_starts().collect::<Vec<_>>(), "{name}");
        assert_eq!(walk.threads.last().map(|t| t.last.0), Some(seq.steps()));
        let all: u32 = walk.jobs.iter().flat_map(|j| j.kinds).sum();
        assert_eq!(all, seq.steps(), "{name}");
        let tails: u32 = walk.jobs.iter().map(|j| j.tails).sum();
        assert_eq!(tails as usize, 2 * walk.threads.len(), "{name}");
    }
}

/// A ring of three beads, worked out by hand. With K = 1 the join lines bound
/// a triangle of side 2·1.3 mm, and the ring lies a third of the way out: its
/// corners are those of a triangle of side 2.6/3 mm. Each bead is 1.3 mm long,
/// so its ends stand out (1.3 − 2.6/3)/2 = 0.21667 mm over the corners. Two
/// ends at one corner stand 0.21667 mm along lines that meet at 60°, so the hop
/// from end to end is 0.21667 mm too.
///
/// The thread goes through beads 1, 2 and 3 and through bead 1 again: four
/// holes and three hops, 4·1.3 + 3·0.21667 = 5.85 mm.
#[test]
fn a_ring_of_three_takes_the_thread_that_was_worked_out_by_hand() {
    let seq = Sequence::new(testing::single(testing::panel(3, 1)));
    let ring: Vec<Movement> = seq.iter().filter(|m| m.kind == Kind::Ring).collect();
    let passes: Vec<u32> = ring.iter().flat_map(|m| &m.passes).map(|b| b.0).collect();
    assert_eq!(passes, [1, 2, 3, 1]);
    let mut needle = NeedlePath::default();
    let mm: f64 = ring
        .iter()
        .map(|m| needle.go(seq.layout(), &m.passes))
        .sum();
    assert!((mm - 5.85).abs() < 1e-9, "{mm}");
}

/// In outward work thread goes into every bead at its back and leaves it at
/// its front, the way it was strung.
#[test]
fn thread_runs_one_way_through_outward_work() {
    let seq = Sequence::new(testing::single(testing::panel(3, 9)));
    let mut needle = NeedlePath::default();
    for m in seq.iter().filter(|m| m.kind != Kind::EndThread) {
        needle.go(seq.layout(), &m.passes);
        assert!(needle.leaves().is_none_or(|(_, front)| front), "{m:?}");
    }
}

/// The whole path as one curve, one unit of time a straight piece, its speed
/// integrated by a general numeric library.
#[test]
fn a_general_numeric_library_finds_the_same_length() {
    use gauss_quad::GaussLegendre;
    for project in [
        testing::solid(Solid::Tetrahedron, 5, Closing::SetIn),
        testing::single(testing::panel(6, 7)),
    ] {
        let seq = Sequence::new(project);
        let mut pieces = vec![];
        let mut needle = NeedlePath::default();
        for m in seq.iter() {
            if m.kind == Kind::StartThread {
                needle = NeedlePath::default();
            }
            needle.visit(seq.layout(), &m.passes, |a, b| pieces.push((a, b)));
        }
        let rule = GaussLegendre::new(3.try_into().expect("three points"));
        let at = |t: f64| {
            let nth = (t as usize).min(pieces.len() - 1);
            let (a, b) = pieces[nth];
            a.lerp(b, t - nth as f64)
        };
        let h = 1e-4;
        let speed = |t: f64| (at(t + h) - at(t - h)).length() / (2.0 * h);
        let integrated: f64 = (0..pieces.len())
            .map(|nth| rule.integrate(nth as f64, nth as f64 + 1.0, speed))
            .sum();
        let walked = Walk::over(&seq).path_mm();
        assert!((integrated - walked).abs() < 1e-3, "{integrated} {walked}");
    }
}
