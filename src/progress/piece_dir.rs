//! The directory of a piece.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::lock::{NoLock, PieceLock};
use super::piece_metadata;
use crate::atomic_file;

/// The name of the piece's own copy of its pattern.
pub(super) const PATTERN: &str = "pattern.json";
/// The name of the journal.
pub(super) const JOURNAL: &str = "journal";

/// A piece's directory with all its files except the journal, so that they can
/// be restored if they are removed; and the lock.
pub(super) struct PieceDir {
    /// The directory.
    pub dir: PathBuf,
    /// The piece's own copy of the pattern.
    pub pattern: Arc<[u8]>,
    /// piece.json.
    pub metadata: Vec<u8>,
    /// The lock, unless the system gave none.
    pub lock: Option<PieceLock>,
}

impl PieceDir {
    /// Makes sure that the directory, its files and the lock exist.
    ///
    /// # Errors
    /// `WouldBlock` if another program has taken the lock.
    pub(super) fn restore(&mut self) -> io::Result<()> {
        std::fs::create_dir_all(&self.dir)?;
        let held = match &mut self.lock {
            Some(lock) => lock.renew(&self.dir),
            None => PieceLock::take(&self.dir).map(|lock| self.lock = Some(lock)),
        };
        match held {
            Ok(()) => {}
            Err(NoLock::Held) => return Err(io::ErrorKind::WouldBlock.into()),
            Err(NoLock::Refused(error)) if has_no_locks(&error) => self.lock = None,
            Err(NoLock::Refused(error)) => return Err(error),
        }
        write_missing(&self.dir.join(PATTERN), &self.pattern)?;
        write_missing(&self.dir.join(piece_metadata::NAME), &self.metadata)
    }
}

/// Whether the file system has no locks at all: then a piece is written without
/// a lock.
pub(super) fn has_no_locks(error: &io::Error) -> bool {
    use io::ErrorKind::*;
    !matches!(
        error.kind(),
        PermissionDenied
            | ReadOnlyFilesystem
            | NotFound
            | StorageFull
            | QuotaExceeded
            // There is something else in the place of the lock file.
            | InvalidInput
    )
}

fn write_missing(path: &Path, bytes: &[u8]) -> io::Result<()> {
    if path.symlink_metadata().is_ok_and(|found| found.is_file()) {
        return Ok(());
    }
    atomic_file::set_aside(path, "other")?;
    atomic_file::write(path, bytes)
}
