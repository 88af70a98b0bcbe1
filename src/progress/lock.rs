//! Who may write.

use std::fs::{File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// The name of the lock file in a piece's directory. The file is empty; what
/// counts is the system's lock on it, which ends with the program that holds
/// it, however that ends.
pub(super) const NAME: &str = "lock";

/// The right to write to a piece, held until dropped.
#[derive(Debug)]
pub(super) struct Lock {
    file: File,
    path: PathBuf,
}

/// Why there is no lock.
#[derive(Debug)]
pub(super) enum NoLock {
    /// Another program, or another part of this one, holds it.
    Held,
    /// The system cannot give one.
    Refused(io::Error),
}

impl Lock {
    /// Takes the lock of the piece in `dir`, without waiting for it.
    pub(super) fn take(dir: &Path) -> Result<Lock, NoLock> {
        let path = dir.join(NAME);
        let file = OpenOptions::new()
            .read(true)
            .append(true)
            .create(true)
            .open(&path)
            // A lock needs no right to write: a tray that is read-only still
            // keeps two programs apart.
            .or_else(|refused| File::open(&path).map_err(|_| refused))
            .map_err(NoLock::Refused)?;
        match file.try_lock() {
            Ok(()) => Ok(Lock { file, path }),
            Err(TryLockError::WouldBlock) => Err(NoLock::Held),
            Err(TryLockError::Error(error)) => Err(NoLock::Refused(error)),
        }
    }

    /// Whether the locked file is still the one that others would find.
    pub(super) fn is_in_place(&self) -> bool {
        super::store::is_at(&self.file, &self.path)
    }
}

impl Drop for Lock {
    /// Closing the file is not enough: a child process that is just being
    /// started holds a copy of it for a moment, and with it the lock.
    fn drop(&mut self) {
        let _ = self.file.unlock();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn a_lock_is_free_at_once_even_while_children_are_started() {
        let stop = std::sync::atomic::AtomicBool::new(false);
        let at = std::sync::atomic::Ordering::Relaxed;
        let dir = tempfile::tempdir().unwrap();
        std::thread::scope(|threads| {
            threads.spawn(|| {
                while !stop.load(at) {
                    let _ = std::process::Command::new("true").status();
                }
            });
            let takes = (0..20_000).all(|_| Lock::take(dir.path()).is_ok());
            stop.store(true, at);
            assert!(takes);
        });
    }

    #[test]
    fn a_piece_is_locked_once() {
        let dir = tempfile::tempdir().unwrap();
        let first = Lock::take(dir.path()).unwrap();
        assert!(matches!(Lock::take(dir.path()), Err(NoLock::Held)));
        drop(first);
        assert!(Lock::take(dir.path()).is_ok());
    }

    #[test]
    fn a_lock_whose_directory_went_keeps_nobody_out() {
        let dir = tempfile::tempdir().unwrap();
        let first = Lock::take(dir.path()).unwrap();
        assert!(first.is_in_place());
        std::fs::remove_file(dir.path().join(NAME)).unwrap();
        assert!(!first.is_in_place());
        assert!(Lock::take(dir.path()).is_ok());
    }
}
