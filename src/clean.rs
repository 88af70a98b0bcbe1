//! Makes text from a file fit for a terminal.
//!
//! A pattern comes from somebody else. Its texts could hold sequences that
//! move the cursor, recolour the screen or turn the reading direction round;
//! here they lose them, at the door, so that nothing further in has to think
//! of it.

use std::iter::Peekable;
use std::str::Chars;

/// One line of text without control characters, escape sequences and marks
/// that turn the reading direction. Line breaks and tabs become spaces.
pub fn clean(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '\n' | '\t' | '\r' => kept.push(' '),
            '\x1b' => skip_sequence(&mut chars),
            // The same openers as one character of the upper control set.
            '\u{9b}' => skip_to_final(&mut chars),
            '\u{90}' | '\u{98}' | '\u{9d}' | '\u{9e}' | '\u{9f}' => skip_string(&mut chars),
            _ if hidden(c) => {}
            _ => kept.push(c),
        }
    }
    kept.trim().to_string()
}

/// The same for text of several lines, which it keeps.
pub fn clean_lines(text: &str) -> String {
    let lines: Vec<String> = text.lines().map(clean).collect();
    lines.join("\n").trim().to_string()
}

/// Control characters, and marks that show nothing but change how the rest is
/// shown. Joiners (200C, 200D) stay: some scripts cannot be spelled without.
fn hidden(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}' | '\u{200e}' | '\u{200f}'
            | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}'
            | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// What follows an escape character.
fn skip_sequence(chars: &mut Peekable<Chars>) {
    match chars.next_if(|c| !c.is_control()) {
        Some('[') => skip_to_final(chars),
        Some(']' | 'P' | 'X' | '^' | '_') => skip_string(chars),
        // Two-part openers, as for character sets, end with one more.
        Some(' '..='/') => skip_to_final(chars),
        _ => {}
    }
}

/// Parameters, up to the letter that ends them.
fn skip_to_final(chars: &mut Peekable<Chars>) {
    while chars.next_if(|c| matches!(c, ' '..='?')).is_some() {}
    chars.next_if(|c| matches!(c, '@'..='~'));
}

/// A string for the terminal itself, up to its end mark.
fn skip_string(chars: &mut Peekable<Chars>) {
    while let Some(c) = chars.next() {
        match c {
            '\x07' | '\u{9c}' => return,
            '\x1b' => {
                chars.next_if_eq(&'\\');
                return;
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn sequences_go_and_words_stay() {
        for (dirty, kept) in [
            ("Harbour lantern", "Harbour lantern"),
            ("\x1b[31;1mred\x1b[0m bead", "red bead"),
            ("\u{9b}2Jgone", "gone"),
            ("a\x1b]0;title\x07b", "ab"),
            ("a\x1b]8;;x\x1b\\b", "ab"),
            ("a\x1bP1$q\x1b\\b", "ab"),
            ("a\x1b(Bb\x1bcd", "abd"),
            ("two\nlines\tand\ra tab", "two lines and a tab"),
            ("\u{202e}backwards\u{202c} \u{2067}x\u{2069}", "backwards x"),
            ("bell\x07 \x00nul\x7f", "bell nul"),
            ("  Grüße, λ and 🧵  ", "Grüße, λ and 🧵"),
        ] {
            assert_eq!(clean(dirty), kept, "{dirty:?}");
        }
        assert_eq!(clean_lines("one\x1b[A\n\ntwo\x07\n"), "one\n\ntwo");
    }

    proptest! {
        #[test]
        fn nothing_that_controls_is_left(text in "\\PC*|[\\x00-\\x9f\\[\\];()m\u{202a}-\u{202e}]*") {
            let kept = clean(&text);
            prop_assert!(!kept.chars().any(hidden));
            prop_assert_eq!(clean(&kept), kept);
        }
    }
}
