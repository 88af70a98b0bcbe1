//! What the screens declare: docs/keys.md, and no key with two meanings.

use crate::screen::keys::{BACK, EVERYWHERE, FINDING, KeyLine, Keys, SCROLLING, TYPING};
use crate::screen::layers::{OF_A_PIECE, OF_THE_TRAY};
use crate::screen::proof;
use crate::screen::tests::at;

/// All tables; the tray's tables are last.
fn tables() -> Vec<&'static Keys> {
    let of_a_piece = OF_A_PIECE
        .iter()
        .flat_map(|o| o.tables)
        .map(|table| table());
    let mut all: Vec<&Keys> = of_a_piece.collect();
    for table in OF_THE_TRAY
        .iter()
        .flat_map(|o| o.tables)
        .map(|table| table())
    {
        if !all.contains(&table) {
            all.push(table);
        }
    }
    all
}

/// docs/keys.md, from the declarations: a table for the stitches and what all
/// screens share, and one line for each other screen, as short as its key bar.
fn manual() -> String {
    let mut out = String::from(
        "# Keys\n\nThis page is made from the keys that the screens declare (src/screen/layers); a test sees to it that \
         they agree. `?` on any screen explains its keys in full. In the plain mode the same keys are typed, each followed by \
         Enter, with what is typed then behind it (`g 120`); a key that types no letter is called by its name (`esc`, `down`, \
         `backspace`).\n\n| keys | what they do |\n|---|---|\n",
    );
    let alike = [
        ("everywhere", EVERYWHERE),
        ("on a screen over another", BACK),
        ("where text is typed", TYPING),
        ("in lists and on long pages", SCROLLING),
        ("in the tray and the overview", FINDING),
    ];
    for (place, keys) in alike {
        for key in keys.all() {
            out.push_str(&format!("| {} ({place}) | {} |\n", key.named(), key.does));
        }
    }
    let opened = OF_A_PIECE.iter().map(|opener| &opener.key);
    let opened = opened.filter(|key| !key.keys.is_empty());
    let stitching = tables()[0];
    let all = stitching.lines.iter().chain(opened).chain(stitching.rest);
    out.push_str("\n## Stitching\n\n| keys | what they do |\n|---|---|\n");
    for key in all {
        out.push_str(&format!("| {} | {} |\n", key.named(), key.does));
    }
    out.push_str("\n## On the other screens\n\n");
    for keys in tables().into_iter().skip(1) {
        let short = |key: &KeyLine| match key.on_bar() {
            // The bar's own word for several keys, such as the arrows.
            Some((several, does)) if !key.keys.contains(several) => format!("{several} {does}"),
            Some((_, does)) => format!("{} {does}", key.named()),
            None => {
                let first = key.does.split([',', ';', ':']).next();
                format!("{} {}", key.named(), first.unwrap_or_default())
            }
        };
        let all: Vec<String> = keys.all().map(short).collect();
        if !all.is_empty() {
            out.push_str(&format!("- {}: {}\n", keys.title, all.join("; ")));
        }
    }
    out.push_str(
        "\nHelp and asking about a word (`?`, `a`) open from every screen where letters are no text; where they are, F1 is the help. The settings (`s`) open from \
         the tray as well.\n\nFoot pedals for turning pages type PageDown or an arrow, and so work at once.\n",
    );
    out
}

/// No two lines use the same key on the same screen.
#[test]
fn no_key_has_two_meanings() {
    let openers = OF_A_PIECE.iter().map(|opener| &opener.key);
    let openers: Vec<&KeyLine> = openers.filter(|key| !key.keys.is_empty()).collect();
    for table in tables() {
        let mut here: Vec<&KeyLine> = table.all().collect();
        if table.title == "Stitching" {
            here.extend(&openers);
        }
        for (i, a) in here.iter().enumerate() {
            for b in &here[i + 1..] {
                let shared = a
                    .keys
                    .split(' ')
                    .find(|key| b.keys.split(' ').any(|k| k == *key));
                assert_eq!(
                    shared, None,
                    "{}: '{}' and '{}'",
                    table.title, a.name, b.name
                );
            }
        }
    }
}

/// Every word in a declaration is the name of a key, or is known not to be one.
#[test]
fn every_key_that_is_declared_can_be_pressed() {
    let no_keys = [
        "click",
        "wheel_up",
        "wheel_down",
        "letters",
        "any_key",
        "A-Z",
        "0-9",
    ];
    let openers = OF_A_PIECE.iter().map(|opener| &opener.key);
    let all = tables()
        .into_iter()
        .flat_map(|table| table.all())
        .chain(openers);
    for key in all {
        for word in key.keys.split(' ').filter(|word| !word.is_empty()) {
            let known = crate::screen::keys::code(word).is_some();
            assert!(known || no_keys.contains(&word), "{word}");
        }
        assert!(key.bar.is_empty() || key.on_bar().is_some(), "{}", key.bar);
    }
}

#[test]
fn the_page_about_keys_is_what_the_screens_declare() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/keys.md");
    let page = std::fs::read_to_string(path).unwrap().replace("\r\n", "\n");
    if page != manual() {
        let path = std::env::temp_dir().join("threadmark-keys.md");
        let _ = std::fs::write(&path, manual());
        panic!("docs/keys.md differs; what it should be: {path:?}");
    }
}

/// However narrow it is, the bar says how to go back.
#[test]
fn the_bar_always_says_how_to_go_back() {
    for opener in OF_A_PIECE {
        let mut s = at(proof::folded_pair(4, 1), 20);
        let Some(key) = opener
            .key
            .keys
            .split(' ')
            .find(|key| key.chars().count() == 1)
        else {
            continue;
        };
        s.press(key);
        s.wait();
        if s.stack.is_lowest() {
            continue;
        }
        let shown = s.shown(40, 12);
        let bar = shown.lines().last().unwrap();
        assert!(bar.contains("Esc "), "{}: {bar}", opener.key.name);
    }
}
