//! `threadmark draft`.

use crate::builder::{Whole, threadmark};
use crate::list_of_changes::typed;
use serde_json::Value;

/// What is drafted loads, is proved and can be planned.
#[test]
fn every_shape_is_written_proved_and_planned() {
    for shape in [
        "triangle",
        "square",
        "pentagon",
        "hexagon",
        "tetrahedron",
        "octahedron",
        "icosahedron",
        "cube --rounds 7",
        "folded-pair",
        "ring --rounds 5 --tetrahedra 10",
    ] {
        let drafted = threadmark(&format!("draft {shape} -o new.json --json"));
        let lines = drafted.objects("draft");
        let plans = drafted.again("plan new.json --json").objects("plan");
        assert_eq!(lines[0]["total_beads"], plans[0]["total_beads"], "{shape}");
        assert_eq!(lines[0]["edge_mm"], plans[0]["size_mm"]["edge"], "{shape}");
        let proofs = drafted.again("verify new.json --json").objects("verify");
        assert_eq!(proofs[0]["proved"], true, "{shape}: {}", proofs[0]);
    }
}

#[test]
fn a_draft_is_told_of_and_named_after_its_shape() {
    let run = threadmark("draft tetrahedron --rounds 5").stdout(
        "tetrahedron.json: New tetrahedron, panels of 5 rounds, edge 13.0 to 13.8 mm, 204 beads
  see what it takes: threadmark plan tetrahedron.json
",
    );
    run.run();
    let written = std::fs::read_to_string(run.dir().join("tetrahedron.json")).unwrap();
    assert!(
        written.contains(r#""make": { "solid": "tetrahedron""#),
        "{written}"
    );
}

#[test]
fn a_file_that_is_there_stays_unless_forced() {
    let run = threadmark("draft triangle -o mine.json")
        .file("mine.json", "mine")
        .stderr(
            "error: mine.json is there already, and was left as it is\n  \
             mend: name another file with -o FILE, or add --force to write over it\n",
        )
        .code(2);
    run.run();
    let file = run.dir().join("mine.json");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "mine");
    run.again("draft triangle -o mine.json --force").run();
    assert!(std::fs::read_to_string(&file).unwrap().starts_with("{\n"));
    let files = std::fs::read_dir(run.dir()).unwrap();
    let names: Vec<_> = files.map(|f| f.unwrap().file_name()).collect();
    assert_eq!(names, ["mine.json"], "nothing else is left");
}

#[test]
fn a_draft_goes_to_standard_output_and_from_there_into_the_plan() {
    let printed = threadmark("draft folded-pair --rounds 6 -o -").run();
    let plans = threadmark("plan - --json").stdin(printed).objects("plan");
    assert_eq!(plans[0]["panels"][0]["rounds"], 6);
}

#[test]
fn a_stone_gets_its_opening() {
    let run = threadmark("draft folded-pair --stone 6.7 -o lamp.json");
    run.run();
    let plans = run.again("plan lamp.json --json").objects("plan");
    let stone = &plans[0]["openings"][0]["stone_mm"];
    assert!(stone[0].as_f64().unwrap() <= 6.7 && stone[1].as_f64().unwrap() >= 6.7);
}

#[test]
fn wishes_that_cannot_be_met_are_refused_with_a_mend() {
    threadmark("draft cube --rounds 6")
        .stderr(
            "error: panels of 6 rounds end with gaps at their corners and cannot be joined\n  \
             mend: take 7 rounds\n",
        )
        .code(2)
        .run();
    let run = threadmark("draft triangle --stone 6");
    let output = run.output();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.starts_with("error: no opening holds a stone of 6 mm\n  mend: take a stone of"),
        "{said}"
    );
    assert!(
        !run.dir().join("triangle.json").exists(),
        "nothing is written"
    );
}

#[test]
fn colours_and_beads_are_the_makers() {
    let run = threadmark("draft hexagon --rounds 9 --size")
        .arg("cylinder 8/0")
        .arg("--length")
        .arg("2.55")
        .arg("--bead")
        .arg("P:plum:#4a2145")
        .arg("--bead")
        .arg("C:cream:#f2e6c6");
    run.run();
    let written = std::fs::read_to_string(run.dir().join("hexagon.json")).unwrap();
    for words in [
        "\"plum\"",
        "\"#f2e6c6\"",
        "\"length_mm\": 2.55",
        "\"cylinder 8/0\"",
    ] {
        assert!(written.contains(words), "{words}\n{written}");
    }
}

/// Beads by their places, in the order in which they are strung.
fn beads(whole: &Whole, piece: &str) -> Vec<[Value; 4]> {
    let printed = whole.again(&format!("beads {piece} --json"));
    let place = |bead: &Value| ["colour", "round", "side", "place"].map(|f| bead[f].clone());
    printed.objects("beads").iter().map(place).collect()
}

/// Fills, rims, joins and ties that were changed at the needle: the pattern that is
/// drafted from the piece has the same beads, and is proved.
#[test]
fn changed_fills_rims_and_ties_are_drafted_as_they_are_worked() {
    let piece = "harbour-lantern";
    let call = format!("stitch {piece} --plain");
    let planned = threadmark(&format!("steps {piece} --json"));
    let planned = planned.objects("steps");
    let is_turn = |step: &&Value| {
        let job = step["job"].as_str().unwrap_or_default();
        step["kind"] == "step-down" && job.starts_with("Fill")
    };
    let turn = planned.iter().filter(is_turn).nth(1).expect("round 2");
    let in_the_fill = format!("g {}\n", turn["step"].as_u64().unwrap() + 1);
    for (before, words, answer, jobs) in [
        (
            "",
            &["Fill Face B", "leave it open"][..],
            "",
            "Reinforce the rim",
        ),
        ("", &["Fill Face B", "as far as a round"], "6\n", "Fill"),
        ("", &["Fill Face B", "holds a stone"], "6\n", "Fill"),
        (
            "",
            &["Fill Face B", "set in a finished"],
            "",
            "Set in Face B",
        ),
        ("", &["Fill Face B: leave this out"], "", "Fold and tie"),
        ("", &["Panel 5: do this next"], "", "Fold and tie"),
        (
            &in_the_fill,
            &["Fill Face B", "as far as round 7"],
            "",
            "Fill",
        ),
    ] {
        let whole = threadmark(&call).stdin(format!("\n\n\n{before}q\n"));
        whole.run();
        let typed = typed(&whole, &call, "", words);
        let said = whole
            .again(&call)
            .stdin(format!("{typed}\n{answer}\nq\n"))
            .run();
        assert!(said.contains("Changed."), "{words:?}: {said}");
        let drafted = whole
            .again(&format!("draft --from {piece} -o as-worked.json --json"))
            .objects("draft");
        assert_eq!(drafted[0]["shape"], Value::Null);
        let said = whole.again("verify as-worked.json").run();
        assert!(said.contains(": proved"), "{words:?}: {said}");
        let total = drafted[0]["total_beads"].clone();
        let (worked, drafted) = (beads(&whole, piece), beads(&whole, "as-worked.json"));
        assert_eq!(total, worked.len(), "{words:?}");
        assert_eq!(worked, drafted, "{words:?}");
        let steps = whole.again("steps as-worked.json --json").objects("steps");
        let is_there = |step: &Value| {
            step["job"]
                .as_str()
                .is_some_and(|job| job.starts_with(jobs))
        };
        assert!(steps.iter().any(is_there), "{words:?}");
    }
}
