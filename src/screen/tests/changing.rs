//! A change of mind, key by key.

use super::*;
use crate::beadwork::project::Closing;
use crate::beadwork::verify::{Fault, verify};
use crate::beadwork::{Kind, Round};

/// Random movements, changes and undos: the plan in the sitting agrees with
/// what is read back from the journal, and it is proved.
#[test]
fn the_sitting_agrees_with_its_journal() {
    for seed in 1..=6 {
        let mut s = at(proof::folded_pair(4, 1), 0);
        let mut dice = Dice(seed);
        let mut changed = 0;
        for _ in 0..40 {
            let before = s.piece.state().record.amendments().count();
            match dice.roll(4) {
                0 => drop(s.press("z")),
                1 => drop(s.press(&"_".repeat(dice.roll(60) as usize))),
                _ => {
                    s.press("m");
                    s.press(&format!("{}!", "↓".repeat(dice.roll(16) as usize)));
                    if s.open() == "A change of mind" && s.said.is_empty() {
                        s.press(&format!("{}!", "↓".repeat(dice.roll(12) as usize)));
                    }
                    for list in ["One bead in place of another", "How far another bead goes"] {
                        while s.open() == list && s.said.is_empty() {
                            s.press(&format!("{}!", "↓".repeat(dice.roll(4) as usize)));
                        }
                    }
                    if s.open() == "A bead that the pattern lacks" {
                        let letter = ["P", "Q", "T", "U", "V", "W"][dice.roll(6) as usize];
                        s.press(&format!("{letter} plum, #4a2145!"));
                    }
                    if s.open() == "The last round of a fill" {
                        s.press(&format!("{}!", 1 + dice.roll(3)));
                    }
                    if s.open() == "Before and after a change" {
                        s.press("!");
                    }
                }
            }
            while !s.stack.is_lowest() {
                s.press("^");
            }
            changed += usize::from(s.piece.state().record.amendments().count() > before);
            let project = s.seq.layout().project().clone();
            let again = s.session.piece.resume(project, &[]);
            let why = format!("seed {seed}: {:?}", s.piece.state().record);
            assert_eq!(s.piece.notices(), [], "{why}");
            assert!(s.seq.iter().eq(again.iter()), "{why}");
            let colours = |seq: &Sequence| {
                let beads = (1..=seq.layout().beads()).map(crate::beadwork::Bead);
                beads
                    .map(|bead| seq.layout().colour(bead))
                    .collect::<Vec<_>>()
            };
            assert_eq!(colours(&s.seq), colours(&again), "{why}");
            let (layout, jobs) = (again.layout(), again.jobs());
            let size = |bead| layout.bead_kind(again.colour_as_made(bead)).size;
            let report = verify(
                layout.project(),
                again.goal(),
                jobs,
                again.iter_as_made(),
                size,
            );
            // A thicker thread that the maker chose may fill beads; the proof
            // reports that.
            let chosen = again.goal().threads.len() > 1;
            let mut wrong = report.findings.iter();
            let wrong = wrong.find(|f| !(chosen && matches!(f.fault, Fault::Blocked { .. })));
            assert!(wrong.is_none(), "{why}: {wrong:?}");
        }
        assert!(changed > 5, "seed {seed}: {changed} changes");
    }
}

/// Opens the list of the ways to close openings.
fn openings(s: &mut Sitting) {
    s.press("m");
    while !s.shown(80, 24).contains("▶ How openings are closed") {
        s.press("↓");
    }
    s.press("!");
}

/// A side that stays longer by a bead costs the join of the last panel: it is said
/// why, what brings it back is at the top of the list, and the gap is among the
/// changes made.
#[test]
fn a_bead_kept_says_which_join_it_costs_and_how_it_comes_back() {
    let seq = proof::tetrahedron(6, Closing::SetIn, 0);
    let mut stitches = seq.iter().filter(|m| m.round == Some(Round(6)));
    let at = stitches.find(|m| m.kind == Kind::Stitch).unwrap().step;
    let mut s = super::at(seq.clone(), at.0 as usize - 1);
    s.press("mi");
    assert!(s.shown(100, 40).contains("All is as the pattern has it."));
    s.press("^");
    while !s
        .shown(100, 40)
        .contains("▶ This gap, as stitched: 2 beads")
    {
        s.press("↓");
    }
    s.press("!");
    let text = s.shown(100, 60);
    let lost = text
        .lines()
        .position(|line| line.contains("No longer a job: Zip"));
    let lost = lost.unwrap_or_else(|| panic!("{text}"));
    let why = text.lines().nth(lost + 1).unwrap();
    assert!(
        why.contains(" up beads and side 1 of Face 1 has 7."),
        "{text}"
    );
    s.press("!m");
    let text = s.shown(100, 60);
    let way = text
        .find("lock it directly")
        .unwrap_or_else(|| panic!("{text}"));
    assert!(way < text.find("Joins").unwrap_or(text.len()), "{text}");
    assert!(text.contains("Join of Face 1, side 1, to side "), "{text}");
    s.press("i");
    let text = s.shown(100, 40);
    let step = format!("Step {at}, round 6, ");
    assert!(
        text.contains(&step) && text.contains(": 2 beads, as stitched"),
        "{text}"
    );
}

#[test]
fn a_change_is_looked_at_first_and_undone_by_name() {
    let mut s = at(proof::folded_pair(4, 1), 7);
    let planned: Vec<_> = s.seq.iter().collect();
    openings(&mut s);
    s.press("!");
    let text = s.shown(80, 24);
    assert!(
        text.contains("Beads: before") && text.contains("A new"),
        "{text}"
    );
    s.press("^^^");
    assert!(s.seq.iter().eq(planned.iter().cloned()));
    openings(&mut s);
    s.press("!!");
    assert!(s.said.starts_with("Changed."), "{}", s.said);
    assert_eq!((s.open(), s.done()), ("Stitching", Step(7)));
    assert!(!s.seq.iter().eq(planned.iter().cloned()));
    s.press("z");
    assert!(s.said.starts_with("Taken back: "), "{}", s.said);
    assert!(s.seq.iter().eq(planned));
    s.press("zzzzzzzz");
    assert_eq!(s.said, "There is nothing to take back.");
    assert_eq!(s.done(), Step(0));
}

/// The notes stay with their beads, and the plan is made again.
#[test]
fn notes_stay_with_their_beads() {
    let seq = proof::folded_pair(4, 1);
    let piece = Piece::in_memory("Trial", b"{}", seq.steps(), Moment(0));
    let mut s = Sitting::of(Session::new(seq, piece, LOOK, Moment(0)));
    s.press(&"_".repeat(31));
    s.press("ntight here!");
    let at = *s.piece.state().notes.keys().next().unwrap();
    openings(&mut s);
    s.press("!!");
    assert!(s.said.starts_with("Changed."), "{}", s.said);
    assert_eq!(s.piece.state().notes.keys().next(), Some(&at));
    assert_eq!(s.piece.steps(), Some(s.seq.steps()));
}

/// What was undone can be redone, both movements and changes, until something
/// else is done.
#[test]
fn what_was_undone_can_be_redone() {
    let mut s = at(proof::folded_pair(4, 1), 7);
    openings(&mut s);
    s.press("!!");
    s.press("__");
    let (steps, done) = (s.seq.iter().collect::<Vec<_>>(), s.done());
    s.press("zzzz");
    assert_eq!(s.done(), Step(6));
    s.press("yyy");
    assert!(s.said.starts_with("Done again: "), "{}", s.said);
    s.press("y");
    assert_eq!((s.seq.iter().collect::<Vec<_>>(), s.done()), (steps, done));
    s.press("y");
    assert_eq!(s.said, "There is nothing to do again.");
    // After another movement there is nothing to redo.
    s.press("zz_y");
    assert_eq!(s.said, "There is nothing to do again.");
}
