//! Paper: a real browser lays the handout out and prints it.

use lopdf::{Document, Object};

use super::browser::Browser;
use crate::builder::threadmark;

/// Patterns that are printed, and how many pages they take at least and at
/// most: it depends on the type that a machine has.
const PRINTED: [(&str, usize, usize); 5] = [
    ("practice-triangle", 1, 2),
    ("practice-pair", 1, 2),
    ("flat-hexagon", 2, 4),
    ("harbour-lantern", 4, 6),
    ("weather-wheel", 6, 9),
];

/// Paper, mm: A4 by ISO 216; US Letter is 8.5 × 11 in.
const PAPER: [(&str, f32, f32); 2] = [("a4", 210.0, 297.0), ("letter", 215.9, 279.4)];

/// The margin that the handout leaves, mm.
const MARGIN: f32 = 12.0;

/// CSS pixels in a millimetre, by definition 96 in an inch.
const PIXELS: f32 = 96.0 / 25.4;

/// Width and height of a page, mm.
fn size(pdf: &Document, page: lopdf::ObjectId) -> (f32, f32) {
    let page = pdf.get_dictionary(page).unwrap();
    let of = match page.get(b"MediaBox") {
        Ok(found) => found,
        Err(_) => {
            let parent = page.get(b"Parent").and_then(Object::as_reference).unwrap();
            pdf.get_dictionary(parent)
                .unwrap()
                .get(b"MediaBox")
                .unwrap()
        }
    };
    let corners = of.as_array().unwrap();
    let points: Vec<f32> = corners.iter().map(|n| n.as_float().unwrap()).collect();
    let mm = 25.4 / 72.0;
    ((points[2] - points[0]) * mm, (points[3] - points[1]) * mm)
}

/// Runs of text on a page.
fn texts(pdf: &Document, page: lopdf::ObjectId) -> usize {
    let content = pdf.get_page_content(page);
    let words = content.split(u8::is_ascii_whitespace);
    words.filter(|word| *word == b"BT").count()
}

#[test]
fn it_prints_on_a4_and_no_page_is_empty() {
    prints_on(PAPER[0]);
}

#[test]
fn it_prints_on_letter_and_no_page_is_empty() {
    prints_on(PAPER[1]);
}

fn prints_on((paper, width, height): (&str, f32, f32)) {
    let Some(browser) = Browser::find("printing the handout") else {
        return;
    };
    let dir = threadmark("");
    for (pattern, least, most) in PRINTED {
        let run = dir.again(&format!("sheet {pattern} --paper {paper}"));
        let page = run.run();
        let file = run.dir().join("sheet.html");
        // The page forbids scripts: one that gets in is not run.
        let tried = "<script>document.body.replaceChildren()</script></body>";
        std::fs::write(&file, page.replace("</body>", tried)).unwrap();
        let pdf = browser.print(run.dir(), "sheet.html");
        let pages = pdf.get_pages();
        let n = pages.len();
        assert!(
            (least..=most).contains(&n),
            "{pattern} on {paper}: {n} pages"
        );
        for (number, page) in pages {
            let (w, h) = size(&pdf, page);
            assert!(
                (w - width).abs() < 1.0 && (h - height).abs() < 1.0,
                "{paper}: {w} × {h}"
            );
            // Title and number at its foot, and the handout itself: more of it
            // than a line or a row.
            let texts = texts(&pdf, page);
            assert!(
                texts > 20,
                "{pattern} on {paper}: page {number} has {texts} texts"
            );
        }
    }
}

/// Wider fonts stand in for the ones that are named: without `font-size-adjust` they take a
/// page more. Where they are not installed, the machine's own font is tried.
#[test]
fn other_fonts_take_as_many_pages() {
    let Some(browser) = Browser::find("printing in other fonts") else {
        return;
    };
    let dir = threadmark("");
    for pattern in ["practice-pair", "weather-wheel"] {
        let run = dir.again(&format!("sheet {pattern} --paper letter"));
        let page = run.run();
        let other = page
            .replace("\"Times New Roman\", Georgia, serif", "\"DejaVu Serif\"")
            .replace("Helvetica, Arial, sans-serif", "\"DejaVu Sans\"");
        assert_ne!(page, other);
        let pages = |name: &str, page: &str| {
            std::fs::write(run.dir().join(name), page).unwrap();
            browser.print(run.dir(), name).get_pages().len()
        };
        let (own, others) = (pages("own.html", &page), pages("other.html", &other));
        assert_eq!(own, others, "{pattern}");
    }
}

/// Handouts, laid out in frames so wide, px.
struct Frames {
    widths: Vec<u32>,
    /// The room of a page, px.
    height: f32,
    /// Lines of words are at least so wide, px.
    narrow: u32,
    /// The style for which they are laid out: `print`, or none for the screen.
    media: Option<&'static str>,
}

/// Nothing runs over the edge of a frame, or lies over other words.
fn assert_all_has_room(browser: &Browser, calls: &[&str], frames: &Frames) {
    let dir = threadmark("");
    let laid = |call: &&str| {
        let page = dir.again(&format!("sheet {call}")).run();
        assert!(page.contains("@media print") && page.contains("default-src 'none';"));
        let script = include_str!("measure.js")
            .replace("HEIGHT", &frames.height.to_string())
            .replace("NARROW", &frames.narrow.to_string())
            .replace("CALL", call);
        let page = match frames.media {
            Some(media) => page.replace(&format!("@media {media}"), "@media all"),
            None => page,
        };
        let laid = page
            .replace("default-src 'none';", "script-src 'unsafe-inline';")
            .replace("</body>", &format!("<script>{script}</script></body>"))
            .replace('&', "&amp;")
            .replace('"', "&quot;");
        let frame = |width: &u32| {
            format!("<iframe width=\"{width}\" height=\"1000\" srcdoc=\"{laid}\"></iframe>")
        };
        frames.widths.iter().map(frame).collect::<String>()
    };
    let laid: String = calls.iter().map(laid).collect();
    let laid = format!("<!DOCTYPE html><style>iframe {{ border: 0 }}</style>{laid}");
    std::fs::write(dir.dir().join("frames.html"), laid).unwrap();
    let dom = browser.dom(dir.dir(), "frames.html");
    let measured = dom.split("<pre class=\"measured\">").skip(1);
    let measured: Vec<&str> = measured.filter_map(|m| m.split("</pre>").next()).collect();
    // Nothing but its name is said of each.
    let widths = frames.widths.len();
    let all = calls
        .iter()
        .flat_map(|call| std::iter::repeat_n(*call, widths));
    assert_eq!(measured, all.collect::<Vec<_>>());
}

#[test]
fn nothing_runs_over_the_paper_or_over_other_words() {
    let Some(browser) = Browser::find("measuring the handout") else {
        return;
    };
    // As narrow as A4 and as short as Letter: what fits there fits both.
    let room = |mm: f32| (mm - 2.0 * MARGIN) * PIXELS;
    let (width, height) = PAPER.iter().fold((f32::MAX, f32::MAX), |(w, h), paper| {
        (w.min(paper.1), h.min(paper.2))
    });
    let frames = Frames {
        widths: vec![room(width) as u32],
        height: room(height),
        narrow: 0,
        media: Some("print"),
    };
    let more = ["practice-decrease --inches", "night-kite --left-handed"];
    let calls = PRINTED.map(|(pattern, ..)| pattern);
    assert_all_has_room(&browser, &[&calls[..], &more].concat(), &frames);
}

/// A page that a browser lays out anew at 320 px reads without scrolling to the side
/// (WCAG 2.2, 1.4.10 Reflow); wider ones, up to where tables have their columns, too.
#[test]
fn it_reads_on_a_telephone() {
    let Some(browser) = Browser::find("the handout on a telephone") else {
        return;
    };
    let frames = Frames {
        widths: vec![320, 500, 700],
        height: f32::from(u16::MAX),
        narrow: 120,
        media: None,
    };
    let calls = ["practice-pair --inches", "harbour-lantern"];
    assert_all_has_room(&browser, &calls, &frames);
}
