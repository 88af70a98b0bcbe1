//! Rounds that a maker works differently from the pattern.
//!
//! A gap holds a bead too many or too few, and the later rounds are worked over
//! it: plainly, a bead in each gap, until a decrease or an increase at that
//! place makes the round as planned again.
//!
//! ```text
//! as planned      o   o   o   o          two in the third gap
//! round 5           o   o   oo
//! round 6         o   o   o  x  o        the gap inside the pair takes one
//! round 7           o   o  (x) o         x drawn over: the round is right again
//! ```
//!
//! Each bead stands for a bead of the planned panel, or is an extra one.
//! So corners, sides and colours are known all the way.

use super::strip::is_worked_back;
use super::{Begin, Corner, GapWord, Making, Panel, PanelLayout, Round, Side, WorkDirection};
use serde::{Deserialize, Serialize};
use std::collections::HashMap;

/// The most beads that a gap takes.
pub const MOST_IN_A_GAP: u8 = 4;

/// A gap that holds other than the pattern says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct GapChange {
    /// The round that is made.
    pub round: Round,
    /// The gap, from 0 at the bead that the needle leaves before the round. Of
    /// the first round, strung before anything was worked on it or worked on a rim,
    /// the planned bead, from 0 at the first.
    pub gap: u32,
    /// The beads in it, 0 to [`MOST_IN_A_GAP`].
    pub beads: u8,
}

/// The most join beads that a gap of a row takes.
pub const MOST_JOIN_BEADS: u8 = 2;

/// A gap of a join row, or of the rim of a fill, that differs from the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RowGap {
    /// The panel that carries the row; or the fill.
    pub panel: Panel,
    /// The side that the row lies on; or the side of the fill.
    pub side: Side,
    /// The gap, from 0 at the start of the side.
    pub gap: u32,
    /// The beads in it, 0 to [`MOST_JOIN_BEADS`].
    pub beads: u8,
}

impl RowGap {
    /// The gaps of a side that hold these beads, from its start.
    pub(super) fn along(
        (panel, side): Corner,
        beads: impl IntoIterator<Item = u8>,
    ) -> impl Iterator<Item = RowGap> {
        let gaps = (0..).zip(beads);
        gaps.map(move |(gap, beads)| RowGap {
            panel,
            side,
            gap,
            beads,
        })
    }
}

/// A panel made gap by gap, of which it is known where its sides lie.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnRounds {
    /// Beads in round 1.
    pub ring: u32,
    /// The words of round 2 and on, as the layout indexes its beads.
    pub words: Vec<GapWord>,
    /// Where the sides lie, for each round from 1 on.
    pub sides: Vec<RoundSides>,
}

/// Where the sides of a round lie.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoundSides {
    /// Index of the first bead of side 0.
    pub first: u32,
    /// Beads of each side, side 0 first. A corner bead ends its side; of a
    /// pair each half counts to its own.
    pub lengths: Vec<u32>,
    /// Beads at each corner; 0 if they are not where they were planned.
    pub corner: u8,
}

/// Why a panel cannot have a gap changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BadGap {
    /// The round is not worked.
    NoSuchRound,
    /// The round has only this many gaps.
    NoSuchGap(u32),
    /// At a corner of an opening the first round has a bead.
    BeadNeeded,
    /// A ring has three beads at least.
    SmallRing,
}

impl OwnRounds {
    /// The rounds of a panel that grows like `base`, with other beads in some
    /// gaps; `open` rounds in its middle are not worked.
    ///
    /// # Errors
    /// Which change cannot be worked, from 0, and why.
    pub fn with_gaps(
        base: &PanelLayout,
        begin: Begin,
        open: u32,
        changes: &[GapChange],
    ) -> Result<OwnRounds, (usize, BadGap)> {
        let Worked { rounds, origins } = Worked::over(base, begin, changes);
        let (first, start) = first_round(base, begin);
        let bad = |change: &GapChange| {
            if !(open + 1..=base.rounds()).contains(&change.round.0) {
                return Some(BadGap::NoSuchRound);
            }
            let gaps = match (change.round == first, begin.way()) {
                (true, _) => base.in_round(first),
                (false, WorkDirection::Outward) => {
                    origins[change.round.0 as usize - 2].len() as u32
                }
                (false, WorkDirection::Inward) => origins[change.round.0 as usize].len() as u32,
            };
            if change.gap >= gaps {
                return Some(BadGap::NoSuchGap(gaps));
            }
            let is_at_corner = || {
                let at = base.place(first, (start + change.gap) % gaps);
                at.place == 0 || at.place + 1 == at.of
            };
            let is_on_rim = begin == Begin::Rim && change.round == first;
            (is_on_rim && change.beads == 0 && is_at_corner()).then_some(BadGap::BeadNeeded)
        };
        let mut each = changes.iter().enumerate();
        if let Some(found) = each.find_map(|(nth, change)| Some((nth, bad(change)?))) {
            return Err(found);
        }
        match begin == Begin::Ring && rounds.ring < 3 {
            true => Err((0, BadGap::SmallRing)),
            false => Ok(rounds),
        }
    }
}

impl RoundSides {
    /// The beads of a round shared out evenly, its corners unknown.
    pub fn shared(beads: u32, sides: u8) -> RoundSides {
        let n = u32::from(sides);
        let start = |s: u32| (s * beads).div_ceil(n);
        RoundSides {
            first: 0,
            lengths: (0..n).map(|s| start(s + 1) - start(s)).collect(),
            corner: 0,
        }
    }
}

/// For each bead of a round, the bead of the planned round that it replaces;
/// `None` for an extra bead.
pub(super) type Origins = Vec<Option<u32>>;

/// Rounds as they are worked over changed gaps.
#[derive(Debug)]
pub(super) struct Worked {
    pub rounds: OwnRounds,
    /// For each round from 1 on, in the order of the layout.
    pub origins: Vec<Origins>,
}

/// A round in the order in which it is worked.
#[derive(Clone, Debug)]
struct WorkedRound {
    round: Round,
    /// What its beads stand for, from the one that the needle leaves when the
    /// round is whole.
    origins: Origins,
    /// Beads of the next round in the gap behind each; empty for the last.
    gaps: Vec<u8>,
}

/// A gap and what may go into it.
#[derive(Clone, Debug)]
pub(super) struct OpenGap {
    /// Beads that it takes by default.
    pub plain: u8,
    /// The beads of the planned round that belong there.
    planned: Vec<u32>,
    /// Beads that it takes to make the round as planned.
    pub lawful: u8,
}

impl Worked {
    /// The rounds of a panel planned as `base`, with changes.
    pub fn over(base: &PanelLayout, begin: Begin, changes: &[GapChange]) -> Worked {
        if base.strip().is_some() {
            return work_rows(base, changes, base.last());
        }
        let made = work_rounds(base, begin, changes, base.last().0);
        match begin.way() {
            WorkDirection::Outward => lay_out(base, made),
            WorkDirection::Inward => lay_out_inward(base, made),
        }
    }
}

/// The gaps of the round that is worked on `on`, with the changes of the
/// rounds before it; gap 0 first.
pub(super) fn open_gaps(
    base: &PanelLayout,
    begin: Begin,
    changes: &[GapChange],
    makes: Round,
) -> Vec<OpenGap> {
    let last = base.last().0;
    if base.strip().is_some() {
        let worked = work_rows(base, changes, Round(makes.0 - 1));
        let on = worked.origins.last();
        return on.map_or(vec![], |on| row_gaps(base, makes, on));
    }
    let (on, rounds) = match begin.way() {
        WorkDirection::Outward => (makes.0 - 1, makes.0 - 1),
        WorkDirection::Inward => (makes.0 + 1, last.saturating_sub(makes.0)),
    };
    let made = work_rounds(base, begin, changes, rounds.min(last));
    let on = made.iter().find(|made| made.round.0 == on);
    on.map_or(vec![], |on| gaps_of(base, begin, on))
}

/// The round that is made first, and the index of its first bead.
fn first_round(base: &PanelLayout, begin: Begin) -> (Round, u32) {
    match begin.way() {
        WorkDirection::Outward => (Round(1), 0),
        WorkDirection::Inward => (base.last(), base.index(base.last(), Side(0), 0)),
    }
}

/// The beads that changes ask for in the gaps of a round; the last one of two counts.
fn asked(changes: &[GapChange], makes: Round) -> HashMap<u32, u8> {
    let of_round = changes.iter().filter(|change| change.round == makes);
    of_round
        .map(|change| (change.gap, change.beads.min(MOST_IN_A_GAP)))
        .collect()
}

/// Works the first `rounds` rounds.
fn work_rounds(
    base: &PanelLayout,
    begin: Begin,
    changes: &[GapChange],
    rounds: u32,
) -> Vec<WorkedRound> {
    let (first, start) = first_round(base, begin);
    let beads = base.in_round(first);
    let asked = asked(changes, first);
    let strung = |nth: u32| {
        let strung = usize::from(*asked.get(&nth).unwrap_or(&1));
        let stands = Some((start + nth) % beads);
        let more = std::iter::repeat_n(None, strung.saturating_sub(1));
        std::iter::repeat_n(stands, strung.min(1)).chain(more)
    };
    let mut origins: Origins = (0..beads).flat_map(strung).collect();
    if origins.is_empty() {
        origins.push(Some(start));
    }
    let mut made = vec![WorkedRound {
        round: first,
        origins,
        gaps: vec![],
    }];
    for _ in 1..rounds {
        let next = made.last_mut().map(|on| work(base, begin, on, changes));
        made.extend(next);
    }
    made
}

/// The beads in each gap of a round: what a change asks for, or its default.
fn fill_gaps(open: &[OpenGap], changes: &[GapChange], makes: Round) -> Vec<u8> {
    let asked = asked(changes, makes);
    let in_gap = |(gap, open): (u32, &OpenGap)| *asked.get(&gap).unwrap_or(&open.plain);
    (0..).zip(open).map(in_gap).collect()
}

/// Works the next round: fills the gaps of `on`, and gives what comes of it.
fn work(
    base: &PanelLayout,
    begin: Begin,
    on: &mut WorkedRound,
    changes: &[GapChange],
) -> WorkedRound {
    let way = begin.way();
    let makes = way.next(on.round);
    let open = gaps_of(base, begin, on);
    let mut gaps = fill_gaps(&open, changes, makes);
    if gaps.iter().all(|&beads| beads == 0) {
        gaps[0] = 1;
    }
    let filled = open.iter().zip(&gaps);
    let mut origins: Origins = filled
        .flat_map(|(gap, &beads)| gap.stand_for(base, way, makes, beads))
        .collect();
    if origins.iter().all(Option::is_none) {
        origins[0] = Some(0);
    }
    on.gaps = gaps;
    WorkedRound {
        round: makes,
        origins,
        gaps: vec![],
    }
}

/// Works the rows of a strip as far as one: the first two, which are strung
/// together, are as planned.
fn work_rows(base: &PanelLayout, changes: &[GapChange], last: Round) -> Worked {
    let beads = base.in_round(Round(1));
    let mut origins: Vec<Origins> = vec![(0..beads).map(Some).collect(); 2];
    let mut words = vec![];
    for makes in (3..=last.0).map(Round) {
        let open = row_gaps(base, makes, &origins[makes.0 as usize - 2]);
        let mut gaps = fill_gaps(&open, changes, makes);
        // At the edge the needle turns round a bead.
        gaps[0] = gaps[0].max(1);
        let filled = open.iter().zip(&gaps);
        let mut made: Origins = filled
            .flat_map(|(gap, &beads)| gap.stand_for_in_a_row(beads))
            .collect();
        words.push(GapWord::new(gaps));
        if is_worked_back(makes) {
            made.reverse();
        }
        origins.push(made);
    }
    let rounds = OwnRounds {
        ring: beads,
        words,
        sides: vec![],
    };
    Worked { rounds, origins }
}

/// The beads of a row of a strip in the order in which work on row `makes` passes
/// them.
pub(super) fn as_passed(row: &Origins, makes: Round) -> Origins {
    let mut row = row.clone();
    if is_worked_back(makes) {
        row.reverse();
    }
    row
}

/// The gaps of a row that is worked on another, in the order in which the needle
/// comes to them: each lies before a bead of that one.
fn row_gaps(base: &PanelLayout, makes: Round, on: &Origins) -> Vec<OpenGap> {
    let (old, beads) = (base.in_round(Round(makes.0 - 1)), base.in_round(makes));
    let is_back = is_worked_back(makes);
    let turned = |at: u32, of: u32| if is_back { of - 1 - at } else { at };
    let word = base.word(makes);
    let before = |gap| word.beads_before(gap);
    let mut passed = as_passed(on, makes);
    // At the edge the needle turns round a bead, so that the gap there stays.
    if let Some(first) = passed.iter().position(Option::is_some) {
        passed[..=first].rotate_right(1);
    }
    let last = passed.iter().rposition(Option::is_some);
    let mut from = 0;
    let gap = |(nth, origin): (usize, &Option<u32>)| {
        let to = match origin {
            Some(_) if Some(nth) == last => old,
            Some(at) => turned(*at, old) + 1,
            None => from,
        };
        let (first, missing) = (from, to.saturating_sub(from + 1));
        from = to.max(from);
        let planned = before(first)..before(from);
        let planned: Vec<u32> = planned.map(|nth| turned(nth, beads)).collect();
        let most = |beads: usize| beads.min(MOST_IN_A_GAP.into()) as u8;
        OpenGap {
            plain: match from > first {
                true => most(planned.len().saturating_sub(missing as usize)),
                false => 1,
            },
            lawful: most(planned.len()),
            planned,
        }
    };
    passed.iter().enumerate().map(gap).collect()
}

/// The beads of the planned round behind bead `at` of the round it is worked
/// on: the first of them, and how many.
fn planned_behind(base: &PanelLayout, way: WorkDirection, on: Round, at: u32) -> (u32, u32) {
    match way {
        WorkDirection::Outward => {
            let (each, before) = base.word(Round(on.0 + 1)).gap_and_before(at);
            (before, each.into())
        }
        WorkDirection::Inward => {
            let word = base.word(on);
            let inner = base.in_round(Round(on.0 - 1));
            let next = (at + 1) % base.in_round(on);
            let (gap, past) = (word.gap_of(at), word.gap_of(next));
            ((gap + 1) % inner, (past + inner - gap) % inner)
        }
    }
}

fn gaps_of(base: &PanelLayout, begin: Begin, on: &WorkedRound) -> Vec<OpenGap> {
    let way = begin.way();
    let beads = base.in_round(on.round);
    let inner = base.in_round(way.next(on.round));
    let all = on.origins.len();
    // The next bead that stands for one, behind each.
    let mut next = on.origins.iter().find_map(|o| *o).unwrap_or(0);
    let mut gaps: Vec<OpenGap> = Vec::with_capacity(all);
    for origin in on.origins.iter().rev() {
        let Some(at) = *origin else {
            gaps.push(OpenGap {
                plain: 1,
                planned: vec![],
                lawful: 0,
            });
            continue;
        };
        let many = match (next + beads - at) % beads {
            0 => beads,
            many => many,
        };
        let covered = (0..many).map(|i| planned_behind(base, way, on.round, (at + i) % beads));
        let planned: Vec<u32> = covered
            .flat_map(|(first, each)| (0..each).map(move |i| (first + i) % inner))
            .collect();
        let lawful = planned.len().min(MOST_IN_A_GAP.into());
        let missing = (many - 1) as usize;
        gaps.push(OpenGap {
            plain: lawful.saturating_sub(missing) as u8,
            planned,
            lawful: lawful as u8,
        });
        next = at;
    }
    gaps.reverse();
    if begin == Begin::FreeStart && on.round == base.last() {
        string_gaps(&mut gaps, &on.origins);
    }
    // A round has a bead, and where it goes does not depend on later gaps.
    if gaps.iter().all(|gap| gap.plain == 0) {
        gaps[0].plain = 1;
    }
    gaps
}

/// Two rounds that are strung together hold all their beads, whichever of the
/// other round is doubled or left out. A bead that is doubled lies beside its
/// double, but for the first, with which the string begins.
fn string_gaps(gaps: &mut [OpenGap], origins: &[Option<u32>]) {
    let mut at = 0;
    while at < gaps.len() {
        let more = origins[at + 1..].iter().take_while(|o| o.is_none()).count();
        if at > 0 {
            gaps[at..=at + more].rotate_left(1);
        }
        at += 1 + more;
    }
    for gap in gaps {
        gap.plain = gap.lawful;
    }
}

impl OpenGap {
    /// What the beads in the gap of a row stand for, by their number: one more
    /// is strung first.
    fn stand_for_in_a_row(&self, beads: u8) -> Origins {
        let beads = usize::from(beads);
        let more = beads.saturating_sub(self.planned.len());
        let kept = self.planned.len().min(beads);
        let planned = self.planned[..kept].iter().copied().map(Some);
        std::iter::repeat_n(None, more).chain(planned).collect()
    }

    /// The planned beads that so many beads in the gap replace. Fewer than
    /// planned leave out beads of sides before those of corners.
    fn stand_for(
        &self,
        base: &PanelLayout,
        way: WorkDirection,
        makes: Round,
        beads: u8,
    ) -> Origins {
        let mut left = self.planned.clone();
        let corner = |at: &u32| {
            let place = base.place(makes, *at);
            let corner = base.corner(makes);
            let ends = place.place + 1 == place.of;
            way == WorkDirection::Outward && (corner > 0 && ends || corner == 2 && place.place == 0)
        };
        while left.len() > usize::from(beads) {
            let side = left.iter().rposition(|at| !corner(at));
            left.remove(side.unwrap_or(left.len() - 1));
        }
        let more = usize::from(beads) - left.len();
        let planned = left.into_iter().map(Some);
        planned.chain(std::iter::repeat_n(None, more)).collect()
    }
}

/// Lays out rounds worked outward: they are indexed as they are strung.
fn lay_out(base: &PanelLayout, made: Vec<WorkedRound>) -> Worked {
    let ring = made[0].origins.len() as u32;
    let worked_on = made[..made.len() - 1].iter();
    let words = worked_on.map(|made| GapWord::new(made.gaps.iter().copied()));
    finish(base, ring, words.collect(), made)
}

/// Lays out rounds worked inward. Index 0 of a round is the bead that outward
/// work would string first on the round inside it.
fn lay_out_inward(base: &PanelLayout, made: Vec<WorkedRound>) -> Worked {
    let mut rounds: Vec<WorkedRound> = made;
    rounds.reverse();
    // The round of one bead a side begins where it was planned to.
    let inmost = &mut rounds[0];
    let zero = inmost.origins.iter().position(|o| *o == Some(0));
    let mut turn = zero.unwrap_or(0);
    inmost.origins.rotate_left(turn);
    let mut words = vec![];
    for at in 1..rounds.len() {
        let inner = rounds[at - 1].origins.len();
        let outer = &mut rounds[at];
        // In working order: for each inner bead the outer bead before it.
        let before: Vec<usize> = (0..outer.gaps.len())
            .flat_map(|j| std::iter::repeat_n(j, outer.gaps[j].into()))
            .collect();
        let all = outer.origins.len();
        let word = (0..inner).map(|i| {
            let (a, b) = (before[(turn + i) % inner], before[(turn + i + 1) % inner]);
            ((b + all - a) % all) as u8
        });
        let mut word: Vec<u8> = word.collect();
        // All in one gap: round again to it.
        if word.iter().all(|&beads| beads == 0) {
            word[inner - 1] = all as u8;
        }
        words.push(GapWord::new(word));
        turn = (before[turn % inner] + 1) % all;
        outer.origins.rotate_left(turn);
    }
    let ring = rounds[0].origins.len() as u32;
    finish(base, ring, words, rounds)
}

fn finish(base: &PanelLayout, ring: u32, words: Vec<GapWord>, made: Vec<WorkedRound>) -> Worked {
    let origins: Vec<Origins> = made.into_iter().map(|made| made.origins).collect();
    let rounds = (1..).map(Round).zip(&origins);
    let sides = rounds.map(|(k, origins)| sides_of(base, k, origins));
    Worked {
        rounds: OwnRounds {
            ring,
            words,
            sides: sides.collect(),
        },
        origins,
    }
}

/// For each bead, the bead of the planned round whose side and colour it has;
/// an extra bead has those of the bead before it.
pub(super) fn likes(origins: &Origins) -> Vec<u32> {
    let mut like = origins.iter().rev().find_map(|o| *o).unwrap_or(0);
    let likes = origins.iter().map(|origin| {
        like = origin.unwrap_or(like);
        like
    });
    likes.collect()
}

fn sides_of(base: &PanelLayout, round: Round, origins: &Origins) -> RoundSides {
    let sides = base.sides();
    let likes = likes(origins);
    let side = |at: &u32| base.side(round, *at);
    let mut lengths = vec![0; usize::from(sides)];
    for at in &likes {
        lengths[side(at).index()] += 1;
    }
    // Sides come in order, so the first bead of a side has another side's
    // before it.
    let before = |i: usize| side(&likes[(i + likes.len() - 1) % likes.len()]);
    let starts = |s: u8| (0..likes.len()).find(|&i| side(&likes[i]).0 == s && before(i).0 != s);
    let first = (0..sides).find_map(starts).unwrap_or(0);
    let corner = base.corner(round);
    let is_there = |s: u8| {
        let of = base.on_side(round, Side(s));
        let end = base.index(round, Side(s), of.saturating_sub(1));
        let at = origins.iter().position(|o| *o == Some(end));
        let next = base.index(round, base.next_side(Side(s)), 0);
        let behind = |at: usize| origins[(at + 1) % origins.len()];
        at.is_some_and(|at| match corner {
            2 => behind(at) == Some(next),
            _ => behind(at).is_some(),
        })
    };
    RoundSides {
        first: first as u32,
        lengths,
        corner: match corner > 0 && (0..sides).all(is_there) {
            true => corner,
            false => 0,
        },
    }
}

/// Whether a round of a panel begun so can have gaps of its own: it is worked
/// on another round, row or rim, or strung and closed to a ring.
pub(super) fn can_change(layout: &PanelLayout, making: &Making, round: Round) -> bool {
    let first = match making.begin {
        Begin::TwoRows => 3,
        _ => making.innermost().0,
    };
    (first..=layout.rounds()).contains(&round.0)
}

/// Where in the order of the round that is made first its beads lie: for each
/// the bead of the planned round that it replaces, from 0 at the first.
pub(super) fn first_round_made(base: &PanelLayout, begin: Begin, changes: &[GapChange]) -> Origins {
    let (first, start) = first_round(base, begin);
    let beads = base.in_round(first);
    let made = work_rounds(base, begin, changes, 1).swap_remove(0);
    let nth = |at: u32| (at + beads - start) % beads;
    made.origins.into_iter().map(|at| at.map(nth)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;
    use proptest::prelude::*;

    proptest! {
        /// Gap by gap, as at the needle: what is in a gap stays, whatever goes
        /// into the gaps after it.
        #[test]
        fn a_gap_keeps_its_beads_whatever_the_later_gaps_hold(
            sides in 3..6_u8,
            choices in proptest::collection::vec(0..7_u8, 60),
        ) {
            let base = PanelLayout::new(&testing::panel(sides, 9));
            let mut choices = choices.into_iter();
            let mut changes: Vec<GapChange> = vec![];
            for round in 2..=9 {
                let mut sewn: Vec<u8> = vec![];
                while sewn.len() < open_gaps(&base, Begin::Ring, &changes, Round(round)).len() {
                    let gap = sewn.len() as u32;
                    let open = &open_gaps(&base, Begin::Ring, &changes, Round(round))[sewn.len()];
                    // As planned more often than not; a round has a bead.
                    let beads = match choices.next() {
                        None => return Ok(()),
                        Some(beads @ 0..3) if beads > 0 || sewn.iter().any(|&b| b > 0) => {
                            changes.push(GapChange { round: Round(round), gap, beads });
                            beads
                        }
                        Some(_) => open.plain,
                    };
                    sewn.push(beads);
                    let made = work_rounds(&base, Begin::Ring, &changes, round);
                    let now = &made[round as usize - 2].gaps;
                    prop_assert_eq!(&now[..sewn.len()], &sewn[..], "round {}", round);
                }
            }
        }
    }
}
