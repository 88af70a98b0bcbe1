//! Pushes what lies in each other apart: faces, rows and tip beads, each moved as
//! a whole, until no bead of one lies too deep in a bead of another.
//!
//! Where sides are equal there is hardly anything to do. Faces with unlike sides
//! do not close as plates, and the beads of a row between sides of different
//! lengths do not lie over the gaps of both: there the row and the side that it
//! does not fit come to lie a bead's width apart.
//!
//! Only what is joined is pushed: an insert that is too large for its opening
//! presses against the walls.

use super::BeadPlaces;
use crate::beadwork::layout::RowIndex;
use crate::beadwork::number::NumberMap;
use crate::beadwork::settle::Groups;
use crate::beadwork::{Bead, Layout, Panel, Part, Round, Seams, Seat, Side};
use glam::{DVec2, DVec3, IVec3};
use std::collections::BTreeMap;

/// How deep beads may lie in each other, in diameters, and how deep they lie when
/// they have been pushed apart.
#[derive(Clone, Copy, Debug)]
struct Overlap {
    most: f64,
    after: f64,
}

/// Where their holes lie in one direction.
const ALONG: Overlap = Overlap {
    most: 0.095,
    after: 0.08,
};
/// Where they lie across each other.
const ACROSS: Overlap = Overlap {
    most: 0.24,
    after: 0.22,
};

/// The cosine of the angle up to which holes lie in one direction.
const IN_ONE_DIRECTION: f64 = 0.95;

/// Outermost rounds of a face that may meet another face.
const ROUNDS: u32 = 3;

/// At most so many times everything is pushed.
const TURNS: usize = 100;

/// Beads looked at for that, over all turns. A piece with more beads at its edges
/// stays as it is spread: nobody would wait for it.
const LOOKED_AT: usize = 150_000;

/// Something that is moved as a whole: a face, a row, or a tip bead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
enum Body {
    Face(Panel),
    Row(RowIndex),
    Tip(Bead),
}

/// A bead at an edge.
#[derive(Clone, Copy, Debug)]
struct EdgeBead {
    body: Body,
    /// A panel that stands for all that its own is joined to.
    piece: usize,
    at: DVec3,
    along: DVec3,
}

impl BeadPlaces<'_> {
    /// Pushes what lies in each other apart.
    pub(super) fn push_apart(&mut self, seams: &Seams) {
        let turns = TURNS.min(LOOKED_AT / self.most_edge_beads().max(1));
        if turns == 0 {
            return;
        }
        let mut beads = self.edge_beads(seams);
        for _ in 0..turns {
            let moves = moves(&beads, self.layout.project().bead_mm());
            if moves.is_empty() {
                break;
            }
            for bead in &mut beads {
                bead.at += moves.get(&bead.body).copied().unwrap_or_default();
            }
            for (body, by) in moves {
                match body {
                    Body::Face(panel) => self.faces[panel.index()].middle += by,
                    Body::Row(row) => self.rows[usize::from(row.0)] += by,
                    Body::Tip(tip) => {
                        let tip = self.tips.get_mut(&tip);
                        tip.into_iter().for_each(|(at, _)| *at += by);
                    }
                }
            }
        }
    }

    /// How many beads may meet those of another face or row, at most.
    fn most_edge_beads(&self) -> usize {
        let layout = self.layout;
        let panels = layout.begun_panels().map(|(panel, _)| layout.kind(panel));
        let faces = panels.map(|kind| ROUNDS * kind.in_round(kind.last()));
        let rows = layout.rows().map(|(_, row)| row.beads + row.tips);
        faces.chain(rows).map(|beads| beads as usize).sum()
    }

    /// The beads that may meet those of another face or row. Panels whose beads
    /// have no room are left out, and those that lie in the middle of another.
    fn edge_beads(&self, seams: &Seams) -> Vec<EdgeBead> {
        let layout = self.layout;
        let mut pieces = pieces(layout, seams);
        let mut beads = vec![];
        let mut add = |body: Body, seat: Seat| {
            beads.push(EdgeBead {
                body,
                piece: pieces.first(seat.panel.index()),
                at: self.seat(seat),
                along: self.along(seat),
            });
        };
        let has_room = |panel: Panel| self.faces[panel.index()].lying.has_room();
        for (panel, made) in layout.begun_panels() {
            let kind = layout.kind(panel);
            if !has_room(panel) || seams.around(panel).is_some() {
                continue;
            }
            let first = kind.rounds().saturating_sub(ROUNDS).max(made.open()) + 1;
            for round in (first..=kind.rounds()).map(Round) {
                for index in 0..kind.in_round(round) {
                    let bead = layout.bead(panel, round, index);
                    add(Body::Face(panel), layout.seat(bead));
                }
            }
        }
        for (index, row) in layout.rows().filter(|(_, row)| has_room(row.panel)) {
            for seat in (0..row.beads + row.tips).map(|j| layout.row_seat(index, j)) {
                let body = match (seat.part, self.gathered(seat)) {
                    (Part::Tip(_), Some(_)) => Body::Tip(layout.bead_in(seat)),
                    (Part::Tip(_), None) => Body::Face(row.panel),
                    _ => Body::Row(index),
                };
                add(body, seat);
            }
        }
        beads
    }
}

/// Panels that are joined, or whose corners are drawn together.
fn pieces(layout: &Layout, seams: &Seams) -> Groups {
    let mut pieces = Groups::of(layout.panels().len());
    for (panel, _) in layout.begun_panels() {
        for side in (0..layout.kind(panel).sides()).map(Side) {
            let row = seams.row_of((panel, side)).map(|(row, _)| row);
            let onto = row.map(|row| layout.row(row).panel);
            let tied = seams.together((panel, side)).iter().map(|corner| corner.0);
            let others = onto.into_iter().chain(tied);
            others.for_each(|other| pieces.join(panel.index(), other.index()));
        }
    }
    for (index, row) in layout.rows() {
        for (fill, _) in seams.fills_on(index) {
            pieces.join(fill.index(), row.panel.index());
        }
    }
    pieces
}

/// How far each body is to be moved: of each two that lie in each other, half of
/// what parts their deepest beads. A tip bead gives way to all else.
fn moves(beads: &[EdgeBead], bead_mm: DVec2) -> NumberMap<Body, DVec3> {
    let mut pushes: BTreeMap<(Body, Body), DVec3> = BTreeMap::new();
    // Beads that meet are no farther apart than this. They are kept in cubes twice as
    // wide, so that all near a bead lie in eight cubes.
    let reach = bead_mm.length();
    let cube = |at: DVec3| (at / (2.0 * reach)).floor().as_ivec3();
    let mut cubes: NumberMap<IVec3, Vec<&EdgeBead>> = NumberMap::default();
    for b in beads {
        let first = cube(b.at - reach);
        let around = (0..8).map(|n| first + IVec3::new(n & 1, n >> 1 & 1, n >> 2));
        let near = around.filter_map(|cube| cubes.get(&cube)).flatten();
        let near = near.filter(|a| a.at.distance_squared(b.at) <= reach * reach);
        for a in near.filter(|a| a.body != b.body && a.piece == b.piece) {
            let (a, b) = if a.body < b.body { (*a, b) } else { (b, *a) };
            if let Some(push) = push(a, b, bead_mm) {
                let most = pushes.entry((a.body, b.body)).or_default();
                if push.length_squared() > most.length_squared() {
                    *most = push;
                }
            }
        }
        cubes.entry(cube(b.at)).or_default().push(b);
    }
    let mut moves: NumberMap<Body, DVec3> = NumberMap::default();
    for ((a, b), push) in pushes {
        let share = match (a, b) {
            (Body::Face(_) | Body::Row(_), Body::Tip(_)) => 0.0,
            _ => 0.5,
        };
        *moves.entry(a).or_default() -= push * share;
        *moves.entry(b).or_default() += push * (1.0 - share);
    }
    moves
}

/// How `b` is to be moved out of `a`; none if it lies in it no deeper than it may.
fn push(a: &EdgeBead, b: &EdgeBead, bead_mm: DVec2) -> Option<DVec3> {
    let two = TwoBeads {
        apart: b.at - a.at,
        holes: [a.along, b.along],
        bead_mm,
    };
    let alike = a.along.dot(b.along);
    let is_along = alike.abs() > IN_ONE_DIRECTION;
    let may = if is_along { ALONG } else { ACROSS };
    let (mut deep, mut way) = two.deeper_than(may.most * bead_mm.y)?;
    if is_along {
        // Not along the holes: there the next beads of the round lie.
        let axis = (a.along + b.along * alike.signum()).normalize_or_zero();
        let over = two.apart.reject_from(axis);
        way = over.normalize_or(axis.any_orthonormal_vector());
        deep = two.depth_along(way);
    }
    Some(way * (deep - may.after * bead_mm.y))
}

/// Two beads: how far apart they are, the directions of their holes, and their
/// size, mm.
#[derive(Clone, Copy, Debug)]
struct TwoBeads {
    apart: DVec3,
    holes: [DVec3; 2],
    bead_mm: DVec2,
}

impl TwoBeads {
    /// From the point of the second that is furthest back in a direction to the
    /// point of the first that is furthest on in it.
    fn over(&self, way: DVec3) -> DVec3 {
        let furthest = |hole: DVec3| {
            let along = way.dot(hole);
            // Along the hole the whole end is as far, and its middle stands for it.
            let across = way - hole * along;
            let across = match across.length() > 1e-6 {
                true => across.normalize(),
                false => DVec3::ZERO,
            };
            (hole * self.bead_mm.x.copysign(along) + across * self.bead_mm.y) / 2.0
        };
        furthest(self.holes[0]) + furthest(self.holes[1]) - self.apart
    }

    /// How far the second is to be moved in a direction to be clear of the first.
    fn depth_along(&self, way: DVec3) -> f64 {
        let reaches = self.holes.map(|hole| {
            let along = way.dot(hole).abs();
            let across = (1.0 - along * along).max(0.0).sqrt();
            (along * self.bead_mm.x + across * self.bead_mm.y) / 2.0
        });
        reaches[0] + reaches[1] - self.apart.dot(way)
    }

    /// How deep they lie in each other: the least move that clears them, and its
    /// direction; none if that is no more than `most`. It is looked for downhill
    /// from the likeliest directions, in ever smaller turns.
    fn deeper_than(&self, most: f64) -> Option<(f64, DVec3)> {
        let ([a, b], apart) = (self.holes, self.apart);
        let level = [a, b].map(|hole| apart.reject_from(hole));
        let (mut deep, mut way) = (f64::MAX, apart);
        for likely in [apart, a, b, a.cross(b), level[0], level[1]] {
            let Some(likely) = likely.try_normalize() else {
                continue;
            };
            let likely = likely * likely.dot(apart).signum();
            let other = self.depth_along(likely);
            if other < deep {
                (deep, way) = (other, likely);
            }
            if deep <= most {
                return None;
            }
        }
        let mut turn = 0.3;
        for _ in 0..10 {
            let over = self.over(way);
            let steepest = over.reject_from_normalized(way).normalize_or_zero();
            let turned = (way - steepest * turn).normalize();
            let other = self.depth_along(turned);
            match other < deep {
                true => (deep, way) = (other, turned),
                false => turn /= 2.0,
            }
            if deep <= most {
                return None;
            }
        }
        Some((deep, way))
    }
}
