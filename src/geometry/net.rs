//! The flat net of a piece, and how it folds.
//!
//! The faces are connected along some of the seams, as a tree. All folds open
//! and close about their seams together: flat at 0, in the finished place at 1.
//!
//! ```text
//!    .--a--.--a--.       a tetrahedron unfolded: sides with the same
//!     \   / \   / \      letter will meet
//!      b /   \ /   b
//!       '--c--'--c--'
//! ```
//!
//! Six triangles round a point fold as the beadwork does, with all six spokes
//! joined. A tree cannot show that: see `pair.rs`.

use super::pair::Pair;
use super::polygon::{bounds, overlap};
use super::shape::{PlateSide, Shape, apart};
use crate::beadwork::frame::{middle_of, outward, side_of};
use glam::{DAffine3, DMat3, DQuat, DVec2, DVec3};
use std::collections::VecDeque;
use std::f64::consts::PI;

/// Up to this many faces, several trees are tried to find one without
/// overlapping faces.
const MAX_FACES_TRIED: usize = 64;
/// Sides farther apart than this part of their length are not a fold: the piece
/// does not close there.
const MAX_APART: f64 = 0.05;
/// The number of directions in which a flat net is tried, to find the one in
/// which it can be shown largest.
const TURNS: f64 = 36.0;
/// A pair's lids begin to close at this part of the fold.
const LIDS_CLOSE: f64 = 0.55;

/// A net.
#[derive(Clone, Debug)]
pub struct Net {
    finished: Vec<Vec<DVec3>>,
    /// Plates, each after the one it is connected to.
    order: Vec<NetNode>,
    pair: Option<Pair>,
    flat: Vec<Vec<DVec3>>,
    front: DVec3,
    /// The direction that is up when it is shown on a screen.
    up: DVec3,
    /// The width of a screen that it needs, mm.
    screen_mm: f64,
}

#[derive(Clone, Copy, Debug)]
struct NetNode {
    plate: usize,
    /// How it is connected to the face before it; `None` for a first face.
    fold: Option<Fold>,
}

/// A face of a net on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct NetFace {
    /// Index of its plate.
    pub plate: usize,
    /// Its corners, mm, y up and anticlockwise; corner s ends side s.
    pub corners: Vec<DVec2>,
}

/// A fold about a seam of the finished piece.
#[derive(Clone, Copy, Debug)]
struct Fold {
    parent: usize,
    /// Whether it crosses a hinge to another solid.
    over_hinge: bool,
    point: DVec3,
    axis: DVec3,
    /// The angle from the finished place to the flat net, radians.
    opens: f64,
}

impl Fold {
    /// No fold: the face lies in the plane of its parent.
    fn flat(parent: usize) -> Fold {
        Fold {
            parent,
            over_hinge: false,
            point: DVec3::ZERO,
            axis: DVec3::X,
            opens: 0.0,
        }
    }
}

/// The order in which a tree takes faces.
#[derive(Clone, Copy, Debug)]
struct NetOrder {
    root: usize,
    next: NextFace,
    backwards: bool,
}

/// Which of the faces that can be taken is next.
#[derive(Clone, Copy, Debug)]
enum NextFace {
    /// The one that has waited longest.
    First,
    /// The newest.
    Last,
    /// The one that is made first, so that panels sewn while flat lie as they
    /// are sewn.
    AsMade,
}

impl Net {
    /// The net of a piece.
    pub fn of(body: &Shape) -> Net {
        let pair = Pair::of(body);
        let plates = body.plates.len();
        let order = |root, next, backwards| NetOrder {
            root,
            next,
            backwards,
        };
        let next = match body.ties.is_empty() {
            true => NextFace::First,
            false => NextFace::AsMade,
        };
        let first = Net::along(body, pair.clone(), order(0, next, false));
        if !body.ties.is_empty() || plates > MAX_FACES_TRIED {
            return first;
        }
        // First of all faces must not overlap; then the net should be large on
        // the screen. A strip round the first face is clearer than a net that
        // is only a little larger.
        let cost = |net: &Net, first: bool| {
            let needs = net.screen_mm * if first { 0.9 } else { 1.0 };
            (net.overlapping(), needs)
        };
        let mut least = cost(&first, true);
        let mut best = first;
        for root in 0..plates.min(8) {
            for (next, backwards) in [
                (NextFace::First, false),
                (NextFace::First, true),
                (NextFace::Last, false),
                (NextFace::Last, true),
            ] {
                let net = Net::along(body, None, order(root, next, backwards));
                let found = cost(&net, false);
                if found < least {
                    (least, best) = (found, net);
                }
            }
        }
        best
    }

    fn along(body: &Shape, pair: Option<Pair>, by: NetOrder) -> Net {
        let finished = body.finished();
        let n = finished.len();
        let mut seen = vec![false; n];
        let mut order = vec![];
        let (mut waiting, mut hinges) = (VecDeque::new(), VecDeque::new());
        if let Some(pair) = &pair {
            for &plate in pair.plates() {
                seen[plate] = true;
                waiting.push_back(NetNode { plate, fold: None });
            }
        }
        for start in (0..n).map(|i| (i + by.root) % n) {
            let is_root = !seen[start] && body.middle_of(start).is_none();
            if waiting.is_empty() && is_root {
                seen[start] = true;
                waiting.push_back(NetNode {
                    plate: start,
                    fold: None,
                });
            }
            loop {
                let next = match by.next {
                    NextFace::First => waiting.pop_front(),
                    NextFace::Last => waiting.pop_back(),
                    NextFace::AsMade => {
                        let of = |at: &usize| waiting[*at].plate;
                        let first = (0..waiting.len()).min_by_key(of);
                        first.and_then(|at| waiting.remove(at))
                    }
                };
                let Some(node) = next.or_else(|| over_a_hinge(&mut hinges, &mut seen)) else {
                    break;
                };
                order.push(node);
                let within = body.set_in.iter().filter(|s| s.around == node.plate);
                for set_in in within.filter(|set_in| !seen[set_in.plate]) {
                    order.push(NetNode {
                        plate: set_in.plate,
                        fold: Some(Fold::flat(node.plate)),
                    });
                }
                let mut next = neighbours(body, node.plate);
                if by.backwards {
                    next.reverse();
                }
                for (mine, other) in next {
                    if seen[other.plate] {
                        continue;
                    }
                    let Some(fold) = fold(body, &finished, mine, other) else {
                        continue;
                    };
                    let node = NetNode {
                        plate: other.plate,
                        fold: Some(fold),
                    };
                    if fold.over_hinge {
                        hinges.push_back(node);
                        continue;
                    }
                    seen[other.plate] = true;
                    waiting.push_back(node);
                }
            }
        }
        let mut net = Net {
            finished,
            order,
            pair,
            flat: vec![],
            front: DVec3::Z,
            up: DVec3::Y,
            screen_mm: 0.0,
        };
        net.flat = net.at(0.0);
        if let Some(root) = net.order.first().map(|node| node.plate) {
            net.front = outward(&net.flat[root]);
        }
        (net.up, net.screen_mm) = smallest_screen(&net.flat, net.front);
        net
    }

    /// Where the corners of all plates lie, mm. `folded` is 0 for the flat net,
    /// 1 for the finished piece.
    pub fn at(&self, folded: f64) -> Vec<Vec<DVec3>> {
        if folded >= 1.0 {
            return self.finished.clone();
        }
        let folded = folded.max(0.0);
        let mut moved = vec![DAffine3::IDENTITY; self.finished.len()];
        let mut rest = folded;
        if let Some(pair) = &self.pair {
            for (plate, corners) in pair.at((folded / LIDS_CLOSE).min(1.0)) {
                moved[plate] = rigid_motion(&self.finished[plate], &corners);
            }
            rest = ((folded - LIDS_CLOSE) / (1.0 - LIDS_CLOSE)).clamp(0.0, 1.0);
        }
        for node in &self.order {
            if let Some(fold) = node.fold {
                let turn = DQuat::from_axis_angle(fold.axis, fold.opens * (1.0 - rest));
                let about = DAffine3::from_translation(fold.point)
                    * DAffine3::from_quat(turn)
                    * DAffine3::from_translation(-fold.point);
                moved[node.plate] = moved[fold.parent] * about;
            }
        }
        let place = |(corners, moved): (&Vec<DVec3>, &DAffine3)| {
            corners.iter().map(|c| moved.transform_point3(*c)).collect()
        };
        self.finished.iter().zip(&moved).map(place).collect()
    }

    /// The direction in which the flat net faces.
    pub fn front(&self) -> DVec3 {
        self.front
    }

    /// The direction that is up when the flat net is shown as large as possible
    /// on a screen twice as wide as high.
    pub fn up(&self) -> DVec3 {
        self.up
    }

    /// The hinge of a folded pair, from the point to the tie, and the direction
    /// across the open faces of both tetrahedra.
    pub fn hinge(&self) -> Option<(DVec3, DVec3)> {
        self.pair.as_ref().map(Pair::hinge)
    }

    /// Pairs of faces that overlap in the flat net.
    pub fn overlapping(&self) -> usize {
        let x = self.front.any_orthonormal_vector();
        let y = self.front.cross(x);
        let flat = |p: &Vec<DVec3>| p.iter().map(|c| DVec2::new(c.dot(x), c.dot(y))).collect();
        let faces: Vec<Vec<DVec2>> = self.flat.iter().map(flat).collect();
        // From left to right, so that only faces whose boxes meet are compared.
        let mut boxes: Vec<_> = faces.iter().map(|face| (bounds(face), face)).collect();
        boxes.sort_by(|a, b| a.0.0.x.total_cmp(&b.0.0.x));
        let mut found = 0;
        for (at, ((low, high), face)) in boxes.iter().enumerate() {
            let near = boxes[at + 1..].iter().take_while(|b| b.0.0.x < high.x);
            let level = near.filter(|b| b.0.0.y < high.y && low.y < b.0.1.y);
            found += level.filter(|b| overlap(face, b.1)).count();
        }
        found
    }

    /// The flat net on paper, solid by solid: its faces in the order in which
    /// they are connected, side 1 of the first level and below it.
    pub fn on_paper(&self) -> Vec<Vec<NetFace>> {
        let flat = &self.flat;
        let mut net_of = vec![0; flat.len()];
        let mut nets: Vec<(DVec3, DVec3, Vec<NetFace>)> = vec![];
        for node in &self.order {
            let corners = &flat[node.plate];
            net_of[node.plate] = match (node.fold, &self.pair) {
                (Some(fold), _) if !fold.over_hinge => net_of[fold.parent],
                // The six faces round a point come first, and are one net.
                (None, Some(pair)) if !nets.is_empty() && pair.plates().contains(&node.plate) => 0,
                _ => {
                    let (from, to) = side_of(corners, 0);
                    let along = (to - from).normalize_or(DVec3::X);
                    nets.push((along, outward(corners).cross(along), vec![]));
                    nets.len() - 1
                }
            };
            let (x, y, faces) = &mut nets[net_of[node.plate]];
            faces.push(NetFace {
                plate: node.plate,
                corners: corners
                    .iter()
                    .map(|c| DVec2::new(c.dot(*x), c.dot(*y)))
                    .collect(),
            });
        }
        nets.into_iter().map(|(.., faces)| faces).collect()
    }

    /// Whether two joined sides lie along each other in the flat net too.
    pub fn keeps_joined(&self, one: PlateSide, other: PlateSide) -> bool {
        let (from, to) = side_of(&self.flat[one.plate], one.side);
        apart(&self.flat, one, other) <= MAX_APART * from.distance(to)
    }
}

/// The sides that meet a plate's sides, in the order of the plate's sides.
fn neighbours(body: &Shape, plate: usize) -> Vec<(PlateSide, PlateSide)> {
    let mut found = vec![];
    for (side, seam) in body.plates[plate].seams.iter().enumerate() {
        let mine = PlateSide { plate, side };
        let others = seam.iter().flat_map(|s| &body.seams[*s].sides);
        found.extend(others.filter(|o| **o != mine).map(|o| (mine, *o)));
    }
    found
}

/// The next face over a hinge, once the whole solid before it is laid out. This
/// way each tetrahedron of a ring becomes a strip between two straight lines,
/// its hinges, and strips cannot overlap.
fn over_a_hinge(hinges: &mut VecDeque<NetNode>, seen: &mut [bool]) -> Option<NetNode> {
    while let Some(node) = hinges.pop_front() {
        if !std::mem::replace(&mut seen[node.plate], true) {
            return Some(node);
        }
    }
    None
}

/// The fold that lays the plate of `other` flat next to the plate of `mine`;
/// `None` if the two sides are apart in the finished piece.
fn fold(body: &Shape, finished: &[Vec<DVec3>], mine: PlateSide, other: PlateSide) -> Option<Fold> {
    let (from, to) = side_of(&finished[mine.plate], mine.side);
    let axis = (to - from).try_normalize()?;
    if apart(finished, mine, other) > MAX_APART * from.distance(to) {
        return None;
    }
    // The direction into each face, at right angles to the seam.
    let into = |corners: &[DVec3]| {
        let in_face = middle_of(corners) - from;
        (in_face - axis * in_face.dot(axis)).try_normalize()
    };
    let (here, there) = (into(&finished[mine.plate])?, into(&finished[other.plate])?);
    let opens = axis.dot(there.cross(-here)).atan2(there.dot(-here));
    Some(Fold {
        parent: mine.plate,
        over_hinge: body.meets(mine).is_none(),
        point: from,
        axis,
        opens,
    })
}

/// The direction that is up so that flat faces fit the smallest screen twice as
/// wide as high, and the width of that screen.
fn smallest_screen(flat: &[Vec<DVec3>], front: DVec3) -> (DVec3, f64) {
    let any = front.any_orthonormal_vector();
    let turned = |nth: u32| {
        let up = DQuat::from_axis_angle(front, f64::from(nth) * PI / TURNS) * any;
        let right = up.cross(front);
        let wide = |way: DVec3| {
            let along = || flat.iter().flatten().map(|c| c.dot(way));
            along().fold(f64::MIN, f64::max) - along().fold(f64::MAX, f64::min)
        };
        (up, wide(right).max(2.0 * wide(up)))
    };
    let ways = (0..TURNS as u32).map(turned);
    ways.min_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or((DVec3::Y, 0.0))
}

/// The motion that takes a stiff face from one place to another.
pub(super) fn rigid_motion(from: &[DVec3], to: &[DVec3]) -> DAffine3 {
    let axes = |c: &[DVec3]| {
        let x = (c[1] - c[0]).normalize();
        let z = outward(c);
        DMat3::from_cols(x, z.cross(x), z)
    };
    let turn = axes(to) * axes(from).transpose();
    DAffine3::from_mat3_translation(turn, to[0] - turn * from[0])
}

#[cfg(test)]
mod tests;
