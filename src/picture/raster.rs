//! The raster: for each spot of the picture, the nearest face and the place on
//! it.
//!
//! A face is flat, so the place under a spot is where the ray from the eye
//! meets its plane. In that plane the two ends of a side span coordinates from
//! the middle of the face: out·(start + along·(end − start)). The side for
//! which both are between 0 and 1 is the one under the spot; if there is none,
//! the spot lies beside the face.

use super::camera::Camera;
use crate::beadwork::frame::{middle_of, outward, side_of};
use glam::{DVec2, DVec3};

/// What a spot shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PictureSpot {
    /// Its plate.
    pub plate: u32,
    /// Its side, from 0.
    pub side: u32,
    /// How far out from the middle (0) to the side (1).
    pub out: f32,
    /// How far along the side, 0 to 1.
    pub along: f32,
    deep: f32,
}

impl PictureSpot {
    const NOTHING: PictureSpot = PictureSpot {
        plate: u32::MAX,
        side: 0,
        out: 0.0,
        along: 0.0,
        deep: f32::INFINITY,
    };
}

/// A face as the camera sees it.
#[derive(Clone, Debug)]
pub struct SeenFace {
    /// Its corners in the picture.
    pub corners: Vec<DVec2>,
    /// Its middle in the picture.
    pub middle: DVec2,
    /// The unit normal of the visible side: to the right, up, towards the
    /// maker.
    pub normal: DVec3,
    /// For each side, its distance from the middle, in rows of spots.
    pub side_distance: Vec<f64>,
    /// The area that it would cover if nothing hid it, in spots as wide as they
    /// are high.
    pub spots: f64,
}

/// A picture.
#[derive(Clone, Debug)]
pub struct Picture {
    /// Columns and rows.
    pub size: (usize, usize),
    /// How many spots side by side are as wide as one is high.
    pub slim: f64,
    spots: Vec<PictureSpot>,
    /// The faces, by plate.
    pub faces: Vec<SeenFace>,
}

impl Picture {
    /// What a spot shows, if anything.
    pub fn at(&self, x: usize, y: usize) -> Option<&PictureSpot> {
        let (wide, high) = self.size;
        let inside = x < wide && y < high;
        let spot = inside.then(|| &self.spots[y * wide + x])?;
        (spot.plate != u32::MAX).then_some(spot)
    }

    /// All spots that show something.
    pub fn spots(&self) -> impl Iterator<Item = &PictureSpot> {
        self.spots.iter().filter(|spot| spot.plate != u32::MAX)
    }
}

/// A side of a face: the dot products with these vectors take a point of its
/// plane to `out` and `out·along`.
struct Wedge {
    out: DVec3,
    out_along: DVec3,
}

/// Draws faces, given by their corners in mm.
pub fn picture(camera: &Camera, places: &[Vec<DVec3>]) -> Picture {
    let (wide, high) = camera.size;
    let mut picture = Picture {
        size: camera.size,
        slim: camera.slim,
        spots: vec![PictureSpot::NOTHING; wide * high],
        faces: Vec::with_capacity(places.len()),
    };
    for (plate, corners) in places.iter().enumerate() {
        let seen: Vec<DVec3> = corners.iter().map(|c| camera.seen(*c)).collect();
        draw_face(camera, &mut picture, plate as u32, &seen);
    }
    picture
}

fn draw_face(camera: &Camera, picture: &mut Picture, plate: u32, corners: &[DVec3]) {
    let n = corners.len();
    let middle = middle_of(corners);
    let mut normal = outward(corners);
    if normal.dot(Camera::eye() - middle) < 0.0 {
        normal = -normal;
    }
    let wedges: Vec<Wedge> = (0..n)
        .map(|s| side_of(corners, s))
        .map(|(from, to)| wedge(from - middle, to - middle))
        .collect();
    let on: Vec<DVec2> = corners.iter().map(|c| camera.on_picture(*c)).collect();
    let at = camera.on_picture(middle);
    let cross = |s: usize| {
        let square = |p: DVec2| DVec2::new((p.x - at.x) / camera.slim, p.y - at.y);
        let (a, b) = side_of(&on, s);
        let (a, b) = (square(a), square(b));
        (a.perp_dot(b).abs(), (b - a).length().max(1e-9))
    };
    picture.faces.push(SeenFace {
        middle: at,
        normal,
        side_distance: (0..n).map(|s| cross(s).0 / cross(s).1).collect(),
        spots: (0..n).map(|s| cross(s).0 / 2.0).sum(),
        corners: on.clone(),
    });
    let (wide, high) = picture.size;
    let bound = |of: fn(&DVec2) -> f64, most: usize| {
        let least = on.iter().map(of).fold(f64::MAX, f64::min).floor();
        let last = on.iter().map(of).fold(f64::MIN, f64::max).ceil();
        let within = |v: f64| v.clamp(0.0, most as f64) as usize;
        within(least)..within(last)
    };
    let (columns, rows) = (bound(|p| p.x, wide), bound(|p| p.y, high));
    let eye = Camera::eye();
    let to_plane = normal.dot(middle - eye);
    let from_middle = eye - middle;
    for y in rows {
        let mut last = 0;
        for x in columns.clone() {
            let ray = camera.ray(x as f64 + 0.5, y as f64 + 0.5);
            let steep = normal.dot(ray);
            // Edge on, or behind the eye.
            if steep > -1e-9 {
                continue;
            }
            let deep = to_plane / steep;
            let spot = &mut picture.spots[y * wide + x];
            if deep as f32 >= spot.deep {
                continue;
            }
            let point = from_middle + ray * deep;
            // Most likely it is the side of the spot before.
            for s in (0..n).map(|k| (k + last) % n) {
                let out = wedges[s].out.dot(point);
                let part = wedges[s].out_along.dot(point);
                if out < 0.0 || part < 0.0 || part > out {
                    continue;
                }
                last = s;
                if out <= 1.0 {
                    *spot = PictureSpot {
                        plate,
                        side: s as u32,
                        out: out as f32,
                        along: if out > 0.0 { (part / out) as f32 } else { 0.0 },
                        deep: deep as f32,
                    };
                }
                break;
            }
        }
    }
}

/// Solves point = out·from + part·(to − from) for points of the plane.
fn wedge(from: DVec3, to: DVec3) -> Wedge {
    let side = to - from;
    let (a, b, c) = (from.dot(from), from.dot(side), side.dot(side));
    let det = a * c - b * b;
    if det.abs() < 1e-18 {
        return Wedge {
            out: DVec3::splat(f64::NAN),
            out_along: DVec3::splat(f64::NAN),
        };
    }
    Wedge {
        out: (from * c - side * b) / det,
        out_along: (side * a - from * b) / det,
    }
}

#[cfg(test)]
mod tests;
