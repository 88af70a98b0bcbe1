//! The patterns that come with the program: the files of `patterns/`, included
//! in the executable.

use include_dir::{Dir, include_dir};

static PATTERNS: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/patterns");

/// The pattern that opens by itself.
pub(super) const DEMO: &str = "harbour-lantern";

/// The pattern of the beginner's tour.
pub(super) const TOUR: &str = "practice-pair";

/// Whether this is a practice pattern, whose pieces begin with the tour on.
pub(super) fn is_practice(pattern: &[u8]) -> bool {
    names()
        .filter(|name| name.starts_with("practice-"))
        .any(|name| bytes(name) == Some(pattern))
}

/// Their names, in order: the names of their files without `.json`.
pub(super) fn names() -> impl Iterator<Item = &'static str> {
    let mut names: Vec<&str> = PATTERNS
        .files()
        .filter_map(|file| file.path().to_str()?.strip_suffix(".json"))
        .collect();
    names.sort_unstable();
    names.into_iter()
}

/// Their names, easiest first.
pub(super) const EASIEST_FIRST: [&str; 9] = [
    "practice-triangle",
    "practice-pair",
    "practice-decrease",
    "flat-hexagon",
    "lamp-pull",
    "night-kite",
    "harbour-lantern",
    "heron-ring",
    "weather-wheel",
];

/// The bytes of a pattern by its name.
pub(super) fn bytes(name: &str) -> Option<&'static [u8]> {
    let file = PATTERNS.get_file(format!("{name}.json"))?;
    Some(file.contents())
}
