//! What the handout's templates have in common: text is written so that both an
//! HTML and an XML reader accept it, and numbers with hundredths.

use std::fmt::{self, Write};

use askama::Template;
use askama::filters::Escaper;

/// Escapes what could end text or an attribute, and leaves out characters that
/// XML does not allow. askama.toml names it for templates.
#[derive(Clone, Copy)]
pub struct Xml;

impl Escaper for Xml {
    fn write_escaped_str<W: Write>(&self, mut to: W, text: &str) -> fmt::Result {
        text.chars().try_for_each(|c| match c {
            '&' => to.write_str("&amp;"),
            '<' => to.write_str("&lt;"),
            '>' => to.write_str("&gt;"),
            '"' => to.write_str("&quot;"),
            '\n' | '\t' => to.write_char(c),
            // XML 1.0, section 2.2: these characters are not allowed.
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => Ok(()),
            c => to.write_char(c),
        })
    }
}

/// A template filled in.
pub fn rendered(template: &impl Template) -> String {
    // Writing to a String does not fail.
    template.render().unwrap_or_default()
}

/// A number with no more digits than a printer can show: hundredths of a
/// millimetre.
pub fn mm(value: f64) -> f64 {
    // Avoids a minus sign before zero.
    (value * 100.0).round() / 100.0 + 0.0
}

/// What templates can do with a value.
pub mod filters {
    use std::borrow::Borrow;

    /// [`mm`](super::mm), in a template.
    #[askama::filter_fn]
    pub fn mm(value: impl Borrow<f64>, _: &dyn askama::Values) -> askama::Result<f64> {
        Ok(super::mm(*value.borrow()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[derive(Template)]
    #[template(
        config = "src/askama.toml",
        ext = "html",
        source = r#"<p title="{{ title }}">{{ text }}</p>"#
    )]
    struct Paragraph<'t> {
        title: &'t str,
        text: &'t str,
    }

    #[test]
    fn what_would_end_text_or_an_attribute_is_escaped() {
        let (title, text) = ("a \"b\" <c>", "</p> & \u{1b}[2J\u{0}");
        assert_eq!(
            rendered(&Paragraph { title, text }),
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
            let done = rendered(&Paragraph { title: &text, text: &text });
            let read = roxmltree::Document::parse(&done).unwrap();
            let p = read.root_element();
            let allowed: String = text.chars().filter(|c| !matches!(c, '\u{fffe}' | '\u{ffff}')).collect();
            prop_assert_eq!(p.text().unwrap_or_default(), &allowed);
            prop_assert_eq!(p.attribute("title").unwrap(), &allowed);
        }
    }
}
