//! The tray: the directory of all pieces.

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
use super::piece_metadata::{self, MetadataRead, PieceMetadata};
use super::summary::PieceSummary;
use crate::atomic_file;

/// The prefix of a directory in which a piece is being begun.
const BEGIN_PREFIX: &str = ".begin-";

/// The directory of all pieces, each in a directory of its own.
#[derive(Clone, Debug)]
pub struct Tray {
    dir: PathBuf,
}

impl Tray {
    /// The tray in this directory, which need not exist: the first piece
    /// creates it. See [`super::paths::tray_dir`].
    pub fn open(dir: &Path) -> Tray {
        Tray { dir: dir.into() }
    }

    /// Its directory.
    pub fn dir(&self) -> &Path {
        &self.dir
    }

    /// All pieces, the last worked on first. Changes nothing. Reads every
    /// journal to the end, so that damage is found.
    ///
    /// # Errors
    /// The tray exists but cannot be read. A piece that cannot be read says so
    /// in its condition.
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
    /// The tray exists but cannot be read.
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

    /// Begins a piece with a copy of a valid pattern, and opens it for work.
    /// The piece is created whole or not at all.
    ///
    /// `source` is the pattern's file, or `None` for a pattern that came with
    /// the program; `steps` is the number of all steps.
    ///
    /// # Errors
    /// [`Error::Io`], for example if the disk is full.
    pub fn begin(
        &self,
        title: &str,
        pattern: &[u8],
        source: Option<&Path>,
        steps: impl Into<Option<u32>>,
        now: Moment,
    ) -> Result<Piece, Error> {
        let metadata = PieceMetadata {
            source: source.map(|path| std::path::absolute(path).unwrap_or(path.into())),
            steps: steps.into(),
            begun: Some(now),
            ..PieceMetadata::new(title, pattern)
        };
        let failed = || Error::io("cannot begin a piece in", &self.dir);
        fs::create_dir_all(&self.dir).map_err(failed())?;
        self.remove_stale();
        let (new_dir, lock) = self.new_piece_dir().map_err(failed())?;
        let filled = fill(&new_dir, &metadata, pattern)
            .and_then(|()| self.move_in(&new_dir, &name::from_title(title)));
        let dir = filled
            .inspect_err(|_| drop(remove_piece_dir(&new_dir)))
            .map_err(failed())?;
        // On some systems an open file prevents renaming its directory; there
        // `new_piece_dir` returns no lock, and `open` takes it.
        Piece::open(dir, Mode::Work, now, lock)
    }

    /// Opens a piece by its name in the tray. If another program has it open
    /// for work, it is opened to look, with a notice. Opening it for work
    /// writes an entry to the journal, at `now`.
    ///
    /// # Errors
    /// [`Error::NoSuchPiece`], [`Error::Format`] for a newer format,
    /// [`Error::NoPattern`], [`Error::NotAFile`], or [`Error::Io`].
    pub fn open_piece(&self, name: &str, mode: Mode, now: Moment) -> Result<Piece, Error> {
        Piece::open(self.piece_dir(name)?, mode, now, None)
    }

    /// The directory of the piece with this name, or with the name made from
    /// this title.
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
        let has_title = |other: &String| match PieceMetadata::read(&self.dir.join(other)) {
            Ok(MetadataRead::PieceMetadata(metadata)) => metadata.title.as_str() == name.trim(),
            _ => false,
        };
        let titled = self.names().unwrap_or_default().into_iter();
        let mut titled: Vec<String> = titled.filter(has_title).collect();
        titled.sort();
        Error::NoSuchPiece {
            titled,
            name: super::plain::PlainText::new(name).to_string(),
            tray: self.dir.clone(),
            is_away: self.is_away(),
            nearest: nearest.max_by(|a, b| near(a).total_cmp(&near(b))),
        }
    }

    /// Creates a directory to begin a piece in, locked so that nobody deletes
    /// it.
    pub(super) fn new_piece_dir(&self) -> io::Result<(PathBuf, Option<PieceLock>)> {
        static NUMBER: AtomicU32 = AtomicU32::new(1);
        let mut last = io::Error::from(io::ErrorKind::AlreadyExists);
        for _ in 0..100 {
            let number = NUMBER.fetch_add(1, Ordering::Relaxed);
            let dir = self
                .dir
                .join(format!("{BEGIN_PREFIX}{}-{number}", std::process::id()));
            match fs::create_dir(&dir) {
                Ok(()) if cfg!(windows) => return Ok((dir, None)),
                // Another program may remove it as stale before it is locked;
                // then try again.
                Ok(()) => match PieceLock::take(&dir) {
                    Ok(lock) if lock.is_in_place(&dir) => return Ok((dir, Some(lock))),
                    Ok(_) | Err(lock::NoLock::Held) => {}
                    Err(lock::NoLock::Refused(error)) => match error.kind() {
                        io::ErrorKind::NotFound => last = error,
                        _ if super::piece_dir::has_no_locks(&error) => return Ok((dir, None)),
                        _ => {
                            let _ = remove_piece_dir(&dir);
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

    /// Moves a piece's directory into this tray, under the first free name.
    pub(super) fn move_in(&self, from: &Path, name: &str) -> io::Result<PathBuf> {
        for number in 1.. {
            let dir = self.dir.join(name::numbered(name, number));
            if dir.symlink_metadata().is_ok() {
                continue;
            }
            match fs::rename(from, &dir) {
                Ok(()) => {
                    atomic_file::sync_dir(&self.dir)?;
                    return Ok(dir);
                }
                // Another program has just taken the name.
                Err(_) if dir.symlink_metadata().is_ok() => {}
                Err(error) => return Err(error),
            }
        }
        Err(io::ErrorKind::AlreadyExists.into())
    }

    /// Removes directories left by beginnings that were interrupted. A
    /// directory in use is locked, or is empty except for its lock file.
    pub(super) fn remove_stale(&self) {
        let entries = fs::read_dir(&self.dir).into_iter().flatten().flatten();
        for entry in entries {
            // A symbolic link of that name is not ours.
            let is_dir = entry.file_type().is_ok_and(|kind| kind.is_dir());
            if !is_dir || !is_new_piece_dir(&entry.file_name().to_string_lossy()) {
                continue;
            }
            let dir = entry.path();
            if fs::remove_dir(&dir).is_ok() || dir.join(lock::NAME).symlink_metadata().is_err() {
                continue;
            }
            if let Ok(_lock) = PieceLock::take(&dir) {
                let _ = remove_piece_dir(&dir);
            }
        }
    }
}

/// Whether [`Tray::new_piece_dir`] makes such names: `.begin-`, a process, a
/// number.
fn is_new_piece_dir(name: &str) -> bool {
    let numbers = name
        .strip_prefix(BEGIN_PREFIX)
        .and_then(|n| n.split_once('-'));
    let is_number = |n: &str| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit());
    numbers.is_some_and(|(process, number)| is_number(process) && is_number(number))
}

/// Removes the files that [`fill`] writes and then the directory, unless
/// something else is in it. The lock file is the last, so that an interrupted
/// removal is still recognized as stale.
#[cfg(unix)]
pub(super) fn remove_piece_dir(dir: &Path) -> io::Result<()> {
    use rustix::fs::{AtFlags, CWD, Mode, OFlags, openat, unlinkat};
    // Relative to the open directory, so that a link put in its place is not
    // followed.
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
pub(super) fn remove_piece_dir(dir: &Path) -> io::Result<()> {
    for name in [PATTERN, piece_metadata::NAME, JOURNAL, lock::NAME] {
        match fs::remove_file(dir.join(name)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            _ => {}
        }
    }
    fs::remove_dir(dir)
}

fn fill(dir: &Path, metadata: &PieceMetadata, pattern: &[u8]) -> io::Result<()> {
    atomic_file::create(&dir.join(PATTERN), pattern)?;
    atomic_file::create(&dir.join(piece_metadata::NAME), &metadata.to_bytes())?;
    atomic_file::create(&dir.join(JOURNAL), &journal::header())?;
    atomic_file::sync_dir(dir)
}

#[cfg(test)]
mod tests;
