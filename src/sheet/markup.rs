//! Tags and text, spelled so that both an HTML and an XML reader take them.
//!
//! Every element is closed, every attribute quoted, and text loses what could
//! end it early or what XML does not allow.

use std::fmt::Write as _;

/// Markup being written.
#[derive(Debug, Default)]
pub struct Markup {
    text: String,
    open: Vec<&'static str>,
}

/// Attributes of an element: names and values.
pub type Attributes<'a> = &'a [(&'static str, &'a str)];

impl Markup {
    /// Opens an element.
    pub fn open(&mut self, tag: &'static str, attributes: Attributes<'_>) {
        self.tag(tag, attributes);
        self.text.push('>');
        self.open.push(tag);
    }

    /// An element without content.
    pub fn empty(&mut self, tag: &'static str, attributes: Attributes<'_>) {
        self.tag(tag, attributes);
        self.text.push_str("/>");
    }

    fn tag(&mut self, tag: &'static str, attributes: Attributes<'_>) {
        self.text.push('<');
        self.text.push_str(tag);
        for (name, value) in attributes {
            let _ = write!(self.text, " {name}=\"");
            escape(value, &mut self.text);
            self.text.push('"');
        }
    }

    /// Closes the element opened last.
    pub fn close(&mut self) {
        if let Some(tag) = self.open.pop() {
            let _ = write!(self.text, "</{tag}>");
        }
    }

    /// Text.
    pub fn text(&mut self, text: &str) {
        escape(text, &mut self.text);
    }

    /// An element with text in it.
    pub fn say(&mut self, tag: &'static str, attributes: Attributes<'_>, text: &str) {
        self.open(tag, attributes);
        self.text(text);
        self.close();
    }

    /// A line break in the file, for those who read it as text.
    pub fn line(&mut self) {
        self.text.push('\n');
    }

    /// Text of our own that is markup, or needs no escape: a style sheet.
    pub fn own(&mut self, markup: &str) {
        self.text.push_str(markup);
    }

    /// All of it. What is still open is closed.
    pub fn done(mut self) -> String {
        while !self.open.is_empty() {
            self.close();
        }
        self.text
    }
}

/// A number without more digits than a printer shows: hundredths of a
/// millimetre.
pub fn mm(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    // No minus before a zero.
    format!("{}", rounded + 0.0)
}

fn escape(text: &str, out: &mut String) {
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\t' => out.push(c),
            // XML 1.0, section 2.2: these are no characters there.
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_would_end_text_or_an_attribute_is_escaped() {
        let mut markup = Markup::default();
        markup.say("p", &[("title", "a \"b\" <c>")], "</p> & \u{1b}[2J\u{0}");
        assert_eq!(
            markup.done(),
            "<p title=\"a &quot;b&quot; &lt;c&gt;\">&lt;/p&gt; &amp; [2J</p>"
        );
    }

    #[test]
    fn hundredths_are_enough() {
        let said = [1.0, 0.126, -0.001, 12.5].map(mm);
        assert_eq!(said, ["1", "0.13", "0", "12.5"]);
    }

    proptest! {
        /// Whatever a pattern says, a reader of XML gets it back.
        #[test]
        fn any_text_is_read_back(text in "\\PC*") {
            let mut markup = Markup::default();
            markup.say("p", &[("title", &text)], &text);
            let done = markup.done();
            let read = roxmltree::Document::parse(&done).unwrap();
            let p = read.root_element();
            let allowed: String = text.chars().filter(|c| !matches!(c, '\u{fffe}' | '\u{ffff}')).collect();
            prop_assert_eq!(p.text().unwrap_or_default(), &allowed);
            prop_assert_eq!(p.attribute("title").unwrap(), &allowed);
        }
    }
}
