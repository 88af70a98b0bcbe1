//! New patterns: the file for a shape, a solid, a folded pair or a ring, of the
//! size and beads asked for, to be read and edited by hand.
//!
//! ```text
//! options -> rounds -> panels, colours, stone -> thread and needle -> the file
//! ```

mod ask;
mod file;
mod sized;

pub use ask::{BeadSort, ColourAsk, DraftOptions, DraftShape, Measure};

use super::Plan;
use super::fullest::Help;
use crate::beadwork::Sequence;
use crate::pattern::file::{File, NeedleFile, NeedleSize, ThreadFile};
use crate::pattern::{self, Pattern};
use crate::problem::Problem;

/// A new pattern.
#[derive(Clone, Debug)]
pub struct PatternDraft {
    /// The text of its file.
    pub text: String,
    /// The pattern read back from that text.
    pub pattern: Pattern,
    /// Rounds of its panels.
    pub rounds: u32,
    /// What it takes.
    pub plan: Plan,
}

/// Drafts a pattern. The file it returns has been read back like any other.
///
/// # Errors
/// An option that cannot be met, or a pattern that the reader refuses (too many
/// beads, a hole that no needle goes through).
pub fn draft(ask: &DraftOptions) -> Result<PatternDraft, Problem> {
    let rounds = sized::rounds(ask)?;
    let stop_at = sized::stop_at(ask, rounds)?;
    let mut file = file::file(ask, rounds, stop_at);
    let (pattern, plan) = read(&file)?;
    let (pattern, plan) = match fit(ask, &plan, &mut file) {
        true => read(&file)?,
        false => (pattern, plan),
    };
    Ok(PatternDraft {
        text: pattern::write(&file),
        pattern,
        rounds,
        plan,
    })
}

/// Reads a drafted file like any other, and plans it.
fn read(file: &File) -> Result<(Pattern, Plan), Problem> {
    let text = pattern::write(file);
    let pattern = pattern::read("the draft", text.as_bytes()).map_err(|problems| {
        let what = format!("such a pattern cannot be sewn: {problems}");
        Problem::new(what, "take fewer rounds, or other beads")
    })?;
    let seq = Sequence::new(pattern.project.clone());
    let plan = Plan::of(&seq, super::Wishes::default());
    Ok((pattern, plan))
}

/// Chooses a finer needle or a thinner thread where the usual one would be
/// tight, unless the maker named them. Returns whether anything was changed.
fn fit(ask: &DraftOptions, plan: &Plan, file: &mut File) -> bool {
    let (mut needle, mut thread) = (None, None);
    for help in &plan.fullest.help {
        let (with_needle, with_thread) = match help {
            Help::Needle(size) => (Some(*size), None),
            Help::Thread(name) => (None, Some(*name)),
            Help::Both(size, name) => (Some(*size), Some(*name)),
            // As fine as possible; the plan reports what stays tight.
            Help::NextDoor => (Some(15), Some("braided 0.12")),
        };
        let allowed = (with_needle.is_none() || ask.needle.is_none())
            && (with_thread.is_none() || ask.thread.is_none());
        if allowed {
            (needle, thread) = (with_needle, with_thread);
            break;
        }
    }
    if let Some(size) = needle {
        file.needle = NeedleFile::Sized(NeedleSize(size.into()));
    }
    if let Some(name) = thread {
        file.thread = ThreadFile::Named(name.into());
    }
    needle.is_some() || thread.is_some()
}

#[cfg(test)]
mod tests;
