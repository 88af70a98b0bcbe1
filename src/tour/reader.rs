//! A lesson's text for the one who reads it: which hand, and whether there is
//! a picture.
//!
//! ```text
//! {onward}    to the left, or mirrored to the right
//! {on}        the key that goes on     {back}   the key that goes back
//! {see:…}     only where there is a picture
//! {hear:…}    only in the plain mode
//! ```

/// Who reads a lesson.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reader {
    /// Works with the left hand.
    pub left_handed: bool,
    /// Reads lines, or hears them, without a picture.
    pub plain: bool,
}

impl Reader {
    /// The text for this reader.
    pub fn text(self, text: &str) -> String {
        let mut out = String::new();
        let mut rest = text;
        while let Some((before, behind)) = rest.split_once('{') {
            let (inside, after) = behind.split_once('}').unwrap_or((behind, ""));
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

    const EYE: Reader = Reader {
        left_handed: false,
        plain: false,
    };
    const EAR: Reader = Reader {
        left_handed: true,
        plain: true,
    };

    #[test]
    fn each_reader_has_a_text_of_its_own() {
        let text = "{see:Look up. }Go {onward}, press {on}{hear: or listen}.";
        assert_eq!(EYE.text(text), "Look up. Go to the left, press space.");
        assert_eq!(EAR.text(text), "Go to the right, press Enter or listen.");
        assert_eq!(EYE.text("no brace {on"), "no brace space");
    }
}
