use super::*;
use crate::beadwork::movement::Kind;
use crate::beadwork::project::Closing;
use crate::progress::Moment;
use crate::screen::keys;
use crate::screen::proof::{self, LOOK};
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

pub(super) fn sit(seq: Sequence) -> Session {
    let piece = Piece::in_memory("Trial", b"{}", seq.steps(), Moment(0));
    Session::new(seq, piece, LOOK, Moment(0))
}

/// Keys in a short notation: `s` space, `<` Backspace, `^` Esc, `!` Enter,
/// all else as typed.
pub(super) fn press(session: &mut Session, keys: &str) -> Effect {
    let mut last = Effect::default();
    for c in keys.chars() {
        let code = match c {
            '_' => KeyCode::Char(' '),
            '<' => KeyCode::Backspace,
            '^' => KeyCode::Esc,
            '!' => KeyCode::Enter,
            'v' => KeyCode::Down,
            c => KeyCode::Char(c),
        };
        let event = KeyEvent::new(code, KeyModifiers::NONE);
        if let Some(action) = keys::action(session.place(), &event) {
            last = session.apply(action, Moment(1));
        }
    }
    last
}

#[test]
fn a_new_piece_shows_the_cautions_first_and_then_steps() {
    let mut s = sit(proof::panel(3, 4));
    assert_eq!(s.pane, Pane::Card);
    press(&mut s, "_");
    assert_eq!((s.pane.clone(), s.done()), (Pane::Stitch, Step(0)));
    press(&mut s, "___<_");
    assert_eq!(s.done(), Step(3));
    assert_eq!(s.piece.state().step, 3);
}

#[test]
fn no_key_leads_past_either_end() {
    let mut s = sit(proof::panel(3, 2));
    press(&mut s, "_<<<");
    assert_eq!(s.done(), Step(0));
    assert!(s.said.contains("first step"));
    let all = s.seq.steps();
    press(&mut s, &"_".repeat(all as usize + 5));
    assert_eq!(s.done(), Step(all));
    assert!(s.said.contains("finished"));
    assert_eq!(s.movement(), None);
}

#[test]
fn digits_begin_a_count_and_the_answer_is_kept() {
    let mut s = sit(proof::panel(3, 4));
    // To where the first round is closed.
    press(&mut s, "_______");
    while s.offered().is_none() {
        press(&mut s, "_");
    }
    let question = s.offered().unwrap();
    let right = count::answer(&s.seq, &question, None, 0).unwrap().expected;
    press(&mut s, &format!("{}!", right + 1));
    match &s.pane {
        Pane::Answer(Answered { answer, .. }) => {
            assert_eq!(answer.verdict, count::Verdict::Over);
            assert!(!answer.causes.is_empty());
        }
        other => panic!("{other:?}"),
    }
    press(&mut s, &format!("c{right}!"));
    let checks = &s.piece.state().checks;
    assert_eq!(checks.len(), 2);
    assert_eq!(checks[0].counted, right + 1);
    assert_eq!(checks[1].verdict(), crate::progress::Verdict::Match);
    press(&mut s, "_");
    assert_eq!(s.pane, Pane::Stitch);
}

#[test]
fn a_jump_has_a_way_back() {
    let mut s = sit(proof::tetrahedron(4, Closing::SetIn, 0));
    press(&mut s, "____gj3!");
    assert_eq!(s.job(), Job(2));
    press(&mut s, "_b");
    assert_eq!(s.done(), Step(3));
    press(&mut s, "b");
    assert!(s.said.contains("no way back"));
    press(&mut s, "gnowhere!");
    assert!(matches!(s.pane, Pane::Jump { found: Err(_), .. }));
    press(&mut s, "^");
    assert_eq!((s.pane.clone(), s.done()), (Pane::Stitch, Step(3)));
}

#[test]
fn a_note_is_kept_on_its_step_and_listed_in_the_overview() {
    let mut s = sit(proof::panel(3, 3));
    press(&mut s, "___ncorner is loose!");
    assert_eq!(s.piece.state().notes[&3].as_str(), "corner is loose");
    assert!(s.overview().contains(&OverviewLine::Note(3)));
    press(&mut s, "_____ov!");
    assert_eq!(s.done(), Step(2), "the note's step is to be made next");
    press(&mut s, "n<<<<<!");
    assert_eq!(s.piece.state().notes[&3].as_str(), "corner is");
}

#[test]
fn the_bell_rings_one_step_ahead_of_what_is_chosen_and_only_then() {
    let mut s = sit(proof::inward(3, 5, 0));
    press(&mut s, "_");
    let at = settings::LINES
        .iter()
        .position(|l| *l == settings::Line::Bell("decrease"))
        .unwrap();
    press(&mut s, &format!("s{}!^", "v".repeat(at)));
    let mut rung = vec![];
    while let Some(m) = s.movement() {
        if press(&mut s, "_").bell {
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
    press(&mut s, "_");
    while s.movement().unwrap().kind != Kind::StepUp {
        press(&mut s, "_");
    }
    let before = s.done();
    press(&mut s, "x_");
    assert_eq!((s.done(), s.taken), (before, 1));
    press(&mut s, "<");
    assert_eq!((s.done(), s.taken), (before, 0));
    press(&mut s, "__");
    assert_eq!((s.done(), s.taken), (Step(before.0 + 1), 0));
    assert!(!s.one_at_a_time);
}

#[test]
fn hand_and_colours_are_kept_with_the_piece() {
    let mut s = sit(proof::panel(3, 3));
    press(&mut s, "_lsv!");
    let settings = &s.piece.state().settings;
    assert!(settings.left_handed());
    assert_eq!(settings::colours(settings), "true");
    // NO_COLOR goes before it.
    assert_eq!(s.look().depth, Depth::None);
}

#[test]
fn leaving_is_told_outside() {
    let mut s = sit(proof::panel(3, 3));
    assert_eq!(press(&mut s, "_q").leave, Some(Leaving::Quit));
    assert_eq!(press(&mut s, "^").leave, Some(Leaving::Tray));
    press(&mut s, "nq");
    assert!(matches!(&s.pane, Pane::Note { typed } if typed == "q"));
}

mod tour;
