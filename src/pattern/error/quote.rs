//! Words of the file as a message may show them.

use std::fmt;

use crate::clean::clean;

/// Text from a file, cleaned and cut to a length that a message can bear.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quote(String);

impl Quote {
    /// Most characters shown.
    const LONGEST: usize = 60;

    /// Takes up `text`.
    pub fn new(text: &str) -> Self {
        // Cut before it is cleaned, so that a long text costs no more.
        let start: String = text.chars().take(Self::LONGEST * 4).collect();
        let shown = clean(&start);
        if shown.chars().count() <= Self::LONGEST && start.len() == text.len() {
            return Quote(shown);
        }
        let cut: String = shown.chars().take(Self::LONGEST - 1).collect();
        Quote(cut + "…")
    }

    /// The text without quotes round it.
    pub fn bare(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Quote {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "'{}'", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quote_is_clean_and_short() {
        assert_eq!(Quote::new("A \x1b[31mS").to_string(), "'A S'");
        let long = Quote::new(&"A S ".repeat(5000));
        assert_eq!(long.bare().chars().count(), 60);
        assert!(long.bare().ends_with('…'));
    }
}
