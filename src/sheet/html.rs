//! The handout as one HTML page, which contains its drawings and its style: no
//! script, nothing loaded from elsewhere. It is well-formed XML too.

use std::cell::Cell;
use std::fmt::Write as _;

use askama::Template;
use glam::DVec2;

use super::svg::{beside_text, in_page, swatch};
use super::template::rendered;
use super::{Paper, Sheet};
use crate::words::care::{ADVICE, CAUTIONS};

/// Panels of up to this many rounds are drawn beside their table of rounds.
const BESIDE: usize = 10;
/// With up to this many rounds or faces the drawing is small.
const SMALL: usize = 4;
/// With up to this many faces, they are drawn beside the list of their joins.
const FACES_BESIDE: usize = 8;

/// With up to this many faces, the faces and the joins are kept together.
const PAIR: usize = 2;

/// The most boxes for one round: one for each panel of the kind.
const BOXES: usize = 6;

/// A list of up to this many stages is kept on one page.
const KEPT: usize = 10;

/// Letters of a title at the foot of a page.
const TITLE: usize = 60;

/// A page to be written.
#[derive(Template)]
#[template(path = "sheet/handout.html", config = "src/askama.toml")]
struct HtmlPage<'a> {
    sheet: &'a Sheet,
    drawings: Counter,
    boxes: Counter,
}

/// Numbers drawings or check boxes from 1.
#[derive(Default)]
struct Counter(Cell<usize>);

impl Counter {
    fn next(&self) -> usize {
        self.0.set(self.0.get() + 1);
        self.0.get()
    }
}

/// The page.
pub fn page(sheet: &Sheet) -> String {
    rendered(&HtmlPage {
        sheet,
        drawings: Counter::default(),
        boxes: Counter::default(),
    }) + "\n"
}

/// The class that sets a drawing of `drawn` rounds or faces beside its text, if
/// there are at most `most`.
fn beside(drawn: usize, most: usize) -> &'static str {
    match drawn {
        _ if drawn <= SMALL => "beside small",
        _ if drawn <= most => "beside",
        _ => "",
    }
}

/// The check boxes of a round: one for each panel of the kind, unless there are
/// too many.
fn round_boxes(made: usize) -> Vec<String> {
    match made {
        2..=BOXES => (1..=made).map(|nth| format!(", panel {nth}")).collect(),
        _ => vec![String::new()],
    }
}

/// A text as a CSS string: everything except ASCII letters and digits is
/// written as its number, so that it can end neither the string nor the element
/// around it (CSS Syntax Level 3, 4.3.7).
fn css_string(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars().take(TITLE).filter(|c| !c.is_control()) {
        match c.is_ascii_alphanumeric() {
            true => out.push(c),
            false => _ = write!(out, "\\{:x} ", u32::from(c)),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_title_breaks_out_of_its_string() {
        assert_eq!(css_string("Lamp"), "Lamp");
        assert_eq!(css_string("\"</style>"), r"\22 \3c \2f style\3e ");
        assert_eq!(css_string("Törn\n"), r"T\f6 rn");
    }
}
