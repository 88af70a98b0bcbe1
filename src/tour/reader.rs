//! A lesson's text for a reader: right or left hand, with or without a picture.
//!
//! ```text
//! {onward}    to the left, or mirrored to the right
//! {on}        the key for the next step   {back}   the key that goes back
//! {see:…}     only where there is a picture
//! {hear:…}    only in the plain mode
//! ```

/// Who reads a lesson.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reader {
    /// Works with the left hand.
    pub left_handed: bool,
    /// Reads or hears lines, without a picture.
    pub plain: bool,
}

impl Reader {
    /// The text for this reader.
    pub fn text(self, text: &str) -> String {
        let mut out = String::new();
        let mut rest = text;
        while let Some((before, rest_of_it)) = rest.split_once('{') {
            let (inside, after) = rest_of_it.split_once('}').unwrap_or((rest_of_it, ""));
            out.push_str(before);
            out.push_str(self.part(inside));
            rest = after;
        }
        out.push_str(rest);
        out
    }

    fn part(self, inside: &str) -> &str {
        match (inside.split_once(':'), self.plain) {
            (Some(("see", words)), false) | (Some(("hear", words)), true) => words,
            (Some(_), _) => "",
            (None, _) => self.word(inside),
        }
    }

    fn word(self, name: &str) -> &'static str {
        match (name, self.plain) {
            ("onward", _) if self.left_handed => "to the right",
            ("onward", _) => "to the left",
            ("on", true) => "Enter",
            ("on", false) => "space",
            ("back", true) => "-",
            ("back", false) => "Backspace",
            _ => "",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIGHTED: Reader = Reader {
        left_handed: false,
        plain: false,
    };
    const LISTENER: Reader = Reader {
        left_handed: true,
        plain: true,
    };

    #[test]
    fn each_reader_has_a_text_of_its_own() {
        let text = "{see:Look up. }Go {onward}, press {on}{hear: or listen}.";
        assert_eq!(SIGHTED.text(text), "Look up. Go to the left, press space.");
        assert_eq!(
            LISTENER.text(text),
            "Go to the right, press Enter or listen."
        );
        assert_eq!(SIGHTED.text("no brace {on"), "no brace space");
    }
}
