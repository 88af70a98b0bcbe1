//! The orientation and size of the piece in front of the camera: as it lies on
//! the mat, with the current work in front, as large as possible.
//!
//! To show the current work, a few turns of the piece are tried on a small
//! picture, and the one that shows the most of it is chosen.

use super::camera::{Camera, Stand};
use super::raster::{PictureSpot, picture};
use super::view::{Moving, View};
use crate::beadwork::number::{Job, Step};
use crate::geometry::{FaceState, PlateSide, RingCycle, SideState, Standing};
use glam::{DQuat, DVec3};
use std::f64::consts::{PI, TAU};

/// A long piece is shown larger than its bounding sphere allows, at most by
/// this factor.
const MAX_ENLARGED: f64 = 1.7;
/// The turn of a piece in its home position, so that several faces show; then
/// the same for a flat piece, a ring, and a net. Pitch, then yaw, radians.
const HOME: (f64, f64) = (0.42, -0.55);
const HOME_FLAT: (f64, f64) = (-0.5, -0.35);
const HOME_RING: (f64, f64) = (-0.62, 0.0);
const HOME_NET: f64 = -0.3;
/// Views of a ring that are tried on each of its two faces.
const RING_VIEWS: u32 = 8;

impl View {
    /// The camera for a picture of `size` spots, of which `slim` side by side
    /// are as wide as one is high.
    pub fn camera(
        &self,
        places: &[Vec<DVec3>],
        size: (usize, usize),
        slim: f64,
        mirrored: bool,
    ) -> Camera {
        let all = || places.iter().flatten();
        let least = all().fold(DVec3::MAX, |a, c| a.min(*c));
        let most = all().fold(DVec3::MIN, |a, c| a.max(*c));
        let middle = match self.ring.is_some() && self.folded >= 1.0 {
            true => DVec3::ZERO,
            false => (least + most) / 2.0,
        };
        let reach = all().map(|c| c.distance(middle)).fold(1e-6, f64::max);
        // A ring keeps its size while it turns.
        let radius = match (&self.ring, self.folded >= 1.0) {
            (Some(ring), true) => ring.reach_mm().max(reach),
            _ => reach,
        };
        let aim = DQuat::IDENTITY.slerp(self.aim, self.folded);
        let home = self.tilt() * self.stand() * aim;
        let at_home = Camera {
            turn: home,
            middle,
            radius,
            zoom: 1.0,
            size,
            slim,
            mirrored,
        };
        // As large as possible in the home position; most of it stays visible
        // when it is turned from there.
        let room = at_home.room_for(all()).clamp(0.8, MAX_ENLARGED);
        // Zooming in moves towards the current work.
        let part = (1.0 - 1.0 / self.zoom).max(0.0);
        let worked = || self.worked.iter().flat_map(|plate| &places[*plate]);
        let middle = match worked().count() {
            0 => middle,
            n => middle.lerp(worked().sum::<DVec3>() / n as f64, part),
        };
        Camera {
            turn: self.turn * home,
            zoom: self.zoom * room,
            middle,
            ..at_home
        }
    }

    /// The turn in the home position: the flat net is seen almost from the
    /// front.
    fn tilt(&self) -> DQuat {
        let (pitch, yaw) = match () {
            () if self.body.is_flat() && self.straight => (0.0, 0.0),
            () if self.body.is_flat() => HOME_FLAT,
            () if self.is_ring() => HOME_RING,
            () => HOME,
        };
        let home = DQuat::from_rotation_x(pitch) * DQuat::from_rotation_y(yaw);
        match self.body.is_flat() {
            true => home,
            false => DQuat::from_rotation_x(HOME_NET).slerp(home, self.folded),
        }
    }

    /// The orientation of the piece: a ring lies flat, a folded pair has its
    /// hinge upright, all others show the front of their net.
    fn stand(&self) -> DQuat {
        let first = &self.body.plates[0];
        let side_up = || {
            let (from, to) = first.side(0);
            (from + to) / 2.0 - first.middle()
        };
        let front = self.net.front();
        let net = Stand {
            front,
            up: match self.body.is_flat() {
                true => side_up(),
                false => self.net.up(),
            },
        };
        let finished = match (&self.ring, self.net.hinge()) {
            (Some(_), _) => Stand {
                front: DVec3::Z,
                up: DVec3::Y,
            },
            (None, Some((hinge, across))) => Stand {
                front: across,
                up: hinge,
            },
            (None, None) => Stand {
                front,
                up: side_up(),
            },
        };
        let (net, finished) = (net.turn(), finished.turn());
        // A net can also lie upside down: the shorter turn to the solid is
        // chosen.
        let over = DQuat::from_rotation_z(PI) * net;
        let net = match over.angle_between(finished) < net.angle_between(finished) {
            true => over,
            false => net,
        };
        net.slerp(finished, self.folded)
    }

    /// Shows the piece as it lies on the mat during a job: flat until it is
    /// folded and tied, and folding during that job.
    fn lay(&mut self, job: Option<Job>) {
        self.moving = None;
        let (Some(tied_by), Some(job)) = (self.body.tied_by, job) else {
            self.folded = 1.0;
            return;
        };
        self.folded = if job <= tied_by { 0.0 } else { 1.0 };
        self.moving = (job == tied_by).then_some(Moving::Folding);
    }

    /// Turns the piece in its home position so that the current work is
    /// visible, as it lies on the mat after step `done`.
    pub fn aim_at(&mut self, standing: &Standing, job: Option<Job>, done: Step) {
        if self.aimed == Some(done) {
            return;
        }
        self.aimed = Some(done);
        self.go_home();
        self.lay(job);
        self.aim = DQuat::IDENTITY;
        let worked = worked(standing);
        self.worked = worked.clone();
        if worked.is_empty() || self.body.is_flat() {
            return;
        }
        let (folded, cycle) = (self.folded, self.cycle);
        self.folded = 1.0;
        self.cycle = self.ring.as_ref().map_or(0.0, RingCycle::home);
        let mut views = vec![DQuat::IDENTITY];
        match self.is_ring() {
            true => {
                let flips = [DQuat::IDENTITY, DQuat::from_rotation_x(PI)];
                let round = |flip| {
                    (0..RING_VIEWS).map(move |n| {
                        flip * DQuat::from_rotation_z(f64::from(n) * TAU / f64::from(RING_VIEWS))
                    })
                };
                views.extend(flips.into_iter().flat_map(round));
            }
            false => {
                let home = self.tilt() * self.stand();
                let out = worked.iter().map(|f| self.body.plates[*f].outward());
                let seen = home * out.sum::<DVec3>();
                views.extend(
                    towards(seen)
                        .into_iter()
                        .map(|turn| home.inverse() * turn * home),
                );
            }
        }
        let places = self.places();
        let looks: Vec<Camera> = views
            .iter()
            .map(|way| {
                self.aim = *way;
                self.camera(&places, SMALL, 1.0, false)
            })
            .collect();
        self.aim = views[best(&looks, &places, standing)];
        (self.folded, self.cycle) = (folded, cycle);
    }
}

/// The small picture, in spots.
const SMALL: (usize, usize) = (48, 32);
/// The weight of a spot at the side being joined, compared with a spot of the
/// face.
const SIDE_WEIGHT: usize = 4;
/// From this part of the way out on, a spot counts as being at the side.
const AT_SIDE: f32 = 0.7;
/// The first view is kept if it shows at least this part of what the best one
/// shows.
const ENOUGH: f64 = 0.85;

/// The index of the best of some views.
fn best(views: &[Camera], places: &[Vec<DVec3>], standing: &Standing) -> usize {
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
fn towards(seen: DVec3) -> Vec<DQuat> {
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
fn worked(standing: &Standing) -> Vec<usize> {
    let mut faces: Vec<usize> = standing.join.iter().map(|s: &PlateSide| s.plate).collect();
    let now = |f: &usize| standing.faces[*f] == FaceState::Now;
    faces.extend((0..standing.faces.len()).filter(now));
    faces.sort_unstable();
    faces.dedup();
    faces
}
