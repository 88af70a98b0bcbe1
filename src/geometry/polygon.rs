//! Convex polygons in a plane: their area, and whether they overlap.

use crate::beadwork::frame::{middle_of, side_of};
use glam::DVec2;

/// Whether two convex polygons overlap, which they do if no line along one of
/// their sides separates them (the separating axis theorem). Polygons that only
/// touch do not count.
pub fn overlap(a: &[DVec2], b: &[DVec2]) -> bool {
    !(separated(a, b) || separated(b, a))
}

fn separated(a: &[DVec2], b: &[DVec2]) -> bool {
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

/// Whether a point lies in a convex polygon or on its edge.
pub fn contains(polygon: &[DVec2], point: DVec2) -> bool {
    let left_of = |s: usize| {
        let (from, to) = side_of(polygon, s);
        (to - from).perp_dot(point - from)
    };
    let sides = 0..polygon.len();
    sides.clone().all(|s| left_of(s) >= -1e-9) || sides.clone().all(|s| left_of(s) <= 1e-9)
}

/// The part of a convex polygon that is at least `gap` from a line through (0,
/// 0), on the side to which the unit vector `inside` points.
pub fn clip(polygon: &[DVec2], inside: DVec2, gap: f64) -> Vec<DVec2> {
    let off = |p: DVec2| p.dot(inside) - gap;
    let mut kept = vec![];
    for (nth, &p) in polygon.iter().enumerate() {
        let next = polygon[(nth + 1) % polygon.len()];
        if off(p) >= 0.0 {
            kept.push(p);
        }
        if off(p) * off(next) < 0.0 {
            kept.push(p + (next - p) * off(p) / (off(p) - off(next)));
        }
    }
    kept
}

/// The area of a polygon and its centroid. The area is positive if the corners
/// go anticlockwise, else negative.
pub fn area(polygon: &[DVec2]) -> (f64, DVec2) {
    let (mut middle, mut area) = (DVec2::ZERO, 0.0);
    for s in 0..polygon.len() {
        let (a, b) = side_of(polygon, s);
        let part = a.perp_dot(b) / 2.0;
        middle += (a + b) / 3.0 * part;
        area += part;
    }
    (area, middle / area)
}

/// The least and the greatest coordinates of some points.
pub fn bounds<'p>(points: impl IntoIterator<Item = &'p DVec2>) -> (DVec2, DVec2) {
    let none = (DVec2::INFINITY, DVec2::NEG_INFINITY);
    let take = |(low, high): (DVec2, DVec2), p: &DVec2| (low.min(*p), high.max(*p));
    points.into_iter().fold(none, take)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64) -> Vec<DVec2> {
        let corner = |(dx, dy): (f64, f64)| DVec2::new(x + dx, y + dy);
        [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
            .map(corner)
            .to_vec()
    }

    #[test]
    fn polygons_that_only_touch_do_not_overlap() {
        assert!(!overlap(&square(0.0, 0.0), &square(1.0, 0.0)));
        assert!(overlap(&square(0.0, 0.0), &square(0.9, 0.0)));
        let turned = [(1.0, 2.3), (2.3, 1.0), (3.6, 2.3), (2.3, 3.6)];
        let turned = turned.map(|(x, y)| DVec2::new(x, y) / 2.0 + DVec2::splat(0.2));
        assert!(!overlap(&square(0.0, 0.0), &turned), "only their boxes do");
    }

    #[test]
    fn half_a_square_has_half_its_area_and_its_middle() {
        let whole = square(-0.5, -0.5);
        let half = clip(&whole, DVec2::X, 0.0);
        let (area, middle) = area(&half);
        assert!((area - 0.5).abs() < 1e-12);
        assert!(middle.distance(DVec2::new(0.25, 0.0)) < 1e-12);
        assert!(contains(&whole, middle) && !contains(&half, DVec2::new(-0.1, 0.0)));
    }
}
