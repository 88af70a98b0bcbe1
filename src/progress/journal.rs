//! The written form of the journal, and how it is read.
//!
//! ```text
//! {"threadmark":"journal","major":1,"minor":8} 9c61bf17
//! {"at":1700000000000,"did":{"move":{"step":1,"why":"forward"}}} 0b7e11a9
//! ```
//!
//! A line is JSON, one space, the CRC-32 of that JSON in eight lower-case hex
//! digits, and a line feed. The first line names the format.
//!
//! A line with the right checksum is used; anything else is left out and
//! reported. A line is used even if the one before it is lost, since every move
//! gives its step as a whole number: one damaged byte costs one key, not the
//! work after it. A good line of an unknown kind comes from a newer minor
//! version: it is kept and counted.

use std::io::{self, BufRead, Read};

use serde::de::IgnoredAny;
use serde::{Deserialize, Serialize};

use super::entry::Entry;
use super::next_in_run::NextInRun;
use super::notice::Damage;
use super::state::State;
use super::version::Version;

/// Longer lines are not ours and are not read into memory, bytes.
const MAX_LINE_BYTES: u64 = 4 << 20;
/// Length of the checksum: a space and eight digits.
const CHECKSUM_LENGTH: usize = 9;

#[derive(Serialize, Deserialize)]
struct Header {
    threadmark: String,
    #[serde(flatten)]
    version: Version,
}

/// The first line of a journal.
pub(super) fn header() -> Vec<u8> {
    let header = Header {
        threadmark: "journal".into(),
        version: Version::OURS,
    };
    with_checksum(serde_json::to_vec(&header))
}

/// One entry as a line, with its line feed.
pub(super) fn line(entry: &Entry) -> Vec<u8> {
    with_checksum(serde_json::to_vec(entry))
}

pub(super) fn with_checksum(json: serde_json::Result<Vec<u8>>) -> Vec<u8> {
    // The types hold only text, numbers and lists of them.
    let mut line = json.expect("an entry is always writable as JSON");
    line.extend(checksum_of(&line));
    line.push(b'\n');
    line
}

/// The JSON of a line without its line feed, if its checksum is right.
pub(super) fn without_checksum(line: &[u8]) -> Option<&[u8]> {
    let (json, sum) = line.split_at_checked(line.len().checked_sub(CHECKSUM_LENGTH)?)?;
    (sum == checksum_of(json)).then_some(json)
}

/// The end of a line with this JSON: a space and the checksum.
fn checksum_of(json: &[u8]) -> [u8; CHECKSUM_LENGTH] {
    let sum = crc32fast::hash(json);
    let digit =
        |at: usize| b"0123456789abcdef"[(sum >> (4 * (CHECKSUM_LENGTH - 1 - at)) & 15) as usize];
    std::array::from_fn(|at| if at == 0 { b' ' } else { digit(at) })
}

fn version_of(json: &[u8]) -> Option<Version> {
    let header: Header = serde_json::from_slice(json).ok()?;
    (header.threadmark == "journal").then_some(header.version)
}

/// A part of a journal.
enum JournalPart<'a> {
    /// A line with the right checksum: its JSON.
    Sound(&'a [u8]),
    /// Bytes that are not a good line: how many.
    Damaged(u64),
}

/// Calls `each` with the parts of the journal in order, and the byte where each
/// starts. Returns the journal's length in bytes and whether it ends in a line
/// feed.
fn parts(
    mut journal: impl BufRead,
    mut each: impl FnMut(u64, JournalPart<'_>),
) -> io::Result<(u64, bool)> {
    let (mut at, mut ended, mut line) = (0, true, Vec::new());
    loop {
        line.clear();
        let length = journal
            .by_ref()
            .take(MAX_LINE_BYTES)
            .read_until(b'\n', &mut line)? as u64;
        if length == 0 {
            return Ok((at, ended));
        }
        ended = line.last() == Some(&b'\n');
        match without_checksum(line.strip_suffix(b"\n").unwrap_or(&line)) {
            Some(json) => each(at, JournalPart::Sound(json)),
            None => each(at, JournalPart::Damaged(length)),
        }
        at += length;
    }
}

/// The result of reading a journal.
#[derive(Debug, Default)]
pub(super) struct Reading {
    /// The version in its first line, if that is undamaged.
    pub version: Option<Version>,
    /// All entries, applied in order.
    pub state: State,
    /// Entries that were used.
    pub entries: u64,
    /// Good lines of an unknown kind.
    pub unknown: u64,
    /// What was left out.
    pub damage: Option<Damage>,
    /// Its length, bytes.
    pub length: u64,
    /// Whether only the last line feed is missing.
    pub lacks_line_feed: bool,
}

/// Reads a journal from its first byte, and calls `each` with each entry before
/// it is applied. No content makes it fail, only an error of reading.
pub(super) fn read(journal: impl BufRead, mut each: impl FnMut(&Entry)) -> io::Result<Reading> {
    let mut reading = Reading::default();
    let mut damage = Damage::default();
    let mut damaged_to = None;
    let mut next = NextInRun::default();
    let (length, ended) = parts(journal, |at, part| match part {
        JournalPart::Sound(json) => {
            if at == 0
                && let Some(version) = version_of(json)
            {
                reading.version = Some(version);
            } else if let Some(entry) = next.entry(json).or_else(|| next.as_json(json)) {
                each(&entry);
                reading.state.apply(&entry);
                reading.entries += 1;
            } else {
                reading.unknown += 1;
            }
        }
        JournalPart::Damaged(bytes) => {
            if damage.bytes == 0 {
                damage.first_at = at;
            }
            damage.stretches += u64::from(damaged_to != Some(at));
            damage.bytes += bytes;
            damaged_to = Some(at + bytes);
        }
    })?;
    damage.no_header = reading.version.is_none();
    damage.kept = reading.entries;
    damage.only_torn_end =
        !ended && !damage.no_header && damage.stretches == 1 && damaged_to == Some(length);
    reading.length = length;
    reading.lacks_line_feed = !ended && damaged_to != Some(length);
    reading.damage = (damage.bytes > 0 || damage.no_header).then_some(damage);
    Ok(reading)
}

/// The last `lines` lines of a journal.
pub(super) fn last_lines(journal: &[u8], lines: usize) -> &[u8] {
    let body = journal.strip_suffix(b"\n").unwrap_or(journal);
    let mut ends = body
        .iter()
        .enumerate()
        .rev()
        .filter(|(_, byte)| **byte == b'\n');
    let from = ends
        .nth(lines.saturating_sub(1))
        .map_or(0, |(at, _)| at + 1);
    &journal[from..]
}

/// What the first line of a journal is.
pub(super) enum FirstLine {
    /// It has this format.
    Format(Version),
    /// Its checksum is right, but it is not an entry and its format is unknown.
    UnknownFormat,
    /// It is damaged, or missing.
    Other,
}

/// Reads the first line only.
pub(super) fn first_line(mut journal: impl BufRead) -> io::Result<FirstLine> {
    /// The keys that tell an entry from a line with a format.
    #[derive(Deserialize)]
    struct EntryKeys {
        threadmark: Option<IgnoredAny>,
        at: Option<IgnoredAny>,
    }
    let mut line = Vec::new();
    journal
        .by_ref()
        .take(MAX_LINE_BYTES)
        .read_until(b'\n', &mut line)?;
    let Some(json) = without_checksum(line.strip_suffix(b"\n").unwrap_or(&line)) else {
        return Ok(FirstLine::Other);
    };
    let keys = serde_json::from_slice::<EntryKeys>(json);
    Ok(match (version_of(json), keys) {
        (Some(version), _) => FirstLine::Format(version),
        (None, Ok(keys)) if keys.at.is_some() && keys.threadmark.is_none() => FirstLine::Other,
        (None, _) => FirstLine::UnknownFormat,
    })
}

/// A repaired journal: all good lines of a damaged one, byte for byte, with a
/// new first line if that is lost.
pub(super) fn repaired(journal: impl BufRead) -> io::Result<Vec<u8>> {
    let mut sound = Vec::new();
    parts(journal, |at, part| {
        let JournalPart::Sound(json) = part else {
            return;
        };
        if sound.is_empty() && (at > 0 || version_of(json).is_none()) {
            sound = header();
        }
        sound.extend_from_slice(json);
        sound.extend(checksum_of(json));
        sound.push(b'\n');
    })?;
    if sound.is_empty() {
        sound = header();
    }
    Ok(sound)
}

#[cfg(test)]
mod tests;
