//! A piece without a pattern: it begins with a ring, and grows as its maker
//! stitches.

use super::failure::Failure;
use super::open::{self, How, Opened};
use super::source::Found;
use crate::pattern;
use crate::progress::Tray;

/// The free piece of this title, or a new one.
///
/// # Errors
/// It cannot be opened or begun.
pub(super) fn open(tray: &Tray, title: &str, ring: u8) -> Result<Opened, Failure> {
    let mut pieces = tray.pieces()?.into_iter();
    let known = pieces.find(|piece| piece.name == title || piece.title.as_str() == title);
    if let Some(piece) = known {
        return open::piece(tray, &piece.name, How::WORK);
    }
    let bytes = text(title, ring).into_bytes();
    let pattern = pattern::read("the free piece", &bytes)
        .map_err(|problems| Failure::new(problems.to_string(), "give the piece another name"))?;
    let file = None;
    let found = Found {
        pattern,
        bytes,
        file,
    };
    open::begin(tray, found, How::WORK)
}

/// The pattern that a free piece begins with: its rounds are plain until its
/// maker stitches them otherwise.
fn text(title: &str, ring: u8) -> String {
    let panel = format!(r#""sides": {ring}, "ring": {ring}, "rounds": 2, "words": ["1*{ring}"]"#);
    let title = serde_json::Value::from(title);
    format!(
        r##"{{
  "threadmark": 1,
  "title": {title},
  "beads": {{
    "A": {{ "name": "first", "size": "cylinder 11/0", "colour": "#2f7f79" }},
    "B": {{ "name": "second", "size": "cylinder 11/0", "colour": "#d98a24" }},
    "C": {{ "name": "third", "size": "cylinder 11/0", "colour": "#e8dcc3" }}
  }},
  "thread": "braided 0.12",
  "needle": 12,
  "panels": {{ "work": {{ {panel}, "colours": ["all: A*"] }} }},
  "make": {{ "panel": "work" }}
}}
"##
    )
}
