//! Simulates each mistake at each place of the round, and the count that it
//! gives.

use super::mistake::RoundPlace;
use super::mistake::{CountedRound, Mistake, MistakeOutcome};
use super::odds;
use super::slot::Slot;
use crate::beadwork::round_work::RoundWork;
use crate::beadwork::{Kind, Side, Step};
use std::collections::HashMap;
use std::mem::discriminant;

/// A mistake at a slot: which side's count changes by how much, and its odds
/// for each gap.
struct Slip {
    mistake: Mistake,
    by: [(Side, i32); 2],
    slot: Slot,
    kind_odds: f64,
    part: f64,
}

impl Slip {
    /// Its share of the odds of its kind, in gaps.
    fn parts(&self) -> f64 {
        self.part * f64::from(self.slot.gaps)
    }

    fn place(&self) -> RoundPlace {
        RoundPlace {
            side: self.slot.side,
            corner: self.slot.corner,
            first_gap: self.slot.first,
            gaps: self.slot.gaps,
            steps: (Step(0), Step(0)),
        }
    }
}

impl CountedRound<'_> {
    /// Every single mistake, at each place where it can be made; in an
    /// unfinished round, only at places that are worked already.
    pub fn single_mistakes(&self) -> Vec<MistakeOutcome> {
        let right = self.sides();
        let mut all = match self.is_zip() {
            true => self.teeth_left_open(&right),
            false => self.small_mistakes(&right),
        };
        let n = right.len();
        let mut add = |mistake, sides: Vec<u32>, odds, places| {
            if sides != right {
                all.push(MistakeOutcome {
                    mistake,
                    sides,
                    odds,
                    places: [places, vec![]],
                });
            }
        };
        // An unfinished round has no step-up or step-down yet.
        if let (None, Some(place)) = (self.last_of_unfinished(), self.turn_place()) {
            let mut sides = right.clone();
            sides[place.side.index()] += 1;
            add(Mistake::TurnMissed, sides, odds::TURN_MISSED, vec![place]);
        }
        let is_strung = self.is_being_strung();
        for round in self.neighbours().into_iter().filter(|_| !is_strung) {
            let sides = self.sides_of(round);
            let odds = match self.is_to_come(round) {
                true => odds::ROUND_TO_COME,
                false => odds::OTHER_ROUND,
            };
            add(Mistake::OtherRound(round), sides, odds, vec![]);
        }
        if let Some(under) = self.worked_on().filter(|_| !self.is_zip() && !is_strung) {
            let low = self.sides_of(under);
            let both = right.iter().zip(&low).map(|(&high, &low)| match high {
                0 => 0,
                high => high + low,
            });
            let mistake = Mistake::BothEdges(under);
            add(mistake, both.collect(), odds::BOTH_EDGES, vec![]);
        }
        for turn in (1..n).filter(|_| !self.is_zip()) {
            let turned = (0..n).map(|s| right[(s + turn) % n]).collect();
            let mistake = Mistake::WrongSide(Side(turn as u8));
            add(mistake, turned, odds::WRONG_SIDE, vec![]);
        }
        for (step, sides) in self.other_steps() {
            let presses = self.at.map_or(1, |at| at.0.abs_diff(step.0));
            let odds = odds::OTHER_STEP / f64::from(presses);
            add(Mistake::OtherStep(step), sides, odds, vec![]);
        }
        all
    }

    /// One side counted instead of all round, if a side has that number, in
    /// place or planned. In an unfinished round, a side that only has its half of
    /// a corner pair is none that anybody counts.
    pub(super) fn one_side(&self, counted: u32) -> Option<MistakeOutcome> {
        let beads = self.beads()?;
        let all: u32 = beads.due().iter().sum();
        let here = self.last_of_unfinished().and_then(|m| m.side);
        let is_counted = |side: usize| {
            let is_whole = beads.there[side] == beads.whole[side];
            is_whole || here.is_none_or(|here| here.index() == side)
        };
        let in_place = (0..beads.there.len()).filter(|side| is_counted(*side));
        let in_place = in_place.map(|side| beads.there[side]);
        let mut sides = in_place.chain(beads.whole.iter().copied());
        let is_side = 0 < counted && counted < all && sides.any(|side| side == counted);
        (is_side && !self.is_being_strung()).then(|| MistakeOutcome {
            mistake: Mistake::OneSide,
            sides: vec![counted],
            odds: odds::ONE_SIDE,
            places: [vec![], vec![]],
        })
    }

    /// More or fewer beads on the thread than there should be, if they are being
    /// strung.
    pub(super) fn on_thread(&self, counted: u32, expected: u32) -> Option<MistakeOutcome> {
        let by = i64::from(counted) - i64::from(expected);
        (by != 0 && self.is_being_strung()).then(|| MistakeOutcome {
            mistake: Mistake::OnThread(by),
            sides: vec![counted],
            odds: odds::STRUNG,
            places: [vec![], vec![]],
        })
    }

    /// Two mistakes at once, for a count that no single one explains: two small
    /// ones, or a small one and a mistake in counting.
    pub fn double_mistakes(&self) -> Vec<MistakeOutcome> {
        let right = self.sides();
        let single = self.single_mistakes();
        let (small, large): (Vec<&MistakeOutcome>, Vec<&MistakeOutcome>) =
            single.iter().partition(|o| o.mistake.is_small());
        let mut all = vec![];
        let mut add = |a: &MistakeOutcome, b: &MistakeOutcome| {
            let sides = (0..right.len()).map(|s| {
                let by = i64::from(b.sides[s]) - i64::from(right[s]);
                (i64::from(a.sides[s]) + by).max(0) as u32
            });
            let pair = (Box::new(a.mistake.clone()), Box::new(b.mistake.clone()));
            all.push(MistakeOutcome {
                mistake: Mistake::Two(pair.0, pair.1),
                sides: sides.collect(),
                odds: odds::both(a.odds, b.odds),
                places: [a.places[0].clone(), b.places[0].clone()],
            });
        };
        for (i, a) in small.iter().enumerate() {
            for b in &small[i..] {
                // A single gap can have only one mistake.
                let gaps = |o: &MistakeOutcome| o.places[0].iter().map(|p| p.gaps).sum::<u32>();
                if a.places == b.places && gaps(a) < 2 {
                    continue;
                }
                add(a, b);
            }
            let here = large.iter().filter(|b| b.mistake.other_round().is_none());
            here.for_each(|b| add(a, b));
        }
        // What is wrong in another round that was counted lies there.
        for b in &large {
            if let Some(round) = b.mistake.other_round() {
                let there = CountedRound { round, ..*self };
                for a in there.small_mistakes(&right) {
                    add(&a, b);
                }
            }
        }
        all
    }

    /// The small mistakes in a round of `base` beads on its sides.
    fn small_mistakes(&self, base: &[u32]) -> Vec<MistakeOutcome> {
        let mut slips = vec![];
        let slots = self.slots();
        slots.iter().for_each(|slot| slips_at(*slot, &mut slips));
        // The odds of a kind are shared by all places where it can happen.
        let mut parts = HashMap::new();
        for slip in &slips {
            *parts.entry(discriminant(&slip.mistake)).or_insert(0.0) += slip.parts();
        }
        let mut outcomes: Vec<MistakeOutcome> = vec![];
        let mut index_of = HashMap::new();
        for slip in &slips {
            let mut sides = base.to_vec();
            for (side, by) in slip.by {
                let beads = &mut sides[side.index()];
                *beads = beads.saturating_add_signed(by);
            }
            if sides == base {
                continue;
            }
            let odds = slip.kind_odds * slip.parts() / parts[&discriminant(&slip.mistake)];
            let at = *index_of.entry((&slip.mistake, slip.by)).or_insert_with(|| {
                outcomes.push(MistakeOutcome {
                    mistake: slip.mistake.clone(),
                    sides,
                    odds: 0.0,
                    places: [vec![], vec![]],
                });
                outcomes.len() - 1
            });
            outcomes[at].odds += odds;
            outcomes[at].places[0].push(slip.place());
        }
        outcomes
    }

    /// A tooth left open on each side of a zip.
    fn teeth_left_open(&self, locked: &[u32]) -> Vec<MistakeOutcome> {
        let sides = (0..).map(Side).zip(locked).filter(|(_, teeth)| **teeth > 0);
        let open = |(side, &teeth): (Side, &u32)| {
            let mut sides = locked.to_vec();
            sides[side.index()] -= 1;
            let zipped = self
                .seq
                .iter_from(Step(self.seq.job(self.job).steps_before + 1));
            let mut zipped = zipped.filter(|m| m.kind == Kind::Zip && m.side == Some(side));
            let first = zipped.next()?.step;
            let place = RoundPlace {
                side,
                corner: false,
                first_gap: 0,
                gaps: teeth,
                steps: (first, Step(first.0 + teeth - 1)),
            };
            Some(MistakeOutcome {
                mistake: Mistake::ToothOpen(side),
                sides,
                odds: odds::GAP_SKIPPED,
                places: [vec![place], vec![]],
            })
        };
        sides.filter_map(open).collect()
    }

    /// Where a missed step-up or step-down shows: on the side where the round
    /// begins.
    fn turn_place(&self) -> Option<RoundPlace> {
        let work = self.round_work().filter(RoundWork::steps_up)?;
        let kind = self.seq.layout().kind(self.panel());
        Some(RoundPlace {
            side: kind.side(work.makes, work.new_bead(0)),
            corner: false,
            first_gap: work.gaps(),
            gaps: 1,
            steps: (Step(0), Step(0)),
        })
    }

    /// A place with the steps that work it. Looked up last, and only for the
    /// few places that are listed.
    pub(super) fn with_steps(&self, place: RoundPlace, mistake: &Mistake) -> RoundPlace {
        let steps = match mistake {
            Mistake::TurnMissed => self.turn().map(|s| (s, s)),
            Mistake::ToothOpen(_) => None,
            _ => {
                let last = place.first_gap + place.gaps - 1;
                self.step_of_gap(place.first_gap)
                    .zip(self.step_of_gap(last))
            }
        };
        RoundPlace {
            steps: steps.unwrap_or(place.steps),
            ..place
        }
    }
}

/// Adds the mistakes that can be made at a slot.
fn slips_at(slot: Slot, slips: &mut Vec<Slip>) {
    let (side, next) = (slot.side, slot.next);
    let mut add = |mistake, by: &[(Side, i32)], kind_odds, part| {
        let by = [by[0], by.get(1).copied().unwrap_or((side, 0))];
        slips.push(Slip {
            mistake,
            by,
            slot,
            kind_odds,
            part,
        });
    };
    let before = odds::CORNER_COUNTS_BEFORE;
    match slot.takes {
        0 => {
            let (what, odds) = (Mistake::BeadAtCorner(side), odds::BEAD_AT_CORNER);
            if side == next {
                add(what, &[(side, 1)], odds, 1.0);
            } else {
                add(what.clone(), &[(side, 1)], odds, before);
                add(what, &[(next, 1)], odds, 1.0 - before);
            }
        }
        1 if slot.strung => {
            add(Mistake::StrungOver(side), &[(side, 1)], odds::STRUNG, 1.0);
            add(Mistake::StrungUnder(side), &[(side, -1)], odds::STRUNG, 1.0);
        }
        1 => {
            add(Mistake::TwoInGap(side), &[(side, 1)], odds::TWO_IN_GAP, 1.0);
            add(
                Mistake::GapSkipped(side),
                &[(side, -1)],
                odds::GAP_SKIPPED,
                1.0,
            );
        }
        _ => {
            let odds = odds::PAIR_AS_ONE;
            add(Mistake::PairAsOne(side, side), &[(side, -1)], odds, 0.5);
            if side != next {
                add(Mistake::PairAsOne(side, next), &[(next, -1)], odds, 0.5);
            }
            let none = [(side, -1), (next, -1)];
            add(Mistake::CornerPassed(side), &none, odds::CORNER_PASSED, 1.0);
            // A third bead beside the pair.
            add(Mistake::TwoInGap(side), &[(side, 1)], odds::TWO_IN_GAP, 0.5);
            add(Mistake::TwoInGap(side), &[(next, 1)], odds::TWO_IN_GAP, 0.5);
        }
    }
}
