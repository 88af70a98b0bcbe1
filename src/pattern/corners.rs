//! Which corners of panels have come together, as a result of the joins so far.
//!
//! ```text
//!            end of 3 = start of 1
//!                    o
//!           side 3 ↙   ↘ side 1       sides run in working direction;
//!                o ————— o            a join lays two sides together in
//!                  side 2             opposite directions
//! ```

use super::mat::PanelIndex;
use crate::beadwork::number::Side;

/// A side of a panel made so far.
pub(super) type MadeSide = (PanelIndex, Side);

/// The corners of all panels, each with another one with which it has come
/// together, or with itself.
#[derive(Default)]
pub(super) struct MetCorners {
    /// For each panel its first corner, and how many sides it has.
    panels: Vec<(usize, usize)>,
    meets: Vec<usize>,
}

impl MetCorners {
    /// Adds a panel that is joined to nothing.
    pub(super) fn add_panel(&mut self, sides: u8) {
        let (first, sides) = (self.meets.len(), usize::from(sides));
        self.panels.push((first, sides));
        self.meets.extend(first..first + sides);
    }

    /// Two sides lie together in opposite directions.
    pub(super) fn join(&mut self, one: MadeSide, other: MadeSide) {
        let ends = [
            (self.start(one), self.end(other)),
            (self.end(one), self.start(other)),
        ];
        for (a, b) in ends {
            self.merge(a, b);
        }
    }

    /// Draws together the corners at the ends of two sides. `false` if they are
    /// already together.
    pub(super) fn tie(&mut self, one: MadeSide, other: MadeSide) -> bool {
        let (a, b) = (self.end(one), self.end(other));
        self.merge(a, b)
    }

    /// Whether a path against the direction of `one` continues along `next`.
    pub(super) fn goes_on(&mut self, one: MadeSide, next: MadeSide) -> bool {
        let (a, b) = (self.start(one), self.end(next));
        self.root(a) == self.root(b)
    }

    fn end(&self, (panel, side): MadeSide) -> usize {
        self.panels[panel].0 + side.index()
    }

    fn start(&self, (panel, side): MadeSide) -> usize {
        let (first, sides) = self.panels[panel];
        first + (side.index() + sides - 1) % sides
    }

    fn merge(&mut self, a: usize, b: usize) -> bool {
        let (a, b) = (self.root(a), self.root(b));
        self.meets[a] = b;
        a != b
    }

    fn root(&mut self, mut corner: usize) -> usize {
        while self.meets[corner] != corner {
            // Halving the path keeps later ones short.
            self.meets[corner] = self.meets[self.meets[corner]];
            corner = self.meets[corner];
        }
        corner
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three triangles round a corner, a tetrahedron without its last face: the
    /// three sides left form a closed rim, and before that there is none.
    #[test]
    fn three_faces_of_a_tetrahedron_leave_a_closed_rim() {
        let mut corners = MetCorners::default();
        (0..3).for_each(|_| corners.add_panel(3));
        let side = |panel, number: u8| (panel, Side(number - 1));
        let rim = [side(0, 3), side(2, 3), side(1, 2)];
        let closed =
            |corners: &mut MetCorners| (0..3).all(|i| corners.goes_on(rim[i], rim[(i + 1) % 3]));
        corners.join(side(1, 1), side(0, 1));
        corners.join(side(2, 1), side(0, 2));
        assert!(!closed(&mut corners));
        corners.join(side(2, 2), side(1, 3));
        assert!(closed(&mut corners));
    }
}
