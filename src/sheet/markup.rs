//! Tags and text, written so that both an HTML and an XML reader accept them.
//!
//! The markup in the code is the markup in the file. What is inserted is text:
//! characters that could end it early are escaped, and those that XML does not
//! allow are removed.

use std::fmt::{self, Display, Write as _};

/// Markup being written.
#[derive(Debug, Default)]
pub struct Markup(String);

/// Writes markup with text in place of each `{}`: `put!(m, "<p>{}</p>", words)`.
macro_rules! put {
    ($m:expr, $markup:literal $(, $text:expr)* $(,)?) => {
        // `concat!` prevents inline variables, which would not be escaped.
        $m.write(format_args!(concat!($markup), $($crate::sheet::markup::Escaped(&$text)),*))
    };
}
pub(in crate::sheet) use put;

impl Markup {
    /// Adds the output of [`put!`].
    pub fn write(&mut self, markup: fmt::Arguments<'_>) {
        // Writing to a String does not fail.
        let _ = self.0.write_fmt(markup);
    }

    /// The complete markup.
    pub fn done(self) -> String {
        self.0
    }
}

/// Text as it is written between tags and in attributes.
pub struct Escaped<'t, T>(pub &'t T);

impl<T: Display> Display for Escaped<'_, T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        struct Escaper<'f, 'g>(&'f mut fmt::Formatter<'g>);
        impl fmt::Write for Escaper<'_, '_> {
            fn write_str(&mut self, text: &str) -> fmt::Result {
                text.chars().try_for_each(|c| match c {
                    '&' => self.0.write_str("&amp;"),
                    '<' => self.0.write_str("&lt;"),
                    '>' => self.0.write_str("&gt;"),
                    '"' => self.0.write_str("&quot;"),
                    '\n' | '\t' => self.0.write_char(c),
                    // XML 1.0, section 2.2: these characters are not allowed.
                    c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => Ok(()),
                    c => self.0.write_char(c),
                })
            }
        }
        write!(Escaper(f), "{}", self.0)
    }
}

/// A number with no more digits than a printer can show: hundredths of a
/// millimetre.
pub fn mm(value: f64) -> f64 {
    // Avoids a minus sign before zero.
    (value * 100.0).round() / 100.0 + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_would_end_text_or_an_attribute_is_escaped() {
        let mut markup = Markup::default();
        let (title, text) = ("a \"b\" <c>", "</p> & \u{1b}[2J\u{0}");
        put!(markup, "<p title=\"{}\">{}</p>", title, text);
        assert_eq!(
            markup.done(),
            "<p title=\"a &quot;b&quot; &lt;c&gt;\">&lt;/p&gt; &amp; [2J</p>"
        );
    }

    #[test]
    fn hundredths_are_enough() {
        let texts = [1.0, 0.126, -0.001, 12.5].map(|n| mm(n).to_string());
        assert_eq!(texts, ["1", "0.13", "0", "12.5"]);
    }

    proptest! {
        /// Any text of a pattern is read back unchanged by an XML reader.
        #[test]
        fn any_text_is_read_back(text in "\\PC*") {
            let mut markup = Markup::default();
            put!(markup, "<p title=\"{}\">{}</p>", text, text);
            let done = markup.done();
            let read = roxmltree::Document::parse(&done).unwrap();
            let p = read.root_element();
            let allowed: String = text.chars().filter(|c| !matches!(c, '\u{fffe}' | '\u{ffff}')).collect();
            prop_assert_eq!(p.text().unwrap_or_default(), &allowed);
            prop_assert_eq!(p.attribute("title").unwrap(), &allowed);
        }
    }
}
