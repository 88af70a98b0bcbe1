//! Drawings as SVG: a single one inside an HTML page, or all of them in one
//! file.

use std::borrow::Borrow;

use askama::Template;
use glam::DVec2;
use palette::Srgb;
use palette::color_difference::Wcag21RelativeContrast;

use super::Sheet;
use super::drawing::{BeadOnPaper, BeadRole, Drawing, Element, GreyMark, Pen, Sign, TextSetting};
use super::materials::BeadRow;
use super::template::{filters, mm, rendered};
use crate::beadwork::Rgb;

/// Almost black: for lines and text.
const INK: &str = "#1a1a1a";

/// Space between the drawings in a file with all of them, mm.
const BETWEEN: f64 = 14.0;

/// All drawings of a handout in one SVG file, one below the other, each with
/// its caption.
#[derive(Template)]
#[template(path = "sheet/drawings.svg", config = "src/askama.toml")]
struct DrawingsFile<'a> {
    sheet: &'a Sheet,
    wide: f64,
    high: f64,
    /// The place of each caption, the caption, and the drawing below it.
    drawings: Vec<(DVec2, String, String)>,
}

/// All drawings of a handout in one SVG file.
pub fn file(sheet: &Sheet) -> String {
    let mut wide: f64 = 80.0;
    let mut at = DVec2::new(BETWEEN, BETWEEN + 12.0 + sheet.beads.len() as f64 * 6.0);
    let mut drawings = vec![];
    for (nth, drawing) in (1..).zip(sheet.drawings()) {
        let mut panels = sheet.panels.iter();
        let caption = match panels.find(|panel| panel.drawing.title == drawing.title) {
            Some(panel) => format!("{} (make {} of these)", drawing.title, panel.panels.len()),
            None => drawing.title.clone(),
        };
        let place = DrawingPlace::File(nth, at + DVec2::Y * 2.0);
        drawings.push((at, caption, rendered(&DrawingSvg { drawing, place })));
        wide = wide.max(drawing.size.x);
        at.y += drawing.size.y + BETWEEN;
    }
    rendered(&DrawingsFile {
        sheet,
        wide: mm(wide + 2.0 * BETWEEN),
        high: mm(at.y + BETWEEN - 4.0),
        drawings,
    }) + "\n"
}

/// One drawing as an element. It has a title and a description, unless the text
/// beside it serves as both.
#[derive(Template)]
#[template(path = "sheet/drawing.svg", config = "src/askama.toml")]
struct DrawingSvg<'a> {
    drawing: &'a Drawing,
    place: DrawingPlace,
}

/// Where a drawing stands, and its number there.
enum DrawingPlace {
    /// At a point of a file of drawings.
    File(usize, DVec2),
    /// In a page, described by the element `d1-words` below it.
    Page(usize),
    /// In a page, beside text that says everything.
    Beside,
}

/// A drawing of a page, with its number there.
pub fn in_page(drawing: &Drawing, nth: &usize) -> String {
    let place = DrawingPlace::Page(*nth);
    rendered(&DrawingSvg { drawing, place })
}

/// A drawing beside text that says everything.
pub fn beside_text(drawing: &Drawing) -> String {
    let place = DrawingPlace::Beside;
    rendered(&DrawingSvg { drawing, place })
}

#[derive(Template)]
#[template(path = "sheet/element.svg", config = "src/askama.toml")]
struct ElementSvg<'a> {
    element: &'a Element,
}

/// A single horizontal bead with its letter.
pub fn swatch(at: impl Borrow<DVec2>, row: &BeadRow) -> String {
    let bead = BeadOnPaper {
        letter: Some(row.letter),
        ..BeadOnPaper::level(*at.borrow(), DVec2::splat(5.0), row.colour)
    };
    let element = &Element::Bead(bead);
    rendered(&ElementSvg { element })
}

/// A mark as one path, rotated with its bead, and the width of its line.
fn mark(bead: &BeadOnPaper, mark: &GreyMark) -> (String, f64) {
    let turn = DVec2::from_angle(bead.turn.to_radians());
    let reach = bead.size.min_element() * 0.26;
    let at = |(x, y): (f64, f64)| {
        let off = turn.rotate(DVec2::new(x, y) * reach);
        point(bead.at + bead.letter_off + off)
    };
    let path = |points: &[(f64, f64)]| {
        format!(
            "M{}",
            points.iter().map(|p| at(*p)).collect::<Vec<_>>().join("L")
        )
    };
    // A line of no length with a round end is a dot.
    let dot = |x: f64| path(&[(x, 0.0), (x, 0.0)]);
    let (path, pen) = match mark {
        GreyMark::Dot => (dot(0.0), 1.1),
        GreyMark::Dots => (dot(-0.8) + &dot(0.8), 0.8),
        GreyMark::Bar => (path(&[(-1.0, 0.0), (1.0, 0.0)]), 0.5),
        GreyMark::Post => (path(&[(0.0, -1.0), (0.0, 1.0)]), 0.5),
        GreyMark::Cross => {
            let other = path(&[(-0.8, 0.8), (0.8, -0.8)]);
            (path(&[(-0.8, -0.8), (0.8, 0.8)]) + &other, 0.5)
        }
        GreyMark::Ring => {
            let corners = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)];
            (path(&corners) + "Z", 0.4)
        }
    };
    (path, mm(reach * pen))
}

/// Black or white, whichever contrasts more with a colour (WCAG 2.2). One of
/// the two has a contrast of at least 4.5 to 1 with any colour.
fn ink_on(Rgb(r, g, b): &Rgb) -> &'static str {
    let colour: Srgb<f32> = Srgb::new(*r, *g, *b).into_format();
    let contrast = |grey: f32| colour.relative_contrast(Srgb::new(grey, grey, grey));
    match contrast(0.0) > contrast(1.0) {
        true => "#000",
        false => "#fff",
    }
}

/// The corners of the head of an arrow, if the line has one.
fn arrow_head(points: &[DVec2], pen: &Pen) -> Option<[DVec2; 3]> {
    let [.., before, tip] = points else {
        return None;
    };
    let along = (*tip - *before).normalize_or_zero();
    let back = *tip - along * 2.0;
    let aside = along.perp() * 0.9;
    (*pen == Pen::Needle).then_some([*tip, back + aside, back - aside])
}

/// The corners of the triangle that marks a start.
fn triangle(at: &DVec2, way: &f64) -> [DVec2; 3] {
    let turn = DVec2::from_angle(way.to_radians());
    let corners = [(-1.3, -1.4), (-1.3, 1.4), (1.6, 0.0)];
    corners.map(|(x, y)| *at + turn.rotate(DVec2::new(x, y)))
}

fn point(p: impl Borrow<DVec2>) -> String {
    let p = p.borrow();
    format!("{} {}", mm(p.x), mm(p.y))
}

fn list(points: impl AsRef<[DVec2]>) -> String {
    let point = |p: &DVec2| format!("{},{}", mm(p.x), mm(p.y));
    let points: Vec<String> = points.as_ref().iter().map(point).collect();
    points.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_have_enough_contrast_on_any_bead() {
        assert_eq!(ink_on(&Rgb(255, 255, 255)), "#000");
        assert_eq!(ink_on(&Rgb(39, 64, 110)), "#fff");
        assert_eq!(ink_on(&Rgb(224, 154, 45)), "#000");
    }
}
