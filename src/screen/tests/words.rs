//! Asking about a word.

use super::*;
use crate::beadwork::Kind;
use crate::screen::layer::Context;
use crate::words;

/// The word that is chosen in the list, or explained.
fn word(s: &mut Sitting) -> String {
    let mut lines = s.stack.top().lines(&s.session);
    if s.open() == "Asking about a word" {
        s.press("!");
        lines = s.stack.top().lines(&s.session);
        s.press("^");
    }
    lines[0].to_string()
}

#[test]
fn a_word_is_asked_about_from_the_stitches_and_back() {
    let mut s = sit(proof::practice_pair());
    s.press("__");
    while s.movement().unwrap().kind != Kind::StepUp {
        s.press("_");
    }
    let at = s.done();
    s.press("a");
    assert_eq!(s.open(), "Asking about a word");
    assert_eq!(word(&mut s), "step-up", "what is going on comes first");
    s.press("!1");
    assert_eq!(word(&mut s), "step-down");
    s.press("<");
    assert_eq!(word(&mut s), "step-up");
    s.press("^^");
    assert_eq!((s.open(), s.done()), ("Stitching", at));
}

/// Wherever letters are not text, `a` asks about words, and closing that leads
/// back.
#[test]
fn words_are_asked_about_wherever_the_maker_is() {
    for keys in [
        "", "_", "_?", "_o", "_s", "_e", "_f", "_fc", "_v", "_p", "_h",
    ] {
        let mut s = sit(proof::practice_pair());
        s.press(keys);
        let before = s.open();
        s.press("a");
        assert!(
            s.shown(80, 24).contains("Words on the screen just now"),
            "{keys}"
        );
        s.press("!^^");
        assert_eq!(s.open(), before, "{keys}");
    }
    // A note can begin with that letter.
    let mut s = sit(proof::practice_pair());
    s.press("_na");
    assert!(s.shown(80, 24).contains("Note on step 1: a"));
}

#[test]
fn letters_leave_only_words_that_have_them() {
    let mut s = sit(proof::practice_pair());
    s.press("_azip");
    assert_eq!(word(&mut s), "zip");
    let text = s.shown(80, 24);
    assert!(
        text.contains("Words with: zip") && !text.contains("step-up:"),
        "{text}"
    );
    s.press("<<<");
    let text = s.shown(80, 24);
    assert!(text.contains("Words on the screen just now"), "{text}");
    s.press("no such word!");
    assert_eq!(s.said, "That word is not among these.");
}

#[test]
fn a_word_is_found_by_another_name_for_the_thing() {
    for found in ["round", "zip", "join"].map(|w| words::named(w).unwrap()) {
        let other = found.not[0];
        let mut s = sit(proof::practice_pair());
        s.press(&format!("_a{}", other.to_uppercase()));
        let text = s.shown(80, 24);
        assert!(
            text.contains(&format!("{} ({other})", found.word)),
            "{text}"
        );
        assert_eq!(word(&mut s), found.word);
    }
}

#[test]
fn a_digit_without_a_neighbour_does_nothing() {
    for digit in ["0", "9"] {
        let mut s = sit(proof::practice_pair());
        s.press("_azip!");
        s.press(digit);
        assert_eq!(word(&mut s), "zip");
    }
}

#[test]
fn the_list_ends_where_it_ends() {
    let mut s = sit(proof::practice_pair());
    s.press("_a↑");
    let first = word(&mut s);
    assert!(s.session.words_now().iter().any(|w| w.word == first));
    s.press(&"⇟".repeat(100));
    let last = words::all().filter(|w| w.word == word(&mut s)).count();
    assert_eq!(last, 1);
    let text = s.shown(80, 24);
    assert!(!text.contains("more below"), "{text}");
}
