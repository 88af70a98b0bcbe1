//! Trouble with saving entries.

use std::fmt;
use std::io;

use crate::plain_file;

/// Whether an entry was saved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[must_use]
pub enum Saved {
    /// It is written, and survives the program being killed. A background
    /// thread syncs it to the disk.
    Written,
    /// It is in memory only. Every later entry and every `retry` tries again to
    /// write it. [`Trouble`] says why.
    Held,
    /// The piece is open to look: the entry changes the view and is not saved.
    LookOnly,
}

/// Why entries are in memory only.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// The kind of trouble.
    pub kind: TroubleKind,
    /// How many entries are in memory only.
    pub waiting: usize,
}

/// What could not be saved when a piece was closed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotSaved {
    /// Why.
    pub trouble: Trouble,
    /// The step of the piece on the disk, if that can be read.
    pub step: Option<u32>,
}

impl fmt::Display for NotSaved {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.trouble.kind)?;
        match self.step {
            Some(step) => write!(f, ". It rests after step {step}")?,
            None => write!(f, ". Its journal cannot be read")?,
        }
        match self.trouble.waiting {
            0 => Ok(()),
            1 => write!(f, "; 1 entry after that is lost"),
            n => write!(f, "; {n} entries after that are lost"),
        }
    }
}

/// Kinds of trouble with saving.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TroubleKind {
    /// The disk or the user's quota is full.
    #[error("the disk is full: free some space")]
    Full,
    /// The directory cannot be written to.
    #[error("the tray cannot be written to: allow writing there")]
    ReadOnly,
    /// The piece's directory or its journal is no longer where it was.
    #[error("the piece's directory is gone: it is made again if it can be")]
    Gone,
    /// The disk did not confirm what was written, for this reason.
    #[error("the disk did not confirm what was written ({0})")]
    Unconfirmed(String),
    /// Another program took the piece while its directory was gone.
    #[error("another program has opened this piece meanwhile: close it there")]
    TakenElsewhere,
    /// Anything else: the system's error.
    #[error("the journal cannot be written ({0})")]
    Other(String),
}

impl From<&io::Error> for TroubleKind {
    fn from(error: &io::Error) -> TroubleKind {
        use io::ErrorKind::*;
        match error.kind() {
            StorageFull | QuotaExceeded | FileTooLarge => TroubleKind::Full,
            ReadOnlyFilesystem | PermissionDenied => TroubleKind::ReadOnly,
            WouldBlock => TroubleKind::TakenElsewhere,
            NotFound | NotADirectory | StaleNetworkFileHandle => TroubleKind::Gone,
            _ => TroubleKind::Other(plain_file::reason(error)),
        }
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.kind)?;
        match self.waiting {
            0 => write!(f, ". It is tried again each second"),
            1 => write!(
                f,
                ". 1 entry waits in memory and is tried again each second"
            ),
            n => write!(
                f,
                ". {n} entries wait in memory and are tried again each second"
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn system_errors_become_kinds_of_trouble() {
        let kind = |kind: io::ErrorKind| TroubleKind::from(&io::Error::from(kind));
        assert_eq!(kind(io::ErrorKind::StorageFull), TroubleKind::Full);
        assert_eq!(kind(io::ErrorKind::PermissionDenied), TroubleKind::ReadOnly);
        assert_eq!(kind(io::ErrorKind::NotFound), TroubleKind::Gone);
        assert!(matches!(
            kind(io::ErrorKind::TimedOut),
            TroubleKind::Other(_)
        ));
    }

    #[test]
    fn the_sentence_says_what_to_do_and_what_waits() {
        let trouble = Trouble {
            kind: TroubleKind::Full,
            waiting: 3,
        };
        assert_eq!(
            trouble.to_string(),
            "the disk is full: free some space. 3 entries wait in memory and are tried again each second"
        );
    }
}
