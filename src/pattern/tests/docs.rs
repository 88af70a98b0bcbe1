//! The examples of docs/pattern-format.md load unchanged.

use serde_json::Value;

use super::{LANTERN, loaded};
use crate::pattern::limit;
use crate::pattern::read;

const FORMAT: &str = include_str!("../../../docs/pattern-format.md");

/// Blocks marked `json`: what follows the mark, and the text.
fn blocks() -> Vec<(&'static str, &'static str)> {
    let mut blocks = Vec::new();
    for block in FORMAT.split("\n```json").skip(1) {
        let (mark, rest) = block.split_once('\n').unwrap();
        blocks.push((mark.trim(), rest.split_once("\n```").unwrap().0));
    }
    blocks
}

#[test]
fn whole_examples_load() {
    let whole: Vec<&str> = blocks()
        .into_iter()
        .filter(|b| b.0.is_empty())
        .map(|b| b.1)
        .collect();
    assert_eq!(whole.len(), 2);
    for text in &whole {
        loaded(text);
    }
    // A ring of eight hinged tetrahedra fits in about 60 lines.
    assert!(whole[1].contains("\"ring\": 8") && whole[1].lines().count() <= 60);
}

/// The other examples show fields of a pattern: inserted into the lantern, they
/// load.
#[test]
fn parts_of_patterns_load() {
    let parts: Vec<_> = blocks().into_iter().filter(|b| !b.0.is_empty()).collect();
    assert!(parts.len() >= 8);
    for (mark, text) in parts {
        let fields: Value = serde_json::from_str(&format!("{{{text}}}")).unwrap();
        let mut lantern: Value = serde_json::from_str(LANTERN).unwrap();
        assert!(fields.get(mark).is_some(), "{mark}");
        for (name, value) in fields.as_object().unwrap() {
            lantern[name] = value.clone();
        }
        loaded(&lantern.to_string());
    }
}

/// The error shown is the one that is really given.
#[test]
fn the_error_shown_is_the_real_one() {
    let word = LANTERN.replace("\"all: S*\"", "\"all: S*\", \"5: A S S\"");
    let told = read("lantern.json", word.as_bytes())
        .unwrap_err()
        .to_string();
    let shown = FORMAT.split("\n```text\n").nth(1).unwrap();
    let shown = shown.split_once("\n```").unwrap().0;
    let without_place = |told: &str| told.split_once(": panels").unwrap().1.to_string();
    assert_eq!(without_place(&told), without_place(shown));
}

/// The table of sizes agrees with the engine.
#[test]
fn the_tables_agree_with_the_program() {
    use crate::beadwork::bead::PRESETS;
    use crate::beadwork::thread::{NEEDLES, THREADS};
    for (name, size) in PRESETS {
        let row = format!(
            "| `{name}` | {:.1} | {:.1} | {} | {} |",
            size.diameter_mm,
            size.length_mm,
            if size.hole_mm == 0.65 {
                "0.65".to_string()
            } else {
                format!("{:.1}", size.hole_mm)
            },
            size.per_gram
        );
        assert!(FORMAT.contains(&row), "{row}");
    }
    for (name, _) in THREADS {
        assert!(FORMAT.contains(&format!("`\"{name}\"`")), "{name}");
    }
    assert!(
        NEEDLES
            .iter()
            .all(|(size, _)| FORMAT.contains(&size.to_string()))
    );
    let limits = [
        ("kinds of bead", limit::BEAD_KINDS.to_string()),
        ("brackets within each other", limit::NESTING.to_string()),
        (
            "letters that a colour word gives without `*`",
            limit::WORD_LETTERS.to_string(),
        ),
    ];
    for (what, most) in limits {
        assert!(FORMAT.contains(&format!("| {what} | {most} |")), "{what}");
    }
    assert_eq!((limit::PIECE_BEADS, limit::LINE_CHARS), (4_000_000, 10_000));
    assert_eq!(limit::THREADS, 40_000);
    assert_eq!(limit::FILE_BYTES, 1024 * 1024);
}
