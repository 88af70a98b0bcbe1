//! The mistakes that happen at the table, and the count that each would give.

use super::expected;
use super::kept::Kept;
use super::place::Place;
use crate::beadwork::project::Way;
use crate::beadwork::{Job, Kind, Movement, Panel, Round, Sequence, Side, Step};

/// One thing that can have happened.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Mistake {
    /// A bead was strung at a corner that should have been drawn together,
    /// behind this side.
    BeadAtCorner(Side),
    /// A corner that takes a pair took one bead, behind this side; the bead
    /// is missing on the side given last.
    PairAsOne(Side, Side),
    /// A corner that takes a pair took none, behind this side.
    CornerPassed(Side),
    /// More beads went into one gap of a side than it takes.
    TwoInGap(Side),
    /// A gap of a side was passed by.
    GapSkipped(Side),
    /// A bead too many on the string that the panel begins with.
    StrungOver(Side),
    /// A bead too few on the string that the panel begins with.
    StrungUnder(Side),
    /// The round that was counted is another.
    OtherRound(Round),
    /// High and low beads were both counted: this round and the one under it.
    BothEdges(Round),
    /// The round was counted before it was whole.
    NotWhole,
    /// The step at the end of the round was missed, so that the work spirals
    /// and the next round's first bead counts to this.
    TurnMissed,
    /// Counting began at this side instead of side 1.
    WrongSide(Side),
    /// Two of them at once.
    Two(Box<Mistake>, Box<Mistake>),
}

impl Mistake {
    /// Whether the work itself is wrong, and not only the counting of it.
    pub fn is_in_the_work(&self) -> bool {
        match self {
            Mistake::OtherRound(_)
            | Mistake::BothEdges(_)
            | Mistake::NotWhole
            | Mistake::WrongSide(_) => false,
            Mistake::Two(a, b) => a.is_in_the_work() || b.is_in_the_work(),
            _ => true,
        }
    }

    /// Whether it is a bead or two at one place.
    pub(super) fn is_small(&self) -> bool {
        use Mistake::*;
        matches!(
            self,
            BeadAtCorner(_)
                | PairAsOne(..)
                | CornerPassed(_)
                | TwoInGap(_)
                | GapSkipped(_)
                | StrungOver(_)
                | StrungUnder(_)
        )
    }
}

/// What a mistake would make of a round: beads on each side, and how likely
/// it is before anything is seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The mistake.
    pub mistake: Mistake,
    /// Beads that would be counted on each side.
    pub sides: Vec<u32>,
    /// Odds against the others at these places; see [`super::odds`].
    pub odds: f64,
    /// The places at which it can have been made, and for two at once those of
    /// the second; none for slips in counting.
    pub places: [Vec<Place>; 2],
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
    /// Differences that the maker keeps.
    pub kept: &'a [Kept],
}

impl Counted<'_> {
    pub(super) fn panel(&self) -> Panel {
        self.seq.job(self.job).panel()
    }

    /// Beads on each side when the round is whole, as stitched.
    pub(super) fn sides(&self) -> Vec<u32> {
        self.sides_of(self.round)
    }

    pub(super) fn sides_of(&self, round: Round) -> Vec<u32> {
        expected::per_side_as_stitched(self.seq, self.job, round, self.kept).unwrap_or_default()
    }

    pub(super) fn way(&self) -> Way {
        self.seq.layout().making(self.panel()).begin.way()
    }

    /// The round that this one was worked on, if it was worked on one.
    pub fn worked_on(&self) -> Option<Round> {
        let layout = self.seq.layout();
        let kind = layout.kind(self.panel());
        let strung = layout.making(self.panel()).strung_rounds(kind);
        match self.way() {
            Way::Outward if !strung.contains(&self.round.0) => Some(Round(self.round.0 - 1)),
            Way::Inward if self.round > kind.last() => Some(kind.last()),
            Way::Inward if self.round < kind.last() => Some(Round(self.round.0 + 1)),
            _ => None,
        }
    }

    pub(super) fn is_join_row(&self) -> bool {
        self.round > self.seq.layout().kind(self.panel()).last()
    }

    /// The rounds before and after, of those that the job makes.
    pub(super) fn neighbours(&self) -> Vec<Round> {
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

    /// Whether no bead of a round is strung yet, if it is known what is done.
    pub(super) fn is_to_come(&self, round: Round) -> bool {
        let (layout, panel) = (self.seq.layout(), self.panel());
        let beads = 0..layout.kind(panel).in_round(round);
        let first = beads.map(|i| layout.bead(panel, round, i)).min();
        let strung = self.at.map(|at| self.seq.strung_after(at));
        strung.zip(first).is_some_and(|(n, first)| first.0 > n)
    }

    /// The last movement done, if the round is in hand and not whole.
    pub(super) fn in_hand(&self) -> Option<Movement> {
        let m = self.seq.step(self.at?)?;
        let here = m.job == self.job && m.round == Some(self.round);
        let turned = matches!(m.kind, Kind::StepUp | Kind::StepDown);
        (here && !turned && m.round_beads < m.round_target).then_some(m)
    }

    /// Beads of the round on each side once the last step is done, if the
    /// round is in hand and not whole.
    pub(super) fn in_place(&self) -> Option<Vec<u32>> {
        let at = self.in_hand()?.step;
        let layout = self.seq.layout();
        let mut sides = vec![0; self.sides().len()];
        let strung = self.seq.strung_after(at);
        let before = self.seq.job(self.job).beads_before;
        // A free start strings two rounds at once, so the round's beads are
        // not always the last ones strung.
        for bead in (before + 1..=strung).rev().map(crate::beadwork::Bead) {
            let seat = layout.seat(bead);
            if seat.round == self.round {
                sides[seat.side.index()] += 1;
            } else if !self.is_strung_with_another(seat.round) {
                break;
            }
        }
        let panel = self.panel();
        super::kept::as_stitched(self.seq, panel, self.round, &mut sides, self.kept);
        Some(sides)
    }

    fn is_strung_with_another(&self, other: Round) -> bool {
        let layout = self.seq.layout();
        let panel = self.panel();
        layout.making(panel).in_string(layout.kind(panel), other)
    }
}
