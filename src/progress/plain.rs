//! Text that is safe to show.

use std::borrow::Borrow;
use std::fmt;

use serde::{Deserialize, Serialize};

use crate::clean::clean_untrimmed;

/// Text of one line, cleaned by [`clean_untrimmed`]: nothing in it can control
/// a terminal. Text read from disk is converted to this before it is shown.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(from = "String", into = "String")]
pub struct PlainText(String);

impl PlainText {
    /// The most characters that are kept.
    pub const LIMIT: usize = 10_000;

    /// Cleans a text and cuts it off at [`PlainText::LIMIT`].
    pub fn new(text: &str) -> PlainText {
        let clean = clean_untrimmed(text);
        PlainText(clean.chars().take(Self::LIMIT).collect())
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Borrow<str> for PlainText {
    fn borrow(&self) -> &str {
        &self.0
    }
}

impl From<String> for PlainText {
    fn from(text: String) -> PlainText {
        PlainText::new(&text)
    }
}

impl From<&str> for PlainText {
    fn from(text: &str) -> PlainText {
        PlainText::new(text)
    }
}

impl From<PlainText> for String {
    fn from(text: PlainText) -> String {
        text.0
    }
}

impl fmt::Display for PlainText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_characters_are_removed() {
        let text = "pale\u{1b}[31m red\u{7}\u{9b}2J\nnext\u{202e}line\u{0}";
        assert_eq!(PlainText::new(text).as_str(), "pale red nextline");
    }

    #[test]
    fn letters_of_any_script_stay() {
        assert_eq!(
            PlainText::new("ruský granát 星 ⬡").as_str(),
            "ruský granát 星 ⬡"
        );
    }

    #[test]
    fn a_long_text_is_cut() {
        let long = "é".repeat(PlainText::LIMIT + 5);
        assert_eq!(
            PlainText::new(&long).as_str().chars().count(),
            PlainText::LIMIT
        );
    }
}
