//! The shapes that can be drafted.

use crate::beadwork::corner_law::CornerLaw;
use crate::beadwork::project::{Growth, PanelSpec, Solid, Way};
use crate::beadwork::{Colour, colour::Colours};
use crate::plan::size::{self, Size};

/// A shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
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

impl Shape {
    /// All of them, with their names.
    pub const ALL: [(&'static str, Shape); 10] = [
        ("triangle", Shape::Triangle),
        ("square", Shape::Square),
        ("pentagon", Shape::Pentagon),
        ("hexagon", Shape::Hexagon),
        ("tetrahedron", Shape::Tetrahedron),
        ("octahedron", Shape::Octahedron),
        ("icosahedron", Shape::Icosahedron),
        ("cube", Shape::Cube),
        ("folded-pair", Shape::FoldedPair),
        ("ring", Shape::Ring),
    ];

    /// Its name.
    pub fn name(self) -> &'static str {
        Self::ALL[self as usize].0
    }

    /// Sides of its panels.
    pub fn sides(self) -> u8 {
        match self {
            Shape::Square | Shape::Cube => 4,
            Shape::Pentagon => 5,
            Shape::Hexagon => 6,
            _ => 3,
        }
    }

    /// The solid that it is, if it is one.
    pub fn solid(self) -> Option<Solid> {
        match self {
            Shape::Tetrahedron => Some(Solid::Tetrahedron),
            Shape::Octahedron => Some(Solid::Octahedron),
            Shape::Icosahedron => Some(Solid::Icosahedron),
            Shape::Cube => Some(Solid::Cube),
            _ => None,
        }
    }

    /// Faces of the solid.
    pub fn faces(self) -> usize {
        match self {
            Shape::Tetrahedron => 4,
            Shape::Cube => 6,
            Shape::Octahedron => 8,
            Shape::Icosahedron => 20,
            _ => 1,
        }
    }

    /// Whether its panels are joined to each other.
    pub fn is_joined(self) -> bool {
        self.solid().is_some() || matches!(self, Shape::FoldedPair | Shape::Ring)
    }

    /// Its size with edges of this length; of a ring of so many tetrahedra.
    pub(super) fn size(self, edge_mm: f64, tetrahedra: u16) -> Size {
        match (self, self.solid()) {
            (_, Some(solid)) => size::of_solid(solid, edge_mm),
            (Shape::FoldedPair, _) => size::folded_pair(edge_mm),
            (Shape::Ring, _) => size::ring(tetrahedra, edge_mm),
            _ => size::panel(self.sides(), edge_mm),
        }
    }

    /// Rounds of its panels if the maker wishes none: small enough to finish.
    pub(super) fn usual_rounds(self) -> u32 {
        match self.sides() {
            3 => 8,
            _ => 9,
        }
    }

    /// A panel of it by the usual law, to be measured.
    pub(super) fn panel(self, rounds: u32) -> PanelSpec {
        PanelSpec {
            name: "face".into(),
            sides: self.sides(),
            rounds,
            growth: Growth::Law(CornerLaw::usual(self.sides())),
            way: Way::Outward,
            open: 0,
            colours: Colours::plain(Colour(0), rounds),
            own: None,
        }
    }
}
