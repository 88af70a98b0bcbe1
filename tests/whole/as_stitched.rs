//! As stitched: a bead too many becomes part of the work.

use crate::builder::{Whole, threadmark};
use crate::pattern::{pattern, triangle};
use crate::pty::Screen;
use serde_json::Value;

const PIECE: &str = "evening-star";

fn printed(whole: &Whole, command: &str) -> Vec<Value> {
    let call = format!("{command} {PIECE} --json");
    whole.again(&call).objects(command)
}

/// Beads of the rounds as the piece has them now.
fn rounds(whole: &Whole) -> Vec<u64> {
    let rounds = printed(whole, "rounds");
    let beads = rounds.iter().filter_map(|round| round["beads"].as_u64());
    beads.collect()
}

/// The step that works the `nth` gap (from 1) of a round.
fn step_of(whole: &Whole, round: u64, nth: usize) -> u64 {
    let steps = printed(whole, "steps");
    let mut steps = steps.iter().filter(|step| step["round"] == round);
    steps
        .nth(nth - 1)
        .and_then(|step| step["step"].as_u64())
        .expect("such a step")
}

/// A triangle of 9 rounds in hand at the 16th gap of round 7, and the step of
/// a plain gap of round 5.
fn in_round_7(whole: &Whole) -> (Screen, u64) {
    let mut screen = Screen::begun(whole);
    screen.keys("<space>");
    let (slip, now) = (step_of(whole, 5, 7), step_of(whole, 7, 16));
    screen.keys(&format!("g {now} <enter>"));
    screen.sees(&format!("step {now} of"));
    (screen, slip)
}

/// Goes down the list to a line with these words.
fn choose(screen: &mut Screen, words: &str) {
    let mut tries = 0;
    while !screen
        .text()
        .lines()
        .any(|l| l.contains('▶') && l.contains(words))
    {
        screen.keys("<down>");
        tries += 1;
        assert!(tries < 20, "no line with {words}:\n{}", screen.text());
    }
}

const MEANT: [u64; 9] = [3, 6, 9, 12, 15, 18, 21, 24, 27];
const KEPT: [u64; 9] = [3, 6, 9, 12, 16, 19, 22, 25, 28];
const EASED: [u64; 9] = [3, 6, 9, 12, 16, 19, 22, 24, 27];

#[test]
fn a_bead_too_many_in_round_5_is_found_in_round_7_and_eased_in_round_8() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(9));
    let (mut screen, slip) = in_round_7(&whole);
    assert_eq!(rounds(&whole), MEANT);
    let planned = printed(&whole, "steps");
    screen.keys("m").sees("What should change");
    choose(&mut screen, "A gap worked before");
    screen.keys(&format!("<enter> {slip} <space> 2 <enter>"));
    screen.sees("How did the rounds since go over it?");
    choose(&mut screen, "plainly");
    screen.keys("<enter>").sees("Beads: before 135, after 140");
    screen.keys("<enter>").sees("Changed.");
    screen.kill();
    assert_eq!(rounds(&whole), KEPT);
    whole.is_proved(PIECE);

    let mut screen = Screen::open(&whole.again(&format!("stitch {PIECE}")), 80, 24);
    screen.sees("You were at").keys("<space> m");
    choose(&mut screen, "back to the pattern in round 8");
    screen
        .keys("<enter>")
        .sees("after 138")
        .keys("<enter>")
        .sees("Changed.");
    assert_eq!(rounds(&whole), EASED);
    whole.is_proved(PIECE);
    // To its end, counting on the way.
    screen.rush("<space>90").sees("steps done");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    whole.is_proved(PIECE);
    let worked = printed(&whole, "steps");
    assert!(worked.iter().all(|step| step["worked"] == true));

    // All of it taken back.
    let call = format!("stitch {PIECE} --plain");
    let back = whole
        .again(&call)
        .stdin(format!("{}q\n", "z\n".repeat(120)));
    assert!(back.run().contains("what you said of the work done before"));
    assert_eq!(rounds(&whole), MEANT);
    let again = printed(&whole, "steps");
    assert_eq!(again.len(), planned.len());
}

/// At the needle, in the plain mode; and what the count says of it.
#[test]
fn two_beads_in_a_gap_at_the_needle_count_in_the_plain_mode() {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(4));
    whole.again("stitch a.json --plain").stdin("\n\nq\n").run();
    let at = step_of(&whole, 3, 2);
    let call = format!("stitch {PIECE} --plain");
    let typed = |typed: &str| whole.again(&call).stdin(typed).run();
    let said = typed(&format!("g {at}\nm\nesc\nq\n"));
    let rows = said
        .lines()
        .skip_while(|l| !l.starts_with("What should change"))
        .skip(1);
    let nth = rows
        .take_while(|l| !l.contains("as stitched: 2 beads"))
        .count();
    let said = typed(&format!("m\n{}\n\nq\n", "down\n".repeat(nth)));
    assert!(said.contains("Changed."), "{said}");
    assert_eq!(rounds(&whole), [3, 6, 10, 13]);
    whole.is_proved(PIECE);
    // A movement back takes the bead out again.
    typed("z\nq\n");
    assert_eq!(rounds(&whole), MEANT[..4]);
}

/// Two beads go into a gap of a join row, seen at the needle, and another gap
/// is found empty later: counts, the handout, the zip and the proof follow; in
/// the plain mode, too, and all of it is taken back.
#[test]
fn gaps_of_a_join_row_stay_as_stitched_and_the_zip_follows() {
    const LANTERN: &str = "harbour-lantern";
    let whole = threadmark(&format!("stitch {LANTERN}"));
    let planned = threadmark(&format!("steps {LANTERN}")).run();
    let steps = || whole.again(&format!("steps {LANTERN}")).run();
    let objects = || {
        let call = format!("steps {LANTERN} --json");
        whole.again(&call).objects("steps")
    };
    let proved = || {
        let said = whole.again(&format!("verify {LANTERN}")).run();
        assert!(said.contains(": proved"), "{said}");
    };
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>");
    let of_row = |step: &&Value| {
        let job = step["job"].as_str().unwrap_or_default();
        job == "Join row on Panel 1, sides 1 and 2" && step["side"] == 2 && step["kind"] == "stitch"
    };
    let row: Vec<u64> = (objects().iter().filter(of_row))
        .filter_map(|step| step["step"].as_u64())
        .collect();
    assert_eq!(row.len(), 7, "a side of 8 has 7 gaps");
    screen.keys(&format!("g {} <enter>", row[3]));
    screen.sees(&format!("step {} of", row[3])).keys("m");
    choose(&mut screen, "This gap, as stitched: 2 beads");
    screen.keys("<enter>").sees("Beads: before 930, after 931");
    screen.keys("<enter>").sees("Changed.").kill();
    proved();
    let plain = |typed: &str| {
        let call = format!("stitch {LANTERN} --plain");
        whole.again(&call).stdin(typed).run()
    };
    // Three more, and the second gap is found to be empty.
    let said = plain("\n\n\n\nm\nesc\nq\n");
    let rows = said
        .lines()
        .skip_while(|l| !l.starts_with("What should change"));
    let at = rows.skip(1).position(|l| l.contains("A gap worked before"));
    let down = "down\n".repeat(at.unwrap_or_else(|| panic!("the row:\n{said}")));
    let said = plain(&format!("m\n{down}\n{} 0\n\nq\n", row[1]));
    assert!(
        said.contains("no bead, drawn together, as stitched"),
        "{said}"
    );
    proved();
    let teeth: Vec<usize> = (objects().iter())
        .filter(|step| step["job"] == "Zip Panel 2 to Panel 1")
        .filter(|step| step["kind"] == "zip")
        .map(|step| step["passes"].as_array().map_or(0, Vec::len))
        .collect();
    let mut back = teeth.clone();
    back.reverse();
    let either = [&teeth, &back];
    assert!(either.contains(&&vec![2, 1, 2, 3, 2, 2, 2]), "{teeth:?}");
    whole
        .again(&format!("sheet {LANTERN} --to text -o sheet.text"))
        .run();
    let handout = std::fs::read_to_string(whole.dir().join("sheet.text")).expect("a handout");
    let handout = handout.split_whitespace().collect::<Vec<_>>().join(" ");
    let words =
        "One bead in each gap of the edge, but none in gap 2 of side 2, 2 in gap 4 of side 2.";
    assert!(handout.contains(words), "{handout}");
    let beads = whole
        .again(&format!("beads {LANTERN} --json"))
        .objects("beads");
    assert_eq!(beads.len(), 930);
    // As a pattern it has the same beads.
    whole
        .again(&format!("draft --from {LANTERN} -o b.json"))
        .run();
    let drafted = whole.again("beads b.json --json").objects("beads");
    assert_eq!(drafted.len(), 930);
    let proof = whole.again("verify b.json --json").objects("verify");
    assert_eq!(proof[0]["proved"], true);
    plain(&format!("{}q\n", "z\n".repeat(8)));
    assert_eq!(steps(), planned);
}

/// Two beads go into a gap of the first round of a fill, by keys; counts, the
/// rounds behind it, the handout and the proof follow. In the plain mode another
/// is broken out, and all of it is taken back.
#[test]
fn the_first_round_of_a_fill_stays_as_stitched() {
    const LANTERN: &str = "harbour-lantern";
    let whole = threadmark(&format!("stitch {LANTERN}"));
    let planned = threadmark(&format!("steps {LANTERN}")).run();
    let objects = |command: &str| {
        let call = format!("{command} {LANTERN} --json");
        whole.again(&call).objects(command)
    };
    let proved = || assert_eq!(objects("verify")[0]["proved"], true);
    let rounds = || -> Vec<u64> {
        let rounds = objects("rounds");
        let fill = rounds.iter().filter(|round| round["job"] == "Fill Face B");
        fill.filter_map(|round| round["beads"].as_u64()).collect()
    };
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>");
    assert_eq!(rounds()[..3], [24, 21, 18]);
    let of_rim = |step: &&Value| {
        step["job"] == "Fill Face B" && step["round"] == 8 && step["kind"] == "stitch"
    };
    let gaps: Vec<u64> = (objects("steps").iter().filter(of_rim))
        .filter_map(|step| step["step"].as_u64())
        .collect();
    assert_eq!(gaps.len(), 24);
    screen.keys(&format!("g {} <enter>", gaps[4]));
    screen.sees(&format!("step {} of", gaps[4])).keys("m");
    choose(&mut screen, "This gap, as stitched: 2 beads");
    screen.keys("<enter>").sees("Beads: before 930, after 935");
    screen.keys("<enter>").sees("Changed.");
    screen.keys("c 6 <enter>").sees("Yes, that is right");
    screen.kill();
    assert_eq!(rounds()[..3], [25, 22, 19]);
    proved();
    whole
        .again(&format!("sheet {LANTERN} --to text -o sheet.text"))
        .run();
    let handout = std::fs::read_to_string(whole.dir().join("sheet.text")).expect("a handout");
    let handout = handout.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = "Count the first round: 25 beads, one in each gap, but 2 in gap 5 of side 1.";
    assert!(handout.contains(words), "{handout}");
    let draft = whole.again(&format!("draft --from {LANTERN} -o b.json"));
    draft.run();
    let written = |command: &str| {
        whole
            .again(&format!("{command} b.json --json"))
            .objects(command)
    };
    assert_eq!(written("verify")[0]["proved"], true);
    let of_rounds = |mut rounds: Vec<Value>| {
        let beads = rounds.drain(..).map(|round| round["beads"].clone());
        beads.collect::<Vec<_>>()
    };
    assert_eq!(of_rounds(written("rounds")), of_rounds(objects("rounds")));

    let plain = |typed: &str| {
        let call = format!("stitch {LANTERN} --plain");
        whole.again(&call).stdin(typed).run()
    };
    let said = plain("\n\n\n\nm\nesc\nq\n");
    let rows = said
        .lines()
        .skip_while(|l| !l.starts_with("What should change"));
    let nth = rows.skip(1).position(|l| l.contains("One bead too many"));
    let down = "down\n".repeat(nth.expect("the line"));
    let said = plain(&format!("m\n{down}\n{}\n\nq\n", gaps[5]));
    assert!(said.contains("Changed. Break out 1"), "{said}");
    proved();
    let steps = objects("steps");
    let broken = steps.iter().find(|step| step["kind"] == "break-out");
    let bead = &broken.expect("a break-out")["removes"][0];
    let strung = steps.iter().find(|step| step["step"] == gaps[5]);
    assert_eq!(&strung.expect("a step")["strings"][1]["bead"], bead);
    plain(&format!("{}q\n", "z\n".repeat(6)));
    assert_eq!(whole.again(&format!("steps {LANTERN}")).run(), planned);
}

/// Two beads in a gap of row 4 of a strip, found in row 6: it is wider from there
/// on, until a row draws two together again. By keys, and said in the plain mode.
#[test]
fn a_strip_is_wider_from_a_row_on_and_comes_back() {
    let band = pattern(
        &[("band", r#""stitch": "strip", "width": 8, "rows": 9"#)],
        r#"{ "panel": "band" }"#,
    );
    let whole = threadmark("stitch a.json").file("a.json", band);
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>");
    assert_eq!(rounds(&whole), [4; 9]);
    let planned = printed(&whole, "steps");
    let (slip, now) = (step_of(&whole, 4, 2), step_of(&whole, 6, 2));
    screen.keys(&format!("g {now} <enter>"));
    screen.keys("m").sees("What should change");
    choose(&mut screen, "A gap worked before");
    screen.keys(&format!("<enter> {slip} <space> 2 <enter>"));
    screen.sees("How did the rows since go over it?");
    choose(&mut screen, "plainly");
    // One more in row 4 and in each of the five rows over it.
    screen.keys("<enter>").sees("Beads: before 36, after 42");
    screen.keys("<enter>").sees("Changed.");
    assert_eq!(rounds(&whole), [4, 4, 4, 5, 5, 5, 5, 5, 5]);
    whole.is_proved(PIECE);
    // The way back is the first line, in the row in hand or the next.
    screen.keys("m").sees("back to the pattern in row 6");
    choose(&mut screen, "back to the pattern in row 7");
    screen.keys("<enter>").sees("Beads: before 42, after 39");
    screen.keys("<enter>").sees("Changed.");
    assert_eq!(rounds(&whole), [4, 4, 4, 5, 5, 5, 4, 4, 4]);
    whole.is_proved(PIECE);
    let steps = printed(&whole, "steps");
    let drawn = steps.iter().filter(|step| step["kind"] == "decrease");
    assert_eq!(drawn.map(|step| &step["round"]).collect::<Vec<_>>(), [7]);
    // As a pattern it has its gap words as far as row 7, and the same steps.
    whole
        .again(&format!("draft --from {PIECE} -o b.json"))
        .run();
    let written = std::fs::read_to_string(whole.dir().join("b.json")).expect("a pattern");
    for word in ["1 2 1*2", "1*5", "1*3 0 1"] {
        assert!(written.contains(word), "{word}: {written}");
    }
    let by_pattern = whole.again("steps b.json --json").objects("steps");
    assert!(
        (by_pattern.iter().map(|step| &step["passes"]))
            .eq(steps.iter().map(|step| &step["passes"]))
    );
    let proof = whole.again("verify b.json --json").objects("verify");
    assert_eq!(proof[0]["proved"], true);
    for to in ["html", "svg", "text"] {
        whole
            .again(&format!("sheet {PIECE} --to {to} -o sheet.{to}"))
            .run();
    }
    let left = steps.len() as u64 - screen_step(&screen) + 1;
    screen.rush(&format!("<space>{left}"));
    screen
        .sees(&format!("all {} steps done", steps.len()))
        .keys("q");
    assert_eq!(screen.ends().0, 0);
    whole.is_proved(PIECE);

    // All is taken back, and the edge of a strip keeps its bead.
    let back = "z\n".repeat(left as usize + 2);
    let call = format!("stitch {PIECE} --plain");
    let said = whole.again(&call).stdin(format!("{back}q\n")).run();
    assert!(said.contains("Taken back"), "{said}");
    let passes = |steps: &[Value]| {
        steps
            .iter()
            .map(|step| step["passes"].clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(passes(&printed(&whole, "steps")), passes(&planned));
    let edge = step_of(&whole, 5, 1);
    let typed = format!("\n\ng {edge}\nd\n0\n2\nesc\nq\n");
    let said = whole.again(&call).stdin(typed).run();
    assert!(said.contains("the needle turns round a bead"), "{said}");
    assert_eq!(rounds(&whole), [4, 4, 4, 4, 5, 5, 5, 5, 5]);
    whole.is_proved(PIECE);
}

/// The number of the step that the screen shows.
fn screen_step(screen: &Screen) -> u64 {
    let text = screen.text();
    let at = text
        .split("step ")
        .nth(1)
        .and_then(|rest| rest.split(' ').next());
    at.and_then(|number| number.parse().ok()).expect("a step")
}

/// A bead that was kept and then taken off again: the plan still has it, says so also
/// when the piece is opened again, and `z` takes it out of the plan. Back within a round,
/// `z` takes back the movement before.
#[test]
fn a_kept_bead_that_comes_off_stays_in_the_plan_until_undo() {
    const TRIANGLE: &str = "practice-triangle";
    let whole = threadmark(&format!("stitch {TRIANGLE} --plain"));
    let plain = |typed: &str| {
        let call = format!("stitch {TRIANGLE} --plain");
        whole.again(&call).stdin(typed).run()
    };
    let keep = "\n\ng 18\nm\ndown\ndown\ndown\ndown\n\n";
    let said = plain(&format!("{keep}\n\n\n-\n-\nq\n"));
    let words = "This gap is planned as you stitched it. z takes that back.";
    assert!(said.contains("2 beads, as stitched"), "{said}");
    assert!(!said.contains(words), "{said}");
    let said = plain("-\nq\n");
    assert!(
        said.contains("step 18 of 59: Increase: pick up 2 R"),
        "{said}"
    );
    assert!(said.contains(words), "{said}");
    let said = plain("z\nz\nq\n");
    assert!(
        said.contains("Taken back: a gap as you stitched it."),
        "{said}"
    );
    assert!(said.contains("step 17 of 57"), "{said}");
    let said = plain("\n\n\n\n-\n-\nz\nq\n");
    assert!(said.contains("rests after step 17 of 57."), "{said}");
}
