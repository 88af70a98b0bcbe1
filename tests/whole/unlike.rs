//! Sides that are not as long as each other: by one up bead they lock
//! directly, by two the longer carries the row.

use crate::builder::{Whole, threadmark};
use crate::list_of_changes::{choose, typed};
use crate::pty::Screen;
use serde_json::{Value, json};

const ROOF: &str = "uneven-roof";

/// Beads of a triangle of k rounds: 3k(k + 1)/2 (OEIS A045943).
fn triangle(k: u64) -> u64 {
    3 * k * (k + 1) / 2
}

fn pattern(title: &str, panels: &Value, make: &Value) -> String {
    let beads = json!({
        "S": { "name": "sand", "size": "cylinder 11/0", "colour": "#d8c49a" },
        "A": { "name": "amber", "size": "cylinder 11/0", "colour": "#d08020" },
    });
    json!({
        "threadmark": 1, "title": title, "beads": beads,
        "thread": { "name": "braided 0.15", "cut_mm": 1500 }, "needle": 12,
        "panels": panels, "make": make,
    })
    .to_string()
}

/// Two triangles, the second zipped onto the first, which carries a row or not.
fn roof(rounds: [u64; 2], has_row: bool) -> String {
    let [first, second] = rounds;
    let panels = json!({
        "first": { "sides": 3, "rounds": first, "colours": ["all: S*"] },
        "second": { "sides": 3, "rounds": second, "colours": ["all: A*"] },
    });
    let row = has_row.then(|| json!({ "row": "first", "sides": [1] }));
    let mut jobs = vec![json!({ "panel": "first" })];
    jobs.extend(row);
    jobs.push(json!({ "panel": "second" }));
    jobs.push(json!({ "zip": "second", "sides": [{ "side": 2, "onto": "first", "at": 1 }] }));
    pattern("Uneven roof", &panels, &json!({ "jobs": jobs }))
}

fn tent() -> String {
    let panels =
        json!({ "face": { "sides": 3, "rounds": 6, "colours": ["all: A*"], "row": "S*" } });
    let make = json!({ "solid": "tetrahedron", "faces": ["face"], "close": "set-in" });
    pattern("Plain tent", &panels, &make)
}

fn steps(whole: &Whole, piece: &str) -> Vec<Value> {
    let call = format!("steps {piece} --json");
    whole.again(&call).objects("steps")
}

fn beads(whole: &Whole, piece: &str) -> u64 {
    let call = format!("beads {piece} --json");
    whole.again(&call).objects("beads").len() as u64
}

/// The beads that all zips of a piece go through, and how many teeth they have.
fn zipped(steps: &[Value]) -> (usize, usize) {
    let zips = steps.iter().filter(|step| step["kind"] == "zip");
    let beads = |step: &Value| step["passes"].as_array().map_or(0, Vec::len);
    (zips.clone().map(beads).sum::<usize>() + 1, zips.count())
}

/// What the steps say, whether they are worked or not.
fn said(steps: &[Value]) -> Vec<Value> {
    steps.iter().map(|step| step["text"].clone()).collect()
}

/// Each of both kinds of join from its first tooth to its last by keys, counted,
/// unpicked and worked again; the handout and the pattern that is written of it
/// have the same join.
#[test]
fn both_kinds_of_join_are_worked_by_keys() {
    for (rounds, row, heard, told) in [
        (
            [6, 5],
            0,
            "the edge bead of second and the edge bead of first",
            "without a row",
        ),
        (
            [5, 6],
            0,
            "the edge bead of first and the edge bead of second",
            "without a row",
        ),
        (
            [7, 5],
            6,
            "the edge bead and the join bead",
            "5 edge beads between 6 join beads",
        ),
    ] {
        let whole = threadmark("stitch roof.json").file("roof.json", roof(rounds, row > 0));
        let [first, second] = rounds;
        let all = triangle(first) + triangle(second) + row;
        let mut screen = Screen::begun(&whole);
        let planned = steps(&whole, ROOF);
        let (beads_zipped, teeth) = zipped(&planned);
        assert_eq!(beads(&whole, ROOF), all);
        let between = if row > 0 {
            row + second
        } else {
            first + second
        };
        assert_eq!(beads_zipped as u64, between, "{rounds:?}");
        let zips = planned.iter().filter(|step| step["kind"] == "zip");
        let zip = zips.clone().next().unwrap()["step"].as_u64().unwrap();
        screen.keys(&format!("<space> g {zip} <enter>")).sees(heard);
        screen.rush(&format!("<space>{teeth}"));
        let after = planned.len() as u64 - zip + 1 - teeth as u64;
        screen.rush(&format!("<space>{after}"));
        screen
            .sees(&format!("all {} steps done", planned.len()))
            .keys("q");
        assert_eq!(screen.ends().0, 0);
        whole.is_proved(ROOF);
        let job = if row > 0 { 4 } else { 3 };
        let check = format!(
            "check {ROOF} --job {job} --round {} --count {teeth}",
            second + 1
        );
        whole.again(&check).run();
        let sheet = whole.again(&format!("sheet {ROOF} --to text")).run();
        let sheet = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(sheet.contains(told), "{sheet}");
        whole
            .again(&format!("draft --from {ROOF} -o again.json"))
            .run();
        whole.is_proved("again.json");
        assert_eq!(zipped(&steps(&whole, "again.json")), (beads_zipped, teeth));
        assert_eq!(beads(&whole, "again.json"), all);
    }
}

/// The first face of a tetrahedron stops a round early: the screen says which
/// sides are unlike and what can be done. Then two rounds early.
#[test]
fn a_panel_that_stops_early_is_joined_by_keys() {
    let whole = threadmark("stitch tent.json").file("tent.json", tent());
    let piece = "plain-tent";
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>");
    let planned = steps(&whole, piece);
    let in_round = |round: u64| {
        let step = planned
            .iter()
            .find(|step| step["round"] == round && step["job_number"] == 1);
        step.and_then(|step| step["step"].as_u64()).unwrap()
    };
    for (rounds, way, rows) in [(5, "directly", 3 * 5), (4, "on the longer", 6 * 5)] {
        screen.keys(&format!("g {} <enter>", in_round(rounds) + 2));
        choose(&mut screen, &[&format!("Face 1: stop at round {rounds}")]);
        screen.keys("<enter>").sees("The sides would differ");
        screen
            .sees(&format!("{rounds} on side"))
            .sees("ease its sides")
            .sees("All 'face'");
        screen
            .sees(way)
            .keys("<enter>")
            .sees("Beads: before 282, after");
        screen.keys("<enter>").sees("Changed.");
        assert_eq!(
            beads(&whole, piece),
            triangle(rounds) + 3 * triangle(6) + rows
        );
        whole.is_proved(piece);
        screen.keys("z").says("Taken back: Face 1: stop at round");
        assert_eq!(said(&steps(&whole, piece)), said(&planned));
    }
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}

/// The same face is eased in: the row that it is locked into has a join bead for each
/// of its gaps, and those that it carries have one for each gap of the longer sides.
#[test]
fn a_panel_that_stops_early_is_eased_in_by_keys_and_in_the_plain_mode() {
    let piece = "plain-tent";
    let call = format!("stitch {piece} --plain");
    let whole = threadmark("stitch tent.json").file("tent.json", tent());
    let mut screen = Screen::begun(&whole);
    screen.keys("<space> g 30 <enter>");
    let planned = steps(&whole, piece);
    choose(&mut screen, &["Face 1: stop at round 5"]);
    screen.keys("<enter>").sees("The sides would differ");
    screen.keys("<down>").sees("ease its sides");
    screen.keys("<enter>").sees("Beads: before 282, after");
    screen.keys("<enter>").sees("Changed.");
    let eased = steps(&whole, piece);
    assert_eq!(
        beads(&whole, piece),
        triangle(5) + 3 * triangle(6) + 5 * 5 + 4
    );
    whole.is_proved(piece);
    screen.keys("z").says("Taken back: Face 1: stop at round 5");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(said(&steps(&whole, piece)), said(&planned));

    let stop = typed(&whole, &call, "", &["Face 1: stop at round 5"]);
    let heard = whole
        .again(&call)
        .stdin(format!("{stop}\ndown\n\n\nq\n"))
        .run();
    assert!(
        heard.contains("and ease its sides into those that they meet"),
        "{heard}"
    );
    assert_eq!(said(&steps(&whole, piece)), said(&eased));
    whole.is_proved(piece);
    whole.again(&call).stdin("z\nq\n").run();
    assert_eq!(said(&steps(&whole, piece)), said(&planned));
}

/// A join is reinforced: the needle goes through its beads a second time, which is
/// counted in the thread and in the holes. By keys and in the plain mode.
#[test]
fn a_join_is_reinforced_by_keys_and_in_the_plain_mode() {
    let whole = threadmark("stitch roof.json").file("roof.json", roof([6, 6], true));
    let mut screen = Screen::begun(&whole);
    let planned = steps(&whole, ROOF);
    let passes = |whole: &Whole| -> u64 {
        let printed = whole
            .again(&format!("beads {ROOF} --json"))
            .objects("beads");
        printed
            .iter()
            .filter_map(|bead| bead["passes"].as_u64())
            .sum()
    };
    let once = passes(&whole);
    let end = planned.len();
    screen
        .keys(&format!("<space> g {end} <enter>"))
        .sees(&format!("step {end} of {end}"));
    choose(&mut screen, &["Join of second", "reinforce it"]);
    screen.keys("<enter>").sees("Thread: before");
    screen.keys("<enter>").sees("Changed.");
    let again = steps(&whole, ROOF);
    let firm: Vec<&Value> = again.iter().filter(|step| step["kind"] == "firm").collect();
    let through: usize = firm
        .iter()
        .map(|step| step["passes"].as_array().map_or(0, Vec::len))
        .sum();
    // Six edge beads and five join beads between them; the needle leaves the first.
    assert_eq!(through, 6 + 5 - 1);
    assert!(
        firm.iter()
            .all(|step| step["strings"].as_array().is_some_and(Vec::is_empty))
    );
    assert!(passes(&whole) >= once + through as u64);
    assert_eq!(beads(&whole, ROOF), 2 * triangle(6) + 5);
    whole.is_proved(ROOF);
    screen.rush(&format!("<space>{}", again.len() - end + 1));
    screen
        .sees(&format!("all {} steps done", again.len()))
        .keys("q");
    assert_eq!(screen.ends().0, 0);

    let typed_in = format!("\ng {end}\nq\n");
    let whole = threadmark("stitch roof.json --plain")
        .file("roof.json", roof([6, 6], true))
        .stdin(typed_in);
    whole.run();
    let call = format!("stitch {ROOF} --plain");
    let row = typed(&whole, &call, "", &["Join of second", "reinforce it"]);
    let heard = whole.again(&call).stdin(format!("{row}\n\nq\n")).run();
    assert!(
        heard.contains("Changed. Join of second, side 2: reinforce it"),
        "{heard}"
    );
    assert_eq!(said(&steps(&whole, ROOF)), said(&again));
    whole.is_proved(ROOF);
}

#[test]
fn the_same_in_the_plain_mode() {
    let call = "stitch tent.json --plain";
    let whole = threadmark(call)
        .file("tent.json", tent())
        .stdin("\ng 30\nq\n");
    whole.run();
    let piece = "plain-tent";
    let call = format!("stitch {piece} --plain");
    let planned = steps(&whole, piece);
    let stop = typed(&whole, &call, "", &["Face 1: stop at round 5"]);
    let said = whole.again(&call).stdin(format!("{stop}\n\n\nq\n")).run();
    assert!(
        said.contains(
            "The sides would differ: 6 up beads on side 3 of Face 2, 5 on side 1 of Face 1"
        ),
        "{said}"
    );
    assert!(
        said.contains("Changed. Face 1: stop at round 5, and lock its sides directly"),
        "{said}"
    );
    assert_eq!(beads(&whole, piece), triangle(5) + 3 * triangle(6) + 15);
    whole.is_proved(piece);
    whole.again(&call).stdin("z\nq\n").run();
    assert_eq!(steps(&whole, piece), planned);
}

/// Two panels of one's own whose sides differ: the screen asks how they are
/// joined.
#[test]
fn unlike_panels_of_free_work_are_joined() {
    let triangle_of = |rounds: usize| -> String {
        let mut typed = ".\n2\n.\n2\n.\n2\n".to_string();
        for round in 3..=rounds {
            typed += &format!("2\n{}", "1\n".repeat(round - 2)).repeat(3);
        }
        typed
    };
    for (rounds, way, row) in [
        ([4, 3], "directly", 0),
        ([3, 4], "directly", 0),
        ([3, 5], "on the longer", 4),
    ] {
        let whole = threadmark("stitch --free Pair --ring 3 --plain").stdin(format!(
            "d\n{}&\n\n{}j 1 1 2 2\n\n\nesc\n\n\n\n\n\nq\n",
            triangle_of(rounds[0]),
            triangle_of(rounds[1])
        ));
        let said = whole.run();
        assert!(said.contains("These sides are not equally long"), "{said}");
        assert!(said.contains(way), "{said}");
        whole.is_proved("pair");
        let [one, two] = rounds.map(|k| triangle(k as u64));
        assert_eq!(beads(&whole, "pair"), one + two + row, "{rounds:?}");
    }
}
