//! Projects and pictures for the screen's tests.

use crate::beadwork::bead::{BeadKind, Rgb, preset};
use crate::beadwork::colour::{ColourWord, Colours, Rule};
use crate::beadwork::project::{Closing, Make, PanelSpec, Project, Solid};
use crate::beadwork::{Colour, Sequence, testing};
use crate::screen::look::{Depth, Ground, Look};
use ratatui::buffer::Buffer;

/// Three colours: an edge, a middle and every third round.
pub fn coloured(mut spec: PanelSpec) -> PanelSpec {
    let plain = |c| Rule {
        sides: vec![ColourWord::plain(Colour(c))],
    };
    let rimmed = Rule {
        sides: vec![ColourWord {
            head: vec![Colour(1)],
            middle: vec![Colour(0)],
            tail: vec![Colour(1)],
            mirror: false,
        }],
    };
    spec.colours = Colours {
        rules: vec![plain(0), rimmed, plain(2)],
        of_round: (1..=spec.rounds)
            .map(|k| match k {
                1 => 0,
                k if k % 3 == 0 && spec.sides == 3 => 2,
                _ if spec.sides == 3 => 1,
                _ => 0,
            })
            .collect(),
        row: Rule::plain(Colour(2)),
        tip: Colour(1),
    };
    spec
}

pub fn project(panels: Vec<PanelSpec>, make: Make) -> Project {
    let bead = |letter, name: &str, colour| BeadKind {
        letter,
        name: name.into(),
        size: preset("cylinder 11/0").unwrap(),
        colour,
    };
    Project {
        beads: vec![
            bead('N', "night blue", Rgb(36, 48, 96)),
            bead('P', "pearl", Rgb(232, 226, 210)),
            bead('R', "rust", Rgb(176, 74, 40)),
        ],
        ..testing::project(panels.into_iter().map(coloured).collect(), make)
    }
}

pub fn panel(sides: u8, rounds: u32) -> Sequence {
    Sequence::new(project(
        vec![testing::panel(sides, rounds)],
        Make::Single(0),
    ))
}

pub fn strip(beads: u32, rows: u32) -> Sequence {
    Sequence::new(project(vec![testing::strip(beads, rows)], Make::Single(0)))
}

pub fn inward(sides: u8, rounds: u32, open: u32) -> Sequence {
    Sequence::new(project(
        vec![testing::inward(sides, rounds, open)],
        Make::Single(0),
    ))
}

pub fn tetrahedron(rounds: u32, closing: Closing, tips: u8) -> Sequence {
    Sequence::new(project(
        vec![testing::panel(3, rounds)],
        Make::Solid {
            solid: Solid::Tetrahedron,
            faces: vec![0],
            closing,
            tips,
        },
    ))
}

pub fn folded_pair(rounds: u32, open: u32) -> Sequence {
    Sequence::new(project(
        vec![testing::panel(3, rounds), testing::inward(3, rounds, open)],
        Make::FoldedPair {
            faces: vec![0],
            closings: [(0, Closing::SetIn), (1, Closing::Fill)],
            tips: 1,
        },
    ))
}

/// Pieces of every kind: outward, inward, open, closed, folded.
pub fn pieces() -> [Sequence; 9] {
    [
        panel(3, 9),
        panel(6, 7),
        inward(3, 7, 0),
        inward(6, 9, 3),
        tetrahedron(5, Closing::SetIn, 2),
        tetrahedron(5, Closing::Fill, 0),
        tetrahedron(5, Closing::Open, 1),
        folded_pair(5, 1),
        strip(5, 12),
    ]
}

/// The piece of the beginner's tour.
pub fn practice_pair() -> Sequence {
    let bytes = include_bytes!("../../patterns/practice-pair.json");
    let pattern = crate::pattern::read("practice-pair", bytes).unwrap();
    Sequence::new(pattern.project)
}

pub const LOOK: Look = Look {
    depth: Depth::None,
    unicode: true,
    ground: Ground::Dark,
};

/// A buffer as lines of text.
pub fn text(buf: &Buffer) -> String {
    let area = buf.area;
    let mut out = String::new();
    for y in area.y..area.bottom() {
        let line: String = (area.x..area.right())
            .map(|x| buf[(x, y)].symbol().to_string())
            .collect();
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}
