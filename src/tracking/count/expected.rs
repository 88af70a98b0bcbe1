//! What can be counted, and how many beads there should be.

use crate::beadwork::job::JobKind;
use crate::beadwork::layout::Part;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::stage::Zip;
use crate::beadwork::{Job, Panel, Round, Sequence, Side, Step};

/// What is counted: a round of the panel that a job works on, or one side of
/// it. The round after a panel's last is its join rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CountQuestion {
    /// The job.
    pub job: Job,
    /// The round.
    pub round: Round,
    /// The side, or the whole round.
    pub side: Option<Side>,
}

impl CountQuestion {
    /// What can be counted of the round that a movement works on.
    pub fn of(seq: &Sequence, m: &Movement) -> Option<CountQuestion> {
        let last = seq.layout().kind(seq.job(m.job).panel()).last();
        let (round, side) = match m.kind {
            Kind::Zip => (Round(last.0 + 1), m.side),
            // A row is counted by itself.
            _ => (m.round?, m.side.filter(|_| m.round > Some(last))),
        };
        let job = m.job;
        Some(CountQuestion { job, round, side })
    }

    /// Whether it is about the teeth of a zip.
    pub fn is_of_a_zip(&self, seq: &Sequence) -> bool {
        seq.job(self.job).kind.is_zip()
    }
}

/// The first and the last round that can be counted of a job. A zip and a join
/// row have only the round after the panel's last: the rest lies there already.
pub fn rounds(seq: &Sequence, job: Job) -> (Round, Round) {
    let (layout, info) = (seq.layout(), seq.job(job));
    let kind = layout.kind(info.panel());
    let first = match is_after_the_last(&info.kind) {
        true => Round(kind.last().0 + 1),
        false => layout.making(info.panel()).innermost(),
    };
    (first, Round(kind.rounds() + 1))
}

/// The round of a job that has only one: the teeth of a zip, or a join row.
pub fn only_round(seq: &Sequence, job: Job) -> Option<Round> {
    is_after_the_last(&seq.job(job).kind).then(|| rounds(seq, job).0)
}

fn is_after_the_last(job: &JobKind) -> bool {
    job.is_zip() || matches!(job, JobKind::JoinRow { .. })
}

/// Beads on each side of a finished round; for a zip, the teeth of each side
/// that it locks, and for a join row the beads of the sides that it is worked on.
/// `None` if the job's panel has no such round.
pub fn per_side(seq: &Sequence, job: Job, round: Round) -> Option<Vec<u32>> {
    let info = seq.jobs().get(job.index())?;
    let panel = info.panel();
    let (layout, kind) = (seq.layout(), seq.layout().kind(panel));
    let sides = (0..kind.sides()).map(Side);
    if round > kind.last() {
        if round.0 > kind.rounds() + 1 {
            return None;
        }
        if let JobKind::SetInMiddle { .. } = info.kind {
            return Some(sides.map(|side| kind.on_side(kind.last(), side)).collect());
        }
        let row = |side| match &info.kind {
            kind if kind.is_zip() => {
                let join = kind.joins().iter().find(|join| join.side == side);
                let zip = join.and_then(|join| Zip::of(layout, panel, join, true));
                zip.map(|zip| zip.teeth(layout))
            }
            JobKind::JoinRow { sides, .. } if !sides.contains(&side) => None,
            _ => {
                let row = layout.row_on(panel, side).map(|row| layout.row(row));
                row.map(|row| row.beads + row.tips)
            }
        };
        return Some(sides.map(|side| row(side).unwrap_or(0)).collect());
    }
    if round < layout.making(panel).innermost() {
        return None;
    }
    Some(sides.map(|s| kind.on_side(round, s)).collect())
}

/// The beads of a round, side by side. While the string of a panel is being
/// strung, the beads of the string.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BeadsInRound {
    /// Beads in place; for a zip, teeth locked.
    pub there: Vec<u32>,
    /// Beads of the finished round.
    pub whole: Vec<u32>,
}

impl BeadsInRound {
    /// The beads of a round after the step `done`; without a step, all are in
    /// place. `None` if the job works on no such round.
    pub fn at(seq: &Sequence, job: Job, round: Round, done: Option<Step>) -> Option<BeadsInRound> {
        let panel = seq.jobs().get(job.index())?.panel();
        let rounds = match done {
            Some(done) if is_stringing(seq, job, round, done) => {
                let layout = seq.layout();
                layout.making(panel).strung_rounds(layout.kind(panel))
            }
            _ => round.0..round.0 + 1,
        };
        let mut all: Option<BeadsInRound> = None;
        for round in rounds.map(Round) {
            let whole = per_side(seq, job, round)?;
            let there = match done {
                Some(done) => in_place(seq, job, round, done, &whole),
                None => whole.clone(),
            };
            let more = BeadsInRound { there, whole };
            match &mut all {
                Some(all) => all.add(&more),
                None => all = Some(more),
            }
        }
        all
    }

    fn add(&mut self, more: &BeadsInRound) {
        let each = self.there.iter_mut().zip(&more.there);
        let each = each.chain(self.whole.iter_mut().zip(&more.whole));
        each.for_each(|(beads, more)| *beads += more);
    }

    /// Beads in place and beads of the finished round, of a side or of all
    /// sides.
    pub fn of(&self, side: Option<Side>) -> Option<(u32, u32)> {
        match side {
            Some(side) => {
                let there = self.there.get(side.index())?;
                Some((*there, self.whole[side.index()]))
            }
            None => Some((self.there.iter().sum(), self.whole.iter().sum())),
        }
    }

    /// What a count should be: the beads in place, or all beads if none is in
    /// place.
    pub(super) fn due(&self) -> &[u32] {
        match self.there.iter().all(|&n| n == 0) {
            true => &self.whole,
            false => &self.there,
        }
    }
}

/// Whether the string that a panel begins with is being strung, and the round
/// is part of it.
pub(super) fn is_stringing(seq: &Sequence, job: Job, round: Round, done: Step) -> bool {
    let layout = seq.layout();
    let panel = seq.job(job).panel();
    let making = layout.making(panel);
    let m = seq.step(done);
    m.is_some_and(|m| m.job == job && m.kind == Kind::Ring)
        && making.in_string(layout.kind(panel), round)
        && making.strung_rounds(layout.kind(panel)).len() > 1
}

/// Beads of a round in place after a step.
fn in_place(seq: &Sequence, job: Job, round: Round, done: Step, whole: &[u32]) -> Vec<u32> {
    let (layout, info) = (seq.layout(), seq.job(job));
    let (panel, strung) = (info.panel(), seq.strung_after(done));
    let kind = layout.kind(panel);
    let on_side = |(side, &all): (Side, &u32)| -> u32 {
        if round <= kind.last() {
            let index = |place| kind.index(round, side, place);
            let there = |place: &u32| layout.bead(panel, round, index(*place)).0 <= strung;
            return (0..all).filter(there).count() as u32;
        }
        if info.kind.is_zip() {
            let zipped = seq.iter_from(Step(info.steps_before + 1));
            let zipped = zipped.take_while(|m| m.step <= done && m.job == job);
            let zipped = zipped.filter(|m| m.kind == Kind::Zip && m.side == Some(side));
            return zipped.count() as u32;
        }
        let row = layout.row_on(panel, side);
        row.map_or(0, |row| {
            (strung + 1)
                .saturating_sub(layout.row_bead(row, 0).0)
                .min(all)
        })
    };
    (0..).map(Side).zip(whole).map(on_side).collect()
}

/// The question to ask when the maker wants to count: the one of [`due`], or
/// else the round worked on last.
pub fn current_question(seq: &Sequence, done: Step) -> Option<CountQuestion> {
    let near = (1..=done.0).rev().take(NEAR).chain([done.0 + 1]);
    let mut near = near.filter_map(|n| seq.step(Step(n)));
    due(seq, done).or_else(|| near.find_map(|m| CountQuestion::of(seq, &m)))
}

/// How many movements are searched for the last one that worked on a round.
const NEAR: usize = 60;

/// Beads of the round that a movement works on: in place before it, and when
/// finished. `None` if it works on nothing that can be counted.
pub fn before(seq: &Sequence, m: &Movement) -> Option<(u32, u32)> {
    let q = CountQuestion::of(seq, m).filter(|_| m.round_target > 0)?;
    let beads = BeadsInRound::at(seq, q.job, q.round, Some(m.step))?;
    let (there, whole) = beads.of(q.side)?;
    let adds = match m.kind {
        Kind::Zip => 1,
        _ => m.strings.len() as u32,
    };
    Some((there.saturating_sub(adds), whole))
}

/// The count to suggest after a step: at a corner, the side that ends there;
/// after a round, the round.
pub fn due(seq: &Sequence, done: Step) -> Option<CountQuestion> {
    let m = seq.step(done)?;
    if m.kind == Kind::Zip && m.round_beads == m.round_target {
        return CountQuestion::of(seq, &m);
    }
    let round = m.round?;
    let ask = |side| {
        let job = m.job;
        Some(CountQuestion { job, round, side })
    };
    match m.kind {
        Kind::StepUp | Kind::StepDown => ask(None),
        // The ring is closed, which ends the round.
        Kind::Ring if m.strings.is_empty() => ask(None),
        Kind::Decrease => {
            let side = m.side?;
            is_whole(seq, panel_of(seq, &m), round, side, m.step).then_some(())?;
            ask(Some(side))
        }
        Kind::Stitch | Kind::Increase => {
            let side = side_just_ended(seq, &m)?;
            let next = seq.step(Step(done.0 + 1));
            // A corner without a bead follows: the side is counted after it.
            let corner_follows = next.is_some_and(|n| n.kind == Kind::Decrease);
            // The whole round is counted after the next step.
            let round_ends = m.round_beads == m.round_target && is_face(seq, &m);
            // A row of a strip ends with its last stitch.
            let turns = seq.layout().making(panel_of(seq, &m)).steps_up();
            if round_ends && !turns {
                return ask(None);
            }
            if corner_follows || round_ends {
                return None;
            }
            ask(Some(side))
        }
        _ => None,
    }
}

fn is_face(seq: &Sequence, m: &Movement) -> bool {
    let first = m.strings.first().map(|&b| seq.layout().seat(b).part);
    first == Some(Part::Face)
}

fn panel_of(seq: &Sequence, m: &Movement) -> Panel {
    match m.strings.first().or(m.passes.first()) {
        Some(&bead) => seq.layout().panel_of(bead),
        None => seq.job(m.job).panel(),
    }
}

/// The side that a movement completes.
fn side_just_ended(seq: &Sequence, m: &Movement) -> Option<Side> {
    let layout = seq.layout();
    m.strings.iter().find_map(|&bead| {
        let seat = layout.seat(bead);
        let ended = match seat.part {
            // Rows are strung place by place.
            Part::JoinRow(row) => seat.place + 1 == seat.of && layout.row(row).tips == 0,
            Part::Tip(_) => seat.place + 1 == seat.of,
            Part::Face => {
                is_whole(seq, seat.panel, seat.round, seat.side, m.step)
                    && !is_whole(seq, seat.panel, seat.round, seat.side, Step(m.step.0 - 1))
            }
        };
        ended.then_some(seat.side)
    })
}

/// Whether every bead of a side is in place after a step.
fn is_whole(seq: &Sequence, panel: Panel, round: Round, side: Side, done: Step) -> bool {
    let layout = seq.layout();
    let kind = layout.kind(panel);
    if round > kind.last() {
        return true;
    }
    let strung = seq.strung_after(done);
    let of = kind.on_side(round, side);
    let at = |place| layout.bead(panel, round, kind.index(round, side, place));
    // Bead numbers rise along a side. If the round begins in the middle of it,
    // they drop once, and the bead before the drop is the round's last.
    let begins = kind.place(round, layout.making(panel).start(round));
    let last = match begins.side == side && begins.place > 0 {
        true => at(begins.place - 1),
        false => at(of.saturating_sub(1)),
    };
    of > 0 && last.0 <= strung && at(of - 1).0 <= strung && at(0).0 <= strung
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::{Closing, Solid, testing};

    /// Rows that one job works on a side of a panel and another on the next are
    /// counted each by itself.
    #[test]
    fn a_join_row_is_counted_without_those_of_other_jobs() {
        let seq = Sequence::new(testing::solid(Solid::Icosahedron, 4, Closing::SetIn));
        let jobs = (0..).map(Job).zip(seq.jobs());
        let rows = jobs.filter_map(|(job, info)| match &info.kind {
            JobKind::JoinRow { panel, sides, .. } => Some((job, panel, sides)),
            _ => None,
        });
        let mut jobs_of_a_panel = std::collections::BTreeMap::new();
        for (job, panel, sides) in rows {
            let round = only_round(&seq, job).unwrap();
            // Three join beads lie in the gaps of four up beads.
            let each = (0..3).map(|side| 3 * u32::from(sides.contains(&Side(side))));
            let each: Vec<u32> = each.collect();
            assert_eq!(per_side(&seq, job, round), Some(each));
            *jobs_of_a_panel.entry(panel).or_insert(0) += 1;
        }
        assert!(jobs_of_a_panel.values().any(|jobs| *jobs > 1));
    }

    fn offers(project: crate::beadwork::Project) -> Vec<(u32, Option<u32>, u32)> {
        let seq = Sequence::new(project);
        (1..=seq.steps())
            .filter_map(|n| Some((n, due(&seq, Step(n))?)))
            .map(|(n, q)| {
                let beads = BeadsInRound::at(&seq, q.job, q.round, Some(Step(n))).unwrap();
                let (there, whole) = beads.of(q.side).unwrap();
                assert_eq!(there, whole, "step {n}");
                (q.round.0, q.side.map(Side::number), there)
            })
            .collect()
    }

    #[test]
    fn outward_each_corner_suggests_the_side_that_ends_there() {
        let offered = offers(testing::single(testing::panel(3, 3)));
        assert_eq!(
            offered,
            [
                (1, None, 3),
                (2, Some(1), 2),
                (2, None, 6),
                (3, Some(1), 3),
                (3, Some(2), 3),
                (3, None, 9)
            ]
        );
    }

    #[test]
    fn inward_a_side_is_counted_when_its_corner_is_drawn_together() {
        let offered = offers(testing::single(testing::inward(3, 4, 0)));
        assert_eq!(
            offered,
            [
                (3, None, 9),
                (2, Some(1), 2),
                (2, Some(2), 2),
                (2, None, 6),
                (1, Some(1), 1),
                (1, Some(2), 1),
                (1, None, 3)
            ]
        );
    }
}
