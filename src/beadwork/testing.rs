//! Patterns in three lines, for tests.

use super::bead::{BeadKind, Colour, Rgb, preset};
use super::colour::Colours;
use super::corner_law::CornerLaw;
use super::number::Side;
use super::project::{Closing, Growth, JobSpec, Make, PanelSpec, Project, Solid, Way};
use super::thread::{Needle, Thread};

/// A panel of one colour by the usual law.
pub fn panel(sides: u8, rounds: u32) -> PanelSpec {
    PanelSpec {
        name: "face".into(),
        sides,
        rounds,
        growth: Growth::Law(CornerLaw::usual(sides)),
        way: Way::Outward,
        open: 0,
        colours: Colours::plain(Colour(0), rounds),
    }
}

/// The same, worked inward, with rounds left open.
pub fn inward(sides: u8, rounds: u32, open: u32) -> PanelSpec {
    PanelSpec {
        name: "inward".into(),
        way: Way::Inward,
        open,
        ..panel(sides, rounds)
    }
}

/// A project of cylinder 11/0 beads.
pub fn project(panels: Vec<PanelSpec>, make: Make) -> Project {
    Project {
        beads: vec![BeadKind {
            letter: 'S',
            name: "slate".into(),
            size: preset("cylinder 11/0").expect("a preset"),
            colour: Rgb(90, 100, 120),
        }],
        thread: Thread {
            diameter_mm: 0.12,
            cut_mm: 1500.0,
            tail_mm: 150.0,
        },
        needle: Needle { diameter_mm: 0.36 },
        panels,
        make,
    }
}

/// One panel.
pub fn single(spec: PanelSpec) -> Project {
    project(vec![spec], Make::Single(0))
}

/// A solid of panels of `rounds` rounds.
pub fn solid(solid: Solid, rounds: u32, closing: Closing) -> Project {
    let sides = solid.face_sides();
    project(
        vec![panel(sides, rounds)],
        Make::Solid {
            solid,
            faces: vec![0],
            closing,
            tips: 0,
        },
    )
}

/// A ring of tetrahedra.
pub fn ring(tetrahedra: u16, rounds: u32, closing: Closing) -> Project {
    project(
        vec![panel(3, rounds)],
        Make::Ring {
            tetrahedra,
            faces: vec![0],
            closing,
            tips: 0,
        },
    )
}

/// A folded pair: one face set in, one filled with `open` rounds left out.
pub fn folded_pair(rounds: u32, open: u32) -> Project {
    project(
        vec![panel(3, rounds), inward(3, rounds, open)],
        Make::FoldedPair {
            faces: vec![0],
            closings: [(0, Closing::SetIn), (1, Closing::Fill)],
            tips: 0,
        },
    )
}

/// Three triangles round a corner by a maker's own list, the fourth filled.
pub fn listed_tetrahedron(rounds: u32) -> Project {
    let make = |nth: usize| JobSpec::Panel {
        name: format!("face {}", nth + 1),
        spec: 0,
    };
    let row = |panel, sides: &[u8]| JobSpec::Row {
        panel,
        sides: sides.iter().map(|&s| Side(s)).collect(),
        tips: 0,
    };
    let zip = |panel, side, onto, at| JobSpec::Zip {
        panel,
        sides: vec![(Side(side), onto, Side(at))],
    };
    let jobs = vec![
        make(0),
        row(0, &[0, 1, 2]),
        make(1),
        zip(1, 0, 0, 0),
        row(1, &[1, 2]),
        make(2),
        JobSpec::Zip {
            panel: 2,
            sides: vec![(Side(0), 0, Side(1)), (Side(1), 1, Side(2))],
        },
        row(2, &[2]),
        JobSpec::Fill {
            name: "fill".into(),
            spec: 1,
            rim: vec![(0, Side(2)), (2, Side(2)), (1, Side(1))],
        },
    ];
    project(
        vec![panel(3, rounds), inward(3, rounds, 0)],
        Make::Jobs(jobs),
    )
}
