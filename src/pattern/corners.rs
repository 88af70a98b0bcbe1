//! Which corners of panels have come together, as a result of the joins so far.
//!
//! ```text
//!            end of 3 = start of 1
//!                    o
//!           side 3 ↙   ↘ side 1       sides run in working direction;
//!                o ————— o            a join lays two sides together in
//!                  side 2             opposite directions
//! ```

use crate::beadwork::number::Side;
use crate::beadwork::seams::{Corner, Direction, Seams};

/// A side, and how a path runs beside it.
pub(super) type MetSide = (Corner, Direction);

/// The corners of all panels made so far, and which of them have come together.
#[derive(Default)]
pub(super) struct MetCorners {
    /// How many sides each panel has.
    sides: Vec<u8>,
    seams: Seams,
}

impl MetCorners {
    /// Adds a panel that is joined to nothing.
    pub(super) fn add_panel(&mut self, sides: u8) {
        self.sides.push(sides);
    }

    /// Two sides lie together, usually in opposite directions.
    pub(super) fn join(&mut self, one: Corner, other: MetSide) {
        let [comes, leaves] = self.ends(other);
        self.seams.meet(comes, self.start(one));
        self.seams.meet(leaves, one);
    }

    /// The corners at which a path that runs so beside a side reaches and leaves it.
    fn ends(&self, (side, runs): MetSide) -> [Corner; 2] {
        match runs {
            Direction::Against => [side, self.start(side)],
            Direction::With => [self.start(side), side],
        }
    }

    /// Draws together the corners at the ends of two sides. `false` if they are
    /// already together.
    pub(super) fn tie(&mut self, one: Corner, other: Corner) -> bool {
        let are_apart = !self.seams.are_together(one, other);
        self.seams.meet(one, other);
        are_apart
    }

    /// Whether a path beside `one` continues along `next`.
    pub(super) fn goes_on(&self, one: MetSide, next: MetSide) -> bool {
        let ([_, leaves], [comes, _]) = (self.ends(one), self.ends(next));
        self.seams.are_together(leaves, comes)
    }

    /// The corner at the start of a side, which ends the side before.
    fn start(&self, (panel, side): Corner) -> Corner {
        let sides = self.sides[panel.index()];
        (panel, Side((side.0 + sides - 1) % sides))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::number::Panel;
    use Direction::Against;

    /// Three triangles round a corner, a tetrahedron without its last face: the
    /// three sides left form a closed rim, and before that there is none.
    #[test]
    fn three_faces_of_a_tetrahedron_leave_a_closed_rim() {
        let mut corners = MetCorners::default();
        (0..3).for_each(|_| corners.add_panel(3));
        let side = |panel, number: u8| (Panel(panel), Side(number - 1));
        let rim = [side(0, 3), side(2, 3), side(1, 2)];
        let closed = |corners: &MetCorners| {
            (0..3).all(|i| corners.goes_on((rim[i], Against), (rim[(i + 1) % 3], Against)))
        };
        corners.join(side(1, 1), (side(0, 1), Against));
        corners.join(side(2, 1), (side(0, 2), Against));
        assert!(!closed(&corners));
        corners.join(side(2, 2), (side(1, 3), Against));
        assert!(closed(&corners));
    }
}
