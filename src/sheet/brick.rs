//! A bead on paper: a brick seen from outside, with its letter or mark, and its
//! role in the work.

use glam::DVec2;

use crate::beadwork::Rgb;
use crate::geometry::polygon::{area, clip};

/// A bead on paper: a rounded brick along its hole.
#[derive(Clone, Debug, PartialEq)]
pub struct BeadOnPaper {
    /// Its middle, mm.
    pub at: DVec2,
    /// The angle of its hole from horizontal, degrees clockwise on paper.
    pub turn: f64,
    /// Length along its hole, and width across it, mm.
    pub size: DVec2,
    /// Its colour.
    pub fill: Rgb,
    /// Its corners on paper where it is not a whole brick: at the corner of a
    /// panel beads lean, and each is drawn on its own side only.
    pub cut: Option<Vec<DVec2>>,
    /// Its colour's letter, unless it is too small for one.
    pub letter: Option<char>,
    /// Where the letter stands, from the middle of the bead.
    pub letter_off: DVec2,
    /// The size of the letter compared with what there would be room for; 1 is
    /// full size.
    pub letter_scale: f64,
    /// The mark for its colour, where the bead is too small for a letter.
    pub mark: Option<GreyMark>,
    /// Its role in the work.
    pub part: BeadRole,
}

/// A mark that tells the colours of small beads apart in grey.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GreyMark {
    /// A dot.
    Dot,
    /// A bar along the hole.
    Bar,
    /// A cross.
    Cross,
    /// A ring.
    Ring,
    /// Two dots.
    Dots,
    /// A bar across the hole.
    Post,
}

impl GreyMark {
    /// The mark of a colour, counted from 0. The first colour has none, and for
    /// those after the seventh none are left.
    pub fn of(colour: usize) -> Option<GreyMark> {
        use GreyMark::{Bar, Cross, Dot, Dots, Post, Ring};
        let marks = [Dot, Bar, Cross, Ring, Dots, Post];
        marks.get(colour.checked_sub(1)?).copied()
    }
}

/// The role of a bead in the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BeadRole {
    /// An ordinary bead.
    Plain,
    /// The first of its round: strong outline.
    First,
    /// Passed through, without adding a bead: broken outline.
    Passed,
}

impl BeadOnPaper {
    /// A horizontal bead of a size and colour, without a letter.
    pub fn level(at: DVec2, size: DVec2, fill: Rgb) -> BeadOnPaper {
        BeadOnPaper {
            at,
            turn: 0.0,
            size,
            fill,
            cut: None,
            letter: None,
            letter_off: DVec2::ZERO,
            letter_scale: 1.0,
            mark: None,
            part: BeadRole::Plain,
        }
    }

    /// Its corners as drawn.
    pub fn outline(&self) -> Vec<DVec2> {
        self.cut.clone().unwrap_or_else(|| {
            let turn = DVec2::from_angle(self.turn.to_radians());
            let corners = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
            let corner = |(x, y)| self.at + turn.rotate(DVec2::new(x, y) * self.size / 2.0);
            corners.map(corner).to_vec()
        })
    }

    /// The height of the largest letter that fits in it, mm.
    pub fn letter_size(&self) -> f64 {
        let room = (self.size * DVec2::new(0.78, 0.62)).min_element().min(3.6);
        match &self.cut {
            // Part of the bead is cut off, so its letter is smaller.
            Some(shape) => {
                let left = area(shape).0.abs() / self.size.element_product();
                room * left.sqrt().max(0.6)
            }
            None => room,
        }
    }

    /// Cuts off what is less than `gap` from a line through the middle of the
    /// panel, or beyond that line; `inside` points to the side that stays.
    pub fn cut_off(&mut self, inside: DVec2, gap: f64) {
        let whole = self.outline();
        let kept = clip(&whole, inside, gap);
        if kept.len() < 3 || kept == whole {
            return;
        }
        self.letter_off = area(&kept).1 - self.at;
        self.cut = Some(kept);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_a_bead_has_its_letter_in_the_middle_of_that_half() {
        let mut brick = BeadOnPaper::level(DVec2::ZERO, DVec2::new(4.0, 2.0), Rgb(0, 0, 0));
        brick.cut_off(DVec2::X, 0.0);
        let cut = brick.cut.clone().unwrap();
        assert!((area(&cut).0.abs() - 4.0).abs() < 1e-9);
        assert!(brick.letter_off.distance(DVec2::new(1.0, 0.0)) < 1e-9);
        assert!(cut.iter().all(|p| p.x >= -1e-9));
    }

    #[test]
    fn one_colour_has_no_mark_and_six_have_one_each() {
        let marks: Vec<_> = (0..8).map(GreyMark::of).collect();
        assert_eq!(marks[0], None);
        assert_eq!(marks[7], None);
        let mut seen = vec![];
        for mark in marks[1..7].iter().flatten() {
            assert!(!seen.contains(mark));
            seen.push(*mark);
        }
        assert_eq!(seen.len(), 6);
    }
}
