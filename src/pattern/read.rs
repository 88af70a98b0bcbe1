//! Reads a pattern: from a file or from bytes, stage by stage.

use std::io::{self, Read};
use std::path::Path;

use jsonc_parser::ast::Value;

use super::Pattern;
use super::duplicate;
use super::error::{Fault, PatternErrors, Quote, Reading};
use super::faults::Faults;
use super::field::Field;
use super::file::File;
use super::limit;
use super::parse;
use super::project;
use super::schema;
use super::shape;
use super::source::Source;
use crate::plain_file;

/// Reads the pattern file at `path`.
///
/// # Errors
/// [`PatternErrors`]: the file cannot be read, or all that is wrong with it.
pub fn load(path: impl AsRef<Path>) -> Result<Pattern, PatternErrors> {
    let path = path.as_ref();
    let name = path.display().to_string();
    let bytes = bytes(path).map_err(|error| {
        let reason = Reading::NoFile(error.to_string());
        PatternErrors::new(&name, vec![Fault::nowhere(reason)], 0)
    })?;
    read(&name, &bytes)
}

/// The bytes of a file, of one that is too large no more than tell that.
fn bytes(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let most = limit::FILE_BYTES as u64 + 1;
    plain_file::open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Reads the bytes of a pattern file; messages call it `file_name`.
///
/// # Errors
/// [`PatternErrors`]: all that is wrong with it.
pub fn read(file_name: &str, bytes: &[u8]) -> Result<Pattern, PatternErrors> {
    let unread = |fault: Box<Fault>| PatternErrors::new(file_name, vec![*fault], 0);
    let text = parse::text(bytes).map_err(unread)?;
    let source = parse::parse(text).map_err(unread)?;
    let mut faults = Faults::new(&source);
    let pattern = checked(text, &source, &mut faults);
    faults.or(file_name, pattern)
}

fn checked(text: &str, source: &Source, faults: &mut Faults) -> Option<Pattern> {
    if let Some(version) = other_version(source) {
        // Of another version nothing else can be said.
        faults.add(&Field::Top.key("threadmark"), version);
        return None;
    }
    duplicate::check(&source.top, &Field::Top, faults);
    shape::check(schema::made_once(), &source.top, &Field::Top, faults);
    if !faults.is_empty() {
        return None;
    }
    let mut reader = serde_json::Deserializer::from_str(text);
    match serde_path_to_error::deserialize::<_, File>(&mut reader) {
        Ok(file) => project::read(&file, faults),
        Err(error) => {
            let reason = format!("{}: {}", error.path(), error.inner());
            faults.add(&Field::Top, Reading::Other(reason));
            None
        }
    }
}

/// A version of the format that is not ours.
fn other_version(source: &Source) -> Option<Reading> {
    let Value::Object(top) = &source.top else {
        return None;
    };
    let version = top.get_number("threadmark")?.value;
    let shown = Quote::new(version).bare().to_string();
    match version.parse::<u64>() {
        Ok(1) => None,
        Ok(2..) => Some(Reading::Newer(shown)),
        _ => Some(Reading::NoVersion(shown)),
    }
}
