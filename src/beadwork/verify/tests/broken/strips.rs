//! Strips that are not flat peyote.

use super::*;

fn strip() -> Piece {
    Piece::new(testing::single(testing::strip(4, 7)))
}

fn stitch_of(piece: &Piece, row: u32, nth: usize) -> usize {
    let stitches = piece.steps.iter().enumerate();
    let mut of_row =
        stitches.filter(|(_, m)| m.kind == Kind::Stitch && m.round == Some(Round(row)));
    of_row.nth(nth).expect("the strip has such a stitch").0
}

#[test]
fn a_stitch_through_another_up_bead_is_found() {
    for (row, nth) in [(3, 0), (3, 3), (5, 1), (7, 2)] {
        let piece = strip();
        let at = stitch_of(&piece, row, nth);
        let [right, wrong] = [at, at - 1].map(|at| *piece.steps[at].passes.last().unwrap());
        let piece = piece.change(at, |m| m.passes[1] = wrong);
        let expected = Fault::WrongBead {
            expected: Some(right),
            found: Some(wrong),
        };
        assert_eq!(piece.first(), expected, "row {row} stitch {nth}");
    }
}

#[test]
fn a_stitch_that_goes_through_no_up_bead_is_found() {
    let piece = strip();
    let at = stitch_of(&piece, 4, 1);
    let expected = Some(piece.steps[at].passes[1]);
    let piece = piece.change(at, |m| {
        m.passes.pop();
    });
    let found = None;
    assert_eq!(piece.first(), Fault::WrongBead { expected, found });
}

#[test]
fn a_stitch_left_out_is_found() {
    let piece = strip();
    let at = stitch_of(&piece, 5, 2);
    let bead = piece.steps[at].strings[0];
    let faults = piece.drop(at).faults();
    assert!(faults.contains(&Fault::NeverStrung(bead)), "{faults:?}");
    assert!(faults.contains(&Fault::JobUnfinished), "{faults:?}");
}

#[test]
fn a_row_too_many_is_found() {
    let piece = strip();
    let at = stitch_of(&piece, 7, 3);
    let faults = piece.again(at).faults();
    assert_eq!(faults[0], Fault::BeyondTheRound(4));
}

#[test]
fn a_strip_of_too_few_rows_is_found() {
    let mut piece = strip();
    piece.project.panels[0].rounds = 8;
    assert!(piece.faults().contains(&Fault::JobUnfinished));
}

#[test]
fn a_string_too_short_is_found() {
    let piece = strip();
    let at = piece.find(Kind::Ring, 7);
    let faults = piece.drop(at).faults();
    let (expected, found) = (8, 7);
    assert!(
        faults.contains(&Fault::RoundHolds { expected, found }),
        "{faults:?}"
    );
}

#[test]
fn a_row_that_is_closed_to_a_round_is_found() {
    let piece = strip();
    let at = stitch_of(&piece, 4, 3);
    let piece = piece.change(at, |m| m.kind = Kind::StepUp);
    let fault = Fault::Unexpected {
        expected: Some(Kind::Stitch),
        found: Kind::StepUp,
    };
    assert!(piece.faults().contains(&fault));
}

#[test]
fn two_beads_in_a_gap_are_found() {
    let piece = strip();
    let at = stitch_of(&piece, 6, 1);
    let next = piece.steps[at + 1].strings[0];
    let piece = piece.change(at, |m| {
        m.strings.push(next);
        m.passes.insert(1, next);
    });
    let (kind, expected, found) = (Kind::Stitch, 1, 2);
    let fault = Fault::StringsWrong {
        kind,
        expected,
        found,
    };
    assert_eq!(piece.first(), fault);
}

#[test]
fn rows_sides_and_counts_on_a_step_are_checked() {
    let at = |piece: &Piece| stitch_of(piece, 5, 1);
    let row = strip();
    let nth = at(&row);
    let row = row.change(nth, |m| m.round = Some(Round(4)));
    let expected = Round(5);
    assert_eq!(row.faults(), [Fault::RoundNumber { expected }]);
    let side = strip().change(nth, |m| m.side = Some(Side(1)));
    let (expected, found) = (Side(0), Some(Side(1)));
    assert_eq!(side.faults(), [Fault::SideNumber { expected, found }]);
    let count = strip().change(nth, |m| m.round_beads = 3);
    let (expected, found) = ((2, 4), (3, 4));
    assert_eq!(count.faults(), [Fault::RoundFields { expected, found }]);
    let edge = strip();
    let nth = edge.find(Kind::Count, 0);
    let edge = edge.change(nth, |m| (m.round_beads, m.round_target) = (8, 8));
    let (expected, found) = ((4, 4), (8, 8));
    assert_eq!(edge.faults(), [Fault::RoundFields { expected, found }]);
}

/// The needle turns round the bead at the edge, so the next row can begin only
/// there.
#[test]
fn a_row_begun_at_the_wrong_edge_is_found() {
    let mut piece = strip();
    // Row 5 worked in the same direction as row 4: its stitches in the opposite
    // order.
    let first = stitch_of(&piece, 5, 0);
    let passed: Vec<Bead> = (0..4).map(|n| piece.steps[first + n].passes[1]).collect();
    for (n, bead) in passed.into_iter().rev().enumerate() {
        piece.steps[first + n].passes[1] = bead;
    }
    let faults = piece.faults();
    let wrong = |f: &Fault| matches!(f, Fault::WrongBead { .. });
    assert!(faults.iter().any(wrong), "{faults:?}");
}
