//! A piece without a pattern: it begins with a ring, a string or a strip, and
//! grows as its maker stitches.

use super::args::{FreeBeginning, Stitch};
use super::failure::Failure;
use super::open::{self, How, Opened};
use super::source::Found;
use crate::pattern;
use crate::progress::Tray;

/// The free piece of this title, or a new one.
///
/// # Errors
/// It cannot be opened or begun.
pub(super) fn open(tray: &Tray, title: &str, args: &Stitch) -> Result<Opened, Failure> {
    let mut pieces = tray.pieces()?.into_iter();
    let known = pieces.find(|piece| piece.name == title || piece.title.as_str() == title);
    if let Some(piece) = known {
        return open::piece(tray, &piece.name, How::WORK);
    }
    let bytes = text(title, args)?.into_bytes();
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

/// The pattern that a free piece begins with: its rounds are plain, or lie
/// flat, until its maker stitches them otherwise.
fn text(title: &str, args: &Stitch) -> Result<String, Failure> {
    let (sides, size) = (args.ring, args.size);
    let panel = match args.start {
        FreeBeginning::Ring => {
            format!(r#""sides": {sides}, "ring": {sides}, "rounds": 2, "words": ["1*{sides}"]"#)
        }
        FreeBeginning::String => {
            format!(r#""sides": {sides}, "rounds": {size}, "way": "inward""#)
        }
        FreeBeginning::Strip if size.is_multiple_of(2) => {
            format!(r#""stitch": "strip", "width": {size}, "rows": 2"#)
        }
        FreeBeginning::Strip => {
            let why = format!("a strip cannot be {size} beads across: the number has to be even");
            return Err(Failure::new(why, format!("give --size {}", size + 1)));
        }
    };
    let title = serde_json::Value::from(title);
    Ok(format!(
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
    ))
}
