//! Letters that would be covered: where beads lean, in the middle of a panel and
//! at its corners, one drawn flat lies over another. A letter of which a part is
//! hidden is misread, so it is moved to what is seen of its bead, or made
//! smaller. Where that does not help either it is left out; the list of rounds
//! has its colour.

use std::collections::HashMap;

use glam::DVec2;

use super::SMALLEST;
use crate::sheet::drawing::{Drawing, Set, Shape};

/// Where a letter may move to, in parts of the bead's length and width.
const MOVES: [(f64, f64); 13] = [
    (0.0, 0.0),
    (0.0, 0.2),
    (0.0, -0.2),
    (0.2, 0.0),
    (-0.2, 0.0),
    (0.2, 0.2),
    (-0.2, 0.2),
    (0.2, -0.2),
    (-0.2, -0.2),
    (0.0, 0.3),
    (0.0, -0.3),
    (0.3, 0.0),
    (-0.3, 0.0),
];

/// How much smaller it may become.
const SMALLER: [f64; 3] = [1.0, 0.8, 0.62];

/// Moves the letters of which a later bead or a number covers a part.
pub fn uncover(drawing: &mut Drawing) {
    let covers: Vec<(usize, Vec<DVec2>)> = drawing
        .shapes
        .iter()
        .enumerate()
        .filter_map(|(at, shape)| outline(shape).map(|outline| (at, outline)))
        .collect();
    let cell = covers
        .iter()
        .flat_map(|(_, outline)| outline.iter().map(|p| p.distance(outline[0])))
        .fold(1.0, f64::max);
    let key = |p: DVec2| ((p.x / cell).floor() as i32, (p.y / cell).floor() as i32);
    let mut grid: HashMap<(i32, i32), Vec<usize>> = HashMap::new();
    for (nth, (_, outline)) in covers.iter().enumerate() {
        grid.entry(key(outline[0])).or_default().push(nth);
    }
    for (at, shape) in drawing.shapes.iter_mut().enumerate() {
        let Shape::Bead(brick) = shape else { continue };
        if brick.letter.is_none() {
            continue;
        }
        let (x, y) = key(brick.at);
        let near = (-2..=2).flat_map(|dx| (-2..=2).map(move |dy| (x + dx, y + dy)));
        let near = near.filter_map(|cell| grid.get(&cell)).flatten();
        let over: Vec<&[DVec2]> = near
            .map(|&nth| &covers[nth])
            .filter(|(other, _)| *other > at)
            .map(|(_, outline)| &outline[..])
            .collect();
        let bead = brick.outline();
        let (off, whole) = (brick.letter_off, brick.letter_size());
        let turn = DVec2::from_angle(brick.turn.to_radians());
        let free = SMALLER.iter().find_map(|smaller| {
            MOVES.iter().find_map(|&(along, across)| {
                let by = turn.rotate(DVec2::new(along * brick.length, across * brick.width));
                let (to, size) = (off + by, whole * smaller);
                let ink = ink(brick.at + to, size);
                let small = *smaller < 1.0 && size < SMALLEST;
                let on_it = (along, across) == (0.0, 0.0) || ink.iter().all(|&p| inside(&bead, p));
                let fits = !small && on_it && over.iter().all(|other| !meet(&ink, other));
                fits.then_some((to, *smaller))
            })
        });
        match free {
            Some((to, smaller)) => {
                brick.letter_off = to;
                brick.letter_scale = smaller;
            }
            None => brick.letter = None,
        }
    }
}

/// What a shape covers.
fn outline(shape: &Shape) -> Option<Vec<DVec2>> {
    match shape {
        Shape::Bead(brick) => Some(brick.outline()),
        Shape::Words(at, words) if words.set == Set::Tag => {
            let half = DVec2::new(words.width().max(words.size) + 0.6, words.size * 1.12) / 2.0;
            Some(field(*at, half))
        }
        _ => None,
    }
}

/// The field that a letter of a size is printed on.
fn ink(at: DVec2, size: f64) -> Vec<DVec2> {
    field(at, DVec2::new(0.3, 0.34) * size)
}

/// Whether a point lies in a convex outline.
fn inside(outline: &[DVec2], p: DVec2) -> bool {
    let turns = |sign: f64| {
        (0..outline.len()).all(|i| {
            let side = outline[(i + 1) % outline.len()] - outline[i];
            sign * side.perp_dot(p - outline[i]) >= -1e-9
        })
    };
    turns(1.0) || turns(-1.0)
}

fn field(at: DVec2, half: DVec2) -> Vec<DVec2> {
    [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
        .map(|(x, y)| at + half * DVec2::new(x, y))
        .to_vec()
}

/// Whether two convex outlines overlap: no side of either parts them (the
/// separating axis theorem).
fn meet(a: &[DVec2], b: &[DVec2]) -> bool {
    let parts = |of: &[DVec2]| {
        (0..of.len()).any(|i| {
            let axis = (of[(i + 1) % of.len()] - of[i]).perp();
            let span = |points: &[DVec2]| {
                let along = points.iter().map(|p| p.dot(axis));
                along.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), d| {
                    (l.min(d), h.max(d))
                })
            };
            let ((a_low, a_high), (b_low, b_high)) = (span(a), span(b));
            a_high <= b_low || b_high <= a_low
        })
    };
    !parts(a) && !parts(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outlines_that_only_touch_do_not_overlap() {
        let a = field(DVec2::ZERO, DVec2::splat(1.0));
        assert!(!meet(&a, &field(DVec2::new(2.0, 0.0), DVec2::splat(1.0))));
        assert!(meet(&a, &field(DVec2::new(1.9, 0.0), DVec2::splat(1.0))));
        let turned = [(0.0, 1.3), (1.3, 0.0), (2.6, 1.3), (1.3, 2.6)];
        let turned = turned.map(|(x, y)| DVec2::new(x, y) + DVec2::splat(0.4));
        assert!(!meet(&a, &turned), "their boxes overlap, they do not");
    }
}
