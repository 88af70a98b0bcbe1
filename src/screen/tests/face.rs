//! The whole face, drawn.

use super::*;
use crate::beadwork::project::Closing;
use crate::beadwork::testing;
use crate::screen::layer::Context as _;
use crate::screen::look::Depth;
use ratatui::style::Modifier;

fn face(keys: &str, seq: Sequence, done: usize) -> Sitting {
    let mut session = at(seq, done);
    session.press("f");
    session.wait();
    session.shown(80, 24);
    session.press(keys);
    session.wait();
    session
}

#[test]
fn the_whole_of_a_triangle() {
    let mut session = face("", proof::panel(3, 6), 30);
    insta::assert_snapshot!(session.shown(80, 24));
}

#[test]
fn a_few_large_beads_with_the_way_of_the_thread() {
    let mut session = face("+++t", proof::panel(3, 6), 30);
    insta::assert_snapshot!(session.shown(80, 24));
}

#[test]
fn a_hexagon_seen_whole_with_its_words_beside_it() {
    let mut session = face("", proof::panel(6, 9), 60);
    insta::assert_snapshot!(session.shown(120, 30));
}

/// Every bead of the panel is in the window that shows it whole, and beads in
/// place and to come differ even without colour.
#[test]
fn in_place_and_to_come_differ_without_colour() {
    let mut session = face("", proof::panel(3, 6), 30);
    assert_eq!(session.look().depth, Depth::None);
    let area = Rect::new(0, 0, 80, 24);
    let mut buf = Buffer::empty(area);
    session.draw(area, &mut buf);
    let letters = buf.content.iter().filter(|c| "NPR".contains(c.symbol()));
    let (solid, faint): (Vec<_>, Vec<_>) =
        letters.partition(|c| c.modifier.contains(Modifier::REVERSED));
    assert!(
        solid.len() > 40 && faint.len() > 40,
        "{} {}",
        solid.len(),
        faint.len()
    );
    assert!(
        faint
            .iter()
            .filter(|c| c.modifier.contains(Modifier::DIM))
            .count()
            > 40
    );
}

/// The left hand sees the mirror image of the same cells.
#[test]
fn the_left_hand_sees_the_face_in_a_mirror() {
    let mut session = face("", proof::panel(6, 8), 40);
    let picture = |session: &mut Sitting| {
        let text = session.shown(80, 24);
        let rows = text.lines().skip(4).take(14);
        rows.map(str::to_string).collect::<Vec<_>>()
    };
    let right = picture(&mut session);
    session.press("^");
    session.press("l");
    session.press("f");
    let left = picture(&mut session);
    let letters = |c: char| c.is_ascii_uppercase();
    let mut same = 0;
    for (a, b) in right.iter().zip(&left) {
        let a: Vec<char> = format!("{a:80}").chars().collect();
        let b: Vec<char> = format!("{b:80}").chars().rev().collect();
        let both = a
            .iter()
            .zip(&b)
            .filter(|(a, b)| letters(**a) && letters(**b));
        for (a, b) in both {
            assert_eq!(a, b, "{right:?}\n{left:?}");
            same += 1;
        }
    }
    assert!(same > 200, "{same}");
}

/// What is said about the bead pointed at agrees with the layout, wherever a
/// click goes.
#[test]
fn a_click_points_at_the_bead_that_is_drawn_there() {
    let mut session = face("", proof::tetrahedron(5, Closing::SetIn, 1), 20);
    let mut hit = 0;
    for y in 4..18 {
        for x in 0..80 {
            let before = session.face.at;
            session.touch(Input::Click(x, y));
            let Some(seat) = session.face.at else {
                continue;
            };
            if Some(seat) == before {
                continue;
            }
            hit += 1;
            let layout = session.seq.layout();
            let bead = session.seq.layout().bead_in(seat);
            assert_eq!(layout.seat(bead), seat);
        }
    }
    assert!(hit > 40, "{hit}");
}

/// Pointing from bead to bead reaches every bead of the panel.
#[test]
fn keys_lead_to_every_bead() {
    let seq = proof::inward(6, 6, 2);
    let beads = seq.layout().beads() as usize;
    let mut session = face("", seq, 3);
    let mut seen = std::collections::HashSet::new();
    let mut todo = vec![session.face.at.expect("a bead")];
    while let Some(seat) = todo.pop() {
        if !seen.insert(
            session
                .seq
                .layout()
                .bead(seat.panel, seat.round, seat.index),
        ) {
            continue;
        }
        for way in ["←", "→", "↑", "↓"] {
            session.face.at = Some(seat);
            session.press(way);
            todo.extend(session.face.at);
        }
    }
    assert_eq!(seen.len(), beads);
}

/// A jump from the face goes to where the bead is strung, and back.
#[test]
fn the_bead_pointed_at_can_be_gone_to_and_back() {
    let mut session = face("", proof::panel(3, 6), 30);
    session.key(KeyCode::BackTab);
    let bead = session
        .face
        .at
        .map(|s| session.seq.layout().bead(s.panel, s.round, s.index));
    session.press("!");
    assert_eq!(session.open(), "Stitching");
    let movement = session.movement().expect("a movement");
    assert!(movement.strings.contains(&bead.expect("a bead")));
    session.press("b");
    assert_eq!(session.done().0, 30);
}

/// When zoomed in, panning reaches the whole panel, and goes no further.
#[test]
fn panning_stays_at_the_panel() {
    let mut session = face("++++", proof::panel(4, 9), 12);
    for way in ["←", "↑", "→", "↓"] {
        for _ in 0..40 {
            session.press(way);
            let text = session.shown(80, 24);
            let drawn = text.lines().skip(3).take(14);
            let ink = drawn.flat_map(str::chars).filter(|c| *c != ' ').count();
            assert!(ink > 20, "{text}");
        }
    }
}

/// Painted a round on every side, with its counts.
fn painted() -> Sitting {
    let mut session = face("cRss_", proof::tetrahedron(5, Closing::SetIn, 1), 30);
    assert!(
        session.said.contains("alike in 3 panels"),
        "{}",
        session.said
    );
    session.said.clear();
    session
}

#[test]
fn a_panel_that_is_painted_with_its_counts_below() {
    insta::assert_snapshot!(painted().shown(80, 24));
}

#[test]
fn a_panel_that_is_painted_with_its_counts_beside() {
    insta::assert_snapshot!(painted().shown(120, 30));
}

/// The current colour and what it paints are shown in any window in which the
/// program draws pictures.
#[test]
fn the_current_colour_is_shown_at_every_size() {
    let mut session = painted();
    for (wide, high) in [(40, 12), (60, 16), (80, 24), (120, 40), (300, 100)] {
        let text = session.shown(wide, high);
        assert!(text.contains("In hand  R "), "{text}");
        assert!(text.contains("every side"), "{text}");
    }
}

#[test]
fn the_face_has_its_own_help_which_leads_back_to_it() {
    let mut session = painted();
    session.press("?");
    assert!(session.shown(80, 24).contains("Space paints the bead"));
    session.press("^");
    assert_eq!(session.open(), "Colouring on the whole face");
    session.press("^?");
    assert!(
        session
            .shown(80, 24)
            .contains("The whole face shows a panel")
    );
    session.press("^^?");
    assert!(
        !session
            .shown(80, 24)
            .contains("The whole face shows a panel")
    );
}

#[test]
fn holes_are_a_map_with_signs_that_is_explained_and_put_away() {
    let mut project = testing::single(testing::panel(3, 6));
    project.thread.diameter_mm = 0.3;
    let mut s = sit(Sequence::new(project));
    s.press(&"_".repeat(60));
    s.press("f");
    s.wait();
    let before = s.shown(80, 24);
    s.press("h");
    let map = s.shown(80, 24);
    assert!(
        map.contains("1 one more pass") && map.contains("X full"),
        "{map}"
    );
    assert!(map.contains("Holes of "), "{map}");
    s.press("+++");
    let large = s.shown(120, 40);
    assert!(large.contains(" t ") || large.contains(" X "), "{large}");
    s.press("0h");
    assert_eq!(
        s.shown(80, 24)
            .replace("The beads have their own colours again.", ""),
        before
    );
}
