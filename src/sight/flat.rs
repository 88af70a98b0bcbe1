//! Whether faces laid flat lie on each other.

use crate::beadwork::frame::{middle_of, side_of};
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
    // From left to right, so that only those are compared whose boxes meet.
    let mut boxes: Vec<(DVec2, DVec2, usize)> = (flat.iter().enumerate())
        .map(|(nth, p)| {
            let least = p.iter().copied().fold(DVec2::MAX, DVec2::min);
            (least, p.iter().copied().fold(DVec2::MIN, DVec2::max), nth)
        })
        .collect();
    boxes.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    let mut found = 0;
    for (at, (least, most, i)) in boxes.iter().enumerate() {
        let near = boxes[at + 1..].iter().take_while(|b| b.0.x < most.x);
        let level = near.filter(|b| b.0.y < most.y && least.y < b.1.y);
        found += level.filter(|b| overlap(&flat[*i], &flat[b.2])).count();
    }
    found
}

/// Two convex polygons overlap unless a line along a side of one parts them
/// (the separating axis theorem).
fn overlap(a: &[DVec2], b: &[DVec2]) -> bool {
    !(parted(a, b) || parted(b, a))
}

fn parted(a: &[DVec2], b: &[DVec2]) -> bool {
    let middle = middle_of(a);
    (0..a.len()).any(|s| {
        let (from, to) = side_of(a, s);
        let mut out = (to - from).perp();
        if out.dot(middle - from) > 0.0 {
            out = -out;
        }
        let slack = 1e-6 * out.length_squared();
        b.iter().all(|c| out.dot(*c - from) > -slack)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn triangle(x: f64, y: f64) -> Vec<DVec3> {
        [(0.0, 0.0), (1.0, 0.0), (0.5, 0.8)]
            .map(|(u, v)| DVec3::new(x + u, y + v, 3.0))
            .to_vec()
    }

    #[test]
    fn faces_that_only_touch_do_not_lie_on_each_other() {
        let row: Vec<_> = (0..9).map(|n| triangle(f64::from(n), 0.0)).collect();
        assert_eq!(overlaps(&row, DVec3::Z), 0);
        let on_it = [row, vec![triangle(2.5, 0.1)]].concat();
        assert_eq!(overlaps(&on_it, DVec3::Z), 2);
    }
}
