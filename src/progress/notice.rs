//! Messages to the maker when a piece is opened.

use std::fmt;

/// What was wrong with a journal, and what was done about it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Damage {
    /// Bytes left out.
    pub bytes: u64,
    /// How many places were left out.
    pub stretches: u64,
    /// Where the first place starts, in bytes from 0.
    pub first_at: u64,
    /// Whether only the last line is incomplete, as after a power cut.
    pub only_torn_end: bool,
    /// Whether the first line, which names the format, is missing or
    /// unreadable.
    pub no_header: bool,
    /// How many good entries were used.
    pub kept: u64,
    /// The name of the copy of the damaged journal in the piece's directory.
    /// `None` if it is not written yet, or if the piece is opened only to look.
    pub kept_as: Option<String>,
}

impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.only_torn_end {
            write!(
                f,
                "the last line of the journal is torn: its {} bytes are left out",
                self.bytes
            )?;
        } else if self.bytes == 0 {
            write!(
                f,
                "the journal has lost its first line, which names its format"
            )?;
        } else {
            write!(
                f,
                "the journal is damaged from byte {} on: ",
                self.first_at + 1
            )?;
            match self.stretches {
                1 => write!(f, "{} bytes are left out", self.bytes)?,
                n => write!(f, "{} bytes in {n} places are left out", self.bytes)?,
            }
        }
        match self.kept {
            0 => write!(
                f,
                "; no entry could be read, so the piece stands at its beginning"
            )?,
            1 => write!(f, "; 1 whole entry is used")?,
            n => write!(f, "; all {n} whole entries are used")?,
        }
        match &self.kept_as {
            Some(name) => write!(f, ". The damaged file is kept beside as {name}"),
            None => Ok(()),
        }
    }
}

/// A message to the maker when a piece is opened. The maker can work on the
/// piece in spite of it, except that a second program can only look.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Notice {
    /// Another program has this piece open for work; this one may look.
    #[error(
        "this piece is open elsewhere: you may look, but nothing is written. \
         Close it there and open it here again to work on it"
    )]
    OpenElsewhere,
    /// The journal was damaged.
    #[error("{0}")]
    Damaged(Damage),
    /// The journal holds entries of a newer version; they are kept.
    #[error("{}", newer(*.entries))]
    Unknown {
        /// How many.
        entries: u64,
    },
    /// The piece's own copy of the pattern is not what it was at the start.
    #[error(
        "this piece's own copy of the pattern is not what it was when the piece was begun: \
         count before you go on"
    )]
    OwnCopyChanged,
    /// The journal is at a step that the piece does not have.
    #[error(
        "the journal stands at step {step}, and this piece has {steps} steps: it is taken \
         as finished. Go to the step that you are at"
    )]
    BeyondEnd {
        /// The step.
        step: u32,
        /// Steps in all.
        steps: u32,
    },
    /// piece.json is missing or unreadable; title and source are lost.
    #[error(
        "piece.json could not be read: title and source of the piece are lost, its progress is not{}",
        unreadable(.kept_as.as_deref())
    )]
    MetadataLost {
        /// The name under which the unreadable file is kept.
        kept_as: Option<String>,
    },
    /// The journal has movements that cannot be played on this pattern; from
    /// there on the steps are taken as planned.
    #[error(
        "step {step} in the journal doesn't fit the piece ({why}): from there on the \
         steps are taken as planned. Count before you go on"
    )]
    Unplayable {
        /// The first such step.
        step: u32,
        /// Why, in trade words.
        why: String,
    },
    /// The maker named a pattern, and several pieces of it are not finished: this
    /// one was worked on last.
    #[error(
        "this is '{piece}', worked on last. {others} with `threadmark pieces rename`",
        others = begun(.others)
    )]
    LastOfSeveral {
        /// This piece, by its name in the tray.
        piece: String,
        /// The others.
        others: Vec<String>,
    },
    /// This file system has no locks: the piece can be opened twice.
    #[error("this file system gives no locks: see to it that the piece is open only once")]
    NoLock,
}

fn begun(others: &[String]) -> String {
    match others {
        [one] => {
            format!("'{one}' is begun too: open it from the tray (t), or give it another name")
        }
        _ => format!(
            "{} are begun too: open one of them from the tray (t), or give them other names",
            crate::problem::names(others, "and")
        ),
    }
}

fn newer(entries: u64) -> String {
    match entries {
        1 => "1 entry of the journal is from a newer threadmark; it is kept".into(),
        n => format!("{n} entries of the journal are from a newer threadmark; they are kept"),
    }
}

fn unreadable(kept_as: Option<&str>) -> String {
    kept_as.map_or_else(String::new, |name| {
        format!(". The unreadable file is kept beside as {name}")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_message_about_an_incomplete_last_line() {
        let damage = Damage {
            bytes: 31,
            stretches: 1,
            first_at: 900,
            only_torn_end: true,
            kept: 12,
            kept_as: Some("journal.damaged-1".into()),
            ..Damage::default()
        };
        assert_eq!(
            damage.to_string(),
            "the last line of the journal is torn: its 31 bytes are left out; all 12 whole entries \
             are used. The damaged file is kept beside as journal.damaged-1"
        );
    }

    #[test]
    fn the_message_about_a_journal_without_a_good_line() {
        let damage = Damage {
            bytes: 512,
            stretches: 1,
            no_header: true,
            ..Damage::default()
        };
        assert_eq!(
            damage.to_string(),
            "the journal is damaged from byte 1 on: 512 bytes are left out; no entry could be \
             read, so the piece stands at its beginning"
        );
    }
}
