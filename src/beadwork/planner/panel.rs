//! Panels: made by themselves, or filled into an opening.

use super::Planner;
use crate::beadwork::making::Begin;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Panel, Round};
use crate::beadwork::seams::Corner;
use crate::beadwork::stage::{FreeStart, Path, RimRound, Ring, Rounds, Stage, Still, Through};
use crate::beadwork::work::GoalJob;

impl Planner {
    /// Makes a panel by itself, with thread of its own.
    pub(super) fn panel(&mut self, job: GoalJob, panel: Panel) {
        if let Some(done) = self.in_hand(job) {
            if done.is_empty() && !self.work.has_fresh_thread() {
                self.end_thread();
                self.take_thread(vec![]);
            }
            self.in_turn(self.stages(panel), &done);
            return;
        }
        self.end_thread();
        self.begin(job);
        let spec = self.layout().panel(panel).spec;
        let known = (spec, self.layout().making(panel).begin);
        if let Some(like) = self.made.get(&known) {
            self.work.repeat(like, panel);
            return;
        }
        let before = self.work.mark();
        self.take_thread(vec![]);
        self.in_turn(self.stages(panel), &[]);
        self.made.insert(known, self.work.stretch_since(before));
    }

    /// Fills the opening that a rim surrounds.
    pub(super) fn fill(&mut self, job: GoalJob, panel: Panel, rim: &[Corner]) {
        self.prepare(job, 0);
        if !self.work.is_prepared(job, 1) {
            let corners = self.corner_ways(self.layout().panel(panel).spec, rim);
            self.prepare_corners(job, 1, corners);
        }
        let stages = self.stages(panel);
        let done = self.in_hand(job).unwrap_or_else(|| {
            let first = self.start_of(&stages[0]);
            self.begin_at(job, first.expect("a rim has corners, and each a bead"));
            vec![]
        });
        self.in_turn(stages, &done);
    }

    /// The stages of which a panel that is begun is made.
    fn stages(&self, panel: Panel) -> Vec<Stage> {
        let (kind, making) = (self.layout().kind(panel), self.layout().making(panel));
        let last = kind.last();
        let round = |k: u32| {
            Stage::from(Rounds {
                panel,
                on: Round(k),
            })
        };
        let inward = |from: u32| {
            let rounds = (making.innermost().0 + 1..=from).rev().map(round);
            rounds.chain([self.middle(panel)])
        };
        match making.begin {
            Begin::Ring => {
                let count = Still {
                    kind: Kind::Count,
                    round: Some(last),
                    side: None,
                    beads: kind.in_round(last),
                };
                let rounds = (1..last.0).map(round);
                let ring = [Ring { panel }.into()].into_iter();
                ring.chain(rounds).chain([count.into()]).collect()
            }
            Begin::FreeStart => {
                let start = [FreeStart { panel }.into()].into_iter();
                start.chain(inward(last.0 - 1)).collect()
            }
            Begin::Rim => {
                let rim = self.layout().panel(panel).rim;
                let rim = rim.expect("a fill stands on a rim");
                let start = [RimRound { panel, rim }.into()].into_iter();
                start.chain(inward(last.0)).collect()
            }
        }
    }

    /// The end of inward work: the middle closed, or its rim firmed.
    fn middle(&self, panel: Panel) -> Stage {
        let innermost = self.layout().making(panel).innermost();
        let (kind, path) = match innermost.0 {
            1 => (Kind::Close, Path::Close(panel)),
            _ => (Kind::Firm, Path::Centre(panel)),
        };
        Through {
            kind,
            round: Some(innermost),
            side: None,
            path,
        }
        .into()
    }
}
