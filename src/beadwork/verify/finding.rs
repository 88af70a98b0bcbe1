//! What the verifier can find, and the sentence for each.

use super::end::BeadEnd;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Bead, Job, Panel, Round, Side, Step};
use crate::beadwork::plural;
use std::fmt;

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
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the fields are what their names say
pub enum Fault {
    // --- steps and beads ---
    /// Steps must be numbered from 1 without gaps.
    #[error("this should be step {expected}")]
    StepNumber { expected: Step },
    /// Jobs must follow one another, with the steps and beads that they give.
    #[error("the step belongs to a job that is done, or to none")]
    JobOutOfOrder,
    #[error("the job says {expected} steps but has {found}")]
    JobSteps { expected: u32, found: u32 },
    #[error("the job says it strings {expected} beads but strings {found}")]
    JobBeads { expected: u32, found: u32 },
    /// A job was left before it was done.
    #[error("the work of this job is not done to its end")]
    JobUnfinished,
    /// A movement that does not belong there.
    #[error("a {} has no place here{}", .found.name(), or_expected(*.expected))]
    Unexpected { expected: Option<Kind>, found: Kind },
    /// The piece has no such bead.
    #[error("the piece has no bead {0}")]
    UnknownBead(Bead),
    #[error("bead {0} is strung a second time")]
    StrungTwice(Bead),
    /// Strung, but not passed in the same step.
    #[error("bead {0} is strung but not gone through")]
    NotPassed(Bead),
    /// Passed before it was strung.
    #[error("bead {0} is gone through before it is strung")]
    NotYetStrung(Bead),
    /// Numbered, but never strung.
    #[error("bead {0} is never strung")]
    NeverStrung(Bead),
    /// A stitch strings one bead, an increase two, and so on.
    #[error("a {} strings {expected}, not {found}", .kind.name())]
    StringsWrong {
        kind: Kind,
        expected: u32,
        found: u32,
    },

    /// Broken out, but not in place.
    #[error("{}", not_there(*.0))]
    NotThere(Option<Bead>),
    /// Gone through, though it is broken out.
    #[error("bead {0} is broken out, but thread goes through it again")]
    SewnOnto(Bead),
    /// A job gives a different number of break-outs.
    #[error("the job says another number of beads broken out")]
    BreakOutsOfJob,

    // --- the thread ---
    #[error("no thread is in the work")]
    NoThread,
    /// New thread is started while the old one is still in the work.
    #[error("new thread, but the old is still in the work")]
    ThreadStillIn,
    /// The piece ends with thread in the work.
    #[error("the piece ends with thread not woven in")]
    ThreadLeft,
    /// An end of thread is woven in through too few beads or with too few
    /// turns, although a path that holds is available.
    #[error(
        "the end is woven in through {} with {}: it can slide; 8 beads and 2 turns can be had here",
        plural(*.beads as usize, "bead"), plural(*.turns as usize, "turn")
    )]
    EndSlides { beads: u32, turns: u32 },
    /// The thread crosses open space between two beads.
    #[error("the thread crosses open space from bead {from} to bead {to}")]
    Jump { from: Bead, to: Bead },
    /// A zip turns a corner without passing a tip bead there.
    #[error(
        "at the corner between two zips the needle goes past tip bead {0}, and should go through it"
    )]
    TipPassedBy(Bead),
    /// The thread comes out at the end where it went in.
    #[error("the thread turns back inside bead {0}")]
    TurnsInside(Bead),
    /// The needle must leave one end, but leaves another one.
    #[error("the needle should leave {} but leaves {}", in_words(*.expected), or(*.found, "no bead"))]
    NeedleElsewhere {
        expected: BeadEnd,
        found: Option<Bead>,
    },
    /// The hole has no room for the needle beside the threads in it.
    #[error("bead {bead} holds {passes} threads already and takes no more beside the needle")]
    Blocked { bead: Bead, passes: u32 },

    // --- rounds ---
    #[error("round {expected} is being worked")]
    RoundNumber { expected: Round },
    #[error("this is side {expected}, {}", not_side(*.found))]
    SideNumber { expected: Side, found: Option<Side> },
    /// A gap of the word, numbered from 1 where the round begins.
    #[error("gap {gap} takes {expected}, but {found} strung")]
    GapHolds { gap: u32, expected: u32, found: u32 },
    #[error("gap {0} is left out")]
    SkippedGap(u32),
    /// Work went on beyond the last gap.
    #[error("all {0} places are done, and work goes on")]
    BeyondTheRound(u32),
    #[error("the needle goes on into {}, not into {}", or(*.found, "none"), or(*.expected, "none"))]
    WrongBead {
        expected: Option<Bead>,
        found: Option<Bead>,
    },
    /// A step-up or step-down must pass the bead where the round began and the
    /// first bead of the new round.
    #[error("the two beads to go through are {} and {}, not {}", .expected[0], .expected[1], list(.found))]
    WrongTurn {
        expected: [Bead; 2],
        found: Vec<Bead>,
    },
    #[error("the round has {found} beads, its law says {expected}")]
    RoundHolds { expected: u32, found: u32 },
    /// The step's own count, and the full number of beads of the round.
    #[error("the step says {} of {}, in place are {} of {}", .found.0, .found.1, .expected.0, .expected.1)]
    RoundFields {
        expected: (u32, u32),
        found: (u32, u32),
    },
    /// The last ring must be passed once round and through one more bead.
    #[error("the last ring is not drawn shut all round")]
    NotDrawnShut,
    /// A rim must be passed twice round.
    #[error("the rim is not run round twice: bead {0} is left slack")]
    NotFirmed(Bead),

    // --- sides ---
    /// A side that ends in gaps cannot be joined.
    #[error("side {side} of panel {panel} has no edge that can be joined")]
    CannotBeJoined { panel: Panel, side: Side },
    /// A side can be used only once: for a row, a zip, or a fill.
    #[error("side {side} of panel {panel} is joined a second time")]
    SideUsedTwice { panel: Panel, side: Side },
    /// A zip onto a side without a row.
    #[error("side {side} of panel {panel} carries no join row")]
    NoRow { panel: Panel, side: Side },
    #[error("a side of {bare} beads meets a side of {row}")]
    SidesDiffer { bare: u32, row: u32 },
    #[error("the next tooth of the zip is bead {expected}, not bead {found}")]
    ZipOrder { expected: Bead, found: Bead },
    /// A bead of a fill must end at the corner of its rim.
    #[error("bead {0} should reach to the corner of the opening, but the thread lies elsewhere")]
    OffTheCorner(Bead),
    /// A side of a fill begins where there is no join row.
    #[error("bead {0} begins a side of the fill, but on no join row")]
    OffTheRim(Bead),
    /// The sides under a fill do not form a closed path round an opening.
    #[error("the sides under the fill do not go round an opening at side {side} of panel {panel}")]
    RimBroken { panel: Panel, side: Side },
    /// A face is sewn to a bead of the solid across the hinge.
    #[error("the face is sewn to bead {0}, which belongs to the solid across the hinge")]
    AcrossTheHinge(Bead),
    /// Corners should be tied, but no thread went through both.
    #[error("no thread goes through both corners after the fold")]
    NotTied,

    // --- the whole ---
    #[error("the piece has {found} panels, the pattern asks for {expected}")]
    Panels { expected: u32, found: u32 },
    #[error("panel {expected} is made next, not panel {found}")]
    WrongPanel { expected: Panel, found: Panel },
    /// The job is not the one in the maker's list at that place.
    #[error("the list asks for another job here")]
    NotAsListed,
    /// Jobs of a maker's list.
    #[error("the piece has {found} jobs, the list has {expected}")]
    Jobs { expected: u32, found: u32 },
    /// Openings that are filled, or left open and reinforced.
    #[error("{found} openings are closed so, the pattern asks for {expected}")]
    Openings { expected: u32, found: u32 },
    #[error("side {side} of panel {panel} is joined to nothing")]
    SideOpen { panel: Panel, side: Side },
    /// How many sides are joined to a row, not counting the one that carries
    /// it.
    #[error("{found} sides are joined to the row on side {side} of panel {panel}, not {expected}")]
    RowPartners {
        panel: Panel,
        side: Side,
        expected: u32,
        found: u32,
    },
    #[error("{found} rows join the piece, the solid has {expected} such edges")]
    Rows { expected: u32, found: u32 },
    #[error("the piece has {found} corners, the solid has {expected}")]
    Corners { expected: u32, found: u32 },
    #[error("{found} panels meet at a corner where {expected} should")]
    FacesAtCorner { expected: u32, found: u32 },
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = [
            self.step.map(|step| format!("step {step}")),
            self.job.map(|job| format!("job {job}")),
            self.round.map(|round| format!("round {round}")),
        ];
        let place: Vec<String> = place.into_iter().flatten().collect();
        if !place.is_empty() {
            write!(f, "{}: ", place.join(", "))?;
        }
        self.fault.fmt(f)
    }
}

fn or_expected(kind: Option<Kind>) -> String {
    kind.map_or_else(String::new, |kind| {
        format!("; a {} was expected", kind.name())
    })
}

fn not_there(bead: Option<Bead>) -> String {
    match bead {
        Some(bead) => format!("bead {bead} is broken out, but isn't there"),
        None => "no bead is broken out here".into(),
    }
}

fn not_side(found: Option<Side>) -> String {
    match found {
        Some(found) => format!("not side {found}"),
        None => "but no side is given".into(),
    }
}

fn in_words(end: BeadEnd) -> String {
    let side = if end.is_front() { "front" } else { "back" };
    format!("bead {} by its {side}", end.bead())
}

fn or(bead: Option<Bead>, none: &str) -> String {
    bead.map_or_else(|| none.into(), |bead| format!("bead {bead}"))
}

fn list(beads: &[Bead]) -> String {
    match beads {
        [] => "none".into(),
        _ => {
            let numbers: Vec<String> = beads.iter().map(Bead::to_string).collect();
            numbers.join(", ")
        }
    }
}
