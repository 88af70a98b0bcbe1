//! The plain mode: the same keys, line by line.

use super::*;
use crate::beadwork::{Kind, testing};

fn talk_to(seq: Sequence, typed: &str) -> String {
    let piece = Piece::in_memory("Trial", b"{}", seq.steps(), Moment(0));
    let mut out = vec![];
    crate::screen::plain(seq, piece, typed.as_bytes(), &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn a_line_a_step() {
    let said = talk_to(proof::panel(3, 4), "\n\n\n\n\n-\nq\n");
    let steps: Vec<_> = said.lines().filter(|l| l.starts_with("step ")).collect();
    assert_eq!(steps.len(), 7);
    assert!(steps[1].starts_with("step 2 of"), "{said}");
    assert_eq!(
        steps[5],
        "step 6 of 28: Increase: pick up 2 P, sew through the next bead. Round 2 of 4 outward, \
         corner before side 1. Sew through N. 0 of 6 in place."
    );
    assert!(steps[6].starts_with("step 5 of"));
}

/// The page says how, and the new plan is said, although no step was made.
#[test]
fn a_new_thread_is_taken_up_from_its_page() {
    let on = "\n".repeat(49);
    let said = talk_to(proof::panel(3, 12), &format!("{on}h\nh n 40\nq\n"));
    assert!(said.contains("or a new one? Type h n."), "{said}");
    let (_, after) = said.split_once("z takes that back.\n").expect("it ends");
    assert!(
        after.starts_with("step 50 of ") && after.contains(": End the thread"),
        "{after}"
    );
}

#[test]
fn a_count_is_answered_and_an_end_of_input_ends() {
    let on = "\n".repeat(9);
    let said = talk_to(
        proof::panel(3, 4),
        &format!("{on}6\n7\nnonsense\nesc\ng 99999\n"),
    );
    assert!(said.contains("Yes, that is right."), "{said}");
    assert!(said.contains("1 too many"), "{said}");
    assert!(said.contains("Look: "), "{said}");
    assert!(said.contains("That is not understood."));
    assert!(said.contains("there is no step 99999"));
}

#[test]
fn plan_and_thread_are_said_and_a_short_thread_gives_a_warning() {
    let said = talk_to(
        proof::panel(3, 6),
        "p\nh\nh n 3\nh 34\n\n\n\n\n\n\n\n\n\n\n\n\n\n\nq\n",
    );
    assert!(said.contains("Thread and needle:\n"), "{said}");
    assert!(said.contains("\nThe piece: about "), "{said}");
    assert!(said.contains("A thread can be 10 cm"), "{said}");
    assert!(said.contains("The new thread is kept"), "{said}");
    assert!(said.contains("Thread: "), "{said}");
}

/// Whether the output after the last line typed begins with these words.
fn after(said: &str, words: &str) -> String {
    let at = said.rfind(words);
    said[at.unwrap_or_else(|| panic!("{words}\n{said}"))..].to_string()
}

#[test]
fn a_key_means_in_lines_what_it_means_on_the_screen() {
    let on = "\n".repeat(12);
    let said = talk_to(proof::panel(3, 5), &format!("{on}u\ndown\n\n\nb\nq\n"));
    assert!(said.contains("Unpick: how far back?"), "{said}");
    assert!(said.contains("> all of round 3 so far"), "{said}");
    assert!(said.contains("In this order"), "{said}");
    let unpicked = after(&said, "Unpicked. b takes that back.");
    assert!(
        unpicked.contains("Back to where you were.\nstep 13 of"),
        "{said}"
    );
}

#[test]
fn one_key_after_another_goes_in_one_line() {
    let on = "\n".repeat(9);
    let said = talk_to(
        proof::panel(3, 5),
        &format!("{on}c w w 6\ns\ndown\nesc\nw\n?\nesc\nn tight here\nq\n"),
    );
    assert!(said.contains("Round 2: 6. Yes, that is right."), "{said}");
    assert!(said.contains("> Colours: "), "{said}");
    assert!(said.contains("Where am I: question 2"), "{said}");
    assert!(said.contains("The note is kept with this step."), "{said}");
}

/// Only the line that a setting changes is said.
#[test]
fn a_list_says_what_has_changed() {
    let said = talk_to(proof::panel(3, 5), "s\n\nesc\nq\n");
    let changed = after(&said, "> Mirrored for the left hand: yes\n");
    let lines: Vec<&str> = changed.lines().collect();
    assert!(lines[1].starts_with("step 1 of"), "{said}");
}

#[test]
fn a_fold_that_is_tied_names_its_corners() {
    let seq = Sequence::new(testing::folded_pair(2, 0));
    let fold = seq.iter().find(|m| seq.say_corners(m).is_some()).unwrap();
    let said = talk_to(seq, &format!("g {}\nr\n", fold.step));
    assert!(
        said.contains(
            "The corners: at the end of side 3 of Panel 1, and at the end of side 1 of Panel 4."
        ),
        "{said}"
    );
}

/// Every movement that goes through beads names them, and names the panel too
/// if it is another one.
#[test]
fn every_movement_names_the_beads_that_it_goes_through() {
    let seq = proof::tetrahedron(4, crate::beadwork::project::Closing::Fill, 1);
    let said = talk_to(seq.clone(), &"\n".repeat(seq.steps() as usize));
    for m in seq
        .iter()
        .filter(|m| crate::screen::session::entered(m) > 0)
    {
        let line = format!("step {} of", m.step);
        let line = said.lines().find(|l| l.starts_with(&line)).unwrap();
        let named = seq.say_passed(&m).unwrap();
        assert!(
            line.contains(&format!("through {named}.")) || line.contains(&format!("Sew {named}.")),
            "{line}"
        );
        let letters = named
            .split([',', ' '])
            .filter(|w| w.len() == 1 && *w != "1");
        assert!(
            letters.count() >= crate::screen::session::entered(&m),
            "{line}"
        );
    }
    assert!(said.contains(" of Face 1, then "), "{said}");
}

#[test]
fn beads_taken_one_at_a_time_are_said_one_at_a_time() {
    let seq = proof::folded_pair(4, 1);
    let end = |m: &crate::beadwork::Movement| m.kind == Kind::EndThread && m.passes.len() > 4;
    let end = seq.iter().find(end).expect("an end that is woven in");
    let said = talk_to(seq.clone(), &format!("g {}\nx\n\n\nq\n", end.step));
    let head = format!("step {} of {}, bead", end.step, seq.steps());
    let lines: Vec<&str> = said.lines().filter(|l| l.starts_with(&head)).collect();
    let of = end.passes.len();
    for (nth, line) in lines.iter().enumerate() {
        let bead = seq.say_one_passed(&end, nth).unwrap();
        let through = if bead.starts_with("back ") {
            ""
        } else {
            "through "
        };
        assert_eq!(
            *line,
            format!("{head} {} of {of}: sew {through}{bead}.", nth + 1)
        );
    }
    assert_eq!(lines.len(), 3, "{said}");
}

#[test]
fn in_a_list_lines_are_counted_and_chosen_by_number() {
    let said = talk_to(
        proof::panel(3, 5),
        "m\ndown 3\nup 2\n4\nend\nhome\n99\nesc\nq\n",
    );
    let list: Vec<&str> = said.lines().skip_while(|l| !l.starts_with("> ")).collect();
    let lines = list
        .iter()
        .take_while(|l| l.starts_with(['>', ' ']))
        .count();
    // What is chosen is said alone, after the list as it was at first.
    let rows = |chosen: usize| format!("> {}", list[chosen].trim_start_matches(['>', ' ']));
    let last = list[..lines]
        .iter()
        .rposition(|l| l.starts_with("  "))
        .unwrap();
    assert_eq!(
        list[last + 1..][..5],
        [3, 1, 3, last, 0].map(rows),
        "{said}"
    );
    let most = format!("The lines of this list are 1 to {}.", last + 1);
    assert!(said.contains(&most), "{said}");
    assert!(!said.contains("not understood"), "{said}");
}

#[test]
fn the_solid_unfolded_says_which_sides_will_meet() {
    let seq = Sequence::new(testing::folded_pair(4, 0));
    let said = talk_to(seq, "v\nn\nesc\nq\n");
    assert!(said.contains("the same letters meet"), "{said}");
    assert!(
        said.contains("\nh: side 2 of Panel 3, side 2 of Face A\n"),
        "{said}"
    );
    assert_eq!(said.matches(" of Face ").count(), 4, "{said}");
    assert!(said.contains("\ntie: the end of side "), "{said}");
}

#[test]
fn a_number_may_stand_at_its_key() {
    let on = "\n".repeat(9);
    let at_key = talk_to(proof::panel(3, 5), &format!("{on}c6\nr6\ng5\nG5\nq\n"));
    let yes = "Round 2: 6. Yes, that is right.\n";
    assert_eq!(at_key.matches(yes).count(), 2, "{at_key}");
    let behind = talk_to(proof::panel(3, 5), &format!("{on}c 6\nr 6\ng 5\nG 5\nq\n"));
    assert_eq!(at_key, behind);
}

#[test]
fn a_capital_letter_that_is_no_key_is_told_and_does_nothing() {
    let said = talk_to(proof::panel(3, 5), "\nG 10\nU\nq\n");
    assert!(
        said.contains("\nG is no key here, g is: is Caps Lock on?\n"),
        "{said}"
    );
    assert!(
        said.contains("\nU is no key here, u is: is Caps Lock on?\n"),
        "{said}"
    );
    assert!(
        !said.contains("not understood") && !said.contains("step 10"),
        "{said}"
    );
}

#[test]
fn a_slip_is_answered_in_a_line() {
    let said = talk_to(proof::panel(3, 5), "\nhurray\ng 9 9\nq\n");
    assert!(said.contains("\nThat is not understood. ? tells the keys.\n"));
    let slip = after(&said, "'9 9' is no place");
    assert_eq!(slip.lines().count(), 1, "{said}");
}
