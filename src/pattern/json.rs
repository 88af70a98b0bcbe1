//! From bytes to JSON: strict, with limited size and depth.

use jsonc_parser::ParseOptions;
use jsonc_parser::errors::{ParseError, ParseErrorKind as Broken};
use serde::de::IgnoredAny;

use super::source::Source;
use super::{limit, slip};
use crate::problem::{Position, Problem};

/// The text of the file, without the byte order mark that some editors put
/// before it.
///
/// # Errors
/// It is too large, or not text.
pub(super) fn text<'b>(file: &str, bytes: &'b [u8]) -> Result<&'b str, Problem> {
    if bytes.len() > limit::FILE_BYTES {
        let most = limit::FILE_BYTES / 1024;
        let what = format!("the file is larger than {most} KiB, the most a pattern may be");
        let mend = "check that it is a pattern; even a large one takes a few KiB";
        return Err(Problem::new(what, mend).at(file, None, ""));
    }
    let text = std::str::from_utf8(bytes).map_err(|stop| {
        let good = std::str::from_utf8(&bytes[..stop.valid_up_to()]).unwrap_or_default();
        let problem = Problem::new(
            "from here on this is not text (UTF-8)",
            "save the file as UTF-8, and check that it is a pattern",
        );
        problem.at(file, Some(Position::of(good, good.len())), "")
    })?;
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text))
}

/// The structure of a text that is JSON.
///
/// # Errors
/// It is not JSON.
pub(super) fn parse<'t>(file: &'t str, text: &'t str) -> Result<Source<'t>, Problem> {
    let at = |byte, problem: Problem| problem.at(file, Some(Position::of(text, byte)), "");
    // Before the parser sees them, because it recurses once for each.
    if let Some(byte) = slip::too_deep(text, limit::NESTING) {
        let what = format!("more than {} brackets within each other", limit::NESTING);
        let mend = "close brackets that are open; a pattern needs seven at most";
        return Err(at(byte, Problem::new(what, mend)));
    }
    let parsed =
        jsonc_parser::parse_to_ast(text, &Default::default(), &STRICT).map_err(|error| {
            let (byte, problem) =
                slip::slip(text, &error).unwrap_or_else(|| (error.range().start, broken(&error)));
            at(byte, problem)
        })?;
    let Some(top) = parsed.value else {
        let what = match text.is_empty() {
            true => "the file is empty",
            false => "the file holds nothing but blanks",
        };
        return Err(at(0, not_json(what, "write a pattern into it")));
    };
    // A second, strict reader decides, because the first accepts a few things
    // that are not JSON, such as a line break within a text.
    if let Err(error) = serde_json::from_str::<IgnoredAny>(text) {
        let (line, column) = (error.line(), error.column());
        let problem = not_json(
            "a text runs over a line end, or holds a sign that cannot be seen",
            "close the text with a quote on its own line, or write \\n for a line break",
        );
        return Err(problem.at(file, Some(Position { line, column }), ""));
    }
    Ok(Source::new(file, text, top))
}

const STRICT: ParseOptions = ParseOptions {
    allow_comments: false,
    allow_loose_object_property_names: false,
    allow_trailing_commas: false,
    allow_missing_commas: false,
    allow_single_quoted_strings: false,
    allow_hexadecimal_numbers: false,
    allow_unary_plus_numbers: false,
    allow_bare_decimal_point_numbers: false,
    allow_non_finite_numbers: false,
    allow_extended_string_escapes: false,
};

fn not_json(what: &str, mend: &str) -> Problem {
    Problem::new(format!("not JSON: {what}"), mend)
}

fn broken(error: &ParseError) -> Problem {
    let unclosed = |what, end| {
        let what = format!("the {what} that begins here is never closed");
        not_json(&what, &format!("close it with {end}"))
    };
    let (what, mend) = match error.kind() {
        Broken::ExpectedComma => ("a comma is missing", "put a comma here"),
        Broken::TrailingCommasNotAllowed => (
            "no comma may stand before a closing bracket",
            "take the comma out",
        ),
        Broken::CommentsNotAllowed | Broken::UnterminatedCommentBlock => (
            "comments cannot be written here",
            "take it out; put what you want to say into \"about\"",
        ),
        Broken::SingleQuotedStringsNotAllowed
        | Broken::ExpectedStringObjectProperty
        | Broken::UnexpectedWord => (
            "names and texts stand in double quotes",
            "put double quotes round it: \"…\"",
        ),
        Broken::ExpectedColonAfterObjectKey => (
            "a colon is missing after the name",
            "write the name, a colon, then what it is",
        ),
        Broken::ExpectedObjectValue => (
            "nothing stands after the colon",
            "write what the name stands for",
        ),
        Broken::UnterminatedArray => return unclosed("list", ']'),
        Broken::UnterminatedObject => return unclosed("group", '}'),
        Broken::String(jsonc_parser::ParseStringErrorKind::UnterminatedStringLiteral) => {
            return unclosed("text", '"');
        }
        Broken::String(_) => (
            "a backslash here is followed by what it cannot be",
            "take the backslash out, or write \\\\ for a plain one",
        ),
        Broken::MultipleRootJsonValues => (
            "something stands after the end of the pattern",
            "take it out; a file holds one pattern",
        ),
        Broken::BareDecimalPointNumbersNotAllowed
        | Broken::ExpectedDigit
        | Broken::ExpectedDigitFollowingNegativeSign
        | Broken::ExpectedPlusMinusOrDigitInNumberLiteral
        | Broken::HexadecimalNumbersNotAllowed
        | Broken::NonFiniteNumbersNotAllowed
        | Broken::UnaryPlusNumbersNotAllowed => (
            "this is not how a number is written",
            "write it as 12 or 0.15",
        ),
        _ => (
            "this sign cannot stand here",
            "look for a bracket, comma or quote too many or too few just before",
        ),
    };
    not_json(what, mend)
}
