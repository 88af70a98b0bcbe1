//! New patterns: the file for a shape, a solid, a folded pair or a ring, of a
//! wished size, in wished beads, to be read and changed by hand.
//!
//! ```text
//! Ask -> rounds -> panels, colours, stone -> thread and needle -> the file
//! ```

mod ask;
mod error;
mod file;
mod fit;
mod shape;
mod sized;

pub use ask::{Ask, BeadSort, ColourAsk, Measure};
pub use error::DraftError;
pub use shape::Shape;

use super::Plan;
use crate::beadwork::Sequence;
use crate::pattern::file::File;
use crate::pattern::{self, Pattern};

/// A new pattern.
#[derive(Clone, Debug)]
pub struct Draft {
    /// The file, to be written.
    pub file: File,
    /// Its text.
    pub text: String,
    /// What it reads as.
    pub pattern: Pattern,
    /// Rounds of its panels.
    pub rounds: u32,
    /// What it takes.
    pub plan: Plan,
}

/// Drafts a pattern. What it gives has been read back as any file is.
///
/// # Errors
/// [`DraftError`]: a wish that cannot be met, or a pattern that the reader
/// refuses (too many beads, a hole that no needle goes through).
pub fn draft(ask: &Ask) -> Result<Draft, DraftError> {
    let rounds = sized::rounds(ask)?;
    let stop_at = sized::stop_at(ask, rounds)?;
    let mut file = file::file(ask, rounds, stop_at);
    let (pattern, plan) = read(&file)?;
    let (pattern, plan) = match fit::fit(ask, &plan, &mut file) {
        true => read(&file)?,
        false => (pattern, plan),
    };
    Ok(Draft {
        text: pattern::write(&file),
        file,
        pattern,
        rounds,
        plan,
    })
}

/// Reads a drafted file as any other is read, and plans it.
fn read(file: &File) -> Result<(Pattern, Plan), DraftError> {
    let text = pattern::write(file);
    let pattern = pattern::read("the draft", text.as_bytes()).map_err(DraftError::Refused)?;
    let seq = Sequence::new(pattern.project.clone());
    let plan = Plan::of(&seq, super::Wishes::default());
    Ok((pattern, plan))
}

#[cfg(test)]
mod tests;
