//! Colours that were painted, written into a pattern's text and read again.

use proptest::prelude::*;

use crate::beadwork::bead::Colour;
use crate::beadwork::number::{Round, Side};
use crate::beadwork::paint::{PaintedPart, Symmetry, reached};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::{Panel, Project, Sequence};
use crate::pattern::colour_write;
use crate::pattern::paint::{NotPainted, letters, painted, rewritten, round_colours, words};
use crate::pattern::read;

const LANTERN: &[u8] = include_bytes!("../../../patterns/harbour-lantern.json");

fn lantern() -> Project {
    read::read("lantern", LANTERN).unwrap().project
}

/// Paints a bead and what goes with it.
fn paint(
    project: &mut Project,
    spec: usize,
    part: PaintedPart,
    bead: (Side, u32),
    reach: Symmetry,
    c: u8,
) {
    let layout = PanelLayout::new(&project.panels[spec]);
    let PaintedPart::Round(round) = part else {
        return;
    };
    let mut sides = project.panels[spec].colours.spelt(&layout, round);
    for (side, place) in reached(&layout, round, bead, reach, Side(0)) {
        sides[side.index()][place as usize] = Colour(c);
    }
    let text = colour_write::sides(&sides, &letters(&project.beads).0);
    let round_colours = round_colours(&project.beads, &layout, part, &text).unwrap();
    project.panels[spec].colours.set(round_colours);
}

#[test]
fn what_was_painted_is_in_the_file_and_nothing_else_changes() {
    let mut project = lantern();
    let round = |k| PaintedPart::Round(Round(k));
    paint(
        &mut project,
        0,
        round(4),
        (Side(0), 1),
        Symmetry::SidesMirror,
        1,
    );
    paint(&mut project, 0, round(7), (Side(1), 3), Symmetry::Bead, 3);
    let parts = [(0, round(4)), (0, round(7))];
    let new = rewritten("lantern", LANTERN, &project, &parts).unwrap();
    let (old, new) = (
        std::str::from_utf8(LANTERN).unwrap(),
        String::from_utf8(new).unwrap(),
    );
    let added = "\"8: A (S F)* mirror\", \"4: S A2 S\", \"7: A S* A / A S2 F S2 A / A S* A\" ]";
    let flat: String = new.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains(added), "{new}");
    // All lines except that one are unchanged.
    let differs = |line: &&str| !new.contains(*line);
    let gone: Vec<&str> = old.lines().filter(differs).collect();
    assert_eq!(gone.len(), 1, "{gone:?}");
    assert!(gone[0].contains("colours"));
}

#[test]
fn lines_that_say_nothing_any_more_go_and_like_rounds_share_one() {
    let mut project = lantern();
    let mut text = LANTERN.to_vec();
    for (step, rounds) in [vec![4], vec![5, 6], vec![4, 5, 6]].into_iter().enumerate() {
        let all: Vec<_> = (4..=6).map(|k| (0, PaintedPart::Round(Round(k)))).collect();
        for k in rounds {
            let colour = if step < 2 { 1 } else { 3 };
            paint(
                &mut project,
                0,
                PaintedPart::Round(Round(k)),
                (Side(0), 0),
                Symmetry::Round,
                colour,
            );
        }
        text = rewritten("lantern", &text, &project, &all).unwrap();
    }
    let text = String::from_utf8(text).unwrap();
    let wall = "[\"all: S*\", \"1-3: N*\", \"5-8: A S* A\", \"8: A (S F)* mirror\", \"4-6: F*\"]";
    assert!(text.contains(wall), "{text}");
}

#[test]
fn join_rows_and_tips_are_written_too() {
    let mut project = lantern();
    for (part, words) in [
        (PaintedPart::Row, "A F* A / N* / N*"),
        (PaintedPart::Tip, "N"),
    ] {
        let layout = PanelLayout::new(&project.panels[1]);
        let round_colours = round_colours(&project.beads, &layout, part, words).unwrap();
        project.panels[1].colours.set(round_colours);
    }
    let parts = [(1, PaintedPart::Row), (1, PaintedPart::Tip)];
    let new = rewritten("lantern", LANTERN, &project, &parts).unwrap();
    let again = read::read("lantern", &new).unwrap().project;
    assert_eq!(again.panels[1].colours.tip, project.panels[1].colours.tip);
    let text = String::from_utf8(new).unwrap();
    assert!(text.contains("\"row\": \"A F* A / N* / N*\""), "{text}");
}

#[test]
fn another_pattern_is_left_alone() {
    let mut project = lantern();
    let part = PaintedPart::Round(Round(4));
    paint(&mut project, 0, part, (Side(0), 0), Symmetry::Round, 1);
    let refuse = |bytes: &[u8]| rewritten("x", bytes, &project, &[(0, part)]).unwrap_err();
    assert!(matches!(refuse(b"{"), NotPainted::NoPattern(_)));
    let hexagon = include_bytes!("../../../patterns/flat-hexagon.json");
    assert_eq!(refuse(hexagon), NotPainted::OtherBeads);
    let text = std::str::from_utf8(LANTERN).unwrap();
    let renamed = text.replace("\"wall\"", "\"brick\"");
    assert!(matches!(
        refuse(renamed.as_bytes()),
        NotPainted::OtherPanel(_)
    ));
}

const WORDS: &str = r##"{
  "threadmark": 1, "title": "Star",
  "beads": {
    "S": { "name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79" },
    "Ω": { "name": "amber", "size": "cylinder 11/0", "colour": "#d98a24" }
  },
  "thread": "braided 0.15", "needle": 12,
  "panels": { "face": { "sides": 6, "rounds": 8, "ring": 3,
    "words": ["2*3", "1*6", "2*6", "1*12", "1*12", "(2 1)*6", "1*18"], "colours": [ "all: S*" ] } },
  "make": { "panel": "face" }
}"##;

/// Every round of every panel, in files of every style: as they are, with the
/// line ends of another system, on one line, with a byte order mark.
#[test]
fn every_pattern_can_be_painted_in_every_round() {
    let dir = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("patterns");
    let files = std::fs::read_dir(dir).unwrap().map(|f| f.unwrap().path());
    let mut texts: Vec<String> = files.map(|f| std::fs::read_to_string(f).unwrap()).collect();
    texts.push(WORDS.into());
    assert!(texts.len() > 6);
    for text in texts {
        let styles = [
            text.replace('\n', "\r\n"),
            text.replace('\n', " "),
            format!("\u{feff}{text}"),
            text,
        ];
        for text in styles {
            let mut project = read::read("x", text.as_bytes()).unwrap().project;
            let mut parts = vec![];
            for spec in 0..project.panels.len() {
                let panel = project.panels[spec].clone();
                for k in panel.open + 1..=panel.rounds {
                    let reach = Symmetry::ALL[k as usize % Symmetry::ALL.len()];
                    let layout = PanelLayout::new(&panel);
                    let at = layout.place(Round(k), k % layout.in_round(Round(k)));
                    let colour = (k % 2) as u8;
                    paint(
                        &mut project,
                        spec,
                        PaintedPart::Round(Round(k)),
                        (at.side, at.place),
                        reach,
                        colour,
                    );
                    parts.push((spec, PaintedPart::Round(Round(k))));
                }
            }
            let new = rewritten("x", text.as_bytes(), &project, &parts).unwrap();
            let again = read::read("x", &new).unwrap();
            for (spec, part) in parts {
                let layout = PanelLayout::new(&project.panels[spec]);
                let of = |p: &Project| words(p, spec, &layout, part);
                assert_eq!(of(&again.project), of(&project));
            }
            let lines = |t: &[u8]| t.windows(2).filter(|w| w == b"\r\n").count() > 0;
            assert_eq!(lines(&new), lines(text.as_bytes()), "line ends stay");
            assert_eq!(
                new.starts_with("\u{feff}".as_bytes()),
                text.starts_with('\u{feff}')
            );
        }
    }
}

#[test]
fn words_that_do_not_fit_are_left_out() {
    let project = lantern();
    let bad = [
        ("wall", "4", "A S"),
        ("wall", "4", "A Q S S"),
        ("wall", "9", "A*"),
        ("wall", "0", "A*"),
        ("wall", "4", "A* / S*"),
        ("wall", "row", "A"),
        ("wall", "tip", ""),
        ("roof", "4", "A*"),
        ("wall", "ring", "A*"),
    ];
    assert_eq!(painted(&project, bad), []);
    let good = [("wall", "4", "A*"), ("wall", "tip", "F")];
    let painted = painted(&project, good);
    assert_eq!(painted.len(), 2);
    let steps: Vec<_> = Sequence::new(project.clone()).iter().collect();
    let seq = Sequence::new(project).painted(&painted);
    let layout = seq.layout();
    assert!(seq.iter().eq(steps));
    let seat = layout.face_seat(Panel(2), Round(4), Side(1), 2);
    assert_eq!(layout.colour_of(seat), Colour(1));
    assert_eq!(seq.goal().colours[0].tip, Colour(3));
}

proptest! {
    /// Whatever is painted, the file says it, and still says it when it is
    /// written again.
    #[test]
    fn the_file_says_what_was_painted(
        strokes in proptest::collection::vec((0usize..3, 4u32..=8, 0u8..3, 0u32..4, 0usize..5, 0u8..4), 1..12)
    ) {
        let mut project = lantern();
        let mut parts = vec![];
        for (spec, round, side, place, reach, colour) in strokes {
            let part = PaintedPart::Round(Round(round));
            paint(&mut project, spec, part, (Side(side), place), Symmetry::ALL[reach], colour);
            if !parts.contains(&(spec, part)) {
                parts.push((spec, part));
            }
        }
        let new = rewritten("lantern", LANTERN, &project, &parts).unwrap();
        let again = read::read("lantern", &new).unwrap().project;
        for (spec, panel) in project.panels.iter().enumerate() {
            let layout = PanelLayout::new(panel);
            for round in (panel.open + 1..=panel.rounds).map(Round) {
                let said = again.panels[spec].colours.spelt(&layout, round);
                prop_assert_eq!(said, panel.colours.spelt(&layout, round));
            }
        }
        let twice = rewritten("lantern", &new, &project, &parts).unwrap();
        prop_assert_eq!(twice, new);
    }
}
