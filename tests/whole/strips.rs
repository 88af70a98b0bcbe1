//! A strip of flat peyote, from the pattern file to every output.

use crate::builder::threadmark;
use crate::pattern::pattern;

/// Six beads wide, seven rows.
fn band() -> String {
    pattern(
        &[("band", r#""stitch": "strip", "width": 6, "rows": 7"#)],
        r#"{ "panel": "band" }"#,
    )
}

#[test]
fn the_steps_go_to_and_fro() {
    let steps = threadmark("steps a.json --json")
        .file("a.json", band())
        .objects("steps");
    let of = |kind: &str| {
        let found = steps.iter().filter(|step| step["kind"] == kind);
        found.collect::<Vec<_>>()
    };
    assert_eq!(of("ring").len(), 6);
    assert_eq!(of("stitch").len(), 15);
    assert_eq!(of("step-up").len(), 0);
    // Six beads lie on the string; the first stitch goes back through the fifth.
    let passes = |nth: usize| of("stitch")[nth]["passes"].to_string();
    let first: Vec<String> = (0..6).map(passes).collect();
    assert_eq!(
        first,
        ["[7,5]", "[8,3]", "[9,1]", "[10,9]", "[11,8]", "[12,7]"]
    );
}

#[test]
fn the_proof_reads_it() {
    let proofs = threadmark("verify a.json --json")
        .file("a.json", band())
        .objects("verify");
    assert_eq!(proofs[0]["proved"], true, "{}", proofs[0]);
    assert_eq!(proofs[0]["beads"], 21);
    assert_eq!(proofs[0]["rounds"], 7);
}

#[test]
fn its_rows_are_its_rounds() {
    let rounds = threadmark("rounds a.json --json")
        .file("a.json", band())
        .objects("rounds");
    let told: Vec<String> = rounds
        .iter()
        .map(|r| {
            format!(
                "{} {} {} {}",
                r["round"], r["direction"], r["beads"], r["total"]
            )
        })
        .collect();
    assert_eq!(told[0], r#"1 "onward" 3 3"#);
    assert_eq!(told[6], r#"7 "onward" 3 21"#);
}

/// Cylinder 11/0, 1.3 mm long and 1.6 mm wide: rows lie half a bead apart.
#[test]
fn its_beads_lie_flat_in_columns() {
    let beads = threadmark("beads a.json --json")
        .file("a.json", band())
        .objects("beads");
    let at = |bead: usize, axis: &str| beads[bead - 1][axis].as_f64().unwrap();
    assert!(beads.iter().all(|bead| bead["z"] == 0.0));
    assert!((at(2, "x") - at(1, "x") - 1.3).abs() < 1e-3);
    assert!((at(1, "y") - at(2, "y") - 0.8).abs() < 1e-3);
    // Row 3 begins over the last bead of the string.
    assert!((at(7, "x") - at(6, "x")).abs() < 1e-3);
    assert!((at(7, "y") - at(6, "y") - 1.6).abs() < 1e-3);
}

#[test]
fn plan_sheet_and_check_take_it_in() {
    let plans = threadmark("plan a.json --json")
        .file("a.json", band())
        .objects("plan");
    assert_eq!(plans[0]["total_beads"], 21);
    for to in ["html", "svg", "text"] {
        threadmark(&format!("sheet a.json --to {to} -o sheet.{to}"))
            .file("a.json", band())
            .run();
    }
    let told = threadmark("sheet a.json --to text")
        .file("a.json", band())
        .run();
    // The columns of odd rows lie between those of even ones.
    let [even, odd] = [34, 35].map(|spaces| format!("{}S S S", " ".repeat(spaces)));
    for line in [
        "row 1 below; the string begins on the left",
        "[ ] row     4  3 plain stitches; turn. Count 3; 12 in all.",
        &format!("    2{even}\n    1{odd}\n"),
    ] {
        assert!(told.contains(line), "{line}\n{told}");
    }
    let checks = threadmark("check a.json --job 1 --round 4 --count 3 --json")
        .file("a.json", band())
        .objects("check");
    assert_eq!(checks[0]["verdict"], "match");
    // A strip has no step-up to miss, and no corner to look at.
    let over = threadmark("check a.json --job 1 --round 4 --count 4")
        .file("a.json", band())
        .code(1)
        .run();
    assert!(over.contains("two beads in one gap"), "{over}");
    assert!(
        !over.contains("spirals") && !over.contains("corner"),
        "{over}"
    );
}

/// A strip has rows and no sides; it is no panel with corners.
#[test]
fn the_handout_speaks_of_rows() {
    let whole = threadmark("sheet a.json --to text").file("a.json", band());
    let text = whole.run();
    assert!(text.contains("\nStrip 'band': make 1\n"));
    assert!(text.contains("\n[ ] row     3  3 plain stitches; turn. Count 3; 9 in all."));
    assert!(text.contains("Work strip 'band' as drawn."));
    let page = whole.again("sheet a.json").run();
    for said in [">Rows of 'band',", ">Row</th>", ">In the row</th>"] {
        assert!(page.contains(said), "{said}");
    }
    for said in [
        "Each side",
        "ound of",
        "In the round",
        "Panel '",
        "the corners first, then",
    ] {
        assert!(!text.contains(said) && !page.contains(said), "{said}");
    }
}
