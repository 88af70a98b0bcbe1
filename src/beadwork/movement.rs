//! One movement of the needle: what a keypress steps over.

use super::{Bead, Job, Round, Side, Step};
use arrayvec::ArrayVec;
use serde::{Deserialize, Serialize};

/// The most beads a needle goes through in one step. More than a maker can
/// pass at once is split into several steps.
pub const NEEDLEFUL: usize = 4;

/// The most beads that one step strings.
pub const MOST_STRUNG: usize = super::own_rounds::MOST_IN_A_GAP as usize;

/// Beads gone through in one step at the most: an end of thread is woven in as
/// one.
pub const MOST_PASSED: usize = 12;

/// What kind of movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// String a bead of the ring, or close it.
    Ring,
    /// One bead into a gap.
    Stitch,
    /// Two beads into a gap.
    Increase,
    /// No bead: two neighbours drawn together.
    Decrease,
    /// Two beads passed, working outward, to where the next round begins.
    StepUp,
    /// The same working inward.
    StepDown,
    /// Through beads already there, adding none.
    PassThrough,
    /// A join bead and an edge bead locked together.
    Zip,
    /// The panel turned to its next side, or corners brought together.
    Fold,
    /// The last ring drawn shut.
    Close,
    /// A rim run round again.
    Firm,
    /// New thread.
    StartThread,
    /// Thread woven in and cut.
    EndThread,
    /// The work counted.
    Count,
    /// A step of the maker's own.
    Own,
    /// A bead too many broken out, the thread left in the work.
    BreakOut,
}

impl Kind {
    /// All kinds, with the names they have in output.
    pub const ALL: [(Kind, &'static str); 16] = [
        (Kind::Ring, "ring"),
        (Kind::Stitch, "stitch"),
        (Kind::Increase, "increase"),
        (Kind::Decrease, "decrease"),
        (Kind::StepUp, "step-up"),
        (Kind::StepDown, "step-down"),
        (Kind::PassThrough, "pass-through"),
        (Kind::Zip, "zip"),
        (Kind::Fold, "fold"),
        (Kind::Close, "close"),
        (Kind::Firm, "firm"),
        (Kind::StartThread, "start-thread"),
        (Kind::EndThread, "end-thread"),
        (Kind::Count, "count"),
        (Kind::Own, "own"),
        (Kind::BreakOut, "break-out"),
    ];

    /// Its name in output.
    pub fn name(self) -> &'static str {
        Self::ALL[self as usize].1
    }
}

/// One movement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Movement {
    /// Its number over the whole piece.
    pub step: Step,
    /// The job it belongs to.
    pub job: Job,
    /// What kind it is.
    pub kind: Kind,
    /// The round that is worked, if one is.
    pub round: Option<Round>,
    /// The side that is worked, if one is.
    pub side: Option<Side>,
    /// Beads picked up new, in order.
    pub strings: ArrayVec<Bead, MOST_STRUNG>,
    /// Every bead the needle goes through, in order, new ones included.
    pub passes: ArrayVec<Bead, MOST_PASSED>,
    /// Beads of this round in place after the step (of a join: join beads
    /// locked); 0 where nothing is counted.
    pub round_beads: u32,
    /// How many there are when the round is whole; 0 where nothing is counted.
    pub round_target: u32,
    /// The bead that is broken out: see
    /// [`Sequence::as_made`](super::Sequence::as_made).
    pub removes: Option<Bead>,
}
