//! A bead on paper: a brick seen from outside, its letter or mark, and what it is
//! to the work.

use glam::DVec2;

use crate::beadwork::Rgb;
use crate::geometry::polygon::{area, clip};

/// A bead as it lies: a rounded brick along its hole.
#[derive(Clone, Debug, PartialEq)]
pub struct BeadOnPaper {
    /// Its middle.
    pub at: DVec2,
    /// How far its hole is turned from level, degrees clockwise on paper.
    pub turn: f64,
    /// Along its hole and across it, mm.
    pub size: DVec2,
    /// Its colour.
    pub fill: Rgb,
    /// Its corners on paper, where it is no whole brick: at the corner of a
    /// panel beads lean, and each is drawn on its own side of it.
    pub cut: Option<Vec<DVec2>>,
    /// Its colour's letter, unless it is too small for one.
    pub letter: Option<char>,
    /// Where the letter stands, from the middle of the bead.
    pub letter_off: DVec2,
    /// How much smaller the letter is than there would be room for; 1 is not.
    pub letter_scale: f64,
    /// The mark of its colour, where it is too small for a letter.
    pub mark: Option<GreyMark>,
    /// What it is to the work.
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
    /// The marks of the colours of a piece: the first has none, and those after
    /// the seventh have none left.
    pub fn of(colour: usize) -> Option<GreyMark> {
        use GreyMark::{Bar, Cross, Dot, Dots, Post, Ring};
        let marks = [Dot, Bar, Cross, Ring, Dots, Post];
        marks.get(colour.checked_sub(1)?).copied()
    }
}

/// What a bead is to the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BeadRole {
    /// One of many.
    Plain,
    /// The first of its round: strong outline.
    First,
    /// Gone through, with no bead added: broken outline.
    Passed,
}

impl BeadOnPaper {
    /// A bead of a size and colour that lies level, without a letter.
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

    /// What is drawn of it.
    pub fn outline(&self) -> Vec<DVec2> {
        self.cut.clone().unwrap_or_else(|| {
            let turn = DVec2::from_angle(self.turn.to_radians());
            let corners = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
            let corner = |(x, y)| self.at + turn.rotate(DVec2::new(x, y) * self.size / 2.0);
            corners.map(corner).to_vec()
        })
    }

    /// The height of a letter that has room in it, mm.
    pub fn letter_size(&self) -> f64 {
        let room = (self.size * DVec2::new(0.78, 0.62)).min_element().min(3.6);
        match &self.cut {
            // Some of it is cut off, and its letter shrinks with it.
            Some(shape) => {
                let left = area(shape).0.abs() / self.size.element_product();
                room * left.sqrt().max(0.6)
            }
            None => room,
        }
    }

    /// Cuts off what is less than `gap` from a line through the middle of the
    /// panel, or on its other side; `inside` points to the side that stays.
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
    fn half_a_bead_has_half_its_area_and_its_letter_in_the_middle_of_that() {
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
