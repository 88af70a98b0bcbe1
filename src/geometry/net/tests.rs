//! Tests of nets: faces stay stiff, lie flat without overlaps, and fold to the
//! solid.

use super::*;
use crate::beadwork::project::{Closing, Solid};
use crate::geometry::polygon::area;
use crate::geometry::testing::{body, project};

fn assert_edges_keep_their_length(body: &Shape, net: &Net, folded: f64) {
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

fn solids() -> [Shape; 4] {
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
            assert_edges_keep_their_length(body, &net, f64::from(part) / 10.0);
        }
    }
}

/// Every net of a regular solid lies in one plane without overlapping faces (T.
/// Horiyama and W. Shoji, 2011), and folds back to the solid.
#[test]
fn the_net_of_a_solid_lies_flat_and_folds_to_the_solid() {
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

/// Halfway, a fold has turned by half its angle: 180° minus the handbook's
/// dihedral angle (from memory: 70.53°, 109.47°, 138.19°, 90°).
#[test]
fn folds_go_from_flat_to_the_dihedral_angle_of_the_handbook() {
    let handbook = [70.5288, 109.4712, 138.1897, 90.0];
    for (body, dihedral) in solids().iter().zip(handbook) {
        let net = Net::of(body);
        for (folded, part) in [(1.0, 1.0), (0.5, 0.5), (0.25, 0.25)] {
            let at = net.at(folded);
            let fold = net.order[1].fold.expect("it is connected to the first");
            let (a, b) = (outward(&at[fold.parent]), outward(&at[net.order[1].plate]));
            let angle = a.angle_between(b).to_degrees();
            assert!((angle - part * (180.0 - dihedral)).abs() < 1e-3, "{angle}");
        }
    }
}

/// Six panels round a point: the net is a hexagon, and all six spokes stay
/// joined at all times; when it is folded, the two opposite corners meet.
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

/// The strips of a ring's tetrahedra, side by side: the usual net of such a
/// ring, as in D. Schattschneider and W. Walker, 1977.
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

/// Six faces round a point are one net on paper, with the lids. In a ring each
/// tetrahedron is a net of its own. Edges keep their length.
#[test]
fn each_solid_is_one_net_on_paper() {
    let sizes = |body: &Shape| {
        let nets = Net::of(body).on_paper();
        for face in nets.iter().flatten() {
            let plate = &body.plates[face.plate].corners;
            let is = face.corners[0].distance(face.corners[1]);
            assert!((is - plate[0].distance(plate[1])).abs() < 1e-6);
            assert!(area(&face.corners).0 > 0.0, "seen from outside");
        }
        nets.iter().map(Vec::len).collect::<Vec<_>>()
    };
    assert_eq!(sizes(&body(project::folded_pair(5, 1))), [8]);
    assert_eq!(sizes(&body(project::ring(8, 3, Closing::SetIn))), [4; 8]);
    for body in solids() {
        assert_eq!(sizes(&body), [body.plates.len()]);
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

/// A panel that is set in the middle of a fill lies in its plane and round its
/// middle, folded and flat, and counts as joined once it is locked.
#[test]
fn a_panel_in_the_middle_of_a_fill_moves_with_it() {
    use crate::beadwork::Step;
    use crate::beadwork::amend::{Amendment, OpeningEnd};
    use crate::beadwork::sequence::Sequence;
    use crate::beadwork::testing;
    use crate::geometry::standing::{FaceState, Standing};
    let plain = Sequence::new(testing::folded_pair(6, 2));
    let job = *plain.goal().order.last().unwrap();
    let how = OpeningEnd::SetInMiddle { kind: 0, rounds: 2 };
    let set_in = plain.amended(Step(0), &Amendment::Opening { job, how });
    let set_in = set_in.unwrap();
    let body = Shape::of(&set_in);
    let [within] = body.set_in[..] else {
        panic!("one panel is set in")
    };
    let net = Net::of(&body);
    for folded in [0.0, 0.3, 0.8, 1.0] {
        let places = net.at(folded);
        let [inner, outer] = [within.plate, within.around].map(|p| &places[p]);
        assert!(middle_of(inner).distance(middle_of(outer)) < 1e-9);
        assert!(outward(inner).distance(outward(outer)) < 1e-9);
    }
    let faces = Standing::finished(&set_in, &body).faces;
    assert!(faces.iter().all(|face| *face == FaceState::Joined));
}
