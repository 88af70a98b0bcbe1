//! Round peyote: a flat face of n sides, worked in rounds.
//!
//! The layout is the same whichever way the panel is worked. Rounds are
//! numbered from 1 in the middle; the beads of a round are indexed from 0 in
//! the order in which outward work strings them.
//!
//! ```text
//!            side 2 of a triangle, rounds 1 to 4
//!       [ ] [ ] [ ] [ ]        round 4: four up beads, the edge
//!         [ ] [ ] [ ]          round 3
//!           [ ] [ ]            round 2: the two halves of its corner pairs
//!             [ ]              round 1, the ring
//! ```

use super::{Begin, End, Making, PanelLayout, Round, Spot};

/// The ends of beads that touch an end of a bead, when `strung` beads of the panel are:
/// see [`PanelLayout::touching`].
pub(super) fn touching(
    kind: &PanelLayout,
    (making, strung): (&Making, u32),
    Spot { round, index: i }: Spot,
    end: End,
    found: &mut Vec<(Spot, End)>,
) {
    let t = kind.in_round(round);
    let (next, before) = ((i + 1) % t, (i + t - 1) % t);
    let ahead = end == End::Front;
    // Work goes one way round, so a front lies against backs.
    let mut add = |round, index| found.push((Spot { round, index }, end.other()));
    // Over the gap at this end.
    if round < kind.last() {
        let over = Round(round.0 + 1);
        let word = kind.word(over);
        let gap = if ahead { i } else { before };
        let (first, past) = (word.beads_before(gap), word.beads_before(gap + 1));
        match (first == past, ahead) {
            (true, true) => add(round, next),
            (true, false) => add(round, before),
            (false, true) => add(over, first),
            (false, false) => add(over, past - 1),
        }
    }
    // Under it, or the neighbour in the same gap.
    let beside = if ahead { next } else { before };
    if round.0 == 1 {
        if making.begin == Begin::Ring {
            add(round, beside);
        }
        return;
    }
    let word = kind.word(round);
    let gap = word.gap_of(i);
    let below = Round(round.0 - 1);
    if t > 1 && word.gap_of(beside) == gap {
        if is_drawn(kind, (making, strung), round, gap) {
            add(round, beside);
        }
    } else if below >= making.innermost() {
        let under = if ahead {
            (gap + 1) % kind.in_round(below)
        } else {
            gap
        };
        add(below, under);
    }
}

/// Whether thread holds the two halves of a corner pair together: they
/// were strung as a pair, or the round inside has gone past them.
fn is_drawn(kind: &PanelLayout, (making, strung): (&Making, u32), round: Round, gap: u32) -> bool {
    match making.begin {
        Begin::Ring | Begin::TwoRows => true,
        Begin::FreeStart if round == kind.last() => true,
        _ if round == making.innermost() => false,
        _ => {
            let inside = Round(round.0 - 1);
            let past = (gap + 1) % kind.in_round(inside);
            let number = |i| making.number_in_turn(inside, i, kind.in_round(inside));
            // The last gap is drawn by the step-down, after which more
            // beads come.
            let after = match past == making.start(inside) {
                true => number(gap) + 1,
                false => number(past),
            };
            number(gap) < strung && after < strung
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::number::Side;
    use crate::beadwork::testing;

    fn law(sides: u8, rounds: u32) -> PanelLayout {
        PanelLayout::new(&testing::panel(sides, rounds))
    }

    fn counts(layout: &PanelLayout) -> Vec<u32> {
        (1..=layout.rounds())
            .map(|k| layout.in_round(Round(k)))
            .collect()
    }

    #[test]
    fn round_k_of_a_triangle_has_3k_beads_k_a_side() {
        let t = law(3, 8);
        assert_eq!(counts(&t), [3, 6, 9, 12, 15, 18, 21, 24]);
        for k in 1..=8 {
            for s in 0..3 {
                assert_eq!(t.on_side(Round(k), Side(s)), k);
            }
        }
    }

    #[test]
    fn a_triangle_begins_every_round_at_a_corner_with_the_last_side_s_half() {
        let t = law(3, 6);
        for k in 2..=6 {
            assert_eq!(t.word(Round(k)).gap(0), 2);
            let first = t.place(Round(k), 0);
            assert_eq!((first.side, first.place), (Side(2), k - 1));
            let second = t.place(Round(k), 1);
            assert_eq!((second.side, second.place), (Side(0), 0));
        }
    }

    #[test]
    fn a_hexagon_increases_in_every_third_round() {
        assert_eq!(counts(&law(6, 9)), [6, 6, 12, 12, 12, 18, 18, 18, 24]);
    }

    #[test]
    fn place_and_index_are_each_other_s_inverse() {
        for n in [3, 4, 5, 6] {
            let layout = law(n, 12);
            for k in 1..=12 {
                for i in 0..layout.in_round(Round(k)) {
                    let p = layout.place(Round(k), i);
                    assert_eq!(layout.index(Round(k), p.side, p.place), i);
                    assert!(p.place < p.of);
                }
            }
        }
    }

    /// A bead in a gap lies on the side of its two neighbours, or at the
    /// corner between their sides.
    #[test]
    fn sides_stay_where_they_are_from_round_to_round() {
        for n in [3u8, 4, 5, 6] {
            let layout = law(n, 15);
            for k in 2..=15 {
                let word = layout.word(Round(k));
                for i in 0..word.beads() {
                    let side = layout.place(Round(k), i).side;
                    let gap = word.gap_of(i);
                    let below = layout.in_round(Round(k - 1));
                    let a = layout.place(Round(k - 1), gap).side;
                    let b = layout.place(Round(k - 1), (gap + 1) % below).side;
                    assert!(side == a || side == b, "n {n} round {k} bead {i}");
                }
            }
        }
    }
}
