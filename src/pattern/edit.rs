//! Changes one field of a panel in a pattern's text, or adds a bead to it. All
//! other text stays unchanged.

use jsonc_parser::ast::{Object, Value};
use jsonc_parser::common::Ranged;

use super::json;

/// The most letters of a line that holds a whole list.
const WIDTH: usize = 96;

/// The text with a field of a panel set to a text value. `None` if there is no
/// such panel.
pub(super) fn text(text: &str, panel: &str, field: &str, value: &str) -> Option<String> {
    set(text, &["panels", panel], field, &quoted(value))
}

/// The text with one more bead, after the others.
pub(super) fn bead(text: &str, letter: char, json: &str) -> Option<String> {
    set(text, &["beads"], &letter.to_string(), json)
}

/// The text with a field of a panel set to a list of texts: on one line if it
/// was on one and fits.
pub(super) fn list(text: &str, panel: &str, field: &str, values: &[String]) -> Option<String> {
    let values: Vec<String> = values.iter().map(|value| quoted(value)).collect();
    let one = format!("[{}]", values.join(", "));
    let path = ["panels", panel];
    let short = set(text, &path, field, &one)?;
    let (from, to) = range(text, &path, field)?;
    let line = text[..from].rfind('\n').map_or(0, |at| at + 1);
    let fits = short[line..].lines().next().unwrap_or("").chars().count() <= WIDTH;
    if fits && !text[from..to].contains('\n') {
        return Some(short);
    }
    let pad: String = text[line..from]
        .chars()
        .take_while(|c| c.is_whitespace())
        .collect();
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let lines: Vec<String> = values.iter().map(|v| format!("{pad}  {v}")).collect();
    let many = format!("[{end}{}{end}{pad}]", lines.join(&format!(",{end}")));
    set(text, &path, field, &many)
}

fn quoted(value: &str) -> String {
    serde_json::to_string(value).unwrap_or_default()
}

fn range(text: &str, path: &[&str], field: &str) -> Option<(usize, usize)> {
    let source = json::parse("", text).ok()?;
    let group = group(&source.top, path)?;
    let value = &group.get(field)?.value;
    Some((value.start(), value.end()))
}

fn group<'v, 't>(top: &'v Value<'t>, path: &[&str]) -> Option<&'v Object<'t>> {
    let Value::Object(top) = top else { return None };
    path.iter()
        .try_fold(top, |group, name| group.get_object(name))
}

/// Replaces a field's value with JSON, or adds a new field at the end of the
/// group.
fn set(text: &str, path: &[&str], field: &str, json: &str) -> Option<String> {
    if let Some((from, to)) = range(text, path, field) {
        return Some([&text[..from], json, &text[to..]].concat());
    }
    let source = json::parse("", text).ok()?;
    let last = group(&source.top, path)?.properties.last()?;
    let (from, to) = (last.start(), last.end());
    // Placed like the field before it: on a line of its own, or on the same
    // line.
    let line = text[..from].rfind('\n').map_or(0, |at| at + 1);
    let before = &text[line..from];
    let between = match before.chars().all(char::is_whitespace) && line > 0 {
        true if text.contains("\r\n") => format!(",\r\n{before}"),
        true => format!(",\n{before}"),
        false => ", ".into(),
    };
    let new = format!("{between}{}: {json}", quoted(field));
    Some([&text[..to], &new, &text[to..]].concat())
}

#[cfg(test)]
mod tests {
    use super::*;

    const FLAT: &str = r#"{ "panels": { "a": { "sides": 3, "colours": ["all: S*"] } } }"#;
    const TALL: &str = "{\n  \"panels\": {\n    \"a\": {\n      \"colours\": [\"all: S*\"],\n      \
                        \"row\":  \"S*\"\n    }\n  }\n}\n";

    #[test]
    fn only_the_one_field_is_changed() {
        let new = text(TALL, "a", "row", "A*").unwrap();
        assert_eq!(new, TALL.replace("\"row\":  \"S*\"", "\"row\":  \"A*\""));
        assert_eq!(text(TALL, "b", "row", "A*"), None);
    }

    #[test]
    fn a_new_field_is_placed_like_the_others() {
        let new = text(FLAT, "a", "tip", "A").unwrap();
        let row = FLAT.replace("[\"all: S*\"]", "[\"all: S*\"], \"tip\": \"A\"");
        assert_eq!(new, row);
        let new = text(TALL, "a", "tip", "A").unwrap();
        let own = "\"S*\",\n      \"tip\": \"A\"\n    }";
        assert!(new.contains(own), "{new}");
    }

    #[test]
    fn a_list_stays_on_its_line_while_it_fits() {
        let lines = |n: usize| (0..n).map(|i| format!("{i}: S*")).collect::<Vec<_>>();
        let new = list(TALL, "a", "colours", &lines(3)).unwrap();
        assert!(
            new.contains("[\"0: S*\", \"1: S*\", \"2: S*\"],\n"),
            "{new}"
        );
        let new = list(TALL, "a", "colours", &lines(20)).unwrap();
        let tall = "[\n        \"0: S*\",\n        \"1: S*\",\n";
        assert!(
            new.contains(tall) && new.contains("\"19: S*\"\n      ],\n"),
            "{new}"
        );
    }
}
