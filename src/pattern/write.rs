//! Writes a pattern: the way back from the types of the file to its text.

use super::file::File;

/// Characters of a line that short lists and groups are put together on.
const WIDTH: usize = 96;

/// The text of a pattern file: JSON over several lines, with a line end after
/// the last.
pub fn write(file: &File) -> String {
    // Only maps whose keys are no texts, and types that refuse, can fail here;
    // the types of the file have neither.
    let text = serde_json::to_string_pretty(file).unwrap_or_default();
    fold(&text) + "\n"
}

/// Puts short lists and groups on one line again, as a maker would write them.
///
/// In the text that comes in, brackets that open end their line, brackets that
/// close begin theirs, and no text holds a line end.
fn fold(text: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    for line in text.lines() {
        lines.push(line.to_string());
        let Some(open) = closed_by(&lines) else {
            continue;
        };
        let inner = |line: &String| line.trim().to_string();
        let within: Vec<String> = lines[open + 1..lines.len() - 1].iter().map(inner).collect();
        let pad = if line.trim().starts_with('}') {
            " "
        } else {
            ""
        };
        let one = [&lines[open], pad, &within.join(" "), pad, line.trim()].concat();
        if one.chars().count() <= WIDTH {
            lines.truncate(open);
            lines.push(one);
        }
    }
    lines.join("\n")
}

/// The line that opens what the last line closes, if between them no bracket
/// is left open.
fn closed_by(lines: &[String]) -> Option<usize> {
    let opens = |line: &String| line.ends_with(['{', '[']);
    let closes = |line: &String| line.trim_start().starts_with(['}', ']']);
    let (last, before) = lines.split_last()?;
    if !closes(last) {
        return None;
    }
    let at = before
        .iter()
        .rposition(|line| opens(line) || closes(line))?;
    opens(&before[at]).then_some(at)
}
