//! Output of a command: to standard output, buffered and silent when the reader
//! is gone, or to a file.

use std::io::{self, BufWriter, Write};
use std::path::Path;

use serde::Serialize;

use super::CommandEnd;
use super::args::JsonOption;
use super::failure::Failure;
use super::line::Lines;
use crate::atomic_file::{self, NoDirectory};
use crate::clean::clean;
use crate::plain_file;

/// Size of the output buffer, bytes.
const BUFFER: usize = 1 << 16;

/// Writes to standard output, and makes sure that all of it was written: then
/// the command is done.
///
/// A reader that has seen enough and closed the pipe is not an error.
///
/// # Errors
/// The error of `print`, or [`Failure::Output`] if the output cannot be
/// written.
pub(super) fn print(
    print: impl FnOnce(&mut dyn Write) -> Result<(), Failure>,
) -> Result<CommandEnd, Failure> {
    let mut out = BufWriter::with_capacity(BUFFER, io::stdout().lock());
    match print(&mut out).and_then(|()| Ok(out.flush()?)) {
        Err(failure) if failure.is_closed_pipe() => {
            // What is still buffered cannot be written.
            let _ = out.into_parts();
            Ok(CommandEnd::Done)
        }
        printed => printed.map(|()| CommandEnd::Done),
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
) -> Result<CommandEnd, Failure> {
    print(|out| match json.json {
        true => {
            let mut lines = Lines::new(out);
            Ok(objects
                .into_iter()
                .try_for_each(|object| lines.write(&object))?)
        }
        false => text(out),
    })
}

/// Asks before any work whether a file may be written: it is not there, or `force`
/// is given.
///
/// # Errors
/// The file exists.
pub(super) fn may_save(file: &Path, force: bool) -> Result<(), Failure> {
    match force || file.symlink_metadata().is_err() {
        true => Ok(()),
        false => Err(taken(file)),
    }
}

fn taken(file: &Path) -> Failure {
    let name = file.display();
    match file.is_dir() {
        true => Failure::new(
            format!("{name}: cannot be written: it is a directory"),
            "name a file in it with -o FILE",
        ),
        false => Failure::new(
            format!("{name} is there already, and was left as it is"),
            "name another file with -o FILE, or add --force to write over it",
        ),
    }
}

/// Writes a file whole or not at all. Without `force` an existing file is not
/// replaced.
///
/// # Errors
/// The file exists, or it cannot be written.
pub(super) fn save(file: &Path, text: &[u8], force: bool) -> Result<(), Failure> {
    atomic_file::save(file, text, force).map_err(|error| {
        if file.is_dir() || error.kind() == io::ErrorKind::AlreadyExists {
            return taken(file);
        }
        let file = file.display();
        let gone = error.get_ref().and_then(|inner| inner.downcast_ref());
        if let Some(NoDirectory(dir)) = gone {
            let dir = dir.display();
            let what = format!("{file}: cannot be written: the directory {dir} is not there");
            return Failure::new(what, NoDirectory::MEND);
        }
        Failure::new(
            format!("{file}: cannot be written: {}", plain_file::reason(&error)),
            "check that there is room, and that you may write there",
        )
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
