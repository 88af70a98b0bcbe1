//! Whether faces laid flat lie on each other.

use glam::{DVec2, DVec3};

/// How many pairs of polygons overlap that lie in one plane with the given
/// normal. Both convex; sides that only touch do not count.
pub(super) fn overlaps(polygons: &[Vec<DVec3>], normal: DVec3) -> usize {
    let x = normal.any_orthonormal_vector();
    let y = normal.cross(x);
    let flat: Vec<Vec<DVec2>> = polygons
        .iter()
        .map(|p| p.iter().map(|c| DVec2::new(c.dot(x), c.dot(y))).collect())
        .collect();
    let mut found = 0;
    for (i, a) in flat.iter().enumerate() {
        found += flat[i + 1..].iter().filter(|b| overlap(a, b)).count();
    }
    found
}

/// Two convex polygons overlap unless a line along a side of one parts them
/// (the separating axis theorem).
fn overlap(a: &[DVec2], b: &[DVec2]) -> bool {
    !(parted(a, b) || parted(b, a))
}

fn parted(a: &[DVec2], b: &[DVec2]) -> bool {
    let middle = a.iter().sum::<DVec2>() / a.len() as f64;
    (0..a.len()).any(|s| {
        let (from, to) = (a[(s + a.len() - 1) % a.len()], a[s]);
        let mut out = (to - from).perp();
        if out.dot(middle - from) > 0.0 {
            out = -out;
        }
        let slack = 1e-6 * out.length_squared();
        b.iter().all(|c| out.dot(*c - from) > -slack)
    })
}
