//! Steps of the maker's own: no bead is strung and no thread drawn.

use crate::beadwork::goal::{AtNeedle, Goal};
use crate::beadwork::rules::Refusal;
use crate::beadwork::work::Work;
use serde::{Deserialize, Serialize};

/// A step of the maker's own.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OwnStep {
    /// What it is.
    pub what: OwnKind,
    /// What the maker says of it; may be empty, save for a note.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
}

/// What a step of the maker's own is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OwnKind {
    /// A stone is set.
    Stone,
    /// A join is gone through a second time.
    Join,
    /// The piece is fitted and looked at.
    Fit,
    /// Something to be ticked off.
    Note,
}

impl OwnKind {
    /// All kinds, each with its name in files and its sentence.
    pub const ALL: [(OwnKind, &'static str, &'static str); 4] = [
        (OwnKind::Stone, "stone", "Set the stone"),
        (OwnKind::Join, "join", "Go through the join again"),
        (OwnKind::Fit, "fit", "Fit it and look"),
        (OwnKind::Note, "note", "Do and tick off"),
    ];
}

impl OwnStep {
    /// What to do: one sentence, without a full stop.
    pub fn say(&self) -> String {
        let (_, _, sentence) = OwnKind::ALL[self.what as usize];
        match self.text.trim() {
            "" => sentence.into(),
            text => format!("{sentence}: {text}"),
        }
    }
}

impl Work {
    /// A step of the maker's own is made next.
    pub(super) fn add_own(&self, goal: &mut Goal, own: &OwnStep) -> Result<(), Refusal> {
        if self.jobs().is_empty() {
            return Err(Refusal::NoJob);
        }
        self.add_here(goal, AtNeedle::Own(own.clone()));
        Ok(())
    }

    /// The thread in hand ends here: it is woven in, and new thread taken up.
    pub(super) fn end_thread_here(&self, goal: &mut Goal) -> Result<(), Refusal> {
        if self.needle().is_none() {
            return Err(Refusal::NoThread);
        }
        if !self.can_renew_here() {
            return Err(Refusal::CannotPart);
        }
        self.add_here(goal, AtNeedle::EndThread);
        Ok(())
    }

    fn add_here(&self, goal: &mut Goal, what: AtNeedle) {
        let behind = goal.here.last().map_or(0, |(step, _)| step + 1);
        goal.here.push((behind.max(self.steps()), what));
    }
}
