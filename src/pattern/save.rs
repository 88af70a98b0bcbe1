//! Writes a file of the maker's whole or not at all.

use std::ffi::OsString;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Writes a file that a maker named. Without `over` one that is there stays;
/// with it the old one is there until the new one is whole, and what it may
/// be read and written by stays as it was. A link is followed.
///
/// # Errors
/// [`io::ErrorKind::AlreadyExists`] without `over`; or what the system says,
/// and then nothing is changed.
pub fn save(file: &Path, text: &[u8], over: bool) -> io::Result<()> {
    if !over {
        let mut new = OpenOptions::new().write(true).create_new(true).open(file)?;
        // Half of a file helps nobody, and this one is our own.
        return fill(&mut new, text).inspect_err(|_| drop(fs::remove_file(file)));
    }
    let file = fs::canonicalize(file).unwrap_or_else(|_| file.into());
    let there = fs::metadata(&file).ok();
    if there.as_ref().is_some_and(|found| !found.is_file()) {
        return Err(io::Error::other("it is no plain file"));
    }
    if there
        .as_ref()
        .is_some_and(|found| found.permissions().readonly())
    {
        return Err(io::ErrorKind::PermissionDenied.into());
    }
    let beside = beside(&file);
    let written = File::create(&beside).and_then(|mut new| {
        if let Some(there) = there {
            // Some file systems keep no such thing: then there is none to keep.
            let _ = new.set_permissions(there.permissions());
        }
        fill(&mut new, text)?;
        fs::rename(&beside, &file)
    });
    written.inspect_err(|_| drop(fs::remove_file(&beside)))
}

fn beside(file: &Path) -> PathBuf {
    let mut beside = OsString::from(file);
    beside.push(format!(".new-{}", std::process::id()));
    beside.into()
}

fn fill(file: &mut File, text: &[u8]) -> io::Result<()> {
    file.write_all(text)?;
    file.sync_all()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_new_or_written_over_and_nothing_is_left_beside_it() {
        let dir = tempfile::TempDir::new().unwrap();
        let file = dir.path().join("star.json");
        save(&file, b"one", false).unwrap();
        let again = save(&file, b"two", false).unwrap_err();
        assert_eq!(again.kind(), io::ErrorKind::AlreadyExists);
        assert_eq!(fs::read(&file).unwrap(), b"one");
        save(&file, b"two", true).unwrap();
        assert_eq!(fs::read(&file).unwrap(), b"two");
        assert!(save(dir.path(), b"three", true).is_err());
        assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 1);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_followed_and_rights_stay() {
        use std::os::unix::fs::{PermissionsExt as _, symlink};
        let dir = tempfile::TempDir::new().unwrap();
        let (file, link) = (dir.path().join("star.json"), dir.path().join("link"));
        save(&file, b"one", false).unwrap();
        fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).unwrap();
        symlink(&file, &link).unwrap();
        save(&link, b"two", true).unwrap();
        assert_eq!(fs::read(&file).unwrap(), b"two");
        let mode = fs::metadata(&file).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o640);
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    }
}
