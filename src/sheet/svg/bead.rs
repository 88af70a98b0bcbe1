//! A bead as SVG: its outline, its colour, its letter or its mark.

use glam::DVec2;

use super::{INK, list};
use crate::beadwork::Rgb;
use crate::plan::json::hex;
use crate::sheet::brick::{Brick, Mark, Part};
use crate::sheet::markup::{Markup, mm};

/// A bead by itself, level, with its letter.
pub fn swatch(m: &mut Markup, at: DVec2, colour: Rgb, letter: char) {
    let brick = Brick {
        letter: Some(letter),
        ..Brick::level(at, (5.0, 5.0), colour)
    };
    bead(m, &brick);
}

/// A bead as it lies in a drawing.
pub(super) fn bead(m: &mut Markup, bead: &Brick) {
    let fill = hex(bead.fill);
    let thin = mm((bead.length * 0.035).clamp(0.06, 0.2));
    let strong = mm((bead.length * 0.13).clamp(0.25, 0.8));
    let mut outline = vec![("fill", fill.as_str()), ("stroke", INK)];
    match bead.part {
        Part::Plain => outline.push(("stroke-width", &thin)),
        Part::First => outline.push(("stroke-width", &strong)),
        Part::Passed => {
            outline.push(("stroke-width", "0.6"));
            outline.push(("stroke-dasharray", "1.4 0.9"));
        }
    }
    match &bead.cut {
        Some(corners) => {
            let points = list(corners);
            outline.insert(0, ("points", &points));
            outline.push(("stroke-linejoin", "round"));
            m.empty("polygon", &outline);
        }
        None => brick(m, bead, &outline),
    }
    if let Some(mark) = bead.mark {
        self::mark(m, bead, mark);
    }
    if let Some(letter) = bead.letter {
        let size = bead.letter_size() * bead.letter_scale;
        let at = bead.at + bead.letter_off + DVec2::new(0.0, size * 0.36);
        m.say(
            "text",
            &[
                ("x", &mm(at.x)),
                ("y", &mm(at.y)),
                ("font-size", &mm(size)),
                ("text-anchor", "middle"),
                ("fill", ink_on(bead.fill)),
            ],
            &letter.to_string(),
        );
    }
    m.line();
}

/// A mark as one path, turned with its bead.
fn mark(m: &mut Markup, bead: &Brick, mark: Mark) {
    let at = bead.at + bead.letter_off;
    let turn = DVec2::from_angle(bead.turn.to_radians());
    let reach = bead.length.min(bead.width) * 0.26;
    let point = |x: f64, y: f64| {
        let p = at + turn.rotate(DVec2::new(x, y) * reach);
        format!("{} {}", mm(p.x), mm(p.y))
    };
    let bar = |a: (f64, f64), b: (f64, f64)| format!("M{}L{}", point(a.0, a.1), point(b.0, b.1));
    // A line of no length with a round end is a dot.
    let dot = |x: f64| format!("M{0}L{0}", point(x, 0.0));
    let thin = reach * 0.5;
    let (path, pen) = match mark {
        Mark::Dot => (dot(0.0), reach * 1.1),
        Mark::Dots => (dot(-0.8) + &dot(0.8), reach * 0.8),
        Mark::Bar => (bar((-1.0, 0.0), (1.0, 0.0)), thin),
        Mark::Post => (bar((0.0, -1.0), (0.0, 1.0)), thin),
        Mark::Cross => (
            bar((-0.8, -0.8), (0.8, 0.8)) + &bar((-0.8, 0.8), (0.8, -0.8)),
            thin,
        ),
        Mark::Ring => {
            let corners = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)];
            let corners = corners.map(|(x, y)| point(x, y)).join("L");
            (format!("M{corners}Z"), thin * 0.8)
        }
    };
    m.empty(
        "path",
        &[
            ("d", &path),
            ("fill", "none"),
            ("stroke", ink_on(bead.fill)),
            ("stroke-width", &mm(pen)),
            ("stroke-linecap", "round"),
        ],
    );
}

fn brick(m: &mut Markup, bead: &Brick, outline: &[(&'static str, &str)]) {
    let corner = bead.at - DVec2::new(bead.length, bead.width) / 2.0;
    let round = mm(bead.length.min(bead.width) * 0.2);
    let turn = format!(
        "rotate({} {} {})",
        mm(bead.turn),
        mm(bead.at.x),
        mm(bead.at.y)
    );
    let (x, y) = (mm(corner.x), mm(corner.y));
    let (length, width) = (mm(bead.length), mm(bead.width));
    let mut attributes = vec![
        ("x", x.as_str()),
        ("y", y.as_str()),
        ("width", length.as_str()),
        ("height", width.as_str()),
        ("rx", round.as_str()),
    ];
    attributes.extend(outline);
    if bead.turn.abs() > 0.005 {
        attributes.push(("transform", &turn));
    }
    m.empty("rect", &attributes);
}

/// Black or white, whichever stands out more on a colour: relative luminance
/// and contrast as WCAG 2.2 defines them. One of the two has 4.5 to 1 on any.
fn ink_on(Rgb(r, g, b): Rgb) -> &'static str {
    let linear = |c: u8| match f64::from(c) / 255.0 {
        c if c <= 0.04045 => c / 12.92,
        c => ((c + 0.055) / 1.055).powf(2.4),
    };
    let light = 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
    let (black, white) = ((light + 0.05) / 0.05, 1.05 / (light + 0.05));
    if black > white { "#000" } else { "#fff" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_stand_out_on_any_bead() {
        assert_eq!(ink_on(Rgb(255, 255, 255)), "#000");
        assert_eq!(ink_on(Rgb(39, 64, 110)), "#fff");
        assert_eq!(ink_on(Rgb(224, 154, 45)), "#000");
    }
}
