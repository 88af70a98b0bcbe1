//! Jobs, sides and corners that are joined wrongly.

use super::*;

#[test]
fn jobs_with_wrong_numbers_of_steps_and_beads_are_found() {
    let mut piece = Piece::tetrahedron(Closing::SetIn);
    piece.jobs[2].steps += 1;
    piece.jobs[0].beads += 1;
    let faults = piece.faults();
    let steps =
        |f: &Fault| matches!(f, Fault::JobSteps { expected, found } if *expected == found + 1);
    let beads =
        |f: &Fault| matches!(f, Fault::JobBeads { expected, found } if *expected == found + 1);
    assert!(faults.iter().any(steps), "{faults:?}");
    assert!(faults.iter().any(beads), "{faults:?}");
}

#[test]
fn a_step_of_a_job_that_is_done_is_found() {
    let piece = Piece::tetrahedron(Closing::SetIn);
    let at = piece.find(Kind::Zip, 2);
    let faults = piece.change(at, |m| m.job = Job(0)).faults();
    assert!(faults.contains(&Fault::JobOutOfOrder), "{faults:?}");
}

#[test]
fn a_tooth_left_out_of_a_zip_is_found() {
    let piece = Piece::tetrahedron(Closing::SetIn);
    let at = piece.find(Kind::Zip, 1);
    let faults = piece.drop(at).faults();
    assert!(matches!(faults[0], Fault::ZipOrder { .. }), "{faults:?}");
    assert!(faults.contains(&Fault::JobUnfinished), "{faults:?}");
}

#[test]
fn teeth_taken_in_the_wrong_order_are_found() {
    let piece = Piece::tetrahedron(Closing::SetIn);
    let at = piece.find(Kind::Zip, 1);
    let [tooth, edge] = [piece.steps[at].passes[0], piece.steps[at].passes[1]];
    let piece = piece.change(at, |m| m.passes.swap(0, 1));
    let fault = Fault::ZipOrder {
        expected: tooth,
        found: edge,
    };
    assert_eq!(piece.first(), fault);
}

#[test]
fn the_wrong_join_bead_at_a_zip_is_found() {
    let piece = Piece::tetrahedron(Closing::SetIn);
    let at = piece.find(Kind::Zip, 1);
    let (expected, found) = (piece.steps[at].passes[0], piece.steps[at + 1].passes[0]);
    let piece = piece.change(at, |m| m.passes[0] = found);
    assert_eq!(piece.first(), Fault::ZipOrder { expected, found });
}

/// The zip of one job is claimed by a second one.
#[test]
fn a_side_zipped_twice_is_found() {
    let mut piece = Piece::new(listed_tetrahedron(4));
    let zip = |job: &JobInfo| matches!(job.kind, JobKind::Zip(..));
    let nth = piece.jobs.iter().position(zip).unwrap();
    let JobKind::Zip(panel, joins) = piece.jobs[nth].kind.clone() else {
        unreachable!("it was just found")
    };
    let again: Vec<Movement> = {
        let of = piece.steps.iter().filter(|m| m.job.index() == nth);
        of.filter(|m| m.kind == Kind::Zip).cloned().collect()
    };
    let mut job = piece.jobs[nth].clone();
    job.steps = again.len() as u32;
    piece.jobs.insert(nth + 1, job);
    let end = piece
        .steps
        .iter()
        .position(|m| m.job.index() > nth)
        .unwrap();
    for m in &mut piece.steps[end..] {
        m.job.0 += 1;
    }
    for (i, mut m) in again.into_iter().enumerate() {
        m.job.0 += 1;
        piece.steps.insert(end + i, m);
    }
    let faults = piece.renumber().faults();
    let side = joins[0].side;
    assert_eq!(
        faults[..2],
        [Fault::NotAsListed, Fault::SideUsedTwice { panel, side }]
    );
}

#[test]
fn a_side_with_a_row_that_is_zipped_is_found() {
    let mut piece = Piece::new(listed_tetrahedron(4));
    let zip = |job: &JobInfo| matches!(job.kind, JobKind::Zip(..));
    let nth = piece.jobs.iter().position(zip).unwrap();
    // Panel 1 joined onto its own bare side.
    if let JobKind::Zip(panel, joins) = &mut piece.jobs[nth].kind {
        joins[0].onto = *panel;
        joins[0].at = Side(1);
    }
    let (panel, side) = (Panel(1), Side(1));
    let faults = piece.faults();
    assert_eq!(
        faults[..2],
        [Fault::NotAsListed, Fault::NoRow { panel, side }]
    );
}

#[test]
fn a_side_left_open_is_found() {
    let mut piece = Piece::tetrahedron(Closing::SetIn);
    let set_in = |job: &JobInfo| matches!(job.kind, JobKind::SetIn(..));
    let nth = piece.jobs.iter().position(set_in).unwrap();
    // Everything up to the last fold; then the thread is ended.
    let fold = piece.find(Kind::Fold, 1);
    let end = piece.find(Kind::EndThread, 0);
    let mut ending = piece.steps[end].clone();
    ending.job = Job(nth as u16);
    ending.passes.clear();
    piece.steps.truncate(fold);
    piece.steps.push(ending);
    if let JobKind::SetIn(_, joins) = &mut piece.jobs[nth].kind {
        joins.truncate(2);
    }
    let faults = piece.renumber().faults();
    let open = |f: &Fault| {
        matches!(
            f,
            Fault::SideOpen {
                panel: Panel(3),
                ..
            }
        )
    };
    assert!(faults.iter().any(open), "{faults:?}");
    let lone = |f: &Fault| matches!(f, Fault::RowPartners { found: 0, .. });
    assert!(faults.iter().any(lone), "{faults:?}");
    let short = |f: &Fault| {
        matches!(
            f,
            Fault::Rows {
                expected: 6,
                found: 5
            }
        )
    };
    assert!(faults.iter().any(short), "{faults:?}");
}

/// The steps of one solid do not fit another.
#[test]
fn steps_of_another_solid_are_found() {
    let mut piece = Piece::tetrahedron(Closing::SetIn);
    if let Make::Solid { solid, .. } = &mut piece.project.make {
        *solid = Solid::Octahedron;
    }
    let faults = piece.faults();
    for fault in [
        Fault::Panels {
            expected: 8,
            found: 4,
        },
        Fault::Rows {
            expected: 12,
            found: 6,
        },
        Fault::Corners {
            expected: 6,
            found: 4,
        },
        Fault::FacesAtCorner {
            expected: 4,
            found: 3,
        },
    ] {
        assert!(faults.contains(&fault), "{fault:?} in {faults:?}");
    }
}

#[test]
fn a_fill_whose_needle_does_not_turn_the_corner_is_found() {
    let piece = Piece::tetrahedron(Closing::Fill);
    let fill = piece.jobs.len() as u16 - 1;
    let at = piece
        .steps
        .iter()
        .position(|m| m.job == Job(fill) && m.kind == Kind::PassThrough && m.round.is_some())
        .unwrap();
    // Straight from the corner into the join bead, without the path through the
    // corner.
    let faults = piece.drop(at).faults();
    let off = |f: &Fault| matches!(f, Fault::OffTheCorner(..));
    assert!(faults.iter().any(off), "{faults:?}");
}

#[test]
fn a_rim_passed_once_is_found() {
    let piece = Piece::tetrahedron(Closing::Open);
    let firm = piece.steps.iter().rposition(|m| m.kind == Kind::Firm);
    let faults = piece.drop(firm.unwrap()).faults();
    let slack = |f: &Fault| matches!(f, Fault::NotFirmed(..));
    assert!(faults.iter().any(slack), "{faults:?}");
}

#[test]
fn corners_that_are_folded_but_not_sewn_are_found() {
    let mut piece = Piece::new(testing::folded_pair(4, 0));
    let tie = |job: &JobInfo| matches!(job.kind, JobKind::Tie(..));
    let nth = piece.jobs.iter().position(tie).unwrap();
    let (job, before) = (Job(nth as u16), piece.steps.len());
    piece
        .steps
        .retain(|m| m.job != job || m.kind != Kind::Fold || m.passes.is_empty());
    piece.jobs[nth].steps -= (before - piece.steps.len()) as u32;
    let faults = piece.renumber().faults();
    assert!(faults.contains(&Fault::NotTied), "{faults:?}");
}

/// A tetrahedron whose last face is set in, with `tips` tip beads at each
/// corner.
fn tipped(tips: u8) -> Project {
    let mut project = testing::solid(Solid::Tetrahedron, 5, Closing::SetIn);
    if let Make::Solid { tips: all, .. } = &mut project.make {
        *all = tips;
    }
    project
}

/// At each of its three corners, the face that is set in meets the tip beads
/// after the rows on both sides; once they were skipped.
#[test]
fn a_zip_that_goes_past_tip_beads_is_found() {
    for tips in [1, 2] {
        let new = Piece::with_rule(tipped(tips), PlanRule::ShortEnds);
        let old = Piece::with_rule(tipped(tips), PlanRule::PastTips);
        let passes = |piece: &Piece| piece.steps.iter().map(|m| m.passes.len()).sum::<usize>();
        assert_eq!(passes(&new), passes(&old) + 3 * 2 * usize::from(tips));
        let faults = old.faults();
        let is_it = |fault: &Fault| matches!(fault, Fault::TipPassedBy(..));
        assert!(faults.len() == 3 && faults.iter().all(is_it), "{faults:?}");
        assert_eq!(new.faults(), []);
    }
}

/// The path through the tip beads at a corner is left out.
#[test]
fn tip_beads_left_out_at_a_corner_are_found() {
    let piece = Piece::new(tipped(1));
    let fold = piece.find(Kind::Fold, 0);
    let bead = piece.steps[fold + 1].passes[0];
    let gone = piece.change(fold + 1, |m| {
        m.passes = m.passes[2..].iter().copied().collect()
    });
    assert_eq!(gone.first(), Fault::TipPassedBy(bead));
}
