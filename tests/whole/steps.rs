//! `threadmark steps`.

use std::collections::HashSet;

use serde_json::Value;

use crate::builder::threadmark;
use crate::pattern::{folded_pair, inward, tetrahedron, triangle};

#[test]
fn the_text_says_what_to_do_and_where() {
    threadmark("steps a.json --from 9 --count 3")
        .file("a.json", triangle(3))
        .stdout(
            "\
Job 1: face
   9  Step up: sew through two beads (round 2 of 3 outward)
  10  Increase: pick up 2 S, sew through the next bead (round 3 of 3 outward, corner before side 1)
  11  Pick up 1 S, sew through the next bead (round 3 of 3 outward, side 1 of 3, bead 2 of 3)
",
        )
        .run();
}

#[test]
fn the_fields_stand_in_the_promised_order() {
    threadmark("steps a.json --json --from 9 --count 1")
        .file("a.json", triangle(3))
        .stdout(concat!(
            r#"{"format":1,"step":9,"job":"face","job_number":1,"kind":"step-up","round":2,"side":null,"#,
            r#""strings":[],"passes":[1,4],"text":"Step up: sew through two beads","#,
            r#""round_beads":6,"round_target":6}"#,
            "\n"
        ))
        .run();
}

/// Each strip has a thread of its own, and the last goes on into the round that draws
/// them together.
#[test]
fn inward_work_begins_with_a_strip_for_each_side() {
    let from_strips = inward(4).replace("\"inward\"", "\"inward-from-strips\"");
    let whole = threadmark("steps a.json").file("a.json", from_strips);
    let said = whole.run();
    let strip = "Pick up 1 S for the strip";
    assert_eq!(said.matches(strip).count(), 3 * 7, "{said}");
    assert_eq!(
        said.matches("The strip is whole: cut the thread").count(),
        2
    );
    assert!(said.contains("Draw this strip and the first together and step down"));
    assert_eq!(
        whole.again("verify a.json --json").objects("verify")[0]["proved"],
        true
    );
    let sheet = whole.again("sheet a.json --to text").run();
    assert!(
        sheet.contains("String a strip of rounds 4 and 3 for each side"),
        "{sheet}"
    );
}

#[test]
fn steps_count_from_one_without_holes() {
    let steps = threadmark("steps a.json --json")
        .file("a.json", folded_pair(5, 2))
        .objects("steps");
    for (n, step) in steps.iter().enumerate() {
        assert_eq!(step["step"], n as u64 + 1);
    }
}

#[test]
fn each_bead_is_strung_once_and_passed_in_that_step() {
    for pattern in [inward(6), tetrahedron(4), folded_pair(6, 3)] {
        let whole = threadmark("steps a.json --json").file("a.json", &pattern);
        let steps = whole.objects("steps");
        let beads = threadmark("beads a.json --json").file("a.json", &pattern);
        let beads = beads.objects("beads");
        let mut strung = HashSet::new();
        for step in &steps {
            for new in step["strings"].as_array().unwrap() {
                assert!(strung.insert(new["bead"].clone()), "twice: {step}");
                assert!(step["passes"].as_array().unwrap().contains(&new["bead"]));
                let bead = &beads[new["bead"].as_u64().unwrap() as usize - 1];
                assert_eq!(bead["colour"], new["colour"]);
                assert_eq!(bead["job"], step["job"]);
            }
            for bead in step["passes"].as_array().unwrap() {
                assert!(strung.contains(bead), "passed before it is strung: {step}");
            }
        }
        assert_eq!(strung.len(), beads.len());
    }
}

/// Working outward a step-up passes two beads, working inward a step-down:
/// any basics page, such as Facet Jewelry, "Tubular peyote", 2016; for the
/// step-down common practice, no source.
#[test]
fn a_step_up_and_a_step_down_pass_two_beads_and_string_none() {
    for pattern in [triangle(6), inward(6)] {
        let steps = threadmark("steps a.json --json")
            .file("a.json", pattern)
            .objects("steps");
        let turns: Vec<&Value> = steps
            .iter()
            .filter(|s| s["kind"] == "step-up" || s["kind"] == "step-down")
            .collect();
        assert!(turns.len() >= 4);
        for turn in turns {
            assert_eq!(turn["passes"].as_array().unwrap().len(), 2, "{turn}");
            assert_eq!(turn["strings"].as_array().unwrap().len(), 0, "{turn}");
        }
    }
}

#[test]
fn from_and_count_cut_the_same_steps_out() {
    let all = threadmark("steps a.json --json")
        .file("a.json", tetrahedron(3))
        .run();
    let cut = threadmark("steps a.json --json --from 41 --count 7")
        .file("a.json", tetrahedron(3))
        .run();
    let wanted: Vec<&str> = all.lines().skip(40).take(7).collect();
    assert_eq!(cut.lines().collect::<Vec<_>>(), wanted);
}

#[test]
fn no_step_past_the_end() {
    threadmark("steps a.json --from 999")
        .file("a.json", triangle(2))
        .stderr(
            "error: there is no step 999: the piece has 11 steps\n  \
             mend: give a number from 1 to 11 after --from\n",
        )
        .code(2)
        .run();
}

#[cfg(unix)]
#[test]
fn a_reader_that_has_seen_enough_is_no_error() {
    use crate::builder::{PROGRAM, prepare};
    use std::io::{BufRead, BufReader, Read};
    use std::process::{Command, Stdio};

    let whole = threadmark("").file("a.json", crate::pattern::ring(8, 20));
    let mut command = Command::new(PROGRAM);
    let mut child = prepare(&mut command, whole.dir())
        .args(["steps", "a.json", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut line = String::new();
    let mut stdout = BufReader::new(child.stdout.take().unwrap());
    stdout.read_line(&mut line).unwrap();
    drop(stdout);
    let mut said = String::new();
    child
        .stderr
        .take()
        .unwrap()
        .read_to_string(&mut said)
        .unwrap();
    assert_eq!(said, "");
    assert_eq!(child.wait().unwrap().code(), Some(0));
}
