//! Drawings as SVG: a single one inside an HTML page, or all of them in one
//! file.

use glam::DVec2;
use palette::Srgb;
use palette::color_difference::Wcag21RelativeContrast;

use super::Sheet;
use super::brick::{BeadOnPaper, BeadRole, GreyMark};
use super::drawing::{Drawing, Element, Pen, Sign, TextSetting, Words};
use super::markup::{Markup, mm, put};
use crate::beadwork::Rgb;

/// Almost black: for lines and text.
const INK: &str = "#1a1a1a";

/// Space between the drawings in a file with all of them, mm.
const BETWEEN: f64 = 14.0;

/// All drawings of a handout in one SVG file, one below the other, each with
/// its caption.
pub fn file(sheet: &Sheet) -> String {
    let drawings: Vec<&Drawing> = sheet.drawings().collect();
    let wide = drawings.iter().map(|d| d.size.x).fold(80.0, f64::max);
    let tall: f64 = drawings.iter().map(|d| d.size.y + BETWEEN).sum();
    let letters = sheet.beads.len() as f64 * 6.0;
    let width = mm(wide + 2.0 * BETWEEN);
    let height = mm(2.0 * BETWEEN + 8.0 + tall + letters);
    let about = match sheet.about.is_empty() {
        true => format!("Drawings of {}.", sheet.title),
        false => sheet.about.clone(),
    };
    let mut m = Markup::default();
    put!(m, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let view = format!("0 0 {width} {height}");
    put!(
        m,
        r##"<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="sheet-title sheet-desc" width="{}mm" height="{}mm" viewBox="{}" font-family="sans-serif">
<title id="sheet-title">{}</title><desc id="sheet-desc">{}</desc><rect width="{}" height="{}" fill="#fff"/>
"##,
        width,
        height,
        view,
        sheet.title,
        about,
        width,
        height
    );
    heading(&mut m, DVec2::splat(BETWEEN), 6.0, &sheet.title);
    let mut y = BETWEEN + 8.0;
    for row in &sheet.beads {
        let at = DVec2::new(BETWEEN + 3.0, y);
        swatch(&mut m, at, row.colour, row.letter);
        let words = format!("{}: {} beads", row.name, row.count);
        heading(&mut m, at + DVec2::new(5.0, 1.1), 3.2, &words);
        y += 6.0;
    }
    y += 4.0;
    for (nth, drawing) in (1..).zip(drawings) {
        let mut panels = sheet.panels.iter();
        let caption = match panels.find(|p| p.drawing.title == drawing.title) {
            Some(p) => format!("{} (make {} of these)", drawing.title, p.panels.len()),
            None => drawing.title.clone(),
        };
        heading(&mut m, DVec2::new(BETWEEN, y), 4.0, &caption);
        y += 2.0;
        let place = DrawingPlace::File(DVec2::new(BETWEEN, y));
        inside(&mut m, drawing, &format!("d{nth}"), place);
        y += drawing.size.y + BETWEEN - 2.0;
    }
    put!(m, "</svg>\n");
    m.done()
}

fn heading(m: &mut Markup, at: DVec2, size: f64, text: &str) {
    let weight = if size >= 4.0 { "bold" } else { "normal" };
    put!(
        m,
        r#"<text x="{}" y="{}" font-size="{}" font-weight="{}" fill="{}">{}</text>"#,
        mm(at.x),
        mm(at.y),
        mm(size),
        weight,
        INK,
        text
    );
    put!(m, "\n");
}

/// Where a drawing stands.
pub enum DrawingPlace<'a> {
    /// At a point of a file of drawings.
    File(DVec2),
    /// In a page, described by the element of this name below it.
    Page(&'a str),
    /// In a page, beside text that says everything.
    Beside,
}

/// One drawing as an element. `id` must be unique in the file. It has a title
/// and a description, unless the text beside it serves as both.
pub fn inside(m: &mut Markup, drawing: &Drawing, id: &str, place: DrawingPlace<'_>) {
    let (width, height) = (mm(drawing.size.x), mm(drawing.size.y));
    let unit = if matches!(place, DrawingPlace::File(_)) {
        ""
    } else {
        "mm"
    };
    put!(
        m,
        r#"<svg width="{}{}" height="{}{}""#,
        width,
        unit,
        height,
        unit
    );
    put!(
        m,
        r#" viewBox="0 0 {} {}" font-family="sans-serif""#,
        width,
        height
    );
    match place {
        DrawingPlace::File(at) => put!(m, r#" x="{}" y="{}""#, mm(at.x), mm(at.y)),
        _ => put!(m, r#" xmlns="http://www.w3.org/2000/svg""#),
    }
    let desc = format!("{id}-desc");
    let described = match place {
        DrawingPlace::Beside => {
            put!(m, r#" class="sign" aria-hidden="true">"#);
            ""
        }
        DrawingPlace::Page(words) => words,
        DrawingPlace::File(_) => &desc,
    };
    if !described.is_empty() {
        put!(m, r#" role="img" aria-labelledby="{}-title""#, id);
        put!(m, r#" aria-describedby="{}">"#, described);
        put!(m, r#"<title id="{}-title">{}</title>"#, id, drawing.title);
    }
    if let DrawingPlace::File(_) = place {
        put!(m, r#"<desc id="{}">{}</desc>"#, desc, drawing.desc);
    }
    put!(m, "\n");
    for shape in &drawing.shapes {
        match shape {
            Element::Bead(brick) => bead(m, brick),
            Element::Line(points, pen) => line(m, points, *pen),
            Element::Area(points, pen) => area(m, points, *pen),
            Element::Sign(at, shown) => sign(m, *at, *shown),
            Element::Label(at, shown) => words(m, *at, shown),
        }
        put!(m, "\n");
    }
    put!(m, "</svg>\n");
}

/// A single horizontal bead with its letter.
pub fn swatch(m: &mut Markup, at: DVec2, colour: Rgb, letter: char) {
    let brick = BeadOnPaper {
        letter: Some(letter),
        ..BeadOnPaper::level(at, DVec2::splat(5.0), colour)
    };
    bead(m, &brick);
    put!(m, "\n");
}

fn bead(m: &mut Markup, bead: &BeadOnPaper) {
    let pen = match bead.part {
        BeadRole::Plain => format!("{}", mm((bead.size.x * 0.035).clamp(0.06, 0.2))),
        BeadRole::First => format!("{}", mm((bead.size.x * 0.13).clamp(0.25, 0.8))),
        BeadRole::Passed => "0.6".to_string(),
    };
    match &bead.cut {
        Some(corners) => put!(m, r#"<polygon points="{}""#, list(corners)),
        None => {
            let corner = bead.at - bead.size / 2.0;
            put!(m, r#"<rect x="{}" y="{}""#, mm(corner.x), mm(corner.y));
            let (length, width) = (mm(bead.size.x), mm(bead.size.y));
            put!(m, r#" width="{}" height="{}""#, length, width);
            put!(m, r#" rx="{}""#, mm(bead.size.min_element() * 0.2));
        }
    }
    put!(
        m,
        r#" fill="{}" stroke="{}" stroke-width="{}""#,
        bead.fill,
        INK,
        pen
    );
    if bead.part == BeadRole::Passed {
        put!(m, r#" stroke-dasharray="1.4 0.9""#);
    }
    if bead.cut.is_some() {
        put!(m, r#" stroke-linejoin="round""#);
    } else if bead.turn.abs() > 0.005 {
        let (turn, at) = (mm(bead.turn), point(bead.at, " "));
        put!(m, r#" transform="rotate({} {})""#, turn, at);
    }
    put!(m, "/>");
    if let Some(mark) = bead.mark {
        self::mark(m, bead, mark);
    }
    if let Some(letter) = bead.letter {
        let size = bead.letter_size() * bead.letter_scale;
        let at = bead.at + bead.letter_off + DVec2::Y * (size * 0.36);
        put!(
            m,
            r#"<text x="{}" y="{}" font-size="{}" text-anchor="middle" fill="{}">{}</text>"#,
            mm(at.x),
            mm(at.y),
            mm(size),
            ink_on(bead.fill),
            letter
        );
    }
}

/// A mark as one path, rotated with its bead.
fn mark(m: &mut Markup, bead: &BeadOnPaper, mark: GreyMark) {
    let turn = DVec2::from_angle(bead.turn.to_radians());
    let reach = bead.size.min_element() * 0.26;
    let at = |(x, y): (f64, f64)| {
        let off = turn.rotate(DVec2::new(x, y) * reach);
        point(bead.at + bead.letter_off + off, " ")
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
    let (ink, pen) = (ink_on(bead.fill), mm(reach * pen));
    put!(m, r#"<path d="{}" fill="none" stroke="{}""#, path, ink);
    put!(m, r#" stroke-width="{}" stroke-linecap="round"/>"#, pen);
}

/// Black or white, whichever contrasts more with a colour (WCAG 2.2). One of
/// the two has a contrast of at least 4.5 to 1 with any colour.
fn ink_on(Rgb(r, g, b): Rgb) -> &'static str {
    let colour: Srgb<f32> = Srgb::new(r, g, b).into_format();
    let contrast = |grey: f32| colour.relative_contrast(Srgb::new(grey, grey, grey));
    match contrast(0.0) > contrast(1.0) {
        true => "#000",
        false => "#fff",
    }
}

fn line(m: &mut Markup, points: &[DVec2], pen: Pen) {
    put!(
        m,
        r#"<polyline points="{}" fill="none" stroke="{}""#,
        list(points),
        INK
    );
    put!(
        m,
        r#" stroke-width="{}" stroke-linecap="round"/>"#,
        width_of(pen)
    );
    if pen == Pen::Needle
        && let [.., before, tip] = points
    {
        let along = (*tip - *before).normalize_or_zero();
        let back = *tip - along * 2.0;
        let aside = along.perp() * 0.9;
        let head = list(&[*tip, back + aside, back - aside]);
        put!(m, r#"<polygon points="{}" fill="{}"/>"#, head, INK);
    }
}

fn area(m: &mut Markup, points: &[DVec2], pen: Pen) {
    let fill = if pen == Pen::Edge { "#fff" } else { "none" };
    put!(
        m,
        r#"<polygon points="{}" fill="{}" stroke="{}""#,
        list(points),
        fill,
        INK
    );
    put!(
        m,
        r#" stroke-width="{}" stroke-linejoin="round"/>"#,
        width_of(pen)
    );
}

fn width_of(pen: Pen) -> f64 {
    match pen {
        Pen::Edge => 0.35,
        Pen::Row => 1.2,
        Pen::Needle => 0.5,
        Pen::Round => 0.1,
        Pen::Fifth => 0.3,
    }
}

fn sign(m: &mut Markup, at: DVec2, sign: Sign) {
    let (fill, stroke) = match sign {
        Sign::Start(way) => {
            let turn = DVec2::from_angle(way.to_radians());
            let corners = [(-1.3, -1.4), (-1.3, 1.4), (1.6, 0.0)];
            let corners = corners.map(|(x, y)| at + turn.rotate(DVec2::new(x, y)));
            put!(m, r##"<polygon points="{}" fill="#000""##, list(&corners));
            return put!(m, r##" stroke="#fff" stroke-width="0.4"/>"##);
        }
        Sign::Increase => ("#fff", "#000"),
        Sign::Decrease => ("#000", "#fff"),
    };
    put!(m, r#"<circle cx="{}" cy="{}" r="0.65""#, mm(at.x), mm(at.y));
    put!(
        m,
        r#" fill="{}" stroke="{}" stroke-width="0.3"/>"#,
        fill,
        stroke
    );
}

fn words(m: &mut Markup, at: DVec2, words: &Words) {
    if words.set == TextSetting::Tag {
        let size = words.tag();
        let corner = at - size / 2.0;
        put!(m, r#"<rect x="{}" y="{}""#, mm(corner.x), mm(corner.y));
        put!(m, r#" width="{}" height="{}""#, mm(size.x), mm(size.y));
        put!(m, r##" rx="{}" fill="#fff""##, mm(size.y * 0.35));
        put!(m, r#" stroke="{}" stroke-width="0.15"/>"#, INK);
    }
    let anchor = match words.set {
        TextSetting::Right => "start",
        TextSetting::Left => "end",
        TextSetting::Middle | TextSetting::Strong | TextSetting::Tag => "middle",
    };
    let weight = match words.set {
        TextSetting::Strong | TextSetting::Tag => "bold",
        _ => "normal",
    };
    put!(
        m,
        r#"<text x="{}" y="{}""#,
        mm(at.x),
        mm(at.y + words.size * 0.36)
    );
    put!(
        m,
        r#" font-size="{}" font-weight="{}""#,
        mm(words.size),
        weight
    );
    put!(
        m,
        r#" text-anchor="{}" fill="{}">{}</text>"#,
        anchor,
        INK,
        words.text
    );
}

fn point(p: DVec2, between: &str) -> String {
    format!("{}{between}{}", mm(p.x), mm(p.y))
}

fn list(points: &[DVec2]) -> String {
    let points: Vec<String> = points.iter().map(|p| point(*p, ",")).collect();
    points.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_have_enough_contrast_on_any_bead() {
        assert_eq!(ink_on(Rgb(255, 255, 255)), "#000");
        assert_eq!(ink_on(Rgb(39, 64, 110)), "#fff");
        assert_eq!(ink_on(Rgb(224, 154, 45)), "#000");
    }
}
