//! A change of mind at the needle: by keys and in the plain mode.

use crate::builder::{Whole, threadmark};
use crate::list_of_changes::{choose, typed};
use crate::pattern::lined_pair;
use crate::pty::Screen;

const PIECE: &str = "harbour-lantern";

/// The steps of the piece as they are planned now, in words.
fn steps(whole: &Whole) -> String {
    whole.again(&format!("steps {PIECE}")).run()
}

fn count(steps: &str) -> usize {
    steps.lines().filter(|l| l.starts_with(' ')).count()
}

fn first(steps: &str, n: usize) -> Vec<String> {
    let lines = steps.lines().filter(|l| l.starts_with(' '));
    let words = lines.take(n).map(|l| l.trim().to_string());
    words.collect()
}

/// The last step of the second round of the fill.
fn after_two_rounds(whole: &Whole) -> u64 {
    let printed = whole
        .again(&format!("steps {PIECE} --json"))
        .objects("steps");
    let filled = printed.iter().filter(|step| {
        step["kind"] == "step-down" && step["job"].as_str().is_some_and(|j| j.starts_with("Fill"))
    });
    let second = filled.skip(1).map(|step| step["step"].as_u64());
    second.flatten().next().expect("a second round")
}

/// The piece on the screen once two rounds of its fill are worked; what was planned,
/// and how many steps are done.
fn at_two_rounds(whole: &Whole) -> (Screen, String, u64) {
    let mut screen = Screen::begun(whole);
    screen.keys("<space>");
    let (planned, done) = (steps(whole), after_two_rounds(whole));
    screen.keys(&format!("g {} <enter>", done + 1));
    screen.sees(&format!("step {} of 989", done + 1));
    (screen, planned, done)
}

#[test]
fn an_opening_stays_open_after_all_before_its_fill_is_begun() {
    let planned = threadmark(&format!("steps {PIECE}")).run();
    let whole = threadmark(&format!("stitch {PIECE}"));
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>5").sees("step 6 of 989");
    choose(&mut screen, &["Fill", "leave it open"]);
    screen.keys("<enter>").sees("Steps: before 989, after");
    // Esc leaves all as it was.
    screen.keys("<esc> <esc> <esc>").sees("step 6 of 989");
    choose(&mut screen, &["Fill", "leave it open"]);
    screen.keys("<enter> <enter>").sees("Changed.");
    screen.sees("step 6 of").loses("of 989");
    // What is confirmed is kept, whatever happens next.
    screen.kill();
    let changed = steps(&whole);
    assert!(count(&changed) < 989, "{}", count(&changed));
    assert!(changed.contains("Reinforce the rim"));
    assert!(!changed.contains(": Fill"));
    assert_eq!(first(&changed, 5), first(&planned, 5));
    whole.is_proved(PIECE);

    let mut again = Screen::open(&whole.again(&format!("stitch {PIECE}")), 80, 24);
    let all = count(&changed);
    again.sees("You were at").keys("<space>");
    again.sees(&format!("step 6 of {all}"));
    again.rush("<space>3").sees(&format!("step 9 of {all}"));
    again.keys("z").says("Taken back: ").sees("step 8 of");
    again.keys("z z").sees("step 6 of");
    again.keys("z").says("leave it open and reinforce its rim");
    again.sees("step 6 of 989").keys("q");
    assert_eq!(again.ends().0, 0);
    assert_eq!(steps(&whole), planned);
}

#[test]
fn a_fill_stops_after_two_rounds_and_the_piece_is_finished_so() {
    let whole = threadmark(&format!("stitch {PIECE}"));
    let (mut screen, planned, done) = at_two_rounds(&whole);
    choose(&mut screen, &["Fill", "as far as round 7"]);
    screen.keys("<enter>").sees("Beads: before");
    screen.keys("<enter>").sees("Changed.");
    screen.keys("<space>2 q");
    assert_eq!(screen.ends().0, 0);
    let changed = steps(&whole);
    let all = count(&changed);
    assert!(all < 989, "{all}");
    assert!(!changed.contains("round 6 of 8 inward"));
    let done = done as usize;
    assert_eq!(first(&changed, done), first(&planned, done));
    whole.is_proved(PIECE);

    // Opened again it goes on the same, to its end.
    let mut again = Screen::open(&whole.again(&format!("stitch {PIECE}")), 80, 24);
    again.sees("You were at").keys("<space>");
    again.sees(&format!("step {} of {all}", done + 3));
    again.rush(&format!("<space>{}", all - done - 2));
    again.sees(&format!("all {all} steps done"));
    assert_eq!(steps(&whole), changed);
    let sewn = all - done;
    again.rush(&format!("z{}", "z".repeat(sewn - 1)));
    again.sees(&format!("step {} of {all}", done + 1));
    again.keys("z").sees(&format!("step {} of 989", done + 1));
    again.keys("q");
    assert_eq!(again.ends().0, 0);
    assert_eq!(steps(&whole), planned);
}

#[test]
fn the_same_in_the_plain_mode() {
    let planned = threadmark(&format!("steps {PIECE}")).run();
    let call = format!("stitch {PIECE} --plain");
    let whole = threadmark(&call).stdin("\n\n\nq\n");
    whole.run();
    let open = typed(&whole, &call, "", &["Fill", "leave it open"]);
    let again = |typed: &str| whole.again(&call).stdin(typed).run();
    let said = again(&format!("{open}\nesc\nesc\nesc\nq\n"));
    assert!(said.contains("Steps: before 989, after"), "{said}");
    assert_eq!(steps(&whole), planned, "nothing is confirmed yet");
    let said = again(&format!("{open}\n\nq\n"));
    assert!(said.contains("Changed. Fill"), "{said}");
    let changed = steps(&whole);
    assert!(changed.contains("Reinforce the rim"), "{changed}");
    whole.is_proved(PIECE);
    let said = again("z\nq\n");
    assert!(said.contains("Taken back: Fill"), "{said}");
    assert_eq!(steps(&whole), planned);

    // After two rounds: the first line stops the fill there.
    let done = after_two_rounds(&whole);
    let said = again(&format!("g {}\nm\n\n\nq\n", done + 1));
    assert!(said.contains("as far as round 7"), "{said}");
    let changed = steps(&whole);
    assert!(count(&changed) < 989);
    whole.is_proved(PIECE);
    again("z\nq\n");
    assert_eq!(steps(&whole), planned);
}

/// The jobs of the piece as it is planned now, in order.
fn jobs(whole: &Whole) -> Vec<String> {
    let steps = whole
        .again(&format!("steps {PIECE} --json"))
        .objects("steps");
    let titles = steps.iter().filter_map(|step| step["job"].as_str());
    let mut jobs: Vec<String> = titles.map(String::from).collect();
    jobs.dedup();
    jobs
}

/// All panels are made first, each with a tag, and joined in another order.
#[test]
fn panels_are_made_ahead_and_joined_in_another_order() {
    let planned = threadmark(&format!("steps {PIECE}")).run();
    let whole = threadmark(&format!("stitch {PIECE}"));
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>5").sees("step 6 of 989");
    choose(&mut screen, &["Panel 2:", "do this next"]);
    screen.keys("<enter>").sees("Press Tab for all 5 like it");
    screen.keys("<tab>").sees("and 4 more like it");
    screen.keys("<enter>").sees("Changed.");
    let ahead = jobs(&whole);
    let first: Vec<&str> = ahead.iter().take(7).map(String::as_str).collect();
    let tagged = [
        "Panel 2 #2",
        "Panel 3 #3",
        "Panel 4 #4",
        "Panel 5 #5",
        "Panel 6 #6",
    ];
    assert_eq!(first[0], "Panel 1");
    assert_eq!(first[1..6], tagged);
    assert_eq!(first[6], "Join row on Panel 1, sides 1 and 2");
    whole.is_proved(PIECE);
    // The overview and the handout know the tags.
    screen
        .keys("o")
        .sees("Zip Panel 3 #3 to Panel 2 #2")
        .keys("<esc>");
    for kind in ["html", "text"] {
        let call = format!("sheet {PIECE} --to {kind} -o sheet.{kind}");
        whole.again(&call).run();
        let file = std::fs::read_to_string(whole.dir().join(format!("sheet.{kind}")));
        let handout = file.expect("a handout");
        for panel in tagged {
            assert!(handout.contains(panel), "{kind}: {panel}");
        }
    }
    // On another day the row of the fourth comes first.
    let made = whole
        .again(&format!("steps {PIECE} --json"))
        .objects("steps");
    let last = made.iter().filter(|step| step["job"] == "Panel 6 #6");
    let last = last.filter_map(|step| step["step"].as_u64()).max().unwrap();
    screen.keys(&format!("g {} <enter>", last + 1));
    choose(&mut screen, &["Join row on Panel 4 #4", "do this next"]);
    screen
        .keys("<enter>")
        .sees("The next job: Join row on Panel 4");
    screen.keys("<enter>").sees("Changed.");
    assert_eq!(jobs(&whole)[6], "Join row on Panel 4 #4, sides 2 and 3");
    whole.is_proved(PIECE);
    screen.keys("m").sees("What should change").keys("i");
    screen.sees("After step 5: Panel 2: do this next, and 4 more like it");
    screen
        .keys("<esc> <esc> z")
        .sees("Taken back: Join row on Panel 4");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_ne!(steps(&whole), planned);
}

/// A panel that lies on the mat already is gone past; going back leads before it.
#[test]
fn a_panel_that_is_made_already_is_gone_past() {
    let planned = threadmark(&format!("steps {PIECE}")).run();
    let whole = threadmark(&format!("stitch {PIECE}"));
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>5").sees("step 6 of 989");
    choose(&mut screen, &["Panels that are made already", "..."]);
    screen.keys("<enter>").sees("Panel 3: it is made already");
    screen
        .keys("<down> <enter>")
        .sees("Press Tab for all 5 like it");
    screen.keys("<enter>").sees("Changed.");
    assert_eq!(jobs(&whole)[1], "Panel 3 #3");
    whole.is_proved(PIECE);
    // The panel in hand is finished, and the next movement is behind the other.
    screen.rush("<space>93").sees("Join row on Panel 1");
    screen
        .keys("z")
        .sees("Back before Panel 3 #3")
        .sees("job 2 of 22");
    screen.keys("z z");
    screen.rush(&format!("z{}", "z".repeat(100)));
    screen.sees("There is nothing to take back");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(steps(&whole), planned);
}

/// A rim that is firmed already is filled after all; a fill holds a stone.
#[test]
fn an_opening_is_closed_in_every_way_and_can_hold_a_stone() {
    let whole = threadmark(&format!("stitch {PIECE}"));
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>5").sees("step 6 of 989");
    choose(&mut screen, &["Fill Face B", "leave it open"]);
    screen.keys("<enter> <enter>").sees("Changed.");
    let all = count(&steps(&whole));
    screen
        .keys(&format!("g {all} <enter>"))
        .sees(&format!("step {all}"));
    choose(
        &mut screen,
        &["The opening at Panel 4", "until it holds a stone"],
    );
    screen.keys("<enter>").sees("How wide is the stone");
    screen.keys("9 9 <enter>").sees("no round of this panel");
    screen
        .keys("<backspace> <backspace> 6 <enter>")
        .sees("a stone of 6 mm")
        .sees("A new stone: 6 mm in ");
    screen.keys("<enter>").sees("Changed.");
    let changed = steps(&whole);
    assert!(changed.contains("Set the stone: 6 mm"), "{changed}");
    assert!(changed.contains("Reinforce the rim"));
    whole.is_proved(PIECE);
    screen
        .keys("z")
        .says("until it holds a stone of 6 mm")
        .keys("q");
    assert_eq!(screen.ends().0, 0);
}

/// Tip beads, the other side, a step of one's own, and a thread that breaks:
/// the same rows in the plain mode.
#[test]
fn joins_thread_and_own_steps_in_the_plain_mode() {
    let planned = threadmark(&format!("steps {PIECE}")).run();
    let call = format!("stitch {PIECE} --plain");
    let whole = threadmark(&call).stdin("\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\nq\n");
    whole.run();
    let row = |words: &str| typed(&whole, &call, "", &[words]);
    let again = |typed: &str| whole.again(&call).stdin(typed).run();
    // No row has tip beads, so the first takes one.
    let said = again(&format!("{}\n\nq\n", row("1 tip bead at its corner")));
    assert!(said.contains("1 tip bead at its corner"), "{said}");
    assert!(said.contains("Changed."), "{said}");
    assert!(steps(&whole).contains("Tip: pick up"));
    whole.is_proved(PIECE);
    // A join bead fewer, in the first row that joins two sides only.
    let said = again(&format!("{}\n\nq\n", row(": 6 join beads")));
    assert!(
        said.contains("6 join beads, spread over its gaps"),
        "{said}"
    );
    let fewer = steps(&whole);
    assert!(fewer.contains("Zip: no join bead here"), "{fewer}");
    whole.is_proved(PIECE);
    again("z\nq\n");
    whole.is_proved(PIECE);
    let own = row("A step of your own");
    let said = again(&format!("{own}\ndown\ndown\n\nround the neck\n\nq\n"));
    assert!(said.contains("Fit it and look: round the neck"), "{said}");
    whole.is_proved(PIECE);
    let printed = whole
        .again(&format!("steps {PIECE} --json"))
        .objects("steps");
    assert_eq!(
        printed.iter().filter(|step| step["kind"] == "own").count(),
        2,
        "hers, and the stone of the pattern"
    );
    let said = again(&format!("{}\n\nq\n", row("The thread ends here")));
    assert!(said.contains("Changed. The thread ends here"), "{said}");
    whole.is_proved(PIECE);
    let said = again("z\nz\nz\nq\n");
    for words in ["The thread ends", "A step of your own", "Join row on"] {
        assert!(said.contains(&format!("Taken back: {words}")), "{said}");
    }
    assert_eq!(steps(&whole), planned);
}

/// Two steps of one's own come up on the screen, are ticked off like any step,
/// and are there when the piece is opened again, on the screen and in the
/// plain mode.
#[test]
fn own_steps_come_up_are_ticked_off_and_stay() {
    let planned = threadmark(&format!("steps {PIECE}")).run();
    let whole = threadmark(&format!("stitch {PIECE}"));
    let mut screen = Screen::begun(&whole);
    screen.keys("<space>5").sees("step 6 of 989");
    for (downs, text, words) in [
        ("<enter>", "the blue one", "Set the stone"),
        ("<down> <down> <enter>", "", "Fit it and look"),
    ] {
        choose(&mut screen, &["A step of your own", "..."]);
        screen.keys("<enter>").sees("Set the stone").keys(downs);
        screen.press(text.as_bytes()).keys("<enter>").sees(words);
        screen.keys("<enter>").sees("Changed.");
    }
    screen.sees("Set the stone: the blue one");
    screen.sees("step 6 of 991").kill();
    let printed = whole
        .again(&format!("steps {PIECE} --json"))
        .objects("steps");
    let own: Vec<u64> = (printed.iter())
        .filter(|step| step["kind"] == "own")
        .filter_map(|step| step["step"].as_u64())
        .collect();
    assert_eq!(own[..2], [6, 7]);
    let mut again = Screen::open(&whole.again(&format!("stitch {PIECE}")), 80, 24);
    again.sees("You were at").keys("<space>");
    again.sees("Set the stone: the blue one");
    again
        .keys("<space>")
        .sees("Fit it and look")
        .sees("step 7 of 991");
    again.keys("q");
    assert_eq!(again.ends().0, 0);
    let plain = |typed: &str| {
        let call = format!("stitch {PIECE} --plain");
        whole.again(&call).stdin(typed).run()
    };
    let said = plain("\nq\n");
    assert!(said.contains("Fit it and look"), "{said}");
    let said = plain("-\n-\nq\n");
    assert!(said.contains("Set the stone: the blue one"), "{said}");
    whole.is_proved(PIECE);
    let said = plain("z\nz\nq\n");
    assert!(said.contains("Taken back: A step of your own"), "{said}");
    assert_eq!(steps(&whole), planned);
}

/// The step that turns the second round of a fill, and the face of six rounds
/// that is set in there: `Face B, middle`.
const SET_IN: [&str; 2] = ["set in 'door', 6 rounds", "locks into round 7"];

fn locks_into_round_7(whole: &Whole) {
    let printed = whole
        .again(&format!("steps {PIECE} --json"))
        .objects("steps");
    let of = |kind: &str, job: &str| {
        let steps = printed.iter().filter(|step| step["kind"] == kind);
        let named = |step: &&serde_json::Value| step["job"].as_str().is_some_and(|j| j == job);
        steps.filter(named).cloned().collect::<Vec<_>>()
    };
    let teeth = of("zip", "Set in Face B, middle within Face B");
    assert_eq!(teeth.len(), 18, "3 sides of 6 up beads");
    let said = teeth[1]["text"].as_str().unwrap_or_default();
    assert!(said.contains("through a bead of round 7"), "{said}");
    // Round 7 of the fill has 21 beads; a face of 6 rounds has 63 (triangular
    // matchstick numbers, OEIS A045943).
    let face = printed.iter().filter(|s| s["job"] == "Face B, middle");
    let strung: usize = face
        .map(|s| s["strings"].as_array().map_or(0, Vec::len))
        .sum();
    assert_eq!(strung, 63);
    let mut through: Vec<u64> = vec![];
    for step in &teeth {
        let passes = step["passes"].as_array().expect("beads");
        through.extend(passes.iter().filter_map(|bead| bead.as_u64()));
    }
    through.sort_unstable();
    through.dedup();
    assert_eq!(through.len(), 21 + 18, "every bead of both is locked");
}

/// The second opening is changed from fill to open after two rounds, then to a
/// set-in face of six rounds, which locks into round 7.
#[test]
fn a_fill_stays_open_after_two_rounds_and_takes_a_face_of_six() {
    let whole = threadmark(&format!("stitch {PIECE}"));
    let (mut screen, planned, done) = at_two_rounds(&whole);
    choose(&mut screen, &["Fill", "as far as round 7"]);
    screen.keys("<enter> <enter>").sees("Changed.");
    let opened = steps(&whole);
    assert!(opened.contains("Reinforce the rim"), "{opened}");
    choose(&mut screen, &SET_IN);
    screen.keys("<enter>").sees("Beads: before");
    screen.sees("A new job: Face B, middle");
    screen.sees("A new join: Face B, middle to round 7 of Face B");
    screen.keys("<enter>").sees("Changed.");
    locks_into_round_7(&whole);
    screen.keys("z").says("which locks into round 7");
    assert_eq!(steps(&whole), opened);
    choose(&mut screen, &SET_IN);
    screen.keys("<enter> <enter>").sees("Changed.").kill();
    whole.is_proved(PIECE);
    locks_into_round_7(&whole);
    let changed = steps(&whole);
    let all = count(&changed);
    let done = done as usize;
    assert_eq!(first(&changed, done), first(&planned, done));
    // It is sewn to its end, and looked at on the way.
    let mut again = Screen::open(&whole.again(&format!("stitch {PIECE}")), 80, 24);
    again.sees("You were at").keys("<space>");
    again.sees(&format!("step {} of {all}", done + 1));
    again.keys(&format!("g {} <enter>", all - 10));
    again.sees("Zip: sew through a bead of round 7");
    again.rush(&format!("<space>{}", 11));
    again.sees(&format!("all {all} steps done"));
    again.keys("q");
    assert_eq!(again.ends().0, 0);
    whole.is_proved(PIECE);
    for sheet in ["html", "svg", "text"] {
        let call = format!("sheet {PIECE} --to {sheet} -o sheet.{sheet}");
        whole.again(&call).run();
    }
    let handout = std::fs::read_to_string(whole.dir().join("sheet.text")).expect("a handout");
    let handout = handout.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = "Lock its edge into round 7 of Face B";
    assert!(handout.contains(words), "{handout}");
}

/// The same in the plain mode, and taken back.
#[test]
fn a_face_is_set_in_the_middle_of_a_fill_in_the_plain_mode() {
    let call = format!("stitch {PIECE} --plain");
    let whole = threadmark(&call).stdin("\n\n\nq\n");
    whole.run();
    let (planned, done) = (steps(&whole), after_two_rounds(&whole));
    let again = |typed: &str| whole.again(&call).stdin(typed).run();
    let said = again(&format!("g {}\nm\n\n\nq\n", done + 1));
    assert!(said.contains("as far as round 7"), "{said}");
    let opened = steps(&whole);
    let set_in = typed(&whole, &call, "", &SET_IN);
    let said = again(&format!("{set_in}\n\nq\n"));
    assert!(
        said.contains("Changed. Fill Face B: set in 'door', 6 rounds"),
        "{said}"
    );
    whole.is_proved(PIECE);
    locks_into_round_7(&whole);
    let said = again("z\nq\n");
    assert!(said.contains("Taken back: Fill Face B"), "{said}");
    assert_eq!(steps(&whole), opened);
    again("z\nq\n");
    assert_eq!(steps(&whole), planned);
}

/// An opening that was to take an insert is filled after all: the insert is not made,
/// and comes back with `z`.
#[test]
fn a_closed_opening_takes_no_insert() {
    let call = "stitch pair.json --plain";
    let whole = threadmark(call)
        .file("pair.json", lined_pair(4, 2))
        .stdin("\n\nq\n");
    whole.run();
    let told = |command: &str| whole.again(&format!("{command} evening-star")).run();
    let planned = told("steps");
    let set_in = typed(&whole, call, "", &["opening at", "set in a finished"]);
    let again = |typed: &str| whole.again(call).stdin(typed).run();
    let said = again(&format!("{set_in}\n\nq\n"));
    assert!(said.contains("Changed. The opening at"), "{said}");
    let changed = told("steps");
    assert!(!changed.contains("slip insert 1"), "{changed}");
    assert!(changed.contains("slip insert 2"), "{changed}");
    let said = told("verify");
    assert!(said.contains(": proved"), "{said}");
    let said = again("z\nq\n");
    assert!(said.contains("Taken back: The opening at"), "{said}");
    assert_eq!(told("steps"), planned);
}
