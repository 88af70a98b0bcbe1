//! The net: the faces laid out flat, seen from outside, each with its number
//! and the numbers of its sides. Sides that lie apart on paper but meet in the
//! piece have a letter in common; a thick line is a side that carries a row.
//!
//! A net is laid out face by face over the joins, nearest first. Of a ring each
//! tetrahedron has a net of its own, and its hinges are letters too.

use std::collections::HashMap;

use glam::DVec2;

use crate::beadwork::frame::{middle_of, side_of};
use crate::beadwork::project::Make;
use crate::beadwork::{Panel, Sequence, Side};
use crate::sheet::Hand;
use crate::sheet::drawing::{Drawing, Pen, Set, Shape};
use crate::sight::{Body, PlateSide, names};

use super::PAPER;

/// Faces drawn at most.
pub(in crate::sheet) const FACES: usize = 48;

/// A face laid out: its corners, y up, corner s being the end of side s.
struct Laid {
    plate: usize,
    corners: Vec<DVec2>,
}

/// The drawing of the net; `None` for a piece that joins nothing.
pub fn net(seq: &Sequence, hand: Hand) -> Option<Drawing> {
    let body = Body::of(seq);
    if body.seams.is_empty() {
        return None;
    }
    let solids = body.solids();
    let all = solids.iter().max().map_or(0, |most| most + 1);
    let order = match seq.layout().project().make {
        Make::FoldedPair { .. } | Make::Jobs(_) => Order::AsMade,
        _ => Order::Nearest,
    };
    let mut nets: Vec<Vec<Laid>> = vec![];
    let mut faces = 0;
    for solid in 0..all {
        let start = solids.iter().position(|&s| s == solid)?;
        let laid = lay(&body, start, order);
        faces += laid.len();
        if faces > FACES && !nets.is_empty() {
            break;
        }
        nets.push(laid);
    }
    let shown = nets.len();
    let rest = match all - shown {
        0 => String::new(),
        rest => format!(" {rest} more like these are not drawn."),
    };
    let mut drawing = Drawing::new(
        "The faces laid out flat",
        format!(
            "Faces seen from outside, numbered in the order in which they are made; small numbers are \
             their sides. Sides with the same letter meet. Thick lines carry a join row.{rest}"
        ),
    );
    let edge = edge_mm(&nets);
    let letters = letters(&body, &nets);
    let mut corner = DVec2::ZERO;
    let mut tallest: f64 = 0.0;
    for laid in &nets {
        let (low, high) = bounds(laid);
        let size = (high - low) * edge;
        if corner.x > 0.0 && corner.x + size.x > PAPER.x - 6.0 {
            corner = DVec2::new(0.0, corner.y + tallest + 12.0);
            tallest = 0.0;
        }
        let on_paper = |p: DVec2| {
            let p = (p - low) * edge;
            corner + DVec2::new(p.x, size.y - p.y)
        };
        for face in laid {
            let corners: Vec<DVec2> = face.corners.iter().map(|&p| on_paper(p)).collect();
            drawing.shapes.push(Shape::Area(corners, Pen::Edge));
        }
        // What is written on one face may reach over the next.
        for face in laid {
            draw(seq, &mut drawing, face, &letters, edge, &on_paper);
        }
        corner.x += size.x + 10.0;
        tallest = tallest.max(size.y);
    }
    Some(drawing.on_paper(1.5).for_hand(hand))
}

/// A join row is drawn on the carrier's side of the line.
fn draw(
    seq: &Sequence,
    drawing: &mut Drawing,
    face: &Laid,
    letters: &HashMap<PlateSide, String>,
    edge: f64,
    on_paper: &dyn Fn(DVec2) -> DVec2,
) {
    let layout = seq.layout();
    let plate = face.plate;
    let panel = Panel(plate as u16);
    let corners: Vec<DVec2> = face.corners.iter().map(|&p| on_paper(p)).collect();
    let middle = middle_of(&corners);
    for s in 0..corners.len() {
        let (a, b) = side_of(&corners, s);
        let half = (a + b) / 2.0;
        let (inward, along) = (
            (middle - half).normalize_or_zero(),
            (b - a).normalize_or_zero(),
        );
        let side = Side(s as u8);
        if layout.row_on(panel, side).is_some() {
            let (from, to) = (a + along * edge * 0.1, b - along * edge * 0.1);
            drawing.line([from + inward * 0.9, to + inward * 0.9], Pen::Row);
        }
        let number = side.to_string();
        drawing.words(
            half + inward * 3.4 - along * edge * 0.2,
            number,
            2.4,
            Set::Middle,
        );
        if let Some(letter) = letters.get(&PlateSide { plate, side: s }) {
            drawing.words(half - inward * 2.6, letter.clone(), 2.8, Set::Strong);
        }
    }
    let up = DVec2::new(0.0, edge * 0.05);
    drawing.words(middle - up, panel.number().to_string(), 4.6, Set::Strong);
    let name = &layout.project().panels[layout.panel(panel).spec].name;
    if name.chars().count() as f64 * 1.5 < edge * 0.55 {
        drawing.words(
            middle - up + DVec2::new(0.0, 4.2),
            name.clone(),
            2.4,
            Set::Middle,
        );
    }
}

/// Lays out the faces of one solid, the first with its side 1 below, edges of
/// length 1.
fn lay(body: &Body, start: usize, order: Order) -> Vec<Laid> {
    let count = |plate: usize| body.plates[plate].corners.len();
    let mut laid = vec![Laid {
        plate: start,
        corners: polygon(count(start), 0, DVec2::ZERO, DVec2::X),
    }];
    loop {
        // Sides of laid faces that meet faces still to be laid.
        let open = laid.iter().enumerate().flat_map(|(at, face)| {
            let plate = face.plate;
            let meets = move |side| Some((at, side, body.meets(PlateSide { plate, side })?));
            (0..count(plate)).filter_map(meets)
        });
        let open = open.filter(|(_, _, to)| laid.iter().all(|face| face.plate != to.plate));
        let next = match order {
            Order::AsMade => open.min_by_key(|&(at, _, to)| (to.plate, to.side, at)),
            Order::Nearest => open.min_by_key(|&(at, side, _)| (at, side)),
        };
        let Some((at, side, to)) = next else {
            return laid;
        };
        // Its side runs the other way along the same line.
        let (a, b) = side_of(&laid[at].corners, side);
        let corners = polygon(count(to.plate), to.side, b, a);
        laid.push(Laid {
            plate: to.plate,
            corners,
        });
    }
}

/// Which face is laid out next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Order {
    /// The one made first of those that can be: a net sewn flat lies as it is
    /// sewn.
    AsMade,
    /// The nearest to the first face.
    Nearest,
}

/// A regular polygon of n sides, y up and anticlockwise, whose side `side` runs
/// from one point to another.
fn polygon(n: usize, side: usize, from: DVec2, to: DVec2) -> Vec<DVec2> {
    let turn = DVec2::from_angle(std::f64::consts::TAU / n as f64);
    let mut corners = vec![DVec2::ZERO; n];
    let (mut at, mut step) = (to, to - from);
    for nth in 0..n {
        corners[(side + nth) % n] = at;
        step = turn.rotate(step);
        at += step;
    }
    corners
}

fn bounds(laid: &[Laid]) -> (DVec2, DVec2) {
    let corners = laid.iter().flat_map(|face| &face.corners);
    corners.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), &p| {
        (low.min(p), high.max(p))
    })
}

/// The length of an edge, mm on paper, at which the widest net fits.
fn edge_mm(nets: &[Vec<Laid>]) -> f64 {
    let usual = if nets.len() > 1 { 20.0 } else { 30.0 };
    let fits = nets.iter().map(|laid| {
        let (low, high) = bounds(laid);
        ((PAPER.x - 12.0) / (high.x - low.x)).min((PAPER.y - 12.0) / (high.y - low.y))
    });
    fits.fold(usual, f64::min)
}

/// The letter of each join whose sides lie apart on paper: the one that it has
/// on the solid on the screen.
fn letters(body: &Body, nets: &[Vec<Laid>]) -> HashMap<PlateSide, String> {
    // The ends of a side that is laid out, and on which net.
    let ends = |side: &PlateSide| {
        nets.iter().enumerate().find_map(|(net, laid)| {
            let face = laid.iter().find(|face| face.plate == side.plate)?;
            let (from, to) = side_of(&face.corners, side.side);
            Some((net, from, to))
        })
    };
    let together = |side: &PlateSide| {
        let other = body.meets(*side).and_then(|other| ends(&other));
        matches!((ends(side), other), (Some((net, a, b)), Some((on, c, d)))
            if net == on && a.distance(d) < 1e-6 && b.distance(c) < 1e-6)
    };
    let mut letters = HashMap::new();
    for (nth, seam) in body.seams.iter().enumerate() {
        if !together(&seam.sides[0]) {
            letters.extend(seam.sides.iter().map(|&side| (side, names::seam(nth))));
        }
    }
    letters
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    fn laid(project: crate::beadwork::Project, order: Order) -> Vec<Laid> {
        lay(&Body::of(&Sequence::new(project)), 0, order)
    }

    /// No net of a regular solid that is cut along edges overlaps itself:
    /// T. Horiyama and W. Shoji, "Edge unfoldings of Platonic solids never
    /// overlap", 2011 (from memory). Here: middles of faces lie apart by twice
    /// the radius of the circle in a face, or more.
    #[test]
    fn nets_of_solids_show_every_face_and_do_not_overlap() {
        for (solid, faces) in [
            (Solid::Tetrahedron, 4),
            (Solid::Octahedron, 8),
            (Solid::Icosahedron, 20),
            (Solid::Cube, 6),
        ] {
            let rounds = if solid == Solid::Cube { 7 } else { 3 };
            let laid = laid(
                testing::solid(solid, rounds, Closing::SetIn),
                Order::Nearest,
            );
            assert_eq!(laid.len(), faces);
            let middle = |f: &Laid| middle_of(&f.corners);
            let n = laid[0].corners.len() as f64;
            let apart = 1.0 / (std::f64::consts::PI / n).tan();
            for (i, a) in laid.iter().enumerate() {
                for b in &laid[i + 1..] {
                    let d = middle(a).distance(middle(b));
                    assert!(d > apart - 1e-9, "{solid:?} {} {}: {d}", a.plate, b.plate);
                }
            }
        }
    }

    #[test]
    fn six_panels_round_a_point_are_laid_round_a_point() {
        let laid = laid(testing::folded_pair(5, 2), Order::AsMade);
        assert_eq!(laid.len(), 8);
        let near = |p: DVec2| {
            let corners = laid.iter().flat_map(|f| &f.corners);
            corners.filter(|&&q| q.distance(p) < 1e-9).count()
        };
        let most = laid.iter().flat_map(|f| f.corners.clone()).map(near).max();
        assert_eq!(most, Some(6));
    }

    /// Sides that lie against each other on paper need no letter, whether the net
    /// was laid out over them or not.
    #[test]
    fn only_sides_that_lie_apart_have_letters() {
        let body = Body::of(&Sequence::new(testing::folded_pair(5, 2)));
        let nets = vec![lay(&body, 0, Order::AsMade)];
        let letters = letters(&body, &nets);
        // Six joins round the point, and one to each of the two closing faces;
        // of the other four each joins two sides.
        assert_eq!(body.seams.len(), 12);
        assert_eq!(letters.len(), 2 * (12 - 8));
        // The joins of the closing faces come last: the letters are late ones,
        // the same as on the screen.
        assert!(!letters.values().any(|letter| letter == "a"));
    }

    #[test]
    fn each_tetrahedron_of_a_ring_is_a_solid_of_its_own() {
        let body = Body::of(&Sequence::new(testing::ring(8, 4, Closing::SetIn)));
        let solids = body.solids();
        let of_four: Vec<usize> = solids.chunks(4).map(|four| four[0]).collect();
        assert_eq!(of_four, [0, 1, 2, 3, 4, 5, 6, 7]);
        assert!(
            solids
                .chunks(4)
                .all(|four| four.iter().all(|s| *s == four[0]))
        );
    }
}
