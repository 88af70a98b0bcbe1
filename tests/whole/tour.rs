//! The beginner's tour on a terminal, from the first run to its end; words
//! asked about; both in the plain mode.

use crate::builder::threadmark;
use crate::pty::Screen;

/// From the demo that opens by itself to the tour, with a count and a word
/// asked about on the way, put away in the middle, and on to the last step.
#[test]
fn the_tour_by_keys_from_the_first_run_to_the_end() {
    let whole = threadmark("");
    let mut screen = Screen::open(&whole, 80, 24);
    screen
        .sees("Harbour lantern")
        .sees("Press e for the beginner's tour");
    screen.keys("e").sees("You need 18 beads L (linen)");
    screen
        .sees("Needles and broken glass are sharp.")
        .sees("keep them out of mouths")
        .sees("step 1 of 49");
    screen.keys("<space>").sees("Thread and tail");
    screen.keys("<space>").sees("The ring");
    screen.keys("<space>").loses("Lesson");
    screen.keys("<space>2").sees("The first round");
    screen.keys("<space>").sees("Increase: two beads");
    screen.keys("<space>3").sees("Step-up: a round ends");
    // What the round must have, and what it must not.
    screen.keys("<space>").sees("Count when you like");
    screen.keys("12 <enter>").sees("6 too many");
    screen.keys("<space>").sees("Count when you like");
    screen.keys("6 <enter>").sees("Yes, that is right");
    screen.keys("<space>").sees("Stitch: one bead");
    screen.keys("a").sees("Words on the screen just now");
    screen
        .keys("<enter>")
        .sees("[A]     [A]")
        .sees("See also: 1 gap");
    screen.keys("1").sees("[A]   ^   [A]   ^   [A]");
    screen.keys("<esc>3").sees("Stitch: one bead");
    screen
        .keys("<space>6")
        .sees("step 17 of 49")
        .sees("The edge");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(whole.piece("pair-of-sails").state().step, 16);

    // The tray now, and from it the tour where it was left.
    let mut screen = Screen::open(&whole.again(""), 80, 24);
    screen.sees("Your tray").sees("Pair of sails");
    screen.keys("e").sees("You were at: near sail");
    screen.sees("7 lessons have come up");
    screen
        .keys("<space>")
        .sees("step 17 of 49")
        .sees("The edge");
    screen.keys("<space>").sees("Sew through: no bead");
    screen.keys("<space>").sees("Join row: beads");
    screen.keys("<space>2").sees("The end of the thread");
    screen.keys("<space>2").sees("Inward from the edge");
    screen.rush("<space>15").sees("The string closes");
    screen.keys("<space>").sees("Stitch inward");
    screen.keys("<space>").sees("Decrease: no bead");
    screen.keys("<space>4").sees("Step-down: inward ends");
    screen.keys("<space>").sees("Close the middle");
    screen.keys("<space>2").sees("Zip: two edges join");
    screen.keys("<space>3").sees("You have done the tour");
    screen.keys("t").sees("Your tray").sees("finished");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(whole.piece("pair-of-sails").state().step, 49);
}

#[test]
fn the_tour_is_left_taken_up_and_repeated_by_keys() {
    let whole = threadmark("stitch practice-pair");
    let mut screen = Screen::open(&whole, 80, 24);
    screen.sees("The beginner's tour").keys("<space>2");
    screen.sees("The ring");
    screen.keys("e").sees("Lesson 2 of ").keys("x");
    screen.sees("The tour is left.").keys("<space>");
    screen.loses("Lesson").keys("q");
    assert_eq!(screen.ends().0, 0);
    // Left it stays, until it is taken up again.
    let mut screen = Screen::open(&whole.again("stitch pair-of-sails"), 80, 24);
    screen.sees("You were at").keys("<space>");
    screen.sees("step 2 of 49").loses("Lesson");
    screen.keys("e x <space>").sees("The ring");
    screen.keys("e r <space>").sees("The ring");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn the_practice_triangle_has_its_lessons_too() {
    let whole = threadmark("stitch practice-triangle");
    let mut screen = Screen::open(&whole, 40, 12);
    screen.sees("more below").keys("<space>2");
    screen.sees("e reads the lesson: The ring").keys("e");
    screen.sees("Pick up one bead").keys("<space>");
    screen.loses("Pick up one bead").keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn in_the_tray_words_can_be_asked_about() {
    let whole = threadmark("stitch practice-triangle --plain").stdin("\nq\n");
    whole.run();
    let mut screen = Screen::open(&whole.again(""), 80, 24);
    screen.sees("Your tray").keys("a");
    screen.sees("Words on the screen just now");
    screen.keys("<enter>").sees("See also:");
    screen
        .keys("<esc> <esc>")
        .sees("Begin a new piece")
        .keys("q");
    assert_eq!(screen.ends().0, 0);
}

#[test]
fn the_plain_mode_tells_the_lessons_and_explains_words() {
    let on = "\n".repeat(9);
    let typed = format!("e\n{on}6\na zip\na gizmo\ne\ne x\n\n-\ne x\na course\nq\n");
    let whole = threadmark("--plain").stdin(&typed);
    let said = whole.run();
    for words in [
        "Type e for",
        "Lesson - The ring\n",
        "press Enter; then the next.",
        "Lesson - Step-up: a round ends\n",
        "Round 2: 6. Yes, that is right.",
        "zip\nLock a bare edge and a join row",
        "    [E]   [E]   [E]\n       [J]   [J]\n    [A]   [A]   [A]\n",
        "That word is not among these.",
        "round\nOne trip of the needle",
        "The tour is left.",
        "Pair of sails rests after step 9 of 49.",
    ] {
        assert!(said.contains(words), "{words}\n{said}");
    }
    // Not a picture's words for who hears, and no lesson while it is left.
    assert!(!said.contains("strong frame"));
    let (_, left) = said.split_once("The tour is left.").unwrap();
    let (left, _) = left.split_once("The tour is on:").unwrap();
    assert!(!left.contains("Lesson - "), "{left}");
}

#[test]
fn the_left_hand_is_told_its_own_directions() {
    let on = "\n".repeat(10);
    for (option, told, not) in [
        ("", "The needle goes to the left.", "to the right"),
        (
            "--left-handed",
            "The needle goes to the right.",
            "to the left",
        ),
    ] {
        let whole = threadmark(&format!("stitch practice-pair --plain {option}"));
        let said = whole.stdin(format!("{on}a stitch\nq\n")).run();
        assert!(said.contains(told), "{said}");
        assert!(!said.contains(not), "{said}");
        let drawn = match option {
            "" => "<[A]     [A]@",
            _ => "@[A]     [A]>",
        };
        assert!(said.contains(drawn), "{said}");
    }
}

/// A lesson is said once before its movement, not after each answer and each page.
#[test]
fn by_ear_a_lesson_is_said_once() {
    let typed = "\n\n\n\n9\nesc\nh\na gap\nesc\nq\n";
    let said = threadmark("stitch practice-pair --plain")
        .stdin(typed)
        .run();
    assert!(said.matches("\nstep 5 of 49: ").count() > 1, "{said}");
    assert_eq!(
        said.matches("Lesson - The first round\n").count(),
        1,
        "{said}"
    );
}
