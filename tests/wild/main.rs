//! Patterns gone wild: files spoiled byte by byte and files of the right shape
//! with wild values, taken through the whole chain from bytes to proof. Nothing
//! panics or hangs, and all together never take 200 MB.
//!
//! A test binary of its own, since the memory that is measured is the
//! process's.

mod bytes;
mod chain;
mod shape;
mod slow;

use proptest::test_runner::Config;

/// Cases of each property; nothing is written beside the sources when one
/// fails, the failing pattern is printed. `WILD=50` in the environment looks
/// fifty times as long.
fn cases(cases: u32) -> Config {
    let longer = std::env::var("WILD")
        .ok()
        .and_then(|times| times.parse().ok());
    Config {
        cases: cases * longer.unwrap_or(1),
        failure_persistence: None,
        max_shrink_time: 60_000,
        ..Config::default()
    }
}

/// The patterns that come with the program, and some by hand for what those
/// have none of: words, jobs one by one, inward with an opening, other solids.
fn bases() -> Vec<String> {
    let dir = concat!(env!("CARGO_MANIFEST_DIR"), "/patterns");
    let files = std::fs::read_dir(dir).expect("patterns").flatten();
    let mut paths: Vec<_> = files.map(|file| file.path()).collect();
    paths.sort();
    let read = |path| std::fs::read_to_string(path).expect("a pattern");
    let shipped: Vec<String> = paths.into_iter().map(read).collect();
    let made = |panels: &str, make: &str| {
        format!(
            r##"{{"threadmark": 1, "title": "Wild", "about": "Two\nlines.",
            "beads": {{"S": {{"name": "sea", "size": "cylinder 11/0", "colour": "#2f7f79"}},
              "A": {{"name": "amber", "size": {{"diameter_mm": 1.6, "length_mm": 1.3, "hole_mm": 0.8,
                "per_gram": 200}}, "colour": "#d98a24"}}}},
            "thread": {{"name": "braided 0.12", "cut_mm": 900, "tail_mm": 100}}, "needle": 12,
            "panels": {{{panels}}}, "make": {make}}}"##
        )
    };
    let face =
        r#""face": {"sides": 3, "rounds": 4, "colours": ["all: (S A)*", "2-4 by 2: S* mirror"]}"#;
    let window = format!(
        r#"{face}, "window": {{"sides": 3, "rounds": 4, "way": "inward", "open": 2, "colours": ["all: A*"]}}"#
    );
    let others = [
        made(face, r#"{"panel": "face"}"#),
        made(face, r#"{"solid": "icosahedron", "faces": ["face"]}"#),
        made(
            r#""square": {"sides": 4, "rounds": 5, "corners": [2, 1, 0], "colours": ["all: S*"]}"#,
            r#"{"solid": "cube", "faces": ["square"], "close": "open", "tips": 2}"#,
        ),
        made(
            &window,
            r#"{"folded-pair": ["face"], "close": [{"how": "set-in", "with": "face"},
            {"how": "fill", "with": "window"}]}"#,
        ),
        made(
            face,
            r#"{"ring": 8, "faces": ["face"], "close": "fill", "tips": 1}"#,
        ),
    ];
    shipped.into_iter().chain(others).collect()
}

/// No empty show: every pattern that is spoiled is one that can be sewn.
#[test]
fn every_pattern_to_begin_with_can_be_sewn() {
    for text in bases() {
        let read = threadmark::pattern::read("x.json", text.as_bytes());
        assert!(read.is_ok(), "{}\n{text}", read.unwrap_err());
    }
}
