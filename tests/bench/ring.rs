//! The piece that the benchmarks measure on.

use threadmark::beadwork::bead::{BeadKind, preset};
use threadmark::beadwork::colour::Colours;
use threadmark::beadwork::corner_law::CornerLaw;
use threadmark::beadwork::project::{Closing, Growth, Make, PanelSpec, Project, WorkDirection};
use threadmark::beadwork::thread::{Needle, Thread};
use threadmark::beadwork::{Colour, Rgb};

/// A ring of eight tetrahedra; with 200 rounds a face it has about two million
/// beads.
pub fn ring(rounds: u32) -> Project {
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
        panels: vec![PanelSpec {
            name: "face".into(),
            sides: 3,
            rounds,
            growth: Growth::Law(CornerLaw::usual(3)),
            way: WorkDirection::Outward,
            strips: false,
            open: 0,
            stone_mm: None,
            colours: Colours::plain(Colour(0), rounds),
            own: None,
        }],
        insert: vec![],
        own: vec![],
        joins: vec![],
        make: Make::Ring {
            tetrahedra: 8,
            faces: vec![0],
            closings: vec![Closing::SetIn],
            tips: 0,
        },
    }
}
