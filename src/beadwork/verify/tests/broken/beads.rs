//! Steps and beads whose numbers are wrong.

use super::*;

#[test]
fn steps_that_are_not_broken_are_proved() {
    for piece in [Piece::triangle(), Piece::inward()] {
        assert_eq!(piece.faults(), []);
    }
    for closing in [Closing::SetIn, Closing::Fill, Closing::Open] {
        assert_eq!(Piece::tetrahedron(closing).faults(), []);
    }
}

#[test]
fn a_missing_step_number_is_found() {
    let mut piece = Piece::triangle();
    for step in &mut piece.steps[30..] {
        step.step.0 += 1;
    }
    let expected = Step(31);
    assert_eq!(piece.faults(), [Fault::StepNumber { expected }]);
}

#[test]
fn a_dropped_stitch_is_a_gap_left_out() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Stitch, 20);
    let bead = piece.steps[at].strings[0];
    let faults = piece.drop(at).faults();
    assert!(matches!(faults[0], Fault::SkippedGap(..)), "{faults:?}");
    assert!(faults.contains(&Fault::NeverStrung(bead)));
    let short =
        |f: &Fault| matches!(f, Fault::RoundHolds { expected, found } if found + 1 == *expected);
    assert!(faults.iter().any(short), "{faults:?}");
}

#[test]
fn a_dropped_last_stitch_is_a_gap_left_out() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::StepUp, 2) - 1;
    let faults = piece.drop(at).faults();
    assert!(matches!(faults[0], Fault::SkippedGap(..)), "{faults:?}");
}

#[test]
fn a_bead_strung_again_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Stitch, 10);
    let bead = Bead(5);
    let piece = piece.change(at, |m| {
        m.strings[0] = bead;
        m.passes[0] = bead;
    });
    assert_eq!(piece.first(), Fault::StrungTwice(bead));
}

#[test]
fn a_bead_strung_but_not_passed_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Stitch, 10);
    let bead = piece.steps[at].strings[0];
    let faults = piece.change(at, |m| m.passes.truncate(0)).faults();
    assert!(faults.contains(&Fault::NotPassed(bead)), "{faults:?}");
}

#[test]
fn a_bead_passed_before_it_is_strung_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Stitch, 10);
    let bead = piece.steps[at + 3].strings[0];
    let faults = piece.change(at, |m| m.passes[1] = bead).faults();
    assert!(faults.contains(&Fault::NotYetStrung(bead)), "{faults:?}");
}

#[test]
fn a_bead_that_the_piece_does_not_have_is_found() {
    for bead in [Bead(0), Bead(64), Bead(u32::MAX)] {
        let piece = Piece::triangle();
        let at = piece.find(Kind::Stitch, 10);
        let faults = piece.change(at, |m| m.passes[1] = bead).faults();
        assert!(faults.contains(&Fault::UnknownBead(bead)), "{faults:?}");
    }
}
