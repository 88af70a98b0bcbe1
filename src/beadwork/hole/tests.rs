use super::*;
use crate::beadwork::bead::preset;
use crate::beadwork::outside_values::CIRCLES_IN_A_CIRCLE;
use proptest::prelude::*;
use std::f64::consts::PI;

fn thread(diameter_mm: f64) -> Thread {
    Thread {
        diameter_mm,
        cut_mm: 1500.0,
        tail_mm: 150.0,
    }
}

fn cylinder() -> BeadSize {
    preset("cylinder 11/0").expect("a preset")
}

#[test]
fn bundles_are_as_published() {
    for (n, rho) in CIRCLES_IN_A_CIRCLE {
        assert_eq!(bundle(n), rho);
    }
}

/// Two lie side by side; three to six in a ring, N of them at the corners of
/// a polygon with edge 1; seven to nine in a ring of one fewer round a middle
/// one, the ring being the wider. Plain geometry.
#[test]
fn small_bundles_are_rings_of_circles() {
    let ring = |n: u32| 1.0 + 1.0 / (PI / f64::from(n)).sin();
    for n in [2, 3, 4, 5, 6] {
        assert!((bundle(n) - ring(n)).abs() < 5e-5, "{n}");
    }
    for n in [7, 8, 9] {
        assert!((bundle(n) - ring(n - 1)).abs() < 5e-5, "{n}");
    }
    assert!((bundle(3) - (1.0 + 2.0 / 3f64.sqrt())).abs() < 5e-5);
    assert!((bundle(4) - (1.0 + 2f64.sqrt())).abs() < 5e-5);
    assert_eq!(bundle(7), 3.0);
}

/// N circles of diameter 1 are laid into a circle of ρ(N), and a general
/// collision library (parry3d) finds none that overlap another or the rim.
#[test]
fn every_bundle_of_the_table_can_be_laid() {
    for n in 1..=12u32 {
        let at = laid(n as usize, bundle(n));
        let overlap = overlap(&at, bundle(n));
        assert!(overlap < 2e-3, "{n} circles overlap by {overlap}");
    }
}

/// The same library finds overlaps where the circle is too small: the judge
/// does judge.
#[test]
fn a_tighter_bundle_than_the_table_s_overlaps() {
    for n in 2..=12u32 {
        let rho = 0.97 * bundle(n);
        assert!(overlap(&laid(n as usize, rho), rho) > 2e-3, "{n}");
    }
}

/// Where circles lie that have pushed one another apart inside a circle of
/// `rho`, the best of a number of starts.
fn laid(n: usize, rho: f64) -> Vec<(f64, f64)> {
    let mut seed = 7u64;
    let mut random = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (seed >> 33) as f64 / (1u64 << 31) as f64 - 0.5
    };
    let inner = (rho - 1.0) / 2.0;
    let mut best = (f64::MAX, vec![]);
    for _ in 0..60 {
        let mut at: Vec<(f64, f64)> = (0..n).map(|_| (random() * rho, random() * rho)).collect();
        let mut worst = f64::MAX;
        for _ in 0..4000 {
            worst = 0.0;
            for i in 0..n {
                let out = at[i].0.hypot(at[i].1);
                if out > inner {
                    worst = f64::max(worst, out - inner);
                    let back = if out > 0.0 { inner / out } else { 0.0 };
                    at[i] = (at[i].0 * back, at[i].1 * back);
                }
                for j in 0..i {
                    let (dx, dy) = (at[i].0 - at[j].0, at[i].1 - at[j].1);
                    let apart = dx.hypot(dy).max(1e-9);
                    if apart < 1.0 {
                        worst = f64::max(worst, 1.0 - apart);
                        let push = (1.0 - apart) / (2.0 * apart);
                        at[i] = (at[i].0 + dx * push, at[i].1 + dy * push);
                        at[j] = (at[j].0 - dx * push, at[j].1 - dy * push);
                    }
                }
            }
            if worst < 1e-3 {
                return at;
            }
        }
        if worst < best.0 {
            best = (worst, at);
        }
    }
    best.1
}

/// The deepest overlap of two balls of diameter 1 at these places, or of one
/// with the outside of a ball of diameter `rho`, by the library's geometry.
fn overlap(at: &[(f64, f64)], rho: f64) -> f64 {
    use parry3d::math::Pose;
    use parry3d::query;
    use parry3d::shape::Ball;
    let (ball, middle) = (Ball::new(0.5), Ball::new(1e-4));
    let place = |&(x, y): &(f64, f64)| Pose::translation(x as f32, y as f32, 0.0);
    let mut deepest = 0.0f64;
    for (i, a) in at.iter().enumerate() {
        for b in &at[..i] {
            let met = query::contact(&place(a), &ball, &place(b), &ball, 0.0);
            let depth = met.expect("balls are supported").map_or(0.0, |c| -c.dist);
            deepest = deepest.max(f64::from(depth));
        }
        let out = query::distance(&place(&(0.0, 0.0)), &middle, &place(a), &middle);
        let out = f64::from(out.expect("balls are supported").distance) + 2e-4;
        deepest = deepest.max(out - (rho - 1.0) / 2.0);
    }
    deepest
}

/// From memory of the same table: 2 + √5 for 13 circles, 4.863 for 19.
#[test]
fn beyond_the_table_the_bound_is_not_too_small_and_not_far_off() {
    assert!(bundle(13) >= 2.0 + 5f64.sqrt());
    assert!(bundle(13) < 1.11 * (2.0 + 5f64.sqrt()));
    assert!(bundle(19) >= 4.863 && bundle(19) <= 5.0 + 1e-9);
    for n in 1..200 {
        assert!(bundle(n + 1) >= bundle(n), "{n}");
        assert!(bundle(n) >= f64::from(n).sqrt(), "{n}");
    }
}

/// The judge is the bundle laid out thread by thread.
#[test]
fn a_circle_just_wide_enough_holds_the_bundle_and_a_narrower_one_does_not() {
    for n in 13..600 {
        assert!(honeycomb_in(bundle(n) + 1e-9) >= n, "{n}");
        assert!(honeycomb_in(bundle(n) - 1e-9) < n, "{n}");
    }
    assert_eq!(honeycomb_in(0.5), 0);
    assert_eq!(honeycomb_in(f64::NAN), 0);
}

/// A wide hole and a thin thread: the honeycomb covers π/√12 of the plane, a
/// fact of geometry, so as much of the hole.
#[test]
fn a_wide_hole_is_soon_told() {
    let bead = BeadSize {
        hole_mm: 90.0,
        ..cylinder()
    };
    let needle = Needle { diameter_mm: 0.36 };
    let most = most_passes(bead, thread(0.02), needle);
    let covered = PI / 12f64.sqrt() * (89.64f64 / 0.02).powi(2);
    assert!((f64::from(most) / covered - 1.0).abs() < 1e-3, "{most}");
    assert_eq!(verdict(most, bead, thread(0.02), needle), Passing::Blocked);
}

#[test]
fn a_size_12_needle_goes_beside_nine_thin_threads_in_a_cylinder_bead() {
    // Hole 0.8, thread 0.12, needle 0.36: 0.44 are left for the bundle, which
    // is 3.67 threads wide, so 9 threads; by area 0.48 - 0.1296 = 0.3504 is
    // left, which 24 threads of 0.0144 fill.
    let at = |n| verdict(n, cylinder(), thread(0.12), Needle { diameter_mm: 0.36 });
    assert_eq!(at(0), Passing::Comfortable);
    assert_eq!(at(9), Passing::Comfortable);
    assert_eq!(at(10), Passing::Tight);
    assert_eq!(at(24), Passing::Tight);
    assert_eq!(at(25), Passing::Blocked);
    assert_eq!(
        most_passes(cylinder(), thread(0.12), Needle { diameter_mm: 0.36 }),
        25
    );
}

#[test]
fn a_needle_wider_than_the_hole_never_goes_through() {
    let needle = Needle { diameter_mm: 0.81 };
    assert_eq!(
        verdict(0, cylinder(), thread(0.12), needle),
        Passing::Blocked
    );
    assert_eq!(most_passes(cylinder(), thread(0.12), needle), 0);
}

proptest! {
    #[test]
    fn passes_stop_exactly_where_the_hole_is_blocked(
        hole in 0.3f64..2.0, t in 0.08f64..0.4, needle in 0.2f64..0.6,
    ) {
        let bead = BeadSize { hole_mm: hole, ..cylinder() };
        let needle = Needle { diameter_mm: needle };
        let most = most_passes(bead, thread(t), needle);
        prop_assert_eq!(verdict(most, bead, thread(t), needle), Passing::Blocked);
        if most > 0 {
            prop_assert_ne!(verdict(most - 1, bead, thread(t), needle), Passing::Blocked);
        }
        for n in 0..20 {
            let (a, b) = (verdict(n, bead, thread(t), needle), verdict(n + 1, bead, thread(t), needle));
            prop_assert!(a <= b);
        }
    }
}
