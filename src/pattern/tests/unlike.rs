//! Solids with different faces, from the maker's own jobs; panels with their
//! own gap words, and sides that are eased into each other.

use super::{making, read};
use crate::beadwork::places::tests::{deepest, of_beads};
use crate::beadwork::{Project, Sequence, verify::verify};
use crate::geometry::Shape;
use crate::plan::size::size;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::HashSet;

/// A pattern of these panels, made with these jobs.
fn project(panels: &Value, jobs: &Value) -> Project {
    let mut pattern: Value = serde_json::from_str(super::LANTERN).unwrap();
    pattern["panels"] = panels.clone();
    pattern["make"] = json!({ "jobs": jobs });
    let pattern = read("x.json", pattern.to_string().as_bytes());
    let pattern = pattern.unwrap_or_else(|problems| panic!("{problems:?}"));
    pattern.project
}

fn proved(project: Project) -> Sequence {
    let sequence = Sequence::new(project);
    let (layout, jobs) = (sequence.layout(), sequence.jobs());
    let size = |bead| layout.bead_kind(layout.colour(bead)).size;
    let project = layout.project();
    let report = verify(project, sequence.goal(), jobs, sequence.iter(), size);
    assert!(report.is_proved(), "{:?}", report.findings.first());
    sequence
}

fn zip(panel: &str, sides: &[(u8, &str, u8)]) -> Value {
    let side = |&(side, onto, at): &(u8, &str, u8)| json!({"side": side, "onto": onto, "at": at});
    json!({"zip": panel, "sides": sides.iter().map(side).collect::<Vec<_>>()})
}

fn made(kind: &str, name: &str) -> Value {
    json!({"panel": kind, "as": name})
}

fn row(panel: &str, sides: &[u8]) -> Value {
    json!({"row": panel, "sides": sides})
}

/// A triangle of so many rounds, and a square whose sides have as many up beads.
fn equal_panels(rounds: u32) -> Value {
    let triangle = json!({"sides": 3, "rounds": rounds, "colours": ["all: S*"]});
    // 2 2 2 1 0 in a square lies flat, begun at any of its numbers.
    let squares = (2..20).flat_map(|rounds| {
        (0..5).map(move |begin| {
            let mut law = [2, 2, 2, 1, 0];
            law.rotate_left(begin);
            let start = if law[0] == 2 { "sides" } else { "points" };
            json!({"sides": 4, "rounds": rounds, "corners": law, "start": start, "colours": ["all: S*"]})
        })
    });
    let fits = |square: &Value| {
        let mut pattern: Value = serde_json::from_str(&making(r#"{ "panel": "square" }"#)).unwrap();
        pattern["panels"] = json!({"square": square});
        let Ok(pattern) = read("x.json", pattern.to_string().as_bytes()) else {
            return false;
        };
        let layout = crate::beadwork::panel::PanelLayout::new(&pattern.project.panels[0]);
        layout.can_be_joined() && layout.edge(crate::beadwork::Side(0)) == rounds
    };
    let square = squares
        .into_iter()
        .find(fits)
        .expect("a square with as long sides");
    json!({"triangle": triangle, "square": square})
}

/// Vertices, edges and faces of a piece as its joins draw it.
fn count(sequence: &Sequence) -> (usize, usize, usize) {
    let body = Shape::of(sequence);
    assert!(body.gaping(0.01).is_empty(), "it closes");
    assert!(body.seams.iter().all(|seam| seam.sides.len() == 2));
    let mut corners = HashSet::new();
    for (panel, made) in sequence.layout().begun_panels() {
        let sides = made.frame.corners().len() as u8;
        let first = |s| sequence.seams().first_of((panel, crate::beadwork::Side(s)));
        corners.extend((0..sides).map(first));
    }
    (corners.len(), body.seams.len(), body.plates.len())
}

/// Angles between the faces that meet at each edge, in degrees, the smallest
/// first.
fn angles(sequence: &Sequence) -> Vec<f64> {
    let body = Shape::of(sequence);
    let angle = |seam: &crate::geometry::Seam| {
        let [a, b] = [0, 1].map(|n| body.plates[seam.sides[n].plate].outward());
        180.0 - a.angle_between(b).to_degrees()
    };
    let mut angles: Vec<f64> = body.seams.iter().map(angle).collect();
    angles.sort_by(f64::total_cmp);
    angles
}

fn prism(rounds: u32) -> Project {
    let jobs = json!([
        made("triangle", "top"),
        row("top", &[1, 2, 3]),
        made("square", "a"),
        zip("a", &[(1, "top", 1)]),
        row("a", &[2, 3, 4]),
        made("square", "b"),
        zip("b", &[(1, "top", 2), (2, "a", 4)]),
        row("b", &[3, 4]),
        made("square", "c"),
        zip("c", &[(1, "top", 3), (2, "b", 4), (4, "a", 2)]),
        row("c", &[3]),
        made("triangle", "bottom"),
        zip("bottom", &[(1, "a", 3), (2, "c", 3), (3, "b", 3)]),
    ]);
    project(&equal_panels(rounds), &jobs)
}

fn pyramid(rounds: u32) -> Project {
    let jobs = json!([
        made("square", "base"),
        row("base", &[1, 2, 3, 4]),
        made("triangle", "a"),
        zip("a", &[(1, "base", 1)]),
        row("a", &[2, 3]),
        made("triangle", "b"),
        zip("b", &[(1, "base", 2), (2, "a", 3)]),
        row("b", &[3]),
        made("triangle", "c"),
        zip("c", &[(1, "base", 3), (2, "b", 3)]),
        row("c", &[3]),
        made("triangle", "d"),
        zip("d", &[(1, "base", 4), (2, "c", 3), (3, "a", 2)]),
    ]);
    project(&equal_panels(rounds), &jobs)
}

/// 6 vertices, 9 edges, 5 faces; squares meet at 60 degrees, and are
/// perpendicular to the triangles (any handbook, from memory).
#[test]
fn a_triangular_prism_of_two_triangles_and_three_squares() {
    let prism = proved(prism(5));
    // Of equal edges: across a square face's edge and a triangle's side.
    let size = size(&prism);
    let across = size.through_mm.expect("one piece") / size.edge_mm;
    assert!((across - 2f64.sqrt()).abs() < 0.05, "{across}");
    let (vertices, edges, faces) = count(&prism);
    assert_eq!((vertices, edges, faces), (6, 9, 5));
    assert_eq!(vertices + faces, edges + 2, "Euler");
    let found = angles(&prism);
    for (found, meant) in found
        .iter()
        .zip([60.0, 60.0, 60.0, 90.0, 90.0, 90.0, 90.0, 90.0, 90.0])
    {
        assert!((found - meant).abs() < 0.1, "{found} {meant}");
    }
}

/// The square pyramid with equal edges: 5 vertices, 8 edges, 5 faces. A
/// triangle makes an angle of 54.74 degrees with the square and of 109.47 with
/// the next triangle (N. Johnson, 1966, the first of his solids; values from
/// memory).
#[test]
fn a_square_pyramid() {
    let pyramid = proved(pyramid(5));
    let (vertices, edges, faces) = count(&pyramid);
    assert_eq!((vertices, edges, faces), (5, 8, 5));
    assert_eq!(vertices + faces, edges + 2, "Euler");
    let found = angles(&pyramid);
    for (at, meant) in [(0, 54.7356), (3, 54.7356), (4, 109.4712), (7, 109.4712)] {
        assert!((found[at] - meant).abs() < 0.1, "{found:?}");
    }
}

/// Three faces sewn onto face a and into each other: a tetrahedron.
fn three_faces_more() -> [Value; 8] {
    [
        made("face", "b"),
        zip("b", &[(1, "a", 1)]),
        row("b", &[2, 3]),
        made("face", "c"),
        zip("c", &[(1, "a", 2), (2, "b", 3)]),
        row("c", &[3]),
        made("face", "d"),
        zip("d", &[(1, "a", 3), (2, "c", 3), (3, "b", 2)]),
    ]
}

/// A tetrahedron whose faces are triangles with their own gap words and named
/// corners.
fn own_words(corners: Value) -> Value {
    let words = ["2*3", "(2 1 1)*3", "(2 1 1 1)*3"];
    let words = json!([words[0], "(1 2)*3", "(1 1 2)*3"]);
    json!({"face": {"sides": 3, "rounds": 4, "ring": 3, "words": words, "corner_beads": corners, "colours": ["all: S*"]}})
}

#[test]
fn panels_of_own_gap_words_are_joined_between_the_corners_that_the_file_names() {
    let mut jobs = vec![made("face", "a"), row("a", &[1, 2, 3])];
    jobs.extend(three_faces_more());
    let jobs = jobs.into();
    let sequence = |panels| proved(project(&panels, &jobs));
    // Rounds of 3, 6, 9 and 12 beads; the last is (1 1 2), its pairs at beads 3
    // and 4, 7 and 8, 11 and 12.
    let solid = sequence(own_words(json!([3, 7, 11])));
    assert_eq!(count(&solid), (4, 6, 4));
    // Single beads at the corners work too.
    let solid = sequence(own_words(json!([2, 6, 10])));
    assert_eq!(count(&solid), (4, 6, 4));
    // Pairs within pairs, as a corner law has them: no bead lies in another, whichever
    // corner is named first.
    for corners in [json!([1, 5, 9]), json!([5, 9, 1])] {
        let mut by_law = own_words(corners);
        by_law["face"]["words"] = json!(["2*3", "(2 1)*3", "(2 1 1)*3"]);
        let deepest = deepest(&sequence(by_law));
        assert!(deepest.along <= 0.1, "{deepest:?}");
        assert!(deepest.at_corner <= 0.25, "{deepest:?}");
    }
}

#[test]
fn sides_that_are_not_as_long_are_eased_into_each_other() {
    for (rounds, beads) in [
        (4, None),
        (6, None),
        (6, Some(5)),
        (3, Some(4)),
        (9, Some(5)),
    ] {
        let piece = proved(eased([6, rounds], beads));
        let own = triangle(6) + triangle(rounds);
        assert_eq!(piece.layout().beads(), own + beads.unwrap_or(5));
    }
}

/// Two triangles with these numbers of rounds; side 2 of the second is zipped
/// onto side 1 of the first, with this row.
fn two_triangles(rounds: [u32; 2], row: Option<Value>, zip: Value) -> Project {
    let [first, second] = rounds;
    let panels = json!({
        "first": {"sides": 3, "rounds": first, "colours": ["all: S*"]},
        "second": {"sides": 3, "rounds": second, "colours": ["all: A*"]},
    });
    let jobs = [made("first", "a")].into_iter().chain(row);
    let jobs = jobs.chain([made("second", "b"), zip]);
    project(&panels, &jobs.collect::<Vec<_>>().into())
}

/// The same with or without a plain row.
fn fitted(rounds: [u32; 2], has_row: bool) -> Project {
    let row = has_row.then(|| row("a", &[1]));
    two_triangles(rounds, row, zip("b", &[(2, "a", 1)]))
}

/// The same with a row that eases them into each other.
fn eased(rounds: [u32; 2], beads: Option<u32>) -> Project {
    let mut row = row("a", &[1]);
    if let Some(beads) = beads {
        row["beads"] = json!(beads);
    }
    let mut zip = zip("b", &[(2, "a", 1)]);
    zip["sides"][0]["eased"] = json!(true);
    two_triangles(rounds, Some(row), zip)
}

/// Beads of a triangle of k rounds: 3k(k + 1)/2 (OEIS A045943).
fn triangle(k: u32) -> u32 {
    3 * k * (k + 1) / 2
}

/// The number of beads that each zip goes through, including the one before it.
fn zipped(piece: &Sequence) -> usize {
    let zips = piece
        .iter()
        .filter(|m| m.kind == crate::beadwork::Kind::Zip);
    zips.map(|m| m.passes.len()).sum::<usize>() + 1
}

#[test]
fn sides_that_differ_by_one_lock_directly() {
    for (k, m) in [(6, 5), (5, 6), (3, 2), (2, 3), (9, 10)] {
        let piece = proved(fitted([k, m], false));
        assert_eq!(piece.layout().beads(), triangle(k) + triangle(m), "{k} {m}");
        // All up beads of both sides are gone through, and no others.
        assert_eq!(zipped(&piece) as u32, k + m, "{k} {m}");
    }
}

#[test]
fn sides_that_differ_by_two_take_a_row_on_the_longer() {
    for k in 4..9 {
        let piece = proved(fitted([k, k - 2], true));
        let row = k - 1;
        assert_eq!(piece.layout().beads(), triangle(k) + triangle(k - 2) + row);
        assert_eq!(zipped(&piece) as u32, row + k - 2);
    }
}

/// A tetrahedron whose base has one or two rounds more than its three other
/// faces.
fn unlike_tetrahedron(rounds: u32, more: u32) -> Project {
    let panels = json!({
        "base": {"sides": 3, "rounds": rounds + more, "colours": ["all: S*"]},
        "face": {"sides": 3, "rounds": rounds, "colours": ["all: A*"]},
    });
    let mut jobs = vec![made("base", "a")];
    jobs.extend((more == 2).then(|| row("a", &[1, 2, 3])));
    jobs.extend(three_faces_more());
    project(&panels, &jobs.into())
}

/// 4 vertices, 6 edges, 4 faces, and it closes.
#[test]
fn a_solid_of_unlike_faces_closes() {
    for more in [1, 2] {
        let solid = proved(unlike_tetrahedron(5, more));
        let rows = 3 * 4 + if more == 2 { 3 * 6 } else { 0 };
        let beads = triangle(5 + more) + 3 * triangle(5) + rows;
        assert_eq!(solid.layout().beads(), beads);
        let joined = Shape::of(&solid);
        assert_eq!((joined.seams.len(), joined.plates.len()), (6, 4));
        assert!(joined.seams.iter().all(|seam| seam.sides.len() == 2));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// For panels within 7 % of flat a tenth of the width along sides and
    /// joins and a quarter at corners, however their sides are joined.
    #[test]
    fn no_bead_lies_in_another_where_unlike_panels_are_joined(
        which in 0_usize..8,
        rounds in 3_u32..=8,
        beads in 2_u32..=9,
        diameter in 1.0..3.5,
        // Of triangles; squares of the same beads are 4 % fuller.
        flatness in 0.935..1.025,
    ) {
        let project = match which {
            0 => prism(rounds),
            1 => pyramid(rounds),
            2 => fitted([rounds, rounds - 1], false),
            3 => fitted([rounds, rounds + 1], false),
            4 => fitted([rounds + 1, rounds - 1], true),
            5 => unlike_tetrahedron(rounds, 1),
            6 => unlike_tetrahedron(rounds, 2),
            _ => eased([6, rounds], Some(beads.min(2 * (rounds - 1)))),
        };
        let deepest = deepest(&Sequence::new(of_beads(project, 3, diameter, flatness)));
        prop_assert!(deepest.along <= 0.1, "{deepest:?}");
        prop_assert!(deepest.at_corner <= 0.25, "{deepest:?}");
    }
}
