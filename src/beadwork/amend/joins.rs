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
        }
    }
}

/// A row of a goal that is not begun.
struct OpenRow {
    job: GoalJob,
    /// Its place among the sides of that job.
    nth: usize,
    tips: u8,
}

impl Work {
    /// The changes of joins that can be made.
    pub(super) fn join_changes(&self) -> Vec<Amendment> {
        let goal = self.goal();
        let mut changes = vec![];
        for &job in &goal.order {
            let JobKind::JoinRow { panel, sides, tips } = &goal.jobs[job.index()] else {
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
                }
            }
        }
        changes.into_iter().map(Amendment::Join).collect()
    }

    pub(super) fn change_join(&self, goal: &mut Goal, change: JoinChange) -> Result<(), Refusal> {
        let row = (change.panel, change.side);
        match change.what {
            JoinWhat::Tips(tips) if tips <= 2 => self.set_tips(goal, row, tips),
            JoinWhat::Tips(_) => Err(Refusal::TooManyTips),
            JoinWhat::OtherSide => {
                *goal = self.carried_by_other(goal, row)?;
                Ok(())
            }
        }
    }

    fn open_row(&self, goal: &Goal, (panel, side): Corner) -> Result<OpenRow, Refusal> {
        let missing = Refusal::NoRow(panel, side);
        for &job in &goal.order {
            let JobKind::JoinRow {
                panel: on,
                sides,
                tips,
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
            let tips = *tips;
            return Ok(OpenRow { job, nth, tips });
        }
        Err(missing)
    }

    /// Takes a row out of its job: the rows before it stay there, those behind
    /// it become a job of their own. The place in the order where it was.
    fn take_row_out(goal: &mut Goal, row: &OpenRow) -> usize {
        let JobKind::JoinRow { panel, sides, tips } = &goal.jobs[row.job.index()] else {
            unreachable!("an open row stands in a job of rows")
        };
        let (panel, tips) = (*panel, *tips);
        let (before, after) = (sides[..row.nth].to_vec(), sides[row.nth + 1..].to_vec());
        let job = |sides| JobKind::JoinRow { panel, sides, tips };
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

    fn set_tips(&self, goal: &mut Goal, (panel, side): Corner, tips: u8) -> Result<(), Refusal> {
        let row = self.open_row(goal, (panel, side))?;
        let at = Work::take_row_out(goal, &row);
        let sides = vec![side];
        goal.insert(at, JobKind::JoinRow { panel, sides, tips });
        Ok(())
    }

    /// The goal in which the other side of a join carries the row.
    fn carried_by_other(&self, goal: &Goal, (panel, side): Corner) -> Result<Goal, Refusal> {
        let row = self.open_row(goal, (panel, side))?;
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
        if is_begun || self.is_behind(zip) {
            return Err(Refusal::JobBegun);
        }
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
        };
        let carried = JobKind::JoinRow {
            panel: other,
            sides: vec![join.side],
            tips: row.tips,
        };
        let mut jobs = vec![carried, JobKind::Zip(panel, vec![back])];
        jobs.extend((!after.is_empty()).then_some(JobKind::Zip(other, after)));
        for kind in jobs.into_iter().rev() {
            goal.insert(at, kind);
        }
        Ok(goal)
    }
}
