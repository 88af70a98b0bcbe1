//! The joins of a piece, read off its jobs: which side carries each row, which
//! are locked into it, and which corners come to lie together.

use crate::beadwork::job::{JobKind, SideJoin};
use crate::beadwork::layout::{Layout, RowIndex};
use crate::beadwork::seams::{Corner, Direction};
use crate::beadwork::{Panel, Sequence, Side};
use std::collections::BTreeMap;

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
    /// Beads that the needle goes through to get from one end to the other
    /// along it.
    pub beads: u32,
}

/// All joins of a piece, and how many corners it has where joins meet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Joins {
    /// The joins, in the order of their rows.
    pub joins: Vec<JoinSides>,
    /// Corners at which they begin and end.
    pub corners: usize,
}

impl Joins {
    /// Reads them off a piece. Rows on which nothing is joined, those round
    /// an opening that stays open, are left out.
    pub fn of(seq: &Sequence) -> Joins {
        let layout = seq.layout();
        let mut meeting = Meeting::new(layout);
        let mut on_row: BTreeMap<u16, Vec<(Panel, Side)>> = BTreeMap::new();
        let mut lock = |meeting: &mut Meeting, side, at: (Panel, Side), runs| {
            meeting.side_on_side(layout, side, at, runs);
            if let Some(RowIndex(row)) = layout.row_on(at.0, at.1) {
                on_row.entry(row).or_default().push(side);
            }
        };
        for job in seq.jobs() {
            match &job.kind {
                JobKind::Zip(panel, sides) | JobKind::SetIn(panel, sides) => {
                    for join in sides {
                        let SideJoin {
                            side,
                            onto,
                            at,
                            runs,
                        } = *join;
                        lock(&mut meeting, (*panel, side), (onto, at), runs);
                    }
                }
                JobKind::Fill { panel, .. } => {
                    let rim = layout.panel(*panel).rim;
                    let rim = rim.map_or(&[][..], |rim| layout.rim(rim));
                    for (side, &at) in (0..).map(Side).zip(rim) {
                        lock(&mut meeting, (*panel, side), at, Direction::Against);
                    }
                }
                JobKind::FirmRim(rim) => {
                    for (nth, &(panel, side)) in rim.iter().enumerate() {
                        let next = rim[(nth + 1) % rim.len()];
                        let start = (panel, layout.kind(panel).side_before(side));
                        meeting.corners(start, next);
                    }
                }
                JobKind::Tie(a, b) => meeting.corners(*a, *b),
                JobKind::Panel(_) | JobKind::JoinRow { .. } => {}
            }
        }
        let mut numbers = BTreeMap::new();
        let joins = on_row
            .into_iter()
            .map(|(row, others)| {
                let row = layout.row(RowIndex(row));
                let (panel, side) = (row.panel, row.side);
                let start = (panel, layout.kind(panel).side_before(side));
                let mut number = |corner| {
                    let new = numbers.len();
                    *numbers.entry(meeting.find(corner)).or_insert(new)
                };
                JoinSides {
                    carrier: (panel, side),
                    others,
                    ends: (number(start), number((panel, side))),
                    beads: 2 * layout.kind(panel).edge(side) - 1,
                }
            })
            .collect();
        Joins {
            joins,
            corners: numbers.len(),
        }
    }

    /// Faces with no side of theirs in a row that they carry, and for others
    /// the sides that carry: a bit a side.
    pub fn carried(layout: &Layout) -> Vec<u32> {
        let mut masks = vec![0; layout.panels().len()];
        for row in layout.rows() {
            masks[row.panel.index()] |= 1 << row.side.0;
        }
        masks
    }
}

/// Corners that come together: each points to another of its group, or to
/// itself.
struct Meeting {
    up: Vec<usize>,
}

/// Corner numbers of a panel, one for each side it can have.
const MOST_SIDES: usize = 12;

impl Meeting {
    fn new(layout: &Layout) -> Self {
        Meeting {
            up: (0..layout.panels().len() * MOST_SIDES).collect(),
        }
    }

    fn find(&mut self, (panel, side): Corner) -> usize {
        let mut at = panel.index() * MOST_SIDES + side.index();
        while self.up[at] != at {
            self.up[at] = self.up[self.up[at]];
            at = self.up[at];
        }
        at
    }

    fn corners(&mut self, a: Corner, b: Corner) {
        let (a, b) = (self.find(a), self.find(b));
        self.up[b] = a;
    }

    fn side_on_side(
        &mut self,
        layout: &Layout,
        side: (Panel, Side),
        at: (Panel, Side),
        runs: Direction,
    ) {
        let start = |(panel, side): (Panel, Side)| (panel, layout.kind(panel).side_before(side));
        match runs {
            Direction::Against => {
                self.corners(start(side), at);
                self.corners(side, start(at));
            }
            Direction::With => {
                self.corners(start(side), start(at));
                self.corners(side, at);
            }
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
        let of = |project| Joins::of(&Sequence::new(project));
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
        let joins = Joins::of(&Sequence::new(testing::folded_pair(8, 2)));
        assert_eq!((joins.joins.len(), joins.corners), (12, 6));
    }
}
