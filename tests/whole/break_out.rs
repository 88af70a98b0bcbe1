//! One bead too many is broken out, by keys and in the plain mode.

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;
use serde_json::Value;

const PIECE: &str = "evening-star";

fn steps(whole: &Whole) -> Vec<Value> {
    let call = format!("steps {PIECE} --json");
    whole.again(&call).objects("steps")
}

fn numbers(list: &Value) -> Vec<u64> {
    let list = list.as_array().expect("a list").iter();
    list.filter_map(Value::as_u64).collect()
}

/// The step that breaks a bead out, and what is wrong with what is printed of it.
fn broken_out(whole: &Whole) -> u64 {
    let steps = steps(whole);
    let mut breaks = steps.iter().filter(|step| step["kind"] == "break-out");
    let broken = breaks.next().expect("a bead broken out");
    assert_eq!(breaks.count(), 0);
    let [bead] = numbers(&broken["removes"])[..] else {
        panic!("one bead: {broken}");
    };
    let mut all = vec![];
    for step in &steps {
        let strings = step["strings"].as_array().expect("a list");
        let strings: Vec<u64> = strings.iter().filter_map(|b| b["bead"].as_u64()).collect();
        let passes = numbers(&step["passes"]);
        assert!(strings.iter().all(|bead| passes.contains(bead)), "{step}");
        // It is gone through once, when it is strung.
        assert_eq!(passes.contains(&bead), strings.contains(&bead), "{step}");
        all.extend(strings);
    }
    let count = all.len() as u64;
    assert!(all.into_iter().eq(1..=count), "beads in the order of work");
    let call = format!("beads {PIECE} --json");
    let there = whole.again(&call).objects("beads");
    let there = there.iter().filter_map(|line| line["bead"].as_u64());
    assert!(there.eq((1..=count).filter(|other| *other != bead)));
    let call = format!("verify {PIECE} --json");
    let report = whole.again(&call).objects("verify");
    assert_eq!(report[0]["proved"], true, "{:?}", report[0]);
    assert_eq!(report[0]["beads"], count);
    broken["step"].as_u64().expect("a step")
}

/// A count is one too many: the bead is broken out, with care; the round has the
/// right count then, and z takes it back.
#[test]
fn a_bead_that_a_count_has_found_is_broken_out() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(6));
    let mut screen = Screen::begun(&whole);
    screen.rush("<space>12").sees("Count side 1 of round 3?");
    screen.keys("4 <enter>").sees("1 too many");
    screen.sees("! break it out");
    screen.keys("!").sees("In which gap is the bead too many?");
    screen.keys("<enter>").sees("Break out 1 S of round 3");
    screen
        .sees("eye protection")
        .sees("never across the thread");
    screen.sees("Beads: before 63, after 63");
    screen.keys("<enter>").says("z takes it back.").kill();
    let step = broken_out(&whole);

    let mut screen = Screen::open(&whole.again(&format!("stitch {PIECE}")), 80, 24);
    screen.sees("You were at").keys("<space>");
    screen.sees(&format!("step {} of 5", step + 1));
    screen.keys("c 5 <enter>").sees("Yes, that is right");
    screen
        .keys("z")
        .sees("Taken back: Break out 1 S of round 3");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert!(steps(&whole).iter().all(|step| step["kind"] != "break-out"));
}

/// Types down to a line of the list of changes, and what comes then.
fn in_the_list(whole: &Whole, at: u64, line: &str, then: &str) -> String {
    let call = format!("stitch {PIECE} --plain");
    let typed = |typed: String| whole.again(&call).stdin(typed).run();
    let said = typed(format!("g {at}\nm\nesc\nq\n"));
    let rows = said
        .lines()
        .skip_while(|l| !l.starts_with("What should change"));
    let nth = rows.skip(1).position(|l| l.contains(line));
    let nth = nth.unwrap_or_else(|| panic!("{line}:\n{said}"));
    typed(format!("m\n{}\n{then}q\n", "down\n".repeat(nth)))
}

/// In the plain mode, with the step named; where other beads are sewn onto it,
/// that is said, and keeping it as stitched or unpicking is offered. A bead that
/// was kept is broken out later.
#[test]
fn in_the_plain_mode_a_step_is_named() {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(6));
    whole.again("stitch a.json --plain").stdin("\n\nq\n").run();
    let planned = steps(&whole);
    let step_of = |round: u64, nth: usize| {
        let of_round = planned.iter().filter(|step| step["round"] == round);
        let mut of_round = of_round.filter_map(|step| step["step"].as_u64());
        of_round.nth(nth).expect("such a step")
    };
    let line = "One bead too many in a gap worked before: break it out";
    let slip = step_of(4, 2);
    let said = in_the_list(&whole, step_of(5, 8), line, &format!("{slip}\nesc\nesc\n"));
    assert!(
        said.contains("other beads are sewn onto that bead and would come loose"),
        "{said}"
    );
    assert!(
        said.contains(&format!("Unpick to before step {slip}")),
        "{said}"
    );
    assert!(said.contains("Keep it as stitched:"), "{said}");

    let slip = step_of(5, 5);
    let said = in_the_list(&whole, step_of(5, 8), line, &format!("{slip}\n\n"));
    assert!(said.contains("eye protection"), "{said}");
    assert!(said.contains("Changed. Break out 1 S of round 5"), "{said}");
    let first = broken_out(&whole);
    let call = format!("stitch {PIECE} --plain");
    whole.again(&call).stdin("z\nq\n").run();

    // Kept first, and broken out when she has thought better of it.
    let kept = "A gap worked before, as stitched";
    let said = in_the_list(&whole, first, kept, &format!("{slip} 2\n\n"));
    assert!(said.contains("Changed."), "{said}");
    let said = in_the_list(&whole, first, line, &format!("{slip}\n\n"));
    assert!(said.contains("Beads: before 65, after 63"), "{said}");
    assert_eq!(broken_out(&whole), first);
    let said = whole.again(&call).stdin("z\nz\nq\n").run();
    assert_eq!(
        said.matches("Taken back: what you said").count(),
        2,
        "{said}"
    );
    assert_eq!(steps(&whole).len(), planned.len());
}
