//! Pieces renamed, put away and brought back.
//!
//! A piece that is put away lies in a tray of its own inside the tray, `.away`.
//! Its directory is moved there as it is, and nothing of it is deleted.

use std::fs;
use std::path::Path;

use super::error::Error;
use super::lock::{self, NoLock, PieceLock};
use super::name;
use super::piece::read_pattern;
use super::piece_dir::{JOURNAL, PATTERN, gives_no_locks};
use super::piece_metadata::{self, MetadataRead, PieceMetadata};
use super::plain::PlainText;
use super::summary::refuse_unknown;
use super::tray::Tray;
use super::version::Version;
use crate::atomic_file;

/// The directory in a tray where pieces that are put away lie.
const AWAY: &str = ".away";

impl Tray {
    /// The tray in which pieces of this one lie that are put away.
    pub fn away(&self) -> Tray {
        Tray::open(&self.dir().join(AWAY))
    }

    /// Puts a piece away. Returns the name that it has among those.
    ///
    /// # Errors
    /// [`Error::NoSuchPiece`], [`Error::InUse`], or [`Error::Io`]; the piece
    /// lies where it did then.
    pub fn put_away(&self, name: &str) -> Result<String, Error> {
        self.hand_over(name, &self.away())
    }

    /// Brings back a piece that was put away. Returns the name that it has now:
    /// its old one, or if that is taken, a numbered one.
    ///
    /// # Errors
    /// As [`Tray::put_away`].
    pub fn bring_back(&self, name: &str) -> Result<String, Error> {
        self.away().hand_over(name, self)
    }

    fn hand_over(&self, name: &str, to: &Tray) -> Result<String, Error> {
        let dir = self.piece_dir(name)?;
        let _lock = claim(&dir, name)?;
        let failed = || Error::io("cannot move the piece to", to.dir());
        fs::create_dir_all(to.dir()).map_err(failed())?;
        // A link of that name could lead anywhere.
        if to.dir().ends_with(AWAY) && to.dir().symlink_metadata().is_ok_and(|d| d.is_symlink()) {
            return Err(Error::NotAFile {
                path: to.dir().into(),
            });
        }
        let moved = to.put_down(&dir, name).map_err(failed())?;
        atomic_file::sync_dir(self.dir()).map_err(failed())?;
        Ok(file_name(&moved))
    }

    /// Gives a piece another title, and the name that goes with it; returns
    /// that name, numbered if another piece has it.
    ///
    /// # Errors
    /// As [`Tray::put_away`]; and [`Error::Format`] for a newer format.
    pub fn rename(&self, name: &str, title: &str) -> Result<String, Error> {
        let dir = self.piece_dir(name)?;
        let _lock = claim(&dir, name)?;
        let mut facts = facts_of(&dir, name)?;
        facts.title = PlainText::new(title.trim());
        let failed = || Error::io("cannot rename", &dir);
        atomic_file::write(&dir.join(piece_metadata::NAME), &facts.to_bytes()).map_err(failed())?;
        let wanted = name::from_title(title);
        if name::is_numbered(name, &wanted) {
            return Ok(name.into());
        }
        let moved = self.put_down(&dir, &wanted).map_err(failed())?;
        Ok(file_name(&moved))
    }
}

/// The facts of a piece; guessed as when it is opened if they are lost.
///
/// # Errors
/// [`Error::Format`], [`Error::UnknownFormat`], or what keeps its files from
/// being read.
pub(super) fn facts_of(dir: &Path, name: &str) -> Result<PieceMetadata, Error> {
    let journals = refuse_unknown(&dir.join(JOURNAL))?;
    match PieceMetadata::read(dir)? {
        MetadataRead::PieceMetadata(facts) => Ok(facts),
        MetadataRead::Missing | MetadataRead::Spoiled => Ok(PieceMetadata {
            version: journals.unwrap_or(Version::OURS),
            ..PieceMetadata::new(name, &read_pattern(&dir.join(PATTERN))?)
        }),
    }
}

/// The right to move a piece, which nobody may be working on.
fn claim(dir: &Path, name: &str) -> Result<Option<PieceLock>, Error> {
    match PieceLock::take(dir) {
        // An open file keeps a directory from being renamed there.
        Ok(_) if cfg!(windows) => Ok(None),
        Ok(lock) => Ok(Some(lock)),
        Err(NoLock::Held) => Err(Error::InUse {
            name: PlainText::new(name).to_string(),
        }),
        Err(NoLock::Refused(error)) if gives_no_locks(&error) => Ok(None),
        Err(NoLock::Refused(error)) => Err(Error::reading(&dir.join(lock::NAME))(error)),
    }
}

/// The name of a piece by its directory.
pub(super) fn file_name(dir: &Path) -> String {
    let name = dir.file_name().unwrap_or_default();
    name.to_string_lossy().into_owned()
}
