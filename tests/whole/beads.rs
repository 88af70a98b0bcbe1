//! `threadmark beads`.

use crate::builder::threadmark;
use crate::pattern::{ring, tetrahedron, triangle};

#[test]
fn the_text_is_a_table_under_each_job() {
    threadmark("beads a.json")
        .file("a.json", triangle(1))
        .stdout(
            "\
face
     bead colour round side place       x mm       y mm       z mm passes
        1 S          1    3     1      -0.49      -0.84       0.00      2
        2 S          1    1     1       0.97       0.00       0.00      2
        3 S          1    2     1      -0.49       0.84       0.00      2
",
        )
        .run();
}

#[test]
fn the_fields_stand_in_the_promised_order() {
    let printed = threadmark("beads a.json --json")
        .file("a.json", triangle(1))
        .run();
    assert_eq!(
        printed.lines().next().unwrap(),
        r#"{"format":1,"bead":1,"colour":"S","job":"face","panel":"face","round":1,"side":3,"place":1,"x":-0.486,"y":-0.8418,"z":0.0,"passes":2}"#
    );
}

#[test]
fn beads_are_numbered_as_they_are_strung() {
    let beads = threadmark("beads a.json --json")
        .file("a.json", tetrahedron(4))
        .objects("beads");
    for (n, bead) in beads.iter().enumerate() {
        assert_eq!(bead["bead"], n as u64 + 1);
    }
    // Closed form: four triangles and six join rows.
    assert_eq!(beads.len(), 4 * 30 + 6 * 3);
}

/// Each join row of a ring lies with its neighbours: 4N faces, and 5N rows
/// since four edges share one at a hinge.
#[test]
fn a_ring_has_the_beads_of_the_closed_form() {
    let (n, k) = (8, 4);
    let beads = threadmark("beads a.json --json")
        .file("a.json", ring(n, k))
        .objects("beads");
    assert_eq!(
        beads.len() as u32,
        4 * n * 3 * k * (k + 1) / 2 + 5 * n * (k - 1)
    );
}

#[test]
fn passes_are_those_of_the_steps() {
    let steps = threadmark("steps a.json --json")
        .file("a.json", tetrahedron(3))
        .objects("steps");
    let beads = threadmark("beads a.json --json")
        .file("a.json", tetrahedron(3))
        .objects("beads");
    let mut passes = vec![0; beads.len()];
    for step in &steps {
        for bead in step["passes"].as_array().unwrap() {
            passes[bead.as_u64().unwrap() as usize - 1] += 1;
        }
    }
    for (bead, passes) in beads.iter().zip(passes) {
        assert_eq!(bead["passes"], passes);
    }
}
