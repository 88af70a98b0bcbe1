//! The patterns that come with the program: the files of `patterns/`, kept
//! inside the program so that an installed one has them too.

use include_dir::{Dir, include_dir};

static PATTERNS: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/patterns");

/// The pattern that opens by itself.
pub(super) const DEMO: &str = "harbour-lantern";

/// Their names, in order: the names of their files without `.json`.
pub(super) fn names() -> impl Iterator<Item = &'static str> {
    let mut names: Vec<&str> = PATTERNS
        .files()
        .filter_map(|file| file.path().to_str()?.strip_suffix(".json"))
        .collect();
    names.sort_unstable();
    names.into_iter()
}

/// The bytes of a pattern by its name.
pub(super) fn bytes(name: &str) -> Option<&'static [u8]> {
    let file = PATTERNS.get_file(format!("{name}.json"))?;
    Some(file.contents())
}
