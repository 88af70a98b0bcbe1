//! Good steps are broken in one place, and the proof must find just that.

use super::proved::listed_tetrahedron;
use super::*;
use crate::beadwork::bead::BeadSize;
use crate::beadwork::job::{JobInfo, JobKind};
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Job, Panel, Round, Side, Step};
use crate::beadwork::project::{Closing, Make, Solid};
use crate::beadwork::verify::Fault;

/// Steps that can be broken.
struct Piece {
    project: Project,
    jobs: Vec<JobInfo>,
    steps: Vec<Movement>,
}

impl Piece {
    fn new(project: Project) -> Self {
        let seq = Sequence::new(project);
        Piece {
            project: seq.layout().project().clone(),
            jobs: seq.jobs().to_vec(),
            steps: seq.iter().collect(),
        }
    }

    fn triangle() -> Self {
        Piece::new(testing::single(testing::panel(3, 6)))
    }

    fn inward() -> Self {
        Piece::new(testing::single(testing::inward(3, 6, 0)))
    }

    fn tetrahedron(closing: Closing) -> Self {
        Piece::new(testing::solid(Solid::Tetrahedron, 5, closing))
    }

    /// Where the `nth` step (from 0) of a kind is.
    fn find(&self, kind: Kind, nth: usize) -> usize {
        let found = self.steps.iter().enumerate();
        let mut found = found.filter(|(_, m)| m.kind == kind);
        found.nth(nth).expect("the piece has such a step").0
    }

    /// Numbers the steps again from 1.
    fn renumber(mut self) -> Self {
        for (step, n) in self.steps.iter_mut().zip(1..) {
            step.step = Step(n);
        }
        self
    }

    /// Takes a step out, and says so in its job.
    fn drop(mut self, at: usize) -> Self {
        let gone = self.steps.remove(at);
        self.jobs[gone.job.index()].steps -= 1;
        self.renumber()
    }

    /// Has a step made again right behind it.
    fn again(mut self, at: usize) -> Self {
        let step = self.steps[at].clone();
        self.jobs[step.job.index()].steps += 1;
        self.steps.insert(at + 1, step);
        self.renumber()
    }

    fn change(mut self, at: usize, change: impl FnOnce(&mut Movement)) -> Self {
        change(&mut self.steps[at]);
        self
    }

    fn report(self) -> Report {
        let size = self.project.beads[0].size;
        self.report_sized(|_| size)
    }

    fn report_sized(self, size_of: impl Fn(Bead) -> BeadSize) -> Report {
        let (project, jobs) = (&self.project, &self.jobs);
        verify(project, jobs, self.steps.into_iter(), size_of)
    }

    fn faults(self) -> Vec<Fault> {
        let findings = self.report().findings;
        findings.into_iter().map(|finding| finding.fault).collect()
    }

    /// The first fault found.
    fn first(self) -> Fault {
        let faults = self.faults();
        faults.into_iter().next().expect("the steps are broken")
    }
}

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
fn a_hole_in_the_numbers_is_found() {
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
    assert!(matches!(faults[0], Fault::SkippedGap { .. }), "{faults:?}");
    assert!(faults.contains(&Fault::NeverStrung { bead }));
    let short =
        |f: &Fault| matches!(f, Fault::RoundHolds { expected, found } if found + 1 == *expected);
    assert!(faults.iter().any(short), "{faults:?}");
}

#[test]
fn a_dropped_last_stitch_is_a_gap_left_out() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::StepUp, 2) - 1;
    let faults = piece.drop(at).faults();
    assert!(matches!(faults[0], Fault::SkippedGap { .. }), "{faults:?}");
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
    assert_eq!(piece.first(), Fault::StrungTwice { bead });
}

#[test]
fn a_bead_strung_but_not_passed_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Stitch, 10);
    let bead = piece.steps[at].strings[0];
    let faults = piece.change(at, |m| m.passes.truncate(0)).faults();
    assert!(faults.contains(&Fault::NotPassed { bead }), "{faults:?}");
}

#[test]
fn a_bead_passed_before_it_is_strung_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::Stitch, 10);
    let bead = piece.steps[at + 3].strings[0];
    let faults = piece.change(at, |m| m.passes[1] = bead).faults();
    assert!(faults.contains(&Fault::NotYetStrung { bead }), "{faults:?}");
}

#[test]
fn a_bead_that_the_piece_does_not_have_is_found() {
    for bead in [Bead(0), Bead(64), Bead(u32::MAX)] {
        let piece = Piece::triangle();
        let at = piece.find(Kind::Stitch, 10);
        let faults = piece.change(at, |m| m.passes[1] = bead).faults();
        assert!(faults.contains(&Fault::UnknownBead { bead }), "{faults:?}");
    }
}

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

/// A step-up leaves the front of the round's first bead. What touches its
/// back can only be reached by turning round inside it.
#[test]
fn thread_that_turns_inside_a_bead_is_found() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::EndThread, 0);
    let turn = piece.steps[piece.find(Kind::StepUp, 4)].passes.clone();
    let piece = piece.change(at, |m| m.passes[0] = turn[0]);
    assert_eq!(piece.first(), Fault::TurnsInside { bead: turn[1] });
}

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
    let goes_on = |f: &Fault| matches!(f, Fault::BeyondTheRound { .. });
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
    // The beads behind it are one later from here on.
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
fn an_open_middle_run_round_once_is_found() {
    let piece = Piece::new(testing::single(testing::inward(3, 8, 3)));
    let firm: Vec<usize> = (0..piece.steps.len())
        .filter(|&i| piece.steps[i].kind == Kind::Firm)
        .collect();
    let last = *firm.last().unwrap();
    let faults = piece.drop(last).faults();
    let slack = |f: &Fault| matches!(f, Fault::NotFirmed { .. });
    assert!(faults.iter().any(slack), "{faults:?}");
}

// --- thread -----------------------------------------------------------------

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

/// Common sense of the hole: 2 threads of 0.3 leave no way for a needle of
/// 0.36 in a hole of 0.6: 2·0.09 + 0.13 > 0.75·0.36.
#[test]
fn a_hole_that_is_full_is_found_at_the_pass_that_is_one_too_many() {
    let mut piece = Piece::triangle();
    piece.project.thread.diameter_mm = 0.3;
    let wide = piece.project.beads[0].size;
    let narrow = BeadSize {
        hole_mm: 0.6,
        ..wide
    };
    piece.project.beads[0].size = narrow;
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

// --- jobs and joins -----------------------------------------------------------

#[test]
fn jobs_that_say_other_numbers_of_steps_and_beads_are_found() {
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
    // All up to the last fold; then the thread is ended.
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

/// The steps of one solid are not those of another.
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
    // Straight from the corner into the join bead, the way round left out.
    let faults = piece.drop(at).faults();
    let off = |f: &Fault| matches!(f, Fault::OffTheCorner { .. });
    assert!(faults.iter().any(off), "{faults:?}");
}

#[test]
fn a_rim_run_round_once_is_found() {
    let piece = Piece::tetrahedron(Closing::Open);
    let firm = piece.steps.iter().rposition(|m| m.kind == Kind::Firm);
    let faults = piece.drop(firm.unwrap()).faults();
    let slack = |f: &Fault| matches!(f, Fault::NotFirmed { .. });
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

/// Every fault has a sentence that says where and what.
#[test]
fn findings_are_said_in_sentences() {
    let piece = Piece::triangle();
    let at = piece.find(Kind::EndThread, 0);
    let from = *piece.steps[at - 2].passes.last().unwrap();
    let report = piece.change(at, |m| m.passes[0] = Bead(1)).report();
    let sentence = format!(
        "step {}, job 1: the thread crosses open space from bead {from} to bead 1",
        at + 1
    );
    assert_eq!(report.findings[0].to_string(), sentence);
}

#[test]
fn findings_stop_at_the_most_that_are_kept_and_the_rest_is_counted() {
    let mut piece = Piece::new(testing::single(testing::panel(3, 20)));
    for m in &mut piece.steps {
        m.round_target += 1;
    }
    let report = piece.report();
    assert_eq!(
        report.findings.len(),
        crate::beadwork::verify::MOST_FINDINGS
    );
    assert!(report.more > 100);
    assert!(!report.is_proved());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Whatever bead is passed in place of another, it is found.
    #[test]
    fn any_bead_in_place_of_another_is_found(at in 0usize..10_000, nth in 0usize..4, bead in 1u32..=270) {
        let piece = Piece::tetrahedron(Closing::Fill);
        let at = at % piece.steps.len();
        let step = &piece.steps[at];
        prop_assume!(nth < step.passes.len() && step.passes[nth] != Bead(bead));
        // An end of thread may be woven in many ways.
        prop_assume!(!matches!(step.kind, Kind::EndThread | Kind::StartThread | Kind::PassThrough));
        prop_assert!(!piece.change(at, |m| m.passes[nth] = Bead(bead)).faults().is_empty());
    }

    /// Steps of any sort are read to their end.
    #[test]
    fn nonsense_is_found_and_harms_nothing(
        shape in 0usize..4, changes in proptest::collection::vec((0usize..10_000, 0u8..8, 0u32..400), 1..30),
    ) {
        let mut piece = match shape {
            0 => Piece::triangle(),
            1 => Piece::inward(),
            2 => Piece::tetrahedron(Closing::Fill),
            _ => Piece::new(testing::folded_pair(4, 1)),
        };
        for (at, what, number) in changes {
            let all = piece.steps.len();
            let m = &mut piece.steps[at % all];
            match what {
                0 => m.kind = Kind::ALL[number as usize % Kind::ALL.len()].0,
                1 => m.job = Job(number as u16 % 40),
                2 => m.round = Some(Round(number)),
                3 => m.side = Some(Side(number as u8)),
                4 => m.strings.clear(),
                5 => m.passes.clear(),
                6 => m.passes = (0..4).map(|n| Bead(number.wrapping_sub(n))).collect(),
                _ => m.strings = [Bead(number)].into_iter().collect(),
            }
        }
        prop_assert!(piece.report().steps > 0);
    }

    /// Whatever step is left out, it is found, but for a count.
    #[test]
    fn any_step_left_out_is_found(at in 0usize..10_000) {
        let piece = Piece::tetrahedron(Closing::Fill);
        let at = at % piece.steps.len();
        prop_assume!(piece.steps[at].kind != Kind::Count);
        prop_assert!(!piece.drop(at).faults().is_empty());
    }
}
