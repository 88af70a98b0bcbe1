//! Thread that goes where it cannot, and full holes.

use super::*;

#[test]
fn beads_passed_in_the_wrong_order_are_a_jump() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::EndThread, 0);
    let faults = piece.change(at, |m| m.passes.swap(1, 2)).faults();
    assert!(matches!(faults[0], Fault::Jump { .. }), "{faults:?}");
}

#[test]
fn thread_across_open_space_is_found_with_both_beads() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::EndThread, 0);
    let from = *piece.steps[at - 2].passes.last().unwrap();
    let piece = piece.change(at, |m| m.passes[0] = Bead(1));
    assert_eq!(piece.first(), Fault::Jump { from, to: Bead(1) });
}

/// A step-up leaves the front of the round's first bead. What touches its back
/// can only be reached by turning round inside the bead.
#[test]
fn thread_that_turns_inside_a_bead_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::EndThread, 0);
    let turn = piece.steps[piece.find(Kind::StepUp, 4)].passes.clone();
    let piece = piece.change(at, |m| m.passes[0] = turn[0]);
    assert_eq!(piece.first(), Fault::TurnsInside(turn[1]));
}

#[test]
fn work_without_thread_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::StartThread, 0);
    let faults = piece.drop(at).faults();
    assert!(faults.contains(&Fault::NoThread), "{faults:?}");
}

#[test]
fn thread_started_over_thread_and_thread_left_are_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::StartThread, 0);
    assert_eq!(piece.again(at).faults(), [Fault::ThreadStillIn]);
    let piece = Piece::triangle();
    let at = piece.find(Kind::EndThread, 0);
    assert_eq!(piece.drop(at).faults(), [Fault::ThreadLeft]);
}

/// By hand: 2 threads of 0.3 leave no room for a needle of 0.36 in a hole of
/// 0.6, because 2·0.09 + 0.13 > 0.75·0.36.
#[test]
fn a_full_hole_is_found_at_the_first_pass_too_many() {
    let mut piece = Piece::triangle();
    piece.goal.threads[0].thread.diameter_mm = 0.3;
    let wide = piece.project.beads[0].size;
    let narrow = BeadSize {
        hole_mm: 0.6,
        ..wide
    };
    std::sync::Arc::make_mut(&mut piece.goal.beads)[0].size = narrow;
    let narrow_bead = Bead(1);
    let size_of = |bead| if bead == narrow_bead { narrow } else { wide };
    let report = piece.report_sized(size_of);
    let faults: Vec<Fault> = report.findings.into_iter().map(|f| f.fault).collect();
    let fault = Fault::Blocked {
        bead: narrow_bead,
        passes: 2,
    };
    assert_eq!(faults, [fault]);
}

/// Woven in through four beads of eight, or without a turn, an end could slide,
/// at either end of the thread.
#[test]
fn ends_that_can_slide_are_found() {
    let slides = |piece: Piece| {
        let is_slide = |fault: &Fault| matches!(fault, Fault::EndSlides { .. });
        let mut faults = piece.faults();
        faults.retain(is_slide);
        faults
    };
    let piece = Piece::triangle();
    let end = piece.find(Kind::EndThread, 0);
    let piece = piece.change(end, |m| m.passes.truncate(4));
    assert!(matches!(
        slides(piece)[..],
        [Fault::EndSlides { beads: 4, .. }]
    ));

    let renewed = || {
        let mut project = testing::solid(Solid::Tetrahedron, 6, Closing::Fill);
        project.thread.cut_mm = 500.0;
        Piece::new(project)
    };
    let is_woven = |m: &Movement| m.kind == Kind::StartThread && !m.passes.is_empty();
    let start = renewed().steps.iter().position(is_woven);
    let start = start.expect("thread is renewed");
    let few = renewed().change(start, |m| {
        m.passes = m.passes[4..].iter().copied().collect()
    });
    assert!(matches!(
        slides(few)[..],
        [Fault::EndSlides { beads: 4, .. }]
    ));
    // Straight on along the edge there is no turn.
    let piece = Piece::new(testing::single(testing::panel(3, 12)));
    let seq = Sequence::new(piece.project.clone());
    let end = piece.find(Kind::EndThread, 0);
    let mut from = seq.work_at(Step(end as u32)).needle().expect("a thread");
    let mut along: Vec<Bead> = vec![];
    while along.len() < 8 {
        let on = seq.work().touching().beside(from).into_iter();
        let on = on.filter(|h| h.bead != from.bead && !along.contains(&h.bead));
        from = on.max_by_key(|h| h.bead).expect("a bead").through();
        along.push(from.bead);
    }
    let piece = piece.change(end, |m| m.passes = along.into_iter().collect());
    assert_eq!(slides(piece), [Fault::EndSlides { beads: 8, turns: 0 }]);
}
