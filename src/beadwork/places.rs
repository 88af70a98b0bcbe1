//! Where the beads of a finished piece lie, mm.
//!
//! Each face lies as beads, as `lying` says of it by itself. At a join
//! the up beads of two faces stand a column apart, the diameter of a bead at
//! least, and the join row lies midway between them. So the piece is the solid of
//! its plates with the edges cut off, and its faces bulge:
//!
//! ```text
//!            row
//!       A ----o---- B            A, B   up beads of two faces, one column
//!      /    .   .    \           E      the edge of the plates (dotted)
//!     /   .   E   .   \
//!    /  .           .  \         of A from E:   along its plate  c·sin d
//!   / .               . \                       over its plate   c·cos d
//! ```
//!
//! with c half a column and d half the angle between the plates. Where the
//! plates lie in one plane the faces do not bulge: a net that is unfolded lies
//! flat. The row lies on E, or further out, where it would lie in the beads of
//! the round before in its column.
//!
//! At a hinge the faces beside the gap between two solids turn their outsides to
//! each other, and they must not bulge into each other. Seen from E, each edge
//! asks for an angle of A over its plate, 90° − d, a gap for one under it. An up
//! bead lies at the middle of the least and the greatest angle, and so far out,
//! c / cos(half their difference), that both edges have their column. All faces
//! of a solid bulge alike, and its plates are as large as the largest of them
//! needs.
//!
//! Faces whose sides are joined although they are not equal do not close as
//! plates, and a row between them does not lie over the gaps of both. Where their
//! beads would lie in each other, faces, rows and tip beads are pushed apart.

mod apart;
mod spread;

use super::frame::{middle_of, outward, side_of};
use super::layout::{LayoutPanel, RowIndex};
use super::lying::Lying;
use super::number::NumberMap;
use super::{Bead, Corner, Layout, Panel, Part, Seams, Seat, Side, SpecIndex, Work};
use glam::DVec3;
use spread::{FaceAtEdge, PlateSpread, edges};
use std::f64::consts::PI;

/// Where beads lie, as long as the piece stays as it is.
#[derive(Clone, Debug)]
pub struct BeadPlaces<'a> {
    /// The layout whose beads they are.
    pub layout: &'a Layout,
    faces: Vec<BeadFace>,
    /// The middle of each row, mm.
    rows: Vec<DVec3>,
    /// Where tip beads lie, mm, and the way along their holes.
    tips: NumberMap<Bead, (DVec3, DVec3)>,
}

/// A face that lies as beads.
#[derive(Clone, Debug)]
struct BeadFace {
    lying: Lying,
    middle: DVec3,
    /// Of each side the way to it from the middle, and the way along it.
    sides: Vec<(DVec3, DVec3)>,
}

impl BeadFace {
    /// The middle of the line of up beads of a side.
    fn rim(&self, side: Side) -> DVec3 {
        self.middle + self.sides[side.index()].0 * self.lying.rim_mm()
    }

    /// The end of that line.
    fn corner(&self, side: Side) -> DVec3 {
        self.rim(side) + self.sides[side.index()].1 * (self.lying.edge_mm() / 2.0)
    }

    fn outward(&self) -> DVec3 {
        let (out, along) = self.sides[0];
        out.cross(along)
    }
}

impl Work {
    /// Where the beads of the piece lie.
    pub fn bead_places(&self) -> BeadPlaces<'_> {
        BeadPlaces::of(&self.layout, &self.seams)
    }
}

impl<'a> BeadPlaces<'a> {
    fn of(layout: &'a Layout, seams: &Seams) -> BeadPlaces<'a> {
        let mut of_kinds: NumberMap<SpecIndex, Lying> = NumberMap::default();
        let lying = |panel: &LayoutPanel| {
            let of = |spec| Lying::of(layout.project(), spec, layout.kind_of(spec));
            let lying = of_kinds
                .entry(panel.spec)
                .or_insert_with_key(|spec| of(*spec));
            lying.clone()
        };
        let lying: Vec<Lying> = layout.panels().iter().map(lying).collect();
        let edges = edges(layout);
        let sides = edges.iter().enumerate().flat_map(|(edge, faces)| {
            let corner = |face: &FaceAtEdge| (Panel(face.panel as u16), Side(face.side as u8));
            faces.iter().map(move |face| (corner(face), edge))
        });
        let edge_of: NumberMap<Corner, usize> = sides.collect();
        let solids = PlateSpread::all(layout, seams, &lying, &edges);
        let face = |(nth, lying): (usize, Lying)| {
            let corners = layout.panels()[nth].frame.corners();
            let middle = middle_of(corners);
            let side = |side| {
                let (from, to) = side_of(corners, side);
                let out = (from + to) / 2.0 - middle;
                (out.normalize_or_zero(), (to - from).normalize_or_zero())
            };
            let solid = &solids[nth];
            BeadFace {
                lying,
                middle: solid.place(middle) + outward(corners) * solid.belly_mm,
                sides: (0..corners.len()).map(side).collect(),
            }
        };
        let faces: Vec<BeadFace> = lying.into_iter().enumerate().map(face).collect();
        let mut at_edge: NumberMap<usize, Vec<RowPlace>> = NumberMap::default();
        for (index, row) in layout.rows() {
            let own = (row.panel, row.side);
            let locked = seams.sides_of(index).iter();
            let locked = locked.map(|&(panel, side, _)| (panel, side));
            let fills = seams.fills_on(index).iter().copied();
            let sides = std::iter::once(own).chain(locked).chain(fills);
            let sides: Vec<(&BeadFace, Side)> = sides
                .map(|(panel, side)| (&faces[panel.index()], side))
                .collect();
            let mut place = RowPlace::of(index, &sides);
            let others = at_edge.entry(edge_of[&own]).or_default();
            others.iter_mut().for_each(|other| place.part(other));
            others.push(place);
        }
        let last = layout
            .rows()
            .last()
            .map_or(0, |(index, _)| usize::from(index.0) + 1);
        let mut rows = vec![DVec3::ZERO; last];
        for place in at_edge.into_values().flatten() {
            rows[usize::from(place.row.0)] = place.middle;
        }
        let mut places = BeadPlaces {
            layout,
            faces,
            rows,
            tips: NumberMap::default(),
        };
        places.tips = places.gathered_tips(seams);
        places.push_apart(seams);
        places
    }

    /// Where tip beads lie whose corner has come together with others, and the way
    /// along their holes: all that meet there in a ring round the corner, as close
    /// to it as its corner beads leave room.
    fn gathered_tips(&self, seams: &Seams) -> NumberMap<Bead, (DVec3, DVec3)> {
        let mut by_corner: NumberMap<Corner, Vec<(Bead, DVec3)>> = NumberMap::default();
        for (index, row) in self.layout.rows() {
            let corner = (row.panel, row.side);
            let tips = by_corner.entry(seams.first_of(corner)).or_default();
            let at = self.faces[row.panel.index()].corner(row.side);
            tips.extend(
                (0..row.tips).map(|tip| (self.layout.row_bead(index, row.beads + tip), at)),
            );
        }
        let bead = self.layout.project().bead_mm();
        // Beads that lie across each other need a little more than their width.
        let clear = 1.25 * bead.y;
        let mut gathered = NumberMap::default();
        for (corner, mut tips) in by_corner {
            let corners = seams.together(corner);
            if tips.is_empty() || corners.len() < 2 {
                continue;
            }
            let faces = || {
                corners
                    .iter()
                    .map(|(panel, side)| (&self.faces[panel.index()], *side))
            };
            let up = faces()
                .map(|(face, _)| face.outward())
                .sum::<DVec3>()
                .normalize_or_zero();
            let middle =
                faces().map(|(face, side)| face.corner(side)).sum::<DVec3>() / corners.len() as f64;
            let (x, y) = up.any_orthonormal_pair();
            let round = |at: &DVec3| (*at - middle).dot(y).atan2((*at - middle).dot(x));
            tips.sort_by(|a, b| round(&a.1).total_cmp(&round(&b.1)));
            let half = PI / tips.len() as f64;
            let radius = match tips.len() {
                1 => 0.0,
                2 => bead.y / 2.0,
                _ => bead.x / 2.0 / half.tan() + bead.y / 2.0,
            };
            let beside = corners.iter().flat_map(|corner| self.ends_at(*corner));
            let beside: Vec<DVec3> = beside.map(|bead| self.bead(bead)).collect();
            let first = round(&tips[0].1);
            for (nth, (tip, _)) in tips.iter().enumerate() {
                let (sin, cos) = (first + 2.0 * half * nth as f64).sin_cos();
                let at = middle + (x * cos + y * sin) * radius;
                let high = beside.iter().map(|other| {
                    let to = at - *other;
                    let level = to.reject_from(up).length();
                    (clear * clear - level * level).max(0.0).sqrt() - to.dot(up)
                });
                let high = high.fold(0.0, f64::max);
                gathered.insert(*tip, (at + up * high, y * cos - x * sin));
            }
        }
        gathered
    }

    /// The up beads and the beads of join rows next to a corner.
    fn ends_at(&self, (panel, side): Corner) -> Vec<Bead> {
        let layout = self.layout;
        if !layout.is_begun(panel) {
            return vec![];
        }
        let next = layout.kind(panel).next_side(side);
        let ends = [
            (layout.row_on(panel, side), true),
            (layout.row_on(panel, next), false),
        ];
        let in_rows = ends.into_iter().filter_map(|(row, is_last)| {
            let last = layout.row(row?).beads.checked_sub(1)?;
            Some(layout.row_bead(row?, if is_last { last } else { 0 }))
        });
        let edge = [
            layout.edge_end(panel, side),
            layout.edge_bead(panel, next, 0),
        ];
        edge.into_iter().chain(in_rows).collect()
    }

    /// Where the middle of a bead lies, mm.
    pub fn bead(&self, bead: Bead) -> DVec3 {
        self.seat(self.layout.seat(bead))
    }

    /// Where the middle of the bead in a seat lies, mm.
    pub fn seat(&self, seat: Seat) -> DVec3 {
        let made = self.layout.panel(seat.panel);
        if let Some(strip) = self.layout.kind(seat.panel).strip() {
            return made.frame.in_rectangle(strip.middle(seat.spot()));
        }
        let face = &self.faces[seat.panel.index()];
        let seat = face.lying.by_law(seat);
        let (out_mm, along_mm) = face.lying.at(self.layout, seat);
        let (out, along) = face.sides[seat.side.index()];
        if let Some((at, _)) = self.gathered(seat) {
            return at;
        }
        let middle = match seat.part {
            Part::JoinRow(row) => self.rows[usize::from(row.0)],
            Part::Face | Part::Tip(_) => face.middle + out * out_mm,
        };
        middle + along * along_mm
    }

    fn gathered(&self, seat: Seat) -> Option<(DVec3, DVec3)> {
        let is_tip = matches!(seat.part, Part::Tip(_));
        is_tip.then(|| self.tips.get(&self.layout.bead_in(seat)).copied())?
    }

    /// The way along the hole of the bead in a seat, one long.
    pub fn along(&self, seat: Seat) -> DVec3 {
        if let Some((_, along)) = self.gathered(seat) {
            return along;
        }
        let kind = self.layout.kind(seat.panel);
        let face = &self.faces[seat.panel.index()];
        let seat = face.lying.by_law(seat);
        let side = |side: Side| face.sides[side.index()].1;
        match face.lying.is_on_corner(self.layout, seat) {
            true => (side(seat.side) + side(kind.next_side(seat.side))).normalize_or_zero(),
            false => side(seat.side),
        }
    }

    /// The corners of the lines of up beads of all panels that are made, mm.
    pub fn rim_corners(&self) -> Vec<DVec3> {
        let made = self.layout.begun_panels();
        made.flat_map(|(panel, _)| {
            let face = &self.faces[panel.index()];
            (0..face.sides.len() as u8).map(|side| face.corner(Side(side)))
        })
        .collect()
    }
}

/// Where a row lies.
#[derive(Clone, Copy, Debug)]
struct RowPlace {
    row: RowIndex,
    /// Its middle, mm.
    middle: DVec3,
    /// The way out from its faces, one long; none where they lie in one plane.
    out: DVec3,
    /// How far it stands from the beads in its column of the faces' rounds before
    /// the last, mm.
    room_mm: f64,
    /// How far apart beads are to stand, mm.
    column_mm: f64,
}

impl RowPlace {
    /// Midway between the up beads of its faces; and so far out that it stands a
    /// column from the round before theirs.
    fn of(row: RowIndex, sides: &[(&BeadFace, Side)]) -> RowPlace {
        let rims = sides.iter().map(|(face, side)| face.rim(*side));
        let outs = sides.iter().map(|(face, side)| face.sides[side.index()].0);
        let column_mm = sides
            .iter()
            .map(|(face, _)| 2.0 * face.lying.half_column_mm());
        let column_mm = column_mm.fold(0.0, f64::max);
        let (first, side) = sides[0];
        let under = first.rim(side) - first.sides[side.index()].0 * first.lying.pitch_mm();
        let mut place = RowPlace {
            row,
            middle: rims.sum::<DVec3>() / sides.len() as f64,
            out: outs.sum::<DVec3>().normalize_or_zero(),
            room_mm: 0.0,
            column_mm,
        };
        let to = under - place.middle;
        place.room_mm = to.length();
        let short = column_mm * column_mm - to.length_squared();
        match sides.len() {
            1 => place.middle += place.out * (column_mm / 2.0),
            2 if short > 0.0 => {
                let along = to.dot(place.out);
                place.middle += place.out * (along + (along * along + short).sqrt());
            }
            _ => {}
        }
        place
    }

    /// Two rows at one hinge part: the one that has more room moves, or both do.
    fn part(&mut self, other: &mut RowPlace) {
        let apart = self.middle - other.middle;
        let short = self.column_mm - apart.length();
        if short <= 0.0 {
            return;
        }
        let way = apart.normalize_or(self.out) * short;
        let share = match self.room_mm - other.room_mm {
            more if more.abs() < 0.01 * self.column_mm => 0.5,
            more => f64::from(u8::from(more > 0.0)),
        };
        self.middle += way * share;
        other.middle -= way * (1.0 - share);
    }
}

#[cfg(test)]
pub(crate) mod tests;
