//! Colouring on the whole face, key by key.

use super::*;
use crate::beadwork::colour::Colours;
use crate::beadwork::flat_face::FlatFace;
use crate::beadwork::paint::Symmetry;
use crate::beadwork::project::Closing;
use crate::beadwork::{Bead, Colour, Panel, Round, Side};
use crate::pattern;
use crate::plan::materials;
use crate::progress::{Entry, MoveReason};
use proptest::prelude::*;

const LANTERN: &[u8] = include_bytes!("../../../patterns/harbour-lantern.json");

fn session(seq: Sequence, pattern: &[u8]) -> Sitting {
    let piece = Piece::in_memory("Trial", pattern, seq.steps(), Moment(0));
    let mut sitting = Sitting::of(Session::new(seq, piece, LOOK, Moment(0)));
    sitting.press("_");
    sitting
}

fn lantern() -> Sitting {
    let pattern = pattern::read("lantern", LANTERN).unwrap();
    session(Sequence::new(pattern.project), LANTERN)
}

/// Opens the face with the brush on a bead.
fn brush_at(session: &mut Sitting, round: u32, side: u8, place: u32) {
    session.press("f");
    session.press("c");
    let face = session.face.flat(&session.seq);
    let seat = face.seat(Round(round), Side(side), place);
    session.face.at = Some(seat);
    session.wait();
}

fn letter(session: &Sitting, round: u32, side: u8, place: u32) -> char {
    let face = session.face.flat(&session.seq);
    let seat = face.seat(Round(round), Side(side), place);
    let colour = session.seq.layout().colour_of(seat);
    session.seq.layout().bead_kind(colour).letter
}

#[test]
fn a_stroke_paints_the_bead_those_like_it_and_every_panel_of_the_kind() {
    let mut s = lantern();
    brush_at(&mut s, 5, 0, 1);
    assert_eq!(s.open(), "Colouring on the whole face");
    s.press("N");
    s.press("_");
    assert!(
        s.said.starts_with("1 bead is N now, alike in 6 panels."),
        "{}",
        s.said
    );
    assert_eq!((letter(&s, 5, 0, 1), letter(&s, 5, 1, 1)), ('N', 'S'));
    s.press("s");
    s.press("s");
    s.press("_");
    assert!(s.said.starts_with("2 beads are N now"), "{}", s.said);
    assert_eq!((letter(&s, 5, 1, 1), letter(&s, 5, 1, 3)), ('N', 'S'));
    s.press("_");
    assert_eq!(s.said, "It is N already.");
    let round = s.seq.goal().colours[0].spelt(s.seq.layout().kind(Panel(0)), Round(5));
    assert_eq!(round, vec![[1, 2, 0, 0, 1].map(Colour).to_vec(); 3]);
    // All six panels of the kind, and no others.
    for (panel, made) in (0..).map(Panel).zip(s.seq.layout().panels()) {
        let face = FlatFace::new(s.seq.layout(), panel, Side(0));
        let on = |side| face.layout().colour_of(face.seat(Round(5), Side(side), 1));
        // In this round the door is all N.
        let all_of_n = [0, 1, 2].map(on) == [Colour(2); 3];
        assert_eq!(all_of_n, made.spec < 2, "{panel}");
    }
}

#[test]
fn strokes_are_undone_and_redone_down_to_the_pattern_itself() {
    let mut s = lantern();
    brush_at(&mut s, 5, 0, 1);
    let spelt =
        |s: &Sitting| s.seq.goal().colours[0].spelt(s.seq.layout().kind(Panel(0)), Round(5));
    let mut seen = vec![spelt(&s)];
    for letter in ['N', 'F', 'A'] {
        s.key(KeyCode::Char(letter));
        s.press("s");
        s.press("_");
        seen.push(spelt(&s));
    }
    for before in seen[..3].iter().rev() {
        s.press("z");
        assert_eq!(*before, spelt(&s));
    }
    assert!(s.painted_parts().is_empty(), "as the pattern has it");
    s.press("z");
    assert_eq!(
        s.said,
        "There is no stroke to undo since you opened the piece."
    );
    for after in &seen[1..] {
        s.press("y");
        assert_eq!(*after, spelt(&s));
    }
    // After a new stroke nothing can be redone.
    s.press("z");
    s.press("N");
    s.press("_");
    s.press("y");
    assert_eq!(s.said, "No stroke was undone.");
}

#[test]
fn painting_what_is_sewn_says_so() {
    let mut s = lantern();
    let (steps, job) = (s.seq.steps(), s.seq.job(crate::beadwork::Job(1)).clone());
    brush_at(&mut s, 2, 0, 0);
    s.press("F");
    s.press("_");
    assert_eq!(s.said, "1 bead is F now, alike in 6 panels.");
    s.record(Entry::to(job.steps_before, MoveReason::Jump, Moment(1)));
    s.press("A");
    s.press("_");
    let said =
        "This bead is sewn: it keeps its colour. 1 bead to come is A now, alike in 5 panels.";
    assert_eq!(s.said, said);
    assert_eq!(letter(&s, 2, 0, 0), 'F');
    s.face.at = Some(s.seq.layout().face_seat(Panel(1), Round(2), Side(0), 0));
    assert_eq!(s.seq.layout().colour_of(s.face.at.unwrap()), Colour(1));
    s.press("N");
    s.press("_");
    let said =
        "In one panel it is sewn and keeps its colour. 1 bead to come is N now, alike in 5 panels.";
    assert_eq!(s.said, said);
    s.record(Entry::to(steps, MoveReason::Jump, Moment(1)));
    s.press("S");
    s.press("_");
    assert_eq!(
        s.said,
        "This bead is sewn: it keeps its colour, in all 6 panels."
    );
    assert_eq!(s.seq.layout().colour_of(s.face.at.unwrap()), Colour(2));
}

#[test]
fn no_step_moves_when_colours_change() {
    let mut s = lantern();
    let before: Vec<_> = s.seq.iter().collect();
    brush_at(&mut s, 8, 0, 1);
    s.press("N");
    s.press("_");
    assert!(s.seq.iter().eq(before));
}

#[test]
fn what_is_painted_comes_back_with_the_piece() {
    let dir = tempfile::tempdir().unwrap();
    let tray = crate::progress::Tray::open(dir.path());
    let pattern = || pattern::read("lantern", LANTERN).unwrap().project;
    let seq = Sequence::new(pattern());
    let piece = tray.begin("Lantern", LANTERN, None, seq.steps(), Moment(1));
    let mut s = Sitting::of(Session::new(seq, piece.unwrap(), LOOK, Moment(1)));
    s.press("_");
    brush_at(&mut s, 6, 1, 2);
    s.press("F");
    s.press("_");
    assert_eq!(letter(&s, 6, 1, 2), 'F');
    // Killed: the piece is never closed.
    std::mem::forget(s);
    let look = crate::progress::Mode::Look;
    let mut again = tray.open_piece("lantern", look, Moment(2)).unwrap();
    let seq = again.resume(pattern(), &[]);
    let mut s = Sitting::of(Session::new(seq, again, LOOK, Moment(2)));
    s.press("_");
    brush_at(&mut s, 6, 1, 2);
    assert_eq!(letter(&s, 6, 1, 2), 'F');
    assert!(s.face.brush.unsaved, "no file says so");
}

/// The file from which a piece was begun has changed since, as it does when the
/// paint is written to it.
#[test]
fn the_card_says_that_what_is_painted_stays_with_the_piece() {
    for is_painted in [false, true] {
        let mut s = lantern();
        if is_painted {
            brush_at(&mut s, 6, 1, 2);
            s.press("F");
            s.press("_");
        }
        s.session.source_changed = true;
        let text = Sitting::of(s.session).shown(140, 40);
        assert!(text.contains("the piece keeps to its own copy"), "{text}");
        let keeps_paint = text.contains("its own copy, with what you painted on it.");
        assert_eq!(keeps_paint, is_painted, "{text}");
    }
}

/// All that is said of the screen that is open.
fn told(s: &Sitting) -> String {
    s.stack.spoken(&s.session).join(" ")
}

/// Writes to a name, pressing Enter this many times.
fn write(s: &mut Sitting, name: &str, times: usize) {
    s.press("w");
    assert_eq!(s.open(), "Writing what is painted", "{}", s.said);
    s.press(&"<".repeat(300));
    for c in name.chars() {
        s.key(KeyCode::Char(c));
    }
    s.press(&"!".repeat(times));
}

#[test]
fn what_is_painted_is_written_to_a_file_that_can_be_sewn() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("lantern.json");
    let name = file.to_str().unwrap().to_string();
    let mut s = lantern();
    brush_at(&mut s, 5, 0, 1);
    s.press("w");
    assert_eq!(s.said, "Nothing is painted that the pattern does not have.");
    s.press("N");
    s.press("_");
    write(&mut s, &name, 1);
    assert_eq!(s.said, format!("Written to {name}."));
    assert_eq!(s.open(), "Colouring on the whole face");
    assert!(!s.face.brush.unsaved);
    let read = pattern::load(&file).unwrap().project;
    let kind = s.seq.layout().kind(Panel(0));
    let spelt = |colours: &Colours| colours.spelt(kind, Round(5));
    assert_eq!(
        spelt(&read.panels[0].colours),
        spelt(&s.seq.goal().colours[0])
    );
    // The maker is asked about another file with that name.
    s.press("F");
    s.press("_");
    write(&mut s, &name, 1);
    let told = told(&s);
    assert!(told.contains("is there already"), "{told}");
    s.press("!");
    assert_eq!(s.said, format!("Written to {name}."));
    assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 1);
}

#[test]
fn what_cannot_be_written_is_said_and_nothing_is_lost() {
    let dir = tempfile::tempdir().unwrap();
    let other = dir.path().join("other.json");
    std::fs::write(
        &other,
        include_bytes!("../../../patterns/flat-hexagon.json"),
    )
    .unwrap();
    let before = std::fs::read(&other).unwrap();
    let mut s = lantern();
    brush_at(&mut s, 5, 0, 1);
    s.press("N");
    s.press("_");
    let gone = dir.path().join("gone/star.json");
    for (path, times) in [(&other, 2), (&gone, 1), (&dir.path().to_path_buf(), 2)] {
        write(&mut s, path.to_str().unwrap(), times);
        let told = told(&s);
        let refused = told.matches("Not written, and nothing is lost: ");
        assert_eq!(refused.count(), 1, "{told}");
        assert!(s.face.brush.unsaved);
        s.press("^");
        assert_eq!(s.open(), "Colouring on the whole face");
    }
    assert_eq!(std::fs::read(&other).unwrap(), before);
    assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 1);
    assert_eq!(letter(&s, 5, 0, 1), 'N');
}

#[test]
fn a_click_paints_with_the_brush_and_only_with_it() {
    let mut s = lantern();
    s.press("f");
    s.touch(Input::Click(40, 8));
    assert_eq!(s.piece.state().record.amendments().count(), 0);
    s.press("c");
    s.press("F");
    s.touch(Input::Click(40, 8));
    assert_eq!(s.piece.state().record.amendments().count(), 1);
    assert_eq!(s.face.brush.made.len(), 1);
    // Dragging over the same bead again does not paint it again; other beads
    // are painted once each.
    s.touch(Input::Drag(40, 8));
    assert_eq!(s.face.brush.made.len(), 1);
    for column in 40..50 {
        s.touch(Input::Drag(column, 8));
    }
    let made = s.face.brush.made.len();
    assert!((3..=6).contains(&made), "{made}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// The counts follow the strokes; checked by counting all beads again.
    #[test]
    fn counts_follow_every_stroke(
        keys in proptest::collection::vec((0u32..500, 0usize..8), 1..40),
        shape in 0usize..4
    ) {
        let seq = match shape {
            0 => proof::tetrahedron(4, Closing::Fill, 2),
            1 => proof::folded_pair(4, 1),
            2 => proof::panel(4, 6),
            _ => proof::inward(6, 6, 2),
        };
        let mut s = session(seq, b"{}");
        let rounds = s.seq.layout().kind(Panel(0)).rounds();
        brush_at(&mut s, 5.min(rounds), 0, 0);
        let beads = s.seq.layout().beads();
        for (bead, key) in keys {
            let seat = s.seq.layout().seat(Bead(1 + bead % beads));
            s.face.panel = seat.panel;
            s.face.at = Some(seat);
            s.press(["_", "_", "_", "u", "y", "c", "s", "e"][key]);
            let judged = materials::count(s.seq.layout());
            let tally: Vec<u32> = s.face.brush.tally().unwrap().iter().map(|(n, _)| *n).collect();
            prop_assert_eq!(tally, judged);
            // The journal agrees.
            let project = s.seq.layout().project().clone();
            let again = s.session.piece.resume(project, &[]);
            prop_assert_eq!(again.goal(), s.seq.goal());
        }
    }
}

/// What is painted shows on the solid at once, from near and from far away, and
/// the solid leads back to the face from which it was opened.
#[test]
fn a_panel_is_tried_on_the_solid_in_the_colours_it_was_painted() {
    let mut s = lantern();
    brush_at(&mut s, 5, 0, 1);
    let seen = |s: &Sitting| {
        let (layout, room) = (s.seq.layout(), &s.solid.as_ref().unwrap().view);
        let at = (4.5 / 8.5, 0.5);
        let near = layout.bead_at(Panel(0), 0, at.0, at.1).unwrap();
        let afar = room.face_colours.average(layout, Panel(0), 0, at, 9.0);
        (layout.colour_of(near.seat), afar)
    };
    s.press("v");
    assert_eq!(s.open(), "The whole solid");
    let before = seen(&s);
    s.press("^");
    assert_eq!(s.open(), "Colouring on the whole face");
    s.press("A");
    while s.face.brush.reach != Symmetry::Round {
        s.press("s");
    }
    s.press("_");
    s.press("v");
    let after = seen(&s);
    assert_ne!(before.0, after.0);
    assert_ne!(before.1, after.1);
}
