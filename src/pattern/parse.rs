//! From bytes to JSON: strict, of limited size and depth.

use jsonc_parser::ParseOptions;
use jsonc_parser::errors::{ParseError, ParseErrorKind as Broken};
use serde::de::IgnoredAny;

use super::error::{Fault, Kind, Reading, Syntax};
use super::limit;
use super::position::{Position, position};
use super::source::Source;

/// The text of the file, without the mark that some editors put before it.
pub(super) fn text(bytes: &[u8]) -> Result<&str, Box<Fault>> {
    if bytes.len() > limit::FILE_BYTES {
        return Err(Box::new(Fault::nowhere(Reading::TooLarge)));
    }
    let text = std::str::from_utf8(bytes).map_err(|stop| {
        let good = std::str::from_utf8(&bytes[..stop.valid_up_to()]).unwrap_or_default();
        fault(position(good, good.len()), Reading::NotText)
    })?;
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text))
}

/// The structure of a text that is JSON.
pub(super) fn parse(text: &str) -> Result<Source<'_>, Box<Fault>> {
    shallow(text)?;
    let parsed = jsonc_parser::parse_to_ast(text, &Default::default(), &STRICT)
        .map_err(|error| broken(text, &error))?;
    let Some(top) = parsed.value else {
        return Err(fault(position(text, 0), Reading::NotJson(Syntax::Empty)));
    };
    // A second reader, which knows no dialect, has the last word: the first
    // lets a few things pass, such as a line break within a text.
    if let Err(error) = serde_json::from_str::<IgnoredAny>(text) {
        let at = Position {
            line: error.line(),
            column: error.column(),
        };
        return Err(fault(at, Reading::NotJson(Syntax::NotStrict)));
    }
    Ok(Source::new(text, top))
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

/// Counts brackets before the parser, which goes down one call for each, sees
/// them.
fn shallow(text: &str) -> Result<(), Box<Fault>> {
    let (mut depth, mut in_text, mut escaped) = (0_usize, false, false);
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            _ if escaped => escaped = false,
            b'\\' if in_text => escaped = true,
            b'"' => in_text = !in_text,
            b'{' | b'[' if !in_text => depth += 1,
            b'}' | b']' if !in_text => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > limit::NESTING {
            return Err(fault(position(text, at), Reading::TooDeep));
        }
    }
    Ok(())
}

fn fault(at: Position, reading: Reading) -> Box<Fault> {
    Box::new(Fault::at(at, String::new(), Kind::Reading(reading)))
}

fn broken(text: &str, error: &ParseError) -> Box<Fault> {
    let syntax = match error.kind() {
        Broken::ExpectedComma => Syntax::Comma,
        Broken::TrailingCommasNotAllowed => Syntax::TrailingComma,
        Broken::CommentsNotAllowed | Broken::UnterminatedCommentBlock => Syntax::Comment,
        Broken::SingleQuotedStringsNotAllowed
        | Broken::ExpectedStringObjectProperty
        | Broken::UnexpectedWord => Syntax::Quotes,
        Broken::ExpectedColonAfterObjectKey => Syntax::Colon,
        Broken::ExpectedObjectValue => Syntax::Value,
        Broken::UnterminatedArray => Syntax::Unclosed("list", ']'),
        Broken::UnterminatedObject => Syntax::Unclosed("group", '}'),
        Broken::String(jsonc_parser::ParseStringErrorKind::UnterminatedStringLiteral) => {
            Syntax::Unclosed("text", '"')
        }
        Broken::String(_) => Syntax::Escape,
        Broken::MultipleRootJsonValues => Syntax::Extra,
        Broken::BareDecimalPointNumbersNotAllowed
        | Broken::ExpectedDigit
        | Broken::ExpectedDigitFollowingNegativeSign
        | Broken::ExpectedPlusMinusOrDigitInNumberLiteral
        | Broken::HexadecimalNumbersNotAllowed
        | Broken::NonFiniteNumbersNotAllowed
        | Broken::UnaryPlusNumbersNotAllowed => Syntax::Number,
        _ => Syntax::Unexpected,
    };
    fault(
        position(text, error.range().start),
        Reading::NotJson(syntax),
    )
}
