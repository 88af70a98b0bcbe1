//! The lock that lets one program write to a piece.

use std::fs::{File, OpenOptions, TryLockError};
use std::io;
use std::path::Path;

use super::store::is_at;
use crate::plain_file;

/// The name of the lock file in a piece's directory. The file is empty; the
/// system's lock on it counts, which ends with the program that holds it, even
/// if that crashes.
pub(super) const NAME: &str = "lock";

/// The right to write to a piece, held until dropped: a lock on its directory,
/// and one on the lock file in it. The lock file can be removed by hand. The
/// directory cannot without the piece, but not every system can lock it.
#[derive(Debug)]
pub(super) struct PieceLock {
    dir: Option<File>,
    file: File,
}

/// Why there is no lock.
#[derive(Debug)]
pub(super) enum NoLock {
    /// Another program, or another part of this one, has it.
    Held,
    /// The system gives no lock.
    Refused(io::Error),
}

impl PieceLock {
    /// Takes the lock of the piece in `dir`, without waiting for it.
    pub(super) fn take(dir: &Path) -> Result<PieceLock, NoLock> {
        let own = File::open(dir).ok();
        if let Some(own) = &own
            && let Err(NoLock::Held) = locked(own)
        {
            return Err(NoLock::Held);
        }
        let file = lock_file(dir)?;
        Ok(PieceLock { dir: own, file })
    }

    /// Makes sure that this is the lock of the piece in `dir`; takes it again
    /// if it was removed or replaced.
    pub(super) fn renew(&mut self, dir: &Path) -> Result<(), NoLock> {
        if !self.is_of(dir) {
            *self = PieceLock::take(dir)?;
        } else if !is_at(&self.file, &dir.join(NAME)) {
            self.file = lock_file(dir)?;
        }
        Ok(())
    }

    /// Whether others would find this lock in `dir`.
    pub(super) fn is_in_place(&self, dir: &Path) -> bool {
        self.is_of(dir) && is_at(&self.file, &dir.join(NAME))
    }

    fn is_of(&self, dir: &Path) -> bool {
        // The dot follows a link, like opening the directory.
        let own = self.dir.as_ref();
        own.is_none_or(|own| is_at(own, &dir.join(".")))
    }
}

/// The lock file in `dir`, locked; created if it is missing.
fn lock_file(dir: &Path) -> Result<File, NoLock> {
    let path = dir.join(NAME);
    let mut options = OpenOptions::new();
    options.read(true).append(true).create(true);
    let file = plain_file::open_own(&path, &mut options)
        // A lock needs no permission to write: it works in a read-only tray
        // too.
        .or_else(|refused| {
            plain_file::open_own(&path, OpenOptions::new().read(true)).map_err(|_| refused)
        })
        .map_err(NoLock::Refused)?;
    locked(&file)?;
    Ok(file)
}

fn locked(file: &File) -> Result<(), NoLock> {
    file.try_lock().map_err(|error| match error {
        TryLockError::WouldBlock => NoLock::Held,
        TryLockError::Error(error) => NoLock::Refused(error),
    })
}

impl Drop for PieceLock {
    /// Closing the files is not enough: a child process that is just being
    /// started holds copies of them for a moment, and with them the lock.
    fn drop(&mut self) {
        for file in self.dir.iter().chain([&self.file]) {
            let _ = file.unlock();
        }
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
            let takes = (0..20_000).all(|_| PieceLock::take(dir.path()).is_ok());
            stop.store(true, at);
            assert!(takes);
        });
    }

    #[test]
    fn a_piece_is_locked_once() {
        let dir = tempfile::tempdir().unwrap();
        let first = PieceLock::take(dir.path()).unwrap();
        assert!(matches!(PieceLock::take(dir.path()), Err(NoLock::Held)));
        drop(first);
        assert!(PieceLock::take(dir.path()).is_ok());
    }

    #[test]
    fn a_lock_whose_directory_is_removed_keeps_nobody_out() {
        let dir = tempfile::tempdir().unwrap();
        let first = PieceLock::take(dir.path()).unwrap();
        assert!(first.is_in_place(dir.path()));
        std::fs::remove_dir_all(dir.path()).unwrap();
        assert!(!first.is_in_place(dir.path()));
        std::fs::create_dir(dir.path()).unwrap();
        assert!(!first.is_in_place(dir.path()));
        assert!(PieceLock::take(dir.path()).is_ok());
    }

    #[cfg(unix)]
    #[test]
    fn a_lock_file_removed_by_hand_lets_nobody_in_and_is_made_again() {
        let dir = tempfile::tempdir().unwrap();
        let mut first = PieceLock::take(dir.path()).unwrap();
        std::fs::remove_file(dir.path().join(NAME)).unwrap();
        assert!(!first.is_in_place(dir.path()));
        assert!(matches!(PieceLock::take(dir.path()), Err(NoLock::Held)));
        first.renew(dir.path()).unwrap();
        assert!(first.is_in_place(dir.path()));
    }

    #[cfg(unix)]
    #[test]
    fn a_lock_goes_with_a_directory_that_is_renamed() {
        let dir = tempfile::tempdir().unwrap();
        let (old, new) = (dir.path().join("old"), dir.path().join("new"));
        std::fs::create_dir(&old).unwrap();
        let mut lock = PieceLock::take(&old).unwrap();
        std::fs::rename(&old, &new).unwrap();
        assert!(lock.is_in_place(&new));
        lock.renew(&new).unwrap();
    }
}
