//! The joins of a piece: which side carries each row, which sides are locked
//! into it, and between which corners it lies.

use crate::beadwork::{Panel, Sequence, Side};
use crate::geometry::{PlateSide, Shape};
use std::collections::HashMap;

/// A join: a row and the sides on it.
#[derive(Clone, Debug, PartialEq)]
pub struct JoinSides {
    /// The side that carries the row.
    pub carrier: (Panel, Side),
    /// The sides zipped or filled onto it; several at a hinge.
    pub others: Vec<(Panel, Side)>,
    /// The two corners at which it begins and ends, numbered from 0 over the
    /// piece.
    pub ends: (usize, usize),
    /// Beads that the needle passes on the way along it from one end to the
    /// other.
    pub beads: u32,
}

/// All joins of a piece, and how many corners it has where joins meet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Joins {
    /// The joins, in the order of their rows.
    pub joins: Vec<JoinSides>,
    /// Number of corners at which they begin and end.
    pub corners: usize,
}

impl Joins {
    /// Finds the joins of a piece. Rows to which nothing is joined (those round
    /// an opening that stays open) are left out.
    pub fn of(seq: &Sequence, body: &Shape) -> Joins {
        let layout = seq.layout();
        let side = |at: &PlateSide| (Panel(at.plate as u16), Side(at.side as u8));
        let sides = body
            .seams
            .iter()
            .map(|s| s.sides.iter().map(side).collect());
        let mut sides: Vec<Vec<(Panel, Side)>> = sides.collect();
        sides.sort_by_key(|sides| layout.any_row_on(sides[0].0, sides[0].1).map(|row| row.0));
        let mut numbers = HashMap::new();
        let mut number = |corner| {
            let new = numbers.len();
            *numbers.entry(seq.seams().first_of(corner)).or_insert(new)
        };
        let joins = sides.into_iter().map(|sides| {
            let (panel, side) = sides[0];
            let kind = layout.kind(panel);
            let start = (panel, kind.side_before(side));
            JoinSides {
                carrier: (panel, side),
                others: sides[1..].to_vec(),
                ends: (number(start), number((panel, side))),
                beads: 2 * kind.edge(side) - 1,
            }
        });
        let joins = joins.collect();
        Joins {
            joins,
            corners: numbers.len(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    /// Joins and corners of the regular solids (any handbook, from memory),
    /// and of a ring of N: N hinges of four sides, 4N joins of two, and two
    /// ends for each hinge.
    #[test]
    fn a_piece_has_the_joins_and_corners_of_its_solid() {
        use Closing::*;
        let of = |project| {
            let seq = Sequence::new(project);
            Joins::of(&seq, &Shape::of(&seq))
        };
        for (solid, joins, corners) in [
            (Solid::Tetrahedron, 6, 4),
            (Solid::Octahedron, 12, 6),
            (Solid::Icosahedron, 30, 12),
            (Solid::Cube, 12, 8),
        ] {
            for closing in [SetIn, Fill] {
                let found = of(testing::solid(solid, 9, closing));
                assert_eq!((found.joins.len(), found.corners), (joins, corners));
                assert!(found.joins.iter().all(|j| j.others.len() == 1));
            }
        }
        let ring = of(testing::ring(8, 5, SetIn));
        assert_eq!((ring.joins.len(), ring.corners), (40, 16));
        let hinges = ring.joins.iter().filter(|j| j.others.len() == 3);
        assert_eq!(hinges.count(), 8);
        assert!(of(testing::single(testing::panel(3, 5))).joins.is_empty());
    }

    /// A folded pair is two tetrahedra that share an edge: 11 joins, 6
    /// corners.
    #[test]
    fn a_folded_pair_has_the_joins_of_two_tetrahedra_less_the_hinge() {
        let seq = Sequence::new(testing::folded_pair(8, 2));
        let joins = Joins::of(&seq, &Shape::of(&seq));
        assert_eq!((joins.joins.len(), joins.corners), (12, 6));
    }
}
