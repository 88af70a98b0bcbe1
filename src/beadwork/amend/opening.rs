//! How an opening is closed: it stays open, it is filled, or a finished panel is
//! set in.

use crate::beadwork::goal::Insert;
use crate::beadwork::{
    Corner, Frame, Goal, GoalJob, JobKind, Panel, Refusal, RimSide, Sequence, Side, SideFit,
    SideJoin, SpecIndex, Work, WorkDirection,
};
use serde::{Deserialize, Serialize};
use std::collections::HashSet;

/// How an opening ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OpeningEnd {
    /// It stays open and its rim is reinforced.
    Open,
    /// It is filled inward from its rim.
    Fill {
        /// The kind of panel, as an index into the pattern's kinds, from 0.
        kind: SpecIndex,
        /// Rounds left open in the middle; 0 fills to the centre.
        open: u32,
    },
    /// A finished panel is set in.
    SetIn {
        /// The kind of panel, as an index into the pattern's kinds, from 0.
        kind: SpecIndex,
    },
    /// It is filled inward to a round, and a finished panel is set in the
    /// middle and zipped into that round.
    SetInMiddle {
        /// The kind of panel, as an index into the pattern's kinds, from 0.
        kind: SpecIndex,
        /// How many rounds the panel has, which the fill leaves open.
        rounds: u32,
    },
    /// It is filled inward until it holds a stone set in from inside.
    Stone {
        /// The kind of panel, as an index into the pattern's kinds, from 0.
        kind: SpecIndex,
        /// The stone's diameter in tenths of a millimetre.
        tenths: u32,
        /// Whether it is set before the round that is too narrow to let it through;
        /// behind that in pieces that were changed so before.
        #[serde(default)]
        in_time: bool,
    },
}

impl OpeningEnd {
    /// What is done with the opening that a job closes.
    pub(super) fn say(self, seq: &Sequence, job: GoalJob) -> String {
        let goal = seq.goal();
        let Some(kind) = goal.jobs.get(job.index()) else {
            return String::new();
        };
        let is_planned = seq.work().is_taken_up(job);
        let around = match kind {
            JobKind::FirmRim(rim) => rim.first().map(|(panel, _)| *panel),
            JobKind::Fill { rim, .. } if !is_planned => rim.first().map(|(panel, _)| *panel),
            JobKind::SetIn(_, joins) if !is_planned => joins.first().map(|join| join.onto),
            _ => None,
        };
        let title = match around {
            // Short, since what is done with it matters more.
            Some(panel) => format!("The opening at {}", goal[panel].name),
            None => goal.title(kind),
        };
        let panel = |kind: SpecIndex| {
            let panel = seq.layout().project().panels.get(kind);
            panel.map_or(String::new(), |panel| panel.name.clone())
        };
        match self {
            OpeningEnd::Stone { kind, tenths, .. } => {
                let (mm, panel) = (f64::from(tenths) / 10.0, panel(kind));
                format!("{title}: fill with '{panel}' until it holds a stone of {mm} mm")
            }
            OpeningEnd::Open => format!("{title}: leave it open and reinforce its rim"),
            OpeningEnd::SetIn { kind } => format!("{title}: set in a finished '{}'", panel(kind)),
            OpeningEnd::SetInMiddle { kind, rounds } => {
                let (panel, ring) = (panel(kind), rounds.saturating_add(1));
                format!("{title}: set in '{panel}', {rounds} rounds, which locks into round {ring}")
            }
            OpeningEnd::Fill { kind, open: 0 } => {
                format!("{title}: fill with '{}' to the centre", panel(kind))
            }
            OpeningEnd::Fill { kind, open } => {
                let (panel, last) = (panel(kind), open.saturating_add(1));
                format!("{title}: fill with '{panel}' as far as round {last}")
            }
        }
    }
}

impl Work {
    /// The other ways to close the opening that a job closes.
    pub(super) fn ways(&self, goal: &Goal, job: GoalJob) -> Vec<OpeningEnd> {
        let planned = &goal[job];
        let spec = |panel: Panel| goal[panel].spec;
        let now = match planned {
            JobKind::FirmRim(_) => OpeningEnd::Open,
            JobKind::SetIn(panel, _) => OpeningEnd::SetIn { kind: spec(*panel) },
            JobKind::Fill { panel, .. } => {
                let (kind, open) = (spec(*panel), self.layout.panel(*panel).open());
                OpeningEnd::Fill { kind, open }
            }
            _ => return vec![],
        };
        let mut ways = vec![];
        if let (true, JobKind::Fill { panel, .. }) = (self.is_taken_up(job), planned) {
            let inside = self.middle_ways(goal, *panel);
            if self.is_behind(job) {
                return inside;
            }
            let (kind, rounds) = (spec(*panel), self.layout.kind(*panel).rounds());
            let here = rounds.saturating_sub(self.rounds_begun(*panel).max(2));
            let rounds_open: &[u32] = match (self.is_shut(*panel), self.is_closed(*panel)) {
                (true, _) => &[],
                (false, true) => &[0],
                (false, false) => &[here, 0],
            };
            ways.extend(
                rounds_open
                    .iter()
                    .map(|&open| OpeningEnd::Fill { kind, open }),
            );
            ways.extend(inside);
        } else if let Ok(rim) = self.opening(goal, job) {
            let kinds = &self.layout.project().panels;
            // A rim is reinforced only once.
            ways.extend((!self.is_begun(job)).then_some(OpeningEnd::Open));
            ways.extend((0..kinds.len()).map(|kind| OpeningEnd::SetIn { kind }));
            ways.extend(kinds.iter().enumerate().flat_map(|(kind, spec)| {
                [spec.open, 0].map(|open| OpeningEnd::Fill { kind, open })
            }));
            ways.retain(|how| self.fits(*how, &rim).is_ok());
            if let JobKind::Fill { panel, .. } = planned {
                ways.extend(self.middle_ways(goal, *panel));
            }
        }
        ways.dedup();
        // If it can be filled to the centre, it can be filled to every round
        // before.
        ways.retain(|how| *how != now || matches!(how, OpeningEnd::Fill { open: 0, .. }));
        ways
    }

    pub(super) fn close(
        &self,
        goal: &mut Goal,
        job: GoalJob,
        how: OpeningEnd,
    ) -> Result<(), Refusal> {
        let is_current = self.is_taken_up(job) && !self.is_behind(job);
        if let (&JobKind::Fill { panel, .. }, OpeningEnd::SetInMiddle { .. }) = (&goal[job], how) {
            return self.set_in_middle(goal, panel, how);
        }
        if let (JobKind::Fill { panel, .. }, true) = (&goal[job], is_current) {
            return self.stop_fill(goal, *panel, how);
        }
        let rim = self.opening(goal, job)?;
        let (how, stone) = self.with_stone(how)?;
        self.fits(how, &rim)?;
        let rows = self.rows_for(goal, &rim);
        let at = goal.order.iter().position(|other| *other == job);
        // The panel that would have closed it is no longer made.
        let panel = match &goal[job] {
            JobKind::FirmRim(_) => None,
            kind => Some(kind.panel()),
        };
        let name = panel.map(|panel| goal[panel].name.clone());
        if let Some(panel) = panel {
            let makes = |job: &GoalJob| goal.jobs[job.index()].makes() == Some(panel);
            let mut order = goal.order.iter();
            Refusal::JobBegun.when(order.any(|job| makes(job) && self.is_taken_up(*job)))?;
            goal.order.retain(|other| !makes(other));
            self.leave_middle_open(goal, panel)?;
            self.forget_panel(goal, panel)?;
        }
        // A reinforced rim stays as it is, and its opening is closed next.
        let at = match self.is_taken_up(job) {
            true => self.place_ahead(goal),
            false => {
                goal.order.retain(|other| *other != job);
                at.unwrap_or(0).min(goal.order.len())
            }
        };
        let sides = self.rim_sides(&rim);
        let frame = Frame::new(sides.iter().map(|&side| self.behind(goal, side)).collect());
        let name = name.unwrap_or_else(|| format!("Face {}", goal.panels.len() + 1));
        let is_firm = |job: &JobKind| matches!(job, JobKind::FirmRim(sides) if sides.iter().all(|side| rim.contains(side)));
        let firmed = goal.ordered().any(is_firm);
        let add = |goal: &mut Goal, kind, open| {
            let panel = goal.add_panel(name.clone(), kind, frame.clone());
            (goal[panel].open, goal[panel].stone) = (open, stone);
            panel
        };
        let jobs = match how {
            // A rim that is already reinforced stays as it is.
            OpeningEnd::Open if firmed => vec![],
            OpeningEnd::Open => vec![JobKind::FirmRim(rim)],
            OpeningEnd::Stone { .. } | OpeningEnd::SetInMiddle { .. } => {
                unreachable!("that takes a fill")
            }
            OpeningEnd::Fill { kind, open } => {
                let panel = add(goal, kind, Some(open));
                vec![JobKind::Fill { panel, rim }]
            }
            OpeningEnd::SetIn { kind } => {
                let panel = add(goal, kind, None);
                let join = |(side, on): (usize, &RimSide)| SideJoin {
                    side: Side(side as u8),
                    onto: on.panel,
                    at: on.side,
                    runs: on.runs,
                    fit: SideFit::Equal,
                };
                let joins = sides.iter().enumerate().map(join).collect();
                vec![JobKind::Panel(panel), JobKind::SetIn(panel, joins)]
            }
        };
        for kind in rows.into_iter().chain(jobs).rev() {
            goal.insert(at, kind);
        }
        self.keep_insert(goal, &sides, how == OpeningEnd::Open);
        Ok(())
    }

    /// Leaves out the insert of an opening that is closed, unless it is begun or
    /// joined to something else, or takes it up again for one that stays open.
    fn keep_insert(&self, goal: &mut Goal, rim: &[RimSide], is_open: bool) {
        let all = rim.iter().map(|side| (side.panel, side.side));
        let all: HashSet<Corner> = all.collect();
        let is_rim = |insert: &Insert| match &goal[insert.rim] {
            JobKind::FirmRim(rim) => rim.iter().all(|side| all.contains(side)),
            _ => false,
        };
        let Some(nth) = goal.inserts.iter().position(is_rim) else {
            return;
        };
        if is_open {
            let left_out = std::mem::take(&mut goal.inserts[nth].left_out);
            goal.order.extend(left_out);
            return;
        }
        let insert = &goal.inserts[nth];
        let mut without = goal.clone();
        let (left_out, order) = (goal.order.iter()).partition(|job| insert.jobs.contains(job));
        (without.inserts[nth].left_out, without.order) = (left_out, order);
        let is_begun = insert.jobs.iter().any(|job| self.is_taken_up(*job));
        if !is_begun && self.unworkable(&without).is_none() {
            *goal = without;
        }
    }

    /// Adds the rows of an opening that were left out because a panel was to be
    /// zipped in directly. Rows that are still to come get one bead in each gap
    /// again.
    fn rows_for(&self, goal: &mut Goal, rim: &[Corner]) -> Vec<JobKind> {
        let mut left_out = vec![];
        for &on in rim {
            if !goal.ordered().any(|job| job.rows_worked().contains(&on)) {
                left_out.push(JobKind::row(on, 0, None));
            } else if let Ok(row) = self.open_row(goal, on) {
                Work::make_row_plain(goal, row, on.1);
            }
        }
        left_out
    }

    /// Stops the current fill at another round than planned.
    fn stop_fill(&self, goal: &mut Goal, panel: Panel, how: OpeningEnd) -> Result<(), Refusal> {
        // It stays open as it is.
        if self.leave_middle_open(goal, panel)? && how == OpeningEnd::Open {
            return Ok(());
        }
        let rounds = self.layout.kind(panel).rounds();
        let begun = self.rounds_begun(panel);
        let (how, stone) = self.with_stone(how)?;
        if stone.is_some_and(|stone| stone.behind.0 + begun > rounds + 1) {
            return Err(Refusal::AlreadySewn(panel));
        }
        // Thread can go round an open middle from the second round on.
        let open = match how {
            OpeningEnd::Open if begun == rounds => return Err(Refusal::AlreadySewn(panel)),
            OpeningEnd::Open => rounds.saturating_sub(begun.max(2)),
            OpeningEnd::Fill { open, .. } if open == 0 || open < rounds - 1 => open,
            _ => return Err(Refusal::JobBegun),
        };
        // A round that is already covered cannot stay open.
        if begun + open > rounds || (open > 0 && self.is_closed(panel)) {
            return Err(Refusal::AlreadySewn(panel));
        }
        goal[panel].open = Some(open);
        goal[panel].stone = stone;
        Ok(())
    }

    /// The sides round the opening that a job closes, each with its row.
    fn opening(&self, goal: &Goal, job: GoalJob) -> Result<Vec<Corner>, Refusal> {
        match &goal[job] {
            JobKind::FirmRim(rim) if self.is_closed_over(goal, rim) => Err(Refusal::NoOpening),
            JobKind::FirmRim(rim) => Ok(rim.clone()),
            _ if self.is_taken_up(job) => Err(Refusal::JobBegun),
            JobKind::Fill { rim, .. } => Ok(rim.clone()),
            JobKind::SetIn(_, joins) => {
                let mut joins = joins.clone();
                joins.sort_by_key(|join| join.side);
                Ok(joins.iter().map(|join| (join.onto, join.at)).collect())
            }
            _ => Err(Refusal::NoOpening),
        }
    }

    /// Whether another job closes the opening of a reinforced rim.
    fn is_closed_over(&self, goal: &Goal, rim: &[Corner]) -> bool {
        goal.ordered().any(|job| match job {
            JobKind::Fill { rim: other, .. } => other == rim,
            JobKind::SetIn(_, joins) => joins.iter().any(|j| rim.contains(&(j.onto, j.at))),
            _ => false,
        })
    }

    /// Checks that the panel that will close an opening has as many sides, of
    /// the same lengths.
    fn fits(&self, how: OpeningEnd, rim: &[Corner]) -> Result<(), Refusal> {
        // A fill with corner beads has a bead after each join bead.
        let is_plain = |&(panel, side): &Corner| {
            let row = self.layout.row_on(panel, side);
            row.is_none_or(|row| self.layout.row(row).is_plain())
                && self.join_beads((panel, side)) + 1 == self.layout.kind(panel).edge(side)
        };
        let is_to_come = |row: &Corner| self.open_row(self.goal(), *row).is_ok();
        let has_corner_beads = match how {
            OpeningEnd::Fill { kind, .. } => self.layout.ends_in_corner_beads(kind),
            _ => false,
        };
        if has_corner_beads
            && let Some(&(panel, side)) = rim.iter().find(|row| !is_plain(row) && !is_to_come(row))
        {
            return Err(Refusal::UnevenRow(panel, side));
        }
        let (kind, open) = match how {
            OpeningEnd::Open => return Ok(()),
            OpeningEnd::Fill { kind, open } => (kind, open),
            OpeningEnd::SetIn { kind } => (kind, 0),
            OpeningEnd::Stone { .. } | OpeningEnd::SetInMiddle { .. } => {
                return Err(Refusal::NoOpening);
            }
        };
        let kinds = self.layout.shared_kinds();
        let layout = kinds.get(kind).ok_or(Refusal::NoSuchKind)?;
        let way = self.layout.project().panels[kind].way;
        if matches!(how, OpeningEnd::Fill { .. }) && way == WorkDirection::Outward {
            return Err(Refusal::OtherEdge);
        }
        let edge = |(nth, &(panel, side)): (usize, &Corner)| {
            layout.edge(Side(nth as u8)) == self.layout.kind(panel).edge(side)
        };
        let fits = usize::from(layout.sides()) == rim.len()
            && layout.can_be_joined()
            && rim.iter().enumerate().all(edge);
        Refusal::OtherEdge.unless(fits)?;
        Refusal::OtherEdge.unless(open == 0 || open < layout.rounds() - 1)
    }

    /// The position of the corner after a rim side in the finished piece, mm.
    fn behind(&self, goal: &Goal, side: RimSide) -> glam::DVec3 {
        let [_, (panel, corner)] = self.layout.rim_corners(side);
        goal[panel].frame.corners()[corner.index()]
    }
}
