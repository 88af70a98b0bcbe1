//! The net: the faces laid out flat, seen from outside, each with its number
//! and the numbers of its sides. Sides that are apart on paper but meet in the
//! piece have the same letter; a thick line is a side that carries a row.
//!
//! It is the same net from which the solid on the screen folds. For a ring each
//! tetrahedron is drawn separately, and its hinges have letters too.

use std::collections::HashMap;

use glam::DVec2;

use super::PAPER;
use crate::beadwork::frame::{middle_of, side_of};
use crate::beadwork::{Panel, Sequence, Side};
use crate::geometry::polygon::bounds;
use crate::geometry::{Net, NetFace, PlateSide, Shape, names};
use crate::sheet::Hand;
use crate::sheet::drawing::{Drawing, Element, Pen, TextSetting};

/// The most faces drawn.
pub(in crate::sheet) const FACES: usize = 48;

/// The drawing of the net; `None` for a piece without joins.
pub fn net(seq: &Sequence, body: &Shape, hand: Hand) -> Option<Drawing> {
    if body.seams.is_empty() {
        return None;
    }
    let net = Net::of(body);
    let mut nets = net.on_paper();
    let all = nets.len();
    let mut faces = 0;
    let shown = nets.iter().take_while(|laid| {
        faces += laid.len();
        faces <= FACES
    });
    let shown = shown.count().max(1);
    nets.truncate(shown);
    let rest = match all - shown {
        0 => String::new(),
        rest => format!(" {rest} more like these are not drawn."),
    };
    let letters = letters(body, &net);
    let meet = match letters.is_empty() {
        true => "",
        false => " Sides with the same letter meet.",
    };
    let mut drawing = Drawing::new(
        "The faces laid out flat",
        format!(
            "Faces seen from outside, numbered in the order in which they are made; small numbers are \
             their sides.{meet}{rest}"
        ),
    );
    let scale = scale(&nets);
    let (mut corner, mut tallest) = (DVec2::ZERO, 0_f64);
    for laid in &nets {
        let (low, high) = box_of(laid);
        let size = (high - low) * scale;
        if corner.x > 0.0 && corner.x + size.x > PAPER.x - 6.0 {
            corner = DVec2::new(0.0, corner.y + tallest + 12.0);
            tallest = 0.0;
        }
        let on_paper = |p: &DVec2| {
            let p = (*p - low) * scale;
            corner + DVec2::new(p.x, size.y - p.y)
        };
        let outlines: Vec<Vec<DVec2>> = laid
            .iter()
            .map(|face| face.corners.iter().map(on_paper).collect())
            .collect();
        for corners in &outlines {
            drawing
                .shapes
                .push(Element::Area(corners.clone(), Pen::Edge));
        }
        // Labels of one face may extend over the next.
        for (face, corners) in laid.iter().zip(&outlines) {
            write_on(seq, &mut drawing, face.plate, corners, &letters);
        }
        corner.x += size.x + 10.0;
        tallest = tallest.max(size.y);
    }
    let is_row = |shape: &Element| matches!(shape, Element::Line(_, Pen::Row));
    if drawing.shapes.iter().any(is_row) {
        drawing.desc += " Thick lines carry a join row.";
    }
    Some(drawing.on_paper(1.5).for_hand(hand))
}

/// Numbers, letters and rows of a face. A join row is drawn on the carrier's
/// side of the line.
fn write_on(
    seq: &Sequence,
    drawing: &mut Drawing,
    plate: usize,
    corners: &[DVec2],
    letters: &HashMap<PlateSide, String>,
) {
    let layout = seq.layout();
    let panel = Panel(plate as u16);
    let middle = middle_of(corners);
    let edge = corners[0].distance(corners[1]);
    for s in 0..corners.len() {
        let (a, b) = side_of(corners, s);
        let half = (a + b) / 2.0;
        let inward = (middle - half).normalize_or_zero();
        let along = (b - a) * 0.1;
        let first_quarter = a + (b - a) / 4.0;
        let side = Side(s as u8);
        if layout.row_on(panel, side).is_some() {
            let line = [a + along, b - along].map(|end| end + inward * 0.9);
            drawing.line(line, Pen::Row);
        }
        drawing.words(
            first_quarter + inward * 2.6,
            side.to_string(),
            2.4,
            TextSetting::Middle,
        );
        if let Some(letter) = letters.get(&PlateSide { plate, side: s }) {
            drawing.words(
                half - inward * 2.6,
                letter.clone(),
                2.8,
                TextSetting::Strong,
            );
        }
    }
    let at = middle - DVec2::Y * (edge * 0.05);
    drawing.words(at, panel.number().to_string(), 4.6, TextSetting::Strong);
    let name = &layout.project().panels[layout.panel(panel).spec].name;
    if name.chars().count() as f64 * 1.5 < edge * 0.4 {
        drawing.words(at + DVec2::Y * 4.2, name.clone(), 2.4, TextSetting::Middle);
    }
}

fn box_of(laid: &[NetFace]) -> (DVec2, DVec2) {
    bounds(laid.iter().flat_map(|face| &face.corners))
}

/// Millimetres on paper for each millimetre of the piece, so that the widest
/// net fits.
fn scale(nets: &[Vec<NetFace>]) -> f64 {
    let usual = if nets.len() > 1 { 20.0 } else { 30.0 };
    let fits = nets.iter().flat_map(|laid| {
        let (low, high) = box_of(laid);
        let room = (PAPER - 12.0) / (high - low);
        let (from, to) = side_of(&laid[0].corners, 0);
        [usual / from.distance(to), room.min_element()]
    });
    fits.fold(f64::INFINITY, f64::min)
}

/// The letter of each join whose sides are apart on paper: the same as on the
/// solid on the screen.
fn letters(body: &Shape, net: &Net) -> HashMap<PlateSide, String> {
    let mut letters = HashMap::new();
    for (nth, seam) in body.seams.iter().enumerate() {
        // The sides of a hinge lie on several nets.
        let keeps = matches!(seam.sides[..], [one, other] if net.keeps_joined(one, other));
        if !keeps {
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

    /// Sides that lie against each other on paper need no letter, whether or
    /// not the net was unfolded across them.
    #[test]
    fn only_sides_that_lie_apart_have_letters() {
        let body = Shape::of(&Sequence::new(testing::folded_pair(5, 2)));
        let letters = letters(&body, &Net::of(&body));
        // Six joins round the point, and one to each of the two closing faces;
        // each of the other four joins two sides.
        assert_eq!(body.seams.len(), 12);
        assert_eq!(letters.len(), 2 * (12 - 8));
        // The joins of the closing faces come last, so the letters are late in
        // the alphabet, and the same as on the screen.
        assert!(!letters.values().any(|letter| letter == "a"));
    }

    #[test]
    fn letters_are_explained_only_where_there_are_some() {
        let desc = |project| {
            let seq = Sequence::new(project);
            let net = net(&seq, &Shape::of(&seq), Hand::Right).expect("faces that are joined");
            net.desc.contains("the same letter")
        };
        assert!(desc(testing::solid(Solid::Tetrahedron, 4, Closing::SetIn)));
        let pair = crate::pattern::load("patterns/practice-pair.json");
        assert!(!desc(pair.expect("a pattern").project));
    }

    #[test]
    fn each_tetrahedron_of_a_ring_is_a_solid_of_its_own() {
        let body = Shape::of(&Sequence::new(testing::ring(8, 4, Closing::SetIn)));
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
