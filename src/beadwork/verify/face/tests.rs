use super::*;
use crate::beadwork::outside_values::{A045943, HEXAGON_FROM_THREE, HEXAGON_INCREASES};
use crate::beadwork::testing;
use proptest::prelude::*;

fn counts(face: &Face) -> Vec<u32> {
    (1..=face.last()).map(|k| face.beads(k) as u32).collect()
}

/// OEIS A045943.
#[test]
fn totals_of_a_triangle_are_the_triangular_matchstick_numbers() {
    let counts = counts(&Face::new(&testing::panel(3, 20), 0));
    let totals: Vec<u32> = (1..=20).map(|k| counts[..k].iter().sum()).collect();
    assert_eq!(totals, A045943);
}

/// "Hexagonal Flat Peyote Worked In Rounds", BellaOnline.
#[test]
fn a_hexagon_increases_in_the_published_rounds() {
    let counts = counts(&Face::new(&testing::panel(6, 14), 0));
    let grows = |k: &u32| counts[*k as usize - 1] > counts[*k as usize - 2];
    let increases: Vec<u32> = (2..=14).filter(grows).collect();
    assert_eq!(increases, HEXAGON_INCREASES);
}

/// J. Riggs, "Circular Peyote Hexagon Stars", 2020.
#[test]
fn a_hexagon_from_a_ring_of_three_has_the_published_rounds() {
    let face = Face::new(&super::super::tests::from_three(), 0);
    assert_eq!(counts(&face), HEXAGON_FROM_THREE);
}

proptest! {
    /// T = n·(m + c); m grows after a corner of 1 or 2 and shrinks after a
    /// corner of 0.
    #[test]
    fn rounds_follow_the_recurrences(sides in 3u8..=12, law in super::super::tests::laws(), rounds in 2u32..20) {
        let spec = crate::beadwork::project::PanelSpec {
            growth: Growth::Law(law.clone()),
            ..testing::panel(sides, rounds)
        };
        let face = Face::new(&spec, 0);
        let (mut m, mut c) = match law.start() {
            Start::Sides => (1, 0),
            Start::Points => (0, 1),
        };
        for k in 1..=rounds {
            if k > 1 {
                m = if c == 0 { m - 1 } else { m + 1 };
                c = law.word()[(k as usize - 2) % law.word().len()];
            }
            prop_assert_eq!(face.beads(k), usize::from(sides) * (m + usize::from(c)));
            for side in 0..sides {
                let on = (0..face.beads(k)).filter(|&i| face.side(k, i) == side).count();
                prop_assert_eq!(on, m + usize::from(c));
            }
        }
    }
}

#[test]
fn inward_gaps_draw_corner_pairs_together_and_fill_all_others() {
    let face = Face::new(&testing::panel(3, 4), 0);
    let mut gaps = face.gaps(4, WorkDirection::Inward);
    gaps.rotate_left(face.first_of_side_0());
    assert_eq!(gaps, [1, 1, 1, 0, 1, 1, 1, 0, 1, 1, 1, 0]);
}
