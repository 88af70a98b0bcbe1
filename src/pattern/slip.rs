//! Slips in a file that is not JSON, found where they were made. The parser stops
//! where it cannot go on, which may be many lines further on.

use jsonc_parser::errors::{ParseError, ParseErrorKind as Broken};

use crate::problem::{Position, Problem};

/// Quotes that a word processor puts in place of `"`.
const CURLED: [char; 8] = ['“', '”', '„', '‟', '«', '»', '‘', '’'];

/// The slip that made a parser stop, and its byte; `None` if the place where it
/// stopped says it best.
pub(super) fn slip(text: &str, error: &ParseError) -> Option<(usize, Problem)> {
    let at = error.range().start;
    let long = long_text(text, at).map(|byte| {
        let what = "the text that begins here does not end on its line";
        (byte, what.to_string(), "put a quote at its end".to_string())
    });
    let (byte, what, mend) = long.or_else(|| match error.kind() {
        Broken::UnterminatedArray | Broken::UnterminatedObject => unclosed(text),
        Broken::MultipleRootJsonValues => closed_early(text),
        Broken::ExpectedComma | Broken::ExpectedStringObjectProperty => {
            number(text, at).or_else(|| curled(text, at))
        }
        Broken::TrailingCommasNotAllowed | Broken::CommentsNotAllowed => None,
        _ => curled(text, at),
    })?;
    Some((byte, Problem::new(format!("not JSON: {what}"), mend)))
}

type FoundSlip = Option<(usize, String, String)>;

/// What stands outside of the texts of a file that is meant to be JSON, and the
/// quotes at both ends of each: its byte and the sign.
fn signs(text: &str) -> impl Iterator<Item = (usize, u8)> {
    let (mut in_text, mut escaped) = (false, false);
    text.bytes().enumerate().filter(move |(_, sign)| {
        let was_in_text = in_text;
        match sign {
            _ if escaped => escaped = false,
            b'\\' if in_text => escaped = true,
            b'"' => in_text = !in_text,
            _ => {}
        }
        !(was_in_text && in_text)
    })
}

/// The first byte at which more than `most` brackets are open at once.
pub(super) fn too_deep(text: &str, most: usize) -> Option<usize> {
    let mut depth = 0_usize;
    let deep = signs(text).find(|(_, sign)| {
        match sign {
            b'{' | b'[' => depth += 1,
            b'}' | b']' => depth = depth.saturating_sub(1),
            _ => {}
        }
        depth > most
    });
    deep.map(|(byte, _)| byte)
}

/// Where a text begins that runs over a line end, up to `at`.
fn long_text(text: &str, at: usize) -> Option<usize> {
    let quotes = signs(text).filter(|(_, sign)| *sign == b'"');
    let mut quotes = quotes.map(|(byte, _)| byte);
    std::iter::from_fn(|| Some((quotes.next()?, quotes.next())))
        .take_while(|(begin, _)| *begin < at)
        .find(|(begin, end)| text[*begin..end.unwrap_or(text.len())].contains(['\n', '\r']))
        .map(|(begin, _)| begin)
}

/// A curled quote on the line of `at`, no further than there.
fn curled(text: &str, at: usize) -> FoundSlip {
    let line = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let here = text[at..].chars().next().map_or(0, char::len_utf8);
    let byte = line + text[line..at + here].find(CURLED)?;
    let what = "this is not the quote that is typed on a keyboard";
    Some((
        byte,
        what.into(),
        "write \" in its place, at both ends".into(),
    ))
}

/// A number with a decimal comma, or one that begins with 0.
fn number(text: &str, at: usize) -> FoundSlip {
    let before = text[..at].trim_end_matches(|c: char| c.is_ascii_digit() || c == ',');
    let from = before.len();
    let (left, right) = (&text[from..at], &text[at..]);
    let digits = right.len() - right.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    if digits == 0 {
        return None;
    }
    let right = &right[..digits];
    match left.strip_suffix(',') {
        Some(whole) if !whole.is_empty() && !whole.contains(',') => Some((
            from,
            "a number has a point, not a comma".into(),
            format!("write {whole}.{right}"),
        )),
        None if left == "0" && right.bytes().any(|digit| digit != b'0') => Some((
            from,
            "a number does not begin with 0".into(),
            format!("write {}", right.trim_start_matches('0')),
        )),
        _ => None,
    }
}

/// A bracket that is open: its byte, and how far the line is indented that it
/// stands in.
struct OpenBracket {
    byte: usize,
    indent: usize,
}

/// Tells `visit` of each line that does not begin within a text: its first sign, how
/// far it is indented, the brackets that are open there, and the last bracket that
/// closed what an earlier line opened. Returns the first slip that `visit` finds.
fn line_by_line(
    text: &str,
    mut visit: impl FnMut((usize, u8), usize, &[OpenBracket], Option<(usize, usize)>) -> FoundSlip,
) -> FoundSlip {
    let mut open: Vec<OpenBracket> = vec![];
    // The last bracket that closed what an earlier line opened, and how far
    // that line is indented.
    let mut closed: Option<(usize, usize)> = None;
    let (mut line, mut indent, mut is_new) = (0, 0, true);
    for (byte, sign) in signs(text) {
        match sign {
            b'\n' => (line, is_new) = (byte + 1, true),
            b' ' | b'\t' | b'\r' => {}
            _ => {
                if std::mem::take(&mut is_new) {
                    indent = byte - line;
                    let found = visit((byte, sign), indent, &open, closed);
                    if found.is_some() {
                        return found;
                    }
                    closed = None;
                }
                match sign {
                    b'{' | b'[' => open.push(OpenBracket { byte, indent }),
                    b'}' | b']' => {
                        let opened = open.pop();
                        closed = opened.filter(|o| o.byte < line).map(|o| (byte, o.indent));
                    }
                    _ => {}
                }
            }
        }
    }
    None
}

/// The bracket that is not closed, as the indents tell: a later line is not
/// further in than the one that opened it, and does not close it.
fn unclosed(text: &str) -> FoundSlip {
    line_by_line(text, |(first, sign), indent, open, _| {
        let top = open.last()?;
        let is_out = match sign {
            b'}' | b']' => indent < top.indent,
            _ => indent <= top.indent && open.len() > 1,
        };
        if !is_out {
            return None;
        }
        let (what, end) = match text.as_bytes()[top.byte] {
            b'[' => ("list", ']'),
            _ => ("group", '}'),
        };
        let line = Position::of(text, first).line;
        let what = format!("the {what} that begins here is not closed before line {line}");
        Some((top.byte, what, format!("close it with {end}")))
    })
}

/// The bracket too many, as the indents tell: what comes after it is further in
/// than the line that opened what it closes.
fn closed_early(text: &str) -> FoundSlip {
    line_by_line(text, |(_, sign), indent, _, closed| {
        let (byte, of) = closed?;
        (indent > of && !matches!(sign, b'}' | b']')).then(|| {
            let what = "this bracket closes a group or a list before its end";
            (byte, what.into(), "take it out".into())
        })
    })
}
