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
use crate::problem::{Problem, Problems};

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
    for (nth, colour) in ask.colours.iter().enumerate() {
        let letter = colour.letter;
        if ask.colours[..nth]
            .iter()
            .any(|other| other.letter == letter)
        {
            return Err(Problem::new(
                format!("two beads have the letter '{letter}'"),
                "give each --bead a letter of its own",
            ));
        }
    }
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
    let read = pattern::read("the draft", text.as_bytes());
    let pattern = read.map_err(|problems| refused(&problems))?;
    let seq = Sequence::new(pattern.project.clone());
    let plan = Plan::of(&seq, super::Wishes::default());
    Ok((pattern, plan))
}

/// Why the reader refused a draft: an option that cannot be as it is, by its name,
/// or the pattern as a whole.
fn refused(problems: &Problems) -> Problem {
    let first = &problems.list[0];
    let field = first.place.as_ref().map_or("", |place| &place.field);
    let (top, last) = (field.split('.').next(), field.rsplit('.').next());
    let option = match (top, last) {
        (Some("title"), _) => "--title",
        (Some("thread"), _) => "--thread",
        (Some("needle"), _) => "--needle",
        (Some("beads"), Some("diameter_mm")) => "--diameter",
        (Some("beads"), Some("length_mm")) => "--length",
        (Some("beads"), Some("hole_mm")) => "--hole",
        (Some("beads"), Some("per_gram")) => "--per-gram",
        (Some("beads"), _) => "--bead",
        _ => {
            let what = format!("such a pattern cannot be sewn: {}", first.sentence());
            return Problem::new(what, "take fewer rounds, or other beads");
        }
    };
    Problem::new(format!("{option}: {}", first.sentence()), &first.mend)
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
