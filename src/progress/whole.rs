//! Files that are written whole or not at all.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

/// Writes a file so that at any moment, even after a power cut, either the old
/// content is there or the new: into a file beside, synced, then renamed.
pub(super) fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let beside = path.with_extension("new");
    let done = write_synced(
        &beside,
        bytes,
        OpenOptions::new().create(true).truncate(true),
    )
    .and_then(|()| fs::rename(&beside, path));
    if done.is_err() {
        let _ = fs::remove_file(&beside);
    }
    done?;
    sync_dir(path.parent().unwrap_or(Path::new(".")))
}

/// Writes a file that must not be there yet, and syncs it.
pub(super) fn write_fresh(path: &Path, bytes: &[u8]) -> io::Result<()> {
    write_synced(path, bytes, OpenOptions::new().create_new(true))
}

fn write_synced(path: &Path, bytes: &[u8], how: &mut OpenOptions) -> io::Result<()> {
    let mut file = how.write(true).open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Syncs a directory, so that a name made or renamed in it outlasts a power
/// cut. Where a directory cannot be opened the system sees to it itself.
pub(super) fn sync_dir(dir: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(dir)?.sync_all()
    } else {
        Ok(())
    }
}

/// Copies a file, as it is, to the first free name `NAME.WORD-1`,
/// `NAME.WORD-2`, … beside it, and returns that name. `None` if there is no
/// such file.
pub(super) fn set_aside(path: &Path, word: &str) -> io::Result<Option<String>> {
    let mut from = match File::open(path) {
        Ok(file) => file,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error),
    };
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    for number in 1.. {
        let aside = format!("{name}.{word}-{number}");
        let to = path.with_file_name(&aside);
        let mut file = match OpenOptions::new().write(true).create_new(true).open(&to) {
            Ok(file) => file,
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => continue,
            Err(error) => return Err(error),
        };
        let copied = io::copy(&mut from, &mut file).and_then(|_| file.sync_all());
        if let Err(error) = copied {
            let _ = fs::remove_file(&to);
            return Err(error);
        }
        return Ok(Some(aside));
    }
    unreachable!("the numbers have no end")
}
