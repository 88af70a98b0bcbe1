//! A file that a command writes, and why it cannot.

use std::io;
use std::path::Path;

use super::failure::Failure;
use crate::atomic_file;

/// Writes a file whole or not at all. Without `force` one that is there stays.
///
/// # Errors
/// A file that is there, or one that the system does not let us write.
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
                "see that the directory is there, that there is room, and that you may write there",
            ),
        }
    })
}
