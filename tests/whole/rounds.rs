//! `threadmark rounds`.

use serde_json::Value;

use crate::builder::threadmark;
use crate::pattern::{folded_pair, inward, pattern, tetrahedron, triangle};

fn beads(pattern: &str) -> Vec<u64> {
    let rounds = threadmark("rounds a.json --json").file("a.json", pattern);
    let beads = |line: &Value| line["beads"].as_u64().unwrap();
    rounds.objects("rounds").iter().map(beads).collect()
}

#[test]
fn the_table_of_a_triangle() {
    let colours = r#""sides": 3, "rounds": 4, "colours": ["all: S*", "4: A S* A"]"#;
    threadmark("rounds a.json")
        .file(
            "a.json",
            pattern(&[("face", colours)], r#"{ "panel": "face" }"#),
        )
        .stdout(
            "\
Job 1: face
  round           beads  per side  total  into gaps  colours
      1  outward      3  1 each        3  the ring   each side: S
      2  outward      6  2 each        9  2*3        each side: S2
      3  outward      9  3 each       18  (2 1)*3    each side: S3
      4  outward     12  4 each       30  (2 1*2)*3  each side: A S2 A

S  sea green
A  amber
",
        )
        .run();
}

#[test]
fn the_fields_stand_in_the_promised_order() {
    let printed = threadmark("rounds a.json --json")
        .file("a.json", triangle(4))
        .run();
    assert_eq!(
        printed.lines().next_back().unwrap(),
        r#"{"format":1,"job":"face","panel":"face","round":4,"direction":"outward","beads":12,"per_side":[4,4,4],"total":30}"#
    );
}

/// OEIS A045943, triangular matchstick numbers.
#[test]
fn totals_of_a_triangle_are_a045943() {
    let rounds = threadmark("rounds a.json --json")
        .file("a.json", triangle(8))
        .objects("rounds");
    let totals: Vec<u64> = rounds
        .iter()
        .map(|r| r["total"].as_u64().unwrap())
        .collect();
    assert_eq!(totals, [3, 9, 18, 30, 45, 63, 84, 108]);
}

/// "Hexagonal Flat Peyote Worked In Rounds", BellaOnline, after the late
/// A. Hawley's graph: a ring of six, increases in every third round.
#[test]
fn a_hexagon_from_a_ring_of_six_as_published() {
    let hexagon = pattern(
        &[("face", r#""sides": 6, "rounds": 9"#)],
        r#"{ "panel": "face" }"#,
    );
    assert_eq!(beads(&hexagon), [6, 6, 12, 12, 12, 18, 18, 18, 24]);
}

/// J. Riggs, "Circular Peyote Hexagon Stars", 2020: a ring of three, then
/// corners of 2, 1 and 0 beads on successive rounds.
#[test]
fn a_six_sided_piece_from_a_ring_of_three_by_gap_words() {
    let words = r#""sides": 6, "rounds": 8, "ring": 3, "words": [
        "2*3", "1*6", "2*6", "1*12", "1*12", "(2 1)*6", "1*18"]"#;
    let star = pattern(&[("star", words)], r#"{ "panel": "star" }"#);
    assert_eq!(beads(&star), [3, 6, 6, 12, 12, 12, 18, 18]);
}

/// Common practice, no source: an inward round has one bead fewer a side than
/// the last.
#[test]
fn inward_rounds_are_the_outward_ones_reversed() {
    let outward = beads(&triangle(7));
    let mut reversed = beads(&inward(7));
    reversed.reverse();
    assert_eq!(reversed, outward);
}

#[test]
fn a_join_row_is_a_round_of_its_own() {
    let rounds = threadmark("rounds a.json --json")
        .file("a.json", tetrahedron(5))
        .objects("rounds");
    let rows: Vec<&Value> = rounds.iter().filter(|r| r["round"] == 6).collect();
    // Six joins of one row each, a bead fewer than the edge has.
    let beads: u64 = rows.iter().map(|r| r["beads"].as_u64().unwrap()).sum();
    assert_eq!(beads, 6 * 4);
    for row in rows {
        let sides = row["per_side"].as_array().unwrap();
        assert!(sides.iter().all(|beads| beads == 0 || beads == 4), "{row}");
        assert_eq!(row["total"], row["beads"]);
    }
}

#[test]
fn a_fill_runs_inward_to_its_opening() {
    let rounds = threadmark("rounds a.json --json")
        .file("a.json", folded_pair(6, 2))
        .objects("rounds");
    let fill: Vec<(u64, &str)> = rounds
        .iter()
        .filter(|r| r["job"].as_str().unwrap().starts_with("Fill "))
        .map(|r| {
            (
                r["round"].as_u64().unwrap(),
                r["direction"].as_str().unwrap(),
            )
        })
        .collect();
    assert_eq!(fill, [6, 5, 4, 3].map(|k| (k, "inward")));
}

/// As the page about patterns says it: an extra bead of an inward round, taken back in
/// the gap behind it.
#[test]
fn an_extra_bead_of_an_inward_round_is_taken_back_behind_it() {
    let fields = "\"sides\": 3, \"rounds\": 7, \"way\": \"inward\", \"gaps\": [{ \"round\": 5, \"gap\": 2, \
                  \"beads\": 2 }, { \"round\": 4, \"gap\": 3, \"beads\": 0 }]";
    let text = pattern(&[("face", fields)], r#"{ "panel": "face" }"#);
    let whole = threadmark("").file("extra.json", text);
    let said = whole.again("rounds extra.json").run();
    for (round, word) in [(3, "(1*3 0)*3"), (2, "(1*2 0)*3"), (1, "(1 0)*3")] {
        let line = said
            .lines()
            .find(|line| line.trim_start().starts_with(&format!("{round}  inward")));
        assert!(
            line.is_some_and(|line| line.contains(&format!(" {word} "))),
            "{said}"
        );
    }
}
