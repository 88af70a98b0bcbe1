use super::*;
use glam::DVec3;
use parry3d::math::{Pose, Vector};
use parry3d::query;
use parry3d::shape::ConvexPolyhedron;

/// D. Schattschneider and W. Walker, "M. C. Escher Kaleidocycles", 1977: eight
/// regular tetrahedra turn, six do not; with six, the faces must be as high as
/// their base is long.
#[test]
fn the_published_facts_of_six_and_eight() {
    let of = |tetrahedra| Turning::of(Kaleidocycle::of_plates(tetrahedra, 20.8));
    let (six, eight) = (of(6), of(8));
    assert_eq!(
        (six.verdict, eight.verdict),
        (RingVerdict::Binds, RingVerdict::Turns)
    );
    assert_eq!((six.smallest, eight.smallest), (8, 8));
    assert!((six.face_height_needed_mm - 20.8).abs() < 1e-9);
    // ½·√3·20.8 mm, the height of a triangle of equal sides.
    assert!((six.face_height_mm - 18.013).abs() < 0.001);
    // 20.8·(1/√2)/tan 60° − 10.4 mm and 20.8/√2 − 10.4 mm, by hand.
    assert!((six.margin_mm + 1.9085).abs() < 0.0005, "{}", six.margin_mm);
    assert!((eight.margin_mm - 4.3078).abs() < 0.0005);
}

/// A ring in which the hinges of a tetrahedron are `between` apart, placed by
/// the plain formulas: hinge i leans by t or t', where tan t·tan t' = −cos a.
fn hinges(n: u16, hinge: f64, between: f64, t: f64) -> Vec<[DVec3; 2]> {
    let a = TAU / f64::from(n);
    let radius = |t: f64| between * (1.0 + (t.sin() * a.tan()).powi(2)).sqrt() / a.tan();
    let odd = (-a.cos() / t.tan()).atan();
    let half = t.cos() * (radius(odd) * a.cos() - radius(t)) / (2.0 * t.sin());
    let place = |i: u16| {
        let (lean, height) = match i % 2 {
            0 => (t, half),
            _ => (odd, -half),
        };
        let around = a * f64::from(i);
        let out = DVec3::new(around.cos(), around.sin(), 0.0);
        let middle = out * radius(lean) + DVec3::Z * height;
        let along = (out * lean.cos() + DVec3::Z * lean.sin()) * hinge / 2.0;
        [middle + along, middle - along]
    };
    (0..n).map(place).collect()
}

/// How deep tetrahedra that share no hinge cut into each other at one angle of
/// the turn, by a general collision library.
fn deepest(n: u16, hinge: f64, between: f64, t: f64) -> f32 {
    let ends = hinges(n, hinge, between, t);
    let point = |p: DVec3| Vector::new(p.x as f32, p.y as f32, p.z as f32);
    let solid = |i: usize| {
        let four = [ends[i], ends[(i + 1) % ends.len()]].concat();
        let points: Vec<Vector> = four.into_iter().map(point).collect();
        ConvexPolyhedron::from_convex_hull(&points).expect("a tetrahedron")
    };
    let solids: Vec<ConvexPolyhedron> = (0..ends.len()).map(solid).collect();
    let here = Pose::identity();
    let mut deep = 0f32;
    for i in 0..solids.len() {
        for j in i + 2..solids.len() {
            if i == 0 && j + 1 == solids.len() {
                continue;
            }
            let touch = query::contact(&here, &solids[i], &here, &solids[j], 0.0);
            if let Ok(Some(touch)) = touch {
                deep = deep.max(-touch.dist);
            }
        }
    }
    deep
}

/// The deepest over a whole turn. It repeats every half turn, and the two
/// halves of that mirror each other. Near 0 and near a right angle the heights
/// are a limit, so these angles are only approached.
fn deepest_of_turn(n: u16, hinge: f64, between: f64) -> f32 {
    let steps = 60;
    (0..=steps)
        .map(|i| f64::from(i) / f64::from(steps))
        .map(|part| 0.005 + part * (TAU / 4.0 - 0.01))
        .map(|t| deepest(n, hinge, between, t))
        .fold(0.0, f32::max)
}

/// Solids turned right through by brute force: exactly those rings collide with
/// themselves that the closed form says bind.
#[test]
fn brute_force_finds_the_same_rings_bind() {
    for n in [6, 8, 10] {
        for over in [0.90, 0.97, 1.03, 1.1] {
            let hinge = 20.0;
            let between = hinge * needed(n) * over;
            let deep = deepest_of_turn(n, hinge, between);
            if over < 1.0 {
                assert!(deep > 0.05, "n {n} at {over}: {deep}");
            } else {
                assert!(deep < 0.01, "n {n} at {over}: {deep}");
            }
        }
    }
}

/// The same for regular tetrahedra as the engine makes them.
#[test]
fn regular_tetrahedra_turned_by_brute_force() {
    for n in [6, 8, 12] {
        let ring = Kaleidocycle::of_plates(n, 20.0);
        let deep = deepest_of_turn(n, 20.0, ring.between_hinges_mm());
        let turns = Turning::of(ring).verdict == RingVerdict::Turns;
        assert_eq!(deep < 0.01, turns, "n {n}: {deep}");
    }
}

/// The smallest ring, by trying them one after another.
#[test]
fn the_smallest_ring_that_turns() {
    for between in [0.3, 0.5, 0.6, 0.71, 0.9] {
        let n = smallest(between);
        assert!(between >= needed(n));
        assert!(n == 6 || between < needed(n - 2));
    }
    assert_eq!(smallest(0.867), 6);
    assert_eq!(smallest(0.865), 8);
}
