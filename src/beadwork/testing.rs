//! Patterns in three lines, for tests.

use super::bead::preset;
use super::corner_mark::CornerMark;
use super::project::{JobList, NamedPanel};
use super::{
    Amendment, BeadKind, Closing, Colour, Colours, CornerLaw, Direction, GapWord, Growth, JobKind,
    Make, Needle, Panel, PanelSpec, Project, Rgb, Round, Sequence, Side, SideFit, SideJoin, Solid,
    Step, Thread, WorkDirection,
};

/// A panel of one colour by the usual law.
pub fn panel(sides: u8, rounds: u32) -> PanelSpec {
    PanelSpec {
        name: "face".into(),
        sides,
        rounds,
        growth: Growth::Law(CornerLaw::usual(sides)),
        way: WorkDirection::Outward,
        strips: false,
        open: 0,
        colours: Colours::plain(Colour(0), rounds),
        own: None,
        stone_mm: None,
    }
}

/// The same, worked inward, with rounds left open.
pub fn inward(sides: u8, rounds: u32, open: u32) -> PanelSpec {
    PanelSpec {
        name: "inward".into(),
        way: WorkDirection::Inward,
        open,
        ..panel(sides, rounds)
    }
}

/// A strip of one colour: beads a row, and rows.
pub fn strip(beads: u32, rows: u32) -> PanelSpec {
    PanelSpec {
        name: "strip".into(),
        growth: Growth::Rows {
            beads,
            words: vec![],
        },
        ..panel(1, rows)
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
        insert: vec![],
        own: vec![],
        joins: vec![],
    }
}

/// One panel.
pub fn single(spec: PanelSpec) -> Project {
    project(vec![spec], Make::Single(0))
}

/// A triangle of three rounds as it is worked without a plan: in gap words, its
/// corners unknown.
pub fn free_triangle() -> Project {
    let mut project = single(panel(3, 3));
    let word = |gaps: &[u8]| GapWord::new(gaps.to_vec());
    project.panels[0].growth = Growth::Words {
        ring: 3,
        words: vec![word(&[2, 2, 2]), word(&[2, 1, 2, 1, 2, 1])],
    };
    project
}

/// The corners of a panel that is worked as that triangle.
pub fn its_corners(panel: u16) -> Amendment {
    let mark = |gap| CornerMark {
        round: Round(2),
        gap,
    };
    let (panel, marks) = (Panel(panel), (0..3).map(mark).collect());
    Amendment::Corners { panel, marks }
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

/// An open solid of triangles with an insert of this many rounds.
pub fn with_insert(solid: Solid, rounds: u32, of_insert: u32) -> Project {
    let make = Make::Solid {
        solid,
        faces: vec![0],
        closing: Closing::Open,
        tips: 0,
    };
    Project {
        insert: vec![1],
        ..project(vec![panel(3, rounds), panel(3, of_insert)], make)
    }
}

/// The piece with three beads in a gap, for each early step that takes them.
pub fn with_three_in_a_gap(plain: &Sequence) -> impl Iterator<Item = Sequence> {
    let steps = (1..60).map(Step);
    steps.filter_map(|at| Some(plain.as_stitched(at, at, 3, None).ok()?.sequence))
}

/// A ring of tetrahedra.
pub fn ring(tetrahedra: u16, rounds: u32, closing: Closing) -> Project {
    project(
        vec![panel(3, rounds)],
        Make::Ring {
            tetrahedra,
            faces: vec![0],
            closings: vec![closing],
            tips: 0,
        },
    )
}

/// A ring of six-panel nets: each net's first face set in, its second filled
/// with `open` rounds left out.
pub fn ring_of_nets(tetrahedra: u16, rounds: u32, open: u32) -> Project {
    project(
        vec![panel(3, rounds), inward(3, rounds, open)],
        Make::RingOfNets {
            tetrahedra,
            faces: vec![0],
            closings: vec![(0, Closing::SetIn), (1, Closing::Fill)],
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

/// Panels of a job list, each with its name and kind.
pub fn named(panels: &[(&str, usize)]) -> Vec<NamedPanel> {
    let named = |&(name, spec): &(&str, usize)| NamedPanel {
        name: name.into(),
        spec,
        rim: vec![],
    };
    panels.iter().map(named).collect()
}

/// Three triangles round a corner by a maker's own list, the fourth filled.
pub fn listed_tetrahedron(rounds: u32) -> Project {
    let row = |panel, sides: &[u8]| JobKind::JoinRow {
        panel: Panel(panel),
        sides: sides.iter().map(|&s| Side(s)).collect(),
        tips: 0,
        beads: None,
    };
    let join = |(side, onto, at)| SideJoin {
        side: Side(side),
        onto: Panel(onto),
        at: Side(at),
        runs: Direction::Against,
        fit: SideFit::Equal,
    };
    let zip = |panel, joins: &[(u8, u16, u8)]| {
        JobKind::Zip(Panel(panel), joins.iter().copied().map(join).collect())
    };
    let rim = [(0, 2), (2, 2), (1, 1)].map(|(panel, side)| (Panel(panel), Side(side)));
    let jobs = vec![
        JobKind::Panel(Panel(0)),
        row(0, &[0, 1, 2]),
        JobKind::Panel(Panel(1)),
        zip(1, &[(0, 0, 0)]),
        row(1, &[1, 2]),
        JobKind::Panel(Panel(2)),
        zip(2, &[(0, 0, 1), (1, 1, 2)]),
        row(2, &[2]),
        JobKind::Fill {
            panel: Panel(3),
            rim: rim.to_vec(),
        },
    ];
    project(
        vec![panel(3, rounds), inward(3, rounds, 0)],
        Make::Jobs(JobList {
            panels: named(&[("face 1", 0), ("face 2", 0), ("face 3", 0), ("fill", 1)]),
            jobs,
            shape: None,
        }),
    )
}
