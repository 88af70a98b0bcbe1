//! piece.json: what holds for a piece from its start on.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::Error;
use super::moment::Moment;
use super::plain::PlainText;
use super::version::Version;
use crate::plain_file::{self, PIECE_BYTES};

/// The name of the file in a piece's directory.
pub(super) const NAME: &str = "piece.json";

/// The metadata of a piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct PieceMetadata {
    /// What kind of file this is: `piece`.
    pub threadmark: PlainText,
    /// Its format.
    #[serde(flatten)]
    pub version: Version,
    /// The piece's title.
    pub title: PlainText,
    /// The absolute path of the pattern file that it was begun from; `None` for
    /// a pattern that came with the program.
    pub source: Option<PathBuf>,
    /// CRC-32 of the piece's own copy of the pattern.
    pub pattern_crc32: u32,
    /// Steps in all, if known.
    pub steps: Option<u32>,
    /// When it was begun, if known.
    pub begun: Option<Moment>,
    /// Fields of a newer version.
    #[serde(flatten)]
    pub unknown: serde_json::Map<String, serde_json::Value>,
}

/// The result of reading piece.json.
pub(super) enum MetadataRead {
    /// It was read.
    PieceMetadata(PieceMetadata),
    /// The file is missing.
    Missing,
    /// The file exists but makes no sense.
    Damaged,
}

impl PieceMetadata {
    pub(super) fn new(title: &str, pattern: &[u8]) -> PieceMetadata {
        PieceMetadata {
            threadmark: PlainText::new("piece"),
            version: Version::OURS,
            title: PlainText::new(title),
            source: None,
            pattern_crc32: crc32fast::hash(pattern),
            steps: None,
            begun: None,
            unknown: serde_json::Map::new(),
        }
    }

    pub(super) fn to_bytes(&self) -> Vec<u8> {
        // Only a path that is not UTF-8 cannot be written as JSON.
        let writable = serde_json::to_vec_pretty(self).or_else(|_| {
            let source = self
                .source
                .as_ref()
                .map(|path| path.to_string_lossy().into_owned().into());
            serde_json::to_vec_pretty(&PieceMetadata {
                source,
                ..self.clone()
            })
        });
        let mut bytes = writable.expect("metadata is always writable as JSON");
        bytes.push(b'\n');
        bytes
    }

    /// Reads piece.json in `dir`.
    ///
    /// # Errors
    /// [`Error::Format`] for a newer major version, or as [`Error::reading`].
    pub(super) fn read(dir: &Path) -> Result<MetadataRead, Error> {
        let path = dir.join(NAME);
        let read = plain_file::read_own(&path, PIECE_BYTES).map_err(Error::reading(&path))?;
        let Some(bytes) = read else {
            return Ok(MetadataRead::Missing);
        };
        // The version first, since a newer major version may have other fields.
        match serde_json::from_slice::<Version>(&bytes) {
            Ok(found) if !found.is_readable() => Err(Error::Format { path, found }),
            _ => Ok(serde_json::from_slice(&bytes)
                .map_or(MetadataRead::Damaged, MetadataRead::PieceMetadata)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_written_form_is_this() {
        let metadata = PieceMetadata {
            source: Some("/home/mat/star.json".into()),
            steps: Some(168),
            begun: Some(Moment(1_700_000_000_000)),
            ..PieceMetadata::new("Evening star", b"{}")
        };
        let written = r#"{
  "threadmark": "piece",
  "major": 1,
  "minor": 8,
  "title": "Evening star",
  "source": "/home/mat/star.json",
  "pattern_crc32": 2745614147,
  "steps": 168,
  "begun": 1700000000000
}
"#;
        assert_eq!(String::from_utf8(metadata.to_bytes()).unwrap(), written);
        assert!(include_str!("../../docs/keeping.md").contains(written));
    }

    #[test]
    fn fields_of_a_newer_minor_version_stay() {
        let dir = tempfile::tempdir().unwrap();
        let mut json = serde_json::to_value(PieceMetadata::new("Star", b"")).unwrap();
        json["minor"] = 9.into();
        json["lamp"] = "warm".into();
        std::fs::write(dir.path().join(NAME), json.to_string()).unwrap();
        let MetadataRead::PieceMetadata(metadata) = PieceMetadata::read(dir.path()).unwrap() else {
            panic!("not read")
        };
        let again: serde_json::Value = serde_json::from_slice(&metadata.to_bytes()).unwrap();
        assert_eq!(again, json);
    }

    #[cfg(unix)]
    #[test]
    fn a_source_path_that_is_not_utf_8_is_written() {
        use std::os::unix::ffi::OsStringExt;
        let odd = std::ffi::OsString::from_vec(b"/home/\xff.json".to_vec());
        let metadata = PieceMetadata {
            source: Some(odd.into()),
            ..PieceMetadata::new("Star", b"")
        };
        assert!(
            String::from_utf8(metadata.to_bytes())
                .unwrap()
                .contains("/home/\u{fffd}.json")
        );
    }
}
