//! Colours that change on the way: what is sewn keeps its colour, and what is
//! printed of the piece says so.

use serde_json::Value;

use crate::builder::{Whole, threadmark};
use crate::pattern::tetrahedron;
use crate::pty::Screen;

const PIECE: &str = "evening-star";

fn json(whole: &Whole, call: &str) -> Vec<Value> {
    let command = call.split(' ').next().unwrap_or_default();
    whole.again(&format!("{call} --json")).objects(command)
}

/// The colours of all beads, bead 1 first, as `beads` and `steps` say them.
fn colours(whole: &Whole) -> String {
    let letter = |bead: &Value| bead["colour"].as_str().unwrap_or_default().to_string();
    let beads: String = json(whole, &format!("beads {PIECE}"))
        .iter()
        .map(letter)
        .collect();
    let steps = json(whole, &format!("steps {PIECE}"));
    let strung = steps.iter().flat_map(|step| step["strings"].as_array());
    let strung: String = strung.flatten().map(letter).collect();
    assert_eq!(beads, strung);
    beads
}

/// How many beads of each letter the plan asks for.
fn planned(whole: &Whole, letter: &str) -> u64 {
    let plan = &json(whole, &format!("plan {PIECE}"))[0];
    plan["beads"][letter]["count"].as_u64().unwrap_or_default()
}

/// A tetrahedron of four rounds a face. Round 4 of its first face is beads 19
/// to 30; four of them are sewn.
fn in_round_four() -> (Whole, Screen) {
    let whole = threadmark("stitch a.json").file("a.json", tetrahedron(4));
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>");
    let steps = json(&whole, &format!("steps {PIECE}"));
    let strings = |step: &&Value| {
        let beads = step["strings"].as_array().expect("a list");
        beads.iter().any(|bead| bead["bead"] == 23)
    };
    let step = steps.iter().find(strings).expect("a step")["step"].clone();
    screen
        .keys(&format!("g {step} <enter>"))
        .sees(&format!("step {step} of"));
    (whole, screen)
}

#[test]
fn a_colour_that_runs_out_in_the_middle_of_a_round() {
    let (whole, mut screen) = in_round_four();
    let all = json(&whole, &format!("beads {PIECE}")).len();
    let plain = "S".repeat(all);
    assert_eq!(colours(&whole), plain);
    screen.keys("m").sees("c another bead");
    screen
        .keys("c")
        .sees("Which bead runs out")
        .sees("S (sea green):");
    screen.keys("S").sees("Which bead instead of S?");
    screen.keys("A").sees("A instead of S: how far?");
    screen.sees("This round: round 4 of Face 1: 8 beads");
    screen.keys("<enter>").sees("No movement changes");
    screen.sees("A (amber) still to come: before 0 (0.00 g), after 8 (0.04 g)");
    assert_eq!(colours(&whole), plain, "nothing is confirmed yet");
    screen
        .keys("<enter>")
        .says("Changed. A instead of S in round 4 of Face 1");
    screen.kill();
    let changed = format!(
        "{}{}{}",
        "S".repeat(22),
        "A".repeat(8),
        "S".repeat(all - 30)
    );
    assert_eq!(colours(&whole), changed);
    assert_eq!(planned(&whole, "A"), 8);
    assert_eq!(planned(&whole, "S"), all as u64 - 8);
    whole.is_proved(PIECE);
    // That face is told by itself on the handout, the other three together.
    let sheet = &json(&whole, &format!("sheet {PIECE} --to text"))[0];
    let made: Vec<_> = sheet["panels"].as_array().expect("a list").iter().collect();
    let made: Vec<u64> = made
        .iter()
        .filter_map(|kind| kind["make"].as_u64())
        .collect();
    assert_eq!(made, [1, 3]);

    // Opened again it goes on so; back and on again changes no colour.
    let mut again = Screen::open(&whole.again(&format!("stitch {PIECE}")), 80, 24);
    again.sees("You were at").keys("<space>");
    again.rush("<space>3").keys("- - z").says("Taken back: ");
    assert_eq!(colours(&whole), changed, "a movement was taken back");
    again.keys("q");
    assert_eq!(again.ends().0, 0);
    assert_eq!(colours(&whole), changed);
}

#[test]
fn a_change_of_colour_is_taken_back_by_name() {
    let (whole, mut screen) = in_round_four();
    let plain = colours(&whole);
    screen.keys("m c S A <down> <enter> <enter>");
    screen.says("A instead of S in the rest of Face 1 and its join rows");
    let changed = colours(&whole);
    assert!(changed[..22].chars().all(|c| c == 'S') && changed[22..30] == *"AAAAAAAA");
    assert_ne!(changed, plain);
    screen
        .keys("z")
        .says("Taken back: A instead of S in the rest of Face 1");
    assert_eq!(colours(&whole), plain);
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn a_bead_that_the_pattern_lacks_in_the_plain_mode() {
    let (whole, mut screen) = in_round_four();
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    let plain = |typed: &str| {
        let call = format!("stitch {PIECE} --plain");
        whole.again(&call).stdin(typed).run()
    };
    let said = plain("m n\nA plum\nesc\nq\n");
    assert!(said.contains("A stands for another bead already"), "{said}");
    let said = plain("m n\np plum\nesc\nq\n");
    assert!(said.contains("small letters stand for joins"), "{said}");
    let said = plain("m n\nP plum, #4a2145\n\nq\n");
    assert!(said.contains("Changed. A bead more: P (plum)"), "{said}");
    // Everything to come in it; what is sewn stays.
    let said = plain("m c S P\ndown\ndown\n\n\nq\n");
    assert!(
        said.contains("P instead of S in everything still to come"),
        "{said}"
    );
    let changed = colours(&whole);
    let expected = format!("{}{}", "S".repeat(22), "P".repeat(changed.len() - 22));
    assert_eq!(changed, expected);
    let plan = &json(&whole, &format!("plan {PIECE}"))[0];
    assert_eq!(plan["beads"]["P"]["name"], "plum");
    whole.is_proved(PIECE);
    let said = plain("z\nz\nq\n");
    assert!(said.contains("Taken back: P instead of S"), "{said}");
    assert!(said.contains("Taken back: A bead more: P (plum)"), "{said}");
    assert!(colours(&whole).chars().all(|c| c == 'S'));
}

/// Paint on a sewn face leaves it alone, and the pattern file gets what the
/// next panel would have, with a bead that was added.
#[test]
fn paint_and_a_new_bead_are_written_to_the_pattern() {
    let (whole, mut screen) = in_round_four();
    screen.keys("m n").sees("The bead:");
    screen
        .keys("P <space> p l u m <enter>")
        .sees("P (plum) still to come");
    screen
        .keys("<enter>")
        .says("Changed. A bead more: P (plum)");
    screen
        .keys("f c P s s s s <space>")
        .says("to come are P now, alike in");
    let painted = colours(&whole);
    assert!(painted[..22].chars().all(|c| c == 'S'), "{painted}");
    screen.keys("w <enter>").sees("Written to ");
    screen.keys("<esc> <esc> q");
    assert_eq!(screen.ends().0, 0);
    let text = std::fs::read_to_string(whole.dir().join("a.json")).expect("the file");
    let bead = r##""P": { "name": "plum", "size": "cylinder 11/0", "colour": "#808080" }"##;
    assert!(text.contains(bead), "{text}");
    let next = whole.again("beads a.json --json").objects("beads");
    let plum = next.iter().filter(|bead| bead["colour"] == "P").count();
    assert!(plum > 0 && plum as u64 >= planned(&whole, "P"), "{plum}");
}
