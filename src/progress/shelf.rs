//! Renames pieces, puts them away and brings them back.
//!
//! Pieces that are put away are in a tray `.away` inside the tray. Their
//! directories are moved there as they are; nothing is deleted.

use std::fs;
use std::path::Path;

use super::error::Error;
use super::lock::{self, NoLock, PieceLock};
use super::name;
use super::piece::read_pattern;
use super::piece_dir::{JOURNAL, PATTERN, has_no_locks};
use super::piece_metadata::{self, MetadataRead, PieceMetadata};
use super::plain::PlainText;
use super::summary::refuse_unknown;
use super::tray::Tray;
use super::version::Version;
use crate::atomic_file;

/// The directory in a tray for pieces that are put away.
const AWAY: &str = ".away";

impl Tray {
    /// The tray of pieces that are put away from this one.
    pub fn away(&self) -> Tray {
        Tray::open(&self.dir().join(AWAY))
    }

    /// Whether it is the tray of pieces that are put away from another.
    pub(super) fn is_away(&self) -> bool {
        self.dir().ends_with(AWAY)
    }

    /// Puts a piece away. Returns its name there.
    ///
    /// # Errors
    /// [`Error::NoSuchPiece`], [`Error::InUse`], or [`Error::Io`]; the piece
    /// stays where it is.
    pub fn put_away(&self, name: &str) -> Result<String, Error> {
        self.move_piece(name, &self.away())
    }

    /// Brings back a piece that was put away. Returns its name: the old one,
    /// with a number if that is taken.
    ///
    /// # Errors
    /// As [`Tray::put_away`].
    pub fn bring_back(&self, name: &str) -> Result<String, Error> {
        self.away().move_piece(name, self)
    }

    fn move_piece(&self, name: &str, to: &Tray) -> Result<String, Error> {
        let dir = self.piece_dir(name)?;
        let _lock = lock_to_move(&dir, name)?;
        let failed = || Error::io("cannot move the piece to", to.dir());
        fs::create_dir_all(to.dir()).map_err(failed())?;
        // A symbolic link of that name could point anywhere.
        if to.is_away() && to.dir().symlink_metadata().is_ok_and(|d| d.is_symlink()) {
            return Err(Error::NotAFile {
                path: to.dir().into(),
            });
        }
        let moved = to.move_in(&dir, name).map_err(failed())?;
        atomic_file::sync_dir(self.dir()).map_err(failed())?;
        Ok(file_name(&moved))
    }

    /// Gives a piece another title, and a name made from it. Returns the name,
    /// with a number if another piece has it.
    ///
    /// # Errors
    /// As [`Tray::put_away`], or [`Error::Format`] for a newer format.
    pub fn rename(&self, name: &str, title: &str) -> Result<String, Error> {
        let dir = self.piece_dir(name)?;
        let _lock = lock_to_move(&dir, name)?;
        let mut metadata = metadata_of(&dir, name)?;
        metadata.title = PlainText::new(title.trim());
        let failed = || Error::io("cannot rename", &dir);
        atomic_file::write(&dir.join(piece_metadata::NAME), &metadata.to_bytes())
            .map_err(failed())?;
        let wanted = name::from_title(title);
        if name::is_numbered(name, &wanted) {
            return Ok(name.into());
        }
        let moved = self.move_in(&dir, &wanted).map_err(failed())?;
        Ok(file_name(&moved))
    }
}

/// The metadata of a piece; made from its name and pattern if piece.json is
/// lost, as at opening.
///
/// # Errors
/// [`Error::Format`], [`Error::UnknownFormat`], or the error of reading its
/// files.
pub(super) fn metadata_of(dir: &Path, name: &str) -> Result<PieceMetadata, Error> {
    let journal_version = refuse_unknown(&dir.join(JOURNAL))?;
    match PieceMetadata::read(dir)? {
        MetadataRead::PieceMetadata(metadata) => Ok(metadata),
        MetadataRead::Missing | MetadataRead::Damaged => Ok(PieceMetadata {
            version: journal_version.unwrap_or(Version::OURS),
            ..PieceMetadata::new(name, &read_pattern(&dir.join(PATTERN))?)
        }),
    }
}

/// The lock to move a piece, which fails if anybody works on it.
fn lock_to_move(dir: &Path, name: &str) -> Result<Option<PieceLock>, Error> {
    match PieceLock::take(dir) {
        // There an open file prevents renaming its directory.
        Ok(_) if cfg!(windows) => Ok(None),
        Ok(lock) => Ok(Some(lock)),
        Err(NoLock::Held) => Err(Error::InUse {
            name: PlainText::new(name).to_string(),
        }),
        Err(NoLock::Refused(error)) if has_no_locks(&error) => Ok(None),
        Err(NoLock::Refused(error)) => Err(Error::reading(&dir.join(lock::NAME))(error)),
    }
}

/// The name of a piece by its directory.
pub(super) fn file_name(dir: &Path) -> String {
    let name = dir.file_name().unwrap_or_default();
    name.to_string_lossy().into_owned()
}
