//! What the proof can find, as data.

use super::end::BeadEnd;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Bead, Job, Panel, Round, Side, Step};

/// One thing that is against a rule, and where.
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

/// What is against a rule.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs)] // the fields are what their names say
pub enum Fault {
    // --- steps and beads ---
    /// Steps are numbered from 1 without holes.
    StepNumber {
        expected: Step,
    },
    /// Jobs follow one another, and their steps and beads are as they say.
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
    /// A movement that has no place there.
    Unexpected {
        expected: Option<Kind>,
        found: Kind,
    },
    /// No such bead is in the piece.
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
    /// Of its break-outs a job says another number.
    BreakOutsOfJob,

    // --- the thread ---
    NoThread,
    /// New thread is started while the old is in the work.
    ThreadStillIn,
    /// The piece ends with thread in the work.
    ThreadLeft,
    /// An end of thread is woven in through so many beads with so many turns,
    /// though a way that holds could be had.
    EndSlides {
        beads: u32,
        turns: u32,
    },
    /// From bead to bead across open space.
    Jump {
        from: Bead,
        to: Bead,
    },
    /// A zip turns a corner and leaves out a tip bead there.
    TipPassedBy {
        bead: Bead,
    },
    /// Out at the end where it went in.
    TurnsInside {
        bead: Bead,
    },
    /// The needle must leave one end, but leaves another.
    NeedleElsewhere {
        expected: BeadEnd,
        found: Option<Bead>,
    },
    /// The hole holds no more thread beside the needle.
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
    /// A gap of the word, from 1 where the round begins.
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
    /// A step-up or step-down passes the bead where the round began and the
    /// first bead of the new round.
    WrongTurn {
        expected: [Bead; 2],
        found: Vec<Bead>,
    },
    RoundHolds {
        expected: u32,
        found: u32,
    },
    /// The step's own count, and the round's whole number.
    RoundFields {
        expected: (u32, u32),
        found: (u32, u32),
    },
    /// The last ring is passed all round and once more.
    NotDrawnShut,
    /// A rim is run round twice.
    NotFirmed {
        bead: Bead,
    },

    // --- sides ---
    /// A side that ends in gaps cannot be joined.
    CannotBeJoined {
        panel: Panel,
        side: Side,
    },
    /// A side has one fate only: a row, a zip, or a place in a fill.
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
    /// A side of a fill begins where no join row is.
    OffTheRim {
        bead: Bead,
    },
    /// The sides under a fill do not follow one another round an opening.
    RimBroken {
        panel: Panel,
        side: Side,
    },
    /// A face is sewn to a bead of the solid across the hinge.
    AcrossTheHinge {
        bead: Bead,
    },
    /// Corners were to be tied, but no thread went through both.
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
    /// The job is not the one that the maker's list asks for there.
    NotAsListed,
    /// Jobs of a maker's list.
    Jobs {
        expected: u32,
        found: u32,
    },
    /// Openings that are filled, or left open and firmed.
    Openings {
        expected: u32,
        found: u32,
    },
    SideOpen {
        panel: Panel,
        side: Side,
    },
    /// How many sides stand on a row, its own not counted.
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
