//! A file that a command writes for its maker: whole or not at all.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::failure::Failure;

/// Writes a file whole or not at all. Without `force` one that is there stays.
///
/// # Errors
/// A file that is there, or one that the system does not let us write.
pub(super) fn save(file: &Path, text: &[u8], force: bool) -> Result<(), Failure> {
    let name = || file.display().to_string();
    let failed = |error: io::Error| match error.kind() {
        io::ErrorKind::AlreadyExists => Failure::FileIsThere { file: name() },
        _ => Failure::NotWritten {
            file: name(),
            error,
        },
    };
    if !force {
        let mut new = OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(file)
            .map_err(failed)?;
        if let Err(error) = fill(&mut new, text) {
            // Half of a pattern helps nobody, and this file is our own.
            let _ = fs::remove_file(file);
            return Err(failed(error));
        }
        return Ok(());
    }
    // Beside it first, so that the old one is there until the new one is whole.
    let mut beside = file.as_os_str().to_owned();
    beside.push(format!(".new-{}", std::process::id()));
    let beside = PathBuf::from(beside);
    let written = File::create(&beside)
        .and_then(|mut new| fill(&mut new, text))
        .and_then(|()| fs::rename(&beside, file));
    written.map_err(|error| {
        let _ = fs::remove_file(&beside);
        failed(error)
    })
}

fn fill(file: &mut File, text: &[u8]) -> io::Result<()> {
    file.write_all(text)?;
    file.sync_all()
}
