//! Files and lines that somebody else may have made: only plain files are
//! opened, and no more is read than there may be.
//!
//! A link, a pipe or a device under the name of a file could lead elsewhere,
//! keep the program waiting or never end. So a file is opened without waiting,
//! and looked at once it is open.

use std::fs::{File, OpenOptions};
use std::io::{self, BufRead, Read};
use std::path::Path;

/// The most bytes of a pattern: 1 MiB. A ring of eight takes about 2 KiB.
pub const PATTERN_BYTES: u64 = 1 << 20;
/// The most bytes of a `piece.json`: 256 KiB. The longest title takes 40 KiB.
pub const PIECE_BYTES: u64 = 256 << 10;
/// The most bytes of a journal: 512 MiB, about six million steps.
pub const JOURNAL_BYTES: u64 = 512 << 20;
/// The most bytes of a line that is typed or piped in: 64 KiB. The longest
/// note takes 40 KiB.
pub const LINE_BYTES: u64 = 64 << 10;

/// Opens a file that the maker named, for reading. A link is followed.
///
/// # Errors
/// One for which [`is_refused`] holds if it is no plain file; or what the
/// system says.
pub fn open(path: &Path) -> io::Result<File> {
    open_with(path, OpenOptions::new().read(true), false)
}

/// Opens a file of the program's own, as `options` say. A link is no plain
/// file here.
///
/// # Errors
/// As [`open`].
pub fn open_own(path: &Path, options: &mut OpenOptions) -> io::Result<File> {
    open_with(path, options, true)
}

/// Reads a file of the program's own whole; `None` if it is missing.
///
/// # Errors
/// As [`open`] and [`read_up_to`].
pub fn read_own(path: &Path, most: u64) -> io::Result<Option<Vec<u8>>> {
    match open_own(path, OpenOptions::new().read(true)) {
        Ok(file) => read_up_to(file, most).map(Some),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}

/// Opens a file of the program's own for reading, unless it is longer than
/// `most` bytes.
///
/// # Errors
/// As [`open`]; and [`io::ErrorKind::FileTooLarge`].
pub fn open_own_up_to(path: &Path, most: u64) -> io::Result<File> {
    let file = open_own(path, OpenOptions::new().read(true))?;
    bounded(&file, most)?;
    Ok(file)
}

/// Reads an open file whole.
///
/// # Errors
/// [`io::ErrorKind::FileTooLarge`] if it is longer than `most` bytes; or what
/// the system says.
pub fn read_up_to(file: File, most: u64) -> io::Result<Vec<u8>> {
    bounded(&file, most)?;
    let mut bytes = Vec::new();
    file.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Whether a file was refused because it is no plain file.
pub fn is_refused(error: &io::Error) -> bool {
    error.kind() == io::ErrorKind::InvalidInput
}

/// What went wrong with a file, in words: without the number that the system
/// has for it.
pub fn reason(error: &io::Error) -> String {
    let told = error.to_string();
    let Some((what, rest)) = told.split_once(" (os error ") else {
        return told;
    };
    format!(
        "{what}{}",
        rest.trim_start_matches(|c| c != ')')
            .trim_start_matches(')')
    )
}

fn bounded(file: &File, most: u64) -> io::Result<()> {
    match file.metadata()?.len() > most {
        true => Err(io::Error::new(
            io::ErrorKind::FileTooLarge,
            format!("it is longer than the {} KiB that it may have", most >> 10),
        )),
        false => Ok(()),
    }
}

fn refused() -> io::Error {
    io::Error::new(io::ErrorKind::InvalidInput, "it is not a plain file")
}

#[cfg(unix)]
fn open_with(path: &Path, options: &mut OpenOptions, own: bool) -> io::Result<File> {
    use rustix::{fs::OFlags, io::Errno};
    use std::os::unix::fs::OpenOptionsExt;
    let flags = match own {
        true => OFlags::NONBLOCK | OFlags::NOFOLLOW,
        false => OFlags::NONBLOCK,
    };
    let opened = options.custom_flags(flags.bits() as i32).open(path);
    let file = opened.map_err(|error| match Errno::from_io_error(&error) {
        // A link to itself is told as such to whoever named it.
        Some(Errno::LOOP) if own => refused(),
        // A directory opened for writing; a socket, or a pipe without readers.
        Some(Errno::ISDIR | Errno::NXIO) => refused(),
        _ => error,
    })?;
    match file.metadata()?.is_file() {
        true => Ok(file),
        false => Err(refused()),
    }
}

#[cfg(not(unix))]
fn open_with(path: &Path, options: &mut OpenOptions, own: bool) -> io::Result<File> {
    let found = match own {
        true => path.symlink_metadata(),
        false => path.metadata(),
    };
    match found {
        Ok(found) if !found.is_file() => Err(refused()),
        _ => options.open(path),
    }
}

/// The next line of an input, or the end of it.
#[derive(Debug, PartialEq, Eq)]
pub enum Line {
    /// A line without spaces round it. What is no text in it is replaced.
    Text(String),
    /// More than [`LINE_BYTES`]; all of it was passed over.
    TooLong,
    /// There is no more.
    End,
}

/// Reads a line.
///
/// # Errors
/// What the system says.
pub fn line(input: &mut dyn BufRead) -> io::Result<Line> {
    let mut line = Vec::new();
    let mut too_long = false;
    loop {
        line.clear();
        let read = input.take(LINE_BYTES).read_until(b'\n', &mut line)? as u64;
        let whole = read < LINE_BYTES || line.ends_with(b"\n");
        return Ok(match (read, whole) {
            (0, _) if !too_long => Line::End,
            (_, true) if too_long => Line::TooLong,
            (_, true) => Line::Text(String::from_utf8_lossy(&line).trim().into()),
            (_, false) => {
                too_long = true;
                continue;
            }
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reason_has_no_number() {
        // 13 is EACCES, by POSIX's errno.h on Linux.
        let refused = io::Error::from_raw_os_error(13);
        assert_eq!(reason(&refused), "Permission denied");
        let inner = io::Error::other(format!("{refused} at path \"a\""));
        assert_eq!(reason(&inner), "Permission denied at path \"a\"");
        assert_eq!(reason(&io::Error::other("a pipe")), "a pipe");
    }

    #[test]
    fn a_line_is_read_up_to_its_bound_and_the_next_is_whole() {
        let long = "x".repeat(LINE_BYTES as usize - 1);
        let typed = format!(" b \n{long}\n{long}x\n{}\nq", long.repeat(3));
        let mut input = typed.as_bytes();
        let mut next = || line(&mut input).unwrap();
        assert_eq!(next(), Line::Text("b".into()));
        assert_eq!(next(), Line::Text(long));
        assert_eq!((next(), next()), (Line::TooLong, Line::TooLong));
        assert_eq!((next(), next()), (Line::Text("q".into()), Line::End));
    }

    #[test]
    fn a_file_is_read_up_to_its_bound() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("piece.json");
        std::fs::write(&path, "12345").unwrap();
        assert_eq!(read_up_to(open(&path).unwrap(), 5).unwrap(), b"12345");
        let error = open_own_up_to(&path, 4).unwrap_err();
        assert_eq!(error.kind(), io::ErrorKind::FileTooLarge);
    }

    #[cfg(unix)]
    #[test]
    fn only_plain_files_are_opened_and_a_link_only_where_the_maker_named_it() {
        use std::os::unix::fs::symlink;
        let dir = tempfile::tempdir().unwrap();
        let at = |name: &str| dir.path().join(name);
        std::fs::write(at("file"), "1").unwrap();
        symlink("file", at("link")).unwrap();
        symlink("/dev/zero", at("device")).unwrap();
        std::fs::create_dir(at("dir")).unwrap();
        let _socket = std::os::unix::net::UnixListener::bind(at("socket")).unwrap();
        let pipe = std::process::Command::new("mkfifo")
            .arg(at("pipe"))
            .status();
        assert!(pipe.unwrap().success());
        assert!(open(&at("link")).is_ok());
        for name in ["device", "dir", "pipe", "socket"] {
            assert!(is_refused(&open(&at(name)).unwrap_err()), "{name}");
        }
        for name in ["link", "device", "dir", "pipe", "socket"] {
            for append in [false, true] {
                let opened = open_own(&at(name), OpenOptions::new().read(true).append(append));
                assert!(is_refused(&opened.unwrap_err()), "{name}");
            }
        }
    }
}
