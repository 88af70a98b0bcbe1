//! A drawing on paper: shapes and where they are, independent of any file
//! format.
//!
//! Lengths are millimetres on paper, x to the right and y **down**, from the
//! upper left corner. Nothing depends on colour alone: a bead has its letter,
//! and its outline shows its role in the work.

use super::Hand;
use crate::beadwork::Rgb;
use crate::geometry::polygon::{area, bounds, clip};
use glam::DVec2;

/// A drawing and what it shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// A short title, for a reader who cannot see it.
    pub title: String,
    /// What it shows, in words.
    pub desc: String,
    /// Width and height, mm.
    pub size: DVec2,
    /// The shapes, from back to front.
    pub shapes: Vec<Element>,
}

/// One shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Element {
    /// A bead.
    Bead(BeadOnPaper),
    /// A line from point to point.
    Line(Vec<DVec2>, Pen),
    /// A face or another closed shape.
    Area(Vec<DVec2>, Pen),
    /// A sign.
    Sign(DVec2, Sign),
    /// Text, horizontal, centred on its point.
    Label(DVec2, Words),
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pen {
    /// The edge of a face.
    Edge,
    /// A side that carries a join row.
    Row,
    /// The path of the needle, with an arrow at its end.
    Needle,
    /// A round, drawn as a line.
    Round,
    /// Every fifth or tenth round.
    Fifth,
}

/// A small sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sign {
    /// Where the needle starts. It points in the direction of work: degrees
    /// clockwise from the right, on paper.
    Start(f64),
    /// An increase: two beads in a gap.
    Increase,
    /// A decrease: two beads drawn together.
    Decrease,
}

/// Text in a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// The text.
    pub text: String,
    /// Height of the type, mm.
    pub size: f64,
    /// How it is placed.
    pub set: TextSetting,
}

/// How text in a drawing is placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextSetting {
    /// Centred on its point.
    Middle,
    /// To the right of their point.
    Right,
    /// To the left of their point.
    Left,
    /// Bold, centred on its point.
    Strong,
    /// A number on a white background.
    Tag,
}

impl Drawing {
    /// An empty drawing.
    pub fn new(title: impl Into<String>, desc: impl Into<String>) -> Self {
        Drawing {
            title: title.into(),
            desc: desc.into(),
            size: DVec2::ZERO,
            shapes: vec![],
        }
    }

    /// Whether it shows beads one by one.
    pub fn has_beads(&self) -> bool {
        let bead = |shape: &Element| matches!(shape, Element::Bead(_));
        self.shapes.iter().any(bead)
    }

    /// Adds a line.
    pub fn line(&mut self, points: impl Into<Vec<DVec2>>, pen: Pen) {
        self.shapes.push(Element::Line(points.into(), pen));
    }

    /// Adds text.
    pub fn words(&mut self, at: DVec2, text: impl Into<String>, size: f64, set: TextSetting) {
        let text = text.into();
        self.shapes
            .push(Element::Label(at, Words { text, size, set }));
    }

    /// The drawing for that hand.
    pub fn for_hand(self, hand: Hand) -> Self {
        match hand {
            Hand::Right => self,
            Hand::Left => self.mirrored(),
        }
    }

    /// Mirrors it for a left-handed maker. Letters and numbers stay readable.
    pub fn mirrored(mut self) -> Self {
        let width = self.size.x;
        self.each_point(|p| p.x = width - p.x);
        for shape in &mut self.shapes {
            match shape {
                Element::Bead(bead) => {
                    bead.turn = -bead.turn;
                    bead.letter_off.x = -bead.letter_off.x;
                }
                Element::Sign(_, Sign::Start(way)) => *way = 180.0 - *way,
                Element::Label(_, words) => {
                    words.set = match words.set {
                        TextSetting::Left => TextSetting::Right,
                        TextSetting::Right => TextSetting::Left,
                        set => set,
                    };
                }
                Element::Line(..) | Element::Area(..) | Element::Sign(..) => {}
            }
        }
        self
    }

    /// Applies a change to every point of it.
    fn each_point(&mut self, mut change: impl FnMut(&mut DVec2)) {
        for shape in &mut self.shapes {
            match shape {
                Element::Bead(bead) => {
                    change(&mut bead.at);
                    bead.cut.iter_mut().flatten().for_each(&mut change);
                }
                Element::Line(points, _) | Element::Area(points, _) => {
                    points.iter_mut().for_each(&mut change);
                }
                Element::Sign(at, _) | Element::Label(at, _) => change(at),
            }
        }
    }

    /// Sets its size, and moves the point (0, 0) to its middle.
    pub fn centred(mut self, size: DVec2) -> Self {
        self.each_point(|p| *p += size / 2.0);
        self.size = size;
        self
    }

    /// Moves it and sets its size so that everything lies on the paper, with a
    /// margin of `margin` round it. The sizes of text and beads do not change.
    pub fn on_paper(mut self, margin: f64) -> Self {
        let extents: Vec<DVec2> = self.shapes.iter().flat_map(Element::extent).collect();
        if extents.is_empty() {
            return self;
        }
        let (low, high) = bounds(&extents);
        self.each_point(|p| *p += margin - low);
        self.size = high - low + 2.0 * margin;
        self
    }
}

impl Element {
    /// Its smallest and its largest coordinates.
    fn extent(&self) -> [DVec2; 2] {
        let round = |at: DVec2, by: DVec2| [at - by, at + by];
        match self {
            Element::Bead(bead) => round(bead.at, DVec2::splat(bead.size.length() / 2.0)),
            Element::Line(points, _) | Element::Area(points, _) => bounds(points).into(),
            Element::Sign(at, _) => round(*at, DVec2::splat(1.5)),
            Element::Label(at, words) => {
                let half = words.width() / 2.0;
                let middle = match words.set {
                    TextSetting::Right => *at + DVec2::X * half,
                    TextSetting::Left => *at - DVec2::X * half,
                    _ => *at,
                };
                round(middle, DVec2::new(half, words.size * 0.7))
            }
        }
    }
}

impl Words {
    /// How wide it is at most, approximately, mm.
    pub fn width(&self) -> f64 {
        0.6 * self.size * unicode_width::UnicodeWidthStr::width(self.text.as_str()) as f64
    }

    /// Width and height of the white background of a [`TextSetting::Tag`], mm.
    pub fn tag(&self) -> DVec2 {
        DVec2::new(self.width().max(self.size) + 0.6, self.size * 1.12)
    }
}

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
