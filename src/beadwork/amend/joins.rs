//! Changes of joins whose rows are not begun, such as tip beads at a corner,
//! and which of two sides has the row.
//!
//! ```text
//!   A |row> bare| B     becomes     A |bare <row| B
//! ```

use super::{Amendment, MOST_AMENDMENTS};
use crate::beadwork::stage::{Steps as _, Zip};
use crate::beadwork::{
    Bead, Corner, Goal, GoalJob, JobKind, Panel, Refusal, Sequence, Side, SideFit, SideJoin, Stage,
    Step, Work,
};
use serde::{Deserialize, Serialize};

/// A change of one join.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct JoinChange {
    /// The panel with the row.
    pub panel: Panel,
    /// The side with the row.
    pub side: Side,
    /// What is changed.
    pub what: JoinWhat,
}

/// What is changed of a join.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum JoinWhat {
    /// The number of tip beads in the corner after the row, 0 to 2.
    Tips(u8),
    /// The row moves to the other side.
    OtherSide,
    /// The number of join beads, spread evenly over the gaps: fewer leave gaps
    /// empty, more put two in a gap.
    Beads(u32),
    /// The needle goes through the join a second time; panel and side are those
    /// that were zipped.
    Again,
    /// As `Fit(Eased)`; written until minor version 6 of the journal.
    Eased,
    /// How the two sides fit; panel and side are those with the row, or those
    /// into which the other side is zipped. Since minor version 7 of the
    /// journal.
    Fit(SideFit),
    /// The needle goes past a bead without room, through the row next door;
    /// panel and side are those that are zipped. The bead is given by its place
    /// in the join, from 0 in the direction of the zipped side: edge beads have
    /// even places, the gaps between them odd ones. Since minor version 8 of
    /// the journal.
    NextDoor(u32),
}

/// `edge bead 3`, or `the join bead in gap 3`, of the side that is zipped.
pub fn place_in_join(place: u32) -> String {
    let nth = place / 2 + 1;
    match place % 2 {
        0 => format!("edge bead {nth}"),
        _ => format!("the join bead in gap {nth}"),
    }
}

/// A bead of a tooth, and what can be done if it has no room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NextDoor {
    /// The bead.
    pub bead: Bead,
    /// The bead in the row next door that the needle can go through instead.
    pub through: Bead,
    /// The amendment for that.
    pub change: JoinChange,
}

impl Sequence {
    /// The beads of the tooth of a step that the needle can go past, through
    /// the row next door; empty for other steps.
    pub fn next_door(&self, step: Step) -> Vec<NextDoor> {
        let Some((stage @ Stage::Zip(zip), i)) = self.stage_at(step) else {
            return vec![];
        };
        let holes = stage.holes(self.layout(), i);
        let places = zip.places(self.layout(), i).into_iter();
        let ways = places.zip(holes).filter_map(|(place, hole)| {
            let through = zip.next_door(self.layout(), place)?.bead;
            let what = JoinWhat::NextDoor(place);
            let (panel, side) = (zip.panel, zip.side);
            let change = JoinChange { panel, side, what };
            let bead = hole.bead;
            (through != bead).then_some(NextDoor {
                bead,
                through,
                change,
            })
        });
        ways.collect()
    }
}

impl JoinChange {
    pub(super) fn say(&self, goal: &Goal) -> String {
        let name = &goal[self.panel].name;
        let row = format!("Join row on {name}, side {}", self.side);
        // A join that is left out of the plan is among the jobs, too.
        let other = goal.jobs.iter().rev().find_map(|job| {
            let mut joins = job.joins().iter();
            let join = joins.find(|join| (join.onto, join.at) == (self.panel, self.side))?;
            Some(format!(
                ", to side {} of {}",
                join.side,
                goal.name(job.panel())
            ))
        });
        let other = other.unwrap_or_default();
        match self.what {
            JoinWhat::Tips(0) => format!("{row}: no tip bead at its corner"),
            JoinWhat::Tips(1) => format!("{row}: 1 tip bead at its corner"),
            JoinWhat::Tips(n) => format!("{row}: {n} tip beads at its corner"),
            JoinWhat::OtherSide => format!("{row}: let the other side carry it"),
            JoinWhat::Again => format!("Join of {name}, side {}: reinforce it", self.side),
            JoinWhat::Eased | JoinWhat::Fit(SideFit::Eased) => {
                format!("{row}{other}: ease another length of side in")
            }
            JoinWhat::Fit(SideFit::Locked) => {
                format!(
                    "Join of {name}, side {}{other}: lock it directly, without a join row",
                    self.side
                )
            }
            JoinWhat::Fit(_) => format!("{row}{other}: it meets the whole side"),
            JoinWhat::NextDoor(place) => {
                let (bead, side) = (place_in_join(place), self.side);
                format!("Join of {name}, side {side}: past {bead}, through the row next door")
            }
            JoinWhat::Beads(1) => format!("{row}: 1 join bead, spread over its gaps"),
            JoinWhat::Beads(n) => format!("{row}: {n} join beads, spread over its gaps"),
        }
    }
}

/// How the sides of a panel with another number of rounds fit those that they
/// meet: `lock its sides directly into those that they meet`.
pub(super) fn say_fits(changes: &[Amendment]) -> String {
    // If all sides fit like this, and if only some do.
    let fits = changes.iter().filter_map(|change| match change {
        Amendment::Join(change) => match change.what {
            JoinWhat::Fit(SideFit::Locked) => Some([
                "lock its sides directly into those that they meet",
                "lock some of its sides directly",
            ]),
            JoinWhat::Fit(SideFit::OnTheLonger) => {
                Some(["take a join row on the longer of two sides"; 2])
            }
            JoinWhat::Fit(SideFit::Equal) => {
                Some(["take a join row again where sides are equal"; 2])
            }
            JoinWhat::Fit(SideFit::Eased) | JoinWhat::Eased => Some([
                "ease its sides into those that they meet",
                "ease some of its sides in",
            ]),
            _ => None,
        },
        _ => None,
    });
    let mut fits: Vec<[&str; 2]> = fits.collect();
    fits.sort_unstable();
    fits.dedup();
    let nth = usize::from(fits.len() > 1);
    let fits: Vec<&str> = fits.iter().map(|fit| fit[nth]).collect();
    fits.join(" and ")
}

/// A zip of a row: its job, its place there, and how the sides meet.
type RowZip = (GoalJob, usize, SideJoin);

/// The zips of a row.
fn zips_of(goal: &Goal, row: Corner) -> Vec<RowZip> {
    let of_job = |&job: &GoalJob| {
        let joins = goal[job].joins().iter().enumerate();
        let on = joins.filter(move |(_, join)| (join.onto, join.at) == row);
        on.map(move |(nth, join)| (job, nth, *join))
    };
    goal.order.iter().flat_map(of_job).collect()
}

/// Whether a job fills or reinforces an opening with this row at its edge.
fn meets(goal: &Goal, job: GoalJob, row: Corner) -> bool {
    let kind = &goal[job];
    kind.joins().is_empty() && kind.rows_met().contains(&row)
}

fn is_edge_of_opening(goal: &Goal, row: Corner) -> bool {
    goal.order.iter().any(|job| meets(goal, *job, row))
}

/// Whether a row joins more than one side to its own.
fn is_shared(goal: &Goal, row: Corner) -> bool {
    zips_of(goal, row).len() > 1 || is_edge_of_opening(goal, row)
}

/// A job of these zips, if there are any.
fn zips(panel: Panel, joins: &[SideJoin]) -> Option<JobKind> {
    (!joins.is_empty()).then(|| JobKind::Zip(panel, joins.to_vec()))
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
            } = &goal[job]
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
                let zip = self.only_zip(goal, row);
                if zip.is_ok_and(|(.., join)| join.fit != SideFit::OnTheLonger) {
                    changes.push(change(JoinWhat::OtherSide));
                }
                if self.check_other_beads(goal, row).is_ok() {
                    let gaps = self.layout.kind(*panel).edge(side).saturating_sub(1);
                    let now = beads.unwrap_or(gaps);
                    let other = [now.checked_sub(1), Some(now + 1)].into_iter().flatten();
                    let can_be = other.filter(|beads| (1..=2 * gaps).contains(beads));
                    changes.extend(can_be.map(JoinWhat::Beads).map(change));
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
        let changes = changes.into_iter().map(Amendment::Join);
        changes.chain(self.fits_of_unlike_sides()).collect()
    }

    /// How to join sides that do not fit as they are now, so that their join is
    /// left out of the plan.
    fn fits_of_unlike_sides(&self) -> Vec<Amendment> {
        let goal = self.goal();
        let ahead = goal.ordered();
        let joins = ahead.flat_map(|job| job.joins().iter().map(|join| (job.panel(), join)));
        let unlike = joins.filter(|(panel, join)| !self.locks(*panel, join));
        let mut ways: Vec<Amendment> = vec![];
        for (panel, join) in unlike {
            for is_eased in [false, true] {
                let changes = self.fitting(panel, join, is_eased);
                let is_fit = |change: &Amendment| matches!(change, Amendment::Join(change) if matches!(change.what, JoinWhat::Fit(_)));
                let way = changes.into_iter().next().filter(is_fit);
                let is_new =
                    |way: &Amendment| !ways.contains(way) && self.clone().amend(way).is_ok();
                ways.extend(way.filter(is_new));
            }
        }
        ways
    }

    /// The change of a join that makes its two sides fit.
    pub(super) fn fitting(&self, panel: Panel, join: &SideJoin, is_eased: bool) -> Vec<Amendment> {
        let [bare, onto] = self.edges_met(panel, join);
        let row = (join.onto, join.at);
        let change = |(panel, side), what| Amendment::Join(JoinChange { panel, side, what });
        // A row that other sides need too stays as it is.
        let is_shared = is_shared(self.goal(), row);
        let is_open =
            join.fit == SideFit::Locked || !is_shared && self.open_row(self.goal(), row).is_ok();
        let fit = match SideFit::of(bare, onto) {
            SideFit::Locked | SideFit::OnTheLonger if is_eased || is_shared => SideFit::Eased,
            // A row that is worked stays.
            SideFit::Locked if !is_open => SideFit::Eased,
            SideFit::OnTheLonger if bare > onto && !is_open => SideFit::Eased,
            fit => fit,
        };
        let fitted = change(row, JoinWhat::Fit(fit));
        match fit {
            // A row that is still to come has a join bead for each gap of the bare
            // side; one that is worked is spread over it.
            SideFit::Eased => {
                let beads = change(row, JoinWhat::Beads(bare.saturating_sub(1)));
                [fitted]
                    .into_iter()
                    .chain(is_open.then_some(beads))
                    .collect()
            }
            SideFit::OnTheLonger if bare > onto => {
                let longer = (panel, join.side);
                vec![
                    change(row, JoinWhat::OtherSide),
                    change(longer, JoinWhat::Fit(fit)),
                ]
            }
            _ => vec![fitted],
        }
    }

    /// Up beads of the two sides of a join.
    fn edges_met(&self, panel: Panel, join: &SideJoin) -> [u32; 2] {
        [(panel, join.side), (join.onto, join.at)].map(|(p, side)| self.layout.kind(p).edge(side))
    }

    /// Whether the two sides of a join fit.
    pub(super) fn locks(&self, panel: Panel, join: &SideJoin) -> bool {
        let [bare, onto] = self.edges_met(panel, join);
        let joins = self.join_beads((join.onto, join.at));
        join.fit.suits(bare, onto, joins)
    }

    /// The goal with several joins changed at once, without a new layout of
    /// panels for each; the result is the same as one by one. `None` for other
    /// changes, and if one of them is not possible.
    pub(super) fn all_joins(&self, all: &[Amendment]) -> Option<Goal> {
        let mut goal = self.goal_as_begun();
        for one in all {
            let Amendment::Join(change) = one else {
                return None;
            };
            self.change_join(&mut goal, *change).ok()?;
            goal.amendments += 1;
        }
        let can_be = goal.amendments <= MOST_AMENDMENTS && self.unworkable(&goal).is_none();
        can_be.then_some(goal)
    }

    /// Changes one join; if that is not possible, the goal stays as it was.
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
            JoinWhat::Eased => self.fit_join(goal, row, SideFit::Eased),
            JoinWhat::Fit(fit) => self.fit_join(goal, row, fit),
            JoinWhat::Beads(beads) => {
                self.check_other_beads(goal, row)?;
                let open = self.open_row(goal, row)?;
                let gaps = self.layout.kind(row.0).edge(row.1).saturating_sub(1);
                Refusal::TooManyJoinBeads.when(beads == 0 || beads > 2 * gaps)?;
                let beads = Some(beads);
                Work::make_row_anew(goal, &OpenRow { beads, ..open }, change.side);
                Ok(())
            }
            JoinWhat::NextDoor(place) => {
                self.check_next_door(goal, row, place)?;
                goal[change.panel].next_door.push((change.side, place));
                Ok(())
            }
            JoinWhat::Tips(_) => Err(Refusal::TooManyTips),
            JoinWhat::OtherSide => {
                *goal = self.carried_by_other(goal, row)?;
                Ok(())
            }
        }
    }

    /// Whether the needle can go past a bead of a join that is still to be
    /// zipped.
    fn check_next_door(
        &self,
        goal: &Goal,
        (panel, side): Corner,
        place: u32,
    ) -> Result<(), Refusal> {
        let jobs = goal.order.iter().filter(|job| !self.is_behind(**job));
        let jobs = jobs.map(|job| &goal[*job]);
        let mut joins = jobs
            .filter(|job| job.panel() == panel)
            .flat_map(JobKind::joins);
        let join = joins.find(|join| join.side == side);
        let join = join.ok_or(Refusal::NoSuchJob)?;
        self.check_edge(panel)?;
        let mut runs = self.runs_of_last_job().rev();
        let begun = runs.find_map(|run| match run.stage {
            Stage::Zip(zip) if (zip.panel, zip.side) == (panel, side) => Some((zip, run.to)),
            _ => None,
        });
        let planned = || Zip::of(&self.layout, panel, join, true).map(|zip| (zip, 0));
        let (zip, done) = begun
            .or_else(planned)
            .ok_or(Refusal::NoRow(join.onto, join.at))?;
        Refusal::NoRoomNextDoor.when(zip.next_door(&self.layout, place).is_none())?;
        if done > 0
            && zip
                .tooth_at(&self.layout, place)
                .is_none_or(|tooth| tooth < done)
        {
            return Err(Refusal::AlreadySewn(panel));
        }
        let mut others = goal[panel].next_door.iter();
        // Between two of them the needle goes from side to side at least once.
        Refusal::TwoNextDoor
            .when(others.any(|(on, other)| *on == side && other.abs_diff(place) <= 2))
    }

    pub(super) fn open_row(&self, goal: &Goal, (panel, side): Corner) -> Result<OpenRow, Refusal> {
        let missing = Refusal::NoRow(panel, side);
        for &job in &goal.order {
            let JobKind::JoinRow {
                panel: on,
                sides,
                tips,
                beads,
            } = &goal[job]
            else {
                continue;
            };
            let nth = sides.iter().position(|s| (*on, *s) == (panel, side));
            let Some(nth) = nth else { continue };
            if self.is_prepared(job, nth as u16) || self.is_behind(job) {
                return Err(Refusal::SideTaken(panel, side));
            }
            // The first side of a job is begun together with the job.
            Refusal::JobBegun.when(nth == 0 && self.is_begun(job))?;
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

    /// Removes a row from its job: the rows before it stay there, those after
    /// it become another job. Returns the place in the order where it was.
    fn take_row_out(goal: &mut Goal, row: &OpenRow) -> usize {
        let JobKind::JoinRow {
            panel,
            sides,
            tips,
            beads,
        } = &goal[row.job]
        else {
            unreachable!("an open row stands in a job of rows")
        };
        let (panel, tips, beads) = (*panel, *tips, *beads);
        let job = |sides: &[Side]| {
            let sides = sides.to_vec();
            (!sides.is_empty()).then_some(JobKind::JoinRow {
                panel,
                sides,
                tips,
                beads,
            })
        };
        let (before, after) = (job(&sides[..row.nth]), job(&sides[row.nth + 1..]));
        goal.take_out(row.job, before, after)
    }

    /// Gives a row one bead in each gap again.
    pub(super) fn make_row_plain(goal: &mut Goal, row: OpenRow, side: Side) {
        if row.beads.is_some() {
            let beads = None;
            Work::make_row_anew(goal, &OpenRow { beads, ..row }, side);
        }
    }

    /// Makes a row a separate job, with another number of beads.
    fn make_row_anew(goal: &mut Goal, row: &OpenRow, side: Side) {
        let panel = goal[row.job].panel();
        let at = Work::take_row_out(goal, row);
        goal.insert(at, JobKind::row((panel, side), row.tips, row.beads));
    }

    /// The only zip of a row that is not the edge of an opening, if it is not
    /// begun.
    fn only_zip(&self, goal: &Goal, row: Corner) -> Result<RowZip, Refusal> {
        let all = self.zips_ahead(goal, row)?;
        match all[..] {
            _ if is_edge_of_opening(goal, row) => Err(Refusal::RowOfOpening(row.0, row.1)),
            [only] => Ok(only),
            _ => Err(Refusal::SharedRow(row.0, row.1)),
        }
    }

    /// The zips of a row, if none of them is begun, nor the work on an opening
    /// with the row at its edge.
    pub(super) fn zips_ahead(&self, goal: &Goal, row: Corner) -> Result<Vec<RowZip>, Refusal> {
        let all = zips_of(goal, row);
        let openings = goal.order.iter().filter(|job| meets(goal, **job, row));
        match all.iter().any(|zip| self.is_zip_begun(zip))
            || openings.copied().any(|job| self.is_begun(job))
        {
            true => Err(Refusal::JobBegun),
            false => Ok(all),
        }
    }

    fn is_zip_begun(&self, &(zip, nth, _): &RowZip) -> bool {
        let is_held = self.is_prepared(zip, nth as u16) || (nth == 0 && self.is_begun(zip));
        is_held || self.is_behind(zip)
    }

    /// Whether gaps of a row can hold other than one bead.
    pub(super) fn check_other_beads(&self, goal: &Goal, row: Corner) -> Result<(), Refusal> {
        let zips = self.zips_ahead(goal, row)?;
        // The shorter side is between the beads of the whole row.
        if zips
            .iter()
            .any(|(.., join)| join.fit == SideFit::OnTheLonger)
        {
            return Err(Refusal::LongerSide(row.0, row.1));
        }
        let has_corner_beads = |job: &GoalJob| match &goal[*job] {
            JobKind::Fill { panel, rim } => {
                let spec = goal[*panel].spec;
                rim.contains(&row) && self.layout.ends_in_corner_beads(spec)
            }
            _ => false,
        };
        Refusal::UnevenRow(row.0, row.1).when(goal.order.iter().any(has_corner_beads))
    }

    /// Eases all sides that are still to be zipped onto a shared row; a side of
    /// the same length still has one bead in each gap.
    fn fit_shared(&self, goal: &mut Goal, row: Corner, fit: SideFit) -> Result<(), Refusal> {
        Refusal::SharedRow(row.0, row.1).when(fit != SideFit::Eased)?;
        let mut zips = zips_of(goal, row);
        zips.retain(|zip| !self.is_zip_begun(zip));
        for (zip, nth, _) in &zips {
            goal[*zip].joins_mut()[*nth].fit = fit;
        }
        Refusal::JobBegun.when(zips.is_empty())
    }

    /// Changes how two sides fit: a row that is no longer needed is left out,
    /// and a row that is needed is worked before they are zipped.
    fn fit_join(&self, goal: &mut Goal, row: Corner, fit: SideFit) -> Result<(), Refusal> {
        if is_shared(goal, row) {
            return self.fit_shared(goal, row, fit);
        }
        let (zip, nth, join) = self.only_zip(goal, row)?;
        let open = self.open_row(goal, row);
        match (join.fit, fit, open) {
            (SideFit::Locked, _, _) => {}
            (_, SideFit::Locked, open) => _ = Work::take_row_out(goal, &open?),
            (_, SideFit::Equal | SideFit::OnTheLonger, Ok(open)) => {
                Work::make_row_plain(goal, open, row.1);
            }
            _ => {}
        }
        goal[zip].joins_mut()[nth].fit = fit;
        if join.fit == SideFit::Locked && fit != SideFit::Locked {
            let at = Work::part_zip(goal, zip, nth);
            goal.insert(at, JobKind::row(row, 0, None));
        }
        Ok(())
    }

    /// Splits a job of zips before one of them, which begins a new job; returns
    /// the place of that in the order.
    fn part_zip(goal: &mut Goal, zip: GoalJob, nth: usize) -> usize {
        if nth == 0 {
            let at = goal.order.iter().position(|job| *job == zip);
            return at.expect("a zip stands in the order");
        }
        let kind = &goal[zip];
        let (before, after) = kind.joins().split_at(nth);
        let (before, after) = (zips(kind.panel(), before), zips(kind.panel(), after));
        goal.take_out(zip, before, after)
    }

    /// The goal in which the other side of a join has the row; if there is no
    /// row, the one in which this side is the bare one.
    fn carried_by_other(&self, goal: &Goal, (panel, side): Corner) -> Result<Goal, Refusal> {
        let (zip, nth, join) = self.only_zip(goal, (panel, side))?;
        let mut goal = goal.clone();
        let row = match join.fit {
            SideFit::Locked => None,
            SideFit::OnTheLonger => return Err(Refusal::LongerSide(panel, side)),
            _ => Some(self.open_row(&goal, (panel, side))?),
        };
        if let Some(row) = &row {
            Work::take_row_out(&mut goal, row);
        }
        let kind = &goal[zip];
        let (other, joins) = (kind.panel(), kind.joins());
        let (before, after) = (zips(other, &joins[..nth]), zips(other, &joins[nth + 1..]));
        let at = goal.take_out(zip, before, after);
        let back = SideJoin {
            side,
            onto: other,
            at: join.side,
            runs: join.runs,
            fit: join.fit,
        };
        let carried = row.map(|row| JobKind::row((other, join.side), row.tips, row.beads));
        goal.insert(at, JobKind::Zip(panel, vec![back]));
        if let Some(carried) = carried {
            goal.insert(at, carried);
        }
        Ok(goal)
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::movement::{Kind, Movement};
    use crate::beadwork::project::{Closing, Project, Solid};
    use crate::beadwork::testing;
    use crate::beadwork::verify::{Fault, verify};

    fn pieces() -> [Project; 4] {
        [
            testing::folded_pair(4, 1),
            testing::solid(Solid::Tetrahedron, 5, Closing::SetIn),
            testing::solid(Solid::Cube, 9, Closing::Open),
            // Rows at hinges, onto which three sides are zipped.
            testing::ring(8, 3, Closing::SetIn),
        ]
    }

    fn past(way: &NextDoor) -> Amendment {
        Amendment::Join(way.change)
    }

    /// Past any bead of any tooth, in either direction: only that bead is left
    /// out, and the one next door replaces it.
    #[test]
    fn the_needle_goes_past_any_bead_of_a_join_through_the_row_next_door() {
        let mut seen = [0; 2];
        for project in pieces() {
            let plain = Sequence::new(project);
            let zips = plain.iter().filter(|m| m.kind == Kind::Zip);
            for m in zips.step_by(5) {
                for way in plain.next_door(m.step) {
                    let JoinWhat::NextDoor(place) = way.change.what else {
                        panic!("{way:?}");
                    };
                    let changed = plain.amended(Step(m.step.0 - 1), &past(&way)).unwrap();
                    assert_proved(&changed);
                    let swap = |bead: Bead| if bead == way.bead { way.through } else { bead };
                    let passes = m.passes.iter().map(|bead| swap(*bead)).collect();
                    let now = changed.step(m.step);
                    assert_eq!(
                        now,
                        Some(Movement {
                            passes,
                            ..m.clone()
                        })
                    );
                    assert_eq!(changed.layout().beads(), plain.layout().beads());
                    let words = changed.say(&now.unwrap());
                    assert!(words.contains("the bead next door"), "{words}");
                    seen[place as usize % 2] += 1;
                }
            }
        }
        assert!(seen.iter().all(|seen| *seen > 20), "{seen:?}");
    }

    /// Two beads of a row, one that is already sewn and one that does not
    /// exist.
    #[test]
    fn sides_do_not_come_to_lie_open() {
        let plain = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn));
        let first = plain.iter().find(|m| m.kind == Kind::Zip).unwrap().step;
        let before = Step(first.0 - 1);
        let [join, edge] = plain.next_door(first)[..] else {
            panic!("a join bead and an edge bead");
        };
        let changed = plain.amended(before, &past(&join)).unwrap();
        let refused = |seq: &Sequence, done, way| seq.amended(done, &past(way)).err();
        assert_eq!(refused(&changed, before, &edge), Some(Refusal::TwoNextDoor));
        let next = plain.next_door(Step(first.0 + 1))[0];
        assert_eq!(refused(&changed, before, &next), Some(Refusal::TwoNextDoor));
        let panel = join.change.panel;
        assert_eq!(
            refused(&plain, first, &join),
            Some(Refusal::AlreadySewn(panel))
        );
        let what = JoinWhat::NextDoor(11);
        let beyond = Amendment::Join(JoinChange {
            what,
            ..join.change
        });
        let refusal = plain.amended(before, &beyond).err();
        assert_eq!(refusal, Some(Refusal::NoRoomNextDoor));
    }

    /// The same steps are a fault if the maker has not asked for them.
    #[test]
    fn the_proof_allows_it_only_where_the_maker_chose_it() {
        let plain = Sequence::new(testing::solid(Solid::Tetrahedron, 5, Closing::SetIn));
        let first = plain.iter().find(|m| m.kind == Kind::Zip).unwrap().step;
        for way in plain.next_door(first) {
            let changed = plain.amended(Step(first.0 - 1), &past(&way)).unwrap();
            let (layout, jobs) = (changed.layout(), changed.jobs());
            let size = |bead| layout.bead_kind(layout.colour(bead)).size;
            let (goal, steps) = (plain.goal(), changed.iter());
            let report = verify(layout.project(), goal, jobs, steps, size);
            let (expected, found) = (way.bead, way.through);
            assert_eq!(
                report.findings[0].fault,
                Fault::ZipOrder { expected, found }
            );
        }
    }

    /// At a hinge one row joins four sides: a panel with another number of
    /// rounds is eased into it, and the others stay. The row can have another
    /// number of beads, but stays where it is.
    #[test]
    fn a_panel_of_another_size_is_eased_into_a_row_at_a_hinge() {
        for closing in [Closing::SetIn, Closing::Open] {
            let plain = Sequence::new(testing::ring(8, 4, closing));
            let goal = plain.goal();
            let mut eased = 0;
            for panel in (0..8).map(Panel) {
                let job = goal.jobs.iter().position(|job| job.makes() == Some(panel));
                let jobs = vec![GoalJob(job.unwrap() as u16)];
                let more = Amendment::Rounds { jobs, rounds: 5 };
                let made = plain
                    .jobs()
                    .iter()
                    .find(|job| job.kind.makes() == Some(panel));
                let inside = Step(made.unwrap().steps_before + 5);
                let refused = plain.amended(inside, &more).unwrap_err();
                assert!(matches!(refused, Refusal::UnlikeSides(..)), "{refused:?}");
                let offered = plain.amendments(inside).into_iter();
                let mut offered = offered.filter(|change| match change {
                    Amendment::All(all) => all.last() == Some(&more),
                    _ => false,
                });
                let Some(way) = offered.next() else { continue };
                let changed = plain.amended(inside, &way).unwrap();
                assert_proved(&changed);
                assert_eq!(changed.layout().kind(panel).rounds(), 5);
                eased += 1;
            }
            assert!(eased > 4, "{eased}");
            let row = |shared: bool| {
                let rows = goal.jobs.iter().flat_map(JobKind::rows_worked);
                rows.filter(|row| zips_of(goal, *row).len() == if shared { 3 } else { 1 })
                    .find(|row| !is_edge_of_opening(goal, *row))
            };
            let (panel, side) = row(closing == Closing::SetIn).unwrap();
            let change = |what| Amendment::Join(JoinChange { panel, side, what });
            for beads in [1, 2, 4, 6] {
                let changed = plain
                    .amended(Step(0), &change(JoinWhat::Beads(beads)))
                    .unwrap();
                assert_proved(&changed);
            }
            if closing == Closing::SetIn {
                let refused = plain
                    .amended(Step(0), &change(JoinWhat::OtherSide))
                    .unwrap_err();
                assert_eq!(refused, Refusal::SharedRow(panel, side));
            }
        }
    }

    /// A join is reinforced in the same way as it was zipped.
    #[test]
    fn a_join_is_reinforced_through_the_row_next_door_too() {
        let plain = Sequence::new(testing::solid(Solid::Tetrahedron, 5, Closing::SetIn));
        let first = plain.iter().find(|m| m.kind == Kind::Zip).unwrap().step;
        let way = plain.next_door(Step(first.0 + 1))[0];
        let changed = plain.amended(Step(first.0 - 1), &past(&way)).unwrap();
        let what = JoinWhat::Again;
        let again = Amendment::Join(JoinChange { what, ..way.change });
        let done = Step(first.0 + 10);
        let again = changed.amended(done, &again).unwrap();
        assert_proved(&again);
        let firm = again
            .iter()
            .filter(|m| m.kind == Kind::Firm && m.step > done);
        let firm: Vec<Bead> = firm.flat_map(|m| m.passes.to_vec()).collect();
        assert!(
            firm.contains(&way.through) && !firm.contains(&way.bead),
            "{firm:?}"
        );
    }
}
