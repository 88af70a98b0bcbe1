//! Files designed to be slow.

use proptest::prelude::*;
use threadmark::pattern;

use super::chain::within_limits;

/// A pattern with these fields and panels beside one face, in these colours, made into this.
fn with(fields: &str, panels: &str, colours: &str, make: &str) -> String {
    format!(
        r##"{{{fields}"threadmark": 1, "title": "Slow",
        "beads": {{"S": {{"name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79"}},
          "A": {{"name": "amber", "size": "cylinder 11/0", "colour": "#d98a24"}}}},
        "thread": "braided 0.15", "needle": 12,
        "panels": {{{panels}"face": {{"sides": 3, "rounds": 8, "colours": [{colours}]}}}},
        "make": {make}}}"##
    )
}

/// Each is answered, and no more is said than may be.
#[test]
fn files_designed_to_be_slow_are_answered() {
    const PLAIN: &str = "\"all: S*\"";
    const FACE: &str = r#"{"panel": "face"}"#;
    let many = |part: &str, n: usize| vec![part; n].join(",");
    let names: Vec<String> = (0..4000).map(|i| format!("\"wrong{i}\"")).collect();
    let panels = |n: usize, fields: &str| -> String {
        let one = |i| format!(r#""p{i}": {{"sides": 3, {fields}, "colours": ["all: S*"]}},"#);
        (0..n).map(one).collect()
    };
    let plain = panels(9000, "\"rounds\": 9");
    let grown = r#""rounds": 3, "ring": 1000, "words": ["(2 1)*500", "1*1500"]"#;
    let ring = format!(r#"{{"ring": 1000, "faces": [{}]}}"#, names.join(","));
    let coloured = |colours: &str| with("", "", colours, FACE);
    let files = [
        "[".repeat(1 << 20),
        "{\"a\":".repeat(200_000),
        format!("\"{}", "\\\\".repeat(500_000)),
        with("", &plain, PLAIN, &ring),
        with("", &plain, PLAIN, FACE),
        with("", &panels(6000, grown), PLAIN, FACE),
        coloured(&many("\"all: A4096/A4096/A4096\"", 2000)),
        coloured(&many("\"1-8 1-8 1-8 1-8 1-8: S*\"", 2000)),
        coloured(&format!("\"{}\"", "1-8 ".repeat(100_000))),
        coloured(&format!("\"all: {}\"", "(S S)4096".repeat(1000))),
        with(&"\"x\": 1, ".repeat(100_000), "", PLAIN, FACE),
        with(
            "",
            "",
            PLAIN,
            &format!("{{\"jobs\": [{}]}}", many(FACE, 10_000)),
        ),
    ];
    for file in files {
        let answered = within_limits(file.as_bytes(), || {
            let read = pattern::read("x.json", file.as_bytes());
            let told = read.map_err(|errors| errors.to_string());
            let is_short = told.is_err_and(|told| told.len() < 40_000);
            let is_answered = is_short || file.starts_with('{');
            prop_assert!(is_answered);
            Ok(())
        });
        let start: String = file.chars().take(60).collect();
        assert!(answered.is_ok(), "{answered:?} {start}");
    }
}
