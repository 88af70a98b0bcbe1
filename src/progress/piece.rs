//! A piece: one making of a pattern.

use std::io::{self, BufRead, Read as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::entry::{Entry, Event};
use super::error::Error;
use super::journal::{self, Reading};
use super::journal_writer::JournalWriter;
use super::lock::{self, NoLock, PieceLock};
use super::maker::MakerSettings;
use super::moment::Moment;
use super::notice::Notice;
use super::piece_dir::{JOURNAL, PATTERN, PieceDir, has_no_locks};
use super::piece_metadata::{self, MetadataRead, PieceMetadata};
use super::plain::PlainText;
use super::setting::Value;
use super::state::State;
use super::store::{FileStore, MemoryStore};
use super::summary::{open_journal, refuse_unknown};
use super::trouble::{NotSaved, Saved, Trouble};
use super::version::Version;
use crate::atomic_file;
use crate::beadwork::paint::RoundColours;
use crate::beadwork::planner::PlanRule;
use crate::beadwork::project::SpecIndex;
use crate::beadwork::{Project, Sequence};
use crate::plain_file::{self, PATTERN_BYTES};

/// What a piece is opened for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mode {
    /// To work on it: entries are written. Only one program at a time can.
    Work,
    /// To look: nothing on disk is changed.
    Look,
}

/// The pattern file that a piece was begun from, compared with the piece's own
/// copy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SourceState {
    /// Byte for byte the same.
    Same,
    /// Changed since; the piece uses its own copy.
    Changed,
    /// No longer there, or not readable.
    Gone,
    /// The pattern came with the program.
    BuiltIn,
}

/// One making of a pattern: its own copy of it, and its progress.
///
/// [`Piece::record`] is fast enough for the thread that draws. Once it has
/// returned [`Saved::Written`], the entry survives the program being killed; a
/// moment later, when a background thread has synced it, also a power cut.
pub struct Piece {
    name: String,
    dir: Option<PathBuf>,
    mode: Mode,
    metadata: PieceMetadata,
    /// The older version of its two files, since one may have been lost and
    /// made again.
    begun_in: Version,
    pattern: Arc<[u8]>,
    state: State,
    writer: Option<JournalWriter>,
    notices: Vec<Notice>,
    /// The maker's settings for all pieces.
    maker: Option<MakerSettings>,
}

impl Piece {
    /// A piece in memory only, for trying out and for tests.
    pub fn in_memory(
        title: &str,
        pattern: &[u8],
        steps: impl Into<Option<u32>>,
        now: Moment,
    ) -> Piece {
        let metadata = PieceMetadata {
            steps: steps.into(),
            begun: Some(now),
            ..PieceMetadata::new(title, pattern)
        };
        let writer = JournalWriter::damaged(Box::new(MemoryStore::default()), journal::header());
        let mut piece = Piece {
            name: super::name::from_title(title),
            dir: None,
            mode: Mode::Work,
            begun_in: metadata.version,
            metadata,
            pattern: pattern.into(),
            state: State::default(),
            writer: Some(writer),
            notices: Vec::new(),
            maker: None,
        };
        let _ = piece.record(Entry {
            at: now,
            did: Event::Opened,
        });
        piece
    }

    /// Opens the piece in `dir`. `lock` is its lock, if the caller has it
    /// already.
    pub(super) fn open(
        dir: PathBuf,
        mode: Mode,
        now: Moment,
        lock: Option<PieceLock>,
    ) -> Result<Piece, Error> {
        let path = dir.join(JOURNAL);
        let found = PieceMetadata::read(&dir)?;
        let journal_version = refuse_unknown(&path)?;
        let pattern: Arc<[u8]> = read_pattern(&dir.join(PATTERN))?.into();
        let name = dir
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();

        let mut notices = Vec::new();
        let (mode, lock) = match (mode, lock) {
            (Mode::Work, None) => take_lock(&dir, &mut notices)?,
            (mode, lock) => (mode, lock),
        };
        let metadata = match found {
            MetadataRead::PieceMetadata(metadata) => metadata,
            lost => {
                let metadata = PieceMetadata {
                    version: journal_version.unwrap_or(Version::OURS),
                    ..PieceMetadata::new(&name, &pattern)
                };
                restore_metadata(&dir, &metadata, mode, lost, &mut notices);
                metadata
            }
        };
        if crc32fast::hash(&pattern) != metadata.pattern_crc32 {
            notices.push(Notice::OwnCopyChanged);
        }
        // The journal is read only now, since nobody else adds to it while we
        // have the lock.
        let (reading, bytes) = open_journal(&path)
            .and_then(|file| read_journal(file, mode))
            .map_err(Error::reading(&path))?;
        let writer = match mode {
            Mode::Look => None,
            Mode::Work => {
                let (dir, pattern) = (dir.clone(), pattern.clone());
                let piece_dir = PieceDir {
                    dir,
                    pattern,
                    metadata: metadata.to_bytes(),
                    lock,
                };
                Some(open_writer(&path, bytes, &reading, piece_dir)?)
            }
        };
        if let Some(mut damage) = reading.damage {
            damage.kept_as = writer
                .as_ref()
                .and_then(JournalWriter::kept_as)
                .map(str::to_owned);
            notices.push(Notice::Damaged(damage));
        }
        if reading.unknown > 0 {
            notices.push(Notice::Unknown {
                entries: reading.unknown,
            });
        }

        let state = reading.state;
        let dir = Some(dir);
        let begun_in = journal_version.map_or(metadata.version, |journal_version| {
            journal_version.min(metadata.version)
        });
        let mut piece = Piece {
            name,
            dir,
            mode,
            begun_in,
            metadata,
            pattern,
            state,
            writer,
            notices,
            maker: None,
        };
        if mode == Mode::Work {
            let _ = piece.record(Entry {
                at: now,
                did: Event::Opened,
            });
        }
        Ok(piece)
    }

    /// Applies an entry and writes it to the journal. Call it before drawing
    /// the change. In [`Mode::Look`] the state changes but nothing is written.
    pub fn record(&mut self, entry: Entry) -> Saved {
        let saved = match &mut self.writer {
            Some(writer) => writer.add(&journal::line(&entry)),
            None => Saved::LookOnly,
        };
        self.state.apply(&entry);
        saved
    }

    /// A copy of the piece as it is now, in memory only: entries recorded in it
    /// are not saved.
    pub fn copy_in_memory(&self) -> Piece {
        Piece {
            name: self.name.clone(),
            dir: None,
            mode: Mode::Look,
            metadata: self.metadata.clone(),
            begun_in: self.begun_in,
            pattern: self.pattern.clone(),
            state: self.state.clone(),
            writer: None,
            notices: vec![],
            maker: self.maker.clone(),
        }
    }

    /// Asks the background thread to sync to the disk what was recorded. Call
    /// it after drawing, so that the maker does not wait.
    pub fn sync(&mut self) {
        if let Some(writer) = &mut self.writer {
            writer.sync();
        }
    }

    /// Tries again to write what only memory holds. The screen calls this about
    /// once a second while there is [`Trouble`].
    pub fn retry(&mut self) -> Saved {
        self.writer
            .as_mut()
            .map_or(Saved::LookOnly, JournalWriter::retry)
    }

    /// What is wrong with saving now, if anything. Cheap enough for every
    /// drawing.
    pub fn trouble(&mut self) -> Option<Trouble> {
        self.writer.as_mut().and_then(JournalWriter::trouble)
    }

    /// Closes the piece: writes [`Event::Rested`] and waits for the disk. A
    /// piece that is dropped instead is saved too, but without that entry.
    ///
    /// # Errors
    /// Entries could not be written; they are lost when the program ends.
    pub fn close(mut self, now: Moment) -> Result<(), NotSaved> {
        if self.mode == Mode::Work {
            let _ = self.record(Entry {
                at: now,
                did: Event::Rested,
            });
        }
        let Some(trouble) = self.writer.as_mut().and_then(JournalWriter::finish) else {
            return Ok(());
        };
        let journal = self.dir.map(|dir| open_journal(&dir.join(JOURNAL)));
        let kept = journal.and_then(|found| journal::read(found.ok()?, |_| {}).ok());
        let step = kept.map(|kept| kept.state.step);
        Err(NotSaved { trouble, step })
    }

    /// Calls `each` with the last `entries` entries, for pace and history.
    /// [`Moment::since`] gives the time between two moves.
    ///
    /// # Errors
    /// The journal cannot be read.
    pub fn recent(&mut self, entries: usize, each: impl FnMut(&Entry)) -> io::Result<()> {
        let mut read = Vec::new();
        let journal = match (&self.writer, &self.dir) {
            (Some(writer), _) => writer.journal(),
            (None, Some(dir)) => {
                open_journal(&dir.join(JOURNAL))?.read_to_end(&mut read)?;
                &read
            }
            (None, None) => &read,
        };
        journal::read(journal::last_lines(journal, entries), each).map(drop)
    }

    /// Reads the pattern file that the piece was begun from and compares it
    /// with the piece's own copy.
    pub fn source_state(&self) -> SourceState {
        match &self.metadata.source {
            None => SourceState::BuiltIn,
            Some(path) => {
                let read = |file| plain_file::read_up_to(file, PATTERN_BYTES);
                match plain_file::open(path).and_then(read) {
                    Ok(bytes) if crc32fast::hash(&bytes) == self.metadata.pattern_crc32 => {
                        SourceState::Same
                    }
                    Err(error) if error.kind() != io::ErrorKind::FileTooLarge => SourceState::Gone,
                    _ => SourceState::Changed,
                }
            }
        }
    }

    /// Saves the number of all steps in piece.json for the tray, if it has
    /// changed, and adds a notice if the journal is beyond the last step. A
    /// failure costs no progress and is ignored.
    pub fn set_steps(&mut self, steps: u32) {
        let step = self.state.step;
        if step > steps {
            self.notify(Notice::BeyondEnd { step, steps });
        }
        if self.metadata.steps == Some(steps) {
            return;
        }
        self.metadata.steps = Some(steps);
        if let (Mode::Work, Some(dir)) = (self.mode, &self.dir) {
            let _ = atomic_file::write(&dir.join(piece_metadata::NAME), &self.metadata.to_bytes());
        }
    }

    /// Its name in the tray.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its title.
    pub fn title(&self) -> &PlainText {
        &self.metadata.title
    }

    /// Its directory; `None` for a piece in memory.
    pub fn dir(&self) -> Option<&Path> {
        self.dir.as_deref()
    }

    /// The pattern file that it was begun from; `None` for one that came with
    /// the program. Show it only as [`PlainText`], since it was read from disk.
    pub fn source(&self) -> Option<&Path> {
        self.metadata.source.as_deref()
    }

    /// The rule by which it is planned.
    pub fn plan_rule(&self) -> PlanRule {
        self.begun_in.plan_rule()
    }

    /// The sequence of this piece's pattern, with paint of earlier builds: the
    /// work as played, and the plan from there. Updates the steps of notes and
    /// threads, and adds a notice if something cannot be played.
    pub fn resume(&mut self, project: Project, painted: &[(SpecIndex, RoundColours)]) -> Sequence {
        let (record, rule) = (&self.state.record, self.plan_rule());
        let resumed = Sequence::resume(project, painted, record, rule);
        if let Some((step, refusal)) = resumed.refused {
            let why = refusal.to_string();
            self.notices.push(Notice::Unplayable { step, why });
        }
        self.state.update_steps(&resumed.sequence);
        resumed.sequence
    }

    /// Updates the steps of notes and threads, and the number of steps, after a
    /// new plan.
    pub fn replanned(&mut self, seq: &Sequence) {
        self.state.update_steps(seq);
        self.set_steps(seq.steps());
    }

    /// Its own copy of the pattern, byte for byte.
    pub fn pattern(&self) -> &[u8] {
        &self.pattern
    }

    /// The number of all steps, if known.
    pub fn steps(&self) -> Option<u32> {
        self.metadata.steps
    }

    /// The mode in which it is open: [`Mode::Look`] if it is open for work
    /// elsewhere.
    pub fn mode(&self) -> Mode {
        self.mode
    }

    /// Uses the maker's settings where the piece has no setting of its own.
    pub fn use_maker_settings(&mut self, maker: MakerSettings) {
        self.state.settings.set_maker(maker.values());
        self.maker = Some(maker);
    }

    /// Whether there are settings for all pieces.
    pub fn has_maker(&self) -> bool {
        self.maker.is_some()
    }

    /// Changes a setting for all pieces. False if there is no file for such
    /// settings.
    ///
    /// # Errors
    /// The file cannot be read or written; nothing is changed.
    pub fn set_for_maker(&mut self, name: &str, value: Value) -> Result<bool, Error> {
        let Some(maker) = &mut self.maker else {
            return Ok(false);
        };
        maker.set(name, value)?;
        self.state.settings.set_maker(maker.values());
        Ok(true)
    }

    /// Its state.
    pub fn state(&self) -> &State {
        &self.state
    }

    /// Adds a notice for the maker.
    pub fn notify(&mut self, notice: Notice) {
        self.notices.push(notice);
    }

    /// The notices for the maker from opening the piece.
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }
}

pub(super) fn read_pattern(path: &Path) -> Result<Vec<u8>, Error> {
    let read = plain_file::read_own(path, PATTERN_BYTES).map_err(Error::reading(path))?;
    read.ok_or_else(|| Error::NoPattern { path: path.into() })
}

fn take_lock(dir: &Path, notices: &mut Vec<Notice>) -> Result<(Mode, Option<PieceLock>), Error> {
    match PieceLock::take(dir) {
        Ok(lock) => Ok((Mode::Work, Some(lock))),
        Err(NoLock::Held) => {
            notices.push(Notice::OpenElsewhere);
            Ok((Mode::Look, None))
        }
        Err(NoLock::Refused(error)) if plain_file::is_refused(&error) => {
            Err(Error::reading(&dir.join(lock::NAME))(error))
        }
        Err(NoLock::Refused(error)) => {
            if has_no_locks(&error) {
                notices.push(Notice::NoLock);
            }
            Ok((Mode::Work, None))
        }
    }
}

/// Writes metadata in place of a lost piece.json, and adds a notice.
fn restore_metadata(
    dir: &Path,
    metadata: &PieceMetadata,
    mode: Mode,
    lost: MetadataRead,
    notices: &mut Vec<Notice>,
) {
    let path = dir.join(piece_metadata::NAME);
    let mut kept_as = None;
    if mode == Mode::Work {
        let kept = match lost {
            MetadataRead::Damaged => atomic_file::set_aside(&path, "damaged"),
            MetadataRead::Missing | MetadataRead::PieceMetadata(_) => Ok(None),
        };
        if let Ok(kept) = kept {
            kept_as = kept;
            // If it cannot be written, nothing is lost: the next opening does
            // the same.
            let _ = atomic_file::write(&path, &metadata.to_bytes());
        }
    }
    notices.push(Notice::MetadataLost { kept_as });
}

/// Reads a journal, and its bytes too if it is opened for work.
fn read_journal(mut file: impl BufRead, mode: Mode) -> io::Result<(Reading, Vec<u8>)> {
    let mut bytes = Vec::new();
    let reading = match mode {
        Mode::Look => journal::read(file, |_| {})?,
        Mode::Work => {
            file.read_to_end(&mut bytes)?;
            journal::read(&bytes[..], |_| {})?
        }
    };
    Ok((reading, bytes))
}

fn open_writer(
    path: &Path,
    journal: Vec<u8>,
    reading: &Reading,
    piece_dir: PieceDir,
) -> Result<JournalWriter, Error> {
    let read_error = |error| Error::reading(path)(error);
    let store = Box::new(FileStore::open(path).map_err(read_error)?.in_dir(piece_dir));
    Ok(match reading.damage {
        None => JournalWriter::sound(store, journal, reading.lacks_line_feed),
        Some(_) => {
            JournalWriter::damaged(store, journal::repaired(&journal[..]).map_err(read_error)?)
        }
    })
}

#[cfg(test)]
mod tests;
