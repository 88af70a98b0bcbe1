//! One making of a pattern.

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
use super::piece_dir::{JOURNAL, PATTERN, PieceDir, gives_no_locks};
use super::piece_metadata::{self, MetadataRead, PieceMetadata};
use super::plain::PlainText;
use super::setting::Value;
use super::state::State;
use super::store::{FileStore, MemoryStore};
use super::summary::{open_journal, refuse_unknown};
use super::trouble::{NotKept, Saved, Trouble};
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
    /// To work on it: entries are written. One program at a time.
    Work,
    /// To look: nothing on disk is changed.
    Look,
}

/// The pattern file that a piece was begun from, beside the piece's own copy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SourceState {
    /// Byte for byte the same.
    Same,
    /// Changed since; the piece keeps to its own copy.
    Changed,
    /// No longer there, or not readable.
    Gone,
    /// The pattern came with the program.
    BuiltIn,
}

/// One making of a pattern: its own copy of it, and its progress.
///
/// [`Piece::record`] is safe to call from the thread that draws. When it has
/// returned [`Saved::Written`] a killed program no longer loses the entry; a
/// moment later, when a background thread has synced it, a power cut does not
/// either.
pub struct Piece {
    name: String,
    dir: Option<PathBuf>,
    mode: Mode,
    facts: PieceMetadata,
    /// The older of what its files name: one of them may be lost and made again.
    begun_in: Version,
    pattern: Arc<[u8]>,
    state: State,
    ledger: Option<JournalWriter>,
    told: Vec<Notice>,
    /// What its maker set for all pieces.
    maker: Option<MakerSettings>,
}

impl Piece {
    /// A piece that only memory keeps, for trying out and for tests.
    pub fn in_memory(title: &str, pattern: &[u8], steps: u32, now: Moment) -> Piece {
        let facts = PieceMetadata {
            steps: Some(steps),
            begun: Some(now),
            ..PieceMetadata::new(title, pattern)
        };
        let ledger = JournalWriter::damaged(Box::new(MemoryStore::default()), journal::header());
        let mut piece = Piece {
            name: super::name::from_title(title),
            dir: None,
            mode: Mode::Work,
            begun_in: facts.version,
            facts,
            pattern: pattern.into(),
            state: State::default(),
            ledger: Some(ledger),
            told: Vec::new(),
            maker: None,
        };
        let _ = piece.record(Entry {
            at: now,
            did: Event::Opened,
        });
        piece
    }

    /// Opens the piece in `dir`. `lock` is the right to write, if it is had
    /// already.
    pub(super) fn open(
        dir: PathBuf,
        mode: Mode,
        now: Moment,
        lock: Option<PieceLock>,
    ) -> Result<Piece, Error> {
        let path = dir.join(JOURNAL);
        let found = PieceMetadata::read(&dir)?;
        let journals = refuse_unknown(&path)?;
        let pattern: Arc<[u8]> = read_pattern(&dir.join(PATTERN))?.into();
        let name = dir
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();

        let mut told = Vec::new();
        let (mode, lock) = match (mode, lock) {
            (Mode::Work, None) => take_lock(&dir, &mut told)?,
            (mode, lock) => (mode, lock),
        };
        let facts = match found {
            MetadataRead::PieceMetadata(facts) => facts,
            lost => {
                let facts = PieceMetadata {
                    version: journals.unwrap_or(Version::OURS),
                    ..PieceMetadata::new(&name, &pattern)
                };
                keep_facts(&dir, &facts, mode, lost, &mut told);
                facts
            }
        };
        if crc32fast::hash(&pattern) != facts.pattern_crc32 {
            told.push(Notice::OwnCopyChanged);
        }
        // Only now, under the lock, does nobody else add to the journal.
        let (reading, bytes) = open_journal(&path)
            .and_then(|file| read_journal(file, mode))
            .map_err(Error::reading(&path))?;
        let ledger = match mode {
            Mode::Look => None,
            Mode::Work => {
                let (dir, pattern) = (dir.clone(), pattern.clone());
                let ground = PieceDir {
                    dir,
                    pattern,
                    facts: facts.to_bytes(),
                    lock,
                };
                Some(open_ledger(&path, bytes, &reading, ground)?)
            }
        };
        if let Some(mut damage) = reading.damage {
            damage.kept_as = ledger
                .as_ref()
                .and_then(JournalWriter::kept_as)
                .map(str::to_owned);
            told.push(Notice::Damaged(damage));
        }
        if reading.unknown > 0 {
            told.push(Notice::Unknown {
                entries: reading.unknown,
            });
        }

        let state = reading.state;
        let dir = Some(dir);
        let begun_in = journals.map_or(facts.version, |journals| journals.min(facts.version));
        let mut piece = Piece {
            name,
            dir,
            mode,
            begun_in,
            facts,
            pattern,
            state,
            ledger,
            told,
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

    /// Applies an entry and writes it to the journal; to be called before what
    /// it changes is painted. While looking, the state moves but nothing is
    /// written.
    pub fn record(&mut self, entry: Entry) -> Saved {
        let saved = match &mut self.ledger {
            Some(ledger) => ledger.add(&journal::line(&entry)),
            None => Saved::LookOnly,
        };
        self.state.apply(&entry);
        saved
    }

    /// The piece as it is now, in memory only: what is recorded in it changes
    /// nothing that is kept.
    pub fn in_memory_as_now(&self) -> Piece {
        Piece {
            name: self.name.clone(),
            dir: None,
            mode: Mode::Look,
            facts: self.facts.clone(),
            begun_in: self.begun_in,
            pattern: self.pattern.clone(),
            state: self.state.clone(),
            ledger: None,
            told: vec![],
            maker: self.maker.clone(),
        }
    }

    /// Asks the background thread to bring to the disk what was recorded.
    /// Callers do this as soon as the maker has seen the result, so that nobody
    /// waits for it.
    pub fn settle(&mut self) {
        if let Some(ledger) = &mut self.ledger {
            ledger.settle();
        }
    }

    /// Offers again what only memory holds. The screen calls this about once a
    /// second while there is [`Trouble`].
    pub fn retry(&mut self) -> Saved {
        self.ledger
            .as_mut()
            .map_or(Saved::LookOnly, JournalWriter::retry)
    }

    /// What is wrong with keeping, if anything, as of now. Cheap: to be asked
    /// at each painting.
    pub fn trouble(&mut self) -> Option<Trouble> {
        self.ledger.as_mut().and_then(JournalWriter::trouble)
    }

    /// Ends the work: writes that the piece rests and waits for the disk. A
    /// piece that is dropped instead is written to the disk too, but not noted
    /// as resting.
    ///
    /// # Errors
    /// Why entries never reached the disk; they are lost with the program.
    pub fn close(mut self, now: Moment) -> Result<(), NotKept> {
        if self.mode == Mode::Work {
            let _ = self.record(Entry {
                at: now,
                did: Event::Rested,
            });
        }
        let Some(trouble) = self.ledger.as_mut().and_then(JournalWriter::finish) else {
            return Ok(());
        };
        let journal = self.dir.map(|dir| open_journal(&dir.join(JOURNAL)));
        let kept = journal.and_then(|found| journal::read(found.ok()?, |_| {}).ok());
        let step = kept.map(|kept| kept.state.step);
        Err(NotKept { trouble, step })
    }

    /// Hands over every entry from the first on, with its time, for pace and
    /// history. Between two moves [`Moment::since`] says how long it took.
    ///
    /// # Errors
    /// When the system refuses to read.
    pub fn history(&mut self, each: impl FnMut(&Entry)) -> io::Result<()> {
        match (&mut self.ledger, &self.dir) {
            (Some(ledger), _) => journal::read(ledger.journal(), each)?,
            (None, Some(dir)) => journal::read(open_journal(&dir.join(JOURNAL))?, each)?,
            (None, None) => Reading::default(),
        };
        Ok(())
    }

    /// The same of the last so many entries.
    ///
    /// # Errors
    /// When the system refuses to read.
    pub fn recent(&mut self, entries: usize, each: impl FnMut(&Entry)) -> io::Result<()> {
        let mut read = Vec::new();
        let journal = match (&self.ledger, &self.dir) {
            (Some(ledger), _) => ledger.journal(),
            (None, Some(dir)) => {
                open_journal(&dir.join(JOURNAL))?.read_to_end(&mut read)?;
                &read
            }
            (None, None) => &read,
        };
        journal::read(journal::last_lines(journal, entries), each).map(drop)
    }

    /// Compares the pattern file that the piece was begun from with the
    /// piece's own copy. Reads that file.
    pub fn source_state(&self) -> SourceState {
        match &self.facts.source {
            None => SourceState::BuiltIn,
            Some(path) => {
                let read = |file| plain_file::read_up_to(file, PATTERN_BYTES);
                match plain_file::open(path).and_then(read) {
                    Ok(bytes) if crc32fast::hash(&bytes) == self.facts.pattern_crc32 => {
                        SourceState::Same
                    }
                    Err(error) if error.kind() != io::ErrorKind::FileTooLarge => SourceState::Gone,
                    _ => SourceState::Changed,
                }
            }
        }
    }

    /// Keeps the number of steps in all with the piece, where the tray finds
    /// it, if it is not known so already, and tells of a journal that goes
    /// beyond. A failure costs no progress and is ignored.
    pub fn know_steps(&mut self, steps: u32) {
        let step = self.state.step;
        if step > steps {
            self.tell(Notice::BeyondEnd { step, steps });
        }
        if self.facts.steps == Some(steps) {
            return;
        }
        self.facts.steps = Some(steps);
        if let (Mode::Work, Some(dir)) = (self.mode, &self.dir) {
            let _ = atomic_file::write(&dir.join(piece_metadata::NAME), &self.facts.to_bytes());
        }
    }

    /// Its name in the tray.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its title.
    pub fn title(&self) -> &PlainText {
        &self.facts.title
    }

    /// Its directory, unless only memory keeps it.
    pub fn dir(&self) -> Option<&Path> {
        self.dir.as_deref()
    }

    /// The pattern file that it was begun from, unless that is built in. To be
    /// shown only through [`PlainText`]: it was read from disk.
    pub fn source(&self) -> Option<&Path> {
        self.facts.source.as_deref()
    }

    /// The rule by which it is planned.
    pub fn plan_rule(&self) -> PlanRule {
        self.begun_in.plan_rule()
    }

    /// The work as it was played, and the plan from there, of this piece's
    /// pattern with what earlier builds painted all over. What depends on the
    /// work is found again, and what cannot be played is reported.
    pub fn resume(&mut self, project: Project, painted: &[(SpecIndex, RoundColours)]) -> Sequence {
        let (record, rule) = (&self.state.record, self.plan_rule());
        let resumed = Sequence::resume(project, painted, record, rule);
        if let Some((step, refusal)) = resumed.refused {
            let why = refusal.to_string();
            self.told.push(Notice::Unplayable { step, why });
        }
        self.state.settle(&resumed.sequence);
        resumed.sequence
    }

    /// The steps ahead were planned again. What depends on the work is found again.
    pub fn replanned(&mut self, seq: &Sequence) {
        self.state.settle(seq);
        self.know_steps(seq.steps());
    }

    /// Its own copy of the pattern, byte for byte.
    pub fn pattern(&self) -> &[u8] {
        &self.pattern
    }

    /// Steps in all, if known.
    pub fn steps(&self) -> Option<u32> {
        self.facts.steps
    }

    /// What it is really open for: a piece that is open elsewhere can only be
    /// looked at.
    pub fn mode(&self) -> Mode {
        self.mode
    }

    /// Uses what the maker set for all pieces, where it has no setting of its
    /// own.
    pub fn follow(&mut self, maker: MakerSettings) {
        self.state.settings.follow(maker.values());
        self.maker = Some(maker);
    }

    /// Whether there are settings for all pieces of the maker.
    pub fn has_maker(&self) -> bool {
        self.maker.is_some()
    }

    /// Sets something for all pieces of the maker. False if nothing keeps such
    /// settings.
    ///
    /// # Errors
    /// The file cannot be read or written; all is as it was then.
    pub fn set_for_maker(&mut self, name: &str, value: Value) -> Result<bool, Error> {
        let Some(maker) = &mut self.maker else {
            return Ok(false);
        };
        maker.set(name, value)?;
        self.state.settings.follow(maker.values());
        Ok(true)
    }

    /// How it stands.
    pub fn state(&self) -> &State {
        &self.state
    }

    /// Adds to what the maker has to be told about this opening.
    pub fn tell(&mut self, told: Notice) {
        self.told.push(told);
    }

    /// What the maker has to be told about this opening.
    pub fn told(&self) -> &[Notice] {
        &self.told
    }
}

pub(super) fn read_pattern(path: &Path) -> Result<Vec<u8>, Error> {
    let file = plain_file::open_own_up_to(path, PATTERN_BYTES);
    match file.and_then(|file| plain_file::read_up_to(file, PATTERN_BYTES)) {
        Ok(bytes) => Ok(bytes),
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            Err(Error::NoPattern { path: path.into() })
        }
        Err(error) => Err(Error::reading(path)(error)),
    }
}

fn take_lock(dir: &Path, told: &mut Vec<Notice>) -> Result<(Mode, Option<PieceLock>), Error> {
    match PieceLock::take(dir) {
        Ok(lock) => Ok((Mode::Work, Some(lock))),
        Err(NoLock::Held) => {
            told.push(Notice::OpenElsewhere);
            Ok((Mode::Look, None))
        }
        Err(NoLock::Refused(error)) if plain_file::is_refused(&error) => {
            Err(Error::reading(&dir.join(lock::NAME))(error))
        }
        Err(NoLock::Refused(error)) => {
            if gives_no_locks(&error) {
                told.push(Notice::NoLock);
            }
            Ok((Mode::Work, None))
        }
    }
}

/// Keeps facts in place of lost ones for the next time.
fn keep_facts(
    dir: &Path,
    facts: &PieceMetadata,
    mode: Mode,
    lost: MetadataRead,
    told: &mut Vec<Notice>,
) {
    let path = dir.join(piece_metadata::NAME);
    let mut kept_as = None;
    if mode == Mode::Work {
        let kept = match lost {
            MetadataRead::Spoiled => atomic_file::set_aside(&path, "damaged"),
            MetadataRead::Missing | MetadataRead::PieceMetadata(_) => Ok(None),
        };
        if let Ok(kept) = kept {
            kept_as = kept;
            // If it is not written, nothing is lost: the next opening guesses the same.
            let _ = atomic_file::write(&path, &facts.to_bytes());
        }
    }
    told.push(Notice::FactsLost { kept_as });
}

/// Reads a journal. Its bytes are kept where it is to be gone on with.
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

fn open_ledger(
    path: &Path,
    journal: Vec<u8>,
    reading: &Reading,
    ground: PieceDir,
) -> Result<JournalWriter, Error> {
    let refused = |error| Error::reading(path)(error);
    let store = Box::new(FileStore::open(path).map_err(refused)?.on(ground));
    Ok(match reading.damage {
        None => JournalWriter::sound(store, journal, reading.unended),
        Some(_) => JournalWriter::damaged(store, journal::mended(&journal[..]).map_err(refused)?),
    })
}

#[cfg(test)]
mod tests;
