//! A piece as one file: exported from a tray, and imported into one.
//!
//! ```text
//! {"threadmark":"copy","major":1,"minor":8,"facts":{…},"pattern":"…",…} 5f0c9a11
//! {"threadmark":"journal","major":1,"minor":8} 9c61bf17
//! {"at":1700000000000,"did":"opened"} 2d6ccd25
//! ```
//!
//! The first line holds piece.json, the piece's own copy of the pattern, and
//! how long the journal is and its CRC-32; it is framed like a line of the
//! journal. The journal follows byte for byte.

use std::fs::{self, File};
use std::io::{self, BufRead, BufReader, Read, Write};
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::error::Error;
use super::journal;
use super::moment::Moment;
use super::name;
use super::notice::Notice;
use super::piece::{Mode, Piece, read_pattern};
use super::piece_dir::{JOURNAL, PATTERN};
use super::piece_metadata::{self, PieceMetadata};
use super::shelf::{facts_of, file_name};
use super::summary::{open_journal, refuse_unknown};
use super::tray::{Tray, clear_away};
use super::version::Version;
use crate::atomic_file;
use crate::plain_file::{self, JOURNAL_BYTES, PATTERN_BYTES, PIECE_BYTES};

/// The most bytes of the first line: pattern and facts, each letter escaped.
const HEAD_BYTES: u64 = 6 * (PATTERN_BYTES + PIECE_BYTES);

#[derive(Serialize, Deserialize)]
struct Head {
    threadmark: String,
    #[serde(flatten)]
    version: Version,
    facts: PieceMetadata,
    pattern: String,
    journal_bytes: u64,
    journal_crc32: u32,
}

impl Tray {
    /// A piece as the bytes of one file. It holds the good lines of a damaged
    /// journal. Where the pattern came from is left out: another machine has
    /// other files. Changes nothing.
    ///
    /// # Errors
    /// [`Error::NoSuchPiece`], [`Error::Format`] for a newer format, or what
    /// keeps its files from being read.
    pub fn export(&self, name: &str) -> Result<Vec<u8>, Error> {
        let dir = self.piece_dir(name)?;
        let facts = PieceMetadata {
            source: None,
            ..facts_of(&dir, name)?
        };
        let path = dir.join(PATTERN);
        let pattern = String::from_utf8(read_pattern(&path)?).map_err(|error| {
            Error::reading(&path)(io::Error::new(io::ErrorKind::InvalidData, error))
        })?;
        let path = dir.join(JOURNAL);
        let journal = open_journal(&path)
            .and_then(journal::mended)
            .map_err(Error::reading(&path))?;
        let head = Head {
            threadmark: "copy".into(),
            version: facts.version,
            facts,
            pattern,
            journal_bytes: journal.len() as u64,
            journal_crc32: crc32fast::hash(&journal),
        };
        let mut bytes = journal::framed(serde_json::to_vec(&head));
        bytes.extend_from_slice(&journal);
        Ok(bytes)
    }

    /// Imports a piece that was exported, and returns the name that it has
    /// here. All of it is checked before anything of it is in the tray: its
    /// form and sums, and by `check`, which returns its steps in all, whether
    /// its pattern can be sewn and its journal be played.
    ///
    /// # Errors
    /// [`Error::NotACopy`], [`Error::Format`] for a newer format, [`Error::Io`],
    /// or what `check` fails with; the tray is as it was then.
    pub fn import<E: From<Error>>(
        &self,
        path: &Path,
        now: Moment,
        check: impl FnOnce(&mut Piece) -> Result<u32, E>,
    ) -> Result<String, E> {
        let mut from = BufReader::new(plain_file::open(path).map_err(Error::reading(path))?);
        let head = head(path, &mut from)?;
        let failed = || Error::io("cannot import a piece into", self.dir());
        fs::create_dir_all(self.dir()).map_err(failed())?;
        self.sweep();
        let (dir, _lock) = self.beginning().map_err(failed())?;
        let taken = unpack(path, &dir, &head, &mut from)
            .map_err(E::from)
            .and_then(|()| {
                let mut piece = Piece::open(dir.clone(), Mode::Look, now, None)?;
                let steps = Some(check(&mut piece)?);
                if let Some(fault) = fault(&piece, steps) {
                    return Err(not_a_copy(path, fault).into());
                }
                let facts = PieceMetadata {
                    steps,
                    source: None,
                    ..head.facts
                };
                let laid = atomic_file::write(&dir.join(piece_metadata::NAME), &facts.to_bytes());
                let title = name::from_title(facts.title.as_str());
                let laid = laid.and_then(|()| self.put_down(&dir, &title));
                Ok(laid.map_err(failed())?)
            });
        let taken = taken.inspect_err(|_| drop(clear_away(&dir)))?;
        Ok(file_name(&taken))
    }
}

/// What of a piece's record does not fit the piece.
fn fault(piece: &Piece, steps: Option<u32>) -> Option<String> {
    let told = piece.told().iter();
    let unplayable = told
        .clone()
        .find(|t| matches!(t, Notice::Unplayable { .. }));
    let step = piece.state().step;
    match unplayable {
        Some(told) => Some(told.to_string()),
        None => steps
            .filter(|&steps| step > steps)
            .map(|steps| format!("it stands at step {step}, and its pattern has {steps} steps")),
    }
}

fn not_a_copy(path: &Path, why: impl Into<String>) -> Error {
    Error::NotACopy {
        path: path.into(),
        why: why.into(),
    }
}

fn head(path: &Path, from: &mut impl BufRead) -> Result<Head, Error> {
    let mut line = Vec::new();
    from.take(HEAD_BYTES)
        .read_until(b'\n', &mut line)
        .map_err(Error::reading(path))?;
    let spoiled = || not_a_copy(path, "its first line is not that of an exported piece");
    let json = journal::unframed(line.strip_suffix(b"\n").unwrap_or(&line)).ok_or_else(spoiled)?;
    match serde_json::from_slice::<Version>(json) {
        Ok(found) if !found.is_readable() => {
            let path = path.into();
            return Err(Error::Format { path, found });
        }
        _ => {}
    }
    let head: Head = serde_json::from_slice(json).map_err(|_| spoiled())?;
    match head.threadmark == "copy" {
        true => Ok(head),
        false => Err(spoiled()),
    }
}

/// Writes the files of a piece into a fresh directory, and reads its journal.
fn unpack(path: &Path, dir: &Path, head: &Head, from: &mut impl BufRead) -> Result<(), Error> {
    let failed = || Error::io("cannot import a piece into", dir);
    let facts = PieceMetadata {
        source: None,
        ..head.facts.clone()
    };
    atomic_file::create(&dir.join(PATTERN), head.pattern.as_bytes()).map_err(failed())?;
    atomic_file::create(&dir.join(piece_metadata::NAME), &facts.to_bytes()).map_err(failed())?;
    let lies = dir.join(JOURNAL);
    let mut to = File::create_new(&lies).map_err(failed())?;
    let mut sum = crc32fast::Hasher::new();
    let mut left = head.journal_bytes.min(JOURNAL_BYTES);
    loop {
        let bytes = from.fill_buf().map_err(Error::reading(path))?;
        let length = bytes.len().min(left as usize + 1);
        if length == 0 {
            break;
        }
        if length as u64 > left {
            return Err(not_a_copy(path, "its journal is longer than it should be"));
        }
        sum.update(&bytes[..length]);
        to.write_all(&bytes[..length]).map_err(failed())?;
        from.consume(length);
        left -= length as u64;
    }
    if left > 0 || sum.finalize() != head.journal_crc32 {
        return Err(not_a_copy(path, "its journal is not whole"));
    }
    to.sync_all().map_err(failed())?;
    let reading = refuse_unknown(&lies)
        .and_then(|_| open_journal(&lies).map_err(failed()))
        .and_then(|file| journal::read(file, |_| {}).map_err(failed()));
    match reading {
        Ok(reading) => match reading.damage {
            Some(damage) => Err(not_a_copy(path, damage.to_string())),
            None => atomic_file::sync_dir(dir).map_err(failed()),
        },
        Err(Error::Format { found, .. }) => Err(Error::Format {
            path: path.into(),
            found,
        }),
        Err(_) => Err(not_a_copy(path, "its journal cannot be read")),
    }
}
