//! What a maker can ask of a draft: shape, size, colours.

use crate::beadwork::bead::{BeadSize, preset};
use crate::beadwork::corner_law::CornerLaw;
use crate::beadwork::project::{Growth, PanelSpec, Solid, WorkDirection};
use crate::beadwork::{Colour, Rgb, colour::Colours};
use crate::pattern::file::{MeasuredSize, PerGram, SizeFile, SizeName, Width};
use crate::plan::size::{self, Size};

/// What a new pattern should be.
#[derive(Clone, Debug, PartialEq)]
pub struct DraftOptions {
    /// The shape.
    pub shape: DraftShape,
    /// Its size; the usual size if not given.
    pub measure: Option<Measure>,
    /// The size of the beads.
    pub bead: BeadSort,
    /// The colours of the beads, the first for most of the piece; two default
    /// colours if empty.
    pub colours: Vec<ColourAsk>,
    /// Diameter of a round stone to be held in an opening, mm.
    pub stone_mm: Option<f64>,
    /// Tetrahedra of a ring.
    pub tetrahedra: u16,
    /// What the piece is called.
    pub title: Option<String>,
    /// The thread, by its name; chosen to pass comfortably if not given.
    pub thread: Option<String>,
    /// The needle, by its size; chosen to pass comfortably if not given.
    pub needle: Option<u32>,
}

/// How big a piece should be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measure {
    /// Rounds of its panels.
    Rounds(u32),
    /// A finished edge, mm; the beads give the nearest possible.
    EdgeMm(f64),
    /// The finished piece at its widest, mm; the beads give the nearest
    /// possible.
    AcrossMm(f64),
}

/// The size of the beads: by name, by measurements, or by name with some
/// measurements of their own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BeadSort {
    /// The name; cylinder 11/0 if nothing is given.
    pub name: Option<String>,
    /// Diameter of the bead, mm.
    pub diameter_mm: Option<f64>,
    /// Length of the bead along its hole, mm.
    pub length_mm: Option<f64>,
    /// Width of the hole, mm.
    pub hole_mm: Option<f64>,
    /// Beads per gram.
    pub per_gram: Option<f64>,
}

/// The size used when none is given.
const USUAL: &str = "cylinder 11/0";

impl BeadSort {
    /// As it is written in the file.
    pub(super) fn file(&self) -> SizeFile {
        let name = SizeName::from(self.name.as_deref().unwrap_or(USUAL));
        let measured = MeasuredSize {
            name: Some(name.clone()),
            diameter_mm: self.diameter_mm.map(Width),
            length_mm: self.length_mm.map(Width),
            hole_mm: self.hole_mm.map(Width),
            per_gram: self.per_gram.map(PerGram),
        };
        let only_named = MeasuredSize {
            name: Some(name.clone()),
            ..MeasuredSize::default()
        };
        match measured == only_named {
            true => SizeFile::Named(name),
            false => SizeFile::Measured(measured),
        }
    }

    /// The resulting size; `None` if there is no size of that name.
    pub(super) fn size(&self) -> Option<BeadSize> {
        let like = preset(self.name.as_deref().unwrap_or(USUAL))?;
        Some(BeadSize {
            diameter_mm: self.diameter_mm.unwrap_or(like.diameter_mm),
            length_mm: self.length_mm.unwrap_or(like.length_mm),
            hole_mm: self.hole_mm.unwrap_or(like.hole_mm),
            per_gram: self.per_gram.unwrap_or(like.per_gram),
        })
    }
}

/// A colour to begin with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ColourAsk {
    /// Its letter.
    pub letter: char,
    /// In words.
    pub name: String,
    /// As shown.
    pub colour: Rgb,
}

impl DraftOptions {
    /// A shape of the usual size, with the usual beads and default colours.
    pub fn new(shape: DraftShape) -> DraftOptions {
        DraftOptions {
            shape,
            measure: None,
            bead: BeadSort::default(),
            colours: vec![],
            stone_mm: None,
            tetrahedra: 8,
            title: None,
            thread: None,
            needle: None,
        }
    }

    /// The colours asked for, or two default colours.
    pub(super) fn palette(&self) -> Vec<ColourAsk> {
        if !self.colours.is_empty() {
            return self.colours.clone();
        }
        let own = |letter, name: &str, colour| ColourAsk {
            letter,
            name: name.into(),
            colour,
        };
        vec![
            own('T', "tide blue", Rgb(0x2b, 0x4f, 0x7a)),
            own('H', "honey", Rgb(0xe3, 0xb0, 0x4b)),
        ]
    }
}

/// A shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DraftShape {
    /// A flat panel of three sides.
    Triangle,
    /// Of four.
    Square,
    /// Of five.
    Pentagon,
    /// Of six.
    Hexagon,
    /// Four triangles.
    Tetrahedron,
    /// Eight triangles.
    Octahedron,
    /// Twenty triangles.
    Icosahedron,
    /// Six squares.
    Cube,
    /// Two tetrahedra on one hinge.
    FoldedPair,
    /// A ring of hinged tetrahedra.
    Ring,
}

impl DraftShape {
    /// All of them, with their names.
    pub const ALL: [(&'static str, DraftShape); 10] = [
        ("triangle", DraftShape::Triangle),
        ("square", DraftShape::Square),
        ("pentagon", DraftShape::Pentagon),
        ("hexagon", DraftShape::Hexagon),
        ("tetrahedron", DraftShape::Tetrahedron),
        ("octahedron", DraftShape::Octahedron),
        ("icosahedron", DraftShape::Icosahedron),
        ("cube", DraftShape::Cube),
        ("folded-pair", DraftShape::FoldedPair),
        ("ring", DraftShape::Ring),
    ];

    /// Its name.
    pub fn name(self) -> &'static str {
        Self::ALL[self as usize].0
    }

    /// Sides of its panels.
    pub fn sides(self) -> u8 {
        match self {
            DraftShape::Square | DraftShape::Cube => 4,
            DraftShape::Pentagon => 5,
            DraftShape::Hexagon => 6,
            _ => 3,
        }
    }

    /// The solid that it is, if it is one.
    pub fn solid(self) -> Option<Solid> {
        match self {
            DraftShape::Tetrahedron => Some(Solid::Tetrahedron),
            DraftShape::Octahedron => Some(Solid::Octahedron),
            DraftShape::Icosahedron => Some(Solid::Icosahedron),
            DraftShape::Cube => Some(Solid::Cube),
            _ => None,
        }
    }

    /// Faces of the solid.
    pub fn faces(self) -> usize {
        self.solid().map_or(1, Solid::faces)
    }

    /// Whether its panels are joined to each other.
    pub fn is_joined(self) -> bool {
        self.solid().is_some() || matches!(self, DraftShape::FoldedPair | DraftShape::Ring)
    }

    /// Its size with edges of this length; for a ring, with this many
    /// tetrahedra.
    pub(super) fn size(self, edge_mm: f64, tetrahedra: u16) -> Size {
        match (self, self.solid()) {
            (_, Some(solid)) => size::of_solid(solid, edge_mm),
            (DraftShape::FoldedPair, _) => size::folded_pair(edge_mm),
            (DraftShape::Ring, _) => size::ring(tetrahedra, edge_mm),
            _ => size::panel(self.sides(), edge_mm),
        }
    }

    /// Rounds of its panels if none are given: small enough to finish.
    pub(super) fn usual_rounds(self) -> u32 {
        match self.sides() {
            3 => 8,
            _ => 9,
        }
    }

    /// A panel of it by the usual corner law, for measuring.
    pub(super) fn panel(self, rounds: u32) -> PanelSpec {
        PanelSpec {
            name: "face".into(),
            sides: self.sides(),
            rounds,
            growth: Growth::Law(CornerLaw::usual(self.sides())),
            way: WorkDirection::Outward,
            strips: false,
            open: 0,
            colours: Colours::plain(Colour(0), rounds),
            own: None,
            stone_mm: None,
        }
    }
}
