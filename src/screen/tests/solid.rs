//! The whole solid: every shape, every shipped pattern, every size.

use super::*;
use crate::beadwork::project::Closing;
use crate::pattern;
use crate::plan::draft::{DraftOptions, DraftShape, Measure, draft};
use crate::progress::{Entry, Setting, Value};
use crate::screen::layer::Busy;
use crate::screen::look::Depth;

/// All shipped patterns and all shapes that can be drafted.
fn all() -> Vec<(String, Sequence)> {
    let dir = concat!(env!("CARGO_MANIFEST_DIR"), "/patterns");
    let mut out = vec![];
    for entry in std::fs::read_dir(dir).expect("the patterns") {
        let path = entry.expect("a file").path();
        let name = path.display().to_string();
        let bytes = std::fs::read(&path).expect("a pattern");
        let read = pattern::read(&name, &bytes).expect("it loads");
        out.push((name, Sequence::new(read.project)));
    }
    for (name, shape) in DraftShape::ALL {
        for tetrahedra in [8, 6, 14] {
            if tetrahedra != 8 && shape != DraftShape::Ring {
                continue;
            }
            let ask = DraftOptions {
                tetrahedra,
                ..DraftOptions::new(shape)
            };
            let made = draft(&ask).expect("a draft");
            let seq = Sequence::new(made.pattern.project);
            out.push((format!("{name} {tetrahedra}"), seq));
        }
    }
    out
}

fn moves(session: &mut Sitting) -> bool {
    session.stack.tick(&mut session.session) == Busy::Moving
}

/// Presses v at a step.
fn looked(session: &mut Sitting, step: u32) {
    session.go_to(step);
    session.press("v");
    assert_eq!(session.open(), "The whole solid");
}

/// A face in work is visible as soon as the solid is opened, in every job of
/// every piece; its name and state are on the screen.
#[test]
fn the_current_work_is_visible_and_named_in_every_job() {
    for (name, seq) in all() {
        let jobs: Vec<u32> = seq.jobs().iter().map(|j| j.steps_before + 1).collect();
        let every = jobs.len().div_ceil(12);
        let mut session = sit(seq);
        for &step in jobs.iter().step_by(every) {
            looked(&mut session, step);
            let text = session.shown(80, 24);
            assert!(text.contains("Now: "), "{name} {step}\n{text}");
            assert!(!text.contains("out of sight"), "{name} {step}\n{text}");
        }
    }
}

#[test]
fn every_piece_is_drawn_folded_and_flat_at_every_size_and_depth() {
    let looks = [
        (Depth::True, true),
        (Depth::Sixteen, false),
        (Depth::None, true),
    ];
    let sizes = [(80, 24), (40, 12), (120, 40), (41, 13), (7, 3), (1, 1)];
    for (nth, (name, seq)) in all().into_iter().enumerate() {
        for (at, (depth, unicode)) in looks.into_iter().enumerate() {
            let mut session = sit_with(
                seq.clone(),
                Look {
                    depth,
                    unicode,
                    ..LOOK
                },
            );
            looked(&mut session, seq.steps() / 2);
            // Every piece at every size, and every look at every size.
            for (wide, high) in sizes.into_iter().skip((at + nth) % 3).step_by(3) {
                for key in ["n", "s", ","] {
                    session.press(key);
                    while moves(&mut session) {
                        session.stack.top_mut().frame(&mut session.session);
                    }
                    let text = session.shown(wide, high);
                    let drawn = text.chars().filter(|c| !c.is_whitespace()).count();
                    assert!(drawn > 0, "{name} {wide}x{high}");
                }
            }
        }
    }
}

/// All sides of the net that will meet have their letter: of a cube's 12 joins
/// 5 stay whole in a flat net (any handbook), so 7 letters appear twice.
#[test]
fn sides_that_will_meet_have_the_same_letter() {
    let ask = DraftOptions::new(DraftShape::Cube);
    let made = draft(&ask).expect("a draft");
    let mut session = sit(Sequence::new(made.pattern.project));
    looked(&mut session, 1);
    session.press("n");
    while moves(&mut session) {
        session.stack.top_mut().frame(&mut session.session);
    }
    let text = session.shown(160, 60);
    let picture: String = text.lines().skip(1).take(54).collect();
    let letters = |c: char| {
        let alone = picture.split(|d: char| !d.is_alphanumeric() && d != '+' && d != '-');
        alone.filter(|word| *word == c.to_string()).count()
    };
    let twice = ('a'..='l').filter(|c| letters(*c) == 2).count();
    let once = ('a'..='l').filter(|c| letters(*c) == 1).count();
    assert_eq!((twice, once), (7, 0), "{text}");
}

#[test]
fn a_ring_of_six_binds_and_says_so_one_of_eight_turns_right_through() {
    for (tetrahedra, rounds, turns) in [(6, 12, false), (6, 8, true), (8, 5, true)] {
        let ask = DraftOptions {
            tetrahedra,
            measure: Some(Measure::Rounds(rounds)),
            ..DraftOptions::new(DraftShape::Ring)
        };
        let made = draft(&ask).expect("a draft");
        let mut session = sit(Sequence::new(made.pattern.project));
        looked(&mut session, 1);
        session.press("_");
        let mut frames = 0;
        while moves(&mut session) && frames < 500 {
            session.stack.top_mut().frame(&mut session.session);
            frames += 1;
        }
        assert_eq!(moves(&mut session), turns);
        let text = session.shown(80, 24);
        assert_eq!(!text.contains("The ring binds here"), turns, "{text}");
    }
}

/// The net that is still flat on the mat is shown flat; at the tie it is
/// folded, frame by frame, and then it is the folded pair.
#[test]
fn the_corner_tie_folds_the_net() {
    use crate::beadwork::job::JobKind;
    let mut session = sit(proof::folded_pair(5, 1));
    let is_tie = |j: &&crate::beadwork::job::JobInfo| matches!(j.kind, JobKind::Tie(..));
    let tie = session.seq.jobs().iter().find(is_tie).expect("a tie");
    let (before, at) = (tie.steps_before, tie.steps_before + 1);
    let behind = at + tie.steps;
    looked(&mut session, before);
    assert!(!moves(&mut session));
    assert!(session.shown(80, 24).contains("folded 0 %"));
    looked(&mut session, at);
    let mut frames = 0;
    while moves(&mut session) {
        session.stack.top_mut().frame(&mut session.session);
        frames += 1;
    }
    assert!((6..=30).contains(&frames), "{frames}");
    assert!(!session.shown(80, 24).contains("folded"));
    looked(&mut session, behind);
    assert!(!moves(&mut session));
}

/// A mirrored picture is the mirror image of the picture.
#[test]
fn the_left_hand_sees_the_mirror() {
    let mut session = sit(proof::tetrahedron(6, Closing::SetIn, 0));
    let mut colours = |left: bool| {
        let hand = Value::Flag(left);
        let _ = session
            .piece
            .record(Entry::set(Setting::LEFT_HANDED, hand, Moment(0)));
        looked(&mut session, 1);
        session.press("s");
        let area = Rect::new(0, 0, 80, 24);
        let mut buf = Buffer::empty(area);
        session.draw(area, &mut buf);
        session.press("s");
        let row = |y: u16| (0..80).map(move |x| (x, y));
        let filled =
            |(x, y)| buf[(x, y)].symbol() != " " || buf[(x, y)].bg != ratatui::style::Color::Reset;
        (2..21)
            .map(|y| row(y).map(filled).collect::<Vec<bool>>())
            .collect::<Vec<_>>()
    };
    let (right, mut left) = (colours(false), colours(true));
    left.iter_mut().for_each(|row| row.reverse());
    assert_eq!(right, left);
}

#[test]
fn the_page_of_the_signs_is_there_and_scrolls_in_the_least_size() {
    let mut session = sit(proof::tetrahedron(5, Closing::SetIn, 0));
    looked(&mut session, 1);
    session.press("?");
    let text = session.shown(80, 40);
    assert!(text.contains("a meets a, b meets b"), "{text}");
    assert!(session.shown(40, 12).contains("more below"));
    session.press(&"↓".repeat(200));
    assert!(!session.shown(40, 12).contains("more below"));
    session.press("^");
    assert!(session.shown(80, 24).contains("Now: "));
    session.press("^");
    assert_eq!(session.open(), "Stitching");
}

/// Step by step up to the fold of a pair, and of a net of a ring: both corners,
/// the line between them, and the result.
#[test]
fn a_fold_shows_the_work_flat_with_its_line_and_folded() {
    for project in [
        crate::beadwork::testing::folded_pair(4, 2),
        crate::beadwork::testing::ring_of_nets(6, 4, 1),
    ] {
        let seq = Sequence::new(project);
        let folds = seq.iter().filter(|m| {
            let is_tie = matches!(seq.job(m.job).kind, crate::beadwork::job::JobKind::Tie(..));
            is_tie && m.kind == crate::beadwork::Kind::Fold && m.passes.is_empty()
        });
        let steps: Vec<u32> = folds.map(|m| m.step.0).collect();
        assert!([1, 3].contains(&steps.len()));
        let mut s = at(seq, 0);
        for step in steps {
            s.go_to(step);
            for (width, height) in [(80, 24), (120, 40)] {
                let text = s.shown(width, height);
                assert!(
                    text.contains("before: fold along the dotted line"),
                    "{text}"
                );
                assert!(text.contains("after: both corners meet"), "{text}");
                // In the heading, and at both corners.
                assert_eq!(text.matches("tie").count(), 3, "{text}");
                assert!(text.matches('•').count() >= 3, "{text}");
            }
            // Where there is no room, the beads are shown as usual.
            assert!(!s.shown(40, 12).contains("before:"));
            s.press("_");
            assert!(!s.shown(80, 24).contains("before:"));
        }
    }
}
