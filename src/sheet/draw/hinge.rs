//! A hinge seen along its row: one join bead in the middle, and the faces that
//! stand on it.

use std::f64::consts::PI;

use glam::DVec2;

use crate::beadwork::Rgb;
use crate::sheet::drawing::{Brick, Drawing, Pen, Set, Shape};

/// A face at a hinge: what it is called, and which of the solids it belongs to.
pub struct HingeFace {
    /// `Tetrahedron 1, face 2: side 3`.
    pub name: String,
    /// Its solid, counted from 0 in the order of the faces.
    pub solid: usize,
    /// Whether it carries the row.
    pub carries: bool,
}

/// The drawing of a hinge.
pub fn hinge(faces: &[HingeFace], colour: (Rgb, char)) -> Drawing {
    let mut drawing = Drawing::new(
        format!("Hinge: {} sides on one join row", faces.len()),
        "A hinge seen along its row: the join row in the middle as one bead, and the faces that stand on \
         it. The face with the thick line carries the row.",
    );
    let solids = faces.iter().map(|f| f.solid).max().map_or(1, |s| s + 1);
    for (nth, face) in faces.iter().enumerate() {
        let before = faces[..nth]
            .iter()
            .filter(|f| f.solid == face.solid)
            .count();
        let of = faces.iter().filter(|f| f.solid == face.solid).count();
        // The first solid lies to the left, the next ones round to the right.
        let middle = PI + 2.0 * PI * face.solid as f64 / solids as f64;
        let spread = PI / solids as f64 * 0.8;
        let angle = middle + spread * ((before as f64 + 0.5) / of as f64 - 0.5);
        let out = DVec2::new(angle.cos(), angle.sin());
        let pen = if face.carries { Pen::Row } else { Pen::Edge };
        drawing.line([out * 5.0, out * 30.0], pen);
        let set = if out.x < 0.0 { Set::Left } else { Set::Right };
        drawing.words(out * 31.5, face.name.clone(), 3.0, set);
    }
    drawing.shapes.push(Shape::Bead(Brick {
        letter: Some(colour.1),
        ..Brick::level(DVec2::ZERO, (8.0, 8.0), colour.0)
    }));
    drawing.on_paper(2.0)
}
