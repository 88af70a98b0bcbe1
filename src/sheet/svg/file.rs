//! All drawings of a handout in one SVG file.

use glam::DVec2;

use super::bead::swatch;
use super::{INK, Place, inside};
use crate::sheet::Sheet;
use crate::sheet::drawing::Drawing;
use crate::sheet::markup::{Markup, mm};

/// Room between drawings in a file of all of them, mm.
const BETWEEN: f64 = 14.0;

/// All drawings of a handout in one SVG file, below one another, each with its
/// caption.
pub fn file(sheet: &Sheet) -> String {
    let drawings: Vec<&Drawing> = sheet.drawings().collect();
    let wide = drawings.iter().map(|d| d.size.x).fold(80.0, f64::max);
    let width = wide + 2.0 * BETWEEN;
    let tall: f64 = drawings.iter().map(|d| d.size.y + BETWEEN).sum();
    let letters = sheet.beads.len() as f64 * 6.0;
    let height = 2.0 * BETWEEN + 8.0 + tall + letters;
    let mut m = Markup::default();
    m.own("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let view = format!("0 0 {} {}", mm(width), mm(height));
    m.open(
        "svg",
        &[
            ("xmlns", "http://www.w3.org/2000/svg"),
            ("role", "img"),
            ("aria-labelledby", "sheet-title sheet-desc"),
            ("width", &format!("{}mm", mm(width))),
            ("height", &format!("{}mm", mm(height))),
            ("viewBox", &view),
            ("font-family", "sans-serif"),
        ],
    );
    m.line();
    m.say("title", &[("id", "sheet-title")], &sheet.title);
    let about = match sheet.about.is_empty() {
        true => format!("Drawings of {}.", sheet.title),
        false => sheet.about.clone(),
    };
    m.say("desc", &[("id", "sheet-desc")], &about);
    m.empty(
        "rect",
        &[
            ("width", &mm(width)),
            ("height", &mm(height)),
            ("fill", "#fff"),
        ],
    );
    m.line();
    heading(&mut m, DVec2::new(BETWEEN, BETWEEN), 6.0, &sheet.title);
    let mut y = BETWEEN + 8.0;
    for bead in &sheet.beads {
        let at = DVec2::new(BETWEEN + 3.0, y);
        swatch(&mut m, at, bead.colour, bead.letter);
        let words = format!("{}: {} beads", bead.name, bead.count);
        heading(&mut m, at + DVec2::new(5.0, 1.1), 3.2, &words);
        y += 6.0;
    }
    y += 4.0;
    for (nth, drawing) in drawings.iter().enumerate() {
        let caption = match caption(sheet, drawing) {
            Some(more) => format!("{} ({more})", drawing.title),
            None => drawing.title.clone(),
        };
        heading(&mut m, DVec2::new(BETWEEN, y), 4.0, &caption);
        y += 2.0;
        let place = Place::File(DVec2::new(BETWEEN, y));
        inside(&mut m, drawing, &format!("d{}", nth + 1), place);
        y += drawing.size.y + BETWEEN - 2.0;
    }
    let mut text = m.done();
    text.push('\n');
    text
}

/// How many of it to make, where a drawing is of a panel.
fn caption(sheet: &Sheet, drawing: &Drawing) -> Option<String> {
    let panel = sheet
        .panels
        .iter()
        .find(|p| p.drawing.title == drawing.title)?;
    Some(match panel.panels.len() {
        1 => "make 1 of these".to_string(),
        n => format!("make {n} of these"),
    })
}

fn heading(m: &mut Markup, at: DVec2, size: f64, text: &str) {
    let weight = if size >= 4.0 { "bold" } else { "normal" };
    m.say(
        "text",
        &[
            ("x", &mm(at.x)),
            ("y", &mm(at.y)),
            ("font-size", &mm(size)),
            ("font-weight", weight),
            ("fill", INK),
        ],
        text,
    );
    m.line();
}
