//! The plan's own room, thread that runs short, full beads, on a terminal.

use crate::builder::threadmark;
use crate::pattern::{ring, tetrahedron, triangle};
use crate::pty::Screen;

/// What the room says is what the command prints.
#[test]
fn the_plan_is_opened_read_and_left() {
    let whole = threadmark("plan a.json").file("a.json", tetrahedron(5));
    let page = whole.run();
    let all = page.lines().find(|l| l.contains("in all")).unwrap().trim();
    let mut screen = Screen::open(&whole.again("stitch a.json"), 80, 24);
    screen.sees("A new piece").keys("p");
    screen.sees("Beads").sees(all).sees("part 1 of");
    screen
        .keys("<tab>")
        .sees("part 2 of")
        .sees("needle: size 12");
    screen.resize(40, 12).sees("part 2 of");
    screen.resize(120, 40).sees("Fullest holes");
    screen.keys("i").sees(" ft of thread");
    screen.resize(80, 24).keys("<esc> <esc>").sees("step 1 of");
    screen
        .keys("<space>3 p")
        .sees("From here on")
        .sees("left to string");
    screen.keys("p").sees("step 4 of");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn a_thread_runs_short_is_warned_of_and_a_new_one_kept() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(6));
    let mut screen = Screen::begun(&whole);
    screen
        .keys("<space>2 h")
        .sees("The current thread")
        .sees("cut to 150 cm");
    screen
        .keys("n")
        .sees("How long is it cut")
        .keys("3 3 <enter>");
    screen.sees("The new thread is kept");
    let mut steps = 0;
    while !screen.text().contains("Thread: ") {
        screen.keys("<space>");
        steps += 1;
        assert!(steps < 40, "no word about the thread:\n{}", screen.text());
    }
    // The movement is still in sight.
    screen.sees("Step up").sees("of it to weave in.");
    screen.keys("h").sees("take up a new one").keys("n <enter>");
    screen.loses("of it to weave in.");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    let threads = whole.piece("evening-star").state().threads.clone();
    assert_eq!(threads.get(&2), Some(&330));
    assert_eq!(threads.len(), 2);
    // Opened again, the thread in hand is the new one.
    let mut again = Screen::open(&whole.again("stitch evening-star"), 80, 24);
    again.sees("You were at").keys("<space> h");
    again.sees("cut to 33 cm as you said").keys("<esc> q");
    assert_eq!(again.ends().0, 0);
}

#[test]
fn a_full_bead_is_warned_of_before_the_stitch() {
    let thick = ring(8, 4).replace("braided 0.12", "nylon 0.30");
    let whole = threadmark("steps a.json --json").file("a.json", thick);
    // From the steps alone: the first one that goes through a bead in which
    // three threads lie. By the rules of the trade three threads of 0.3 mm
    // (bundle 0.65 mm) and a needle of 0.36 mm do not lie beside one another
    // in a hole of 0.8 mm.
    let mut lie = std::collections::HashMap::<u64, u32>::new();
    let mut full = None;
    for step in whole.objects("steps") {
        for bead in step["passes"].as_array().unwrap() {
            let n = lie.entry(bead.as_u64().unwrap()).or_default();
            if *n == 3 && full.is_none() {
                full = Some((step["step"].as_u64().unwrap(), bead.as_u64().unwrap()));
            }
            *n += 1;
        }
    }
    let (step, bead) = full.expect("some bead gets full");
    let mut screen = Screen::begun(&whole.again("stitch a.json"));
    screen.keys(&format!("g {step} <enter>"));
    screen.sees(&format!("step {step} of"));
    screen.sees(&format!("Bead {bead} is nearly full"));
    screen
        .keys("h")
        .sees(&format!("Bead {bead} holds 3 threads"));
    screen.keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
}
