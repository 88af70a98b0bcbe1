//! How many beads each round of a panel has, and each of its sides.
//!
//! Only what a reader needs to say whether a word fits; everything else about
//! a layout is the engine's.

use crate::beadwork::corner_law::{CornerLaw, Start};

/// The beads of a panel, counted.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Counts {
    sides: u8,
    rounds: Vec<u32>,
}

impl Counts {
    /// Of a panel with a corner law: round k has n·(m + c) beads, where a side
    /// grows by 1 after a corner of 1 or 2 and shrinks by 1 after one of 0.
    pub(super) fn of_law(law: &CornerLaw, sides: u8, rounds: u32) -> Self {
        let mut side = match law.start() {
            Start::Sides => 1,
            Start::Points => 0,
        };
        let mut counts = Vec::with_capacity(rounds as usize);
        for round in 1..=rounds {
            let corner = law.corner(round);
            counts.push(u32::from(sides) * (side + u32::from(corner)));
            side = if corner == 0 { side - 1 } else { side + 1 };
        }
        Counts {
            sides,
            rounds: counts,
        }
    }

    /// Of a panel with these beads in its rounds.
    pub(super) fn of_rounds(rounds: Vec<u32>, sides: u8) -> Self {
        Counts { sides, rounds }
    }

    /// Beads of round `round` (from 1) on side `side` (from 0). Bead b (from
    /// 0) of T belongs to side floor(b·n/T); with a corner law that is T/n for
    /// each.
    pub(super) fn side(&self, round: u32, side: u8) -> u32 {
        let all = u64::from(self.rounds[round as usize - 1]);
        let sides = u64::from(self.sides);
        let first = |side: u64| (side * all).div_ceil(sides);
        let side = u64::from(side);
        (first(side + 1) - first(side)) as u32
    }

    /// Beads on each side of the last round: what is joined.
    pub(super) fn edges(&self) -> Vec<u32> {
        let last = self.rounds.len() as u32;
        (0..self.sides).map(|side| self.side(last, side)).collect()
    }

    /// Beads of all rounds after the first `open`.
    pub(super) fn total(&self, open: u32) -> u64 {
        self.rounds
            .iter()
            .skip(open as usize)
            .map(|&beads| u64::from(beads))
            .sum()
    }
}

/// Beads of a join row on a side of `edge` beads: one in each gap between
/// them.
pub(super) fn row(edge: u32) -> u32 {
    edge.saturating_sub(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rounds(start: Start, word: &[u8], sides: u8, rounds: u32) -> Vec<u32> {
        let law = CornerLaw::new(start, word).unwrap();
        Counts::of_law(&law, sides, rounds).rounds
    }

    /// Outside values: the differences of OEIS A045943 are 3k, and its terms
    /// the totals.
    #[test]
    fn round_k_of_a_triangle_has_3k_beads() {
        let law = CornerLaw::usual(3);
        for (k, total) in [
            (1, 3),
            (2, 9),
            (3, 18),
            (4, 30),
            (5, 45),
            (6, 63),
            (7, 84),
            (8, 108),
        ] {
            let counts = Counts::of_law(&law, 3, k);
            assert_eq!(counts.total(0), total);
            assert_eq!(counts.edges(), [k; 3]);
        }
    }

    /// Outside value: "Hexagonal Flat Peyote Worked In Rounds", BellaOnline: a
    /// ring of six, increases in rounds 3, 6, 9, 12.
    #[test]
    fn a_hexagon_grows_every_third_round() {
        let beads = rounds(Start::Points, &[0, 2, 1], 6, 12);
        assert_eq!(beads, [6, 6, 12, 12, 12, 18, 18, 18, 24, 24, 24, 30]);
    }

    #[test]
    fn beads_that_do_not_part_evenly_go_to_sides_in_order() {
        let counts = Counts::of_rounds(vec![7, 2], 3);
        let side = |round| (0..3).map(|s| counts.side(round, s)).collect::<Vec<_>>();
        assert_eq!(side(1), [3, 2, 2]);
        assert_eq!(side(2), [1, 1, 0]);
        // The rule itself, bead by bead.
        for (total, sides) in [(7_u64, 3_u64), (2, 3), (23, 5), (24, 12)] {
            let counts = Counts::of_rounds(vec![total as u32], sides as u8);
            for side in 0..sides {
                let plain = (0..total).filter(|b| b * sides / total == side).count();
                assert_eq!(counts.side(1, side as u8) as usize, plain);
            }
        }
    }
}
