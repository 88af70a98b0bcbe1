//! The regular solids: corners, and faces seen from outside.

use super::Solid;
use glam::DVec3;

/// Corners in mm and faces as lists of corners, anticlockwise from outside.
#[derive(Clone, Debug)]
pub struct Polyhedra {
    /// The corners. Solids that are hinged together share theirs.
    pub corners: Vec<DVec3>,
    /// The faces.
    pub faces: Vec<Vec<usize>>,
}

impl Polyhedra {
    /// A regular solid with edges of `edge_mm`, its middle at the origin.
    pub fn regular(solid: Solid, edge_mm: f64) -> Self {
        let (corners, edge) = unit_corners(solid);
        let scale = edge_mm / edge;
        let faces = match solid {
            Solid::Cube => square_faces(&corners),
            _ => triangle_faces(&corners, edge),
        };
        let mut solid = Polyhedra {
            corners: corners.into_iter().map(|c| c * scale).collect(),
            faces,
        };
        for face in 0..solid.faces.len() {
            solid.turn_outward(face, DVec3::ZERO);
        }
        solid
    }

    /// Turns a face so that it runs anticlockwise seen from outside of the
    /// solid whose middle is given.
    pub(super) fn turn_outward(&mut self, face: usize, middle: DVec3) {
        let c = &self.corners;
        let f = &mut self.faces[face];
        let normal = (c[f[1]] - c[f[0]]).cross(c[f[2]] - c[f[1]]);
        if normal.dot(c[f[0]] - middle) < 0.0 {
            f.reverse();
        }
    }
}

/// Corners of a solid, and the edge they have.
fn unit_corners(solid: Solid) -> (Vec<DVec3>, f64) {
    let signs = [1.0, -1.0];
    let mut corners = vec![];
    match solid {
        Solid::Tetrahedron => {
            corners.extend([
                DVec3::new(1.0, 1.0, 1.0),
                DVec3::new(1.0, -1.0, -1.0),
                DVec3::new(-1.0, 1.0, -1.0),
                DVec3::new(-1.0, -1.0, 1.0),
            ]);
            (corners, 8f64.sqrt())
        }
        Solid::Octahedron => {
            for axis in [DVec3::X, DVec3::Y, DVec3::Z] {
                corners.extend(signs.map(|s| axis * s));
            }
            (corners, 2f64.sqrt())
        }
        Solid::Cube => {
            for x in signs {
                for y in signs {
                    corners.extend(signs.map(|z| DVec3::new(x, y, z)));
                }
            }
            (corners, 2.0)
        }
        Solid::Icosahedron => {
            let golden = (1.0 + 5f64.sqrt()) / 2.0;
            for a in signs {
                for b in signs.map(|s| s * golden) {
                    corners.push(DVec3::new(0.0, a, b));
                    corners.push(DVec3::new(a, b, 0.0));
                    corners.push(DVec3::new(b, 0.0, a));
                }
            }
            (corners, 2.0)
        }
    }
}

/// Every three corners that lie an edge apart.
fn triangle_faces(corners: &[DVec3], edge: f64) -> Vec<Vec<usize>> {
    let near = |a: usize, b: usize| (corners[a].distance(corners[b]) - edge).abs() < 1e-9;
    let mut faces = vec![];
    for a in 0..corners.len() {
        for b in a + 1..corners.len() {
            for c in b + 1..corners.len() {
                if near(a, b) && near(b, c) && near(a, c) {
                    faces.push(vec![a, b, c]);
                }
            }
        }
    }
    faces
}

/// The four corners on each side of each axis, in turn round the face.
fn square_faces(corners: &[DVec3]) -> Vec<Vec<usize>> {
    let mut faces = vec![];
    for axis in [DVec3::X, DVec3::Y, DVec3::Z] {
        for sign in [1.0, -1.0] {
            let on = |i: &usize| corners[*i].dot(axis) * sign > 0.5;
            let mut face: Vec<usize> = (0..corners.len()).filter(on).collect();
            // Found in two rows of two; the second row is taken backwards.
            face.swap(2, 3);
            faces.push(face);
        }
    }
    faces
}

#[cfg(test)]
mod tests {
    use super::*;
    use parry3d::math::Vector;
    use parry3d::transformation::convex_hull;

    /// Corners, faces, edges and dihedral angles of the regular solids as any
    /// handbook gives them (from memory): 70.53°, 109.47°, 138.19°, 90°.
    #[test]
    fn regular_solids_have_the_handbook_s_faces_and_angles() {
        for (solid, corners, faces, dihedral) in [
            (Solid::Tetrahedron, 4, 4, (1.0f64 / 3.0).acos()),
            (Solid::Octahedron, 6, 8, (-1.0f64 / 3.0).acos()),
            (Solid::Icosahedron, 12, 20, (-(5f64.sqrt()) / 3.0).acos()),
            (Solid::Cube, 8, 6, 0f64.acos()),
        ] {
            let shape = Polyhedra::regular(solid, 10.0);
            assert_eq!((shape.corners.len(), shape.faces.len()), (corners, faces));
            let normal = |f: &Vec<usize>| {
                let c = |i: usize| shape.corners[f[i]];
                (c(1) - c(0)).cross(c(2) - c(1)).normalize()
            };
            let mut joins = 0;
            for (i, f) in shape.faces.iter().enumerate() {
                for (a, b) in f.iter().zip(f.iter().cycle().skip(1)) {
                    let edge = shape.corners[*a].distance(shape.corners[*b]);
                    assert!((edge - 10.0).abs() < 1e-9);
                }
                for g in &shape.faces[i + 1..] {
                    if f.iter().filter(|c| g.contains(c)).count() == 2 {
                        joins += 1;
                        let angle = std::f64::consts::PI - normal(f).angle_between(normal(g));
                        assert!((angle - dihedral).abs() < 1e-9, "{solid:?}");
                    }
                }
            }
            assert_eq!(joins, corners + faces - 2, "Euler's formula");
        }
    }

    /// The same corners given to a general geometry library: its hull has the
    /// solid's volume, and all our faces lie on it.
    #[test]
    fn a_general_geometry_library_finds_the_same_solid() {
        for (solid, unit_volume) in [
            (Solid::Tetrahedron, 1.0 / (6.0 * 2f64.sqrt())),
            (Solid::Octahedron, 2f64.sqrt() / 3.0),
            (Solid::Icosahedron, 5.0 * (3.0 + 5f64.sqrt()) / 12.0),
            (Solid::Cube, 1.0),
        ] {
            let shape = Polyhedra::regular(solid, 1.0);
            let points: Vec<Vector> = shape
                .corners
                .iter()
                .map(|c| Vector::new(c.x as f32, c.y as f32, c.z as f32))
                .collect();
            let (hull, triangles) = convex_hull(&points);
            let volume: f32 = triangles
                .iter()
                .map(|t| t.map(|i| hull[i as usize]))
                .map(|[a, b, c]| a.dot(b.cross(c)) / 6.0)
                .sum();
            assert!((f64::from(volume) - unit_volume).abs() < 1e-5, "{solid:?}");
        }
    }
}
