//! Files that are written whole or not at all.
//!
//! New content goes into a file beside, which is created under a random name,
//! synced and then renamed. So at any moment, even after a kill or a power cut,
//! either all of the new content is there or what was there before; and a link
//! that lies under either name is never written through.

use std::fs::{self, File, OpenOptions, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::Builder;

use crate::plain_file;

/// Writes a file of the program's own. A link under this name is replaced and
/// not followed; who may read a plain file there stays as it was.
///
/// # Errors
/// What the system says; nothing is changed then.
pub fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let old = fs::symlink_metadata(path).ok().filter(|old| old.is_file());
    put(path, bytes, true, old.map(|old| still_writable(&old)))
}

/// Writes a file that must not be there yet, and syncs it. For a directory
/// that nobody else knows of, as a failure may leave half a file.
///
/// # Errors
/// [`io::ErrorKind::AlreadyExists`], or what the system says.
pub fn create(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Writes a file that the maker named. Without `over` one that is there stays.
/// With it, who may read and write it stays as it was, and a link goes on
/// pointing where it does; a pipe or a device takes the bytes.
///
/// # Errors
/// [`io::ErrorKind::AlreadyExists`] without `over`; or what the system says,
/// and then nothing is changed.
pub fn save(path: &Path, bytes: &[u8], over: bool) -> io::Result<()> {
    match fs::metadata(path).ok().filter(|_| over) {
        None => put(path, bytes, over, None),
        Some(old) if old.is_dir() => Err(io::Error::new(
            io::ErrorKind::IsADirectory,
            "it is a directory",
        )),
        Some(old) if !old.is_file() => pour(path, bytes),
        Some(old) if old.permissions().readonly() => Err(io::ErrorKind::PermissionDenied.into()),
        Some(old) => put(&path.canonicalize()?, bytes, over, Some(old.permissions())),
    }
}

/// The directory of a file that is to be saved is not there.
#[derive(Debug, thiserror::Error)]
#[error("the directory {} is not there: {}", .0.display(), NoDirectory::MEND)]
pub struct NoDirectory(
    /// The directory.
    pub PathBuf,
);

impl NoDirectory {
    /// What can be done.
    pub const MEND: &str = "make it, or name another";
}

/// Puts a new file under this name, with the permissions of the old one if
/// there was one.
fn put(path: &Path, bytes: &[u8], over: bool, old: Option<Permissions>) -> io::Result<()> {
    let dir = match path.parent() {
        Some(dir) if !dir.as_os_str().is_empty() => dir.to_path_buf(),
        _ => PathBuf::from("."),
    };
    if !dir.is_dir() {
        return Err(io::Error::new(io::ErrorKind::NotFound, NoDirectory(dir)));
    }
    let mut builder = Builder::new();
    builder.prefix(".new-");
    if let (None, Some(permissions)) = (&old, usual()) {
        builder.permissions(permissions);
    }
    let mut new = builder.tempfile_in(&dir)?;
    if let Some(old) = old {
        new.as_file().set_permissions(old)?;
    }
    new.write_all(bytes)?;
    new.as_file().sync_all()?;
    match over {
        true => new.persist(path)?,
        false => new.persist_noclobber(path)?,
    };
    sync_dir(&dir)
}

/// Writes into a pipe or a device. One that nobody reads from is an error at
/// once; a reader that has seen enough is none.
#[cfg(unix)]
fn pour(path: &Path, bytes: &[u8]) -> io::Result<()> {
    use rustix::{fs as unix, io::Errno};
    use std::os::unix::fs::OpenOptionsExt;
    let nonblock = unix::OFlags::NONBLOCK.bits() as i32;
    let mut options = OpenOptions::new();
    let opened = options.write(true).custom_flags(nonblock).open(path);
    let mut to = opened.map_err(|error| match Errno::from_io_error(&error) {
        Some(Errno::NXIO) => io::Error::other("it is a pipe that no program reads from"),
        _ => error,
    })?;
    unix::fcntl_setfl(&to, unix::OFlags::empty())?;
    match to.write_all(bytes) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        written => written,
    }
}

#[cfg(not(unix))]
fn pour(path: &Path, bytes: &[u8]) -> io::Result<()> {
    fs::write(path, bytes)
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

/// The permissions of an old file, and its owner may write.
#[cfg(unix)]
fn still_writable(old: &fs::Metadata) -> Permissions {
    use std::os::unix::fs::PermissionsExt;
    Permissions::from_mode(old.permissions().mode() & 0o777 | 0o600)
}

#[cfg(not(unix))]
#[expect(
    clippy::permissions_set_readonly_false,
    reason = "it opens a file to everybody on Unix alone"
)]
fn still_writable(old: &fs::Metadata) -> Permissions {
    let mut permissions = old.permissions();
    permissions.set_readonly(false);
    permissions
}

/// Syncs a directory, so that a name made or renamed in it outlasts a power
/// cut. Where a directory cannot be opened the system sees to it itself.
///
/// # Errors
/// What the system says.
pub fn sync_dir(dir: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(dir)?.sync_all()
    } else {
        Ok(())
    }
}

/// Keeps what lies under this name beside it, as the first free name
/// `NAME.WORD-1`, `NAME.WORD-2`, …, and returns that name: a plain file is
/// copied and stays, anything else is moved. `None` if nothing is there.
///
/// # Errors
/// What the system says.
pub fn set_aside(path: &Path, word: &str) -> io::Result<Option<String>> {
    let mut from = match plain_file::open_own(path, OpenOptions::new().read(true)) {
        Ok(file) => Some(file),
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) if plain_file::is_refused(&error) => None,
        Err(error) => return Err(error),
    };
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    for number in 1.. {
        let aside = format!("{name}.{word}-{number}");
        let to = path.with_file_name(&aside);
        if to.symlink_metadata().is_ok() {
            continue;
        }
        let Some(from) = &mut from else {
            fs::rename(path, &to)?;
            return Ok(Some(aside));
        };
        let mut file = match OpenOptions::new().write(true).create_new(true).open(&to) {
            Ok(file) => file,
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => continue,
            Err(error) => return Err(error),
        };
        let copied = io::copy(from, &mut file).and_then(|_| file.sync_all());
        if let Err(error) = copied {
            let _ = fs::remove_file(&to);
            return Err(error);
        }
        return Ok(Some(aside));
    }
    unreachable!("the numbers have no end")
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
    fn one_that_is_there_stays_unless_over_and_nothing_else_is_left() {
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
    fn a_directory_that_is_not_there_is_said_plainly() {
        let dir = tempfile::tempdir().unwrap();
        let beads = dir.path().join("beads");
        let refused = save(&beads.join("a.html"), b"one", false).unwrap_err();
        let beads = beads.display();
        assert_eq!(
            refused.to_string(),
            format!("the directory {beads} is not there: make it, or name another")
        );
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

    #[cfg(unix)]
    #[test]
    fn a_file_of_our_own_replaces_a_link_and_spares_what_it_leads_to() {
        use std::os::unix::fs::symlink;
        let dir = tempfile::tempdir().unwrap();
        let (own, other) = (dir.path().join("journal"), dir.path().join("letters"));
        fs::write(&other, "dear").unwrap();
        for planted in ["journal", "journal.new"] {
            let _ = fs::remove_file(&own);
            symlink(&other, dir.path().join(planted)).unwrap();
            write(&own, b"begun").unwrap();
            assert_eq!(fs::read(&own).unwrap(), b"begun");
            assert!(fs::symlink_metadata(&own).unwrap().is_file());
            assert_eq!(fs::read(&other).unwrap(), b"dear");
        }
    }

    #[cfg(unix)]
    #[test]
    fn who_may_read_a_file_of_our_own_stays_as_it_was() {
        use std::os::unix::fs::PermissionsExt;
        let dir = tempfile::tempdir().unwrap();
        let own = dir.path().join("journal");
        fs::write(&own, "begun").unwrap();
        for (old, new) in [
            (0o600, 0o600),
            (0o640, 0o640),
            (0o444, 0o644),
            (0o4755, 0o755),
        ] {
            fs::set_permissions(&own, Permissions::from_mode(old)).unwrap();
            write(&own, b"begun").unwrap();
            let mode = fs::metadata(&own).unwrap().permissions().mode();
            assert_eq!(mode & 0o7777, new, "{old:o}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn what_is_no_plain_file_is_moved_aside_and_a_plain_one_copied() {
        use std::os::unix::fs::symlink;
        let dir = tempfile::tempdir().unwrap();
        let own = dir.path().join("journal");
        assert_eq!(set_aside(&own, "other").unwrap(), None);
        fs::write(&own, "begun").unwrap();
        let aside = set_aside(&own, "other").unwrap();
        assert_eq!(aside.as_deref(), Some("journal.other-1"));
        assert!(own.exists());
        fs::remove_file(&own).unwrap();
        symlink("journal.other-1", &own).unwrap();
        set_aside(&own, "other").unwrap();
        assert!(own.symlink_metadata().is_err());
        assert!(dir.path().join("journal.other-2").is_symlink());
        fs::create_dir(&own).unwrap();
        set_aside(&own, "other").unwrap();
        assert!(dir.path().join("journal.other-3").is_dir());
    }
}
