//! The file cannot be read at all, or not as JSON.

use super::super::limit;
use super::Sentence;

/// Why a file cannot be read.
#[derive(Clone, Debug, PartialEq)]
pub enum Reading {
    /// The system gives no bytes; its reason.
    NoFile(String),
    /// More than [`limit::FILE_BYTES`].
    TooLarge,
    /// Not UTF-8.
    NotText,
    /// Brackets deeper than [`limit::NESTING`].
    TooDeep,
    /// Not JSON.
    NotJson(Syntax),
    /// Made by a newer program: its version of the format.
    Newer(String),
    /// No version that ever was.
    NoVersion(String),
    /// JSON of the right shape that still does not read; the reader's reason.
    Other(String),
}

/// Where JSON is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Syntax {
    /// Nothing there.
    Empty,
    /// A comma is missing.
    Comma,
    /// A comma too many, before a closing bracket.
    TrailingComma,
    /// A comment.
    Comment,
    /// A name or text without double quotes.
    Quotes,
    /// No colon after a name.
    Colon,
    /// No value after a colon.
    Value,
    /// What was opened, and what closes it.
    Unclosed(&'static str, char),
    /// An escape that JSON does not know.
    Escape,
    /// Something after the end.
    Extra,
    /// A number as JSON does not write it.
    Number,
    /// A sign that cannot stand here.
    Unexpected,
    /// A line break, tab or other control character where none may be.
    NotStrict,
}

impl Reading {
    pub(super) fn sentence(&self) -> Sentence {
        let known = "this threadmark knows version 1";
        match self {
            Reading::NoFile(reason) => Sentence::new(
                format!("the file cannot be read: {reason}"),
                "check the name, and that you may read the file",
            ),
            Reading::TooLarge => Sentence::new(
                format!(
                    "the file is larger than {} KiB, the most a pattern may be",
                    limit::FILE_BYTES / 1024
                ),
                "check that it is a pattern; even a large one takes a few KiB",
            ),
            Reading::NotText => Sentence::new(
                "from here on this is not text (UTF-8)",
                "save the file as UTF-8, and check that it is a pattern",
            ),
            Reading::TooDeep => Sentence::new(
                format!("more than {} brackets within each other", limit::NESTING),
                "close brackets that are open; a pattern needs seven at most",
            ),
            Reading::NotJson(syntax) => {
                let (what, mend) = syntax.told();
                Sentence::new(format!("not JSON: {what}"), mend)
            }
            Reading::Newer(version) => Sentence::new(
                format!("the pattern is of format version {version}; {known}"),
                "open it with a newer threadmark",
            ),
            Reading::NoVersion(version) => Sentence::new(
                format!("there is no format version {version}; {known}"),
                "write \"threadmark\": 1",
            ),
            Reading::Other(reason) => Sentence::new(
                format!("this does not read as a pattern: {reason}"),
                "compare it with the example in docs/pattern-format.md",
            ),
        }
    }
}

impl Syntax {
    fn told(self) -> (String, String) {
        let (what, mend) = match self {
            Syntax::Empty => ("the file is empty", "write a pattern into it"),
            Syntax::Comma => ("a comma is missing", "put a comma here"),
            Syntax::TrailingComma => (
                "no comma may stand before a closing bracket",
                "take the comma out",
            ),
            Syntax::Comment => (
                "comments cannot be written here",
                "take it out; put what you want to say into \"about\"",
            ),
            Syntax::Quotes => (
                "names and texts stand in double quotes",
                "put double quotes round it: \"…\"",
            ),
            Syntax::Colon => (
                "a colon is missing after the name",
                "write the name, a colon, then what it is",
            ),
            Syntax::Value => (
                "nothing stands after the colon",
                "write what the name stands for",
            ),
            Syntax::Unclosed(what, end) => {
                return (
                    format!("the {what} that begins here is never closed"),
                    format!("close it with {end}"),
                );
            }
            Syntax::Escape => (
                "a backslash here is followed by what it cannot be",
                "take the backslash out, or write \\\\ for a plain one",
            ),
            Syntax::Extra => (
                "something stands after the end of the pattern",
                "take it out; a file holds one pattern",
            ),
            Syntax::Number => (
                "this is not how a number is written",
                "write it as 12 or 0.15",
            ),
            Syntax::Unexpected => (
                "this sign cannot stand here",
                "look for a bracket, comma or quote too many or too few just before",
            ),
            Syntax::NotStrict => (
                "a text runs over a line end, or holds a sign that cannot be seen",
                "close the text with a quote on its own line, or write \\n for a line break",
            ),
        };
        (what.to_string(), mend.to_string())
    }
}
