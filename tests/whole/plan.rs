//! `threadmark plan`.

use crate::builder::threadmark;
use crate::pattern::{folded_pair, inward, lined_pair, pattern, ring, tetrahedron, triangle};

#[test]
fn the_plan_of_a_small_piece_in_words() {
    let page = threadmark("plan a.json").file("a.json", triangle(3)).run();
    for words in [
        "Evening star\n\nBeads\n",
        "in all 18 beads, 0.1 g",
        "edge 8.6 mm",
        "face: lies flat, F = 0.94",
        "the needle goes through every bead comfortably to the last",
        "Take care",
    ] {
        assert!(page.contains(words), "{words}\n{page}");
    }
    assert!(!page.contains("Does the ring turn?"), "{page}");
}

#[test]
fn the_object_has_the_promised_shape_for_every_piece() {
    for pattern in [
        triangle(3),
        inward(6),
        tetrahedron(5),
        folded_pair(6, 2),
        ring(6, 4),
        ring(8, 4),
    ] {
        let plans = threadmark("plan a.json --json --stone 6.7")
            .file("a.json", &pattern)
            .objects("plan");
        assert_eq!(plans.len(), 1);
    }
}

/// Counts, steps and passes are those that the other commands print.
#[test]
fn the_plan_says_what_steps_and_beads_say() {
    let run = |args: &str| threadmark(args).file("a.json", folded_pair(6, 2));
    let plan = &run("plan a.json --json").objects("plan")[0];
    let beads = run("beads a.json --json").objects("beads");
    let steps = run("steps a.json --json").objects("steps");
    assert_eq!(plan["total_beads"], beads.len());
    assert_eq!(plan["total_steps"], steps.len());
    let colours = plan["beads"].as_object().unwrap();
    for (letter, told) in colours {
        let count = beads.iter().filter(|b| b["colour"] == *letter).count();
        assert_eq!(told["count"], count, "{letter}");
    }
    let most = beads.iter().map(|b| b["passes"].as_u64().unwrap()).max();
    assert_eq!(plan["fullest"]["passes"].as_u64(), most);
    let fullest = plan["fullest"]["bead"].as_u64().unwrap() as usize;
    assert_eq!(beads[fullest - 1]["passes"].as_u64(), most);
    assert_eq!(beads[fullest - 1]["job"], plan["fullest"]["job"]);
    let starts = steps.iter().filter(|s| s["kind"] == "start-thread").count();
    assert_eq!(plan["threads"], starts);
}

#[test]
fn a_ring_of_six_binds_and_one_of_eight_turns() {
    // Six turn up to eight rounds a face: common practice, no source.
    for (tetrahedra, rounds, verdict) in [
        (6, 8, "turns"),
        (6, 9, "tight"),
        (6, 12, "binds"),
        (8, 4, "turns"),
    ] {
        let plans = threadmark("plan a.json --json")
            .file("a.json", ring(tetrahedra, rounds))
            .objects("plan");
        assert_eq!(plans[0]["ring"]["verdict"], verdict);
        assert_eq!(plans[0]["ring"]["turns"], verdict != "binds");
    }
}

#[test]
fn what_the_maker_sets_is_heeded() {
    let plan = |options: &str| {
        let args = format!("plan a.json --json {options}");
        let plans = threadmark(&args)
            .file("a.json", tetrahedron(5))
            .objects("plan");
        plans[0].clone()
    };
    let number = |value: &serde_json::Value| value.as_f64().unwrap();
    let usual = plan("");
    assert_eq!(
        number(&plan("--pace 12")["minutes"]),
        2.0 * number(&usual["minutes"])
    );
    assert!(number(&plan("--cut 500")["threads"]) > number(&usual["threads"]));
    let none_over = plan("--spare 0");
    let letter = none_over["beads"]
        .as_object()
        .unwrap()
        .values()
        .next()
        .unwrap();
    assert_eq!(
        (&letter["spare"], &letter["grams"]),
        (&0.into(), &letter["buy_grams"])
    );
    let inches = threadmark("plan a.json --inches")
        .file("a.json", tetrahedron(5))
        .run();
    assert!(inches.contains("edge 0.51 to 0.54 in"), "{inches}");
}

#[test]
fn thread_that_is_all_ends_is_refused() {
    threadmark("plan a.json --cut 300")
        .file("a.json", triangle(3))
        .stderr(
            "error: thread cut to 300 mm leaves nothing to sew with between its ends of 150 mm\n  \
             mend: give more than 300 mm after --cut\n",
        )
        .code(2)
        .run();
}

#[test]
fn all_patterns_of_ours_are_planned_and_fit_their_holes() {
    let patterns = concat!(env!("CARGO_MANIFEST_DIR"), "/patterns");
    for entry in std::fs::read_dir(patterns).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_str().unwrap();
        let plans = threadmark(&format!("plan {name} --json")).objects("plan");
        assert_ne!(plans[0]["fullest"]["verdict"], "blocked", "{name}");
        assert_eq!(plans[0]["thread"]["longer_than_cut"], 0, "{name}");
    }
}

/// An open tetrahedron with an insert: proved, its last step slips it in, and
/// one that is too large is told of.
#[test]
fn an_insert_is_made_and_slipped_into_the_open_face() {
    let cup = |rounds: u32| {
        let lining = format!("\"sides\": 3, \"rounds\": {rounds}");
        pattern(
            &[("face", "\"sides\": 3, \"rounds\": 8"), ("lining", &lining)],
            r#"{ "solid": "tetrahedron", "faces": ["face"], "close": "open", "insert": ["lining"] }"#,
        )
    };
    for (rounds, fits) in [(5, true), (6, false)] {
        let whole = threadmark("plan cup.json --json").file("cup.json", cup(rounds));
        let plan = &whole.objects("plan")[0];
        assert_eq!(plan["lining"]["rounds"], 5);
        assert_eq!(plan["lining"]["fits"], fits);
        let page = whole.again("plan cup.json").run();
        assert_eq!(page.contains("press against the walls"), !fits, "{page}");
        let sheet = whole.again("sheet cup.json --to text").run();
        let sheet = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            sheet.contains("slip the insert into the open face"),
            "{sheet}"
        );
        assert_eq!(sheet.contains("press against the walls"), !fits, "{sheet}");
        assert_eq!(
            whole.again("verify cup.json --json").objects("verify")[0]["proved"],
            true
        );
        let steps = whole.again("steps cup.json --json").objects("steps");
        let own = steps
            .iter()
            .rfind(|step| step["kind"] == "own")
            .expect("its own step");
        assert!(
            own["text"]
                .as_str()
                .unwrap()
                .contains("slip the insert into the open face")
        );
        let jobs: Vec<_> = steps
            .iter()
            .filter(|step| step["job"] == "Insert, face 3")
            .collect();
        assert!(!jobs.is_empty());
    }
}

/// A folded pair with both its faces open takes two, each slipped in when it is made.
#[test]
fn each_open_face_of_a_pair_takes_an_insert() {
    let whole = threadmark("steps pair.json --json").file("pair.json", lined_pair(8, 5));
    let steps = whole.objects("steps");
    let told: Vec<_> = steps
        .iter()
        .filter(|step| step["kind"] == "own")
        .map(|step| {
            (
                step["job"].as_str().unwrap(),
                step["text"].as_str().unwrap(),
            )
        })
        .collect();
    let [(first, one), (second, two)] = told[..] else {
        panic!("{told:?}");
    };
    assert!(
        first.contains("Insert 1, face 3") && second.contains("Insert 2, face 3"),
        "{told:?}"
    );
    assert!(one.contains("slip insert 1 into open face 1"), "{one}");
    assert!(two.contains("slip insert 2 into open face 2"), "{two}");
    let plan = &whole.again("plan pair.json --json").objects("plan")[0];
    assert_eq!(plan["lining"]["fits"], true);
}

/// A thread that the maker cut to 40 cm after 30 steps, and ended the one before.
#[test]
fn the_plan_of_a_piece_has_the_lengths_that_its_maker_cut() {
    let typed = format!("{}h n 40\nq\n", "\n".repeat(30));
    let whole = threadmark("stitch practice-triangle --plain").stdin(typed);
    whole.run();
    let said = whole.again("plan first-sail").run();
    let lines: Vec<_> = said
        .lines()
        .filter(|line| line.contains(", cut to "))
        .collect();
    let [first, second] = lines[..] else {
        panic!("two lengths: {said}");
    };
    assert!(
        first.starts_with("  length 1: ") && first.contains("cut to 1.50 m"),
        "{first}"
    );
    assert!(
        second.starts_with("  length 2: ") && second.contains("cut to 0.40 m"),
        "{second}"
    );
}
