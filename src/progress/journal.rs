//! The written form of the journal, and how it is read.
//!
//! ```text
//! {"threadmark":"journal","major":1,"minor":8} 9c61bf17
//! {"at":1700000000000,"did":{"move":{"step":1,"why":"forward"}}} 0b7e11a9
//! ```
//!
//! A line is JSON, one space, the CRC-32 of that JSON in eight small hex
//! digits, and a line feed. The first line names the format.
//!
//! There is one way to read it: a line whose checksum is right is used;
//! anything else is left out and reported. A line is used even if the one
//! before it was lost, since every move names its step in full: one damaged
//! byte costs one key and never the weeks after it. A good line of an unknown
//! kind comes from a newer minor version: it is kept and counted.

use std::io::{self, BufRead, Read};

use serde::de::IgnoredAny;
use serde::{Deserialize, Serialize};

use super::entry::Entry;
use super::next_in_run::NextInRun;
use super::notice::Damage;
use super::state::State;
use super::version::Version;

/// Lines beyond this are not our lines, and are not taken into memory.
const LONGEST_LINE: u64 = 4 << 20;
/// A space, eight digits.
const SUM_LENGTH: usize = 9;

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
    framed(serde_json::to_vec(&header))
}

/// One entry as a line, with its line feed.
pub(super) fn line(entry: &Entry) -> Vec<u8> {
    framed(serde_json::to_vec(entry))
}

pub(super) fn framed(json: serde_json::Result<Vec<u8>>) -> Vec<u8> {
    // The types hold only text, numbers and lists of them.
    let mut line = json.expect("an entry is always writable as JSON");
    line.extend(sum_of(&line));
    line.push(b'\n');
    line
}

/// The JSON of a line, if its sum is right. `line` is without its line feed.
pub(super) fn unframed(line: &[u8]) -> Option<&[u8]> {
    let (json, sum) = line.split_at_checked(line.len().checked_sub(SUM_LENGTH)?)?;
    (sum == sum_of(json)).then_some(json)
}

/// What stands behind a line of this JSON.
fn sum_of(json: &[u8]) -> [u8; SUM_LENGTH] {
    let sum = crc32fast::hash(json);
    let digit = |at: usize| b"0123456789abcdef"[(sum >> (4 * (SUM_LENGTH - 1 - at)) & 15) as usize];
    std::array::from_fn(|at| if at == 0 { b' ' } else { digit(at) })
}

fn version_of(json: &[u8]) -> Option<Version> {
    let header: Header = serde_json::from_slice(json).ok()?;
    (header.threadmark == "journal").then_some(header.version)
}

/// A stretch of a journal.
enum JournalStretch<'a> {
    /// A line whose sum is right: its JSON.
    Sound(&'a [u8]),
    /// So many bytes that are not a line.
    Spoiled(u64),
}

/// Hands over the journal's stretches in order. Returns its length in bytes
/// and whether it ends in a line feed.
fn stretches(
    mut journal: impl BufRead,
    mut each: impl FnMut(u64, JournalStretch<'_>),
) -> io::Result<(u64, bool)> {
    let (mut at, mut ended, mut line) = (0, true, Vec::new());
    loop {
        line.clear();
        let length = journal
            .by_ref()
            .take(LONGEST_LINE)
            .read_until(b'\n', &mut line)? as u64;
        if length == 0 {
            return Ok((at, ended));
        }
        ended = line.last() == Some(&b'\n');
        match unframed(line.strip_suffix(b"\n").unwrap_or(&line)) {
            Some(json) => each(at, JournalStretch::Sound(json)),
            None => each(at, JournalStretch::Spoiled(length)),
        }
        at += length;
    }
}

/// What a journal says.
#[derive(Debug, Default)]
pub(super) struct Reading {
    /// What its first line says, if it is undamaged.
    pub version: Option<Version>,
    /// All entries, applied in order.
    pub state: State,
    /// Entries that were used.
    pub entries: u64,
    /// Good lines of a kind that is not known.
    pub unknown: u64,
    /// What had to be left out.
    pub damage: Option<Damage>,
    /// Bytes in all.
    pub length: u64,
    /// Good to the end, but without the last line feed.
    pub unended: bool,
}

/// Reads a journal from its first byte, handing over each entry before it is
/// applied. No content makes it fail: only the reading itself can.
pub(super) fn read(journal: impl BufRead, mut each: impl FnMut(&Entry)) -> io::Result<Reading> {
    let mut reading = Reading::default();
    let mut damage = Damage::default();
    let mut spoiled_to = None;
    let mut next = NextInRun::default();
    let (length, ended) = stretches(journal, |at, stretch| match stretch {
        JournalStretch::Sound(json) => {
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
        JournalStretch::Spoiled(bytes) => {
            if damage.bytes == 0 {
                damage.first_at = at;
            }
            damage.stretches += u64::from(spoiled_to != Some(at));
            damage.bytes += bytes;
            spoiled_to = Some(at + bytes);
        }
    })?;
    damage.no_header = reading.version.is_none();
    damage.kept = reading.entries;
    damage.only_torn_end =
        !ended && !damage.no_header && damage.stretches == 1 && spoiled_to == Some(length);
    reading.length = length;
    reading.unended = !ended && spoiled_to != Some(length);
    reading.damage = (damage.bytes > 0 || damage.no_header).then_some(damage);
    Ok(reading)
}

/// The last so many lines of a journal.
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
    /// It names this format.
    Format(Version),
    /// Its sum is right, but it is not an entry and names no format that can be
    /// read.
    UnknownFormat,
    /// It is damaged, or missing.
    Other,
}

/// Looks at the first line, without reading on.
pub(super) fn first_line(mut journal: impl BufRead) -> io::Result<FirstLine> {
    /// What tells an entry from a line that names a format.
    #[derive(Deserialize)]
    struct EntryKeys {
        threadmark: Option<IgnoredAny>,
        at: Option<IgnoredAny>,
    }
    let mut line = Vec::new();
    journal
        .by_ref()
        .take(LONGEST_LINE)
        .read_until(b'\n', &mut line)?;
    let Some(json) = unframed(line.strip_suffix(b"\n").unwrap_or(&line)) else {
        return Ok(FirstLine::Other);
    };
    let keys = serde_json::from_slice::<EntryKeys>(json);
    Ok(match (version_of(json), keys) {
        (Some(version), _) => FirstLine::Format(version),
        (None, Ok(keys)) if keys.at.is_some() && keys.threadmark.is_none() => FirstLine::Other,
        (None, _) => FirstLine::UnknownFormat,
    })
}

/// A journal of all good lines of a damaged one, byte for byte, with a new
/// first line if its own is lost.
pub(super) fn mended(journal: impl BufRead) -> io::Result<Vec<u8>> {
    let mut sound = Vec::new();
    stretches(journal, |at, stretch| {
        let JournalStretch::Sound(json) = stretch else {
            return;
        };
        if sound.is_empty() && (at > 0 || version_of(json).is_none()) {
            sound = header();
        }
        sound.extend_from_slice(json);
        sound.extend(sum_of(json));
        sound.push(b'\n');
    })?;
    if sound.is_empty() {
        sound = header();
    }
    Ok(sound)
}

#[cfg(test)]
mod tests;
