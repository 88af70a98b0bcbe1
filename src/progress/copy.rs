//! A piece as one file: exported from a tray, and imported into one.
//!
//! ```text
//! {"threadmark":"copy","major":1,"minor":8,"facts":{…},"pattern":"…",…} 5f0c9a11
//! {"threadmark":"journal","major":1,"minor":8} 9c61bf17
//! {"at":1700000000000,"did":"opened"} 2d6ccd25
//! ```
//!
//! The first line holds piece.json, the piece's own copy of the pattern, and
//! the length and CRC-32 of the journal. It ends in a checksum like a line of
//! the journal. The journal follows byte for byte.

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
use super::shelf::{file_name, metadata_of};
use super::summary::{PieceSummary, open_journal, refuse_unknown};
use super::tray::{Tray, remove_piece_dir};
use super::version::Version;
use crate::atomic_file;
use crate::plain_file::{self, JOURNAL_BYTES, PATTERN_BYTES, PIECE_BYTES};

/// The most bytes of the first line: pattern and metadata with every letter
/// escaped.
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

/// Whether these bytes begin as an exported piece does.
pub fn is_exported(bytes: &[u8]) -> bool {
    bytes.starts_with(br#"{"threadmark":"copy""#)
}

impl Tray {
    /// A piece as the bytes of one file, with the good lines only if its
    /// journal is damaged. The path of the pattern's file is left out, since
    /// another machine has other files. Changes nothing on disk.
    ///
    /// # Errors
    /// [`Error::NoSuchPiece`], [`Error::Format`] for a newer format, or the
    /// error of reading its files.
    pub fn export(&self, name: &str) -> Result<Vec<u8>, Error> {
        let dir = self.piece_dir(name)?;
        let metadata = PieceMetadata {
            source: None,
            ..metadata_of(&dir, name)?
        };
        let path = dir.join(PATTERN);
        let pattern = String::from_utf8(read_pattern(&path)?).map_err(|error| {
            Error::reading(&path)(io::Error::new(io::ErrorKind::InvalidData, error))
        })?;
        let path = dir.join(JOURNAL);
        let journal = open_journal(&path)
            .and_then(journal::repaired)
            .map_err(Error::reading(&path))?;
        let head = Head {
            threadmark: "copy".into(),
            version: metadata.version,
            facts: metadata,
            pattern,
            journal_bytes: journal.len() as u64,
            journal_crc32: crc32fast::hash(&journal),
        };
        let mut bytes = journal::with_checksum(serde_json::to_vec(&head));
        bytes.extend_from_slice(&journal);
        Ok(bytes)
    }

    /// Imports an exported piece and returns its name in this tray. All of it
    /// is checked before anything is in the tray: first its form and checksums,
    /// then `check` tests whether its pattern can be sewn and its journal
    /// played, and returns the number of all steps.
    ///
    /// # Errors
    /// [`Error::NotACopy`], [`Error::Format`] for a newer format,
    /// [`Error::Io`], or the error of `check`; the tray stays as it was.
    pub fn import<E: From<Error>>(
        &self,
        path: &Path,
        now: Moment,
        check: impl FnOnce(&mut Piece) -> Result<u32, E>,
    ) -> Result<String, E> {
        let opened = plain_file::open(path).map_err(|error| match plain_file::is_refused(&error) {
            true => not_a_copy(path, "it is not a plain file"),
            false => Error::reading(path)(error),
        });
        let mut from = BufReader::new(opened?);
        let head = head(path, &mut from)?;
        let failed = || Error::io("cannot import a piece into", self.dir());
        fs::create_dir_all(self.dir()).map_err(failed())?;
        self.remove_stale();
        let (dir, _lock) = self.new_piece_dir().map_err(failed())?;
        let imported = unpack(path, &dir, &head, &mut from)
            .map_err(E::from)
            .and_then(|()| {
                let mut piece = Piece::open(dir.clone(), Mode::Look, now, None)?;
                let steps = Some(check(&mut piece)?);
                if let Some(fault) = fault(&piece, steps) {
                    return Err(not_a_copy(path, fault).into());
                }
                let metadata = PieceMetadata {
                    steps,
                    source: None,
                    ..head.facts
                };
                let written =
                    atomic_file::write(&dir.join(piece_metadata::NAME), &metadata.to_bytes());
                let title = name::from_title(metadata.title.as_str());
                let written = written.and_then(|()| self.move_in(&dir, &title));
                Ok(written.map_err(failed())?)
            });
        let imported = imported.inspect_err(|_| drop(remove_piece_dir(&dir)))?;
        Ok(file_name(&imported))
    }
}

impl Tray {
    /// What to say of a piece that was imported if it is in the tray already:
    /// under which names, and at which step each copy is.
    pub fn other_copies(&self, name: &str) -> Option<String> {
        let (mut same, others): (Vec<_>, Vec<_>) = self
            .pieces()
            .ok()?
            .into_iter()
            .partition(|piece| piece.name == name);
        let piece = same.pop().filter(|piece| piece.begun.is_some())?;
        let of = |piece: &PieceSummary| (piece.begun, piece.pattern_crc32);
        let others = others.iter().filter(|other| of(other) == of(&piece));
        let others: Vec<String> = others
            .map(|other| format!("'{}' at step {}", other.name, other.step))
            .collect();
        let (others, rest) = match &others[..] {
            [] => return None,
            [one] => (one.clone(), "other"),
            several => (several.join(", "), "others"),
        };
        Some(format!(
            "It is a copy of a piece that is here already: {others}. This one is at step {}. Go on \
             with one of them, and put the {rest} away.",
            piece.step
        ))
    }
}

/// Why the journal of a piece does not fit the piece, if it does not.
fn fault(piece: &Piece, steps: Option<u32>) -> Option<String> {
    let notices = piece.notices().iter();
    let unplayable = notices
        .clone()
        .find(|notice| matches!(notice, Notice::Unplayable { .. }));
    let step = piece.state().step;
    match unplayable {
        Some(notice) => Some(notice.to_string()),
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
    let damaged = || not_a_copy(path, "its first line is not that of an exported piece");
    let json =
        journal::without_checksum(line.strip_suffix(b"\n").unwrap_or(&line)).ok_or_else(damaged)?;
    match serde_json::from_slice::<Version>(json) {
        Ok(found) if !found.is_readable() => {
            let path = path.into();
            return Err(Error::Format { path, found });
        }
        _ => {}
    }
    let head: Head = serde_json::from_slice(json).map_err(|_| damaged())?;
    match head.threadmark == "copy" {
        true => Ok(head),
        false => Err(damaged()),
    }
}

/// Writes the files of a piece into a fresh directory, and reads its journal.
fn unpack(path: &Path, dir: &Path, head: &Head, from: &mut impl BufRead) -> Result<(), Error> {
    let failed = || Error::io("cannot import a piece into", dir);
    let metadata = PieceMetadata {
        source: None,
        ..head.facts.clone()
    };
    atomic_file::create(&dir.join(PATTERN), head.pattern.as_bytes()).map_err(failed())?;
    atomic_file::create(&dir.join(piece_metadata::NAME), &metadata.to_bytes()).map_err(failed())?;
    let journal_path = dir.join(JOURNAL);
    let mut to = File::create_new(&journal_path).map_err(failed())?;
    let mut checksum = crc32fast::Hasher::new();
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
        checksum.update(&bytes[..length]);
        to.write_all(&bytes[..length]).map_err(failed())?;
        from.consume(length);
        left -= length as u64;
    }
    if left > 0 || checksum.finalize() != head.journal_crc32 {
        return Err(not_a_copy(path, "its journal is not whole"));
    }
    to.sync_all().map_err(failed())?;
    let reading = refuse_unknown(&journal_path)
        .and_then(|_| open_journal(&journal_path).map_err(failed()))
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
