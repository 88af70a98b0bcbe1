//! The three moments in which a maker is alone: a wrong count, a lost place, a
//! mistake rounds back; each from the first key to the last.

use threadmark::beadwork::{Sequence, Step};
use threadmark::progress::{State, Tray};
use threadmark::tracking::locate::look::look;
use threadmark::tracking::locate::{Choices, Next, Reply, Search};

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;

/// The name of the only piece.
fn name(whole: &Whole) -> String {
    let pieces = Tray::open(&whole.tray()).pieces().expect("the tray");
    pieces[0].name.clone()
}

fn state(whole: &Whole) -> State {
    whole.piece(&name(whole)).state().clone()
}

/// The triangle at the end of side 1 of round 3.
fn at_a_count(whole: &Whole) -> Screen {
    let mut screen = Screen::begun(whole);
    screen.rush("<space>12").sees("Count side 1 of round 3?");
    screen
}

#[test]
fn a_wrong_count_leads_to_its_mend_and_the_mend_to_a_right_count() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(6));
    let mut screen = at_a_count(&whole);
    screen.keys("4 <enter>").sees("1 too many");
    screen.sees("Most likely: two beads in one gap");
    screen.keys("<enter>").sees("Where do you see it?");
    // The gap is found: the last one of side 1.
    screen.keys("<down>").sees("Unpick");
    screen.keys("<enter>").sees("In this order");
    screen.says("Take the needle off the thread");
    screen.keys("<space>").sees("Unpicking:");
    let mut out = 0;
    while !screen.text().contains("Unpicked as far as you wished") {
        screen.keys("<space>");
        out += 1;
        assert!(out < 12, "{}", screen.text());
    }
    screen
        .rush(&format!("<space>{out}"))
        .sees("Count side 1 of round 3?");
    screen.keys("3 <enter>").sees("Yes, that is right");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    let state = state(&whole);
    assert_eq!((state.step, state.checks.len()), (12, 2));
}

/// The pattern on the mat, worked out.
fn sequence(whole: &Whole) -> Sequence {
    let bytes = std::fs::read(whole.dir().join("a.json")).expect("the pattern");
    let pattern = threadmark::pattern::read("a.json", &bytes).expect("a pattern");
    Sequence::new(pattern.project)
}

/// Answers all questions as the work on the mat, `done` steps of it, tells.
/// How many there were.
fn answer_all(screen: &mut Screen, seq: &Sequence, done: Step) -> usize {
    let on_the_mat = look(seq, done).expect("a look");
    let mut search = Search::new(seq);
    let mut asked = 0;
    while let Next::Ask(question) = search.turn() {
        asked += 1;
        screen.sees(&format!("question {asked}"));
        let value = on_the_mat.get(question.ask);
        match &question.choices {
            Choices::Number(_) => screen.keys(&format!("{value} <enter>")),
            Choices::OneOf(choices) => {
                let nth = choices.iter().position(|(v, _)| *v == value);
                screen.keys(&format!("{} <enter>", nth.expect("a choice") + 1))
            }
        };
        search.reply(question.ask, Reply::Value(value));
    }
    asked
}

#[test]
fn a_lost_place_is_found_by_what_lies_on_the_mat() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(6));
    let mut screen = Screen::begun(&whole);
    screen.keys("w");
    // The work on the mat has 40 steps; the program does not know.
    let asked = answer_all(&mut screen, &sequence(&whole), Step(40));
    screen.sees("compare the picture").sees("step 40:");
    // One answer taken back.
    screen
        .keys("<backspace>")
        .sees(&format!("question {asked}"));
    screen.keys("?");
    screen.keys("<esc> w").sees("question 1");
    screen.keys("<esc>").sees("step 1 of");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn the_place_that_was_found_is_gone_to_and_there_is_a_way_back() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(3));
    let mut screen = Screen::begun(&whole);
    screen.keys("w");
    answer_all(&mut screen, &sequence(&whole), Step(9));
    screen.keys("<enter>").sees("step 10 of");
    screen.keys("b").sees("step 1 of");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn unpicking_is_kept_in_the_journal_and_can_be_taken_back() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(6));
    let mut screen = Screen::begun(&whole);
    screen.keys("u").sees("Nothing is stitched yet");
    screen.rush("<space>30").sees("step 31 of");
    screen
        .keys("u")
        .sees("how far back?")
        .sees("the last movement");
    screen.keys("<down> <enter>").sees("In this order");
    screen.keys("<enter>").sees("Unpicked. b takes that back");
    let back = state(&whole).step;
    assert!(back < 30, "{back}");
    screen.keys("b").sees("step 31 of");
    // Another place is typed: back until step 12 is the next.
    screen.keys("u 12").sees("step 12 is then the next");
    screen
        .keys("<enter>")
        .sees("19 steps come out, step 12 is then the next");
    screen
        .keys("<space>3 <backspace>")
        .sees("Unpicking: 18 movements to go");
    screen.keys("<esc> b").sees("step 31 of");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(state(&whole).step, 30);
}

#[test]
fn a_difference_that_is_kept_holds_when_the_piece_is_opened_again() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(6));
    let mut screen = at_a_count(&whole);
    screen.rush("<space>4").sees("Count round 3?");
    screen.keys("4,3,3 <enter>").sees("1 too many");
    screen.keys("k").sees("In which gap is it?");
    screen.keys("<enter>").sees("Beads: before 63, after 67");
    screen.keys("<enter>").says("as stitched. z takes it back.");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);

    let mut screen = Screen::open(&whole.again(&format!("stitch {}", name(&whole))), 80, 24);
    screen.sees("You were at").keys("<space>");
    let mut steps = 0;
    while !screen.text().contains("Count side 1 of round 4?") {
        screen.keys("<space>");
        steps += 1;
        assert!(steps < 15, "{}", screen.text());
    }
    // Four by the pattern, five as stitched.
    screen.keys("5 <enter>").sees("Yes, that is right");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}

/// A new user's first evening and the next one: begin, count wrong, mend, stop,
/// come back by the same words, count on the card, go on.
#[test]
fn begin_count_wrong_mend_stop_and_come_back() {
    let whole = threadmark("stitch a.json").file("a.json", triangle(6));
    let mut screen = at_a_count(&whole);
    screen.keys("4 <enter>").sees("1 too many");
    screen.keys("<enter> <down> <enter> <space>");
    let mut out = 0;
    while !screen.text().contains("Unpicked as far as you wished") {
        screen.keys("<space>");
        out += 1;
        assert!(out < 12, "{}", screen.text());
    }
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    let rests = state(&whole).step;

    // The next evening, by the same words: the same piece, at the same bead.
    let mut screen = Screen::open(&whole, 80, 40);
    screen.sees("You were at").says("Your last movements");
    screen
        .keys("<space>")
        .sees(&format!("step {} of", rests + 1));
    screen.rush(&format!("<space>{out}"));
    screen.sees("Count side 1 of round 3?");
    screen.keys("3 <enter>").sees("Yes, that is right");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);

    // What is in place now is what is counted, on the card too.
    let mut screen = Screen::open(&whole, 80, 24);
    screen.sees("You were at").keys("3 <enter>").sees("Yes");
    screen.keys("<esc> <space>").sees("step 14 of").keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(
        Tray::open(&whole.tray()).pieces().expect("the tray").len(),
        1
    );
}
