//! The polygon in which a panel lies in the finished piece: its join lines
//! bound it. Where beads lie in it is worked out in `position.rs`.

use glam::{DVec2, DVec3};
use std::iter::Sum;
use std::ops::Div;

/// The corners of a panel's polygon in mm, corner s being the end of side s,
/// seen from outside in working direction.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    corners: Vec<DVec3>,
}

impl Frame {
    /// A frame from its corners; corner s ends side s.
    pub fn new(corners: Vec<DVec3>) -> Self {
        Frame { corners }
    }

    /// A regular polygon of n sides in the plane z = 0, side 0 to the right
    /// and on anticlockwise.
    pub fn flat(sides: u8, edge_mm: f64) -> Self {
        let half = std::f64::consts::PI / f64::from(sides);
        let radius = edge_mm / (2.0 * half.sin());
        let corner = |s: u8| {
            let angle = half * (2.0 * f64::from(s) + 1.0);
            radius * DVec3::new(angle.cos(), angle.sin(), 0.0)
        };
        Frame::new((0..sides).map(corner).collect())
    }

    /// So many times as large, round its middle.
    pub fn scaled(&self, by: f64) -> Self {
        let middle = middle_of(&self.corners);
        let corner = |corner: &DVec3| middle + (*corner - middle) * by;
        Frame::new(self.corners.iter().map(corner).collect())
    }

    /// That of the `rounds` rounds in the middle of a panel of `all` rounds.
    pub fn middle(&self, rounds: u32, all: u32) -> Self {
        // Round k of a panel is this far from its middle.
        let size = |round: u32| f64::from(round) + 0.5;
        self.scaled(size(rounds) / size(all))
    }

    /// The same elsewhere.
    pub fn moved(&self, by: DVec3) -> Self {
        Frame::new(self.corners.iter().map(|corner| *corner + by).collect())
    }

    /// A rectangle in the plane z = 0 round a middle: side 0 is the upper
    /// one, and on anticlockwise.
    pub fn rectangle(size: DVec2) -> Self {
        let half = size / 2.0;
        let corner = |x: f64, y: f64| DVec3::new(x * half.x, y * half.y, 0.0);
        let corners = [(-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (1.0, 1.0)];
        Frame::new(corners.map(|(x, y)| corner(x, y)).to_vec())
    }

    /// A point of a rectangle, as parts of its width and height from its
    /// lower left.
    pub fn in_rectangle(&self, part: DVec2) -> DVec3 {
        let [upper, origin, right] = [0, 1, 2].map(|c| self.corners[c]);
        origin + (right - origin) * part.x + (upper - origin) * part.y
    }

    /// Where in a rectangle a point of it lies, as [`Frame::in_rectangle`] takes
    /// it.
    pub fn part_of_rectangle(&self, point: DVec3) -> DVec2 {
        let [upper, origin, right] = [0, 1, 2].map(|c| self.corners[c]);
        let part = |way: DVec3| (point - origin).dot(way) / way.length_squared();
        DVec2::new(part(right - origin), part(upper - origin))
    }

    /// The corners.
    pub fn corners(&self) -> &[DVec3] {
        &self.corners
    }

    /// The point `out` of the way from the middle to side `side` (0 the
    /// middle, 1 the side), and `along` of the way from its start to its end.
    pub fn point(&self, side: usize, out: f64, along: f64) -> DVec3 {
        let (from, to) = side_of(&self.corners, side);
        middle_of(&self.corners).lerp(from.lerp(to, along), out)
    }
}

/// Where side `side` of a polygon starts and where it ends; its corner s ends
/// side s. In space or on paper.
pub fn side_of<P: Copy>(corners: &[P], side: usize) -> (P, P) {
    let n = corners.len();
    (corners[(side + n - 1) % n], corners[side])
}

/// The middle of a polygon's corners, in space or on paper.
pub fn middle_of<P: Copy + Sum + Div<f64, Output = P>>(corners: &[P]) -> P {
    corners.iter().copied().sum::<P>() / corners.len().max(1) as f64
}

/// Which way a polygon faces, seen from where its corners go anticlockwise: a
/// unit vector.
pub fn outward(corners: &[DVec3]) -> DVec3 {
    let middle = middle_of(corners);
    let sides = (0..corners.len()).map(|s| side_of(corners, s));
    let normal: DVec3 = sides.map(|(a, b)| (a - middle).cross(b - middle)).sum();
    normal.normalize_or(DVec3::Z)
}
