//! The patterns in patterns/: each loads, and takes the number of beads that a
//! formula for its shape gives.

use std::fs;
use std::path::Path;

use crate::beadwork::Sequence;
use crate::pattern::load;

/// Beads of a triangle with k rounds. Outside value: OEIS A045943.
fn triangle(k: u32) -> u32 {
    3 * k * (k + 1) / 2
}

/// Beads of a hexagon from a ring of six, an increase at each corner of every
/// third round. Outside value: "Hexagonal Flat Peyote Worked In Rounds",
/// BellaOnline.
fn hexagon(rounds: u32) -> u32 {
    (1..=rounds).map(|k| 6 * (k / 3 + 1)).sum()
}

/// The beads of each shipped pattern. A join row has one bead fewer than the
/// sides that it joins.
fn expected() -> Vec<(&'static str, u32)> {
    let row = |k: u32| k - 1;
    vec![
        ("flat-hexagon", hexagon(18)),
        // Six panels, one set in, one filled except for three rounds; twelve
        // rows.
        (
            "harbour-lantern",
            6 * triangle(8) + triangle(8) + triangle(8) - triangle(3) + 12 * row(8),
        ),
        // Three nets: 24 faces, and 11 rows for each net.
        ("heron-ring", 24 * triangle(8) + 3 * 11 * row(8)),
        ("lamp-pull", 4 * triangle(10) + 6 * row(10)),
        ("night-kite", 8 * triangle(9) + 12 * row(9)),
        ("practice-decrease", triangle(9) - triangle(4)),
        // Two triangles, and one row between them.
        ("practice-pair", 2 * triangle(3) + row(3)),
        ("practice-triangle", triangle(6)),
        // Eight tetrahedra: four rows of their own, and one on each hinge.
        ("weather-wheel", 4 * 8 * triangle(8) + 5 * 8 * row(8)),
    ]
}

#[test]
fn the_formulas_are_the_published_ones() {
    let terms = [3, 9, 18, 30, 45, 63, 84, 108];
    assert_eq!((1..=8).map(triangle).collect::<Vec<_>>(), terms);
    let rounds = [6, 6, 12, 12, 12, 18, 18, 18, 24];
    assert_eq!(hexagon(9), rounds.iter().sum::<u32>());
}

#[test]
fn every_shipped_pattern_takes_the_beads_of_its_shape() {
    let place = Path::new(env!("CARGO_MANIFEST_DIR")).join("patterns");
    let mut shipped: Vec<String> = fs::read_dir(&place)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    shipped.sort();
    let expected = expected();
    let named: Vec<String> = expected.iter().map(|(n, _)| format!("{n}.json")).collect();
    assert_eq!(shipped, named);
    for (name, beads) in expected {
        let pattern = load(place.join(format!("{name}.json"))).unwrap_or_else(|e| panic!("{e}"));
        let sequence = Sequence::new(pattern.project);
        assert_eq!(sequence.layout().beads(), beads, "{name}");
    }
}
