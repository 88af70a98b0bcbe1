//! Good steps are broken in one place, and the verifier must find exactly that.

mod beads;
mod hinges;
mod joins;
mod rounds;
mod strips;
mod thread;

use super::*;
use crate::beadwork::bead::BeadSize;
use crate::beadwork::goal::Goal;
use crate::beadwork::job::{JobInfo, JobKind};
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Job, Panel, Round, Side, Step};
use crate::beadwork::planner::PlanRule;
use crate::beadwork::project::{Closing, Make, Solid};
use crate::beadwork::testing::listed_tetrahedron;
use crate::beadwork::verify::Fault;

/// Steps to be broken.
struct Piece {
    project: Project,
    goal: Goal,
    jobs: Vec<JobInfo>,
    steps: Vec<Movement>,
}

impl Piece {
    fn new(project: Project) -> Self {
        Piece::with_rule(project, PlanRule::default())
    }

    fn with_rule(project: Project, rule: PlanRule) -> Self {
        let seq = Sequence::with_rule(project, rule);
        Piece {
            project: seq.layout().project().clone(),
            goal: seq.goal().clone(),
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

    /// Renumbers the steps from 1.
    fn renumber(mut self) -> Self {
        for (step, n) in self.steps.iter_mut().zip(1..) {
            step.step = Step(n);
        }
        self
    }

    /// Removes a step, and adjusts its job.
    fn drop(mut self, at: usize) -> Self {
        let gone = self.steps.remove(at);
        self.jobs[gone.job.index()].steps -= 1;
        self.renumber()
    }

    /// Repeats a step directly after it.
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
        let (project, goal, jobs) = (&self.project, &self.goal, &self.jobs);
        verify(project, goal, jobs, self.steps.into_iter(), size_of)
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

/// Every fault has a sentence that says where and what.
#[test]
fn findings_have_sentences() {
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
fn findings_beyond_the_limit_are_only_counted() {
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

    /// Any bead passed in place of another is found.
    #[test]
    fn any_bead_in_place_of_another_is_found(at in 0usize..10_000, nth in 0usize..4, bead in 1u32..=270) {
        let piece = Piece::tetrahedron(Closing::Fill);
        let at = at % piece.steps.len();
        let step = &piece.steps[at];
        prop_assume!(nth < step.passes.len() && step.passes[nth] != Bead(bead));
        // An end of thread can be woven in in many ways.
        prop_assume!(!matches!(step.kind, Kind::EndThread | Kind::StartThread | Kind::PassThrough));
        prop_assert!(!piece.change(at, |m| m.passes[nth] = Bead(bead)).faults().is_empty());
    }

    /// Steps of any kind are read to the end.
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

    /// Any step left out is found, except a count.
    #[test]
    fn any_step_left_out_is_found(at in 0usize..10_000) {
        let piece = Piece::tetrahedron(Closing::Fill);
        let at = at % piece.steps.len();
        prop_assume!(piece.steps[at].kind != Kind::Count);
        prop_assert!(!piece.drop(at).faults().is_empty());
    }
}
