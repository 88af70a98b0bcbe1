//! The mistakes that can happen, and the count that each would give.

use super::expected::BeadsInRound;
use crate::beadwork::project::WorkDirection;
use crate::beadwork::{Job, Kind, Movement, Panel, Round, Sequence, Side, Step};

/// A place of a round: some gaps of one side, or the corner after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoundPlace {
    /// The side, or the side that ends at the corner.
    pub side: Side,
    /// Whether it is the corner after the side.
    pub corner: bool,
    /// The first gap, from 0 in the order in which the round is worked.
    pub first_gap: u32,
    /// How many gaps in a row look the same; 1 at a corner.
    pub gaps: u32,
    /// The steps that work the first and the last of these gaps; 0 until they
    /// are looked up.
    pub steps: (Step, Step),
}

/// A mistake.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Mistake {
    /// A bead was strung at a corner, after this side, that should have been
    /// pulled together.
    BeadAtCorner(Side),
    /// A corner after the first side that takes a pair took one bead; the bead
    /// is missing on the second side.
    PairAsOne(Side, Side),
    /// A corner after this side that takes a pair took none.
    CornerPassed(Side),
    /// More beads went into one gap of a side than it takes.
    TwoInGap(Side),
    /// A gap of a side was skipped.
    GapSkipped(Side),
    /// A bead too many on the string that the panel begins with.
    StrungOver(Side),
    /// A bead too few on the string that the panel begins with.
    StrungUnder(Side),
    /// Another round was counted or worked.
    OtherRound(Round),
    /// High and low beads were both counted: this round and the one under it.
    BothEdges(Round),
    /// This step is the last one done: the work is ahead of the screen or
    /// behind it.
    OtherStep(Step),
    /// A join bead was not zipped between two edge beads of this side.
    ToothOpen(Side),
    /// The step-up or step-down was missed, so that the work spirals and the
    /// next round's first bead is counted with this round.
    TurnMissed,
    /// Counting began at this side instead of side 1.
    WrongSide(Side),
    /// Only one side was counted, and not all round.
    OneSide,
    /// So many beads too many are on the thread, or too few, while it is being
    /// strung.
    OnThread(i64),
    /// Two of them at once.
    Two(Box<Mistake>, Box<Mistake>),
}

impl Mistake {
    /// Whether the work itself is wrong, and not only the counting of it.
    pub fn is_in_the_work(&self) -> bool {
        match self {
            Mistake::OtherRound(_)
            | Mistake::BothEdges(_)
            | Mistake::OtherStep(_)
            | Mistake::WrongSide(_)
            | Mistake::OneSide
            | Mistake::OnThread(_) => false,
            Mistake::Two(a, b) => a.is_in_the_work() || b.is_in_the_work(),
            _ => true,
        }
    }

    /// Whether it is or includes a count that began at another side.
    pub(super) fn is_wrong_side(&self) -> bool {
        match self {
            Mistake::WrongSide(_) => true,
            Mistake::Two(a, b) => a.is_wrong_side() || b.is_wrong_side(),
            _ => false,
        }
    }

    /// The round that was counted instead of the one asked about.
    pub(super) fn other_round(&self) -> Option<Round> {
        match self {
            Mistake::OtherRound(round) => Some(*round),
            Mistake::Two(_, b) => b.other_round(),
            _ => None,
        }
    }

    /// Whether it changes only a bead or two at one place.
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
                | ToothOpen(_)
        )
    }
}

/// The result of a mistake: beads on each side of the round, and how likely it
/// is before the count is known.
#[derive(Clone, Debug, PartialEq)]
pub struct MistakeOutcome {
    /// The mistake.
    pub mistake: Mistake,
    /// Beads that would be counted on each side.
    pub sides: Vec<u32>,
    /// Its odds at these places; see [`super::odds`].
    pub odds: f64,
    /// The places where it can have been made, and for two at once those of the
    /// second; empty for mistakes in counting.
    pub places: [Vec<RoundPlace>; 2],
}

/// A round that was counted.
#[derive(Clone, Copy)]
pub struct CountedRound<'a> {
    /// The piece.
    pub seq: &'a Sequence,
    /// The job.
    pub job: Job,
    /// The round.
    pub round: Round,
    /// The last step done, if known.
    pub at: Option<Step>,
}

impl CountedRound<'_> {
    pub(super) fn panel(&self) -> Panel {
        self.seq.job(self.job).panel()
    }

    /// Beads of the round, if the job works on it.
    pub(super) fn beads(&self) -> Option<BeadsInRound> {
        BeadsInRound::at(self.seq, self.job, self.round, self.at)
    }

    /// How many beads there should be on each side.
    pub(super) fn sides(&self) -> Vec<u32> {
        self.sides_of(self.round)
    }

    pub(super) fn sides_of(&self, round: Round) -> Vec<u32> {
        let beads = CountedRound { round, ..*self }.beads();
        beads.map_or(vec![], |beads| beads.due().to_vec())
    }

    /// Whether the teeth of a zip are counted.
    pub(super) fn is_zip(&self) -> bool {
        self.seq.job(self.job).kind.is_zip()
    }

    /// Whether the beads that the panel begins with are being strung: nothing is
    /// closed yet, and no other round is begun.
    pub(super) fn is_being_strung(&self) -> bool {
        let layout = self.seq.layout();
        let kind = layout.kind(self.panel());
        let strung = layout.making(self.panel()).strung_rounds(kind);
        let m = self.at.and_then(|at| self.seq.step(at));
        let strings = |m: Movement| m.kind == Kind::Ring && !m.strings.is_empty();
        strung.contains(&self.round.0) && m.is_some_and(|m| m.job == self.job && strings(m))
    }

    pub(super) fn direction(&self) -> WorkDirection {
        self.seq.layout().making(self.panel()).begin.way()
    }

    /// The round that this one is worked on, if any.
    pub fn worked_on(&self) -> Option<Round> {
        let layout = self.seq.layout();
        let kind = layout.kind(self.panel());
        let strung = layout.making(self.panel()).strung_rounds(kind);
        match self.direction() {
            WorkDirection::Outward if !strung.contains(&self.round.0) => {
                Some(Round(self.round.0 - 1))
            }
            WorkDirection::Inward if self.round > kind.last() => Some(kind.last()),
            WorkDirection::Inward if self.round < kind.last() => Some(Round(self.round.0 + 1)),
            _ => None,
        }
    }

    pub(super) fn is_join_row(&self) -> bool {
        self.round > self.seq.layout().kind(self.panel()).last()
    }

    /// The rounds before and after, if the job makes them.
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

    /// Whether no bead of a round is strung yet; false if the last step done is
    /// not known.
    pub(super) fn is_to_come(&self, round: Round) -> bool {
        let (layout, panel) = (self.seq.layout(), self.panel());
        let beads = 0..layout.kind(panel).in_round(round);
        let first = beads.map(|i| layout.bead(panel, round, i)).min();
        let strung = self.at.map(|at| self.seq.strung_after(at));
        strung.zip(first).is_some_and(|(n, first)| first.0 > n)
    }

    /// Whether some of its beads are in place, and not yet all.
    pub(super) fn is_begun(&self) -> bool {
        let beads = self.beads();
        beads.is_some_and(|beads| beads.there != beads.whole && *beads.due() == beads.there[..])
    }

    /// The last movement of the round, if the round is not finished.
    pub(super) fn last_of_unfinished(&self) -> Option<Movement> {
        let beads = self.beads()?;
        if beads.there == beads.whole {
            return None;
        }
        let at = self.at?.0;
        let mut steps = (1..=at).rev().filter_map(|n| self.seq.step(Step(n)));
        // A new thread may have been started since.
        let m = steps.find(|m| m.round.is_some() || m.job != self.job)?;
        (m.job == self.job && m.round == Some(self.round)).then_some(m)
    }

    /// What would be in place if another step near the last one were the last:
    /// the step, and beads on each side. The nearest step for each result.
    pub(super) fn other_steps(&self) -> Vec<(Step, Vec<u32>)> {
        let Some(at) = self.at else { return vec![] };
        let mut found = vec![];
        let mut look = |steps: &mut dyn Iterator<Item = u32>| {
            let mut last = self.sides();
            for step in steps.take(MAX_PRESSES).map(Step) {
                let beads = CountedRound {
                    at: Some(step),
                    ..*self
                }
                .beads();
                let Some(there) = beads.map(|beads| beads.there) else {
                    return;
                };
                if there.iter().all(|&n| n == 0) {
                    return;
                }
                if there != last {
                    last.clone_from(&there);
                    found.push((step, there));
                }
            }
        };
        look(&mut (1..at.0).rev());
        look(&mut (at.0 + 1..=self.seq.steps()));
        found
    }
}

/// The most key presses too many or too few that are considered.
const MAX_PRESSES: usize = 40;
