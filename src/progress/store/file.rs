//! A store in a file.

use std::fs::{File, Metadata, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::{ShortWrite, Store, SyncToDisk};
use crate::atomic_file;
use crate::plain_file;
use crate::progress::piece_dir::PieceDir;

/// A file that is appended to.
pub(in crate::progress) struct FileStore {
    path: PathBuf,
    file: Option<(File, FileIdentity)>,
    may_append: bool,
    /// Whether another program has shortened it.
    emptied: bool,
    piece_dir: Option<PieceDir>,
}

impl FileStore {
    /// Opens the file to append, or only to read if that is not permitted. Does
    /// not create it: if it is missing, the first `replace` does.
    ///
    /// # Errors
    /// One of [`plain_file::is_refused`] if it is not a plain file.
    pub(in crate::progress) fn open(path: &Path) -> io::Result<FileStore> {
        let mut store = FileStore {
            path: path.into(),
            file: None,
            may_append: false,
            emptied: false,
            piece_dir: None,
        };
        if store.open_to_append().is_err() {
            store.file = match plain_file::open_own(path, OpenOptions::new().read(true)) {
                Ok(file) => Some(identified(file)?),
                Err(error) if error.kind() == io::ErrorKind::NotFound => None,
                Err(error) => return Err(error),
            };
        }
        Ok(store)
    }

    /// Sets the piece's directory, which is restored when the file has to be
    /// made again.
    pub(in crate::progress) fn in_dir(self, piece_dir: PieceDir) -> FileStore {
        FileStore {
            piece_dir: Some(piece_dir),
            ..self
        }
    }

    fn restore_dir(&mut self) -> io::Result<()> {
        match &mut self.piece_dir {
            Some(dir) => dir.restore(),
            None => std::fs::create_dir_all(self.path.parent().unwrap_or(Path::new("."))),
        }
    }

    fn open_to_append(&mut self) -> io::Result<()> {
        let mut options = OpenOptions::new();
        options.read(true).append(true);
        self.file = Some(identified(plain_file::open_own(&self.path, &mut options)?)?);
        self.may_append = true;
        Ok(())
    }

    /// The file and its length, if the path still leads to it.
    fn present(&mut self) -> io::Result<(&mut File, u64)> {
        // Writing to a deleted or moved file gives no error, so each append
        // checks that the path still leads to it.
        let found = self.file.as_mut().and_then(|(file, identity)| {
            let found = found_at(*identity, &self.path)?;
            Some((file, found.len()))
        });
        found.ok_or(io::ErrorKind::NotFound.into())
    }
}

impl Store for FileStore {
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), ShortWrite> {
        let nothing_written = |error| ShortWrite { written: 0, error };
        if !self.may_append {
            self.present().map_err(nothing_written)?;
            self.restore_dir()
                .and_then(|()| self.open_to_append())
                .map_err(nothing_written)?;
        }
        let (file, length_now) = self.present().map_err(nothing_written)?;
        if length_now < length {
            self.emptied = true;
            return Err(nothing_written(io::ErrorKind::NotFound.into()));
        }
        let mut written = 0;
        while written < bytes.len() {
            match file.write(&bytes[written..]) {
                Ok(0) => {
                    return Err(ShortWrite {
                        written,
                        error: io::ErrorKind::WriteZero.into(),
                    });
                }
                Ok(n) => written += n,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(ShortWrite { written, error }),
            }
        }
        Ok(())
    }

    fn truncate(&mut self, length: u64) -> io::Result<()> {
        self.present()?.0.set_len(length)
    }

    fn replace(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.restore_dir()?;
        if (self.emptied || self.present().is_err()) && holds_other(&self.path, bytes)? {
            atomic_file::set_aside(&self.path, "other")?;
        }
        atomic_file::write(&self.path, bytes)?;
        self.emptied = false;
        self.open_to_append()
    }

    fn set_aside(&mut self) -> io::Result<Option<String>> {
        atomic_file::set_aside(&self.path, "damaged")
    }

    fn sync_handle(&mut self) -> io::Result<Arc<dyn SyncToDisk>> {
        struct Data(File);
        impl SyncToDisk for Data {
            fn sync(&self) -> io::Result<()> {
                self.0.sync_data()
            }
        }
        let (file, _) = self.file.as_ref().ok_or(io::ErrorKind::NotFound)?;
        Ok(Arc::new(Data(file.try_clone()?)))
    }
}

/// Whether the path is not a plain file, or a file whose contents are not the
/// beginning of `bytes`.
fn holds_other(path: &Path, bytes: &[u8]) -> io::Result<bool> {
    let file = match plain_file::open_own(path, OpenOptions::new().read(true)) {
        Ok(file) => file,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
        Err(error) if plain_file::is_refused(&error) => return Ok(true),
        Err(error) => return Err(error),
    };
    let mut found = Vec::new();
    file.take(bytes.len() as u64 + 1).read_to_end(&mut found)?;
    Ok(!bytes.starts_with(&found))
}

/// What tells a file apart from all others of the machine: its device and its
/// number there. Where open files cannot be removed, nothing needs to.
#[cfg(unix)]
type FileIdentity = (u64, u64);
#[cfg(not(unix))]
type FileIdentity = ();

#[cfg(unix)]
fn identity_of(found: &Metadata) -> FileIdentity {
    use std::os::unix::fs::MetadataExt;
    (found.dev(), found.ino())
}

#[cfg(not(unix))]
fn identity_of(_found: &Metadata) -> FileIdentity {}

/// An open file and its identity, which stays the same while it is open.
fn identified(file: File) -> io::Result<(File, FileIdentity)> {
    let identity = identity_of(&file.metadata()?);
    Ok((file, identity))
}

/// The metadata of `path`, if it leads to this file or directory and is not a
/// link to it.
fn found_at(identity: FileIdentity, path: &Path) -> Option<Metadata> {
    let found = std::fs::symlink_metadata(path).ok()?;
    (identity_of(&found) == identity).then_some(found)
}

/// Whether `path` still leads to this open file or directory.
pub(in crate::progress) fn is_at(file: &File, path: &Path) -> bool {
    let open = file.metadata().map(|found| identity_of(&found));
    open.is_ok_and(|identity| found_at(identity, path).is_some())
}
