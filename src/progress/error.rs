//! Errors of beginning and opening a piece.

use std::io;
use std::path::{Path, PathBuf};

use super::version::Version;
use crate::plain_file;

/// Why something failed. Nothing on disk was changed.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// An error of the operating system.
    #[error("{doing} {path}: {why}", path = .path.display(), why = plain_file::reason(.source))]
    Io {
        /// What was being done, such as `cannot read`.
        doing: &'static str,
        /// The file or directory.
        path: PathBuf,
        /// The system's error.
        source: io::Error,
    },
    /// The tray has no piece of this name.
    #[error("no piece named '{name}' {lies} {tray}{hint}", lies = if *.is_away { "is put away in" } else { "lies in the tray" }, tray = .tray.display(), hint = hint(.titled, .nearest))]
    NoSuchPiece {
        /// The name asked for, safe to show.
        name: String,
        /// The tray that was searched.
        tray: PathBuf,
        /// Whether that holds the pieces that are put away.
        is_away: bool,
        /// The names of pieces that have the name asked for as their title.
        titled: Vec<String>,
        /// The most similar name.
        nearest: Option<String>,
    },
    /// Another program has the piece open for work.
    #[error("the piece '{name}' is open elsewhere")]
    InUse {
        /// Its name, safe to show.
        name: String,
    },
    /// The file of the maker's settings is wrong.
    #[error("{path}:{line}: {what}", path = .path.display())]
    BadSettings {
        /// Their file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// What is wrong.
        what: String,
    },
    /// A file is not an exported piece, or it is damaged.
    #[error("{path} cannot be imported: {why}. Nothing of it was kept", path = .path.display())]
    NotACopy {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// The file has a newer format.
    #[error("{path} is of format {found}, and this threadmark reads format {major}.x: open it with the threadmark that wrote it, or a newer one. Nothing was changed", path = .path.display(), major = Version::OURS.major)]
    Format {
        /// The file.
        path: PathBuf,
        /// Its format.
        found: Version,
    },
    /// The journal's first line names a format that this program does not know.
    #[error("{path} names a format that this threadmark cannot read: open it with the threadmark that wrote it, or a newer one. Nothing was changed", path = .path.display())]
    UnknownFormat {
        /// The file.
        path: PathBuf,
    },
    /// The piece's own copy of the pattern is missing.
    #[error("the piece has lost its own copy of the pattern: put the pattern that it was begun from back as {path}. Its progress is safe", path = .path.display())]
    NoPattern {
        /// Where the copy belongs.
        path: PathBuf,
    },
    /// There is something else in the place of a plain file.
    #[error("{path} is not a plain file: move it away", path = .path.display())]
    NotAFile {
        /// The path.
        path: PathBuf,
    },
    /// A file is larger than any that this program writes.
    #[error("{path} cannot be read: {why}", path = .path.display(), why = plain_file::reason(.source))]
    TooLarge {
        /// The path.
        path: PathBuf,
        /// The error that says how large it may be.
        source: io::Error,
    },
    /// The system has no directory for a user's data.
    #[error(
        "this system names no directory for your data: name one for the tray yourself, by the flag --tray DIR or the environment variable {variable}"
    )]
    NoPlace {
        /// The environment variable that can name one.
        variable: &'static str,
    },
}

impl Error {
    /// The error of reading a file of a piece: [`Error::NotAFile`],
    /// [`Error::TooLarge`] or [`Error::Io`].
    pub(super) fn reading(path: &Path) -> impl FnOnce(io::Error) -> Error {
        let path = path.to_path_buf();
        move |source| match source.kind() {
            _ if plain_file::is_refused(&source) => Error::NotAFile { path },
            io::ErrorKind::FileTooLarge => Error::TooLarge { path, source },
            _ => Error::io("cannot read", &path)(source),
        }
    }

    pub(super) fn io(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> Error {
        let path = path.to_path_buf();
        move |source| Error::Io {
            doing,
            path,
            source,
        }
    }
}

fn hint(titled: &[String], nearest: &Option<String>) -> String {
    match (titled, nearest) {
        ([], Some(name)) => format!("; did you mean '{name}'?"),
        ([], None) => String::new(),
        ([one], _) => format!("; '{one}' has that title"),
        (several, _) => {
            let names = crate::problem::names(several, "and");
            format!("; {names} have that title: name one of them")
        }
    }
}
