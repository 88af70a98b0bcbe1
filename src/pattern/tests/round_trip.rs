//! Patterns that load: the project made from a file, and the file written
//! again.

use serde_json::Value;

use super::{LANTERN, file, lantern, loaded, making};
use crate::beadwork::bead::{Colour, Rgb, preset};
use crate::beadwork::corner_law::CornerLaw;
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::job::{JobKind, SideFit, SideJoin};
use crate::beadwork::number::{Panel, Round, Side};
use crate::beadwork::project::{Closing, Growth, Make, Solid, WorkDirection};
use crate::beadwork::seams::Direction;
use crate::pattern::{read, write};

#[test]
fn a_pattern_becomes_a_project() {
    let pattern = loaded(LANTERN);
    assert_eq!(pattern.title, "Harbour lantern");
    let project = pattern.project;
    assert_eq!(project.beads[1].letter, 'A');
    assert_eq!(project.beads[1].colour, Rgb(0xd9, 0x8a, 0x24));
    assert_eq!(project.beads[0].size, preset("cylinder 11/0").unwrap());
    assert_eq!(project.thread.diameter_mm, 0.15);
    assert_eq!(project.thread.cut_mm, 1500.0);
    assert_eq!(project.needle.diameter_mm, 0.36);
    let [face, window] = &project.panels[..] else {
        panic!("two panels");
    };
    assert_eq!(face.growth, Growth::Law(CornerLaw::usual(3)));
    assert_eq!((face.way, face.open), (WorkDirection::Outward, 0));
    assert_eq!((window.way, window.open), (WorkDirection::Inward, 2));
    assert_eq!(window.colours.at(Round(8), Side(0), 0, 8), Colour(1));
    assert_eq!(project.make, Make::Single(0));
}

#[test]
fn measures_override_those_of_a_name() {
    let text = lantern(
        r##""size": "cylinder 11/0", "colour": "#d98a24""##,
        r##""size": {"name": "cylinder 8/0", "hole_mm": 1.2}, "colour": "#D98A24""##,
    )
    .replace(
        "\"braided 0.15\"",
        r#"{"name": "braided 0.15", "cut_mm": 2000}"#,
    )
    .replace("\"needle\": 12", r#""needle": {"diameter_mm": 0.4}"#);
    let project = loaded(&text).project;
    let size = project.beads[1].size;
    assert_eq!((size.diameter_mm, size.hole_mm), (3.0, 1.2));
    assert_eq!(project.thread.diameter_mm, 0.15);
    assert_eq!(project.thread.cut_mm, 2000.0);
    assert_eq!(project.thread.tail_mm, 150.0);
    assert_eq!(project.needle.diameter_mm, 0.4);
}

#[test]
fn later_lines_of_colours_override_earlier_ones() {
    let text = lantern(
        r#"["all: S*"]"#,
        r#"["all: S*", "2-8 by 3: A*", "8: A S* / S4 | / (A S)*"], "row": "A S* A", "tip": "A""#,
    );
    let face = &loaded(&text).project.panels[0];
    let side = |round, side| -> String {
        (0..round)
            .map(|place| face.colours.at(Round(round), Side(side), place, round))
            .map(|colour| if colour == Colour(0) { 'S' } else { 'A' })
            .collect()
    };
    assert_eq!([side(1, 0), side(2, 1), side(4, 2)], ["S", "AA", "SSSS"]);
    assert_eq!(
        [side(8, 0), side(8, 1), side(8, 2)],
        ["ASSSSSSS", "SSSSSSSS", "ASASASAS"]
    );
    assert_eq!(face.colours.row.sides[0].head, [Colour(1)]);
    assert_eq!(face.colours.tip, Colour(1));
}

/// Outside value: a six-sided piece from a ring of three, rounds 3, 6, 6, 12,
/// 12, 12, 18, 18: J. Riggs, "Circular Peyote Hexagon Stars", 2020.
#[test]
fn a_hexagon_from_a_ring_of_three_by_words_of_its_own() {
    let text = lantern(
        r#""sides": 3, "rounds": 8, "colours": ["all: S*"]"#,
        r#""sides": 6, "rounds": 8, "ring": 3,
            "words": ["2*3", "1*6", "2*6", "1*12", "1*12", "(2 1)*6", "1*18"],
            "colours": ["all: S*"]"#,
    );
    let Growth::Words { ring, words } = &loaded(&text).project.panels[0].growth else {
        panic!("words");
    };
    assert_eq!(*ring, 3);
    let beads: Vec<u32> = words.iter().map(GapWord::beads).collect();
    assert_eq!(beads, [6, 6, 12, 12, 12, 18, 18]);
}

#[test]
fn every_piece_can_be_made() {
    let solid = |text: &str| loaded(&making(text)).project.make;
    assert_eq!(
        solid(r#"{"solid": "octahedron", "faces": ["face", "window"], "tips": 1}"#),
        Make::Solid {
            solid: Solid::Octahedron,
            faces: vec![0, 1],
            closing: Closing::SetIn,
            tips: 1,
        }
    );
    assert_eq!(
        solid(
            r#"{"folded-pair": ["face"], "close": [
                {"with": "face", "how": "set-in"}, {"with": "window", "how": "fill"}]}"#
        ),
        Make::FoldedPair {
            faces: vec![0],
            closings: [(0, Closing::SetIn), (1, Closing::Fill)],
            tips: 0
        }
    );
    assert_eq!(
        solid(
            r#"{"folded-pair": ["window"], "close": [
                {"how": "open"}, {"with": "face", "how": "open"}]}"#
        ),
        Make::FoldedPair {
            faces: vec![1],
            closings: [(1, Closing::Open), (0, Closing::Open)],
            tips: 0
        }
    );
    assert_eq!(
        solid(r#"{"ring": 8, "faces": ["face"], "close": "fill"}"#),
        Make::Ring {
            tetrahedra: 8,
            faces: vec![0],
            closings: vec![Closing::Fill],
            tips: 0
        }
    );
    assert_eq!(
        solid(r#"{"ring": 8, "faces": ["face"], "close": ["set-in", "open"]}"#),
        Make::Ring {
            tetrahedra: 8,
            faces: vec![0],
            closings: vec![Closing::SetIn, Closing::Open],
            tips: 0
        }
    );
    assert_eq!(
        solid(
            r#"{"ring-of-nets": 6, "faces": ["face"], "close": [
                {"how": "open"}, {"with": "window", "how": "fill"}], "tips": 1}"#
        ),
        Make::RingOfNets {
            tetrahedra: 6,
            faces: vec![0],
            closings: vec![(0, Closing::Open), (1, Closing::Fill)],
            tips: 1
        }
    );
}

/// A tetrahedron by hand: first with its last face filled, then with it set in.
pub(super) const BY_HAND: &str = r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1, 2, 3], "tips": 1 },
    { "panel": "face", "as": "right" },
    { "zip": "right", "sides": [{ "side": 1, "onto": "left", "at": 1 }] },
    { "row": "right", "sides": [2, 3] },
    { "panel": "face", "as": "back" },
    { "zip": "back", "sides": [
        { "side": 1, "onto": "left", "at": 2 },
        { "side": 2, "onto": "right", "at": 3 }
    ] },
    { "row": "back", "sides": [3] },
    { "firm": [{ "panel": "left", "side": 3 }, { "panel": "back", "side": 3 },
               { "panel": "right", "side": 2 }] },
    { "fill": "window", "rim": [{ "panel": "left", "side": 3 }, { "panel": "back", "side": 3 },
                                { "panel": "right", "side": 2 }] },
    { "panel": "face", "as": "charm" },
    { "tie": { "panel": "charm", "side": 1 }, "to": { "panel": "window", "side": 2 } }
] }"#;

#[test]
fn jobs_are_read_in_order() {
    let Make::Jobs(list) = loaded(&making(BY_HAND)).project.make else {
        panic!("jobs");
    };
    let jobs = &list.jobs;
    let names: Vec<&str> = list.panels.iter().map(|p| p.name.as_str()).collect();
    assert_eq!((jobs.len(), names[3], names[4]), (12, "window", "charm"));
    let join = SideJoin {
        side: Side(0),
        onto: Panel(0),
        at: Side(0),
        runs: Direction::Against,
        fit: SideFit::Equal,
    };
    assert_eq!(jobs[3], JobKind::Zip(Panel(1), vec![join]));
    let rim = [(0, 2), (2, 2), (1, 1)].map(|(panel, side)| (Panel(panel), Side(side)));
    let fill = JobKind::Fill {
        panel: Panel(3),
        rim: rim.to_vec(),
    };
    assert_eq!(jobs[9], fill);
    let tie = JobKind::Tie((Panel(4), Side(0)), (Panel(3), Side(1)));
    assert_eq!(jobs[11], tie);
}

/// Everything that the format has, in one file.
fn full() -> String {
    making(BY_HAND)
        .replace(
            "\"size\": \"cylinder 11/0\", \"colour\": \"#d98a24\"",
            r##""size": {"name": "round 8/0", "per_gram": 41.5}, "colour": "#d98a24""##,
        )
        .replace(
            "\"braided 0.15\"",
            r#"{"diameter_mm": 0.2, "tail_mm": 100}"#,
        )
        .replace("\"needle\": 12", r#""needle": {"diameter_mm": 0.4}"#)
        .replace("\"title\"", "\"about\": \"two\\nlines\",\n  \"title\"")
        .replace(
            "\"panels\": {",
            r#""panels": {
            "star": {"sides": 6, "rounds": 2, "ring": 3, "words": ["2*3"], "colours": ["all: S*"]},
            "tile": {"sides": 4, "rounds": 2, "corners": [2], "start": "sides",
                     "colours": ["all: S*"], "row": "A*", "tip": "S"},"#,
        )
}

#[test]
fn a_file_written_is_read_as_it_was() {
    for text in [LANTERN.to_string(), making(BY_HAND), full()] {
        let file = file(&text);
        let written = write(&file);
        assert_eq!(self::file(&written), file);
        let same: [Value; 2] = [&text, &written].map(|t| serde_json::from_str(t).unwrap());
        assert_eq!(same[0], same[1]);
        assert_eq!(
            read("x", text.as_bytes()).unwrap(),
            read("x", written.as_bytes()).unwrap()
        );
        assert_eq!(write(&self::file(&written)), written);
    }
}

/// The writer's own layout, pinned: one line for each short thing.
#[test]
fn what_is_written_is_what_a_maker_would_write() {
    assert_eq!(write(&file(LANTERN)), LANTERN);
}

#[test]
fn texts_are_clean_once_read() {
    let text = lantern(
        "\"Harbour lantern\"",
        r#""Harbour\u001b[2J \u202elantern\n", "about": "one\ttab\u0007\ntwo\u009b1m lines""#,
    )
    .replace("sea green", "sea\\u001b]0;x\\u0007 green");
    let pattern = loaded(&text);
    assert_eq!(pattern.title, "Harbour lantern");
    assert_eq!(pattern.about, "one tab\ntwo lines");
    assert_eq!(pattern.project.beads[0].name, "sea green");
}

#[test]
fn a_byte_order_mark_is_ignored() {
    assert_eq!(loaded(&format!("\u{feff}{LANTERN}")), loaded(LANTERN));
}
