//! What the verifier can find, as data.

use super::end::BeadEnd;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Bead, Job, Panel, Round, Side, Step};

/// One thing that breaks a rule, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The step, unless it is about the piece as a whole.
    pub step: Option<Step>,
    /// The job, unless it is about the piece as a whole.
    pub job: Option<Job>,
    /// The round that the step says it works, if any.
    pub round: Option<Round>,
    /// What is wrong.
    pub fault: Fault,
}

/// What breaks a rule.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs)] // the fields are what their names say
pub enum Fault {
    // --- steps and beads ---
    /// Steps must be numbered from 1 without gaps.
    StepNumber {
        expected: Step,
    },
    /// Jobs must follow one another, with the steps and beads that they give.
    JobOutOfOrder,
    JobSteps {
        expected: u32,
        found: u32,
    },
    JobBeads {
        expected: u32,
        found: u32,
    },
    /// A job was left before it was done.
    JobUnfinished,
    /// A movement that does not belong there.
    Unexpected {
        expected: Option<Kind>,
        found: Kind,
    },
    /// The piece has no such bead.
    UnknownBead {
        bead: Bead,
    },
    StrungTwice {
        bead: Bead,
    },
    /// Strung, but not passed in the same step.
    NotPassed {
        bead: Bead,
    },
    /// Passed before it was strung.
    NotYetStrung {
        bead: Bead,
    },
    /// Numbered, but never strung.
    NeverStrung {
        bead: Bead,
    },
    /// A stitch strings one bead, an increase two, and so on.
    StringsWrong {
        kind: Kind,
        expected: u32,
        found: u32,
    },

    /// Broken out, but not in place.
    NotThere {
        bead: Option<Bead>,
    },
    /// Gone through, though it is broken out.
    SewnOnto {
        bead: Bead,
    },
    /// A job gives a different number of break-outs.
    BreakOutsOfJob,

    // --- the thread ---
    NoThread,
    /// New thread is started while the old one is still in the work.
    ThreadStillIn,
    /// The piece ends with thread in the work.
    ThreadLeft,
    /// An end of thread is woven in through too few beads or with too few
    /// turns, although a path that holds is available.
    EndSlides {
        beads: u32,
        turns: u32,
    },
    /// The thread crosses open space between two beads.
    Jump {
        from: Bead,
        to: Bead,
    },
    /// A zip turns a corner without passing a tip bead there.
    TipPassedBy {
        bead: Bead,
    },
    /// The thread comes out at the end where it went in.
    TurnsInside {
        bead: Bead,
    },
    /// The needle must leave one end, but leaves another one.
    NeedleElsewhere {
        expected: BeadEnd,
        found: Option<Bead>,
    },
    /// The hole has no room for the needle beside the threads in it.
    Blocked {
        bead: Bead,
        passes: u32,
    },

    // --- rounds ---
    RoundNumber {
        expected: Round,
    },
    SideNumber {
        expected: Side,
        found: Option<Side>,
    },
    /// A gap of the word, numbered from 1 where the round begins.
    GapHolds {
        gap: u32,
        expected: u32,
        found: u32,
    },
    SkippedGap {
        gap: u32,
    },
    /// Work went on beyond the last gap.
    BeyondTheRound {
        gaps: u32,
    },
    WrongBead {
        expected: Option<Bead>,
        found: Option<Bead>,
    },
    /// A step-up or step-down must pass the bead where the round began and the
    /// first bead of the new round.
    WrongTurn {
        expected: [Bead; 2],
        found: Vec<Bead>,
    },
    RoundHolds {
        expected: u32,
        found: u32,
    },
    /// The step's own count, and the full number of beads of the round.
    RoundFields {
        expected: (u32, u32),
        found: (u32, u32),
    },
    /// The last ring must be passed once round and through one more bead.
    NotDrawnShut,
    /// A rim must be passed twice round.
    NotFirmed {
        bead: Bead,
    },

    // --- sides ---
    /// A side that ends in gaps cannot be joined.
    CannotBeJoined {
        panel: Panel,
        side: Side,
    },
    /// A side can be used only once: for a row, a zip, or a fill.
    SideUsedTwice {
        panel: Panel,
        side: Side,
    },
    /// A zip onto a side without a row.
    NoRow {
        panel: Panel,
        side: Side,
    },
    SidesDiffer {
        bare: u32,
        row: u32,
    },
    ZipOrder {
        expected: Bead,
        found: Bead,
    },
    /// A bead of a fill must end at the corner of its rim.
    OffTheCorner {
        bead: Bead,
    },
    /// A side of a fill begins where there is no join row.
    OffTheRim {
        bead: Bead,
    },
    /// The sides under a fill do not form a closed path round an opening.
    RimBroken {
        panel: Panel,
        side: Side,
    },
    /// A face is sewn to a bead of the solid across the hinge.
    AcrossTheHinge {
        bead: Bead,
    },
    /// Corners should be tied, but no thread went through both.
    NotTied,

    // --- the whole ---
    Panels {
        expected: u32,
        found: u32,
    },
    WrongPanel {
        expected: Panel,
        found: Panel,
    },
    /// The job is not the one in the maker's list at that place.
    NotAsListed,
    /// Jobs of a maker's list.
    Jobs {
        expected: u32,
        found: u32,
    },
    /// Openings that are filled, or left open and reinforced.
    Openings {
        expected: u32,
        found: u32,
    },
    SideOpen {
        panel: Panel,
        side: Side,
    },
    /// How many sides are joined to a row, not counting the one that carries
    /// it.
    RowPartners {
        panel: Panel,
        side: Side,
        expected: u32,
        found: u32,
    },
    Rows {
        expected: u32,
        found: u32,
    },
    Corners {
        expected: u32,
        found: u32,
    },
    FacesAtCorner {
        expected: u32,
        found: u32,
    },
}
