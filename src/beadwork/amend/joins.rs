//! Changes of joins whose rows are not begun: tip beads at a corner, and which
//! of two sides carries the row.
//!
//! ```text
//!   A |row> bare| B     becomes     A |bare <row| B
//! ```

use super::Amendment;
use crate::beadwork::goal::Goal;
use crate::beadwork::job::{JobKind, SideJoin};
use crate::beadwork::number::{GoalJob, Panel, Side};
use crate::beadwork::rules::Refusal;
use crate::beadwork::seams::Corner;
use crate::beadwork::work::Work;
use serde::{Deserialize, Serialize};

/// A change of one join.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct JoinChange {
    /// The panel that carries the row.
    pub panel: Panel,
    /// The side that carries it.
    pub side: Side,
    /// What is changed.
    pub what: JoinWhat,
}

/// What is changed of a join.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum JoinWhat {
    /// So many tip beads in the corner behind the row, 0 to 2.
    Tips(u8),
    /// The other side carries the row.
    OtherSide,
    /// So many join beads, spread evenly over the gaps: fewer leave gaps empty,
    /// more put two in a gap.
    Beads(u32),
    /// The needle goes a second time through the join; panel and side are those
    /// that were zipped.
    Again,
    /// Its beads are spread over the gaps of the side that is locked into it,
    /// which is longer or shorter.
    Eased,
}

impl JoinChange {
    pub(super) fn say(&self, goal: &Goal) -> String {
        let name = &goal.panels[self.panel.index()].name;
        let row = format!("Join row on {name}, side {}", self.side);
        match self.what {
            JoinWhat::Tips(0) => format!("{row}: no tip bead at its corner"),
            JoinWhat::Tips(1) => format!("{row}: 1 tip bead at its corner"),
            JoinWhat::Tips(n) => format!("{row}: {n} tip beads at its corner"),
            JoinWhat::OtherSide => format!("{row}: let the other side carry it"),
            JoinWhat::Again => format!("Join of {name}, side {}: reinforce it", self.side),
            JoinWhat::Eased => format!("{row}: ease another length of side in"),
            JoinWhat::Beads(1) => format!("{row}: 1 join bead, spread over its gaps"),
            JoinWhat::Beads(n) => format!("{row}: {n} join beads, spread over its gaps"),
        }
    }
}

/// A row of a goal that is not begun.
pub(super) struct OpenRow {
    job: GoalJob,
    /// Its place among the sides of that job.
    nth: usize,
    tips: u8,
    beads: Option<u32>,
}

impl Work {
    /// The changes of joins that can be made.
    pub(super) fn join_changes(&self) -> Vec<Amendment> {
        let goal = self.goal();
        let mut changes = vec![];
        for &job in &goal.order {
            let JobKind::JoinRow {
                panel,
                sides,
                tips,
                beads,
            } = &goal.jobs[job.index()]
            else {
                continue;
            };
            for &side in sides {
                let change = |what| JoinChange {
                    panel: *panel,
                    side,
                    what,
                };
                let row = (*panel, side);
                if self.open_row(goal, row).is_err() {
                    continue;
                }
                let other = (0..=2).filter(|n| n != tips).map(JoinWhat::Tips);
                changes.extend(other.map(change));
                if self.carried_by_other(goal, row).is_ok() {
                    changes.push(change(JoinWhat::OtherSide));
                    let gaps = self.layout.kind(*panel).edge(side).saturating_sub(1);
                    let now = beads.unwrap_or(gaps);
                    let other = [now.checked_sub(1), Some(now + 1)].into_iter().flatten();
                    let other = other.map(JoinWhat::Beads).map(change);
                    let can_be =
                        |c: &JoinChange| self.change_join(&mut Goal::clone(goal), *c).is_ok();
                    changes.extend(other.filter(can_be));
                }
            }
        }
        let panels = self.layout.begun_panels();
        let sides = panels.flat_map(|(panel, _)| {
            let sides = 0..self.layout.kind(panel).sides();
            sides.map(move |side| (panel, Side(side)))
        });
        let zipped = sides.filter(|side| self.seams.row_of(*side).is_some());
        changes.extend(zipped.map(|(panel, side)| {
            let what = JoinWhat::Again;
            JoinChange { panel, side, what }
        }));
        changes.into_iter().map(Amendment::Join).collect()
    }

    pub(super) fn change_join(&self, goal: &mut Goal, change: JoinChange) -> Result<(), Refusal> {
        let row = (change.panel, change.side);
        match change.what {
            JoinWhat::Tips(tips) if tips <= 2 => {
                let row = self.open_row(goal, row)?;
                let row = OpenRow { tips, ..row };
                Work::make_row_anew(goal, &row, change.side);
                Ok(())
            }
            JoinWhat::Again => {
                let job = JobKind::Reinforce(change.panel, change.side);
                self.check_ground(&job)?;
                goal.insert(self.place_ahead(goal), job);
                Ok(())
            }
            JoinWhat::Eased => {
                let (zip, nth, _) = self.only_zip(goal, row)?;
                if let JobKind::Zip(_, joins) | JobKind::SetIn(_, joins) =
                    &mut goal.jobs[zip.index()]
                {
                    joins[nth].eased = true;
                }
                Ok(())
            }
            JoinWhat::Beads(beads) => {
                self.only_zip(goal, row)?;
                let open = self.open_row(goal, row)?;
                let gaps = self.layout.kind(row.0).edge(row.1).saturating_sub(1);
                if beads == 0 || beads > 2 * gaps {
                    return Err(Refusal::TooManyJoinBeads);
                }
                let beads = Some(beads);
                Work::make_row_anew(goal, &OpenRow { beads, ..open }, change.side);
                Ok(())
            }
            JoinWhat::Tips(_) => Err(Refusal::TooManyTips),
            JoinWhat::OtherSide => {
                *goal = self.carried_by_other(goal, row)?;
                Ok(())
            }
        }
    }

    pub(super) fn open_row(&self, goal: &Goal, (panel, side): Corner) -> Result<OpenRow, Refusal> {
        let missing = Refusal::NoRow(panel, side);
        for &job in &goal.order {
            let JobKind::JoinRow {
                panel: on,
                sides,
                tips,
                beads,
            } = &goal.jobs[job.index()]
            else {
                continue;
            };
            let nth = sides.iter().position(|s| (*on, *s) == (panel, side));
            let Some(nth) = nth else { continue };
            if self.is_prepared(job, nth as u16) || self.is_behind(job) {
                return Err(Refusal::SideTaken(panel, side));
            }
            // The first side of a job is begun with the job.
            if nth == 0 && self.is_begun(job) {
                return Err(Refusal::JobBegun);
            }
            let (tips, beads) = (*tips, *beads);
            return Ok(OpenRow {
                job,
                nth,
                tips,
                beads,
            });
        }
        Err(missing)
    }

    /// Takes a row out of its job: the rows before it stay there, those behind
    /// it become a job of their own. The place in the order where it was.
    fn take_row_out(goal: &mut Goal, row: &OpenRow) -> usize {
        let JobKind::JoinRow {
            panel,
            sides,
            tips,
            beads,
        } = &goal.jobs[row.job.index()]
        else {
            unreachable!("an open row stands in a job of rows")
        };
        let (panel, tips, beads) = (*panel, *tips, *beads);
        let (before, after) = (sides[..row.nth].to_vec(), sides[row.nth + 1..].to_vec());
        let job = |sides| JobKind::JoinRow {
            panel,
            sides,
            tips,
            beads,
        };
        let at = goal.order.iter().position(|job| *job == row.job);
        let mut at = at.expect("an open row stands in the order");
        match before.is_empty() {
            true => _ = goal.order.remove(at),
            false => {
                goal.jobs[row.job.index()] = job(before);
                at += 1;
            }
        }
        if !after.is_empty() {
            goal.insert(at, job(after));
        }
        at
    }

    /// A row becomes a job of its own, with other beads.
    fn make_row_anew(goal: &mut Goal, row: &OpenRow, side: Side) {
        let panel = goal.jobs[row.job.index()].panel();
        let at = Work::take_row_out(goal, row);
        let row = JobKind::JoinRow {
            panel,
            sides: vec![side],
            tips: row.tips,
            beads: row.beads,
        };
        goal.insert(at, row);
    }

    /// The one zip of a row that is not the edge of an opening: its job, its
    /// place there, and how the sides meet.
    pub(super) fn only_zip(
        &self,
        goal: &Goal,
        (panel, side): Corner,
    ) -> Result<(GoalJob, usize, SideJoin), Refusal> {
        let mut on_it = vec![];
        for &job in &goal.order {
            let kind = &goal.jobs[job.index()];
            if let JobKind::Fill { rim, .. } | JobKind::FirmRim(rim) = kind
                && rim.contains(&(panel, side))
            {
                return Err(Refusal::RowOfOpening(panel, side));
            }
            let joins = kind.joins().iter().enumerate();
            let on = joins.filter(|(_, join)| (join.onto, join.at) == (panel, side));
            on_it.extend(on.map(|(nth, join)| (job, nth, *join)));
        }
        let [(zip, nth, join)] = on_it[..] else {
            return Err(Refusal::SharedRow(panel, side));
        };
        let is_begun = self.is_prepared(zip, nth as u16) || (nth == 0 && self.is_begun(zip));
        match is_begun || self.is_behind(zip) {
            true => Err(Refusal::JobBegun),
            false => Ok((zip, nth, join)),
        }
    }

    /// The goal in which the other side of a join carries the row.
    fn carried_by_other(&self, goal: &Goal, (panel, side): Corner) -> Result<Goal, Refusal> {
        let row = self.open_row(goal, (panel, side))?;
        let (zip, nth, join) = self.only_zip(goal, (panel, side))?;
        let mut goal = goal.clone();
        Work::take_row_out(&mut goal, &row);
        let kind = &goal.jobs[zip.index()];
        let (other, joins) = (kind.panel(), kind.joins());
        let (before, after) = (joins[..nth].to_vec(), joins[nth + 1..].to_vec());
        let at = goal.order.iter().position(|job| *job == zip);
        let mut at = at.ok_or(Refusal::NoSuchJob)?;
        match before.is_empty() {
            true => _ = goal.order.remove(at),
            false => {
                goal.jobs[zip.index()] = JobKind::Zip(other, before);
                at += 1;
            }
        }
        let back = SideJoin {
            side,
            onto: other,
            at: join.side,
            runs: join.runs,
            eased: join.eased,
        };
        let carried = JobKind::JoinRow {
            panel: other,
            sides: vec![join.side],
            tips: row.tips,
            beads: row.beads,
        };
        let mut jobs = vec![carried, JobKind::Zip(panel, vec![back])];
        jobs.extend((!after.is_empty()).then_some(JobKind::Zip(other, after)));
        for kind in jobs.into_iter().rev() {
            goal.insert(at, kind);
        }
        Ok(goal)
    }
}
