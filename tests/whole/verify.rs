//! `threadmark verify`.

use crate::builder::threadmark;
use crate::pattern::{folded_pair, inward, pattern, ring, tetrahedron, triangle};

#[test]
fn the_proof_in_words() {
    threadmark("verify a.json")
        .file("a.json", triangle(3))
        .stdout(
            "Evening star: proved
         18  steps read
         18  beads strung
         38  beads gone through
          3  rounds
          0  sides joined
          1  lengths of thread
          4  passes through the fullest bead
",
        )
        .run();
}

#[test]
fn every_shape_is_proved() {
    let cube = pattern(
        &[("face", r#""sides": 4, "rounds": 9"#)],
        r#"{ "solid": "cube", "faces": ["face"], "close": "fill" }"#,
    );
    for pattern in [
        inward(6),
        tetrahedron(5),
        folded_pair(6, 2),
        ring(8, 4),
        cube,
    ] {
        let proofs = threadmark("verify a.json --json")
            .file("a.json", &pattern)
            .objects("verify");
        assert_eq!(proofs[0]["proved"], true, "{}", proofs[0]);
    }
}

#[test]
fn all_patterns_of_ours_are_proved() {
    let patterns = concat!(env!("CARGO_MANIFEST_DIR"), "/patterns");
    let mut proved = 0;
    for entry in std::fs::read_dir(patterns).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_str().unwrap();
        // By its bare name: from within the program, not from the disk.
        let proofs = threadmark(&format!("verify {name} --json")).objects("verify");
        assert_eq!(proofs[0]["proved"], true, "{name}: {}", proofs[0]);
        proved += 1;
    }
    assert!(proved >= 7);
}

#[test]
fn the_numbers_are_those_of_steps_and_beads() {
    let proofs = threadmark("verify a.json --json")
        .file("a.json", tetrahedron(4))
        .objects("verify");
    let count = |args: &str| {
        let printed = threadmark(args).file("a.json", tetrahedron(4)).run();
        printed.lines().count()
    };
    assert_eq!(proofs[0]["steps"], count("steps a.json --json"));
    assert_eq!(proofs[0]["beads"], count("beads a.json --json"));
    // Handbook: a tetrahedron has six edges.
    assert_eq!(proofs[0]["joins"], 6);
}

/// A hole that is passed too often is a finding, and the answer is no.
#[test]
fn a_needle_too_thick_for_the_holes_is_not_proved() {
    let thick = tetrahedron(4)
        .replace("cylinder 11/0", "cylinder 15/0")
        .replace("\"needle\": 12", "\"needle\": 10")
        .replace("braided 0.12", "nylon 0.30");
    let proofs = threadmark("verify a.json --json")
        .file("a.json", thick)
        .code(1)
        .objects("verify");
    assert_eq!(proofs[0]["proved"], false);
    let findings = proofs[0]["findings"].as_array().unwrap();
    assert!(
        findings
            .iter()
            .any(|f| f["finding"].as_str().unwrap().contains("takes no more"))
    );
}
