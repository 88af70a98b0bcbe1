//! The flat net of a piece, and how it folds.
//!
//! The faces hang on each other along some of the seams, as a tree, and each
//! fold opens or closes about its seam by the same part of its way: laid flat
//! at 0, in the finished place at 1.
//!
//! ```text
//!    .--a--.--a--.       a tetrahedron unfolded: sides of one letter
//!     \   / \   / \      will meet
//!      b /   \ /   b
//!       '--c--'--c--'
//! ```
//!
//! Six triangles round a point fold as the beadwork does, all six spokes kept
//! joined, which a tree cannot show: see [`pair`](super::pair).

use super::body::{Body, PlateSide, middle_of, side_of};
use super::flat::overlaps;
use super::pair::Pair;
use glam::{DAffine3, DMat3, DQuat, DVec3};
use std::collections::VecDeque;
use std::f64::consts::PI;

/// Up to so many faces several trees are tried for one that lies flat without
/// faces on each other.
const MOST_TRIED: usize = 64;
/// Sides that lie this part of their length from each other are no fold: the
/// piece does not close there.
const APART: f64 = 0.05;
/// In how many ways a flat net is laid to find the one that is seen largest.
const TURNS: f64 = 36.0;
/// A pair's lids begin to close when this part of the way is done.
const LIDS: f64 = 0.55;

/// A net.
#[derive(Clone, Debug)]
pub struct Net {
    finished: Vec<Vec<DVec3>>,
    /// Plates, each behind the one it hangs on.
    order: Vec<Hung>,
    pair: Option<Pair>,
    front: DVec3,
    /// Which of its directions is up when it lies as on a screen.
    up: DVec3,
    /// How wide a screen must be for it, mm.
    needs_mm: f64,
}

#[derive(Clone, Copy, Debug)]
struct Hung {
    plate: usize,
    on: Option<Fold>,
}

/// A fold about a seam, in the finished piece.
#[derive(Clone, Copy, Debug)]
struct Fold {
    parent: usize,
    point: DVec3,
    axis: DVec3,
    /// What it takes, from the finished place, to lie flat, radians.
    opens: f64,
}

/// In which order a tree takes up faces.
#[derive(Clone, Copy, Debug)]
struct Way {
    root: usize,
    deep: bool,
    backwards: bool,
}

impl Net {
    /// The net of a piece.
    pub fn of(body: &Body) -> Net {
        let pair = Pair::of(body);
        let plates = body.plates.len();
        let way = |root, deep, backwards| Way {
            root,
            deep,
            backwards,
        };
        let first = Net::along(body, pair.clone(), way(0, false, false));
        if pair.is_some() || plates > MOST_TRIED {
            return first;
        }
        // Without faces on each other above all, then as large as it can be
        // shown. A strip round the first face is clearer than one that is
        // only a little larger.
        let worth = |net: &Net, first: bool| {
            let needs = net.needs_mm * if first { 0.9 } else { 1.0 };
            (net.overlapping(), needs)
        };
        let mut least = worth(&first, true);
        let mut best = first;
        for root in 0..plates.min(8) {
            for (deep, backwards) in [(false, false), (false, true), (true, false), (true, true)] {
                let net = Net::along(body, None, way(root, deep, backwards));
                let found = worth(&net, false);
                if found < least {
                    (least, best) = (found, net);
                }
            }
        }
        best
    }

    fn along(body: &Body, pair: Option<Pair>, way: Way) -> Net {
        let finished = body.finished();
        let n = finished.len();
        let mut seen = vec![false; n];
        let mut order = vec![];
        let (mut waiting, mut hinges) = (VecDeque::new(), VecDeque::new());
        if let Some(pair) = &pair {
            for &plate in pair.plates() {
                seen[plate] = true;
                waiting.push_back(Hung { plate, on: None });
            }
        }
        for start in (0..n).map(|i| (i + way.root) % n) {
            if waiting.is_empty() && !seen[start] {
                seen[start] = true;
                waiting.push_back(Hung {
                    plate: start,
                    on: None,
                });
            }
            loop {
                let next = match way.deep {
                    true => waiting.pop_back(),
                    false => waiting.pop_front(),
                };
                let Some(hung) = next.or_else(|| over_a_hinge(&mut hinges, &mut seen)) else {
                    break;
                };
                order.push(hung);
                let mut next = neighbours(body, hung.plate);
                if way.backwards {
                    next.reverse();
                }
                for (mine, other) in next {
                    if seen[other.plate] {
                        continue;
                    }
                    let Some(fold) = fold(&finished, mine, other) else {
                        continue;
                    };
                    let hung = Hung {
                        plate: other.plate,
                        on: Some(fold),
                    };
                    if is_hinge(body, mine) {
                        hinges.push_back(hung);
                        continue;
                    }
                    seen[other.plate] = true;
                    waiting.push_back(hung);
                }
            }
        }
        let mut net = Net {
            finished,
            order,
            pair,
            front: DVec3::Z,
            up: DVec3::Y,
            needs_mm: 0.0,
        };
        let flat = net.at(0.0);
        if let Some(root) = net.order.first().map(|hung| hung.plate) {
            net.front = outward(&flat[root]);
        }
        (net.up, net.needs_mm) = lying(&flat, net.front);
        net
    }

    /// Where the corners of all plates lie, mm, when so much is folded: 0 the
    /// flat net, 1 the finished piece.
    pub fn at(&self, folded: f64) -> Vec<Vec<DVec3>> {
        if folded >= 1.0 {
            return self.finished.clone();
        }
        let folded = folded.max(0.0);
        let mut moved = vec![DAffine3::IDENTITY; self.finished.len()];
        let mut rest = folded;
        if let Some(pair) = &self.pair {
            for (plate, corners) in pair.at((folded / LIDS).min(1.0)) {
                moved[plate] = carried(&self.finished[plate], &corners);
            }
            rest = ((folded - LIDS) / (1.0 - LIDS)).clamp(0.0, 1.0);
        }
        for hung in &self.order {
            if let Some(fold) = hung.on {
                let turn = DQuat::from_axis_angle(fold.axis, fold.opens * (1.0 - rest));
                let about = DAffine3::from_translation(fold.point)
                    * DAffine3::from_quat(turn)
                    * DAffine3::from_translation(-fold.point);
                moved[hung.plate] = moved[fold.parent] * about;
            }
        }
        let place = |(corners, moved): (&Vec<DVec3>, &DAffine3)| {
            corners.iter().map(|c| moved.transform_point3(*c)).collect()
        };
        self.finished.iter().zip(&moved).map(place).collect()
    }

    /// Which way the flat net faces.
    pub fn front(&self) -> DVec3 {
        self.front
    }

    /// Which of its directions is up when the flat net lies so that it is
    /// seen largest on a screen twice as wide as high.
    pub fn up(&self) -> DVec3 {
        self.up
    }

    /// The hinge of a folded pair, from the point to the tie, and the
    /// direction across both its tetrahedra's open faces.
    pub fn hinge(&self) -> Option<(DVec3, DVec3)> {
        self.pair.as_ref().map(Pair::hinge)
    }

    /// Pairs of faces that lie on each other in the flat net.
    pub fn overlapping(&self) -> usize {
        overlaps(&self.at(0.0), self.front)
    }
}

/// The sides that meet a plate's sides, side by side in order.
fn neighbours(body: &Body, plate: usize) -> Vec<(PlateSide, PlateSide)> {
    let mut found = vec![];
    for (side, seam) in body.plates[plate].seams.iter().enumerate() {
        let mine = PlateSide { plate, side };
        let others = seam.iter().flat_map(|s| &body.seams[*s].sides);
        found.extend(others.filter(|o| **o != mine).map(|o| (mine, *o)));
    }
    found
}

/// Whether more than two sides meet there: then solids hang on each other.
fn is_hinge(body: &Body, side: PlateSide) -> bool {
    let seam = body.plates[side.plate].seams[side.side];
    seam.is_some_and(|nth| body.seams[nth].sides.len() > 2)
}

/// The next face over a hinge, once all of the solid before it is laid out. So
/// each tetrahedron of a ring becomes a strip between two straight lines, its
/// hinges, and no strip can lie on another.
fn over_a_hinge(hinges: &mut VecDeque<Hung>, seen: &mut [bool]) -> Option<Hung> {
    while let Some(hung) = hinges.pop_front() {
        if !std::mem::replace(&mut seen[hung.plate], true) {
            return Some(hung);
        }
    }
    None
}

/// How the plate of `other` is laid flat beside the plate of `mine`.
fn fold(finished: &[Vec<DVec3>], mine: PlateSide, other: PlateSide) -> Option<Fold> {
    let (from, to) = side_of(&finished[mine.plate], mine.side);
    let (a, b) = side_of(&finished[other.plate], other.side);
    let apart = (from.distance(b) + to.distance(a)).min(from.distance(a) + to.distance(b));
    let axis = (to - from).try_normalize()?;
    if apart > APART * from.distance(to) {
        return None;
    }
    // Into each face, at right angles to the seam.
    let into = |corners: &[DVec3]| {
        let in_face = middle_of(corners) - from;
        (in_face - axis * in_face.dot(axis)).try_normalize()
    };
    let (here, there) = (into(&finished[mine.plate])?, into(&finished[other.plate])?);
    let opens = axis.dot(there.cross(-here)).atan2(there.dot(-here));
    Some(Fold {
        parent: mine.plate,
        point: from,
        axis,
        opens,
    })
}

/// How flat faces lie so that they need the least of a screen twice as wide as
/// high: which way is up, and how wide the screen must be.
fn lying(flat: &[Vec<DVec3>], front: DVec3) -> (DVec3, f64) {
    let any = front.any_orthonormal_vector();
    let lies = |nth: u32| {
        let up = DQuat::from_axis_angle(front, f64::from(nth) * PI / TURNS) * any;
        let right = up.cross(front);
        let wide = |way: DVec3| {
            let along = || flat.iter().flatten().map(|c| c.dot(way));
            along().fold(f64::MIN, f64::max) - along().fold(f64::MAX, f64::min)
        };
        (up, wide(right).max(2.0 * wide(up)))
    };
    let ways = (0..TURNS as u32).map(lies);
    ways.min_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or((DVec3::Y, 0.0))
}

fn outward(corners: &[DVec3]) -> DVec3 {
    let normal = (corners[1] - corners[0]).cross(corners[2] - corners[1]);
    normal.normalize_or(DVec3::Z)
}

/// The motion that carries a stiff face from one place to another.
fn carried(from: &[DVec3], to: &[DVec3]) -> DAffine3 {
    let axes = |c: &[DVec3]| {
        let x = (c[1] - c[0]).normalize();
        let z = outward(c);
        DMat3::from_cols(x, z.cross(x), z)
    };
    let turn = axes(to) * axes(from).transpose();
    DAffine3::from_mat3_translation(turn, to[0] - turn * from[0])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::sight::testing::{body, project};

    fn edges_keep(body: &Body, net: &Net, folded: f64) {
        for (now, plate) in net.at(folded).iter().zip(&body.plates) {
            for a in 0..now.len() {
                for b in 0..a {
                    let was = plate.corners[a].distance(plate.corners[b]);
                    let is = now[a].distance(now[b]);
                    assert!((was - is).abs() < 1e-6, "{folded}: {was} {is}");
                }
            }
        }
    }

    fn solids() -> [Body; 4] {
        [
            (Solid::Tetrahedron, 4),
            (Solid::Octahedron, 4),
            (Solid::Icosahedron, 4),
            (Solid::Cube, 9),
        ]
        .map(|(solid, rounds)| body(project::solid(solid, rounds, Closing::SetIn)))
    }

    #[test]
    fn faces_stay_stiff_while_they_fold() {
        let pairs = [
            body(project::folded_pair(5, 1)),
            body(project::ring(8, 3, Closing::SetIn)),
        ];
        for body in solids().iter().chain(&pairs) {
            let net = Net::of(body);
            for part in 0..=10 {
                edges_keep(body, &net, f64::from(part) / 10.0);
            }
        }
    }

    /// Every net of a regular solid lies flat without faces on each other
    /// (T. Horiyama and W. Shoji, 2011), in one plane; and folded it is the
    /// solid again.
    #[test]
    fn a_solid_s_net_lies_flat_and_folds_to_the_solid() {
        for body in solids() {
            let net = Net::of(&body);
            let flat = net.at(0.0);
            let height = |c: &DVec3| c.dot(net.front());
            let level = height(&flat[0][0]);
            assert!(
                flat.iter()
                    .flatten()
                    .all(|c| (height(c) - level).abs() < 1e-6)
            );
            assert_eq!(net.overlapping(), 0);
            for (now, plate) in net.at(1.0 - 1e-12).iter().zip(&body.plates) {
                for (a, b) in now.iter().zip(&plate.corners) {
                    assert!(a.distance(*b) < 1e-6);
                }
            }
        }
    }

    /// Halfway a fold has done half of its way: 180° less the handbook's
    /// dihedral angle (from memory: 70.53°, 109.47°, 138.19°, 90°).
    #[test]
    fn folds_go_from_flat_to_the_handbook_s_dihedral_angle() {
        let handbook = [70.5288, 109.4712, 138.1897, 90.0];
        for (body, dihedral) in solids().iter().zip(handbook) {
            let net = Net::of(body);
            for (folded, part) in [(1.0, 1.0), (0.5, 0.5), (0.25, 0.25)] {
                let at = net.at(folded);
                let fold = net.order[1].on.expect("it hangs on the first");
                let (a, b) = (outward(&at[fold.parent]), outward(&at[net.order[1].plate]));
                let angle = a.angle_between(b).to_degrees();
                assert!((angle - part * (180.0 - dihedral)).abs() < 1e-3, "{angle}");
            }
        }
    }

    /// Six panels round a point: the net is a hexagon, and at any time all
    /// six spokes are joined; folded, the two opposite corners meet.
    #[test]
    fn a_six_panel_net_folds_on_its_spokes_until_two_corners_meet() {
        let body = body(project::folded_pair(5, 1));
        let net = Net::of(&body);
        let edge = body.plates[0].corners[0].distance(body.plates[0].corners[1]);
        let (a, b) = body.ties[0];
        let apart = |folded: f64| {
            let at = net.at(folded);
            at[a.plate][a.side].distance(at[b.plate][b.side])
        };
        assert!((apart(0.0) - 2.0 * edge).abs() < 1e-6);
        assert!(apart(1.0) < 1e-6);
        assert!(apart(0.3) < apart(0.2) && apart(0.2) < apart(0.1));
        for part in 0..=20 {
            let at = net.at(f64::from(part) / 20.0);
            for seam in &body.seams {
                if !seam.sides.iter().all(|s| s.plate < 6) {
                    continue;
                }
                let [one, other] = [0, 1].map(|n| {
                    let side = seam.sides[n];
                    side_of(&at[side.plate], side.side)
                });
                let gap = one.0.distance(other.1) + one.1.distance(other.0);
                assert!(gap < 1e-6, "{part}: {gap}");
            }
        }
    }

    /// The strips of a ring's tetrahedra, one beside the other: the usual net
    /// of such a ring, as in D. Schattschneider and W. Walker, 1977.
    #[test]
    fn the_net_of_a_ring_is_a_strip_for_each_tetrahedron() {
        for (tetrahedra, closing) in [
            (6, Closing::SetIn),
            (8, Closing::Fill),
            (20, Closing::SetIn),
        ] {
            let body = body(project::ring(tetrahedra, 3, closing));
            assert_eq!(Net::of(&body).overlapping(), 0);
        }
    }

    #[test]
    fn the_net_of_a_folded_pair_is_a_hexagon_with_two_lids() {
        let body = body(project::folded_pair(5, 1));
        let net = Net::of(&body);
        let flat = net.at(0.0);
        let level = flat[0][0].dot(net.front());
        for corner in flat.iter().flatten() {
            assert!((corner.dot(net.front()) - level).abs() < 1e-6);
        }
        assert_eq!(net.overlapping(), 0);
    }
}
