//! Writes a pattern: from the types of the file back to text.

use super::file::File;

/// The most characters of a line on which a short list or group is put.
const WIDTH: usize = 96;

/// The text of a pattern file: JSON on several lines, with a line end after the
/// last.
pub fn write(file: &File) -> String {
    // This fails only for maps whose keys are not texts and for types that
    // refuse; the types of the file contain neither.
    let text = serde_json::to_string_pretty(file).unwrap_or_default();
    fold(&text) + "\n"
}

/// Puts short lists and groups on one line again, as a maker would write them.
///
/// In the text that comes in, each line with an opening bracket ends with it,
/// each line with a closing bracket begins with it, and no text contains a line
/// end.
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

/// The line that opens what the last line closes, if no bracket between them
/// stays open.
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
