//! The proof: a second, separate reading of the rules.
//!
//! It takes the steps alone, with the pattern's laws and what each job is
//! for, and shares no code with what made them. It sews the piece again in
//! its own way and reports whatever is against a rule:
//!
//! - steps are numbered without holes; each bead is strung once, and passed
//!   in that same step;
//! - each round has the beads that its law says, gap by gap and side by side;
//! - a step-up or step-down passes two beads, the one where the round began
//!   and the first of the new round;
//! - the thread goes on from bead end to touching bead end (`ThreadState` says
//!   what touches), and a length of thread is ended before another begins;
//! - each side is joined once, tooth by tooth; the whole is the solid that
//!   was asked for;
//! - at a hinge a face is sewn to its own solid only;
//! - no hole is passed more often than it holds;
//! - a bead that is broken out was strung, nothing is sewn onto it, and nothing
//!   goes through it later: without it each gap is as its law says;
//! - an end of thread is woven in so that it cannot slide.
//!
//! | part | what it reads |
//! |---|---|
//! | `face` | rounds and sides of a panel, from its law |
//! | `round`, `panel` | rounds as they are worked |
//! | `strip` | rows of a strip as they are worked |
//! | `rim`, `row`, `zip`, `lock`, `firm` | joins and openings |
//! | `hinge` | which solid a face is sewn to |
//! | `thread`, `links`, `corners` | where the needle may go |
//! | `mend` | beads that are broken out |
//! | `woven` | how thread begins and ends |
//! | `ledger`, `whole` | what became of each side; the piece as a whole |

mod close;
mod corners;
mod end;
mod face;
mod finding;
mod firm;
mod free_start;
mod hinge;
mod holes;
mod labels;
mod ledger;
mod links;
mod lock;
mod mend;
mod panel;
mod reading;
mod required;
mod rim;
mod round;
mod row;
mod strip;
#[cfg(test)]
mod tests;
mod thread;
mod tie;
mod verify_state;
mod whole;
mod woven;
mod zip;

pub use end::BeadEnd;
pub use finding::{Fault, Finding};
#[cfg(doc)]
use thread::ThreadState;

use super::bead::BeadSize;
use super::goal::Goal;
use super::job::JobInfo;
use super::movement::Movement;
use super::number::Bead;
use super::project::Project;
use reading::StepReader;
use verify_state::VerifyState;

/// Findings that are kept; more are only counted.
pub const MOST_FINDINGS: usize = 100;

/// What the proof has found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Report {
    /// What is against a rule, in the order of the steps; at most
    /// [`MOST_FINDINGS`].
    pub findings: Vec<Finding>,
    /// Findings beyond those.
    pub more: u64,
    /// Steps read.
    pub steps: u32,
    /// Beads strung.
    pub beads: u32,
    /// Beads gone through.
    pub passes: u64,
    /// Rounds read, rounds 1 and strings of two among them.
    pub rounds: u32,
    /// Sides joined: zipped, or filled on.
    pub joins: u32,
    /// Lengths of thread.
    pub threads: u32,
    /// The most times that any bead is passed.
    pub fullest: u32,
}

impl Report {
    /// Whether nothing is against a rule.
    pub fn is_proved(&self) -> bool {
        self.findings.is_empty()
    }
}

/// Proves the steps of a piece.
///
/// `goal` is what is to be made: the pattern's own, or as the maker amended it.
/// `jobs` says what each job is for, how many steps it has, how many beads
/// it strings and how many are broken out in it; `steps` are those that were
/// made, and `size_of` gives the size of each bead, by its number in them.
///
/// ```
/// use threadmark::beadwork::{Sequence, verify::verify};
///
/// let pattern = threadmark::pattern::load("patterns/practice-pair.json")?;
/// let sequence = Sequence::new(pattern.project);
/// let (layout, jobs) = (sequence.layout(), sequence.jobs());
/// let project = layout.project();
/// let size = |bead| layout.bead_kind(sequence.colour_as_made(bead)).size;
/// let report = verify(project, sequence.goal(), jobs, sequence.iter_as_made(), size);
/// assert!(report.is_proved());
/// assert_eq!(report.beads, layout.beads());
/// # Ok::<(), threadmark::problem::Problems>(())
/// ```
pub fn verify(
    project: &Project,
    goal: &Goal,
    jobs: &[JobInfo],
    steps: impl Iterator<Item = Movement> + Clone,
    size_of: impl Fn(Bead) -> BeadSize,
) -> Report {
    let broken = mend::broken_out(jobs, steps.clone());
    let mut state = VerifyState::new(project, goal, (jobs, broken.len()));
    let mut reader = StepReader::new(jobs, broken);
    for movement in steps {
        reader.read(&movement, &mut state, &size_of);
    }
    reader.finish(&mut state);
    hinge::check(&mut state);
    whole::check(jobs.len() as u32, &mut state);
    state.report()
}
