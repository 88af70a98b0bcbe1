//! Findings in words; these sentences are made only here.

use super::end::BeadEnd;
use super::finding::{Fault, Finding};
use crate::beadwork::number::Bead;
use crate::beadwork::plural;
use std::fmt;

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

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::StepNumber { expected } => write!(f, "this should be step {expected}"),
            Fault::JobOutOfOrder => {
                f.write_str("the step belongs to a job that is done, or to none")
            }
            Fault::JobSteps { expected, found } => {
                write!(f, "the job says {expected} steps but has {found}")
            }
            Fault::JobBeads { expected, found } => {
                write!(
                    f,
                    "the job says it strings {expected} beads but strings {found}"
                )
            }
            Fault::JobUnfinished => f.write_str("the work of this job is not done to its end"),
            Fault::Unexpected { expected, found } => {
                write!(f, "a {} has no place here", found.name())?;
                expected.map_or(Ok(()), |kind| write!(f, "; a {} was expected", kind.name()))
            }
            Fault::UnknownBead { bead } => write!(f, "the piece has no bead {bead}"),
            Fault::StrungTwice { bead } => write!(f, "bead {bead} is strung a second time"),
            Fault::NotPassed { bead } => write!(f, "bead {bead} is strung but not gone through"),
            Fault::NotYetStrung { bead } => {
                write!(f, "bead {bead} is gone through before it is strung")
            }
            Fault::NeverStrung { bead } => write!(f, "bead {bead} is never strung"),
            Fault::StringsWrong {
                kind,
                expected,
                found,
            } => write!(f, "a {} strings {expected}, not {found}", kind.name()),
            Fault::NotThere { bead: Some(bead) } => {
                write!(f, "bead {bead} is broken out, but isn't there")
            }
            Fault::NotThere { bead: None } => f.write_str("no bead is broken out here"),
            Fault::SewnOnto { bead } => {
                write!(
                    f,
                    "bead {bead} is broken out, but thread goes through it again"
                )
            }
            Fault::BreakOutsOfJob => f.write_str("the job says another number of beads broken out"),
            Fault::NoThread => f.write_str("no thread is in the work"),
            Fault::ThreadStillIn => f.write_str("new thread, but the old is still in the work"),
            Fault::EndSlides { beads, turns } => write!(
                f,
                "the end is woven in through {} with {}: it can slide; 8 beads and 2 turns can be had here",
                plural(*beads as usize, "bead"),
                plural(*turns as usize, "turn")
            ),
            Fault::ThreadLeft => f.write_str("the piece ends with thread not woven in"),
            Fault::Jump { from, to } => {
                write!(
                    f,
                    "the thread crosses open space from bead {from} to bead {to}"
                )
            }
            Fault::TipPassedBy { bead } => write!(
                f,
                "at the corner between two zips the needle goes past tip bead {bead}, and should go through it"
            ),
            Fault::TurnsInside { bead } => write!(f, "the thread turns back inside bead {bead}"),
            Fault::NeedleElsewhere { expected, found } => {
                write!(f, "the needle should leave {}", in_words(*expected))?;
                match found {
                    Some(bead) => write!(f, " but leaves bead {bead}"),
                    None => f.write_str(" but leaves no bead"),
                }
            }
            Fault::Blocked { bead, passes } => write!(
                f,
                "bead {bead} holds {passes} threads already and takes no more beside the needle"
            ),
            Fault::RoundNumber { expected } => write!(f, "round {expected} is being worked"),
            Fault::SideNumber { expected, found } => match found {
                Some(found) => write!(f, "this is side {expected}, not side {found}"),
                None => write!(f, "this is side {expected}, but no side is given"),
            },
            Fault::GapHolds {
                gap,
                expected,
                found,
            } => write!(f, "gap {gap} takes {expected}, but {found} strung"),
            Fault::SkippedGap { gap } => write!(f, "gap {gap} is left out"),
            Fault::BeyondTheRound { gaps } => {
                write!(f, "all {gaps} places are done, and work goes on")
            }
            Fault::WrongBead { expected, found } => write!(
                f,
                "the needle goes on into {}, not into {}",
                maybe(*found),
                maybe(*expected)
            ),
            Fault::WrongTurn { expected, found } => write!(
                f,
                "the two beads to go through are {} and {}, not {}",
                expected[0],
                expected[1],
                list(found)
            ),
            Fault::RoundHolds { expected, found } => {
                write!(f, "the round has {found} beads, its law says {expected}")
            }
            Fault::RoundFields { expected, found } => write!(
                f,
                "the step says {} of {}, in place are {} of {}",
                found.0, found.1, expected.0, expected.1
            ),
            Fault::NotDrawnShut => f.write_str("the last ring is not drawn shut all round"),
            Fault::NotFirmed { bead } => {
                write!(
                    f,
                    "the rim is not run round twice: bead {bead} is left slack"
                )
            }
            Fault::CannotBeJoined { panel, side } => {
                write!(
                    f,
                    "side {side} of panel {panel} has no edge that can be joined"
                )
            }
            Fault::SideUsedTwice { panel, side } => {
                write!(f, "side {side} of panel {panel} is joined a second time")
            }
            Fault::NoRow { panel, side } => {
                write!(f, "side {side} of panel {panel} carries no join row")
            }
            Fault::SidesDiffer { bare, row } => {
                write!(f, "a side of {bare} beads meets a side of {row}")
            }
            Fault::ZipOrder { expected, found } => {
                write!(
                    f,
                    "the next tooth of the zip is bead {expected}, not bead {found}"
                )
            }
            Fault::OffTheCorner { bead } => write!(
                f,
                "bead {bead} should reach to the corner of the opening, but the thread lies elsewhere"
            ),
            Fault::OffTheRim { bead } => {
                write!(
                    f,
                    "bead {bead} begins a side of the fill, but on no join row"
                )
            }
            Fault::RimBroken { panel, side } => write!(
                f,
                "the sides under the fill do not go round an opening at side {side} of panel {panel}"
            ),
            Fault::AcrossTheHinge { bead } => write!(
                f,
                "the face is sewn to bead {bead}, which belongs to the solid across the hinge"
            ),
            Fault::NotTied => f.write_str("no thread goes through both corners after the fold"),
            Fault::Panels { expected, found } => {
                write!(
                    f,
                    "the piece has {found} panels, the pattern asks for {expected}"
                )
            }
            Fault::WrongPanel { expected, found } => {
                write!(f, "panel {expected} is made next, not panel {found}")
            }
            Fault::NotAsListed => f.write_str("the list asks for another job here"),
            Fault::Jobs { expected, found } => {
                write!(f, "the piece has {found} jobs, the list has {expected}")
            }
            Fault::Openings { expected, found } => write!(
                f,
                "{found} openings are closed so, the pattern asks for {expected}"
            ),
            Fault::SideOpen { panel, side } => {
                write!(f, "side {side} of panel {panel} is joined to nothing")
            }
            Fault::RowPartners {
                panel,
                side,
                expected,
                found,
            } => write!(
                f,
                "{found} sides are joined to the row on side {side} of panel {panel}, not {expected}"
            ),
            Fault::Rows { expected, found } => {
                write!(
                    f,
                    "{found} rows join the piece, the solid has {expected} such edges"
                )
            }
            Fault::Corners { expected, found } => {
                write!(f, "the piece has {found} corners, the solid has {expected}")
            }
            Fault::FacesAtCorner { expected, found } => {
                write!(f, "{found} panels meet at a corner where {expected} should")
            }
        }
    }
}

fn in_words(end: BeadEnd) -> String {
    let side = if end.is_front() { "front" } else { "back" };
    format!("bead {} by its {side}", end.bead())
}

fn maybe(bead: Option<Bead>) -> String {
    bead.map_or_else(|| "none".into(), |bead| format!("bead {bead}"))
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
