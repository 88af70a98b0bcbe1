//! A drawing on paper: shapes with their places, and no word of how a file
//! spells them.
//!
//! Lengths are millimetres on paper, x to the right and y **down**, from the
//! upper left corner. Nothing rests on colour alone: a bead has its letter, and
//! what it is to the work shows in its outline.

use super::Hand;
use glam::DVec2;

pub use super::brick::{Brick, Mark, Part};

/// A drawing and what it shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// A short name, for a reader who does not see it.
    pub title: String,
    /// What it shows, in words.
    pub desc: String,
    /// Width and height, mm.
    pub size: DVec2,
    /// The shapes, those behind first.
    pub shapes: Vec<Shape>,
}

/// One shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A bead.
    Bead(Brick),
    /// A line from point to point.
    Line(Vec<DVec2>, Pen),
    /// A face or another closed shape.
    Area(Vec<DVec2>, Pen),
    /// A sign.
    Sign(DVec2, Sign),
    /// Words, level, round their middle.
    Words(DVec2, Words),
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pen {
    /// The edge of a face.
    Edge,
    /// A side that carries a join row.
    Row,
    /// The way of the needle, with an arrow at its end.
    Needle,
    /// A round drawn as a line.
    Round,
    /// Every fifth or tenth of these.
    Fifth,
}

/// A small sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sign {
    /// Where the needle starts: it points the way, degrees from the right
    /// clockwise on paper.
    Start(f64),
    /// An increase: two beads in a gap.
    Increase,
    /// A decrease: two beads drawn together.
    Decrease,
}

/// Words in a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// What they say.
    pub text: String,
    /// Height of the type, mm.
    pub size: f64,
    /// How they stand.
    pub set: Set,
}

/// How words in a drawing stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Set {
    /// Round their middle.
    Middle,
    /// To the right of their point.
    Right,
    /// To the left of their point.
    Left,
    /// Strong, round their middle.
    Strong,
    /// A number on a white field.
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
        let bead = |shape: &Shape| matches!(shape, Shape::Bead(_));
        self.shapes.iter().any(bead)
    }

    /// Adds a line.
    pub fn line(&mut self, points: impl Into<Vec<DVec2>>, pen: Pen) {
        self.shapes.push(Shape::Line(points.into(), pen));
    }

    /// Adds words.
    pub fn words(&mut self, at: DVec2, text: impl Into<String>, size: f64, set: Set) {
        let text = text.into();
        self.shapes
            .push(Shape::Words(at, Words { text, size, set }));
    }

    /// As that hand needs it.
    pub fn for_hand(self, hand: Hand) -> Self {
        match hand {
            Hand::Right => self,
            Hand::Left => self.mirrored(),
        }
    }

    /// Mirrors it for a left-handed maker. Letters and numbers stay readable.
    pub fn mirrored(mut self) -> Self {
        let width = self.size.x;
        let flip = |p: &mut DVec2| p.x = width - p.x;
        for shape in &mut self.shapes {
            match shape {
                Shape::Bead(bead) => {
                    flip(&mut bead.at);
                    bead.turn = -bead.turn;
                    bead.letter_off.x = -bead.letter_off.x;
                    bead.cut.iter_mut().flatten().for_each(flip);
                }
                Shape::Line(points, _) | Shape::Area(points, _) => points.iter_mut().for_each(flip),
                Shape::Sign(at, sign) => {
                    flip(at);
                    if let Sign::Start(way) = sign {
                        *way = 180.0 - *way;
                    }
                }
                Shape::Words(at, words) => {
                    flip(at);
                    words.set = match words.set {
                        Set::Left => Set::Right,
                        Set::Right => Set::Left,
                        set => set,
                    };
                }
            }
        }
        self
    }

    /// Sizes it, and moves what is round 0 into its middle.
    pub fn centred(mut self, size: DVec2) -> Self {
        self.moved(size / 2.0);
        self.size = size;
        self
    }

    fn moved(&mut self, by: DVec2) {
        for shape in &mut self.shapes {
            match shape {
                Shape::Bead(bead) => {
                    bead.at += by;
                    bead.cut.iter_mut().flatten().for_each(|p| *p += by);
                }
                Shape::Line(points, _) | Shape::Area(points, _) => {
                    points.iter_mut().for_each(|p| *p += by);
                }
                Shape::Sign(at, _) | Shape::Words(at, _) => *at += by,
            }
        }
    }

    /// Moves and sizes it so that all of it lies on the paper, with room of
    /// `margin` round it. Sizes of words and beads are left
    /// as they are.
    pub fn on_paper(mut self, margin: f64) -> Self {
        let (mut low, mut high) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        let mut reach = |p: DVec2, by: DVec2| {
            low = low.min(p - by);
            high = high.max(p + by);
        };
        for shape in &self.shapes {
            match shape {
                Shape::Bead(b) => reach(b.at, DVec2::splat(b.length.hypot(b.width) / 2.0)),
                Shape::Line(points, _) | Shape::Area(points, _) => {
                    points.iter().for_each(|&p| reach(p, DVec2::ZERO));
                }
                Shape::Sign(at, _) => reach(*at, DVec2::splat(1.5)),
                Shape::Words(at, words) => {
                    let wide = words.width();
                    let (left, right) = match words.set {
                        Set::Right => (0.0, wide),
                        Set::Left => (wide, 0.0),
                        _ => (wide / 2.0, wide / 2.0),
                    };
                    let half = words.size * 0.7;
                    reach(*at - DVec2::new(left, 0.0), DVec2::new(0.0, half));
                    reach(*at + DVec2::new(right, 0.0), DVec2::new(0.0, half));
                }
            }
        }
        if low.x > high.x {
            return self;
        }
        self.moved(DVec2::splat(margin) - low);
        self.size = high - low + 2.0 * DVec2::splat(margin);
        self
    }
}

impl Words {
    /// How wide they are at most, about, mm.
    pub fn width(&self) -> f64 {
        0.6 * self.size * unicode_width::UnicodeWidthStr::width(self.text.as_str()) as f64
    }
}
