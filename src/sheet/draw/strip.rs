//! Beads of an edge in rows, as the joins are drawn: bead by bead along the
//! edge, level by level away from it.

use glam::DVec2;

use crate::beadwork::{Bead, Sequence};
use crate::sheet::drawing::{Brick, Drawing, Part, Pen, Set, Shape};

use super::{PAPER, SMALLEST};

/// A strip of an edge being drawn.
pub struct Strip<'a> {
    seq: &'a Sequence,
    /// Along a bead, mm on paper.
    pub length: f64,
    /// Across, mm on paper.
    pub width: f64,
    drawing: Drawing,
}

/// The longest that a bead is drawn, mm.
const LONGEST: f64 = 9.0;

/// High beads of an edge that are drawn one by one. Of a longer edge both ends
/// are.
pub(in crate::sheet) const WHOLE: u32 = 11;

/// Of a longer edge: high beads drawn at its start and at its end.
const ENDS: (u32, u32) = (6, 4);

/// Positions along an edge of `teeth` + 1 high beads that are drawn: each with
/// its own number from 0 and the place where it is drawn.
pub fn positions(edge: u32) -> Vec<(u32, u32)> {
    if edge <= WHOLE {
        return (0..edge).map(|j| (j, j)).collect();
    }
    let end = (edge - ENDS.1..edge).enumerate();
    let end = end.map(|(nth, j)| (j, ENDS.0 + 1 + nth as u32));
    (0..ENDS.0).map(|j| (j, j)).chain(end).collect()
}

/// Places that an edge takes on the drawing.
pub fn places(edge: u32) -> u32 {
    edge.min(ENDS.0 + 1 + ENDS.1)
}

impl<'a> Strip<'a> {
    /// A strip of so many high beads, with room for `more` beads beside it.
    pub fn new(seq: &'a Sequence, drawing: Drawing, edge: u32, more: u32) -> Self {
        let layout = seq.layout();
        let beads = f64::from(2 * places(edge) + 1 + more);
        let length = ((PAPER.x - 8.0) / beads).min(LONGEST);
        let width = length * layout.bead_diameter_mm() / layout.bead_length_mm();
        Strip {
            seq,
            length,
            width,
            drawing,
        }
    }

    /// Where a bead of a level lies: `half` in bead lengths along, `level` in
    /// half beads above the lowest.
    pub fn at(&self, half: f64, level: f64) -> DVec2 {
        DVec2::new(half * self.length, -level * self.width / 2.0)
    }

    /// Draws a bead, and its number in the order of the needle.
    pub fn bead(&mut self, bead: Bead, at: DVec2, turn: f64, part: Part, number: Option<u32>) {
        let layout = self.seq.layout();
        let colour = &layout.project().beads[usize::from(layout.colour(bead).0)];
        let size = (self.length * 0.93, self.width * 0.93);
        let mut brick = Brick {
            turn,
            letter: Some(colour.letter),
            part,
            ..Brick::level(at, size, colour.colour)
        };
        let room = brick.width >= 6.0;
        if brick.letter_size() < SMALLEST || number.is_some() && !room {
            brick.letter = None;
        }
        if number.is_some() {
            brick.letter_off.y = -brick.width * 0.18;
        }
        self.drawing.shapes.push(Shape::Bead(brick));
        if let Some(number) = number {
            let at = match room {
                true => at + DVec2::new(0.0, self.width * 0.25),
                false => at,
            };
            self.drawing.words(at, number.to_string(), 2.2, Set::Tag);
        }
    }

    /// Beads that are passed through one after another, standing in a line.
    pub fn passed(&mut self, beads: &[Bead], from: DVec2, to_the_right: bool) {
        let step = match to_the_right {
            true => DVec2::new(self.length * 1.02, self.width * 0.16),
            false => DVec2::new(-self.length * 1.02, self.width * 0.16),
        };
        for (nth, &bead) in beads.iter().enumerate() {
            let at = from + step * (nth as f64 + 1.0);
            let turn = if to_the_right { 9.0 } else { -9.0 };
            self.bead(bead, at, turn, Part::Passed, None);
        }
    }

    /// Words at a place.
    pub fn words(&mut self, at: DVec2, text: impl Into<String>, set: Set) {
        self.drawing.words(at, text, 3.0, set);
    }

    /// The way of the needle from point to point.
    pub fn needle(&mut self, points: Vec<DVec2>) {
        self.drawing.line(points, Pen::Needle);
    }

    /// What has been drawn.
    pub fn done(self) -> Drawing {
        self.drawing.on_paper(1.5)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_edge_is_drawn_whole_and_a_long_one_at_both_ends() {
        assert_eq!(positions(3), [(0, 0), (1, 1), (2, 2)]);
        let long = positions(60);
        assert_eq!(long.len(), 10);
        assert_eq!((long[5], long[6]), ((5, 5), (56, 7)));
        assert_eq!(long[9], (59, 10));
        assert_eq!(places(60), 11);
    }
}
