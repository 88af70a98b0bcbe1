use super::*;
use crate::beadwork::movement::Kind;
use crate::beadwork::project::{Closing, Solid};
use crate::beadwork::{Bead, Hole, testing};
use crate::words;
use std::collections::BTreeSet;

/// The lessons in the order in which they come up, each with its step.
fn lessons_of(seq: &Sequence) -> Vec<(&'static str, u32)> {
    let mut shown = Shown::default();
    let mut out = vec![];
    for done in 0..=seq.steps() {
        if let Some(lesson) = due(seq, Step(done), &shown) {
            out.push((lesson.name, done + 1));
            shown = shown.with(lesson, Step(done + 1));
        }
    }
    out
}

fn tour_piece() -> Sequence {
    let bytes = include_bytes!("../../patterns/practice-pair.json");
    Sequence::new(
        crate::pattern::read("practice-pair", bytes)
            .unwrap()
            .project,
    )
}

/// On the piece made for the tour, each lesson comes up at the movement it is
/// about.
#[test]
fn the_practice_pair_brings_up_every_lesson_at_its_movement() {
    let seq = tour_piece();
    let taken = lessons_of(&seq);
    let names: Vec<&str> = taken.iter().map(|(name, _)| *name).collect();
    let left_out: Vec<&str> = lessons()
        .iter()
        .map(|l| l.name)
        .filter(|name| !names.contains(name))
        .collect();
    // A flat piece without an opening has no rim and no fold.
    assert_eq!(left_out, ["firm", "fold"]);
    let first = |kind| seq.iter().find(|m| m.kind == kind).unwrap().step.0;
    for (name, kind) in [
        ("thread", Kind::StartThread),
        ("ring", Kind::Ring),
        ("increase", Kind::Increase),
        ("step-up", Kind::StepUp),
        ("gap", Kind::Stitch),
        ("edge", Kind::Count),
        ("pass-through", Kind::PassThrough),
        ("thread-ends", Kind::EndThread),
        ("decrease", Kind::Decrease),
        ("close", Kind::Close),
        ("zip", Kind::Zip),
    ] {
        let at = taken.iter().find(|(n, _)| *n == name).unwrap().1;
        assert_eq!(at, first(kind), "{name}");
    }
    assert_eq!(taken.last().unwrap(), &("finished", seq.steps() + 1));
}

/// Closing the ring goes through the first bead the way it was strung: in where
/// the tail hangs, out at the other end.
#[test]
fn the_thread_of_a_closed_ring_comes_out_away_from_the_tail() {
    let seq = tour_piece();
    let mut ring = seq.iter().filter(|m| m.kind == Kind::Ring);
    let closed = ring.find(|m| m.strings.is_empty()).unwrap();
    assert_eq!(closed.passes[..], [Bead(1)]);
    assert_eq!(
        seq.work_at(closed.step).needle(),
        Some(Hole::front(Bead(1)))
    );
    let lesson = due(&seq, Step(closed.step.0 - 1), &Shown::default()).unwrap();
    assert_eq!(lesson.name, "ring-closed");
    assert!(lesson.look.ends_with("the tail is at its other end."));
}

#[test]
fn the_practice_triangle_teaches_round_gap_increase_and_step_up() {
    let seq = Sequence::new(testing::single(testing::panel(3, 6)));
    let names: Vec<&str> = lessons_of(&seq).into_iter().map(|(name, _)| name).collect();
    let wanted = [
        "thread",
        "ring",
        "ring-closed",
        "increase",
        "step-up",
        "count",
        "gap",
        "edge",
        "thread-ends",
        "finished",
    ];
    assert_eq!(names, wanted);
}

#[test]
fn other_pieces_have_the_lessons_of_their_movements() {
    let seq = Sequence::new(testing::single(testing::inward(3, 6, 2)));
    assert!(lessons_of(&seq).iter().any(|(name, _)| *name == "firm"));
    let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 4, Closing::SetIn));
    assert!(lessons_of(&seq).iter().any(|(name, _)| *name == "fold"));
}

#[test]
fn a_lesson_is_there_again_at_its_step_and_nowhere_else() {
    let seq = tour_piece();
    let up = lessons().iter().find(|l| l.name == "step-up").unwrap();
    let shown = Shown::default().with(up, Step(9));
    assert_eq!(due(&seq, Step(8), &shown), Some(up));
    assert_ne!(due(&seq, Step(15), &shown), Some(up));
    // A jump past the lesson's first movement: it comes up at the next one.
    let skipped = due(&seq, Step(15), &Shown::default()).unwrap();
    assert_eq!(skipped.name, "step-up");
}

#[test]
fn lessons_saved_by_another_version_are_kept() {
    let words = vec!["loom@3", "step-up", "gap@x", "zip@47"];
    let shown = Shown::from_words(words.clone());
    assert_eq!(shown.at(Step(3)), None);
    assert_eq!(shown.count(), 1);
    assert_eq!(shown.words(), words);
}

/// The names are saved in journals.
#[test]
fn names_are_unique_and_contain_no_special_characters() {
    let names: BTreeSet<_> = lessons().iter().map(|l| l.name).collect();
    assert_eq!(names.len(), lessons().len());
    for name in names {
        assert!(name.chars().all(|c| c.is_ascii_lowercase() || c == '-'));
    }
}

/// A lesson uses only trade words that it or an earlier lesson explains.
#[test]
fn no_word_is_used_before_it_is_explained() {
    // Words that a beginner knows, or that the first card explains.
    let mut explained: BTreeSet<&str> = [
        "bead",
        "thread",
        "needle",
        "count",
        "step",
        "piece",
        "tray",
        "panel",
        "corner",
        "stitch",
        "join",
        "close",
        "flat",
        "tetrahedron",
        "pass",
        "cups",
        "side",
        "tight",
        "sew through",
    ]
    .into();
    let mut early = vec![];
    for lesson in lessons() {
        explained.extend(lesson.words);
        for text in [lesson.hands, lesson.look, lesson.wrong, lesson.title] {
            let text = READERS[0].text(text);
            let words = words::found(&text).into_iter().map(|w| w.word);
            let unexplained = words.filter(|w| !explained.contains(w));
            early.extend(unexplained.map(|w| format!("{}: {w}", lesson.name)));
        }
    }
    assert_eq!(early, Vec::<String>::new());
}

#[test]
fn lessons_are_short_and_name_known_words() {
    for lesson in lessons() {
        // One line beside the picture at 80 columns.
        assert!(lesson.title.len() <= 23, "{}", lesson.title);
        for reader in READERS {
            let long = |text| reader.text(text).len();
            assert!(long(lesson.hands) <= 200, "{}", lesson.name);
            // One line of 80 letters each.
            assert!(long(lesson.look) <= 72, "{}", lesson.name);
            assert!(long(lesson.wrong) <= 69, "{}", lesson.name);
        }
        for word in lesson.words {
            let known = words::all().any(|w| w.word == *word);
            assert!(known, "{}: {word}", lesson.name);
        }
        let drawn = words::named(lesson.words[0]).unwrap();
        assert!(!drawn.drawing.is_empty(), "{}", lesson.name);
    }
}

const READERS: [Reader; 4] = [
    Reader {
        left_handed: false,
        plain: false,
    },
    Reader {
        left_handed: true,
        plain: false,
    },
    Reader {
        left_handed: false,
        plain: true,
    },
    Reader {
        left_handed: true,
        plain: true,
    },
];

/// Directions follow the maker's hand, and a reader without a picture is not
/// told to look at one.
#[test]
fn every_text_is_right_for_its_reader() {
    let mut directions = 0;
    for lesson in lessons() {
        for text in [lesson.hands, lesson.look, lesson.wrong] {
            let texts = READERS.map(|reader| reader.text(text));
            let onward = text.contains("{onward}");
            directions += usize::from(onward);
            for (text, reader) in texts.iter().zip(READERS) {
                assert_eq!(text.contains("to the left"), onward && !reader.left_handed);
                assert_eq!(text.contains("to the right"), onward && reader.left_handed);
                assert!(!text.contains(['{', '}']), "{text}");
                assert!(!text.contains("  ") && !text.ends_with(' '), "{text}");
                let shown = [
                    "picture",
                    "frame",
                    "marked",
                    "bar below",
                    "space",
                    "Backspace",
                ];
                let shown = shown.iter().find(|word| text.contains(**word));
                assert!(!reader.plain || shown.is_none(), "{text}");
            }
        }
    }
    assert!(directions > 0);
}
