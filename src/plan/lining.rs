//! A lining: a smaller three-faced insert, three triangles round a point, set
//! point inward into an open face to line it like a cup.
//!
//! ```text
//!   ---.___________.---     the open face; the lining's rim lies in it
//!    \  \         /  /
//!     \  \       /  /       walls of solid and lining, a bead apart from
//!      \  \     /  /        middle to middle
//!       \  '---'  /
//! ```
//!
//! Its walls must stand clear of the walls of the solid by the thickness of
//! one bead (half of each wall). In the plane of the open face, a wall at
//! dihedral angle δ is w/sin δ thick, so the rim is at most
//! e − 2·√3·w/sin δ long; three regular triangles on a rim of length r are
//! r·√(2/3) deep.

use crate::beadwork::BeadSize;
use crate::beadwork::project::Solid;

/// The largest lining that an open face takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lining {
    /// The longest edge that its rim can have, mm.
    pub longest_edge_mm: f64,
    /// Rounds of its triangles: the most whose edge is no longer; 0 if none
    /// fits.
    pub rounds: u32,
    /// Their edge, mm.
    pub edge_mm: f64,
    /// How deep it is, from the open face to its point, mm.
    pub depth_mm: f64,
    /// Rounds of the insert that the pattern makes, if it makes one. With more
    /// rounds than fit, it presses against the walls.
    pub made_rounds: Option<u32>,
    /// Room behind its point, to the point or face of the solid opposite, mm.
    pub room_behind_mm: f64,
}

/// The largest lining of regular triangles in an open face of a solid of
/// triangles with this edge, mm. `None` for a cube, whose faces have four
/// sides.
pub fn lining(solid: Solid, edge_mm: f64, bead: BeadSize) -> Option<Lining> {
    let (cos_dihedral, height): (f64, f64) = match solid {
        Solid::Tetrahedron => (1.0 / 3.0, (2f64 / 3.0).sqrt()),
        Solid::Octahedron => (-1.0 / 3.0, (2f64 / 3.0).sqrt()),
        // Twice the insphere: (3 + √5)·√3/12.
        Solid::Icosahedron => (
            -(5f64.sqrt()) / 3.0,
            (3.0 + 5f64.sqrt()) * 3f64.sqrt() / 6.0,
        ),
        Solid::Cube => return None,
    };
    let wall = bead.diameter_mm;
    let sin = (1.0 - cos_dihedral * cos_dihedral).sqrt();
    let longest = edge_mm - 2.0 * 3f64.sqrt() * wall / sin;
    // At its point, too, the lining must leave room for the wall opposite.
    let deepest = edge_mm * height - wall;
    let longest = longest.min(deepest / (2f64 / 3.0).sqrt()).max(0.0);
    let rounds = (longest / (2.0 * bead.length_mm)).floor() as u32;
    let edge = 2.0 * bead.length_mm * f64::from(rounds);
    let depth = edge * (2f64 / 3.0).sqrt();
    Some(Lining {
        longest_edge_mm: longest,
        rounds,
        edge_mm: edge,
        depth_mm: depth,
        made_rounds: None,
        room_behind_mm: edge_mm * height - depth,
    })
}

impl Lining {
    /// Whether the insert that the pattern makes fits, in words; `None` if it
    /// makes none.
    pub fn says_of_made(&self) -> Option<String> {
        let made = self.made_rounds?;
        Some(match made > self.rounds {
            true => format!(
                "the insert has {made} rounds a face, and at most {} fit: it will press against the walls",
                self.rounds
            ),
            false => format!("the insert of {made} rounds a face fits"),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::bead::preset;
    use crate::beadwork::frame::outward;
    use crate::beadwork::solid::Polyhedra;
    use crate::beadwork::{Sequence, testing};
    use crate::plan::{Plan, Wishes};
    use glam::DVec3;

    /// By hand: a tetrahedron of 12 rounds of cylinder 11/0 has edges of 31.2
    /// mm. Its walls stand at 70.53°, sin = 0.94281 (handbook, from memory), so
    /// the rim is at most 31.2 − 2·√3·1.6/0.94281 = 25.321 mm: 9 rounds, 23.4
    /// mm, 23.4·√(2/3) = 19.106 mm deep.
    #[test]
    fn a_lining_of_a_tetrahedron_is_as_by_hand() {
        let bead = preset("cylinder 11/0").unwrap();
        let lining = lining(Solid::Tetrahedron, 31.2, bead).unwrap();
        assert!((lining.longest_edge_mm - 25.321).abs() < 0.001);
        assert_eq!(lining.rounds, 9);
        assert!((lining.depth_mm - 19.106).abs() < 0.001);
        assert!(super::lining(Solid::Cube, 31.2, bead).is_none());
    }

    /// The same from the corners of the solids: every corner of the lining lies
    /// at least a wall's thickness inside every face except the open one.
    #[test]
    fn a_lining_stands_clear_of_every_wall() {
        let bead = preset("cylinder 11/0").unwrap();
        for (solid, edge) in [
            (Solid::Tetrahedron, 31.2),
            (Solid::Octahedron, 20.8),
            (Solid::Icosahedron, 26.0),
        ] {
            let shape = Polyhedra::regular(solid, edge);
            let corner = |f: &Vec<usize>, i: usize| shape.corners[f[i]];
            let normal = |f: &Vec<usize>| {
                let (a, b, c) = (corner(f, 0), corner(f, 1), corner(f, 2));
                (b - a).cross(c - b).normalize()
            };
            let lining = lining(solid, edge, bead).unwrap();
            assert!(lining.rounds > 0);
            let open = &shape.faces[0];
            let middle: DVec3 = (0..3).map(|i| corner(open, i)).sum::<DVec3>() / 3.0;
            let scale = lining.longest_edge_mm / edge;
            let mut points: Vec<DVec3> = (0..3)
                .map(|i| middle.lerp(corner(open, i), scale))
                .collect();
            points.push(middle - normal(open) * lining.longest_edge_mm * (2f64 / 3.0).sqrt());
            let mut nearest = f64::MAX;
            for wall in &shape.faces[1..] {
                for point in &points {
                    let inside = (corner(wall, 0) - *point).dot(normal(wall));
                    nearest = nearest.min(inside);
                }
            }
            // Clear of the walls, and no smaller than necessary.
            assert!(
                (nearest - bead.diameter_mm).abs() < 1e-9,
                "{solid:?} {nearest}"
            );
        }
    }

    /// As the layout places it: an insert with the plan's own number of rounds
    /// is one bead's thickness clear of the walls, one looks into it from
    /// outside, and one more round gives a warning.
    #[test]
    fn an_insert_of_the_plan_s_rounds_fits_as_it_is_laid() {
        for (rounds, of_insert, fits) in [(12, 9, true), (12, 10, false)] {
            let project = testing::with_insert(Solid::Tetrahedron, rounds, of_insert);
            let seq = Sequence::new(project);
            let plan = Plan::of(&seq, Wishes::default());
            let lining = plan.lining.expect("an open face");
            assert_eq!(lining.rounds, 9);
            let words = lining.says_of_made().expect("an insert");
            assert_eq!(words.contains("press against the walls"), !fits, "{words}");

            let panels = seq.layout().panels();
            let corners = |nth: usize| panels[nth].frame.corners();
            let middle = |nth: usize| corners(nth).iter().sum::<DVec3>() / 3.0;
            let inside = (0..3).map(middle).sum::<DVec3>() / 3.0;
            let mut nearest = f64::MAX;
            for insert in 3..6 {
                assert!(outward(corners(insert)).dot(inside - middle(insert)) > 0.0);
                for wall in 0..3 {
                    let out = outward(corners(wall));
                    let far = corners(insert)
                        .iter()
                        .map(|c| (corners(wall)[0] - *c).dot(out));
                    nearest = far.fold(nearest, f64::min);
                }
            }
            assert_eq!(nearest >= 1.6, fits, "{nearest}");
        }
    }
}
