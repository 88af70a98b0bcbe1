//! Faces sewn into the solid across a hinge.

use super::*;
use crate::beadwork::job::SideJoin;
use crate::beadwork::project::JobList;

fn filled_pair() -> Project {
    testing::folded_pair(8, 3)
}

/// The beads of the solid across the hinge to which faces are reported to be
/// sewn.
fn across(faults: &[Fault]) -> Vec<Bead> {
    let bead = |fault: &Fault| match fault {
        Fault::AcrossTheHinge(bead) => Some(*bead),
        _ => None,
    };
    faults.iter().filter_map(bead).collect()
}

/// The panel whose face a bead is part of.
fn panel_of(piece: &Piece, bead: Bead) -> Option<Panel> {
    let job = piece
        .jobs
        .iter()
        .find(|job| (job.beads_before + 1..=job.beads_before + job.beads).contains(&bead.0))?;
    match job.kind {
        JobKind::Panel(panel) | JobKind::Fill { panel, .. } => Some(panel),
        _ => None,
    }
}

/// Face B belongs to panels 4 to 6; its corner at the tie was once sewn through
/// the last panel of the other half.
#[test]
fn a_fill_that_turns_its_corner_across_the_hinge_is_found_at_that_step() {
    let piece = Piece::with_rule(filled_pair(), PlanRule::AcrossHinge);
    let (steps, jobs) = (piece.steps.clone(), piece.jobs.clone());
    let findings = piece.report().findings;
    assert_eq!(findings.len(), 1, "{findings:?}");
    let [bead] = across(&[findings[0].fault.clone()])[..] else {
        panic!("{findings:?}");
    };
    let step = &steps[findings[0].step.unwrap().0 as usize - 1];
    assert_eq!(step.passes.as_slice(), [bead]);
    let kind = &jobs[step.job.index()].kind;
    assert!(matches!(kind, JobKind::Fill { .. }), "{kind:?}");
    assert_eq!(panel_of(&Piece::new(filled_pair()), bead), Some(Panel(2)));
    let said = format!(
        "step {}, job 22, round 8: the face is sewn to bead {bead}, which belongs to the solid across the hinge",
        step.step
    );
    assert_eq!(findings[0].to_string(), said);
}

/// Whichever bead of a fill's first round is replaced by one across the hinge.
#[test]
fn a_stitch_a_corner_or_a_step_down_across_the_hinge_is_found() {
    let piece = Piece::new(filled_pair());
    let fill = piece.jobs.len() - 1;
    let round = Some(Round(8));
    let in_rim = |m: &Movement| m.job.index() == fill && m.round == round;
    let at: Vec<usize> = (0..piece.steps.len())
        .filter(|&at| in_rim(&piece.steps[at]))
        .collect();
    // A bead inside panel 1, which belongs to the other half.
    let other = Bead(1);
    assert_eq!(panel_of(&piece, other), Some(Panel(0)));
    let mut kinds = vec![];
    for at in at {
        let piece = Piece::new(filled_pair());
        let kind = piece.steps[at].kind;
        let faults = piece
            .change(at, |m| {
                let nth = m.passes.iter().position(|bead| !m.strings.contains(bead));
                m.passes[nth.expect("it passes a bead that is there")] = other;
            })
            .faults();
        assert!(across(&faults).contains(&other), "{kind:?}: {faults:?}");
        kinds.push(kind);
    }
    for kind in [Kind::Stitch, Kind::PassThrough, Kind::StepDown] {
        assert!(kinds.contains(&kind), "{kind:?}");
    }
}

/// The same for a decrease of a later round.
#[test]
fn a_decrease_across_the_hinge_is_found() {
    let piece = Piece::new(filled_pair());
    let at = piece.steps.iter().rposition(|m| m.kind == Kind::Decrease);
    let faults = piece
        .change(at.unwrap(), |m| m.passes[0] = Bead(1))
        .faults();
    assert!(across(&faults).contains(&Bead(1)), "{faults:?}");
}

/// Before work starts, the needle may come from anywhere.
#[test]
fn getting_to_a_fill_and_zips_and_the_tie_may_cross_the_hinge() {
    let piece = Piece::new(filled_pair());
    let fill = piece.jobs.len() - 1;
    let weaves = piece.steps.iter().filter(|m| m.job.index() == fill);
    let weaves = weaves.filter(|m| m.kind == Kind::PassThrough && m.round.is_none());
    let beads: Vec<Bead> = weaves.flat_map(|m| m.passes.clone()).collect();
    let crosses = beads
        .iter()
        .any(|&bead| panel_of(&piece, bead) < Some(Panel(3)));
    assert!(crosses, "the needle comes from the other half: {beads:?}");
    assert!(piece.faults().is_empty());
}

/// Two solids whose sides lie side by side, because both their corners are
/// tied.
#[test]
fn two_solids_tied_along_an_edge_are_two() {
    let piece = Piece::new(tied());
    let fill = piece.jobs.len() - 1;
    let is_turn = |m: &Movement| m.job.index() == fill && m.kind == Kind::StepDown;
    let turn = piece.steps.iter().position(is_turn).unwrap();
    assert!(Piece::new(tied()).faults().is_empty());
    let faults = piece.change(turn, |m| m.passes[0] = Bead(1)).faults();
    assert!(across(&faults).contains(&Bead(1)), "{faults:?}");
}

/// Two tetrahedra from a list of jobs, two corners of one tied to two corners
/// of the other, and then filled.
fn tied() -> Project {
    let one = listed_tetrahedron(4);
    let Make::Jobs(list) = &one.make else {
        unreachable!("it is a list")
    };
    let (fill, before) = list.jobs.split_last().expect("it has jobs");
    let later = |panel: &Panel, by: u16| Panel(panel.0 + by);
    let joins = |joins: &[SideJoin]| {
        let later = |join: &SideJoin| SideJoin {
            onto: later(&join.onto, 3),
            ..*join
        };
        joins.iter().map(later).collect()
    };
    let mut jobs = before.to_vec();
    jobs.extend(before.iter().map(|job| match job {
        JobKind::Panel(panel) => JobKind::Panel(later(panel, 3)),
        JobKind::Zip(panel, sides) => JobKind::Zip(later(panel, 3), joins(sides)),
        JobKind::JoinRow {
            panel,
            sides,
            tips,
            beads,
        } => JobKind::JoinRow {
            panel: later(panel, 3),
            sides: sides.clone(),
            tips: *tips,
            beads: *beads,
        },
        other => other.clone(),
    }));
    let tie = |a, b| JobKind::Tie((Panel(0), Side(a)), (Panel(3), Side(b)));
    jobs.extend([tie(0, 2), tie(2, 0)]);
    let JobKind::Fill { rim, .. } = fill else {
        unreachable!("it ends in a fill")
    };
    for (nth, on) in [0, 3].into_iter().enumerate() {
        jobs.push(JobKind::Fill {
            panel: Panel(6 + nth as u16),
            rim: rim.iter().map(|(p, s)| (later(p, on), *s)).collect(),
        });
    }
    let (fill, faces) = list.panels.split_last().expect("it has panels");
    let panels = [faces, faces, &[fill.clone(), fill.clone()]].concat();
    Project {
        make: Make::Jobs(JobList {
            panels,
            jobs,
            shape: None,
        }),
        ..one
    }
}
