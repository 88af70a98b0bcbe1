//! Chooses a view in which the current work is visible.
//!
//! A few turns of the piece are tried on a small picture, and the one that
//! shows the most of the work is chosen.

use super::camera::Camera;
use super::raster::{PictureSpot, picture};
use crate::geometry::{FaceState, PlateSide, SideState, Standing};
use glam::{DQuat, DVec3};

/// The small picture, in spots.
pub const SMALL: (usize, usize) = (48, 32);
/// The weight of a spot at the side being joined, compared with a spot of the
/// face.
const SIDE_WEIGHT: usize = 4;
/// From this part of the way out on, a spot counts as being at the side.
const AT_SIDE: f32 = 0.7;
/// The first view is kept if it shows at least this part of what the best one
/// shows.
const ENOUGH: f64 = 0.85;

/// The index of the best of some views.
pub fn best(views: &[Camera], places: &[Vec<DVec3>], standing: &Standing) -> usize {
    let seen = |camera: &Camera| {
        let mut weights = vec![0; places.len()];
        for spot in picture(camera, places).spots() {
            weights[spot.plate as usize] += weight(spot, standing);
        }
        // For a join, seeing some of both faces is better than all of one.
        let sum: f64 = weights.into_iter().map(|n| (n as f64).sqrt()).sum();
        (100.0 * sum) as usize
    };
    let seen: Vec<usize> = views.iter().map(seen).collect();
    let most = seen.iter().copied().max().unwrap_or(0);
    let enough = |s: &usize| *s as f64 >= ENOUGH * most as f64;
    match seen.first().is_some_and(enough) {
        true => 0,
        false => seen.iter().position(|s| *s == most).unwrap_or(0),
    }
}

/// The weight of a spot: 0 if it does not show the current work.
pub fn weight(spot: &PictureSpot, standing: &Standing) -> usize {
    let (plate, side) = (spot.plate as usize, spot.side as usize);
    let is_side = standing.sides[plate][side] == SideState::Now && spot.out > AT_SIDE;
    let is_face = standing.faces[plate] == FaceState::Now
        || standing.join.iter().any(|side| side.plate == plate);
    usize::from(is_face) + SIDE_WEIGHT * usize::from(is_side)
}

/// Turns of the piece that make the direction `seen` face the maker: straight,
/// or a little to one side.
pub fn towards(seen: DVec3) -> Vec<DQuat> {
    let Some(from) = seen.try_normalize() else {
        return vec![];
    };
    let to = [
        DVec3::new(0.36, 0.36, 0.86),
        DVec3::new(-0.4, 0.3, 0.86),
        DVec3::new(0.2, -0.36, 0.91),
    ];
    to.iter()
        .map(|to| DQuat::from_rotation_arc(from, to.normalize()))
        .collect()
}

/// The faces that are being worked on.
pub fn worked(standing: &Standing) -> Vec<usize> {
    let mut faces: Vec<usize> = standing.join.iter().map(|s: &PlateSide| s.plate).collect();
    let now = |f: &usize| standing.faces[*f] == FaceState::Now;
    faces.extend((0..standing.faces.len()).filter(now));
    faces.sort_unstable();
    faces.dedup();
    faces
}
