//! Drawings as SVG: one inside an HTML page, or all of them in one file.

mod bead;
mod file;

pub use bead::swatch;
pub use file::file;

use glam::DVec2;

use super::drawing::{Drawing, Pen, Set, Shape, Sign, Words};
use super::markup::{Markup, mm};

/// Where a drawing stands.
pub enum Place<'a> {
    /// At a point of a file of drawings.
    File(DVec2),
    /// In a page, told by the element of this name below it.
    Page(&'a str),
    /// In a page, beside words that say it all.
    Beside,
}

/// One drawing as an element. `id` tells it from the others of the file. It has
/// a title and a description, unless words beside it are both.
pub fn inside(m: &mut Markup, drawing: &Drawing, id: &str, place: Place<'_>) {
    let (title, desc) = (format!("{id}-title"), format!("{id}-desc"));
    let (width, height) = (mm(drawing.size.x), mm(drawing.size.y));
    let view = format!("0 0 {width} {height}");
    let unit = match place {
        Place::File(_) => "",
        Place::Page(_) | Place::Beside => "mm",
    };
    let (wide, high) = (format!("{width}{unit}"), format!("{height}{unit}"));
    let mut attributes = vec![
        ("width", wide.as_str()),
        ("height", high.as_str()),
        ("viewBox", view.as_str()),
        ("font-family", "sans-serif"),
    ];
    let (x, y) = match place {
        Place::File(at) => (mm(at.x), mm(at.y)),
        _ => (String::new(), String::new()),
    };
    let described = match place {
        Place::Page(words) => words,
        _ => &desc,
    };
    match place {
        Place::File(_) => attributes.extend([("x", x.as_str()), ("y", &y)]),
        _ => attributes.push(("xmlns", "http://www.w3.org/2000/svg")),
    }
    match place {
        Place::Beside => attributes.extend([("class", "sign"), ("aria-hidden", "true")]),
        _ => attributes.extend([
            ("role", "img"),
            ("aria-labelledby", title.as_str()),
            ("aria-describedby", described),
        ]),
    }
    m.open("svg", &attributes);
    match place {
        Place::Beside => {}
        Place::Page(_) => m.say("title", &[("id", &title)], &drawing.title),
        Place::File(_) => {
            m.say("title", &[("id", &title)], &drawing.title);
            m.say("desc", &[("id", &desc)], &drawing.desc);
        }
    }
    m.line();
    for shape in &drawing.shapes {
        self::shape(m, shape);
    }
    m.close();
    m.line();
}

/// Almost black: what is drawn and written.
const INK: &str = "#1a1a1a";

fn shape(m: &mut Markup, shape: &Shape) {
    match shape {
        Shape::Bead(brick) => bead::bead(m, brick),
        Shape::Line(points, pen) => line(m, points, *pen),
        Shape::Area(points, pen) => area(m, points, *pen),
        Shape::Sign(at, sign) => self::sign(m, *at, *sign),
        Shape::Words(at, words) => self::words(m, *at, words),
    }
}

fn line(m: &mut Markup, points: &[DVec2], pen: Pen) {
    let points_text = list(points);
    m.empty(
        "polyline",
        &[
            ("points", &points_text),
            ("fill", "none"),
            ("stroke", INK),
            ("stroke-width", width_of(pen)),
            ("stroke-linecap", "round"),
        ],
    );
    if pen == Pen::Needle
        && let [.., before, tip] = points
    {
        let along = (*tip - *before).normalize_or_zero();
        let back = *tip - along * 2.0;
        let aside = along.perp() * 0.9;
        let head = list(&[*tip, back + aside, back - aside]);
        m.empty("polygon", &[("points", &head), ("fill", INK)]);
    }
    m.line();
}

fn area(m: &mut Markup, points: &[DVec2], pen: Pen) {
    let fill = if pen == Pen::Edge { "#fff" } else { "none" };
    m.empty(
        "polygon",
        &[
            ("points", &list(points)),
            ("fill", fill),
            ("stroke", INK),
            ("stroke-width", width_of(pen)),
            ("stroke-linejoin", "round"),
        ],
    );
    m.line();
}

fn width_of(pen: Pen) -> &'static str {
    match pen {
        Pen::Edge => "0.35",
        Pen::Row => "1.2",
        Pen::Needle => "0.5",
        Pen::Round => "0.1",
        Pen::Fifth => "0.3",
    }
}

fn sign(m: &mut Markup, at: DVec2, sign: Sign) {
    match sign {
        Sign::Start(way) => {
            let turn = DVec2::from_angle(way.to_radians());
            let points = [
                DVec2::new(-1.3, -1.4),
                DVec2::new(-1.3, 1.4),
                DVec2::new(1.6, 0.0),
            ];
            let points = points.map(|p| at + turn.rotate(p));
            m.empty(
                "polygon",
                &[
                    ("points", &list(&points)),
                    ("fill", "#000"),
                    ("stroke", "#fff"),
                    ("stroke-width", "0.4"),
                ],
            );
        }
        Sign::Increase | Sign::Decrease => {
            let (fill, stroke) = match sign {
                Sign::Increase => ("#fff", "#000"),
                _ => ("#000", "#fff"),
            };
            m.empty(
                "circle",
                &[
                    ("cx", &mm(at.x)),
                    ("cy", &mm(at.y)),
                    ("r", "0.65"),
                    ("fill", fill),
                    ("stroke", stroke),
                    ("stroke-width", "0.3"),
                ],
            );
        }
    }
    m.line();
}

fn words(m: &mut Markup, at: DVec2, words: &Words) {
    let anchor = match words.set {
        Set::Right => "start",
        Set::Left => "end",
        Set::Middle | Set::Strong | Set::Tag => "middle",
    };
    if words.set == Set::Tag {
        let (wide, high) = (words.width().max(words.size) + 0.6, words.size * 1.12);
        m.empty(
            "rect",
            &[
                ("x", &mm(at.x - wide / 2.0)),
                ("y", &mm(at.y - high / 2.0)),
                ("width", &mm(wide)),
                ("height", &mm(high)),
                ("rx", &mm(high * 0.35)),
                ("fill", "#fff"),
                ("stroke", INK),
                ("stroke-width", "0.15"),
            ],
        );
    }
    let weight = match words.set {
        Set::Strong | Set::Tag => "bold",
        _ => "normal",
    };
    m.say(
        "text",
        &[
            ("x", &mm(at.x)),
            ("y", &mm(at.y + words.size * 0.36)),
            ("font-size", &mm(words.size)),
            ("font-weight", weight),
            ("text-anchor", anchor),
            ("fill", INK),
        ],
        &words.text,
    );
    m.line();
}

fn list(points: &[DVec2]) -> String {
    let points: Vec<String> = points
        .iter()
        .map(|p| format!("{},{}", mm(p.x), mm(p.y)))
        .collect();
    points.join(" ")
}
