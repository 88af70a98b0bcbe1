//! A drawing on paper: shapes and where they are, independent of any file
//! format.
//!
//! Lengths are millimetres on paper, x to the right and y **down**, from the
//! upper left corner. Nothing depends on colour alone: a bead has its letter,
//! and its outline shows its role in the work.

use super::Hand;
use crate::geometry::polygon::bounds;
use glam::DVec2;

pub use super::brick::{BeadOnPaper, BeadRole, GreyMark};

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
