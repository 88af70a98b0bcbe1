//! The camera: it looks at the middle of the piece from a distance of four
//! radii.
//!
//! The piece turns about the screen's own axes, so that a key to the right
//! always turns what is seen to the right.

use glam::{DMat3, DQuat, DVec2, DVec3};

/// The distance of the camera, in radii of the piece.
const DISTANCE: f64 = 4.0;
/// The part of the shorter side of the picture that the piece fills in its home
/// position.
const FILLED: f64 = 0.92;

/// The orientation of a piece before it is turned: which of its directions
/// faces the maker, and which is up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// The direction that faces the maker.
    pub front: DVec3,
    /// The direction that is up, as nearly as possible.
    pub up: DVec3,
}

impl Stand {
    /// The turn that brings the piece into this orientation.
    pub fn turn(self) -> DQuat {
        let z = self.front.normalize_or(DVec3::Z);
        let right = self.up.cross(z);
        let x = right.normalize_or(z.any_orthonormal_vector());
        DQuat::from_mat3(&DMat3::from_cols(x, z.cross(x), z).transpose())
    }
}

/// A view of the piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// How the piece is turned.
    pub turn: DQuat,
    /// The point looked at, mm.
    pub middle: DVec3,
    /// The distance from there to the farthest part of the piece, mm.
    pub radius: f64,
    /// Magnification: 1 shows all of it.
    pub zoom: f64,
    /// Columns and rows of the picture, in spots.
    pub size: (usize, usize),
    /// How many spots side by side are as wide as one spot is high.
    pub slim: f64,
    /// Whether it is mirrored, for the left hand.
    pub mirrored: bool,
}

impl Camera {
    /// Rows of spots per radius, at the distance of the middle.
    fn scale(&self) -> f64 {
        let (wide, high) = self.size;
        // Nearer parts look larger: at most by 4/(4 − 1).
        let wide = wide as f64 / self.slim;
        let room = (wide.min(high as f64) / 2.0) * FILLED;
        room * self.zoom * ((DISTANCE * DISTANCE - 1.0).sqrt() / DISTANCE)
    }

    /// A point of the piece in the camera's coordinates: to the right, up, and
    /// towards the maker, in radii.
    pub fn seen(&self, point: DVec3) -> DVec3 {
        let seen = self.turn * (point - self.middle) / self.radius;
        match self.mirrored {
            true => DVec3::new(-seen.x, seen.y, seen.z),
            false => seen,
        }
    }

    /// Where a point in the camera's coordinates falls on the picture, in spots
    /// from the upper left.
    pub fn on_picture(&self, seen: DVec3) -> DVec2 {
        let near = DISTANCE / (DISTANCE - seen.z).max(0.1) * self.scale();
        let (wide, high) = self.size;
        DVec2::new(
            wide as f64 / 2.0 + seen.x * near * self.slim,
            high as f64 / 2.0 - seen.y * near,
        )
    }

    /// How much more than now it can be zoomed before points leave the picture.
    pub fn room_for<'a>(&self, points: impl Iterator<Item = &'a DVec3>) -> f64 {
        let (wide, high) = self.size;
        let half = DVec2::new(wide as f64, high as f64) / 2.0;
        let room = |point: &DVec3| {
            let off = (self.on_picture(self.seen(*point)) - half).abs();
            let room = half * FILLED / off.max(DVec2::splat(1e-6));
            room.min_element()
        };
        points.map(room).fold(f64::MAX, f64::min)
    }

    /// The eye, in radii.
    pub fn eye() -> DVec3 {
        DVec3::new(0.0, 0.0, DISTANCE)
    }

    /// The direction from the eye through the middle of a spot, with a depth of
    /// one radius.
    pub fn ray(&self, x: f64, y: f64) -> DVec3 {
        let (wide, high) = self.size;
        let far = DISTANCE * self.scale();
        DVec3::new(
            (x - wide as f64 / 2.0) / (far * self.slim),
            (high as f64 / 2.0 - y) / far,
            -1.0,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn camera() -> Camera {
        Camera {
            turn: DQuat::from_euler(glam::EulerRot::XYZ, 0.4, -0.7, 0.2),
            middle: DVec3::new(3.0, 4.0, 5.0),
            radius: 20.0,
            zoom: 1.0,
            size: (160, 48),
            slim: 2.0,
            mirrored: false,
        }
    }

    /// The ray through the spot of a point passes through the point.
    #[test]
    fn a_ray_is_the_inverse_of_the_projection() {
        let camera = camera();
        for point in [DVec3::new(10.0, 0.0, 1.0), DVec3::new(-3.0, 9.0, 17.0)] {
            let seen = camera.seen(point);
            let at = camera.on_picture(seen);
            let ray = camera.ray(at.x, at.y);
            let deep = Camera::eye().z - seen.z;
            assert!((Camera::eye() + ray * deep).distance(seen) < 1e-9);
        }
    }

    #[test]
    fn the_whole_sphere_of_the_piece_fits_the_picture() {
        let camera = camera();
        for n in 0..400 {
            let (a, b) = (f64::from(n) * 0.61, f64::from(n) * 0.37);
            let on = DVec3::new(a.cos() * b.cos(), a.sin() * b.cos(), b.sin());
            let at = camera.on_picture(camera.seen(camera.middle + on * camera.radius));
            assert!((0.0..160.0).contains(&at.x) && (0.0..48.0).contains(&at.y));
        }
    }

    #[test]
    fn the_front_faces_the_maker() {
        let stand = Stand {
            front: DVec3::X,
            up: DVec3::Z,
        };
        assert!((stand.turn() * DVec3::X).distance(DVec3::Z) < 1e-12);
        assert!((stand.turn() * DVec3::Z).distance(DVec3::Y) < 1e-12);
    }
}
