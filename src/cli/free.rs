//! A piece without a pattern: it begins with a ring, a string or a strip, and
//! grows as its maker stitches.

use super::args::{FreeShape, StitchArgs};
use super::failure::Failure;
use super::open::{self, OpenOptions, Opened};
use super::source::FoundPattern;
use crate::pattern;
use crate::progress::Tray;
use crate::screen::{FreeBeginning, NewFreePiece};

/// What the command line says about a free piece.
#[derive(Debug)]
pub(super) enum FreeRequest {
    /// Continue the piece of this name.
    Continue(String),
    /// Begin a new piece.
    Begin(NewFreePiece),
    /// Ask what the piece begins with; its name may be given.
    Ask(Option<String>),
}

/// Reads what the command line says about a free piece.
///
/// # Errors
/// No piece can begin like that, or the tray cannot be read.
pub(super) fn request(tray: &Tray, args: &StitchArgs) -> Result<FreeRequest, Failure> {
    let shape = beginning(args)?;
    let name = match (&args.name, shape) {
        (None, None) => return Ok(FreeRequest::Ask(None)),
        (name, _) => name.clone().unwrap_or_else(|| "Free piece".into()),
    };
    let mut pieces = tray.pieces()?.into_iter();
    let existing = pieces.find(|piece| piece.name == name || piece.title.as_str() == name);
    Ok(match (existing, shape) {
        (Some(piece), _) => FreeRequest::Continue(piece.name),
        (None, Some(beginning)) => FreeRequest::Begin(NewFreePiece { name, beginning }),
        (None, None) => FreeRequest::Ask(Some(name)),
    })
}

/// What the command line says that a piece begins with, if anything.
fn beginning(args: &StitchArgs) -> Result<Option<FreeBeginning>, Failure> {
    let shape = match (args.start, args.ring, args.size) {
        (None, None, None) => return Ok(None),
        (start, ..) => start.unwrap_or(FreeShape::Ring),
    };
    let (sides, size) = (args.ring.unwrap_or(3), args.size.unwrap_or(8));
    Ok(Some(match shape {
        FreeShape::Ring => FreeBeginning::Ring(sides),
        FreeShape::String => FreeBeginning::String(size, sides),
        FreeShape::Strip if size.is_multiple_of(2) => FreeBeginning::Strip(size),
        FreeShape::Strip => {
            let why = format!("a strip cannot be {size} beads across: the number has to be even");
            return Err(Failure::new(why, format!("give --size {}", size + 1)));
        }
    }))
}

/// Begins a free piece.
///
/// # Errors
/// The name makes no valid pattern, or the tray cannot be written.
pub(super) fn begin(tray: &Tray, start: &NewFreePiece) -> Result<Opened, Failure> {
    let bytes = text(start).into_bytes();
    let pattern = pattern::read("the free piece", &bytes)
        .map_err(|problems| Failure::new(problems.to_string(), "give the piece another name"))?;
    let file = None;
    let found = FoundPattern {
        pattern,
        bytes,
        file,
    };
    open::begin(tray, found, OpenOptions::WORK)
}

/// The pattern that a free piece begins with: its rounds are plain, or lie
/// flat, until the maker stitches them differently.
fn text(start: &NewFreePiece) -> String {
    let panel = match start.beginning {
        FreeBeginning::Ring(beads) => {
            format!(r#""sides": {beads}, "ring": {beads}, "rounds": 2, "words": ["1*{beads}"]"#)
        }
        FreeBeginning::String(rounds, sides) => {
            format!(r#""sides": {sides}, "rounds": {rounds}, "way": "inward""#)
        }
        FreeBeginning::Strip(beads) => {
            format!(r#""stitch": "strip", "width": {beads}, "rows": 2"#)
        }
    };
    let title = serde_json::Value::from(start.name.as_str());
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
