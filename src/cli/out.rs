//! Output of a command: to standard output, buffered and silent when the reader
//! is gone, or to a file.

use std::io::{self, BufWriter, Write};
use std::path::Path;

use serde::Serialize;

use super::args::JsonOption;
use super::failure::Failure;
use super::line::Lines;
use crate::atomic_file;
use crate::clean::clean;

/// Size of the output buffer, bytes.
const BUFFER: usize = 1 << 16;

/// Writes to standard output, and makes sure that all of it was written.
///
/// A reader that has seen enough and closed the pipe is not an error.
///
/// # Errors
/// The error of `print`, or [`Failure::Output`] if the output cannot be
/// written.
pub(super) fn print<T>(
    print: impl FnOnce(&mut dyn Write) -> Result<T, Failure>,
) -> Result<Option<T>, Failure> {
    let mut out = BufWriter::with_capacity(BUFFER, io::stdout().lock());
    let printed = print(&mut out).and_then(|value| {
        out.flush()?;
        Ok(value)
    });
    match printed {
        Err(failure) if failure.is_closed_pipe() => {
            // What is still buffered cannot be written.
            let _ = out.into_parts();
            Ok(None)
        }
        Err(failure) => Err(failure),
        Ok(value) => Ok(Some(value)),
    }
}

/// Prints the answer of a command: with `--json` these objects, one a line, or
/// else text.
///
/// # Errors
/// As [`print()`].
pub(super) fn answer<L: Serialize>(
    json: JsonOption,
    objects: impl IntoIterator<Item = L>,
    text: impl FnOnce(&mut dyn Write) -> Result<(), Failure>,
) -> Result<(), Failure> {
    print(|out| match json.json {
        true => {
            let mut lines = Lines::new(out);
            Ok(objects
                .into_iter()
                .try_for_each(|object| lines.write(&object))?)
        }
        false => text(out),
    })
    .map(drop)
}

/// Writes a file whole or not at all. Without `force` an existing file is not
/// replaced.
///
/// # Errors
/// The file exists, or it cannot be written.
pub(super) fn save(file: &Path, text: &[u8], force: bool) -> Result<(), Failure> {
    atomic_file::save(file, text, force).map_err(|error| {
        let file = file.display().to_string();
        match error.kind() {
            io::ErrorKind::AlreadyExists => Failure::new(
                format!("{file} is there already, and was left as it is"),
                "name another file with -o FILE, or add --force to write over it",
            ),
            _ => Failure::new(
                format!("{file}: cannot be written: {error}"),
                "check that the directory is there, that there is room, and that you may write there",
            ),
        }
    })
}

/// Writes to standard output if the file is `-`, else as [`save`]. Returns the
/// file's name, safe to print, if it was saved.
///
/// # Errors
/// As [`print()`] and [`save`].
pub(super) fn save_or_print(
    file: &Path,
    text: &[u8],
    force: bool,
) -> Result<Option<String>, Failure> {
    if file.as_os_str() == "-" {
        print(|out| Ok(out.write_all(text)?))?;
        return Ok(None);
    }
    save(file, text, force)?;
    Ok(Some(clean(&file.display().to_string())))
}
