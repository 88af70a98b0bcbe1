//! The raster, checked with the ray casts of a general library.

use super::picture;
use crate::beadwork::Sequence;
use crate::beadwork::project::{Closing, Solid};
use crate::beadwork::testing;
use crate::geometry::{Net, RingCycle, Shape};
use crate::picture::camera::Camera;
use glam::{DQuat, DVec3};
use parry3d::math::Vector;
use parry3d::query::{Ray, RayCast as _};
use parry3d::shape::Triangle;

fn camera(places: &[Vec<DVec3>]) -> Camera {
    let all = || places.iter().flatten();
    let middle = all().sum::<DVec3>() / all().count() as f64;
    Camera {
        turn: DQuat::from_euler(glam::EulerRot::XYZ, 0.5, -0.8, 0.3),
        middle,
        radius: all().map(|c| c.distance(middle)).fold(0.0, f64::max),
        zoom: 1.1,
        size: (96, 40),
        slim: 2.0,
        mirrored: false,
    }
}

/// Asserts that every spot shows the face that a ray from the eye meets first.
fn assert_shows_what_rays_meet(places: &[Vec<DVec3>]) {
    let camera = camera(places);
    let seen = picture(&camera, places);
    let point = |p: DVec3| Vector::new(p.x as f32, p.y as f32, p.z as f32);
    // Faces with more than three sides are split into triangles round their
    // middle.
    let mut triangles = vec![];
    for (plate, corners) in places.iter().enumerate() {
        let c: Vec<DVec3> = corners.iter().map(|c| camera.seen(*c)).collect();
        let middle = c.iter().sum::<DVec3>() / c.len() as f64;
        for s in 0..c.len() {
            let (a, b) = (c[(s + c.len() - 1) % c.len()], c[s]);
            triangles.push((plate, Triangle::new(point(middle), point(a), point(b))));
        }
    }
    let (mut checked, mut shown) = (0, 0);
    for y in 0..seen.size.1 {
        for x in 0..seen.size.0 {
            let way = camera.ray(x as f64 + 0.5, y as f64 + 0.5);
            let ray = Ray::new(point(Camera::eye()), point(way));
            let met = |(plate, t): &(usize, Triangle)| {
                Some((t.cast_local_ray(&ray, 20.0, false)?, *plate))
            };
            let mut hits: Vec<(f32, usize)> = triangles.iter().filter_map(met).collect();
            hits.sort_by(|a, b| a.0.total_cmp(&b.0));
            let spot = seen.at(x, y).map(|s| s.plate as usize);
            let first = hits.first().copied();
            // Where two faces meet, either is right.
            let near = first.map_or(0.0, |f| f.0) + 0.02;
            let right = hits
                .iter()
                .filter(|h| h.0 < near)
                .any(|h| Some(h.1) == spot);
            let edge = spot.is_some() != first.is_some();
            checked += usize::from(!edge);
            shown += usize::from(spot.is_some());
            assert!(
                right || edge || first.is_none(),
                "{x} {y}: {spot:?} {hits:?}"
            );
        }
    }
    // At the outline, single precision occasionally gives another result.
    let all = seen.size.0 * seen.size.1;
    assert!(all - checked < all / 200, "{checked} of {all}");
    assert!(shown > all / 10, "{shown} of {all}");
}

#[test]
fn each_spot_shows_the_face_that_a_ray_meets_first() {
    for solid in [
        Solid::Tetrahedron,
        Solid::Octahedron,
        Solid::Icosahedron,
        Solid::Cube,
    ] {
        let body = Shape::of(&Sequence::new(testing::solid(solid, 6, Closing::SetIn)));
        assert_shows_what_rays_meet(&body.finished());
        assert_shows_what_rays_meet(&Net::of(&body).at(0.4));
    }
    let ring = Shape::of(&Sequence::new(testing::ring(8, 4, Closing::SetIn)));
    let turned = RingCycle::of(&ring).expect("a ring");
    for turn in [turned.home(), 1.3, 2.9] {
        assert_shows_what_rays_meet(&turned.at(turn));
    }
}
