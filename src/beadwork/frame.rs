//! The polygon in which a panel lies in the finished piece: its join lines
//! bound it. Where beads lie in it is worked out in [`super::position`].

use glam::DVec3;

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
    pub fn flat(sides: u8, edge_mm: f64, centre: DVec3) -> Self {
        let half = std::f64::consts::PI / f64::from(sides);
        let radius = edge_mm / (2.0 * half.sin());
        let corner = |s: u8| {
            let angle = half * (2.0 * f64::from(s) + 1.0);
            centre + radius * DVec3::new(angle.cos(), angle.sin(), 0.0)
        };
        Frame::new((0..sides).map(corner).collect())
    }

    /// The corners.
    pub fn corners(&self) -> &[DVec3] {
        &self.corners
    }

    /// The point `out` of the way from the middle to side `side` (0 the
    /// middle, 1 the side), and `along` of the way from its start to its end.
    pub fn point(&self, side: usize, out: f64, along: f64) -> DVec3 {
        let n = self.corners.len();
        let middle = self.corners.iter().sum::<DVec3>() / n as f64;
        let (from, to) = (self.corners[(side + n - 1) % n], self.corners[side]);
        middle.lerp(from.lerp(to, along), out)
    }
}
