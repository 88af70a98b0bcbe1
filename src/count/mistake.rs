//! The mistakes that happen at the table, and the count that each would give.

use crate::beadwork::project::Way;
use crate::beadwork::{Job, Panel, Round, Sequence, Side, Step};

/// One thing that can have happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Mistake {
    /// A bead was strung at a corner that should have been drawn together,
    /// behind this side.
    BeadAtCorner(Side),
    /// A corner that takes a pair took one bead, behind this side; the bead
    /// is missing on the side given last.
    PairAsOne(Side, Side),
    /// Two beads went into one gap of a side.
    TwoInGap(Side),
    /// A gap of a side was passed by.
    GapSkipped(Side),
    /// The round that was counted is another.
    OtherRound(Round),
    /// High and low beads were both counted: this round and the one under it.
    BothEdges(Round),
    /// The round was counted before it was whole.
    NotWhole,
    /// The step at the end of the round was missed, so that the work spirals
    /// and the next round's first bead counts to this.
    TurnMissed,
    /// Two of them at once.
    Two(Box<Mistake>, Box<Mistake>),
}

/// What a mistake would make of a round: beads on each side, and how likely
/// it is before anything is seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The mistake.
    pub mistake: Mistake,
    /// Beads that would be counted on each side.
    pub sides: Vec<u32>,
    /// Odds against the others, at one place where there are several.
    pub odds: f64,
}

/// Odds of each mistake in a round, common practice and no source: corners
/// are where attention slips, then gaps, then the counting itself.
mod odds {
    pub const CORNER: f64 = 10.0;
    pub const SKIPPED: f64 = 9.0;
    pub const TWO_IN_GAP: f64 = 6.0;
    pub const OTHER_ROUND: f64 = 8.0;
    pub const BOTH_EDGES: f64 = 12.0;
    pub const NOT_WHOLE: f64 = 9.0;
    pub const TURN_MISSED: f64 = 2.0;
}

/// The round that is asked about.
#[derive(Clone, Copy)]
pub struct Counted<'a> {
    /// The piece.
    pub seq: &'a Sequence,
    /// The job.
    pub job: Job,
    /// The round.
    pub round: Round,
    /// The last step that was done, if that is known.
    pub at: Option<Step>,
}

impl Counted<'_> {
    fn panel(&self) -> Panel {
        self.seq.job(self.job).panel()
    }

    fn sides(&self) -> Vec<u32> {
        super::expected::per_side(self.seq, self.job, self.round).unwrap_or_default()
    }

    fn way(&self) -> Way {
        self.seq.layout().making(self.panel()).begin.way()
    }

    /// The round that this one was worked on, if it was worked on one.
    pub fn worked_on(&self) -> Option<Round> {
        let kind = self.seq.layout().kind(self.panel());
        match self.way() {
            Way::Outward if self.round.0 > 1 => Some(Round(self.round.0 - 1)),
            Way::Inward if self.round > kind.last() => Some(kind.last()),
            Way::Inward if self.round < kind.last() => Some(Round(self.round.0 + 1)),
            _ => None,
        }
    }

    fn is_join_row(&self) -> bool {
        self.round > self.seq.layout().kind(self.panel()).last()
    }

    /// Every single mistake, at each side where it can be made.
    pub fn single_mistakes(&self) -> Vec<Outcome> {
        let right = self.sides();
        let mut all = vec![];
        let mut add = |mistake, sides: Vec<u32>, odds| {
            if sides != right {
                all.push(Outcome {
                    mistake,
                    sides,
                    odds,
                });
            }
        };
        let changed = |side: usize, by: i32| {
            let mut sides = right.clone();
            sides[side] = sides[side].saturating_add_signed(by);
            sides
        };
        let n = right.len();
        let worked: Vec<usize> = (0..n).filter(|&s| right[s] > 0).collect();
        let (drawn, pairs) = self.corners();
        for &s in &worked {
            let side = Side(s as u8);
            let next = (s + 1) % n;
            if drawn {
                add(Mistake::BeadAtCorner(side), changed(s, 1), odds::CORNER);
            }
            if pairs {
                for missing in [s, next] {
                    let mistake = Mistake::PairAsOne(side, Side(missing as u8));
                    add(mistake, changed(missing, -1), odds::CORNER / 2.0);
                }
            }
            add(Mistake::GapSkipped(side), changed(s, -1), odds::SKIPPED);
            add(Mistake::TwoInGap(side), changed(s, 1), odds::TWO_IN_GAP);
        }
        if self.worked_on().is_some() && !self.is_join_row() {
            let first = self.first_side().index();
            add(Mistake::TurnMissed, changed(first, 1), odds::TURN_MISSED);
        }
        for round in self.neighbours() {
            if let Some(sides) = super::expected::per_side(self.seq, self.job, round) {
                add(Mistake::OtherRound(round), sides, odds::OTHER_ROUND);
            }
        }
        if let Some(under) = self.worked_on() {
            let low = super::expected::per_side(self.seq, self.job, under).unwrap_or_default();
            let both = (0..n).map(|s| match right[s] {
                0 => 0,
                high => high + low[s],
            });
            add(Mistake::BothEdges(under), both.collect(), odds::BOTH_EDGES);
        }
        if let Some(sides) = self.in_place() {
            add(Mistake::NotWhole, sides, odds::NOT_WHOLE);
        }
        all
    }

    /// Two small mistakes at once, for a count that no single one explains.
    pub fn double_mistakes(&self) -> Vec<Outcome> {
        let right = self.sides();
        let small: Vec<Outcome> = self
            .single_mistakes()
            .into_iter()
            .filter(|o| o.mistake.is_small())
            .collect();
        let mut all = vec![];
        for (i, a) in small.iter().enumerate() {
            for b in &small[i..] {
                if a.mistake == b.mistake && a.mistake.is_at_corner() {
                    continue;
                }
                let sides = (0..right.len()).map(|s| {
                    let by = |o: &Outcome| i64::from(o.sides[s]) - i64::from(right[s]);
                    (i64::from(right[s]) + by(a) + by(b)).max(0) as u32
                });
                all.push(Outcome {
                    mistake: Mistake::Two(Box::new(a.mistake.clone()), Box::new(b.mistake.clone())),
                    sides: sides.collect(),
                    odds: a.odds * b.odds / 100.0,
                });
            }
        }
        all
    }

    /// Whether corners of the round draw together, and whether they take a
    /// pair.
    fn corners(&self) -> (bool, bool) {
        let Some(on) = self.worked_on() else {
            return (false, false);
        };
        if self.is_join_row() {
            return (false, false);
        }
        let layout = self.seq.layout();
        let work = layout
            .making(self.panel())
            .work(layout.kind(self.panel()), on);
        // Gap by gap, but a round's gaps repeat side by side: one side's worth
        // and its corner are enough.
        let some = work
            .gaps()
            .min(2 * (work.gaps() / self.sides().len() as u32 + 2));
        let gaps = || (0..some).map(|j| work.in_gap(j));
        (
            work.skipped() > 0 || gaps().any(|g| g == 0),
            gaps().any(|g| g == 2),
        )
    }

    fn first_side(&self) -> Side {
        let layout = self.seq.layout();
        let start = layout.making(self.panel()).start(self.round);
        layout.kind(self.panel()).place(self.round, start).side
    }

    /// The rounds before and after, of those that the job makes.
    fn neighbours(&self) -> Vec<Round> {
        if self.is_join_row() {
            return vec![];
        }
        let (layout, panel) = (self.seq.layout(), self.panel());
        let first = layout.making(panel).innermost();
        let last = layout.kind(panel).last();
        [self.round.0 - 1, self.round.0 + 1]
            .map(Round)
            .into_iter()
            .filter(|r| (first..=last).contains(r))
            .collect()
    }

    /// Beads of the round on each side once the last step is done, if the
    /// round is in hand and not whole.
    fn in_place(&self) -> Option<Vec<u32>> {
        let at = self.at?;
        let m = self.seq.step(at)?;
        if m.job != self.job || m.round != Some(self.round) || m.round_beads >= m.round_target {
            return None;
        }
        let layout = self.seq.layout();
        let mut sides = vec![0; self.sides().len()];
        let strung = self.seq.strung_after(at);
        for back in 0..m.round_beads {
            let seat = layout.seat(crate::beadwork::Bead(strung - back));
            if seat.round == self.round {
                sides[seat.side.index()] += 1;
            }
        }
        Some(sides)
    }
}

impl Mistake {
    /// Whether it is one bead at one place.
    fn is_small(&self) -> bool {
        self.is_at_corner() || matches!(self, Mistake::TwoInGap(_) | Mistake::GapSkipped(_))
    }

    fn is_at_corner(&self) -> bool {
        matches!(self, Mistake::BeadAtCorner(_) | Mistake::PairAsOne(..))
    }
}
