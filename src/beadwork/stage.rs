//! A stage: a part of a job in which every step is of one pattern, so that
//! any step of it can be looked up without making those before.
//!
//! | stage | steps |
//! |---|---|
//! | [`Ring`] | the ring in the middle, bead by bead, and its closing |
//! | [`FreeStart`] | two rounds strung together and closed |
//! | [`TwoRows`] | the first two rows of a strip strung together |
//! | [`Rounds`] | one round on another, outward or inward |
//! | [`RimRound`] | the first round of a fill, between its anchors |
//! | [`RowStage`] | a join row |
//! | [`Zip`] | a bare side locked into a join row |
//! | [`Lock`] | a panel locked into the open middle of another |
//! | [`Through`] | a run through beads already there |
//! | [`Still`] | a movement without thread: a count, a fold |
//! | [`Own`] | a step of the maker's own |
//! | [`BreakOut`] | a bead too many broken out |

mod break_out;
mod lock;
mod rim_round;
mod rounds;
mod row;
mod strung;
mod through;
mod zip;

pub use break_out::BreakOut;
pub use lock::Lock;
pub use rim_round::RimRound;
pub use rounds::{ReadyRound, Rounds};
pub use row::RowStage;
pub use strung::{FreeStart, Ring, TwoRows};
pub use through::{BeadPath, Path, Through};
pub use zip::Zip;

use super::movement::{MOST_PASSED, MOST_STRUNG};
use super::{Bead, Hole, Job, Kind, Layout, Movement, OwnStep, Panel, Round, Side, Step};
use arrayvec::ArrayVec;
use serde::{Deserialize, Serialize};

/// A movement before it has its number and its job.
#[derive(Clone, Debug)]
pub struct Draft {
    /// What kind it is.
    pub kind: Kind,
    /// The round that is worked.
    pub round: Option<Round>,
    /// The side that is worked.
    pub side: Option<Side>,
    /// Beads picked up new.
    pub strings: ArrayVec<Bead, MOST_STRUNG>,
    /// Beads gone through.
    pub passes: ArrayVec<Bead, MOST_PASSED>,
    /// Beads of the round in place after it.
    pub round_beads: u32,
    /// Beads of the whole round.
    pub round_target: u32,
}

impl Draft {
    /// A movement of a kind, with nothing strung or passed yet.
    fn new(kind: Kind) -> Self {
        Draft {
            kind,
            round: None,
            side: None,
            strings: ArrayVec::new(),
            passes: ArrayVec::new(),
            round_beads: 0,
            round_target: 0,
        }
    }

    /// Beads strung into a gap: a stitch, an increase, or a decrease if there are none.
    fn into_gap(beads: impl ExactSizeIterator<Item = Bead>) -> Self {
        let mut draft = Draft::new(match beads.len() {
            0 => Kind::Decrease,
            1 => Kind::Stitch,
            _ => Kind::Increase,
        });
        beads.for_each(|bead| draft.string(bead));
        draft
    }

    fn at(mut self, round: Option<Round>, side: Option<Side>) -> Self {
        (self.round, self.side) = (round, side);
        self
    }

    fn counting(mut self, beads: u32, target: u32) -> Self {
        (self.round_beads, self.round_target) = (beads, target);
        self
    }

    /// The movement, with its number and its job.
    pub fn numbered(self, step: Step, job: Job) -> Movement {
        Movement {
            step,
            job,
            kind: self.kind,
            round: self.round,
            side: self.side,
            strings: self.strings,
            passes: self.passes,
            round_beads: self.round_beads,
            round_target: self.round_target,
            removes: None,
        }
    }

    fn string(&mut self, bead: Bead) {
        self.strings.push(bead);
        self.passes.push(bead);
    }

    fn pass(&mut self, bead: Bead) {
        self.passes.push(bead);
    }
}

/// Beads gone through in one step, each by the end that the needle leaves it by.
pub type Holes = ArrayVec<Hole, MOST_PASSED>;

fn fronts(draft: &Draft) -> Holes {
    draft.passes.iter().copied().map(Hole::front).collect()
}

/// What every stage can say, in steps counted from 0 within it. A stage that says
/// no more than its step is one step without thread.
pub trait Steps {
    /// How many steps it has.
    fn steps(&self, _: &Layout) -> u32 {
        1
    }
    /// Step `i`.
    fn step(&self, layout: &Layout, i: u32) -> Draft;
    /// Beads gone through in the steps before `i`; `i` may be the number of
    /// steps.
    fn passes_before(&self, _: &Layout, _: u32) -> u32 {
        0
    }
    /// Beads strung in the steps before `i`.
    fn strung_before(&self, _: &Layout, _: u32) -> u32 {
        0
    }
    /// The beads that step `i` goes through, in order, each by the end that the
    /// needle leaves it by. Work goes through beads by the front.
    fn holes(&self, layout: &Layout, i: u32) -> Holes {
        fronts(&self.step(layout, i))
    }
    /// The bead end that the needle leaves after step `i`; none if the step
    /// goes through no bead.
    fn leaves(&self, layout: &Layout, i: u32) -> Option<Hole> {
        self.holes(layout, i).last().copied()
    }
}

/// A movement of the hands without thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Still {
    /// Count or fold.
    pub kind: Kind,
    /// The round to look at.
    pub round: Option<Round>,
    /// The side to look at.
    pub side: Option<Side>,
    /// The beads to find there.
    pub beads: u32,
}

impl Still {
    /// The folding of a panel to this side, or of the whole work.
    pub(super) fn fold(side: Option<Side>) -> Still {
        Still {
            kind: Kind::Fold,
            round: None,
            side,
            beads: 0,
        }
    }
}

impl Steps for Still {
    fn step(&self, _: &Layout, _: u32) -> Draft {
        Draft::new(self.kind)
            .at(self.round, self.side)
            .counting(self.beads, self.beads)
    }
}

/// A step of the maker's own: the needle stays where it is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Own(pub OwnStep);

impl Steps for Own {
    fn step(&self, _: &Layout, _: u32) -> Draft {
        Draft::new(Kind::Own)
    }
}

macro_rules! stages {
    ($($name:ident),*) => {
        /// A part of a job in which every step is of one pattern.
        #[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
        #[serde(rename_all = "kebab-case")]
        #[allow(missing_docs)]
        pub enum Stage {
            $($name($name),)*
        }

        impl Steps for Stage {
            fn steps(&self, layout: &Layout) -> u32 {
                match self { $(Stage::$name(s) => s.steps(layout),)* }
            }

            fn step(&self, layout: &Layout, i: u32) -> Draft {
                match self { $(Stage::$name(s) => s.step(layout, i),)* }
            }

            fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
                match self { $(Stage::$name(s) => s.passes_before(layout, i),)* }
            }

            fn strung_before(&self, layout: &Layout, i: u32) -> u32 {
                match self { $(Stage::$name(s) => s.strung_before(layout, i),)* }
            }

            fn holes(&self, layout: &Layout, i: u32) -> Holes {
                match self { $(Stage::$name(s) => s.holes(layout, i),)* }
            }
        }

        $(impl From<$name> for Stage {
            fn from(stage: $name) -> Self {
                Stage::$name(stage)
            }
        })*
    };
}

stages!(
    Ring, FreeStart, TwoRows, Rounds, RimRound, RowStage, Zip, Lock, Through, Still, Own, BreakOut
);

impl Stage {
    /// Whether it is a part of its job's own work, and not weaving there or
    /// thread taken up or ended.
    pub fn is_work(&self) -> bool {
        use Kind::{EndThread, PassThrough, StartThread};
        !self.is_aside()
            && !matches!(self, Stage::Through(t) if matches!(t.kind, PassThrough | StartThread | EndThread))
    }

    /// Whether it may come between any two movements, and moves no thread: a
    /// step of the maker's own, or a bead broken out.
    pub(super) fn is_aside(&self) -> bool {
        matches!(self, Stage::Own(_) | Stage::BreakOut(_))
    }

    /// See [`FreeStart::strip_ends`].
    pub(super) fn strip_ends(&self, layout: &Layout) -> Vec<u32> {
        match self {
            Stage::FreeStart(start) => start.strip_ends(layout),
            _ => vec![],
        }
    }

    /// Whether thread can be renewed in the midst of it: not while a string
    /// is not yet a ring, and not in a run that is over in a few steps.
    pub(super) fn can_be_parted(&self) -> bool {
        matches!(
            self,
            Stage::Rounds(_)
                | Stage::RimRound(_)
                | Stage::RowStage(_)
                | Stage::Zip(_)
                | Stage::Lock(_)
        )
    }

    /// Whether a step draws beads together that no thread holds yet.
    pub(super) fn draws(&self, layout: &Layout, i: u32) -> bool {
        i < self.steps(layout) && {
            let kind = self.step(layout, i).kind;
            matches!(kind, Kind::Decrease | Kind::StepUp | Kind::StepDown)
        }
    }

    /// Whether a step is made away from the corners.
    pub(super) fn is_mid_side(&self, layout: &Layout, i: u32) -> bool {
        let draft = self.step(layout, i);
        match (draft.kind, draft.strings.first()) {
            (Kind::Stitch, Some(&bead)) => {
                let seat = layout.seat(bead);
                let margin = (seat.of / 4).min(3);
                seat.place >= margin && seat.place + margin < seat.of
            }
            (Kind::Zip, _) => true,
            _ => false,
        }
    }

    /// The same stage on an equal panel whose beads come `later` beads after
    /// these. Only stages of which panels are made know another panel.
    pub(super) fn on_panel(&self, panel: Panel, later: u32) -> Stage {
        match self {
            Stage::Ring(_) => Ring { panel }.into(),
            Stage::FreeStart(_) => FreeStart { panel }.into(),
            Stage::TwoRows(_) => TwoRows { panel }.into(),
            Stage::Rounds(r) => Rounds { panel, ..*r }.into(),
            Stage::Through(t) => Through {
                path: t.path.on_panel(panel, later),
                ..*t
            }
            .into(),
            other => other.clone(),
        }
    }
}
