//! How six triangles round a point fold to a pair of tetrahedra.
//!
//! The net is folded so that corners 1 and 4, at the ends of a diameter, meet.
//! Seen from the point, with both halves the same:
//!
//! ```text
//!    3 --- 2       z      corner 1 at (cos a, 0, sin a), corner 4 below it;
//!   / \   / \      |      corners 2 and 3 at (x, ±y, ½) and (x, ±y, −½) with
//!  4 - 0 - 1       +--    x = (1 − sin a) / (2 cos a), y = √(¾ − x²),
//!   \ /   \ /             an edge being 1: so all six spokes stay 60° apart
//!    5 --- 6
//! ```
//!
//! At a = 90° it lies flat. At a = 0 corners 1 and 4 meet, and x = ½, y = √½
//! give two regular tetrahedra on one hinge.

use super::shape::{PlateSide, Shape};
use crate::beadwork::frame::outward;
use glam::{DMat3, DVec3};
use std::f64::consts::FRAC_PI_2;

/// Six plates, and for each of them the rim corner at each of its corners.
type PairPlates = (Vec<usize>, Vec<[usize; 3]>);

/// Six plates round a point, whose opposite corners are tied.
#[derive(Clone, Debug)]
pub(super) struct Pair {
    plates: Vec<usize>,
    /// For each plate, the rim corner at each of its corners (0 is the point, 1
    /// to 6 are the rim).
    corners: Vec<[usize; 3]>,
    point: DVec3,
    /// Axes of the drawing above, in edge lengths.
    axes: DMat3,
}

impl Pair {
    /// The pair in a piece, if there is one.
    pub fn of(body: &Shape) -> Option<Pair> {
        body.ties.iter().find_map(|tie| Pair::tied(body, *tie))
    }

    fn tied(body: &Shape, tie: (PlateSide, PlateSide)) -> Option<Pair> {
        let (plates, corners) = Pair::around(body, tie)?;
        Pair::placed(body, plates, corners)
    }

    /// The six plates folded by a tie, in a place of their own, even if they
    /// lie differently in the finished piece.
    pub fn alone(body: &Shape, tie: (PlateSide, PlateSide)) -> Option<Pair> {
        let (plates, corners) = Pair::around(body, tie)?;
        let (from, to) = body.plates[plates[0]].side(0);
        let pair = |out: f64| Pair {
            point: DVec3::ZERO,
            axes: DMat3::from_diagonal(DVec3::new(1.0, out, 1.0)) * from.distance(to),
            plates: plates.clone(),
            corners: corners.clone(),
        };
        // The second plate has its own tetrahedron behind it.
        let faces_out = |pair: &Pair| {
            let (_, second) = &pair.at(1.0)[1];
            outward(second).dot(pair.axes.x_axis) < 0.0
        };
        [pair(1.0), pair(-1.0)].into_iter().find(faces_out)
    }

    /// Where the panels meet, mm.
    pub fn point(&self) -> DVec3 {
        self.point
    }

    /// The six plates round the point from spoke to spoke, starting at corner
    /// 1.
    fn around(body: &Shape, (one, four): (PlateSide, PlateSide)) -> Option<PairPlates> {
        (0..3).find_map(|at| Pair::around_corner(body, one, four, at))
    }

    /// The six plates round the point, if it is corner `at` of the plate of
    /// corner 1.
    fn around_corner(
        body: &Shape,
        one: PlateSide,
        four: PlateSide,
        at: usize,
    ) -> Option<PairPlates> {
        let next = |c: usize| (c + 1) % 3;
        let is_triangle = |p: usize| body.plates[p].corners.len() == 3;
        if at == one.side || !is_triangle(one.plate) {
            return None;
        }
        let (mut plates, mut corners) = (vec![], vec![]);
        let (mut plate, mut at) = (one.plate, at);
        // The plate between rim corners k and k + 1 has the point at `at`; the
        // side after that runs outward.
        for _ in 0..6 {
            if plates.contains(&plate) || !is_triangle(plate) {
                return None;
            }
            plates.push(plate);
            corners.push(at);
            // The side that ends at the point joins the plate after.
            let other = body.meets(PlateSide { plate, side: at })?;
            // Joined sides run in opposite directions: the point is where the
            // other side starts, which is the corner that ends the side before
            // it.
            (plate, at) = (other.plate, (other.side + 2) % 3);
        }
        if plate != one.plate {
            return None;
        }
        // In plate k, the corner after the point is its first rim corner.
        let tied = |c: PlateSide, rim_start: bool| {
            let k = plates.iter().position(|p| *p == c.plate)?;
            let first = c.side == next(corners[k]);
            Some((k + usize::from(first != rim_start)) % 6)
        };
        let (a, b) = (tied(one, true)?, tied(four, true)?);
        if (a + 3) % 6 != b {
            return None;
        }
        // Numbered so that the tied corners are 1 and 4.
        let rim = |k: usize| (k + 6 - a) % 6 + 1;
        let numbers = |k: usize, at: usize| {
            let mut of = [0; 3];
            of[next(at)] = rim(k);
            of[next(next(at))] = rim(k + 1);
            of
        };
        let numbered: Vec<[usize; 3]> = (0..6).map(|k| numbers(k, corners[k])).collect();
        Some((plates, numbered))
    }

    /// The pair with axes that put the folded plates in their finished place.
    fn placed(body: &Shape, plates: Vec<usize>, corners: Vec<[usize; 3]>) -> Option<Pair> {
        let find = |number: usize| {
            plates.iter().zip(&corners).find_map(|(p, of)| {
                let c = of.iter().position(|n| *n == number)?;
                Some(body.plates[*p].corners[c])
            })
        };
        let (point, one) = (find(0)?, find(1)?);
        let (two, three) = (find(2)?, find(3)?);
        let edge = point.distance(one);
        let x = (one - point).try_normalize()?;
        let z = (two - three).try_normalize()?;
        let pair = Pair {
            point,
            axes: DMat3::from_cols(x, z.cross(x), z) * edge,
            plates,
            corners,
        };
        // It is a pair only if the plates fold to their finished place.
        let fits = |pair: &Pair| {
            pair.at(1.0).iter().all(|(plate, at)| {
                let own = &body.plates[*plate].corners;
                at.iter()
                    .zip(own)
                    .all(|(a, b)| a.distance(*b) < 0.05 * edge)
            })
        };
        let mut turned = pair.clone();
        turned.axes.y_axis = -turned.axes.y_axis;
        [pair, turned].into_iter().find(fits)
    }

    /// The directions along the hinge, and across it.
    pub fn hinge(&self) -> (DVec3, DVec3) {
        (self.axes.x_axis, self.axes.z_axis)
    }

    /// The six plates.
    pub fn plates(&self) -> &[usize] {
        &self.plates
    }

    /// Where the corners of the plates lie, mm. `folded` is 0 for flat, 1 for
    /// tied.
    pub fn at(&self, folded: f64) -> Vec<(usize, Vec<DVec3>)> {
        let (sin, cos) = (FRAC_PI_2 * (1.0 - folded)).sin_cos();
        let x = match cos < 1e-9 {
            true => 0.0,
            false => (1.0 - sin) / (2.0 * cos),
        };
        let y = (0.75 - x * x).sqrt();
        let spots = [
            DVec3::ZERO,
            DVec3::new(cos, 0.0, sin),
            DVec3::new(x, y, 0.5),
            DVec3::new(x, y, -0.5),
            DVec3::new(cos, 0.0, -sin),
            DVec3::new(x, -y, -0.5),
            DVec3::new(x, -y, 0.5),
        ];
        let place = |number: &usize| self.point + self.axes * spots[*number];
        let of = self.plates.iter().zip(&self.corners);
        of.map(|(plate, of)| (*plate, of.iter().map(place).collect()))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::frame::side_of;
    use crate::beadwork::project::{Closing, Solid};
    use crate::geometry::testing::{body, project};

    #[test]
    fn a_folded_pair_is_found_and_ends_where_it_is_finished() {
        let body = body(project::folded_pair(4, 1));
        let pair = Pair::of(&body).expect("six panels round a point");
        for (plate, at) in pair.at(1.0) {
            for (a, b) in at.iter().zip(&body.plates[plate].corners) {
                assert!(a.distance(*b) < 1e-6);
            }
        }
        for (_, flat) in pair.at(0.0) {
            for side in 0..3 {
                let (a, b) = side_of(&flat, side);
                let edge = body.plates[0].corners[0].distance(body.plates[0].corners[1]);
                assert!((a.distance(b) - edge).abs() < 1e-6);
            }
        }
    }

    /// Folded alone, all six plates face outward from their two tetrahedra.
    #[test]
    fn every_six_panel_net_of_a_ring_folds_to_a_pair() {
        let body = body(project::ring_of_nets(6, 4, 1));
        assert_eq!(body.ties.len(), 3);
        for &tie in &body.ties {
            let net = body.net_of(tie).expect("six panels round a point");
            let pair = Pair::of(&net).expect("where it is finished");
            for (plate, folded) in pair.at(1.0) {
                assert_eq!(net.plates[plate].corners, folded);
                let middle = folded.iter().sum::<DVec3>() / 3.0;
                let solid = pair.plates().iter().position(|p| *p == plate).unwrap() / 3;
                let of = &pair.plates()[3 * solid..][..3];
                let corners = of.iter().flat_map(|p| &net.plates[*p].corners);
                let inside = corners.sum::<DVec3>() / 9.0;
                assert!(outward(&folded).dot(middle - inside) > 0.0);
            }
        }
    }

    #[test]
    fn a_solid_is_not_a_pair() {
        assert!(Pair::of(&body(project::solid(Solid::Octahedron, 4, Closing::SetIn))).is_none());
    }
}
