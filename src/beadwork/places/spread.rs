//! How far the plates of a solid are pushed apart, so that the beads of its faces
//! have their room where they meet: see [`super`].

use crate::beadwork::frame::{middle_of, outward, side_of};
use crate::beadwork::lying::Lying;
use crate::beadwork::settle::Groups;
use crate::beadwork::{Layout, Panel, Seams};
use glam::DVec3;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Sides whose ends lie within this part of a side lie along one edge.
const CLOSE: f64 = 0.05;

/// Faces that stand closer than this, on either side, are taken to stand so,
/// radians: 15 degrees.
const SHARPEST: f64 = 15.0 * PI / 180.0;

/// How the plates of a panel's solid are pushed apart for its beads.
#[derive(Clone, Copy, Debug)]
pub(super) struct PlateSpread {
    /// How far the up beads are from the edge, along the plate, mm.
    inward_mm: f64,
    /// How far the faces bulge over their plates, mm.
    pub belly_mm: f64,
    panels: u32,
    /// How many times as large its plates are.
    scale: f64,
    /// The middle of its plates, mm.
    middle: DVec3,
    /// How many times as far from the others it lies.
    spread: f64,
}

impl PlateSpread {
    /// Where a point of the plates comes to lie.
    pub fn place(&self, plate: DVec3) -> DVec3 {
        self.middle * self.spread + (plate - self.middle) * self.scale
    }

    /// How far the plates are pushed apart, for each panel.
    pub fn all(
        layout: &Layout,
        seams: &Seams,
        lying: &[Lying],
        edges: &[Vec<FaceAtEdge>],
    ) -> Vec<PlateSpread> {
        let panels = layout.panels();
        let mut groups = Groups::of(panels.len());
        for pair in edges.iter().flat_map(|faces| faces.windows(2)) {
            groups.join(pair[0].panel, pair[1].panel);
        }
        let in_middle: Vec<bool> = (0..panels.len())
            .map(|panel| {
                let around = seams.around(Panel(panel as u16));
                around
                    .inspect(|around| groups.join(panel, around.index()))
                    .is_some()
            })
            .collect();
        let group_of: Vec<usize> = (0..panels.len()).map(|p| groups.first(p)).collect();
        let mut angles = vec![(f64::MAX, f64::MIN); panels.len()];
        for faces in edges {
            for (nth, face) in faces.iter().enumerate() {
                let Some(over) = face.over_plate(&faces[(nth + 1) % faces.len()]) else {
                    continue;
                };
                let (least, most) = &mut angles[group_of[face.panel]];
                (*least, *most) = (least.min(over), most.max(over));
            }
        }
        let mut half_column = vec![0.0_f64; panels.len()];
        for (panel, group) in group_of.iter().enumerate() {
            half_column[*group] = half_column[*group].max(lying[panel].half_column_mm());
        }
        let solid = |(angles, half_column): ((f64, f64), f64)| {
            let (least, most) = match angles.0 <= angles.1 {
                true => angles,
                false => (0.0, 0.0),
            };
            let from_edge = half_column / ((most - least) / 2.0).cos();
            let (over, in_plate) = ((least + most) / 2.0).sin_cos();
            PlateSpread {
                inward_mm: from_edge * in_plate,
                belly_mm: from_edge * over,
                panels: 0,
                scale: 0.0,
                middle: DVec3::ZERO,
                spread: 0.0,
            }
        };
        let mut solids: Vec<PlateSpread> = angles.into_iter().zip(half_column).map(solid).collect();
        for (panel, made) in panels.iter().enumerate() {
            let corners = made.frame.corners();
            let solid = &mut solids[group_of[panel]];
            solid.panels += 1;
            solid.middle += middle_of(corners);
            if layout.kind_of(made.spec).strip().is_none() && !in_middle[panel] {
                let (from, to) = side_of(corners, 0);
                let plate = middle_of(corners).distance((from + to) / 2.0);
                let needs = lying[panel].rim_mm() + solid.inward_mm;
                if plate > 0.0 {
                    solid.scale = solid.scale.max(needs / plate);
                }
            }
        }
        let largest = solids.iter().rev().max_by_key(|solid| solid.panels);
        let spread = largest.map_or(1.0, |solid| solid.scale);
        for solid in &mut solids {
            solid.middle /= f64::from(solid.panels.max(1));
            solid.spread = spread;
        }
        group_of.into_iter().map(|group| solids[group]).collect()
    }
}

/// A face at an edge of the plates.
#[derive(Clone, Copy, Debug)]
pub(super) struct FaceAtEdge {
    pub panel: usize,
    pub side: usize,
    /// Round the edge from the first face, radians.
    at: f64,
    /// Whether its outside lies on from there.
    faces_on: bool,
}

impl FaceAtEdge {
    /// How far over its plate an up bead is to lie, radians, seen from the edge: as
    /// far as half the angle to the next face falls short of a right angle; below
    /// zero, under it, if the two turn their outsides to each other.
    fn over_plate(&self, next: &FaceAtEdge) -> Option<f64> {
        let between = (next.at - self.at).rem_euclid(TAU);
        let short = FRAC_PI_2 - between.clamp(SHARPEST, TAU - SHARPEST) / 2.0;
        match (self.faces_on, next.faces_on) {
            _ if self.panel == next.panel => None,
            (false, true) => Some(short),
            (true, false) => Some(-short),
            _ => None,
        }
    }
}

/// The faces at each edge of the plates, in order round it.
pub(super) fn edges(layout: &Layout) -> Vec<Vec<FaceAtEdge>> {
    let mut sides = vec![];
    for (panel, made) in layout.panels().iter().enumerate() {
        let corners = made.frame.corners();
        let ends = (0..corners.len()).map(|side| side_of(corners, side));
        let ends = ends.enumerate();
        sides.extend(ends.map(|(side, (from, to))| ((from + to) / 2.0, from, to, (panel, side))));
    }
    sides.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    let mut taken = vec![false; sides.len()];
    let mut edges = vec![];
    for (nth, &(half, from, to, (first, _))) in sides.iter().enumerate() {
        if taken[nth] {
            continue;
        }
        let close = CLOSE * from.distance(to);
        let axis = (to - from).normalize_or_zero();
        let into = |panel: usize| {
            let into = middle_of(layout.panels()[panel].frame.corners()) - half;
            (into - axis * into.dot(axis)).normalize_or_zero()
        };
        let x = into(first);
        let y = axis.cross(x);
        let mut faces = vec![];
        for (other, &(middle, a, b, (panel, side))) in sides.iter().enumerate().skip(nth) {
            if middle.x > half.x + close {
                break;
            }
            let near = |a: DVec3, b: DVec3| a.distance(b) < close;
            let lies = near(a, from) && near(b, to) || near(a, to) && near(b, from);
            if taken[other] || !lies {
                continue;
            }
            taken[other] = true;
            let way = into(panel);
            let outward = outward(layout.panels()[panel].frame.corners());
            faces.push(FaceAtEdge {
                panel,
                side,
                at: way.dot(y).atan2(way.dot(x)).rem_euclid(TAU),
                faces_on: axis.cross(way).dot(outward) > 0.0,
            });
        }
        faces.sort_by(|a, b| a.at.total_cmp(&b.at));
        edges.push(faces);
    }
    edges
}
