//! The name of a piece's directory.

use std::path::{Component, Path};

use crate::clean::steers;

/// The most characters of a title that go into a name.
const MAX_LENGTH: usize = 40;

/// A directory name from a title: letters and digits of any script in lower
/// case, hyphens between; valid on every file system.
pub(super) fn from_title(title: &str) -> String {
    let mut name = String::new();
    for c in title.chars().flat_map(char::to_lowercase) {
        if name.chars().count() == MAX_LENGTH {
            break;
        }
        if c.is_alphanumeric() {
            name.push(c);
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    let name = name.trim_end_matches('-');
    match name {
        "" => "piece".into(),
        name if is_device(name) => format!("piece-{name}"),
        name => name.into(),
    }
}

/// Names that some systems reserve for devices.
fn is_device(name: &str) -> bool {
    let port = |prefix| {
        name.strip_prefix(prefix)
            .is_some_and(|n: &str| n.chars().count() == 1)
    };
    matches!(name, "con" | "prn" | "aux" | "nul") || port("com") || port("lpt")
}

/// The `number`th candidate for a name, from 1: the name, then `name-2`,
/// `name-3`, …
pub(super) fn numbered(name: &str, number: u32) -> String {
    if number == 1 {
        name.into()
    } else {
        format!("{name}-{number}")
    }
}

/// Whether this is one of the candidates for `wanted`.
pub(super) fn is_numbered(name: &str, wanted: &str) -> bool {
    let number = |rest: &str| rest.strip_prefix('-').and_then(|n| n.parse::<u32>().ok());
    let rest = name.strip_prefix(wanted);
    rest.is_some_and(|rest| rest.is_empty() || number(rest).is_some())
}

/// Whether this can be a piece in the tray: a single path component, not
/// hidden, safe to show.
pub(super) fn is_plain(name: &str) -> bool {
    let mut parts = Path::new(name).components();
    matches!((parts.next(), parts.next()), (Some(Component::Normal(part)), None) if part == name)
        && !name.starts_with('.')
        && !name.contains(steers)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_becomes_a_name() {
        assert_eq!(from_title("Evening Star, 2nd try!"), "evening-star-2nd-try");
        assert_eq!(from_title("Ruský granát"), "ruský-granát");
        assert_eq!(from_title("星"), "星");
    }

    #[test]
    fn no_title_leads_out_of_the_tray() {
        for title in [
            "../../etc",
            "/",
            "..",
            ".",
            "",
            ".hidden",
            "a/b",
            "a\\b",
            "\u{1b}[2J",
            "CON",
            "com1",
        ] {
            let name = from_title(title);
            assert!(
                is_plain(&name) && !name.contains(['\\', '/']),
                "{title:?} gave {name:?}"
            );
            assert!(!is_device(&name));
        }
        assert!(from_title(&"ẞ".repeat(400)).len() <= 255 - "-4294967295".len());
    }

    #[test]
    fn only_plain_names_are_looked_for() {
        for name in [
            "",
            ".",
            "..",
            "../x",
            "a/b",
            "/a",
            ".begin-1-1",
            "a/",
            "a\u{1b}c",
        ] {
            assert!(!is_plain(name), "{name:?}");
        }
        assert!(is_plain("evening-star"));
    }
}
