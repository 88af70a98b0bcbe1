//! As stitched: a gap with a bead too many or too few becomes part of the work,
//! at the needle or rounds later, and can be eased out again.

use super::Amendment;
use crate::beadwork::layout::same_index;
use crate::beadwork::own_rounds::{MOST_IN_A_GAP, MOST_JOIN_BEADS, Origins, as_passed};
use crate::beadwork::stage::{FreeStart, Path, Ring, Rounds, RowStage, Steps as _};
use crate::beadwork::{
    Bead, Change, Fact, GapChange, Goal, Hole, Layout, Panel, Part, Refusal, Round, RowGap, Run,
    Sequence, Side, Stage, Step, Work, WorkDirection, plural,
};
use std::collections::HashMap;
use std::sync::Arc;

/// What was really worked since a step.
#[derive(Clone, Debug)]
pub struct Restated {
    /// The number of steps before it, which stay as recorded.
    pub after: u32,
    /// What was worked from there on.
    pub made: Vec<Fact>,
    /// The number of steps done then.
    pub step: u32,
    /// The piece with this work and the plan from there.
    pub sequence: Sequence,
}

/// A gap of a round, and the step that works it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GapOfStep {
    /// The panel.
    pub panel: Panel,
    /// The gap, and the beads that it takes as planned or worked.
    pub gap: GapChange,
}

/// Where a gap lies, as a maker finds it on the mat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GapPlace {
    /// On a side: its number there, from 0 at the corner where the side begins.
    OnSide(Side, u32),
    /// At the corner behind a side.
    AtCorner(Side),
    /// In a row of a strip: its number, from 0 where the row begins.
    InRow(u32),
}

impl Sequence {
    /// The gap that a step works, if it can hold another number of beads.
    pub fn gap_of(&self, step: Step) -> Option<GapOfStep> {
        let (stage, i) = self.stage_at(step)?;
        let layout = self.layout();
        if let Stage::RimRound(rim) = stage {
            let (gap, beads) = rim.gap_of_step(layout, i)?;
            let gap = GapChange {
                round: layout.kind(rim.panel).last(),
                gap,
                beads: beads as u8,
            };
            let panel = rim.panel;
            return Some(GapOfStep { panel, gap });
        }
        let Stage::Rounds(Rounds { panel, on }) = *stage else {
            return None;
        };
        let work = layout.work(panel, on);
        let gap = GapChange {
            round: work.makes,
            gap: i,
            beads: work.in_gap_from_entry(i) as u8,
        };
        (i < work.gaps()).then_some(GapOfStep { panel, gap })
    }

    /// The gap that a step has worked, or the bead of a ring or a string that
    /// it has strung, if it can hold another number of beads.
    pub fn gap_worked(&self, step: Step) -> Option<GapOfStep> {
        if let Some(gap) = self.gap_of(step) {
            return Some(gap);
        }
        let (stage, i) = self.stage_at(step)?;
        let (Stage::Ring(Ring { panel }) | Stage::FreeStart(FreeStart { panel })) = *stage else {
            return None;
        };
        let layout = self.layout();
        let is_bead = i < stage.strung_before(layout, u32::MAX);
        is_bead.then(|| GapOfStep {
            panel,
            gap: layout.strung_as(panel, i),
        })
    }

    /// The gap of a join row that a step works.
    pub fn row_gap_of(&self, step: Step) -> Option<RowGap> {
        let (&Stage::RowStage(RowStage { row }), gap) = self.stage_at(step)? else {
            return None;
        };
        let row = self.layout().row(row);
        (gap < row.gaps).then(|| RowGap {
            panel: row.panel,
            side: row.side,
            gap,
            beads: row.in_gap(gap, row.gaps).len() as u8,
        })
    }

    /// Where the gap of a round or of a join row lies that a step works.
    pub fn place_of_gap(&self, step: Step) -> Option<GapPlace> {
        let (stage, i) = self.stage_at(step)?;
        let layout = self.layout();
        if let Stage::RimRound(rim) = stage {
            let gaps = layout.rim_gaps(rim.panel);
            let (planned, _) = rim.gap_of_step(layout, i)?;
            let (side, nth) = gaps.place_of(gaps.planned_gap(planned));
            return Some(GapPlace::OnSide(side, nth));
        }
        let Some(GapOfStep { panel, gap }) = self.gap_of(step) else {
            let RowGap { side, gap, .. } = self.row_gap_of(step)?;
            return Some(GapPlace::OnSide(side, gap));
        };
        let kind = layout.kind(panel);
        if kind.strip().is_some() {
            return Some(GapPlace::InRow(gap.gap));
        }
        let on = layout.worked_on(panel, gap.round)?;
        let work = layout.work(panel, on);
        let (side, nth) = kind.gap_behind(on, (work.entry + gap.gap) % work.gaps());
        let corners = [on, gap.round].map(|round| kind.corner(round));
        let is_corner = corners[0] != 1 && corners != [0, 0] && nth + 1 == kind.on_side(on, side);
        Some(match is_corner {
            true => GapPlace::AtCorner(side),
            false => GapPlace::OnSide(side, nth),
        })
    }

    /// The beads in the gap, of a round or of a join row, that a step has
    /// worked, and the most that it takes; `None` if it can hold no other
    /// number.
    pub fn beads_worked(&self, step: Step) -> Option<(u8, u8)> {
        let round = self.gap_worked(step);
        let round = round.map(|at| (at.gap.beads, MOST_IN_A_GAP));
        let row = || self.row_gap_of(step);
        round.or_else(|| row().map(|gap| (gap.beads, MOST_JOIN_BEADS)))
    }

    /// The number of gaps of the round or row that a step works; 0 if it works
    /// none.
    pub fn gaps_around(&self, step: Step) -> u32 {
        match self.gap_of(step).map(|_| self.stage_of(step)) {
            Some(Stage::Rounds(rounds)) => self.layout().kind(rounds.panel).in_round(rounds.on),
            _ => 0,
        }
    }

    /// The rounds worked over the gap of a step until `done` steps are done.
    pub fn rounds_since(&self, at: Step, done: Step) -> Vec<Round> {
        let Some(GapOfStep { panel, gap }) = self.gap_worked(at) else {
            return vec![];
        };
        let work = self.work_at(done);
        let way = self.layout().way(panel);
        let rounds = work
            .spans()
            .iter()
            .filter_map(|span| match &span.run.stage {
                Stage::Rounds(r) if r.panel == panel => Some(way.next(r.on)),
                _ => None,
            });
        let mut rounds: Vec<Round> = rounds
            .filter(|round| way.is_later(*round, gap.round))
            .collect();
        rounds.dedup();
        rounds
    }

    /// Records that the gap of step `at` really holds `beads` beads. The gap
    /// was worked before, or is the one at the needle, which is worked by this.
    /// Rounds worked over it since went over it plainly, or the one given
    /// returned to the planned rounds.
    ///
    /// # Errors
    /// The reason why it is not possible.
    pub fn as_stitched(
        &self,
        done: Step,
        at: Step,
        beads: u8,
        eased: Option<Round>,
    ) -> Result<Restated, Refusal> {
        if let Some(gap) = self.row_gap_of(at) {
            let (after, work) = self.restate_row(done, at, gap, beads)?;
            return Ok(Restated::of(after, work));
        }
        let (after, panel, work) = self.restate(done, at, beads, eased)?;
        for job in work.jobs() {
            work.unlike_sides(&job.kind).map_or(Ok(()), Err)?;
        }
        // What is joined to its edge was worked for the edge as it was.
        let is_current = work.jobs().last().map(|job| job.kind.makes()) == Some(Some(panel));
        let edges = |layout: &Layout| -> Vec<u32> {
            let kind = layout.kind(panel);
            (0..kind.sides())
                .map(|side| kind.edge(Side(side)))
                .collect()
        };
        if !is_current && edges(&work.layout) != edges(self.layout()) {
            return Err(Refusal::AlreadySewn(panel));
        }
        Ok(Restated::of(after, work))
    }

    /// Plays the work until a step again with another number of beads in a gap
    /// of a round. Returns the number of unchanged steps, the panel, and the
    /// work.
    pub(super) fn restate(
        &self,
        done: Step,
        at: Step,
        beads: u8,
        eased: Option<Round>,
    ) -> Result<(u32, Panel, Work), Refusal> {
        let of_step = match at <= done {
            true => self.gap_worked(at),
            false => self.gap_of(at),
        };
        let GapOfStep { panel, gap } = of_step.ok_or(Refusal::NoSuchGap)?;
        Refusal::NoSuchGap.when(at.0 > done.0 + 1 || beads == gap.beads)?;
        let (stage, nth) = self.stage_at(at).ok_or(Refusal::NoSuchGap)?;
        let last = at.0 - nth + stage.steps(self.layout()) - 1;
        Refusal::OpenString.when(is_string(stage) && last > done.0)?;
        let way = self.layout().way(panel);
        let mut eased_gaps = self.goal()[panel].eased.iter();
        Refusal::Eased(panel).when(eased_gaps.any(|eased| way.is_later(eased.round, gap.round)))?;
        // The place of a doubled bead begins with the first of the two.
        let doubles = (1..=at.0)
            .rev()
            .take_while(|&step| self.gap_worked(Step(step)).map(|at| at.gap) == Some(gap));
        let after = at.0 - doubles.count().max(1) as u32;
        let restating = Restating::new(self, (after, done), (panel, gap.round), eased);
        let gap = GapChange { beads, ..gap };
        let work = restating.play(self, (after, done), Change::AsStitched { panel, gap })?;
        Ok((after, panel, work))
    }

    /// The same for a gap of a join row, until a side is zipped into it.
    pub(super) fn restate_row(
        &self,
        done: Step,
        at: Step,
        gap: RowGap,
        beads: u8,
    ) -> Result<(u32, Work), Refusal> {
        Refusal::NoSuchGap.when(at.0 > done.0 + 1 || beads == gap.beads)?;
        let after = at.0 - 1;
        let last = self.layout().kind(gap.panel).last();
        let restating = Restating::new(self, (after, done), (gap.panel, last), None);
        let old = &restating.old;
        old.check_other_beads(old.goal(), (gap.panel, gap.side))?;
        let change = Change::RowAsStitched(RowGap { beads, ..gap });
        let work = restating.play(self, (after, done), change)?;
        Ok((after, work))
    }
}

impl Restated {
    pub(super) fn of(after: u32, work: Work) -> Restated {
        let step = work.steps();
        Restated {
            after,
            made: work.facts(after, step),
            step,
            sequence: Sequence::from_work(work),
        }
    }
}

/// Whether a stage strings beads that are closed to a ring.
fn is_string(stage: &Stage) -> bool {
    matches!(stage, Stage::Ring(_) | Stage::FreeStart(_))
}

/// How many gaps of a row on `on` are really done if `gap` were recorded: up to
/// the bead from which the thread comes out, or the next one that can be found.
fn gap_of_row(on: Round, gap: u32, (was, now): (&Origins, &Origins)) -> u32 {
    let [was, now] = [was, now].map(|row| as_passed(row, Round(on.0 + 1)));
    let left = was[gap as usize - 1..]
        .iter()
        .find(|o| o.is_some() && now.contains(o));
    let at = now.iter().position(|origin| Some(origin) == left);
    at.map_or(now.len(), |at| at + 1) as u32
}

/// Plays facts again on a panel with another number of beads in a gap.
struct Restating {
    old: Work,
    panel: Panel,
    /// The round with the gap.
    slip: Round,
    eased: Option<Round>,
    work: Work,
    /// The planned beads that those of each round replace: in the old work, and
    /// in the new one as far as it is played.
    was: Vec<Origins>,
    now: Vec<Origins>,
}

impl Restating {
    fn new(
        seq: &Sequence,
        (after, done): (u32, Step),
        (panel, slip): (Panel, Round),
        eased: Option<Round>,
    ) -> Restating {
        let old = seq.work_at(done);
        Restating {
            was: old.layout.origins(panel),
            now: vec![],
            work: seq.work_at(Step(after)),
            old,
            panel,
            slip,
            eased,
        }
    }

    /// The work with a change made after `after` steps.
    fn play(
        mut self,
        seq: &Sequence,
        (after, done): (u32, Step),
        change: Change,
    ) -> Result<Work, Refusal> {
        let restated = Fact::Change(change);
        if after == done.0 {
            // The gap at the needle is worked now; what is prepared for it
            // comes before it.
            let ahead = seq.work().facts(after, after + 1);
            let prepared = ahead
                .into_iter()
                .take_while(|fact| matches!(fact, Fact::Change(_)));
            prepared
                .into_iter()
                .try_for_each(|fact| self.work.try_play(fact))?;
            self.work.try_play(restated)?;
            let (stage, from) = seq.stage_at(Step(after + 1)).ok_or(Refusal::NoSuchGap)?;
            self.play_run(stage.clone(), from, from + 1)?;
            return Ok(self.work);
        }
        // An earlier change of the same gap comes before it.
        let mut facts = seq.work().facts(after, done.0);
        let first = facts.iter().position(|fact| matches!(fact, Fact::Run(_)));
        facts.insert(first.unwrap_or(0), restated);
        for fact in facts {
            self.now = self.work.layout.origins(self.panel);
            match fact {
                Fact::Run(run) => self.run(run)?,
                Fact::Change(change) => {
                    let change = self.change(change)?;
                    self.work.try_play(Fact::Change(change))?;
                }
            }
        }
        Refusal::NoSuchGap.when(self.eased.is_some())?;
        self.work.keep_colours(&self.old);
        Ok(self.work)
    }

    /// Plays steps of a stage, if there are any.
    fn play_run(&mut self, stage: Stage, from: u32, to: u32) -> Result<(), Refusal> {
        match from < to {
            true => self.work.try_play(Fact::Run(Run { stage, from, to })),
            false => Ok(()),
        }
    }

    fn run(&mut self, Run { stage, from, to }: Run) -> Result<(), Refusal> {
        let all = stage.steps(&self.old.layout);
        if is_string(&stage) && stage == stage.on_panel(self.panel, 0) {
            let [from, to] = [from, to].map(|at| match at == all {
                true => stage.steps(&self.work.layout),
                false => self.strung(at),
            });
            return self.play_run(stage, from, to);
        }
        let Stage::Rounds(rounds) = stage else {
            let stage = self.stage(stage)?;
            let to = match to == all {
                true => stage.steps(&self.work.layout),
                false => to,
            };
            return self.work.try_play(Fact::Run(Run { stage, from, to }));
        };
        if rounds.panel != self.panel {
            return self.play_run(rounds.into(), from, to);
        }
        let mut from = self.gap(&rounds, from);
        let gap = self.gap(&rounds, to);
        let to_of = |work: &Work| match to == all {
            true => Stage::from(rounds).steps(&work.layout),
            false => gap,
        };
        let makes = self.work.layout.way(self.panel).next(rounds.on);
        let ease = match self.eased == Some(makes) {
            true => self.work.easing(self.panel, makes),
            false => None,
        };
        if let Some(ease) = ease.filter(|ease| (from..to_of(&self.work)).contains(&ease.gap)) {
            self.eased = None;
            self.play_run(rounds.into(), from, ease.gap)?;
            from = ease.gap;
            let (panel, gap) = (self.panel, ease);
            let eased = Fact::Change(Change::AsStitched { panel, gap });
            self.work.try_play(eased)?;
        }
        let to = to_of(&self.work);
        self.play_run(rounds.into(), from, to)
    }

    /// How many beads of the string are really strung if `beads` were recorded.
    fn strung(&self, beads: u32) -> u32 {
        let before = |work: &Work| work.layout.before_panel(self.panel) + 1;
        let (was, now) = (before(&self.old), before(&self.work));
        let strung = |layout: &Layout| {
            let (kind, making) = (layout.kind(self.panel), layout.making(self.panel));
            let rounds = making.strung_rounds(kind).map(Round);
            rounds.map(|round| kind.in_round(round)).sum::<u32>()
        };
        let mut next = (beads..strung(&self.old.layout)).map(|bead| Bead(was + bead));
        let next = next.find_map(|bead| self.bead(bead));
        next.map_or_else(|| strung(&self.work.layout), |bead| bead.0 - now)
    }

    /// How many gaps of a round are really done if `gap` were recorded.
    fn gap(&self, rounds: &Rounds, gap: u32) -> u32 {
        let on = rounds.on.0 as usize - 1;
        let (was, now) = (&self.was[on], &self.now[on]);
        if was == now || gap == 0 {
            return gap;
        }
        if self.work.layout.kind(self.panel).strip().is_some() {
            return gap_of_row(rounds.on, gap, (was, now));
        }
        let start = |work: &Work| work.layout.making(self.panel).start(rounds.on) as usize;
        // The bead from which the thread comes out there, or the next one that
        // can be found.
        let behind = (gap as usize..gap as usize + was.len())
            .map(|i| was[(start(&self.old) + i) % was.len()])
            .find(|origin| origin.is_some() && now.contains(origin));
        let at = now.iter().position(|origin| Some(*origin) == behind);
        match at.map(|at| (at + now.len() - start(&self.work) % now.len()) % now.len()) {
            Some(0) | None => now.len() as u32,
            Some(at) => at as u32,
        }
    }

    fn stage(&self, stage: Stage) -> Result<Stage, Refusal> {
        match stage {
            Stage::Through(mut through) => {
                if let Path::Beads(path) = &mut through.path {
                    *path = self.holes(path.iter())?.into();
                }
                Ok(through.into())
            }
            Stage::BreakOut(mut bead) => {
                if let (panel, None) = (bead.panel, bead.side)
                    && panel == self.panel
                    && bead.round != self.slip
                    && let Some(on) = self.old.layout.worked_on(panel, bead.round)
                {
                    bead.gap = self.gap(&Rounds { panel, on }, bead.gap);
                }
                Ok(bead.into())
            }
            Stage::Still(mut still) if self.old.jobs().last().is_some() => {
                // A round that is counted has the beads that it has.
                if let Some(round) = still.round
                    && self.work.jobs().last().map(|job| job.panel()) == Some(self.panel)
                    && round <= self.work.layout.kind(self.panel).last()
                {
                    still.beads = self.work.layout.kind(self.panel).in_round(round);
                }
                Ok(still.into())
            }
            other => Ok(other),
        }
    }

    fn change(&self, change: Change) -> Result<Change, Refusal> {
        match change {
            Change::Prepare {
                job,
                part,
                mut corners,
            } => {
                for holes in &mut corners {
                    *holes = self.holes(holes.iter().copied())?;
                }
                Ok(Change::Prepare { job, part, corners })
            }
            Change::AsStitched { panel, mut gap } if panel == self.panel => {
                // Beads of the first round are numbered as planned, and gaps by
                // their round.
                if gap.round != self.slip
                    && let Some(on) = self.old.layout.worked_on(panel, gap.round)
                {
                    gap.gap = self.gap(&Rounds { panel, on }, gap.gap);
                }
                Ok(Change::AsStitched { panel, gap })
            }
            other => Ok(other),
        }
    }

    fn holes(&self, holes: impl Iterator<Item = Hole>) -> Result<Vec<Hole>, Refusal> {
        let hole = |hole: Hole| {
            let bead = self.bead(hole.bead);
            let bead = bead.ok_or(Refusal::NotStrung(hole))?;
            Ok(Hole { bead, ..hole })
        };
        holes.map(hole).collect()
    }

    /// The real number of a bead.
    fn bead(&self, bead: Bead) -> Option<Bead> {
        let mut seat = self.old.layout.seat(bead);
        if seat.part == Part::Face && seat.panel == self.panel {
            let round = seat.round.0 as usize - 1;
            seat.index = same_index((&self.was[round], &self.now[round]), seat.index)?;
        }
        if let Part::JoinRow(row) = seat.part {
            let (was, now) = (self.old.layout.row(row), self.work.layout.row(row));
            seat.place = now.same_bead(was, seat.place)?;
        }
        Some(self.work.layout.bead_in(seat))
    }
}

impl Work {
    /// Keeps the colours of beads after work was corrected.
    pub(in crate::beadwork) fn keep_colours(&mut self, old: &Work) {
        let mut goal = Goal::clone(self.goal());
        let known = std::cell::RefCell::new(HashMap::new());
        let number = |bead| {
            let mut known = known.borrow_mut();
            let same = || self.layout.same_or_next(&old.layout, bead);
            *known.entry(bead).or_insert_with(same)
        };
        let panels = goal.panels.iter_mut();
        panels.for_each(|panel| panel.colours.renumber(number));
        if goal.panels.iter().any(|panel| !panel.colours.is_plain()) {
            self.set_goal(Arc::new(goal));
        }
    }

    /// The change of a gap that returns round `makes` of a panel to the plan;
    /// of several, the first that is not worked yet.
    fn easing(&self, panel: Panel, makes: Round) -> Option<GapChange> {
        let layout = &self.layout;
        let on = layout.worked_on(panel, makes)?;
        let stage = Stage::from(Rounds { panel, on });
        let runs = self.spans().iter().map(|span| &span.run);
        let done = runs
            .filter(|run| run.stage == stage)
            .map(|run| run.to)
            .max();
        let open = layout.open_gaps(panel, makes);
        let gaps = (0..).zip(&open).skip(done.unwrap_or(0) as usize);
        let work = layout.work(panel, on);
        let eases = |gap: u32, lawful: u8| work.in_gap_from_entry(gap) != u32::from(lawful);
        let mut eased =
            gaps.filter(|(gap, open)| open.plain != open.lawful && eases(*gap, open.lawful));
        let (gap, open) = eased.next()?;
        Some(GapChange {
            round: makes,
            gap,
            beads: open.lawful,
        })
    }

    /// The ways to return the current panel to the plan: in the current round
    /// if the place is still ahead, and in the next.
    pub(super) fn easings(&self) -> Vec<Amendment> {
        let Some(job) = self.jobs().last() else {
            return vec![];
        };
        let panel = job.panel();
        if job.kind.makes() != Some(panel) || !self.layout.has_changes(panel) {
            return vec![];
        }
        let making = self.layout.making(panel);
        let last = self.layout.kind(panel).rounds();
        let begun = self.rounds_begun(panel);
        let rounds: Vec<Round> = match making.begin.way() {
            WorkDirection::Outward => (begun..=last.min(begun + 1)).map(Round).collect(),
            WorkDirection::Inward => {
                let inmost = making.innermost().0;
                let here = (last + 1).saturating_sub(begun);
                (inmost.max(here.saturating_sub(1))..=here)
                    .rev()
                    .map(Round)
                    .collect()
            }
        };
        let gap = |round| self.easing(panel, round);
        let gaps = rounds.into_iter().filter_map(gap);
        gaps.map(|gap| Amendment::Ease { panel, gap }).collect()
    }

    /// Whether a gap is still to be worked, so that it can be eased.
    pub(super) fn check_ease(&self, panel: Panel, gap: GapChange) -> Result<(), Refusal> {
        let is_there = panel.index() < self.layout.panels().len() && self.layout.is_begun(panel);
        Refusal::NoSuchGap.when(!is_there || self.easing(panel, gap.round) != Some(gap))?;
        Ok(())
    }
}

/// `Face 1: back to the pattern in round 8 by a decrease behind bead 2 of side 1
/// in round 7: no bead, draw the two together`.
pub(super) fn say_ease(seq: &Sequence, panel: Panel, gap: GapChange) -> String {
    let layout = seq.layout();
    let name = &layout.panel(panel).name;
    let round = gap.round;
    let Some(on) = layout.worked_on(panel, round) else {
        return String::new();
    };
    let work = layout.work(panel, on);
    // A gap of a row lies before a bead.
    let is_row = !work.steps_up();
    let old = match is_row {
        true => work.old_bead(gap.gap + 1),
        false => (work.entry + gap.gap) % work.gaps().max(1),
    };
    let place = layout.kind(panel).place(on, old);
    let (side, bead): (Side, u32) = (place.side, place.place + 1);
    let (what, how) = match gap.beads {
        0 => ("a decrease", "no bead, draw the two together".to_string()),
        beads => ("an increase", plural(beads.into(), "bead")),
    };
    let (round, place) = match is_row {
        true => (
            format!("row {round}"),
            format!("before bead {bead} of row {on}"),
        ),
        false => (
            format!("round {round}"),
            format!("behind bead {bead} of side {side} in round {on}"),
        ),
    };
    format!("{name}: back to the pattern in {round} by {what} {place}: {how}")
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::job::{JobInfo, JobKind};
    use crate::beadwork::planner::PlanRule;
    use crate::beadwork::project::{Closing, Make, Project};
    use crate::beadwork::record::{Record, Undone};
    use crate::beadwork::testing;
    use crate::beadwork::verify::{Report, verify};
    use proptest::prelude::*;

    /// The step of a panel's round that works gap `gap`.
    fn step_of(seq: &Sequence, round: u32, gap: u32) -> Step {
        let mut steps = (1..=seq.steps()).map(Step);
        let is = |step: &Step| {
            let at = seq.gap_of(*step);
            at.is_some_and(|at| (at.gap.round.0, at.gap.gap) == (round, gap))
        };
        steps.find(is).unwrap()
    }

    /// In a round of a triangle the gaps of a side are numbered from one corner to
    /// the next, whichever way it is worked; those of a join row and of the rim of a
    /// fill are, too.
    #[test]
    fn a_gap_is_found_by_its_side_and_its_number_from_the_corner() {
        // Outward the first stitch is at the corner where the needle steps up.
        for (spec, round, on_side, first) in [
            (testing::panel(3, 6), 5, 3, 1),
            (testing::inward(3, 6, 0), 4, 4, 0),
        ] {
            let seq = Sequence::new(testing::single(spec));
            let of_round = |step: &Step| {
                let gap = seq.gap_of(*step);
                gap.is_some_and(|at| at.gap.round == Round(round))
            };
            let steps = (1..=seq.steps()).map(Step).filter(of_round);
            let places: Vec<_> = steps.filter_map(|step| seq.place_of_gap(step)).collect();
            let side = |side| {
                let gaps = (0..on_side).map(move |nth| GapPlace::OnSide(Side(side), nth));
                gaps.chain([GapPlace::AtCorner(Side(side))])
            };
            let mut sides: Vec<_> = (0..3).flat_map(side).collect();
            sides.rotate_right(first);
            assert_eq!(places, sides);
        }
        // The corner beads of a hexagon's first round begin and end its sides.
        let hexagon = Sequence::new(testing::single(testing::panel(6, 3)));
        let second = (1..=hexagon.steps()).map(Step).filter(|step| {
            let gap = hexagon.gap_of(*step);
            gap.is_some_and(|at| at.gap.round == Round(2))
        });
        for step in second {
            let beside = hexagon.step(step).and_then(|m| m.side).unwrap();
            let place = hexagon.place_of_gap(step);
            assert_eq!(place, Some(GapPlace::OnSide(beside, 0)));
        }
        let solid = Sequence::new(testing::listed_tetrahedron(5));
        let mut found = 0;
        for m in solid.iter() {
            let of_side = match solid.stage_of(m.step) {
                Stage::RowStage(_) => solid.row_gap_of(m.step).map(|_| 4),
                Stage::RimRound(_) => solid.gap_of(m.step).map(|_| 5),
                _ => continue,
            };
            let place = solid.place_of_gap(m.step);
            assert_eq!(place.is_some(), of_side.is_some());
            if let (Some(GapPlace::OnSide(side, nth)), Some(all)) = (place, of_side) {
                assert_eq!(Some(side), m.side);
                assert_eq!(nth, found % all);
                found = (found + 1) % all;
            }
        }
    }

    fn counts(seq: &Sequence) -> Vec<u32> {
        let kind = seq.layout().kind(Panel(0));
        (1..=kind.rounds())
            .map(|k| kind.in_round(Round(k)))
            .collect()
    }

    fn recorded(seq: &Sequence, done: u32) -> Record {
        let mut record = Record::default();
        record.play(&seq.work().facts(0, done), done);
        record
    }

    /// What is recorded once a gap is kept as stitched after `done` steps.
    fn kept_record(plain: &Sequence, done: u32, found: &Restated) -> Record {
        let mut record = recorded(plain, done);
        match found.after == done {
            true => record.play(&found.made, found.step),
            false => record.restate(found.after, &found.made, found.step),
        }
        record
    }

    /// The proof of a piece whose jobs say nothing of the gaps of their rows.
    fn without_row_gaps(seq: &Sequence) -> Report {
        let mut jobs = seq.jobs().to_vec();
        jobs.iter_mut().for_each(|job| job.row_gaps.clear());
        let layout = seq.layout();
        let size = |bead| layout.bead_kind(layout.colour(bead)).size;
        verify(layout.project(), seq.goal(), &jobs, seq.iter(), size)
    }

    fn assert_comes_back(project: &Project, record: &Record, seq: &Sequence) {
        let resumed = Sequence::resume(project.clone(), &[], record, PlanRule::default());
        assert_eq!(resumed.refused, None);
        assert!(resumed.sequence.iter().eq(seq.iter()));
    }

    /// A bead too many in round 5 is found in round 7 and eased out in round 8:
    /// from there on the triangle is as planned.
    #[test]
    fn a_bead_too_many_in_round_5_is_found_in_round_7_and_eased_in_round_8() {
        let project = testing::single(testing::panel(3, 10));
        let plain = Sequence::new(project.clone());
        let done = step_of(&plain, 7, 14);
        let at = step_of(&plain, 5, 6);
        let found = plain.as_stitched(done, at, 2, None).unwrap();
        // One more step in round 6, and one in the part of round 7.
        assert_eq!(found.step, done.0 + 2);
        let amended = &found.sequence;
        assert_eq!(counts(amended), [3, 6, 9, 12, 16, 19, 22, 25, 28, 31]);
        assert_proved(amended);
        let mut record = recorded(&plain, done.0);
        record.restate(found.after, &found.made, found.step);
        assert_comes_back(&project, &record, amended);

        let easings = amended.work_at(Step(found.step)).easings();
        let ease = easings
            .iter()
            .find(|ease| matches!(ease, Amendment::Ease { gap, .. } if gap.round.0 == 8));
        let ease = ease.unwrap();
        let words = ease.say(amended);
        assert!(
            words.contains("back to the pattern in round 8 by a decrease behind bead"),
            "{words}"
        );
        assert!(
            words.ends_with("in round 7: no bead, draw the two together"),
            "{words}"
        );
        let eased = amended.amended(Step(found.step), ease).unwrap();
        assert_eq!(counts(&eased), [3, 6, 9, 12, 16, 19, 22, 24, 27, 30]);
        assert_proved(&eased);
        for k in 9..=10 {
            let word = |seq: &Sequence| seq.layout().kind(Panel(0)).word(Round(k)).clone();
            assert_eq!(word(&eased), word(&plain), "round {k}");
        }
        record.amend(ease.clone());
        assert_comes_back(&project, &record, &eased);
        record.undo();
        assert_eq!(record.undo(), Some(Undone::Restated));
        assert_eq!(record, recorded(&plain, done.0));
    }

    /// A skipped gap gives too few beads, and an increase makes up for it.
    #[test]
    fn a_gap_passed_by_is_made_up_by_an_increase() {
        let plain = Sequence::new(testing::single(testing::panel(6, 9)));
        let at = step_of(&plain, 5, 7);
        let found = plain
            .as_stitched(step_of(&plain, 6, 2), at, 0, None)
            .unwrap();
        assert_eq!(counts(&found.sequence), [6, 6, 12, 12, 11, 17, 17, 17, 23]);
        assert_proved(&found.sequence);
        let ease = found.sequence.work_at(Step(found.step)).easings().remove(0);
        let eased = found.sequence.amended(Step(found.step), &ease).unwrap();
        assert_eq!(counts(&eased)[5..], counts(&plain)[5..]);
        assert_proved(&eased);
    }

    /// A face with a bead too many on one side cannot be joined there until it
    /// is eased; then the whole piece is made.
    #[test]
    fn a_join_waits_for_the_way_back() {
        use crate::beadwork::project::Solid;
        let solid = testing::solid(Solid::Tetrahedron, 6, Closing::SetIn);
        let plain = Sequence::new(solid);
        let at = step_of(&plain, 4, 2);
        let found = plain.as_stitched(Step(at.0 - 1), at, 2, None).unwrap();
        assert_proved(&found.sequence);
        assert!(found.sequence.jobs().len() < plain.jobs().len());
        let ease = found.sequence.work_at(Step(found.step)).easings().remove(0);
        let eased = found.sequence.amended(Step(found.step), &ease).unwrap();
        assert_proved(&eased);
        assert_eq!(eased.jobs().len(), plain.jobs().len());
    }

    /// If a side of a panel as stitched fits no other, the opening beside it
    /// has a slit, where the thread of a fill would cross the hinge.
    #[test]
    fn an_opening_with_a_slit_is_not_filled() {
        use crate::beadwork::project::Make;
        let mut pair = testing::folded_pair(5, 0);
        pair.make = Make::FoldedPair {
            faces: vec![0],
            closings: [(1, Closing::Fill), (1, Closing::Fill)],
            tips: 0,
        };
        for project in [
            pair,
            testing::ring(8, 3, Closing::Fill),
            testing::ring(8, 4, Closing::Open),
        ] {
            let plain = Sequence::new(project);
            let goes_round =
                |job: &&JobInfo| matches!(job.kind, JobKind::Fill { .. } | JobKind::FirmRim(_));
            let count = |seq: &Sequence| seq.jobs().iter().filter(goes_round).count();
            let goal = plain.work_at(Step(0)).goal().clone();
            assert_eq!(plain.work_at(Step(0)).opening_with_a_slit(&goal), None);
            let last = plain.layout().kind(Panel(0)).rounds();
            // In the middle of each side of the first panel.
            for nth in 0..3 {
                let gap = nth * (last - 1) + last / 2;
                let at = step_of(&plain, last, gap);
                let found = plain.as_stitched(Step(at.0 - 1), at, 4, None).unwrap();
                let seq = &found.sequence;
                assert_proved(seq);
                let zips = |seq: &Sequence| {
                    seq.jobs()
                        .iter()
                        .filter(|j| !j.kind.joins().is_empty())
                        .count()
                };
                if zips(seq) < zips(&plain) {
                    assert!(count(seq) < count(&plain), "side {nth}");
                }
            }
        }
    }

    /// A gap of a join row holds two beads or none, at the needle or found
    /// during the next panel: the zip follows, the piece is proved, and the
    /// journal and undo restore it.
    #[test]
    fn a_gap_of_a_join_row_is_as_stitched_and_the_zip_follows() {
        use crate::beadwork::movement::{Kind, Movement};
        use crate::beadwork::project::Solid;
        let project = testing::solid(Solid::Tetrahedron, 6, Closing::SetIn);
        let plain = Sequence::new(project.clone());
        let is_row = |step: &Step| plain.row_gap_of(*step).is_some();
        let at = (1..=plain.steps()).map(Step).filter(is_row).nth(2).unwrap();
        let was = plain.row_gap_of(at).unwrap();
        assert_eq!((was.gap, was.beads), (2, 1));
        let zipped = |seq: &Sequence| -> Vec<usize> {
            let of_row = |m: &Movement| {
                let rows = m.passes.iter().map(|bead| seq.layout().seat(*bead));
                let mut rows = rows.filter(|seat| matches!(seat.part, Part::JoinRow(_)));
                rows.all(|seat| (seat.panel, seat.side) == (was.panel, was.side))
            };
            let zips = seq.iter().filter(|m| m.kind == Kind::Zip);
            let first = zips.skip_while(|m| !of_row(m)).take(5);
            first.map(|m| m.passes.len()).collect()
        };
        assert_eq!(zipped(&plain), [2; 5]);
        for (done, beads) in [(at.0 - 1, 2), (at.0 - 1, 0), (at.0 + 2, 2), (at.0 + 40, 0)] {
            let found = plain.as_stitched(Step(done), at, beads, None).unwrap();
            let seq = &found.sequence;
            assert_proved(seq);
            let more = i64::from(seq.layout().beads()) - i64::from(plain.layout().beads());
            assert_eq!(more, i64::from(beads) - 1);
            // Without the recorded change, the proof finds the gap.
            assert!(!without_row_gaps(seq).is_proved());
            // Five teeth, the middle one with this number of join beads.
            let teeth = zipped(seq);
            assert_eq!(teeth, [2, 2, 1 + usize::from(beads), 2, 2], "after {done}");
            let mut record = kept_record(&plain, done, &found);
            assert_comes_back(&project, &record, seq);
            // Changed back, it is the planned row.
            let again = seq.as_stitched(Step(found.step), at, 1, None).unwrap();
            assert!(again.sequence.iter().eq(plain.iter()), "after {done}");
            record.undo();
            assert_eq!(record, recorded(&plain, done));
        }
        let most = plain.as_stitched(Step(at.0 - 1), at, 3, None);
        assert_eq!(most.unwrap_err(), Refusal::TooManyJoinBeads);
        // After a side is zipped into the row, it cannot be changed.
        let late = plain.as_stitched(Step(plain.steps()), at, 2, None);
        assert_eq!(late.unwrap_err(), Refusal::JobBegun);
    }

    /// The same for each side that is zipped onto a row at a hinge.
    #[test]
    fn a_gap_of_a_row_at_a_hinge_is_as_stitched_and_all_its_zips_follow() {
        use crate::beadwork::movement::Kind;
        let project = testing::ring(8, 5, Closing::SetIn);
        let plain = Sequence::new(project.clone());
        let shared = |panel, side| {
            let joins = plain.goal().jobs.iter().flat_map(JobKind::joins);
            joins
                .filter(|join| (join.onto, join.at) == (panel, side))
                .count()
        };
        let rows = (1..=plain.steps()).map(Step).filter_map(|step| {
            let row = plain.row_gap_of(step)?;
            (row.gap == 1 && shared(row.panel, row.side) == 3).then_some((step, row))
        });
        let hinges: Vec<_> = rows.collect();
        assert_eq!(hinges.len(), 8);
        for &(at, was) in hinges.iter().step_by(3) {
            for (done, beads) in [(at.0 - 1, 2), (at.0 - 1, 0), (at.0 + 3, 2), (at.0 + 4, 0)] {
                let found = plain.as_stitched(Step(done), at, beads, None).unwrap();
                let seq = &found.sequence;
                assert_proved(seq);
                let more = i64::from(seq.layout().beads()) - i64::from(plain.layout().beads());
                assert_eq!(more, i64::from(beads) - 1);
                let zips = seq.iter().filter(|m| m.kind == Kind::Zip);
                let others = zips.filter(|m| m.passes.len() == 1 + usize::from(beads));
                assert_eq!(others.count(), 3, "{was:?} {beads}");
                let record = kept_record(&plain, done, &found);
                assert_comes_back(&project, &record, seq);
            }
        }
        let (at, _) = hinges[0];
        let late = plain.as_stitched(Step(plain.steps()), at, 2, None);
        assert_eq!(late.unwrap_err(), Refusal::JobBegun);
    }

    /// A row with as many beads as gaps, but none in its first or last gap: at
    /// that corner of a fill the two sides of the seam do not touch, and the
    /// needle takes another path.
    #[test]
    fn a_fill_s_corner_goes_round_an_empty_gap_of_a_seam() {
        let mut pair = testing::folded_pair(4, 0);
        if let Make::FoldedPair { closings, .. } = &mut pair.make {
            closings[0] = (1, Closing::Fill);
        }
        let mut rows = 0;
        for project in [testing::listed_tetrahedron(4), pair] {
            let plain = Sequence::new(project);
            let row_gap = |step: &Step| plain.row_gap_of(*step).map(|gap| gap.gap);
            let firsts = (1..=plain.steps())
                .map(Step)
                .filter(|step| row_gap(step) == Some(0));
            for first in firsts {
                let [begin, last] = [first, Step(first.0 + 2)];
                for beads in [[0, 2], [2, 0]] {
                    let mut seq = plain.clone();
                    for (step, beads) in [begin, last].into_iter().zip(beads) {
                        let done = Step(step.0 - 1);
                        seq = seq.as_stitched(done, step, beads, None).unwrap().sequence;
                    }
                    assert_eq!(seq.layout().beads(), plain.layout().beads());
                    assert_proved(&seq);
                }
                rows += 1;
            }
        }
        assert!(rows > 15, "{rows} rows");
    }

    /// The same for a fill or a reinforced rim: if a gap of the row is empty,
    /// two beads of the fill are in one gap; between two join beads there is
    /// none.
    #[test]
    fn a_gap_of_the_rim_of_an_opening_is_as_stitched() {
        use crate::beadwork::project::Solid;
        let mut kept = 0;
        for project in [
            testing::solid(Solid::Tetrahedron, 5, Closing::Fill),
            testing::solid(Solid::Tetrahedron, 2, Closing::Fill),
            testing::solid(Solid::Cube, 5, Closing::Open),
            testing::folded_pair(5, 1),
            testing::ring(8, 3, Closing::Fill),
            testing::ring(8, 3, Closing::Open),
        ] {
            let plain = Sequence::new(project.clone());
            let of_rim = |row: &RowGap| {
                let openings = plain
                    .goal()
                    .jobs
                    .iter()
                    .filter(|job| job.joins().is_empty());
                let mut rows = openings.flat_map(JobKind::rows_met);
                rows.any(|corner| corner == (row.panel, row.side))
            };
            let rows = (1..=plain.steps()).map(Step);
            let rows = rows.filter_map(|step| Some((step, plain.row_gap_of(step)?)));
            let gaps: Vec<_> = rows.filter(|(_, row)| of_rim(row)).collect();
            for &(at, row) in gaps.iter().step_by(gaps.len() / 7 + 1) {
                for (beads, later) in [(2, 0), (0, 0), (2, 3), (0, 3)] {
                    let gaps = plain
                        .layout()
                        .row(plain.layout().row_on(row.panel, row.side).unwrap())
                        .gaps;
                    let done = if later == 0 { at.0 - 1 } else { at.0 + later };
                    let found = plain.as_stitched(Step(done), at, beads, None);
                    if beads == 0 && gaps == 1 {
                        assert_eq!(found.unwrap_err(), Refusal::TooManyJoinBeads);
                        continue;
                    }
                    let found = match found {
                        Err(Refusal::JobBegun) if later > 0 => continue,
                        found => found.unwrap_or_else(|refusal| {
                            panic!("{refusal:?} {row:?} at {at:?} {beads} later {later}")
                        }),
                    };
                    let seq = &found.sequence;
                    assert_proved(seq);
                    kept += 1;
                    let (was, now) = (plain.layout().beads(), seq.layout().beads());
                    assert_eq!(now + 1, was + u32::from(beads));
                    // Without the recorded change, the proof finds the gap.
                    assert!(!without_row_gaps(seq).is_proved());
                    let record = kept_record(&plain, done, &found);
                    assert_comes_back(&project, &record, seq);
                    let again = seq.as_stitched(Step(found.step), at, 1, None).unwrap();
                    assert!(again.sequence.iter().eq(plain.iter()));
                    // The first round of the fill can be as stitched on it too.
                    let rim = (1..=seq.steps()).map(Step).filter(|step| {
                        matches!(seq.stage_of(*step), Stage::RimRound(_))
                            && seq.gap_of(*step).is_some()
                    });
                    for at in rim.step_by(2).take(5) {
                        let twice = seq.as_stitched(Step(at.0 - 1), at, 2, None).unwrap();
                        assert_proved(&twice.sequence);
                    }
                }
            }
        }
        assert!(kept > 60, "{kept}");
        // A fill with corner beads has a bead after each join bead.
        let plain = Sequence::new(testing::solid(Solid::Cube, 5, Closing::Fill));
        let mut rows = (1..=plain.steps())
            .map(Step)
            .filter_map(|step| Some((step, plain.row_gap_of(step)?)));
        let of_rim = plain
            .goal()
            .jobs
            .iter()
            .find(|job| matches!(job, JobKind::Fill { .. }));
        let (panel, side) = of_rim.unwrap().rows_met()[0];
        let (at, _) = rows
            .find(|(_, row)| (row.panel, row.side) == (panel, side))
            .unwrap();
        let found = plain.as_stitched(Step(at.0 - 1), at, 2, None);
        assert_eq!(found.unwrap_err(), Refusal::UnevenRow(panel, side));
    }

    /// A gap of a strip holds two beads or none, at the needle or found rows
    /// later: later rows go over it plainly or return to the planned width; the
    /// strip is proved, and the journal and undo restore it.
    #[test]
    fn a_gap_of_a_strip_is_as_stitched() {
        use crate::beadwork::verify::Fault;
        let project = testing::single(testing::strip(4, 9));
        let plain = Sequence::new(project.clone());
        let gaps = (1..=plain.steps()).map(Step);
        let gaps: Vec<Step> = gaps.filter(|step| plain.gap_of(*step).is_some()).collect();
        // Rows 3 to 9, four gaps each.
        assert_eq!(gaps.len(), 7 * 4);
        let width = |seq: &Sequence, row: u32| seq.layout().kind(Panel(0)).in_round(Round(row));
        let [mut made, mut eased] = [0; 2];
        for &at in &gaps[..5 * 4] {
            let GapOfStep { gap, .. } = plain.gap_of(at).unwrap();
            for beads in [0, 2, 3] {
                for done in [at.0 - 1, at.0, at.0 + 2, at.0 + 7] {
                    let found = plain.as_stitched(Step(done), at, beads, None);
                    if (beads, gap.gap) == (0, 0) {
                        assert_eq!(found.unwrap_err(), Refusal::EdgeOfStrip);
                        continue;
                    }
                    let found = found.unwrap();
                    let seq = &found.sequence;
                    assert_proved(seq);
                    // By the pattern alone, the proof finds the gap.
                    let pattern = plain.layout().project();
                    let size = |_| pattern.beads[0].size;
                    let report = verify(pattern, plain.goal(), seq.jobs(), seq.iter(), size);
                    let (number, expected) = (gap.gap + 1, 1);
                    let found_in = Fault::GapHolds {
                        gap: number,
                        expected,
                        found: beads.into(),
                    };
                    assert!(report.findings.iter().any(|found| found.fault == found_in));
                    // Each row since is wider or narrower by the same number.
                    for row in 1..=9 {
                        let is_over = row >= gap.round.0;
                        let wide = if is_over { 3 + u32::from(beads) } else { 4 };
                        assert_eq!(width(seq, row), wide, "row {row} of {gap:?}, {beads}");
                    }
                    let record = kept_record(&plain, done, &found);
                    assert_comes_back(&project, &record, seq);
                    made += 1;
                    // The way back, in the current row or the next.
                    let offered = seq.amendments(Step(found.step)).into_iter();
                    for ease in offered.filter(|change| matches!(change, Amendment::Ease { .. })) {
                        let back = seq.amended(Step(found.step), &ease).unwrap();
                        assert_proved(&back);
                        let words = ease.say(seq);
                        assert!(words.contains("back to the pattern in row"), "{words}");
                        assert!(
                            width(&back, 9).abs_diff(4) < width(seq, 9).abs_diff(4),
                            "{words}"
                        );
                        eased += 1;
                    }
                }
            }
        }
        assert!(made > 150 && eased > 100, "{made} {eased}");
        let string = plain.as_stitched(Step(6), Step(3), 2, None);
        assert_eq!(string.unwrap_err(), Refusal::NoSuchGap);
    }

    /// A row that was worked since may have returned the strip to its width
    /// already.
    #[test]
    fn a_strip_was_brought_back_in_a_row_that_is_named() {
        let plain = Sequence::new(testing::single(testing::strip(5, 8)));
        let gaps = (1..=plain.steps()).map(Step);
        let at = gaps
            .filter(|step| plain.gap_of(*step).is_some())
            .nth(7)
            .unwrap();
        let done = Step(at.0 + 14);
        assert!(plain.rounds_since(at, done).contains(&Round(5)));
        let found = plain.as_stitched(done, at, 2, Some(Round(5))).unwrap();
        assert_proved(&found.sequence);
        let kind = found.sequence.layout().kind(Panel(0));
        let widths: Vec<u32> = (1..=8).map(|row| kind.in_round(Round(row))).collect();
        assert_eq!(widths, [5, 5, 5, 6, 5, 5, 5, 5]);
    }

    /// The beads of a row have the colours of their gaps.
    #[test]
    fn a_join_bead_more_moves_no_colour() {
        use crate::beadwork::bead::Colour;
        use crate::beadwork::colour::ColourWord;
        use crate::beadwork::project::Solid;
        let mut project = testing::solid(Solid::Tetrahedron, 6, Closing::SetIn);
        let mut amber = project.beads[0].clone();
        amber.letter = 'A';
        project.beads.push(amber);
        for panel in &mut project.panels {
            panel.colours.row.sides = vec![ColourWord {
                head: [0, 1, 0, 0, 1].map(Colour).to_vec(),
                middle: vec![],
                tail: vec![],
                mirror: false,
            }];
        }
        let plain = Sequence::new(project);
        let is_row = |step: &Step| plain.row_gap_of(*step).is_some();
        let at = (1..=plain.steps()).map(Step).filter(is_row).nth(1).unwrap();
        let row = plain.row_gap_of(at).unwrap();
        let found = plain.as_stitched(Step(at.0 + 1), at, 2, None).unwrap();
        let layout = found.sequence.layout();
        let index = layout.row_on(row.panel, row.side).unwrap();
        let colours = (0..6).map(|j| layout.colour(layout.row_bead(index, j)).0);
        assert_eq!(colours.collect::<Vec<_>>(), [0, 1, 1, 0, 0, 1]);
    }

    /// A ring of four instead of three is found in round 5: each round has one
    /// more bead until a decrease at that place corrects it.
    #[test]
    fn a_ring_of_four_is_kept_and_eased() {
        let project = testing::single(testing::panel(3, 7));
        let plain = Sequence::new(project.clone());
        let done = step_of(&plain, 5, 3);
        let found = plain.as_stitched(done, Step(2), 2, None).unwrap();
        assert_eq!(counts(&found.sequence), [4, 7, 10, 13, 16, 19, 22]);
        assert_proved(&found.sequence);
        let mut record = recorded(&plain, done.0);
        record.restate(found.after, &found.made, found.step);
        assert_comes_back(&project, &record, &found.sequence);
        let ease = found.sequence.work_at(Step(found.step)).easings().remove(0);
        let eased = found.sequence.amended(Step(found.step), &ease).unwrap();
        assert_eq!(counts(&eased)[5..], [18, 21]);
        assert_proved(&eased);
        // Changed back, it is the planned ring.
        let (done, at) = (Step(found.step), Step(3));
        let again = found.sequence.as_stitched(done, at, 1, None).unwrap();
        assert!(again.sequence.iter().eq(plain.iter()));
        // A ring that is still open only needs another bead.
        let open = plain.as_stitched(Step(3), Step(2), 2, None);
        assert_eq!(open.unwrap_err(), Refusal::OpenString);
        let small = plain.as_stitched(done, Step(2), 0, None);
        assert_eq!(small.unwrap_err(), Refusal::SmallRing);
    }

    /// A gap of a fill's first round holds two, three or no beads, at the
    /// needle or found later: the rounds after it follow, the way back returns
    /// the fill to the plan, and the proof accepts the recorded change.
    #[test]
    fn a_gap_of_a_fill_s_first_round_is_as_stitched() {
        use crate::beadwork::project::Solid;
        use crate::beadwork::stage::RimRound;
        use crate::beadwork::verify::Fault;
        // The fill of the cube ends in corner beads.
        for project in [
            testing::solid(Solid::Tetrahedron, 5, Closing::Fill),
            testing::folded_pair(5, 1),
            testing::ring(8, 3, Closing::Fill),
            testing::solid(Solid::Cube, 5, Closing::Fill),
        ] {
            let plain = Sequence::new(project.clone());
            let rim = |step: Step| match plain.stage_at(step).unwrap() {
                (Stage::RimRound(rim), i) => rim.gap_of_step(plain.layout(), i),
                _ => None,
            };
            let gaps = (1..=plain.steps()).map(Step).filter_map(|step| {
                let (gap, _) = rim(step)?;
                Some((step, gap))
            });
            let gaps: Vec<(Step, u32)> = gaps.collect();
            let (panel, fill) = match plain.stage_of(gaps[0].0) {
                Stage::RimRound(RimRound { panel, .. }) => (*panel, plain.job_of(gaps[0].0)),
                _ => unreachable!("a fill's first round"),
            };
            let last = plain.layout().kind(panel).last();
            let whole = plain.layout().rim_gaps(panel);
            for &(at, gap) in gaps
                .iter()
                .take(whole.on_side(Side(0)) as usize + 2)
                .step_by(2)
            {
                for (beads, later) in [(2, 0), (0, 3), (3, 30)] {
                    let of_fill = plain.job(fill);
                    let end = of_fill.steps_before + of_fill.steps;
                    let done = Step(if later == 0 {
                        at.0 - 1
                    } else {
                        (at.0 + later).min(end)
                    });
                    let found = plain.as_stitched(done, at, beads, None);
                    if beads == 0 && whole.is_at_corner(gap) {
                        assert_eq!(found.unwrap_err(), Refusal::CornerOfFill);
                        continue;
                    }
                    // A thread that was woven in there since would take another
                    // path.
                    if matches!(found, Err(Refusal::OutOfReach(_))) && later == 30 {
                        continue;
                    }
                    let found = found.unwrap();
                    let seq = &found.sequence;
                    assert_proved(seq);
                    let held = seq.layout().rim_gaps(panel);
                    assert_eq!(held.in_gap(gap).len(), usize::from(beads));
                    let round = seq.layout().kind(panel).in_round(last);
                    assert_eq!(round + 1, whole.all() + u32::from(beads));
                    // Without the recorded change, the proof finds the gap.
                    let report = without_row_gaps(seq);
                    let first = report.findings.first().map(|f| &f.fault);
                    assert!(!report.is_proved() && !matches!(first, Some(Fault::Jump { .. })));
                    let mut record = kept_record(&plain, done.0, &found);
                    assert_comes_back(&project, &record, seq);
                    for ease in seq.work_at(Step(found.step)).easings() {
                        let eased = seq.amended(Step(found.step), &ease).unwrap();
                        assert_proved(&eased);
                        let inner = |seq: &Sequence| seq.layout().kind(panel).in_round(Round(2));
                        let Amendment::Ease { gap, .. } = &ease else {
                            unreachable!()
                        };
                        if gap.round.0 > 2 && beads < 3 {
                            assert_eq!(inner(&eased), inner(&plain));
                        }
                        record.amend(ease);
                        assert_comes_back(&project, &record, &eased);
                        record.undo();
                    }
                    // Changed back, it is the planned fill.
                    let again = seq.as_stitched(Step(found.step), at, 1, None).unwrap();
                    assert!(again.sequence.iter().eq(plain.iter()), "{at} {beads}");
                }
            }
        }
    }

    /// Touching is symmetric, also at a gap with two beads or none.
    #[test]
    fn beads_of_a_fill_and_its_rim_touch_each_other_from_both_sides() {
        use crate::beadwork::project::Solid;
        let plain = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::Fill));
        let is_rim = |step: &Step| matches!(plain.stage_of(*step), Stage::RimRound(_));
        let at = (1..=plain.steps()).map(Step).filter(is_rim).nth(2).unwrap();
        for beads in [0, 1, 2, 3] {
            let seq = match beads {
                1 => plain.clone(),
                _ => plain.as_stitched(at, at, beads, None).unwrap().sequence,
            };
            let touching = seq.work().touching();
            for bead in (1..=seq.layout().beads()).map(Bead) {
                for hole in [Hole::front(bead), Hole::back(bead)] {
                    for other in touching.beside(hole) {
                        assert!(touching.beside(other).contains(&hole), "{hole:?} {other:?}");
                    }
                }
            }
        }
    }

    /// Two beads side by side, or one left out, in the string with which inward
    /// work begins.
    #[test]
    fn a_string_may_have_a_bead_more_or_one_fewer() {
        let plain = Sequence::new(testing::single(testing::inward(3, 6, 0)));
        let string = plain
            .layout()
            .making(Panel(0))
            .strung_rounds(plain.layout().kind(Panel(0)));
        assert_eq!(string, 5..7);
        for (at, beads, strung) in [(6, 2, [15, 19]), (6, 0, [15, 17]), (5, 2, [16, 18])] {
            let found = plain.as_stitched(Step(40), Step(at), beads, None).unwrap();
            assert_eq!(counts(&found.sequence)[4..], strung, "bead {at}: {beads}");
            assert_proved(&found.sequence);
        }
    }

    /// Amber runs out in round 5, and in round 6 a gap of an earlier round is
    /// corrected. Beads sewn in amber stay amber, and beads sewn in slate stay
    /// slate.
    #[test]
    fn a_gap_said_later_moves_no_colour_at_the_border_of_what_is_sewn() {
        use crate::beadwork::amend::colours::{BeadSwap, ColourChange, SwapScope};
        use crate::beadwork::bead::Colour;
        for mut project in [
            testing::single(testing::panel(3, 8)),
            testing::single(testing::inward(3, 8, 0)),
            testing::folded_pair(5, 1),
        ] {
            let mut amber = project.beads[0].clone();
            amber.letter = 'A';
            project.beads.push(amber);
            let plain = Sequence::new(project.clone());
            for (changed, at, beads) in [(50, 20, 2), (50, 20, 0), (40, 3, 2), (60, 30, 4)] {
                let done = 75;
                let change = ColourChange::Swap(BeadSwap {
                    from: Bead(plain.strung_after(Step(changed)) + 1),
                    old: Colour(0),
                    new: Colour(1),
                    scope: SwapScope::All,
                });
                let mut record = recorded(&plain, changed);
                record.amend(Amendment::Colours(change.clone()));
                let seq = plain.recoloured(Step(changed), &change).unwrap();
                record.play(&seq.work().facts(changed, done), done);
                let was = record.clone();
                let Ok(found) = seq.as_stitched(Step(done), Step(at), beads, None) else {
                    continue;
                };
                // The first bead in amber is the same bead of the panel.
                let border = |seq: &Sequence| {
                    let layout = seq.layout();
                    let mut beads = (1..=layout.beads()).map(Bead);
                    let first = beads
                        .find(|bead| layout.colour(*bead) == Colour(1))
                        .unwrap();
                    let seat = layout.seat(first);
                    let like = layout.coloured_like(seat.panel, seat.round);
                    (seat.panel, seat.round, like[seat.index as usize])
                };
                assert_eq!(
                    border(&found.sequence),
                    border(&seq),
                    "{changed} {at} {beads}"
                );
                record.restate(found.after, &found.made, found.step);
                let resumed = Sequence::resume(project.clone(), &[], &record, PlanRule::default());
                assert_eq!(resumed.refused, None);
                let colours = |seq: &Sequence| -> Vec<Colour> {
                    let beads = (1..=seq.layout().beads()).map(Bead);
                    beads.map(|bead| seq.layout().colour(bead)).collect()
                };
                assert_eq!(colours(&resumed.sequence), colours(&found.sequence));
                assert!(resumed.sequence.iter().eq(found.sequence.iter()));
                record.undo();
                assert_eq!(record, was);
            }
        }
    }

    fn projects() -> impl Strategy<Value = Project> {
        (3u8..=6, 4u32..10, 0u8..5).prop_map(|(sides, rounds, what)| match what {
            0 | 1 => testing::single(testing::panel(sides, rounds)),
            2 => testing::single(testing::inward(sides, rounds, 0)),
            3 => testing::single(testing::strip(sides.into(), rounds)),
            _ => testing::folded_pair(rounds.min(5), 1),
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(120))]

        /// Any gap of any round as stitched, at the needle or later: the piece
        /// is proved, and the journal and undo restore it. If it is eased out,
        /// the rounds after it are as planned.
        #[test]
        fn any_gap_may_be_as_stitched(
            project in projects(),
            at in 0.0f64..1.0,
            later in 0.0f64..1.5,
            beads in 0u8..4,
            which in 0usize..4,
        ) {
            let plain = Sequence::new(project.clone());
            let gaps: Vec<Step> = (1..=plain.steps()).map(Step)
                .filter(|step| plain.gap_worked(*step).is_some()).collect();
            let at = gaps[(at * gaps.len() as f64) as usize];
            let job = plain.job(plain.job_of(at));
            let left = job.steps_before + job.steps - at.0;
            let done = match later < 0.5 {
                true => at.0 - 1,
                false => at.0 + ((later - 0.5) * f64::from(left)) as u32,
            };
            let since = plain.rounds_since(at, Step(done));
            let eased = which.checked_sub(1).and_then(|which| since.get(which).copied());
            let Ok(found) = plain.as_stitched(Step(done), at, beads, eased) else {
                return Ok(());
            };
            let seq = &found.sequence;
            assert_proved(seq);
            let same = |n: u32| seq.step(Step(n)) .map(|m| m.kind) == plain.step(Step(n)).map(|m| m.kind);
            prop_assert!((1..at.0).all(same));
            let was = recorded(&plain, done);
            let mut record = was.clone();
            record.restate(found.after, &found.made, found.step);
            assert_comes_back(&project, &record, seq);
            let mut one_by_one = recorded(&plain, found.after);
            for step in found.after..found.step {
                one_by_one.play(&seq.work().facts(step, step + 1), step + 1);
            }
            assert_comes_back(&project, &one_by_one, seq);
            for ease in seq.work_at(Step(found.step)).easings() {
                let amended = seq.amended(Step(found.step), &ease).unwrap();
                assert_proved(&amended);
                record.amend(ease);
                assert_comes_back(&project, &record, &amended);
                record.undo();
            }
            prop_assert_eq!(record.undo(), Some(Undone::Restated));
            prop_assert_eq!(record, was);
        }

        /// Random work on one panel: movements, gaps as stitched, more or fewer
        /// rounds, ways back. After each the piece is proved and restored from
        /// the record; at the end all is undone, and each undo gives exactly
        /// what was before.
        #[test]
        fn a_sitting_of_changes_is_proved_and_undone(
            project in projects(),
            changes in prop::collection::vec((0u8..6, 0.0f64..1.0, 0u8..4), 1..9),
        ) {
            let mut seq = Sequence::new(project.clone());
            let mut record = Record::default();
            let mut before = vec![];
            for (what, at, beads) in changes {
                let (done, was) = (record.steps(), record.clone());
                match what {
                    0 | 1 => {
                        let most = f64::from((seq.steps() - done).min(60));
                        let to = done + (at * most) as u32;
                        if to == done {
                            continue;
                        }
                        record.play(&seq.work().facts(done, to), to);
                    }
                    2 => {
                        let at = Step(1 + (at * f64::from(done + 1)) as u32);
                        let Ok(found) = seq.as_stitched(Step(done), at, beads, None) else {
                            continue;
                        };
                        match found.after == done {
                            true => record.play(&found.made, found.step),
                            false => record.restate(found.after, &found.made, found.step),
                        }
                        seq = found.sequence;
                    }
                    3 => {
                        let corners = seq.law_ahead(Step(done)).unwrap_or(vec![beads.min(2)]);
                        let rounds = 1 + (at * 4.0) as u32;
                        let Ok(law) = seq.by_law(Step(done), &corners, rounds) else { continue };
                        let Ok(amended) = seq.amended(Step(done), &law) else { continue };
                        record.amend(law);
                        seq = amended;
                    }
                    _ => {
                        let offered = seq.amendments(Step(done));
                        let own = |a: &&Amendment| {
                            matches!(a, Amendment::Ease { .. } | Amendment::Rounds { .. })
                        };
                        let offered: Vec<&Amendment> = offered.iter().filter(own).collect();
                        let nth = (at * offered.len() as f64) as usize;
                        let Some(change) = offered.get(nth) else { continue };
                        let Ok(amended) = seq.amended(Step(done), change) else { continue };
                        record.amend(Amendment::clone(change));
                        seq = amended;
                    }
                }
                assert_proved(&seq);
                assert_comes_back(&project, &record, &seq);
                if was != record {
                    before.push(was);
                }
            }
            while let Some(was) = before.pop() {
                while record != was {
                    prop_assert!(record.undo().is_some());
                }
            }
            prop_assert_eq!(record, Record::default());
        }
    }
}
