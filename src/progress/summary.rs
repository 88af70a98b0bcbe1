//! One line of the tray.

use std::fs::File;
use std::io::{self, BufRead, BufReader};
use std::path::Path;

use super::error::Error;
use super::facts::{Facts, Found};
use super::ground::JOURNAL;
use super::journal;
use super::moment::Moment;
use super::plain::PlainText;
use super::told::Damage;
use super::version::Version;

/// A piece as it lies in the tray.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceSummary {
    /// Its directory's name, by which it is opened.
    pub name: String,
    /// Its title.
    pub title: PlainText,
    /// Steps done, from 0.
    pub step: u32,
    /// Steps in all, if known.
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
    /// All is well.
    Sound,
    /// Its journal is damaged; opening it mends it and tells.
    Damaged(Damage),
    /// It is of a newer format and has to be left alone.
    Newer(Version),
    /// The system refuses to read it, in the system's words.
    Unreadable(String),
}

impl PieceSummary {
    /// Reads the piece in `dir`, changing nothing. Not a piece: `None`.
    pub(super) fn read(dir: &Path, name: String) -> Option<PieceSummary> {
        let mut summary = PieceSummary {
            title: PlainText::new(&name),
            name,
            step: 0,
            steps: None,
            last_worked: None,
            finished: false,
            condition: Condition::Sound,
        };
        match Facts::read(dir) {
            Ok(Found::Facts(facts)) => {
                summary.title = facts.title;
                summary.steps = facts.steps;
                summary.last_worked = facts.begun;
            }
            Ok(Found::Missing) if !dir.join(JOURNAL).exists() => return None,
            Ok(Found::Missing | Found::Spoiled) => {}
            Err(Error::Format { found, .. }) => {
                summary.condition = Condition::Newer(found);
                return Some(summary);
            }
            Err(error) => {
                summary.condition = Condition::Unreadable(error.to_string());
                return Some(summary);
            }
        }
        summary.read_journal(&dir.join(JOURNAL));
        Some(summary)
    }

    fn read_journal(&mut self, path: &Path) {
        let reading = match open_journal(path).and_then(|file| journal::read(file, |_| {})) {
            Ok(reading) => reading,
            Err(error) => {
                self.condition = Condition::Unreadable(error.to_string());
                return;
            }
        };
        if let Some(found) = reading.version.filter(|version| !version.is_readable()) {
            self.condition = Condition::Newer(found);
            return;
        }
        self.step = reading.state.step;
        self.last_worked = reading.state.last_worked.or(self.last_worked);
        self.finished = self.steps.is_some_and(|steps| self.step >= steps);
        if let Some(damage) = reading.damage {
            self.condition = Condition::Damaged(damage);
        }
    }
}

/// Opens a journal to read it; one that is missing is empty.
pub(super) fn open_journal(path: &Path) -> io::Result<Box<dyn BufRead>> {
    match std::fs::metadata(path) {
        Ok(found) if !found.is_file() => Err(io::ErrorKind::InvalidInput.into()),
        Ok(_) => Ok(Box::new(BufReader::with_capacity(
            1 << 16,
            File::open(path)?,
        ))),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Box::new(io::empty())),
        Err(error) => Err(error),
    }
}
