//! The stages of a panel, and where each begins.

use super::{Run, Work};
use crate::beadwork::stage::{
    FreeStart, Path, RimRound, Ring, Rounds, Steps as _, Still, Through, TwoRows,
};
use crate::beadwork::{Begin, Hole, JobKind, Kind, Panel, Round, Side, Stage};

impl Work {
    /// The stages of a panel that is begun.
    pub(in crate::beadwork) fn stages(&self, panel: Panel) -> Vec<Stage> {
        let (kind, making) = (self.layout.kind(panel), self.layout.making(panel));
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
        let count = Still {
            kind: Kind::Count,
            round: Some(last),
            side: None,
            beads: kind.in_round(last),
        };
        match making.begin {
            Begin::TwoRows => {
                let rows = (2..last.0).map(round);
                let string = [TwoRows { panel }.into()].into_iter();
                string.chain(rows).chain([count.into()]).collect()
            }
            Begin::Ring => {
                let rounds = (1..last.0).map(round);
                let ring = [Ring { panel }.into()].into_iter();
                ring.chain(rounds).chain([count.into()]).collect()
            }
            Begin::FreeStart => {
                let start = [FreeStart { panel }.into()].into_iter();
                start.chain(inward(last.0 - 1)).collect()
            }
            Begin::Rim => {
                let rim = self.layout.panel(panel).rim;
                let rim = rim.expect("a fill stands on a rim");
                let start = [RimRound { panel, rim }.into()].into_iter();
                start.chain(inward(last.0)).collect()
            }
        }
    }

    /// The end of inward work: the middle is closed, or its rim reinforced.
    fn middle(&self, panel: Panel) -> Stage {
        let innermost = self.layout.making(panel).innermost();
        let (kind, path) = match innermost.0 {
            1 => (Kind::Close, Path::Close(panel)),
            _ => (Kind::Firm, Path::Centre(panel, innermost)),
        };
        Through {
            kind,
            round: Some(innermost),
            side: None,
            path,
        }
        .into()
    }

    /// Whether a new thread can be started here: not while beads are held only
    /// by the current thread.
    pub(in crate::beadwork) fn can_renew_here(&self) -> bool {
        self.can_be_left(|run| run.stage.is_mid_side(&self.layout, run.to - 1))
    }

    /// Whether the beads stay in place if the needle goes elsewhere: not a
    /// string before it is a ring, and not beads that are still to be pulled
    /// together.
    pub(in crate::beadwork) fn is_held(&self) -> bool {
        let job = self.jobs().last().map(|job| &job.kind);
        // A fill must stay in its solid, a tie at its corner.
        let is_bound = matches!(job, Some(JobKind::Fill { .. } | JobKind::Tie(..)));
        !is_bound && self.can_be_left(|_| true)
    }

    /// Whether the stage worked last is whole, or can be left where its last run ends.
    fn can_be_left(&self, here: impl Fn(&Run) -> bool) -> bool {
        let mut runs = self.runs_of_last_job().rev();
        runs.find(|run| run.stage.is_work()).is_none_or(|run| {
            let (stage, layout) = (&run.stage, &self.layout);
            run.to == stage.steps(layout)
                || stage.can_be_parted() && here(run) && !stage.draws(layout, run.to)
        })
    }

    /// The bead end from which the thread comes out before a stage; `None` if
    /// the stage begins with the thread alone.
    pub(in crate::beadwork) fn start_of(&self, stage: &Stage) -> Option<Hole> {
        let layout = &self.layout;
        match stage {
            Stage::Ring(_) | Stage::FreeStart(_) | Stage::TwoRows(_) => None,
            Stage::Rounds(r) => {
                let work = layout.work(r.panel, r.on);
                let (spot, end) = work.needle();
                let bead = layout.bead(r.panel, spot.round, spot.index);
                Some(Hole { bead, end })
            }
            Stage::RimRound(r) => {
                let last = Side(layout.kind(r.panel).sides() - 1);
                layout.corner_way(r.rim, last).last().copied()
            }
            Stage::RowStage(r) => {
                let row = layout.row(r.row);
                Some(Hole::front(layout.edge_bead(row.panel, row.side, 0)))
            }
            Stage::Zip(zip) => Some(zip.start(layout)),
            Stage::Lock(lock) => Some(lock.start(layout)),
            Stage::Through(t) => match &t.path {
                Path::Close(panel) => Some(self.first_of(*panel, Round(1))),
                Path::Centre(panel, inner) => Some(self.first_of(*panel, *inner)),
                Path::Rim(rim) | Path::RimWithCorners(rim) => {
                    let first = layout.rim(*rim)[0];
                    let beads = layout.kind(first.panel).edge(first.side);
                    let bead = layout.edge_bead(first.panel, first.side, first.nth(0, beads));
                    Some(first.leaving(bead))
                }
                Path::Edge(panel, side) => Some(Hole::front(layout.edge_bead(*panel, *side, 0))),
                Path::Beads(_) => self.needle,
            },
            Stage::Still(_) | Stage::Own(_) | Stage::BreakOut(_) => self.needle,
        }
    }

    fn first_of(&self, panel: Panel, round: Round) -> Hole {
        let start = self.layout.making(panel).start(round);
        Hole::front(self.layout.bead(panel, round, start))
    }
}
