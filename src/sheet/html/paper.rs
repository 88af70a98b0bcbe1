//! What is asked of the printer: the paper, its margins, and the page numbers.

use std::fmt::Write as _;

use crate::sheet::{Paper, Sheet};

/// The rule of the pages. The title and the number stand at the foot of each,
/// so that sheets that have come apart find together again.
pub(super) fn rule(sheet: &Sheet) -> String {
    let size = match sheet.paper {
        Some(Paper::A4) => "size: A4; ",
        Some(Paper::Letter) => "size: letter; ",
        None => "",
    };
    let foot = "font: 8pt Helvetica, Arial, sans-serif; color: #1a1a1a;";
    format!(
        "@page {{ {size}margin: 14mm; \
         @bottom-left {{ content: \"{}\"; {foot} }} \
         @bottom-right {{ content: counter(page) \" / \" counter(pages); {foot} }} }}\n",
        string(&sheet.title)
    )
}

/// Letters of a title that stand at the foot of a page.
const TITLE: usize = 60;

/// A text as a string of CSS: what is no letter or digit of ASCII by its
/// number, so that it can end neither the string nor the element around it
/// (CSS Syntax Level 3, 4.3.7).
fn string(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars().take(TITLE).filter(|c| !c.is_control()) {
        match c {
            c if c.is_ascii_alphanumeric() => out.push(c),
            c => {
                let _ = write!(out, "\\{:x} ", u32::from(c));
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_title_leaves_its_string() {
        assert_eq!(string("Lamp"), "Lamp");
        assert_eq!(string("\"</style>"), r"\22 \3c \2f style\3e ");
        assert_eq!(string("Törn\n"), r"T\f6 rn");
    }
}
