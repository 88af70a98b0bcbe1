//! A file that is written for its maker: whole or not at all.

use std::fs::{self, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::Builder;

/// Writes a file so that at any moment, even after a kill or a power cut,
/// either all of it is there or nothing, or what was there before: into a file
/// beside it, which then takes its name. Without `over` one that is there
/// stays; with it, who may read and write it stays as it was, and a link goes
/// on pointing where it does.
///
/// # Errors
/// [`io::ErrorKind::AlreadyExists`] without `over`; or what the system says,
/// and then nothing is changed.
pub fn save(file: &Path, text: &[u8], over: bool) -> io::Result<()> {
    let old = fs::metadata(file).ok().filter(|_| over);
    let file = match &old {
        // A pipe or a device has no old content to keep.
        Some(old) if !old.is_file() && !old.is_dir() => return fs::write(file, text),
        Some(old) if old.permissions().readonly() => {
            return Err(io::ErrorKind::PermissionDenied.into());
        }
        Some(_) => file.canonicalize()?,
        None => file.to_path_buf(),
    };
    let dir = match file.parent() {
        Some(dir) if !dir.as_os_str().is_empty() => dir.to_path_buf(),
        _ => PathBuf::from("."),
    };
    let mut builder = Builder::new();
    builder.prefix(".new-");
    if let Some(permissions) = old.map(|old| old.permissions()).or_else(usual) {
        builder.permissions(permissions);
    }
    let mut new = builder.tempfile_in(dir)?;
    new.write_all(text)?;
    new.as_file().sync_all()?;
    match over {
        true => new.persist(file)?,
        false => new.persist_noclobber(file)?,
    };
    Ok(())
}

/// Who may read a new file: what its maker's own setting leaves of everybody.
#[cfg(unix)]
fn usual() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn usual() -> Option<Permissions> {
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(dir: &Path) -> Vec<String> {
        let names = fs::read_dir(dir).unwrap();
        let mut names: Vec<String> = names
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn one_that_is_there_stays_unless_overd_and_nothing_else_is_left() {
        let dir = tempfile::tempdir().unwrap();
        let file = dir.path().join("sheet.html");
        save(&file, b"one", false).unwrap();
        let refused = save(&file, b"two", false).unwrap_err();
        assert_eq!(refused.kind(), io::ErrorKind::AlreadyExists);
        assert_eq!(fs::read(&file).unwrap(), b"one");
        save(&file, b"two", true).unwrap();
        assert_eq!(fs::read(&file).unwrap(), b"two");
        assert_eq!(names(dir.path()), ["sheet.html"]);
    }

    #[test]
    fn a_directory_is_not_written_over() {
        let dir = tempfile::tempdir().unwrap();
        let file = dir.path().join("sheets");
        fs::create_dir(&file).unwrap();
        for over in [false, true] {
            assert!(save(&file, b"one", over).is_err());
        }
        assert_eq!(names(dir.path()), ["sheets"]);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_goes_on_pointing_and_readers_stay_the_same() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let dir = tempfile::tempdir().unwrap();
        let (file, link) = (dir.path().join("a.html"), dir.path().join("b.html"));
        fs::write(&file, "one").unwrap();
        fs::set_permissions(&file, Permissions::from_mode(0o640)).unwrap();
        symlink("a.html", &link).unwrap();
        save(&link, b"two", true).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read(&file).unwrap(), b"two");
        let mode = fs::metadata(&file).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o640);
    }

    #[cfg(unix)]
    #[test]
    fn one_that_may_not_be_written_stays() {
        use std::os::unix::fs::PermissionsExt;
        let dir = tempfile::tempdir().unwrap();
        let file = dir.path().join("sheet.html");
        fs::write(&file, "one").unwrap();
        fs::set_permissions(&file, Permissions::from_mode(0o444)).unwrap();
        let refused = save(&file, b"two", true).unwrap_err();
        assert_eq!(refused.kind(), io::ErrorKind::PermissionDenied);
        assert_eq!(fs::read(&file).unwrap(), b"one");
    }
}
