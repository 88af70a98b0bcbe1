//! Without a pattern: a piece that is typed in gap by gap.

use crate::builder::{Whole, threadmark};
use crate::pattern::pattern;
use crate::pty::Screen;
use serde_json::Value;

fn printed(whole: &Whole, command: &str, piece: &str) -> Vec<Value> {
    let call = format!("{command} {piece} --json");
    whole.again(&call).objects(command)
}

/// Beads of the rounds as the piece has them now.
fn rounds(whole: &Whole, piece: &str) -> Vec<u64> {
    let rounds = printed(whole, "rounds", piece);
    let beads = rounds.iter().filter_map(|round| round["beads"].as_u64());
    beads.collect()
}

/// A six-sided piece from a ring of three, rounds 3, 6, 6, 12, 12, 12, 18:
/// J. Riggs, "Circular Peyote Hexagon Stars", 2020.
#[test]
fn a_paper_hexagon_is_typed_in() {
    let whole = threadmark("stitch --free Paper --ring 3");
    let mut screen = Screen::begun(&whole);
    screen
        .keys("<space> d")
        .sees("A number begins with the ring");
    // The side, and the side again; then a round as the one before.
    screen.keys("2 = =").sees("Round 2");
    screen.keys("1 1 = =").sees("Round 3");
    screen.keys("2 2 = =").sees("Round 4");
    screen.keys("1 1 1 1 = =").sees("Round 5");
    screen.keys("+").sees("Round 6");
    screen.keys("2 1 2 1 =");
    screen.keys("2 1 2").sees("Round 7").sees("Gap 12 of 12");
    screen
        .keys("2")
        .sees("Round 7 is whole. A number begins the next");
    // One too many: taken back, and put right.
    screen.keys("z").sees("Gap 12 of 12");
    screen.keys("1").sees("Round 7 is whole");
    screen.kill();
    assert_eq!(rounds(&whole, "paper"), [3, 6, 6, 12, 12, 12, 18]);
    whole.is_proved("paper");
    let steps = printed(&whole, "steps", "paper");
    let worked = steps.iter().filter(|step| step["worked"] == true);
    let strung: usize = worked
        .map(|step| step["strings"].as_array().map_or(0, Vec::len))
        .sum();
    assert_eq!(strung, 69);
    // It is found again by its name, and goes on.
    let mut screen = Screen::open(&whole.again("stitch paper"), 80, 24);
    screen
        .sees("You were at")
        .keys("<space> d")
        .sees("Round 7 is whole");
    screen.keys("1").sees("Gap 2 of 18").keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(rounds(&whole, "paper")[7], 18);
}

/// The same with its six corners marked, as docs/without-a-plan.md says: sides are
/// counted by them, and the pattern that is written of it says where they are.
#[test]
fn corners_are_marked_in_free_work() {
    let page = include_str!("../../docs/without-a-plan.md");
    for typed in ["`. 2` six times", "`1 1 = = = = =`, `+`, `1 2 = = = = =`"] {
        assert!(page.contains(typed), "{typed}");
    }
    let keys = "d 2 = = 1 1 = = . 2 . 2 . 2 . 2 . 2 . . . 2 1 1 = = = = = + 1 2 = = = = = esc q";
    let whole = threadmark("stitch --free Paper --ring 3 --plain")
        .stdin(format!("{}\n", keys.replace(' ', "\n")));
    let said = whole.run();
    for heard in [
        "2 corners marked, 1 more make sides",
        "6 corners marked, with a side between each two",
        "Gap 6 of 6, a corner",
    ] {
        assert!(said.contains(heard), "{heard}: {said}");
    }
    whole.is_proved("paper");
    assert_eq!(rounds(&whole, "paper"), [3, 6, 6, 12, 12, 12, 18]);
    let last = |piece: &str| printed(&whole, "rounds", piece)[6]["per_side"].clone();
    assert_eq!(last("paper"), serde_json::json!([3, 3, 3, 3, 3, 3]));
    whole.again("draft --from paper -o paper.json").run();
    let text = std::fs::read_to_string(whole.dir().join("paper.json")).expect("the pattern");
    assert!(text.contains("\"corner_beads\""), "{text}");
    whole.is_proved("paper.json");
    assert_eq!(last("paper.json"), last("paper"));
    let place = |bead: &Value| (bead["side"].clone(), bead["place"].clone());
    let beads = |piece: &str| -> Vec<_> {
        let beads = printed(&whole, "beads", piece);
        beads[51..].iter().map(place).collect()
    };
    assert_eq!(beads("paper.json"), beads("paper"));
}

/// Two triangles of three rounds a side, worked freely, and a side of each
/// joined: two beads in the row, as three gaps less one. The journal, the proof
/// and the pattern that is written have both panels and the join.
#[test]
fn a_second_panel_is_begun_and_joined_in_free_work() {
    let triangle = ". 2 . 2 . 2 2 1 2 1 2 1".replace(' ', "\n");
    let join = "j 1 1 1 2\nj 1 4 2 1\nj 1 1 2 2\n\n";
    let whole = threadmark("stitch --free Pair --ring 3 --plain").stdin(format!(
        "d\n{triangle}\n&\n\nz\n&\n\n{triangle}\n{join}esc\n\n\n\n\nq\n"
    ));
    let said = whole.run();
    for heard in [
        "Another panel, begun like 'work'",
        "Taken back: Another panel",
        "a panel cannot be joined to itself",
        "Join side 1 of work to side 2 of work 2",
    ] {
        assert!(said.contains(heard), "{heard}: {said}");
    }
    whole.is_proved("pair");
    assert_eq!(printed(&whole, "beads", "pair").len(), 2 * 18 + 2);
    let text = whole.again("draft --from pair -o pair.json").run();
    assert!(text.starts_with("pair.json: Pair, "), "{text}");
    whole.is_proved("pair.json");
    let place = |bead: &Value| {
        (
            bead["panel"].clone(),
            bead["side"].clone(),
            bead["place"].clone(),
        )
    };
    let beads = |piece: &str| -> Vec<_> {
        let beads = printed(&whole, "beads", piece);
        beads[36..].iter().map(place).collect()
    };
    assert_eq!(beads("pair.json"), beads("pair"));
}

/// A triangle by hand in the plain mode: each corner a pair.
#[test]
fn a_triangle_by_hand_in_the_plain_mode() {
    let whole = threadmark("stitch --free Sail --ring 3 --plain");
    let mut typed = "d\n".to_string();
    for round in 2..=6 {
        let side = format!("2\n{}", "1\n".repeat(round - 2));
        typed += &side.repeat(3);
    }
    whole
        .again("stitch --free Sail --ring 3 --plain")
        .stdin(format!("{typed}esc\nq\n"))
        .run();
    assert_eq!(rounds(&whole, "sail"), [3, 6, 9, 12, 15, 18]);
    whole.is_proved("sail");
    // The same beads as the triangle that is planned by its law.
    let beads = printed(&whole, "beads", "sail");
    assert_eq!(beads.len(), 63);
}

/// What was stitched freely by the law of a triangle is written by that law,
/// in one line; a round that is not lawful gap by gap.
#[test]
fn a_free_triangle_is_written_as_a_pattern_with_the_same_beads() {
    let typed = |gaps: &[u8]| -> String { gaps.iter().map(|beads| format!("{beads}\n")).collect() };
    let lawful = [
        &[2, 2, 2][..],
        &[2, 1, 2, 1, 2, 1],
        &[2, 1, 1, 2, 1, 1, 2, 1, 1],
    ]
    .concat();
    let own = [&lawful[..], &[2, 1, 1, 1, 2, 0, 1, 1, 2, 1, 1, 3]].concat();
    for (gaps, law) in [(lawful, true), (own, false)] {
        let whole = threadmark("stitch --free Sail --ring 3 --plain")
            .stdin(format!("d\n{}esc\nq\n", typed(&gaps)));
        whole.run();
        let said = whole.again("draft --from sail -o sail.json").run();
        assert!(said.starts_with("sail.json: Sail, "), "{said}");
        let text = std::fs::read_to_string(whole.dir().join("sail.json")).expect("the pattern");
        assert_eq!(text.contains("\"corners\": [2]"), law, "{text}");
        assert_eq!(text.contains("\"(2 1*2)*3\""), !law, "{text}");
        let said = whole.again("verify sail.json").run();
        assert!(said.contains(": proved"), "{said}");
        assert_eq!(rounds(&whole, "sail.json"), rounds(&whole, "sail"));
        let beads = |of: &str| {
            let beads = printed(&whole, "beads", of);
            let bead = |bead: &Value| {
                (
                    bead["bead"].clone(),
                    bead["colour"].clone(),
                    bead["round"].clone(),
                )
            };
            beads.iter().map(bead).collect::<Vec<_>>()
        };
        assert_eq!(beads("sail.json"), beads("sail"));
    }
}

/// A bead that runs out in a round of the maker's own: what is sewn keeps its
/// colour, and the round after it is as it was meant.
#[test]
fn a_bead_that_runs_out_in_a_free_round() {
    let whole = threadmark("stitch --free Sail --ring 3 --plain");
    let typed = |gaps: &str| gaps.replace(' ', "\n");
    let before = typed("d 2 2 2 2 1 2 1 esc ");
    let after = typed("d 2 1 2 1 1 2 1 1 2 1 1 esc q ");
    whole
        .again("stitch --free Sail --ring 3 --plain")
        .stdin(format!("{before}m c A B\n\n\n{after}"))
        .run();
    assert_eq!(rounds(&whole, "sail"), [3, 6, 9, 12]);
    whole.is_proved("sail");
    let beads = printed(&whole, "beads", "sail");
    let letters = beads.iter().map(|bead| bead["colour"].as_str());
    let colours: String = letters.map(Option::unwrap_or_default).collect();
    let meant = format!("{}BBB{}", "A".repeat(15), "A".repeat(12));
    assert_eq!(colours, meant);
}

/// The letters of the beads as they are strung.
fn colours(whole: &Whole, piece: &str) -> String {
    let beads = printed(whole, "beads", piece);
    let letters = beads.iter().map(|bead| bead["colour"].as_str());
    letters.map(Option::unwrap_or_default).collect()
}

/// A letter chooses the bead, two letters two beads of one gap; a side and a
/// round are worked again with their beads; it is the same in the plain mode.
#[test]
fn letters_choose_the_beads_and_are_worked_again_with_side_and_round() {
    // The ring of C; round 2 of A and B in each gap, round 3 in two colours a
    // side, round 4 the same.
    let keys = "d C 2 A B 2 z z A B 2 = A 1 B 1 = = + C 1";
    // The second gap was taken back, and what was chosen for it.
    let meant = "CCC CCABAB ABABAB ABABAB CCCCCC";
    for plain in [false, true] {
        let whole = threadmark("stitch --free Sail --ring 3 --plain");
        match plain {
            true => {
                _ = whole
                    .again("stitch --free Sail --ring 3 --plain")
                    .stdin(format!("{}\nesc\nq\n", keys.replace(' ', "\n")))
                    .run()
            }
            false => {
                let mut screen = Screen::begun(&whole.again("stitch --free Sail --ring 3"));
                screen.keys("<space>").keys(keys).keys("<esc> q");
                assert_eq!(screen.ends().0, 0);
            }
        }
        assert_eq!(colours(&whole, "sail"), meant.replace(' ', ""), "{plain}");
        whole.is_proved("sail");
    }
}

/// In a piece of a pattern the beads chosen are for the gaps worked so; what comes
/// after them has the pattern's colours, round a bead too many as well.
#[test]
fn after_esc_the_rest_has_the_colours_of_the_pattern() {
    let fields = r#""sides": 3, "rounds": 5, "colours": ["all: S*", "5: A S* A"]"#;
    let file = pattern(&[("face", fields)], r#"{ "panel": "face" }"#);
    let edge = "AASSS".repeat(3);
    let stitched = |keys: &str| {
        let whole = threadmark("stitch a.json --plain").file("a.json", file.clone());
        let typed = whole.again("stitch a.json --plain");
        let keys = keys.replace(' ', "\n");
        typed.stdin(format!("\n{keys}\nq\n")).run();
        whole.is_proved("evening-star");
        colours(&whole, "evening-star")
    };
    let meant = ["SSS", "SSAASS", "SSSSSSSSS", "SSSSSSSSSSSS", &edge];
    assert_eq!(stitched("d 2 A 2 S 2 esc"), meant.concat());
    // Two beads in the second gap of round 3, where the pattern has one.
    let longer = stitched("d 2 2 2 A 2 2 esc");
    assert_eq!(longer[..13], *"SSSSSSSSSAAAA");
    let (round_3_and_4, edge) = longer[13..].split_at(longer.len() - 13 - 16);
    assert_eq!(round_3_and_4.matches('A').count(), 0, "{longer}");
    assert_eq!(edge.matches('A').count(), 6, "{longer}");
}

/// Inward from a string of rounds 5 and 4 of a triangle, corners drawn together
/// by hand; and a strip row by row, each row with its beads.
#[test]
fn a_piece_begins_with_a_string_or_a_strip() {
    let stitched = |call: &str, keys: &str| {
        let whole = threadmark(&format!("stitch --free Sail --ring 3 --plain {call}"))
            .stdin(format!("{}\n", keys.replace(' ', "\n")));
        whole.run();
        whole.is_proved("sail");
        whole
    };
    // By the law of a triangle, but for a bead at the second corner of round 3,
    // which has one more then.
    let whole = stitched("--start string --size 5", "d 1 1 1 0 1 1 1 1 1 1 1 0 esc q");
    assert_eq!(rounds(&whole, "sail"), [15, 12, 10, 7, 4]);
    let whole = stitched(
        "--start strip --size 6",
        "d A 1 1 B 1 + A B 1 1 2 1 + esc q",
    );
    // Two beads in the last gap of row 5 make row 6 wider.
    let row = ["AAAAAA", "AAB", "AAB", "AAAB", "AAAA"].concat();
    assert_eq!(colours(&whole, "sail"), row);
    let refused = threadmark("stitch --free Sail --ring 3 --plain --start strip --size 7").output();
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(said.contains("give --size 8"), "{said}");
    assert_eq!(refused.status.code(), Some(2));
}

/// Three rounds of a triangle by hand, and the planner goes on by their law;
/// it is taken back, planned for more rounds, and left again by hand.
#[test]
fn the_rest_is_planned_by_the_law_of_the_last_rounds() {
    let typed = |keys: &str| keys.replace(' ', "\n");
    let by_hand = "d 2 = = 2 1 = = 2 1 1 = = ";
    let stitched = |keys: &str| {
        let whole = threadmark("stitch --free Sail --ring 3 --plain").stdin(format!(
            "{}{}",
            typed(by_hand),
            keys
        ));
        (whole.run(), whole)
    };
    let (said, whole) = stitched(">\n3\n\nz\n> 4\n\nesc\nq\n");
    assert!(
        said.contains("corners of 2 next, again and again"),
        "{said}"
    );
    assert!(
        said.contains("Taken back: work: the rounds to come are planned again, to round 7"),
        "{said}"
    );
    assert_eq!(rounds(&whole, "sail"), [3, 6, 9, 12, 15, 18, 21, 24]);
    whole.is_proved("sail");
    // Plain corners by choice; and a law that cannot follow says why.
    let (said, whole) = stitched("> 2,0\n> 2, 1 0\n\nesc\nq\n");
    assert!(
        said.contains("after two beads or none a corner takes one or two"),
        "{said}"
    );
    assert_eq!(rounds(&whole, "sail"), [3, 6, 9, 12, 12, 12]);
    // One gap by hand leaves the rest of the law.
    let (_, whole) = stitched("> 3\n\n2\n1\n2\nesc\nq\n");
    assert_eq!(rounds(&whole, "sail"), [3, 6, 9, 12, 16, 16, 16]);
    whole.is_proved("sail");
}

/// The thread is ended in the middle of a round, and the next gap goes on with
/// a new one.
#[test]
fn a_thread_is_ended_in_free_work() {
    let keys = "d 2 = = 2 1 ; 2 1 2 1 esc q".replace(' ', "\n");
    let whole = threadmark("stitch --free Sail --ring 3 --plain").stdin(format!("{keys}\n"));
    let said = whole.run();
    assert!(said.contains("Changed. The thread ends here"), "{said}");
    assert_eq!(rounds(&whole, "sail"), [3, 6, 9]);
    whole.is_proved("sail");
    let steps = printed(&whole, "steps", "sail");
    let ends = |kind: &str| {
        let worked = steps.iter().filter(|step| step["worked"] == true);
        worked.filter(|step| step["kind"] == kind).count()
    };
    assert_eq!((ends("end-thread"), ends("start-thread")), (1, 2));
}

/// More rounds than one thread reaches: it is ended and a new one begun in the
/// middle, and the needle goes on to the next gap by itself.
#[test]
fn free_work_goes_on_over_the_end_of_a_thread() {
    let gaps = "1\n".repeat(12);
    let whole = threadmark("stitch --free Tube --ring 12 --plain")
        .stdin(format!("d\n{gaps}{}esc\nq\n", "+\n".repeat(40)));
    whole.run();
    assert_eq!(rounds(&whole, "tube"), [12; 42]);
    let steps = printed(&whole, "steps", "tube");
    let worked = steps.iter().filter(|step| step["worked"] == true);
    let ends = worked.filter(|step| step["kind"] == "end-thread").count();
    assert!(ends > 0, "one thread reached");
    whole.is_proved("tube");
}

/// A strip more beside a strip, and a face more beside a solid: each is begun
/// where it stands in the plan, and the whole is proved.
#[test]
fn another_panel_is_begun_beside_a_strip_and_beside_a_solid() {
    let row = "1\n1\n";
    let whole = threadmark("stitch --free Ribbon --start strip --size 4 --plain")
        .stdin(format!("d\n{}&\n\n{row}esc\nq\n", row.repeat(3)));
    let said = whole.run();
    assert!(said.contains("Row 5 is whole"), "{said}");
    // Rows 1 and 2 together, then those worked.
    assert_eq!(rounds(&whole, "ribbon"), [2; 5 + 3]);
    whole.is_proved("ribbon");
    whole.again("draft --from ribbon -o two.json").run();
    whole.is_proved("two.json");
    assert_eq!(rounds(&whole, "two.json"), [2; 5 + 3]);
    for to in ["html", "svg", "text"] {
        whole
            .again(&format!("sheet two.json --to {to} -o two.{to}"))
            .run();
    }

    let whole = threadmark("stitch practice-pair --plain").stdin("\ng\n48\nm\n\n\nq\n");
    let said = whole.run();
    let changed = "Changed. Another panel, begun like 'near'";
    assert!(said.contains(changed), "{said}");
    whole.is_proved("pair-of-sails");
    let beads = printed(&whole, "beads", "pair-of-sails");
    // Two triangles of three rounds and a row of two, and the triangle that is added.
    assert_eq!(beads.len(), 2 * 18 + 2 + 18);
    whole
        .again("draft --from pair-of-sails -o three.json")
        .run();
    whole.is_proved("three.json");
    assert_eq!(printed(&whole, "beads", "three.json").len(), beads.len());
}

/// The needle is sewn through to a bead that is typed, and to one that is
/// pointed at; the next gap is gone back to, the holes count the thread, the
/// pattern that is written has the same beads, and z takes all of it back.
#[test]
fn the_needle_is_sewn_through_to_a_bead_in_free_work() {
    let typed = "d\n2\n=\n=\n1\n1\n* 9 9 9\n* 1 2 1\n";
    let whole = threadmark("stitch --free Sail --ring 3 --plain")
        .stdin(format!("{typed}1\n*\ntab\n\nesc\nq\n"));
    let said = whole.run();
    for heard in [
        "There is no such bead.",
        "Sewn through A (round 2 side 2 bead 2), A (round 1 side 2 bead 1).",
        "Round 3, side 2: 3 so far. Gap 4 of 6",
        "To work, round 2, side 3, bead 1: through 2 beads",
    ] {
        assert!(said.contains(heard), "{heard}: {said}");
    }
    whole.is_proved("sail");
    let worked = |steps: &[Value]| -> Vec<Value> {
        let worked = steps.iter().filter(|step| step["worked"] == true);
        worked.cloned().collect()
    };
    let steps = worked(&printed(&whole, "steps", "sail"));
    let passed = steps.iter().filter(|step| step["kind"] == "pass-through");
    assert!(passed.count() >= 3, "there, back, and there: {steps:?}");
    let last = steps.last().expect("a step");
    assert_eq!(
        (&last["kind"], last["strings"].as_array().map(Vec::len)),
        (&"pass-through".into(), Some(0))
    );
    let through = steps
        .iter()
        .flat_map(|step| step["passes"].as_array().cloned().unwrap_or_default());
    let second = through.filter(|bead| *bead == 2).count() as u64;
    let bead = &printed(&whole, "beads", "sail")[1];
    assert!(bead["passes"].as_u64() >= Some(second), "{bead} {second}");
    whole.again("draft --from sail -o sail.json").run();
    whole.is_proved("sail.json");
    let place =
        |bead: &Value| ["colour", "round", "side", "place"].map(|field| bead[field].clone());
    let beads =
        |piece: &str| -> Vec<_> { printed(&whole, "beads", piece).iter().map(place).collect() };
    assert_eq!(beads("sail.json"), beads("sail"));
    // The way, then the change, is taken back.
    let said = whole
        .again("stitch sail --plain")
        .stdin("d\nz\nz\nesc\nq\n")
        .run();
    assert!(said.contains("Taken back: Sew through to bead"), "{said}");
    whole.is_proved("sail");
}

/// Without a shape it is asked for, in the plain mode and on the screen, and a
/// name where none is given; the piece is found again by it.
#[test]
fn what_a_free_piece_begins_with_is_asked_for() {
    let whole = threadmark("stitch --free --plain");
    let typed = "rope\nring 40\nring 6\n\nPaper\nd\n1\nesc\nq\n";
    let said = whole.again("stitch --free --plain").stdin(typed).run();
    for heard in [
        "What does the piece begin with?",
        "Type a word and a number: ring 3",
        "3 to 12 beads",
        "Type a name first",
        "Gap 2 of 6",
    ] {
        assert!(said.contains(heard), "{heard}: {said}");
    }
    assert_eq!(rounds(&whole, "paper"), [6, 6]);
    // A piece that is known goes on, and its name is no other's.
    let said = whole
        .again("stitch --free Paper --plain")
        .stdin("d\n2\nesc\nq\n")
        .run();
    assert!(said.contains("Gap 3 of 6"), "{said}");
    let said = whole
        .again("stitch --free --plain")
        .stdin("strip 4\nPaper\n")
        .run();
    assert!(said.contains("A piece is called that already"), "{said}");
    // On the screen, with the name given; then from the tray.
    let mut screen = Screen::open(&whole.again("stitch --free Band"), 80, 24);
    screen
        .sees("What does the piece begin with?")
        .keys("s t r i p <space> 5 <enter>");
    screen.sees("an even number").keys("<backspace> 4 <enter>");
    screen
        .sees("Band")
        .keys("<space> t")
        .sees("Your tray")
        .keys("n");
    screen
        .sees("What does the piece begin with?")
        .keys("s t r i n g <space> 3 <enter>");
    screen
        .sees("What is the piece called?")
        .keys("B a n d <enter>");
    screen
        .sees("A piece is called that already")
        .keys("2 <enter>");
    screen.sees("Band2").keys("<space> q");
    screen.ends();
    assert_eq!(printed(&whole, "rounds", "band").len(), 2);
    assert_eq!(rounds(&whole, "band2"), [9, 6, 3]);
}

/// The pattern of a free piece whose later rounds keep to corners says them in
/// one line; a first gap may be empty.
#[test]
fn rounds_that_keep_to_corners_are_written_in_one_line() {
    let keys =
        "d 2 = = 1 1 = = 2 2 = = 1 1 1 1 = = + 1 2 1 2 = = 1 1 1 1 1 1 = = + 2 1 1 2 1 1 = = esc q";
    let whole = threadmark("stitch --free Paper --ring 3 --plain")
        .stdin(format!("{}\n", keys.replace(' ', "\n")));
    whole.run();
    assert_eq!(
        rounds(&whole, "paper"),
        [3, 6, 6, 12, 12, 12, 18, 18, 18, 24]
    );
    whole.again("draft --from paper -o paper.json").run();
    let text = std::fs::read_to_string(whole.dir().join("paper.json")).expect("the pattern");
    for line in [
        r#""words": ["2*3", "1*6", "2*6"]"#,
        r#""corners": [1, 0, 2]"#,
    ] {
        assert!(text.contains(line), "{text}");
    }
    whole.is_proved("paper.json");
    let place =
        |bead: &Value| ["colour", "round", "side", "place"].map(|field| bead[field].clone());
    let beads =
        |piece: &str| -> Vec<_> { printed(&whole, "beads", piece).iter().map(place).collect() };
    assert_eq!(beads("paper.json"), beads("paper"));

    let keys = "d 2 = = 0 2 1 1 1 1 1 1 1 1 1 1 esc q";
    let whole = threadmark("stitch --free Sail --ring 3 --plain")
        .stdin(format!("{}\n", keys.replace(' ', "\n")));
    whole.run();
    whole.is_proved("sail");
    whole.again("draft --from sail -o sail.json").run();
    whole.is_proved("sail.json");
    let sewn = |piece: &str| -> Vec<Value> {
        let steps = printed(&whole, "steps", piece).into_iter();
        steps.map(|step| step["passes"].clone()).collect()
    };
    assert_eq!(sewn("sail.json"), sewn("sail"));
}
