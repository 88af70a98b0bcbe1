//! Stitching, counting, going to a place, notes, settings, key by key.

use super::*;
use crate::beadwork::Job;
use crate::beadwork::movement::Kind;
use crate::beadwork::project::Closing;
use crate::count;
use crate::screen::layer::Context as _;
use crate::screen::look::Depth;
use crate::screen::settings;

#[test]
fn a_new_piece_shows_the_cautions_first_and_then_steps() {
    let mut s = sit(proof::panel(3, 4));
    assert_eq!(s.open(), "A piece is opened");
    s.press("_");
    assert_eq!((s.open(), s.done()), ("Stitching", Step(0)));
    s.press("___<_");
    assert_eq!(s.done(), Step(3));
    assert_eq!(s.piece.state().step, 3);
}

#[test]
fn no_key_leads_past_either_end() {
    let mut s = sit(proof::panel(3, 2));
    s.press("_<<<");
    assert_eq!(s.done(), Step(0));
    assert!(s.said.contains("first step"));
    let all = s.seq.steps();
    s.press(&"_".repeat(all as usize + 5));
    assert_eq!(s.done(), Step(all));
    assert!(s.said.contains("finished"));
    assert_eq!(s.movement(), None);
}

#[test]
fn digits_begin_a_count_and_the_answer_is_kept() {
    let mut s = sit(proof::panel(3, 4));
    // To where the first round is closed.
    s.press("_______");
    while s.offered().is_none() {
        s.press("_");
    }
    let question = s.offered().unwrap();
    let right = count::answer(&s.seq, &question, None, 0).unwrap().expected;
    s.press(&format!("{}!", right + 1));
    let text = s.shown(80, 24);
    assert!(
        text.contains("1 too many") && text.contains("Most likely"),
        "{text}"
    );
    s.press(&format!("c{right}!"));
    let checks = &s.piece.state().checks;
    assert_eq!(checks.len(), 2);
    assert_eq!(checks[0].counted, right + 1);
    assert_eq!(checks[1].verdict(), crate::progress::Verdict::Match);
    s.press("_");
    assert_eq!(s.open(), "Stitching");
}

#[test]
fn a_jump_has_a_way_back() {
    let mut s = sit(proof::tetrahedron(4, Closing::SetIn, 0));
    s.press("____gj3!");
    assert_eq!(s.job(), Job(2));
    s.press("_b");
    assert_eq!(s.done(), Step(3));
    s.press("b");
    assert!(s.said.contains("no way back"));
    s.press("gnowhere!");
    assert!(s.shown(80, 24).contains("is no place"));
    s.press("^");
    assert_eq!((s.open(), s.done()), ("Stitching", Step(3)));
}

#[test]
fn a_note_is_kept_on_its_step_and_listed_in_the_overview() {
    let mut s = sit(proof::panel(3, 3));
    s.press("___ncorner is loose!");
    assert_eq!(s.piece.state().notes[&3].as_str(), "corner is loose");
    s.press("_____o");
    assert!(s.shown(80, 24).contains("step 3: corner is loose"));
    s.press("↓!");
    assert_eq!(s.done(), Step(2), "the note's step is to be made next");
    s.press("n<<<<<!");
    assert_eq!(s.piece.state().notes[&3].as_str(), "corner is");
}

#[test]
fn the_bell_rings_one_step_ahead_of_what_is_chosen_and_only_then() {
    let mut s = sit(proof::inward(3, 5, 0));
    s.press("_");
    let at = settings::LINES
        .iter()
        .position(|l| *l == settings::SettingLine::Bell("decrease"))
        .unwrap();
    s.press(&format!("s{}!^", "↓".repeat(at)));
    let mut rung = vec![];
    while let Some(m) = s.movement() {
        s.press("_");
        if std::mem::take(&mut s.bell) {
            rung.push(m.step.0 + 2);
        }
    }
    let corners: Vec<_> = s
        .seq
        .iter()
        .filter(|m| m.kind == Kind::Decrease)
        .map(|m| m.step.0)
        .collect();
    assert_eq!(rung, corners);
}

#[test]
fn several_beads_can_be_taken_one_at_a_time() {
    let mut s = sit(proof::panel(3, 3));
    s.press("_");
    while s.movement().unwrap().kind != Kind::StepUp {
        s.press("_");
    }
    let before = s.done();
    s.press("x_");
    assert_eq!((s.done(), s.taken), (before, 1));
    s.press("<");
    assert_eq!((s.done(), s.taken), (before, 0));
    s.press("__");
    assert_eq!((s.done(), s.taken), (Step(before.0 + 1), 0));
    assert!(!s.one_at_a_time);
}

#[test]
fn hand_and_colours_are_kept_with_the_piece() {
    let mut s = sit(proof::panel(3, 3));
    s.press("_ls↓!");
    let settings = &s.piece.state().settings;
    assert!(settings.left_handed());
    assert_eq!(settings::colours(settings), "true");
    // NO_COLOR goes before it.
    assert_eq!(s.look().depth, Depth::None);
}

#[test]
fn leaving_is_told_outside() {
    let mut s = sit(proof::panel(3, 3));
    assert_eq!(s.press("_q"), Some(Exit::Quit));
    assert_eq!(s.press("t"), Some(Exit::Tray));
    s.press("nq");
    assert!(s.shown(80, 24).contains("Note on step 1: q█"));
}

/// Esc takes off what is open, layer by layer, and then does nothing.
#[test]
fn esc_leaves_what_is_open_and_stops_there() {
    for keys in [
        "", "_?", "_o", "_s", "_p", "_h", "_hn", "_g", "_n", "_w", "_f", "_fc", "_v", "_a!",
        "_?a!", "_fcva", "___u", "___u!", "___u!_",
    ] {
        let mut s = sit(proof::panel(3, 4));
        s.press(keys);
        for _ in 0..9 {
            assert_eq!(s.press("^"), None, "{keys}");
        }
        assert_eq!(s.open(), "Stitching", "{keys}");
    }
}

/// The key that opened a screen leaves it, and so do q and Backspace.
#[test]
fn the_key_that_opened_a_screen_leaves_it() {
    for key in ["?", "o", "s", "p", "h", "f", "v", "e"] {
        for leave in [key, "q", "<"] {
            let mut s = at(proof::panel(3, 4), 3);
            s.press(key);
            assert_ne!(s.open(), "Stitching", "{key}");
            s.press(leave);
            assert_eq!(
                (s.open(), s.done()),
                ("Stitching", Step(3)),
                "{key} {leave}"
            );
        }
    }
}

/// A count that was wrong is mended, and may be typed again at once.
#[test]
fn after_an_answer_the_next_count_is_typed_at_once() {
    let mut s = at(proof::panel(3, 4), 9);
    s.press("5!");
    assert_eq!(s.open(), "The answer to a count");
    s.press("6!");
    assert!(s.shown(80, 24).contains("Yes, that is right"));
    s.press("_");
    assert_eq!((s.open(), s.done()), ("Stitching", Step(9)));
}

/// Every screen of the list is opened by each of its keys, can be drawn at
/// every size, and says itself in lines.
#[test]
fn every_screen_opens_by_its_keys_and_says_itself() {
    for opener in layers::OF_A_PIECE {
        let keys = opener
            .key
            .keys
            .split(' ')
            .filter_map(crate::screen::keys::code);
        for key in keys {
            let mut s = at(proof::tetrahedron(4, Closing::SetIn, 1), 12);
            s.key(key);
            s.wait();
            let titles: Vec<_> = opener.tables.iter().map(|table| table().title).collect();
            assert!(titles.contains(&s.open()), "{key:?}: {}", s.open());
            assert!(!s.stack.top().lines(&s.session).is_empty(), "{key:?}");
            let stitches = at(proof::tetrahedron(4, Closing::SetIn, 1), 12).shown(80, 24);
            for (wide, high) in [(80, 24), (40, 12), (20, 6)] {
                let text = s.shown(wide, high);
                assert!(
                    !text.trim().is_empty() && text != stitches,
                    "{key:?}\n{text}"
                );
            }
        }
    }
}
