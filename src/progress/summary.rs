//! The summary of a piece for the tray.

use std::io::{self, BufRead, BufReader, Read};
use std::path::{Path, PathBuf};

use super::error::Error;
use super::journal::{self, FirstLine};
use super::moment::Moment;
use super::notice::Damage;
use super::piece_dir::JOURNAL;
use super::piece_metadata::{MetadataRead, PieceMetadata};
use super::plain::PlainText;
use super::version::Version;
use crate::plain_file::{self, JOURNAL_BYTES};

/// A piece in the tray.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceSummary {
    /// Its directory's name, by which it is opened.
    pub name: String,
    /// Its title.
    pub title: PlainText,
    /// Its directory.
    pub dir: PathBuf,
    /// The pattern file that it was begun from, if known. Show it only as
    /// [`PlainText`].
    pub source: Option<PathBuf>,
    /// CRC-32 of its own copy of the pattern, if known.
    pub pattern_crc32: Option<u32>,
    /// When it was begun, if known.
    pub begun: Option<Moment>,
    /// Steps done.
    pub step: u32,
    /// The number of all steps, if known.
    pub steps: Option<u32>,
    /// When it was last worked on, or if never, when it was begun.
    pub last_worked: Option<Moment>,
    /// Whether the last step is done.
    pub finished: bool,
    /// Whether it can be opened.
    pub condition: Condition,
}

/// Whether a piece in the tray can be opened.
#[derive(Clone, Debug, PartialEq)]
pub enum Condition {
    /// It can be opened.
    Sound,
    /// Its journal is damaged; opening it repairs it and gives a notice.
    Damaged(Damage),
    /// It has a newer format and cannot be opened.
    Newer(Version),
    /// It cannot be read, for this reason.
    Unreadable(String),
}

impl PieceSummary {
    /// Reads the piece in `dir` without changing anything; `None` if it is not
    /// a piece.
    pub(super) fn read(dir: &Path, name: String) -> Option<PieceSummary> {
        let mut summary = PieceSummary {
            title: PlainText::new(&name),
            name,
            dir: dir.into(),
            source: None,
            pattern_crc32: None,
            begun: None,
            step: 0,
            steps: None,
            last_worked: None,
            finished: false,
            condition: Condition::Sound,
        };
        let journal = dir.join(JOURNAL);
        let read = match PieceMetadata::read(dir) {
            Ok(MetadataRead::Missing) if journal.symlink_metadata().is_err() => return None,
            Ok(MetadataRead::PieceMetadata(metadata)) => {
                summary.title = metadata.title;
                summary.steps = metadata.steps;
                summary.source = metadata.source;
                summary.pattern_crc32 = Some(metadata.pattern_crc32);
                summary.begun = metadata.begun;
                summary.last_worked = metadata.begun;
                summary.read_journal(&journal)
            }
            Ok(MetadataRead::Missing | MetadataRead::Damaged) => summary.read_journal(&journal),
            Err(error) => Err(error),
        };
        match read {
            Ok(()) => {}
            Err(Error::Format { found, .. }) => summary.condition = Condition::Newer(found),
            Err(error) => summary.condition = Condition::Unreadable(error.to_string()),
        }
        Some(summary)
    }

    fn read_journal(&mut self, path: &Path) -> Result<(), Error> {
        refuse_unknown(path)?;
        let reading = open_journal(path).and_then(|file| journal::read(file, |_| {}));
        let reading = reading.map_err(Error::reading(path))?;
        self.step = reading.state.step;
        self.last_worked = reading.state.last_worked.or(self.last_worked);
        self.finished = self.steps.is_some_and(|steps| self.step >= steps);
        if let Some(damage) = reading.damage {
            self.condition = Condition::Damaged(damage);
        }
        Ok(())
    }
}

/// Opens a journal to read it; a missing one is empty.
pub(super) fn open_journal(path: &Path) -> io::Result<Box<dyn BufRead>> {
    match plain_file::open_own_up_to(path, JOURNAL_BYTES) {
        Ok(file) => {
            let bounded = file.take(JOURNAL_BYTES);
            Ok(Box::new(BufReader::with_capacity(1 << 16, bounded)))
        }
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Box::new(io::empty())),
        Err(error) => Err(error),
    }
}

/// The version in the first line of a journal, if that line is undamaged.
/// Refuses an unknown format, before anything is changed.
///
/// # Errors
/// [`Error::Format`], [`Error::UnknownFormat`], or as [`Error::reading`].
pub(super) fn refuse_unknown(path: &Path) -> Result<Option<Version>, Error> {
    let line = open_journal(path).and_then(journal::first_line);
    match line.map_err(Error::reading(path))? {
        FirstLine::Format(found) if !found.is_readable() => Err(Error::Format {
            path: path.into(),
            found,
        }),
        FirstLine::UnknownFormat => Err(Error::UnknownFormat { path: path.into() }),
        FirstLine::Format(found) => Ok(Some(found)),
        FirstLine::Other => Ok(None),
    }
}
