//! Whole patterns: those that load, and the messages for those that do not.

mod docs;
mod files;
mod paint;
mod property;
mod refusals;
mod round_trip;
mod sewable;
mod shipped;
mod unlike;

use super::file::File;
use super::{Pattern, json, read};

/// A small pattern, line by line as a maker might write it.
pub(super) const LANTERN: &str = r##"{
  "threadmark": 1,
  "title": "Harbour lantern",
  "beads": {
    "S": { "name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79" },
    "A": { "name": "amber", "size": "cylinder 11/0", "colour": "#d98a24" }
  },
  "thread": "braided 0.15",
  "needle": 12,
  "panels": {
    "face": { "sides": 3, "rounds": 8, "colours": ["all: S*"] },
    "window": { "sides": 3, "rounds": 8, "way": "inward", "open": 2, "colours": ["all: A*"] }
  },
  "make": { "panel": "face" }
}
"##;

/// The lantern with one text replaced.
pub(super) fn lantern(old: &str, new: &str) -> String {
    assert_eq!(LANTERN.matches(old).count(), 1, "{old}");
    LANTERN.replace(old, new)
}

/// The lantern, making something else.
pub(super) fn making(make: &str) -> String {
    lantern("{ \"panel\": \"face\" }", make)
}

/// A pattern that must load.
#[track_caller]
pub(super) fn loaded(text: &str) -> Pattern {
    match read::read("lantern.json", text.as_bytes()) {
        Ok(pattern) => pattern,
        Err(errors) => panic!("{errors}"),
    }
}

/// The file as it is written.
#[track_caller]
pub(super) fn file(text: &str) -> File {
    let source = json::parse("lantern.json", text).unwrap();
    read::file(&source).unwrap()
}

/// Everything reported about a pattern that must not load.
#[track_caller]
pub(super) fn refusal(text: &str) -> String {
    match read::read("lantern.json", text.as_bytes()) {
        Ok(_) => panic!("it loads:\n{text}"),
        Err(errors) => errors.to_string(),
    }
}

#[track_caller]
pub(super) fn refused(text: impl AsRef<str>, says: &str) {
    assert_eq!(refusal(text.as_ref()), says);
}
