//! Own steps of the maker: no bead is strung and the thread does not move.

use crate::beadwork::goal::AtNeedle;
use crate::beadwork::route;
use crate::beadwork::{Bead, Goal, Hole, Refusal, Sequence, Step, Work};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// An own step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OwnStep {
    /// What it is.
    pub what: OwnStepKind,
    /// The maker's text; may be empty, except for a note.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
}

/// What to do in a step that strings no bead.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub enum OwnStepKind {
    /// Set a stone.
    Stone,
    /// Sew through a join a second time.
    Join,
    /// Try the fit and look at the piece.
    Fit,
    /// Something to tick off.
    Note,
}

impl OwnStepKind {
    /// All kinds, each with its name in files and its sentence.
    pub const ALL: [(OwnStepKind, &'static str, &'static str); 4] = [
        (OwnStepKind::Stone, "stone", "Set the stone"),
        (OwnStepKind::Join, "join", "Go through the join again"),
        (OwnStepKind::Fit, "fit", "Fit it and look"),
        (OwnStepKind::Note, "note", "Do and tick off"),
    ];
}

impl OwnStep {
    /// What to do: one sentence, without a full stop.
    pub fn say(&self) -> String {
        let (_, _, sentence) = OwnStepKind::ALL[self.what as usize];
        match self.text.trim() {
            "" => sentence.into(),
            text => format!("{sentence}: {text}"),
        }
    }
}

impl Sequence {
    /// The beads that the needle would go through to come out of a bead, after
    /// a step: the shortest way through beads that touch.
    ///
    /// # Errors
    /// The reason why the bead cannot be reached.
    pub fn way_through(&self, done: Step, to: Bead) -> Result<Vec<Bead>, Refusal> {
        let way = self.work_at(done).way_through(to)?;
        Ok(way.into_iter().map(|hole| hole.bead).collect())
    }
}

impl Work {
    /// Does an own step next.
    pub(super) fn add_own(&self, goal: &mut Goal, own: &OwnStep) -> Result<(), Refusal> {
        Refusal::NoJob.when(self.jobs().is_empty())?;
        self.add_here(goal, AtNeedle::Own(own.clone()));
        Ok(())
    }

    /// Ends the current thread here: it is woven in, and a new thread is
    /// started.
    pub(super) fn end_thread_here(&self, goal: &mut Goal) -> Result<(), Refusal> {
        Refusal::NoThread.when(self.needle().is_none())?;
        Refusal::CannotPart.unless(self.can_renew_here())?;
        self.add_here(goal, AtNeedle::EndThread);
        Ok(())
    }

    /// Sews through to a bead.
    pub(super) fn sew_through_here(&self, goal: &mut Goal, to: Bead) -> Result<(), Refusal> {
        self.way_through(to)?;
        self.add_here(goal, AtNeedle::SewThrough(to));
        Ok(())
    }

    /// The shortest way through beads that touch until the needle comes out of
    /// a bead.
    pub(in crate::beadwork) fn way_through(&self, to: Bead) -> Result<Vec<Hole>, Refusal> {
        let needle = self.needle().ok_or(Refusal::NoThread)?;
        Refusal::NotStrung(Hole::front(to)).unless((1..=self.strung).contains(&to.0))?;
        Refusal::AtNeedle(to).when(needle.bead == to)?;
        Refusal::CannotPart.unless(self.is_held())?;
        let way = route::shortest(self.touching(), needle, usize::MAX, |hole| hole.bead == to);
        way.ok_or(Refusal::NoWay(to))
    }

    fn add_here(&self, goal: &mut Goal, what: AtNeedle) {
        let behind = goal.here.last().map_or(0, |(step, _)| step + 1);
        goal.here.push((behind.max(self.steps()), what));
    }
}
