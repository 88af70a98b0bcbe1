//! Rounds that break their law.

use super::*;

#[test]
fn a_step_up_through_one_bead_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::StepUp, 3);
    let both = [piece.steps[at].passes[0], piece.steps[at].passes[1]];
    for left in both {
        let piece = Piece::triangle();
        let piece = piece.change(at, |m| m.passes.retain(|bead| *bead == left));
        let expected = Fault::WrongTurn {
            expected: both,
            found: vec![left],
        };
        assert_eq!(piece.first(), expected);
    }
}

#[test]
fn a_step_up_left_out_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::StepUp, 3);
    let faults = piece.drop(at).faults();
    let goes_on = |f: &Fault| matches!(f, Fault::BeyondTheRound(..));
    assert!(faults.iter().any(goes_on), "{faults:?}");
}

#[test]
fn a_step_down_named_a_step_up_is_found() {
    let piece = Piece::inward();
    let at = piece.find(Kind::StepDown, 2);
    let fault = Fault::Unexpected {
        expected: Some(Kind::StepDown),
        found: Kind::StepUp,
    };
    assert_eq!(
        piece.change(at, |m| m.kind = Kind::StepUp).faults(),
        [fault]
    );
}

#[test]
fn a_bead_strung_at_a_corner_that_should_be_drawn_together_is_found() {
    let mut piece = Piece::inward();
    let at = piece.find(Kind::Decrease, 3);
    // From here on the beads after it have numbers one higher.
    let bead = piece.steps[at + 1].strings[0];
    let on = |b: &mut Bead| b.0 += u32::from(*b >= bead);
    for m in &mut piece.steps[at + 1..] {
        m.strings.iter_mut().for_each(on);
        m.passes.iter_mut().for_each(on);
    }
    piece.jobs[0].beads += 1;
    let piece = piece.change(at, |m| {
        m.kind = Kind::Stitch;
        m.strings.push(bead);
        m.passes.insert(0, bead);
        m.round_beads += 1;
    });
    let faults = piece.faults();
    let corner = |f: &Fault| {
        let (expected, found) = (0, 1);
        matches!(f, Fault::GapHolds { expected: e, found: f, .. } if (*e, *f) == (expected, found))
    };
    assert!(corner(&faults[0]), "{faults:?}");
    let over =
        |f: &Fault| matches!(f, Fault::RoundHolds { expected, found } if *found == expected + 1);
    assert!(faults.iter().any(over), "{faults:?}");
}

#[test]
fn a_decrease_that_strings_is_found() {
    let piece = Piece::inward();
    let at = piece.find(Kind::Stitch, 3);
    let fault = Fault::StringsWrong {
        kind: Kind::Decrease,
        expected: 0,
        found: 1,
    };
    let piece = piece.change(at, |m| m.kind = Kind::Decrease);
    assert_eq!(piece.faults(), [fault]);
}

#[test]
fn an_increase_of_one_bead_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Increase, 5);
    let piece = piece.change(at, |m| {
        m.strings.pop();
        m.passes.remove(1);
    });
    let fault = Fault::StringsWrong {
        kind: Kind::Increase,
        expected: 2,
        found: 1,
    };
    assert_eq!(piece.first(), fault);
}

#[test]
fn wrong_counts_on_a_step_are_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Stitch, 12);
    let good = (piece.steps[at].round_beads, piece.steps[at].round_target);
    let fields = [(good.0 + 1, good.1), (good.0, good.1 - 1), (0, 0)];
    for found in fields {
        let piece = Piece::triangle();
        let piece = piece.change(at, |m| (m.round_beads, m.round_target) = found);
        let expected = good;
        assert_eq!(piece.faults(), [Fault::RoundFields { expected, found }]);
    }
}

#[test]
fn wrong_rounds_and_sides_on_a_step_are_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Stitch, 12);
    let (round, side) = (
        piece.steps[at].round.unwrap(),
        piece.steps[at].side.unwrap(),
    );
    let other = Some(Side((side.0 + 1) % 3));
    assert_eq!(
        Piece::triangle().change(at, |m| m.side = other).faults(),
        [Fault::SideNumber {
            expected: side,
            found: other
        }]
    );
    assert_eq!(
        piece.change(at, |m| m.round = Some(Round(1))).faults(),
        [Fault::RoundNumber { expected: round }]
    );
}

#[test]
fn a_ring_that_is_not_closed_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Ring, 3);
    let faults = piece.drop(at).faults();
    let fault = Fault::Unexpected {
        expected: Some(Kind::Ring),
        found: Kind::Increase,
    };
    assert_eq!(faults[0], fault);
}

#[test]
fn a_middle_that_is_not_drawn_shut_is_found() {
    let piece = Piece::inward();
    let at = piece.find(Kind::Close, 0);
    let faults = piece.drop(at).faults();
    assert!(faults.contains(&Fault::NotDrawnShut), "{faults:?}");
}

#[test]
fn an_open_middle_passed_once_is_found() {
    let piece = Piece::new(testing::single(testing::inward(3, 8, 3)));
    let firm: Vec<usize> = (0..piece.steps.len())
        .filter(|&i| piece.steps[i].kind == Kind::Firm)
        .collect();
    let last = *firm.last().unwrap();
    let faults = piece.drop(last).faults();
    let slack = |f: &Fault| matches!(f, Fault::NotFirmed(..));
    assert!(faults.iter().any(slack), "{faults:?}");
}
