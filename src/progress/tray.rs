//! Where the pieces lie.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use super::error::Error;
use super::journal;
use super::lock::{self, PieceLock};
use super::moment::Moment;
use super::name;
use super::piece::{Mode, Piece};
use super::piece_dir::{JOURNAL, PATTERN};
use super::piece_metadata::{self, PieceMetadata};
use super::summary::PieceSummary;
use crate::atomic_file;

/// What a directory is called in which a piece is being begun.
const BEGINNING: &str = ".begin-";

/// The directory in which the pieces lie, one directory each.
#[derive(Clone, Debug)]
pub struct Tray {
    dir: PathBuf,
}

impl Tray {
    /// The tray in this directory, which need not be there yet: the first
    /// piece makes it. See [`super::place::tray_dir`].
    pub fn open(dir: &Path) -> Tray {
        Tray { dir: dir.into() }
    }

    /// Its directory.
    pub fn dir(&self) -> &Path {
        &self.dir
    }

    /// All pieces, the last worked on first. Changes nothing. Reads every
    /// journal through, so that damage is seen.
    ///
    /// # Errors
    /// When the tray is there but cannot be read; a piece that cannot be read
    /// says so itself.
    pub fn pieces(&self) -> Result<Vec<PieceSummary>, Error> {
        let mut pieces: Vec<_> = self
            .names()?
            .into_iter()
            .filter_map(|name| PieceSummary::read(&self.dir.join(&name), name))
            .collect();
        pieces.sort_by(|a, b| (b.last_worked, &a.name).cmp(&(a.last_worked, &b.name)));
        Ok(pieces)
    }

    /// The names of all directories that may be pieces.
    ///
    /// # Errors
    /// When the tray is there but cannot be read.
    pub fn names(&self) -> Result<Vec<String>, Error> {
        let failed = Error::io("cannot read the tray", &self.dir);
        let entries = match fs::read_dir(&self.dir) {
            Ok(entries) => entries,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(failed(error)),
        };
        let is_piece = |name: &String| name::is_plain(name) && self.dir.join(name).is_dir();
        let names = entries
            .flatten()
            .filter_map(|entry| entry.file_name().into_string().ok());
        Ok(names.filter(is_piece).collect())
    }

    /// Begins a piece: keeps a copy of the pattern, whose bytes must be those
    /// that were read and found good, and opens it for work. A piece is there
    /// whole or not at all.
    ///
    /// `source` is the pattern's file, or `None` for one that came with the
    /// program; `steps` the number of steps in all.
    ///
    /// # Errors
    /// [`Error::Io`] when the system refuses, say for want of space.
    pub fn begin(
        &self,
        title: &str,
        pattern: &[u8],
        source: Option<&Path>,
        steps: u32,
        now: Moment,
    ) -> Result<Piece, Error> {
        let facts = PieceMetadata {
            source: source.map(|path| std::path::absolute(path).unwrap_or(path.into())),
            steps: Some(steps),
            begun: Some(now),
            ..PieceMetadata::new(title, pattern)
        };
        let failed = || Error::io("cannot begin a piece in", &self.dir);
        fs::create_dir_all(&self.dir).map_err(failed())?;
        self.sweep();
        let (beginning, lock) = self.beginning().map_err(failed())?;
        let filled = fill(&beginning, &facts, pattern)
            .and_then(|()| self.put_down(&beginning, &name::from_title(title)));
        let dir = filled
            .inspect_err(|_| drop(clear_away(&beginning)))
            .map_err(failed())?;
        // An open file keeps a directory from being renamed on some systems;
        // there `beginning` gave no lock, and `open` takes it.
        Piece::open(dir, Mode::Work, now, lock)
    }

    /// Opens a piece by its name in the tray. Opened for work by another
    /// program already, it is opened to look, and tells so. Its opening is an
    /// entry of the journal, at `now`.
    ///
    /// # Errors
    /// [`Error::NoSuchPiece`], [`Error::Format`] for a newer format,
    /// [`Error::NoPattern`], [`Error::NotAFile`], or [`Error::Io`].
    pub fn open_piece(&self, name: &str, mode: Mode, now: Moment) -> Result<Piece, Error> {
        Piece::open(self.piece_dir(name)?, mode, now, None)
    }

    /// The directory of the piece of this name, or of the name that this title
    /// makes.
    pub(super) fn piece_dir(&self, name: &str) -> Result<PathBuf, Error> {
        let is_piece = |dir: &PathBuf| {
            [piece_metadata::NAME, JOURNAL]
                .iter()
                .any(|file| dir.join(file).exists())
        };
        let names = name::is_plain(name).then(|| [name.into(), name::from_title(name)]);
        let mut dirs = names.iter().flatten().map(|name| self.dir.join(name));
        dirs.find(is_piece).ok_or_else(|| self.no_such_piece(name))
    }

    fn no_such_piece(&self, name: &str) -> Error {
        let near = |candidate: &String| strsim::normalized_damerau_levenshtein(candidate, name);
        let nearest = self
            .names()
            .unwrap_or_default()
            .into_iter()
            .filter(|other| near(other) >= 0.6);
        Error::NoSuchPiece {
            name: super::plain::PlainText::new(name).to_string(),
            tray: self.dir.clone(),
            nearest: nearest.max_by(|a, b| near(a).total_cmp(&near(b))),
        }
    }

    /// A fresh directory to begin a piece in, locked so that nobody deletes it.
    pub(super) fn beginning(&self) -> io::Result<(PathBuf, Option<PieceLock>)> {
        static NUMBER: AtomicU32 = AtomicU32::new(1);
        let mut last = io::Error::from(io::ErrorKind::AlreadyExists);
        for _ in 0..100 {
            let number = NUMBER.fetch_add(1, Ordering::Relaxed);
            let dir = self
                .dir
                .join(format!("{BEGINNING}{}-{number}", std::process::id()));
            match fs::create_dir(&dir) {
                Ok(()) if cfg!(windows) => return Ok((dir, None)),
                // Another's sweep may come between the two; then again.
                Ok(()) => match PieceLock::take(&dir) {
                    Ok(lock) if lock.is_in_place(&dir) => return Ok((dir, Some(lock))),
                    Ok(_) | Err(lock::NoLock::Held) => {}
                    Err(lock::NoLock::Refused(error)) => match error.kind() {
                        io::ErrorKind::NotFound => last = error,
                        _ if super::piece_dir::gives_no_locks(&error) => return Ok((dir, None)),
                        _ => {
                            let _ = clear_away(&dir);
                            return Err(error);
                        }
                    },
                },
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                Err(error) => return Err(error),
            }
        }
        Err(last)
    }

    /// Moves a directory here, under the first free name.
    pub(super) fn put_down(&self, beginning: &Path, name: &str) -> io::Result<PathBuf> {
        for number in 1.. {
            let dir = self.dir.join(name::numbered(name, number));
            if dir.symlink_metadata().is_ok() {
                continue;
            }
            match fs::rename(beginning, &dir) {
                Ok(()) => {
                    atomic_file::sync_dir(&self.dir)?;
                    return Ok(dir);
                }
                // Taken by another program since we looked.
                Err(_) if dir.symlink_metadata().is_ok() => {}
                Err(error) => return Err(error),
            }
        }
        Err(io::ErrorKind::AlreadyExists.into())
    }

    /// Takes away what begins cut short left behind. One that is under way is
    /// locked; one that is not locked yet is empty except for its lock file.
    pub(super) fn sweep(&self) {
        let entries = fs::read_dir(&self.dir).into_iter().flatten().flatten();
        for entry in entries {
            // A link of that name is not ours.
            let is_dir = entry.file_type().is_ok_and(|kind| kind.is_dir());
            if !is_dir || !is_beginning(&entry.file_name().to_string_lossy()) {
                continue;
            }
            let dir = entry.path();
            if fs::remove_dir(&dir).is_ok() || dir.join(lock::NAME).symlink_metadata().is_err() {
                continue;
            }
            if let Ok(_lock) = PieceLock::take(&dir) {
                let _ = clear_away(&dir);
            }
        }
    }
}

/// Whether [`Tray::beginning`] gives such names: `.begin-`, a process, a number.
fn is_beginning(name: &str) -> bool {
    let numbers = name.strip_prefix(BEGINNING).and_then(|n| n.split_once('-'));
    let is_number = |n: &str| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit());
    numbers.is_some_and(|(process, number)| is_number(process) && is_number(number))
}

/// Takes away the files that [`fill`] writes and then the directory, unless
/// something else lies in it. The lock file goes last: what is left if this is
/// cut short is still known as something to sweep.
#[cfg(unix)]
pub(super) fn clear_away(dir: &Path) -> io::Result<()> {
    use rustix::fs::{AtFlags, CWD, Mode, OFlags, openat, unlinkat};
    // By the open directory, so that no link put in its place leads elsewhere.
    let flags = OFlags::DIRECTORY | OFlags::NOFOLLOW | OFlags::CLOEXEC;
    let open = openat(CWD, dir, flags, Mode::empty())?;
    for name in [PATTERN, piece_metadata::NAME, JOURNAL, lock::NAME] {
        match unlinkat(&open, name, AtFlags::empty()) {
            Ok(()) | Err(rustix::io::Errno::NOENT) => {}
            Err(error) => return Err(error.into()),
        }
    }
    fs::remove_dir(dir)
}

#[cfg(not(unix))]
pub(super) fn clear_away(dir: &Path) -> io::Result<()> {
    for name in [PATTERN, piece_metadata::NAME, JOURNAL, lock::NAME] {
        match fs::remove_file(dir.join(name)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            _ => {}
        }
    }
    fs::remove_dir(dir)
}

fn fill(dir: &Path, facts: &PieceMetadata, pattern: &[u8]) -> io::Result<()> {
    atomic_file::create(&dir.join(PATTERN), pattern)?;
    atomic_file::create(&dir.join(piece_metadata::NAME), &facts.to_bytes())?;
    atomic_file::create(&dir.join(JOURNAL), &journal::header())?;
    atomic_file::sync_dir(dir)
}

#[cfg(test)]
mod tests;
