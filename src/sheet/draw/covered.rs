//! Letters that would be covered. Where beads lean, in the middle of a panel
//! and at its corners, one bead drawn flat lies over another. A letter that is
//! partly hidden is misread, so it is moved to the visible part of its bead or
//! made smaller. If neither helps, it is left out; the list of rounds has the
//! colour.

use std::collections::HashMap;

use glam::{DVec2, IVec2};

use super::SMALLEST;
use crate::geometry::polygon::{bounds, contains, overlap};
use crate::sheet::drawing::{Drawing, Element, TextSetting};

/// Where a letter can move to, as parts of the bead's length and width: first
/// not at all, then to the nearest places in each direction.
fn moves() -> impl Iterator<Item = DVec2> {
    let ways = [(0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0)];
    let corners = [(1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)];
    let by = |part: f64| move |(x, y)| DVec2::new(x, y) * part;
    let near = ways.into_iter().chain(corners).map(by(0.2));
    let far = ways.into_iter().map(by(0.3));
    std::iter::once(DVec2::ZERO).chain(near).chain(far)
}

/// How small it can become.
const SMALLER: [f64; 3] = [1.0, 0.8, 0.62];

/// Moves the letters that are partly covered by a later bead or a number.
pub fn uncover(drawing: &mut Drawing) {
    let covers = drawing.shapes.iter().enumerate();
    let covers = covers.filter_map(|(at, shape)| Some((at, outline(shape)?)));
    let covers: Vec<(usize, Vec<DVec2>)> = covers.collect();
    // Nearby shapes are looked up in squares of the size of the largest
    // outline.
    let widest = covers.iter().map(|(_, outline)| {
        let (low, high) = bounds(outline);
        low.distance(high)
    });
    let square = widest.fold(1.0, f64::max);
    let key = |p: DVec2| (p / square).floor().as_ivec2();
    let mut grid: HashMap<IVec2, Vec<usize>> = HashMap::new();
    for (nth, (_, outline)) in covers.iter().enumerate() {
        grid.entry(key(outline[0])).or_default().push(nth);
    }
    for (at, shape) in drawing.shapes.iter_mut().enumerate() {
        let Element::Bead(brick) = shape else {
            continue;
        };
        if brick.letter.is_none() {
            continue;
        }
        let own = key(brick.at);
        let near = (-2..=2).flat_map(|x| (-2..=2).map(move |y| own + IVec2::new(x, y)));
        let near = near.filter_map(|square| grid.get(&square)).flatten();
        let later = near.map(|&nth| &covers[nth]).filter(|(nth, _)| *nth > at);
        let over: Vec<&[DVec2]> = later.map(|(_, outline)| &outline[..]).collect();
        let bead = brick.outline();
        let turn = DVec2::from_angle(brick.turn.to_radians());
        let mut places = SMALLER
            .iter()
            .flat_map(|&scale| moves().map(move |by| (by, scale)));
        let free = places.find_map(|(by, scale)| {
            let to = brick.letter_off + turn.rotate(by * brick.size);
            let size = brick.letter_size() * scale;
            let ink = field(brick.at + to, DVec2::new(0.3, 0.34) * size);
            let readable = scale == 1.0 || size >= SMALLEST;
            let on_it = by == DVec2::ZERO || ink.iter().all(|&p| contains(&bead, p));
            let fits = readable && on_it && over.iter().all(|other| !overlap(&ink, other));
            fits.then_some((to, scale))
        });
        match free {
            Some(found) => (brick.letter_off, brick.letter_scale) = found,
            None => brick.letter = None,
        }
    }
}

/// The outline of what a shape covers.
fn outline(shape: &Element) -> Option<Vec<DVec2>> {
    match shape {
        Element::Bead(brick) => Some(brick.outline()),
        Element::Label(at, words) if words.set == TextSetting::Tag => {
            Some(field(*at, words.tag() / 2.0))
        }
        _ => None,
    }
}

/// A horizontal rectangle round its middle.
fn field(at: DVec2, half: DVec2) -> Vec<DVec2> {
    [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
        .map(|(x, y)| at + half * DVec2::new(x, y))
        .to_vec()
}
