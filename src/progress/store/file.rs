//! A store that is a file.

use std::fs::{File, Metadata, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::{Settle, Short, Store};
use crate::atomic_file;
use crate::plain_file;
use crate::progress::piece_dir::PieceDir;

/// A file opened once and added to.
pub(in crate::progress) struct FileStore {
    path: PathBuf,
    file: Option<File>,
    may_append: bool,
    /// Somebody has taken bytes out of it.
    emptied: bool,
    ground: Option<PieceDir>,
}

impl FileStore {
    /// Opens the file for appending, or for reading only if the system gives
    /// no more, or not at all if it is not there: then the first `replace`
    /// makes it. Creates nothing.
    ///
    /// # Errors
    /// One that [`plain_file::is_refused`] if something lies there that is no
    /// plain file.
    pub(in crate::progress) fn open(path: &Path) -> io::Result<FileStore> {
        let mut store = FileStore {
            path: path.into(),
            file: None,
            may_append: false,
            emptied: false,
            ground: None,
        };
        if store.open_to_append().is_err() {
            store.file = match plain_file::open_own(path, OpenOptions::new().read(true)) {
                Ok(file) => Some(file),
                Err(error) if error.kind() == io::ErrorKind::NotFound => None,
                Err(error) => return Err(error),
            };
        }
        Ok(store)
    }

    /// The directory that the file lies in, laid again when the file has to be
    /// made again.
    pub(in crate::progress) fn on(self, ground: PieceDir) -> FileStore {
        FileStore {
            ground: Some(ground),
            ..self
        }
    }

    fn lay_ground(&mut self) -> io::Result<()> {
        match &mut self.ground {
            Some(ground) => ground.lay(),
            None => std::fs::create_dir_all(self.path.parent().unwrap_or(Path::new("."))),
        }
    }

    fn open_to_append(&mut self) -> io::Result<()> {
        let mut options = OpenOptions::new();
        options.read(true).append(true);
        self.file = Some(plain_file::open_own(&self.path, &mut options)?);
        self.may_append = true;
        Ok(())
    }

    /// The file and how long it is, if it is still where it was.
    fn present(&mut self) -> io::Result<(&mut File, u64)> {
        // A deleted or moved file takes every byte without an error, and so
        // each append checks that the path still leads to it.
        let found = self.file.as_mut().and_then(|file| {
            let found = found_at(file, &self.path)?;
            Some((file, found.len()))
        });
        found.ok_or(io::ErrorKind::NotFound.into())
    }
}

impl Store for FileStore {
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), Short> {
        let none = |error| Short { written: 0, error };
        if !self.may_append {
            self.present().map_err(none)?;
            self.lay_ground()
                .and_then(|()| self.open_to_append())
                .map_err(none)?;
        }
        let (file, there) = self.present().map_err(none)?;
        if there < length {
            self.emptied = true;
            return Err(none(io::ErrorKind::NotFound.into()));
        }
        let mut written = 0;
        while written < bytes.len() {
            match file.write(&bytes[written..]) {
                Ok(0) => {
                    return Err(Short {
                        written,
                        error: io::ErrorKind::WriteZero.into(),
                    });
                }
                Ok(n) => written += n,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(Short { written, error }),
            }
        }
        Ok(())
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.present()?.0.set_len(length)
    }

    fn replace(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.lay_ground()?;
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

    fn settler(&mut self) -> io::Result<Arc<dyn Settle>> {
        struct Data(File);
        impl Settle for Data {
            fn settle(&self) -> io::Result<()> {
                self.0.sync_data()
            }
        }
        let file = self.file.as_ref().ok_or(io::ErrorKind::NotFound)?;
        Ok(Arc::new(Data(file.try_clone()?)))
    }
}

/// Whether the path holds something that is not a plain file, or a file that says
/// anything which `bytes` does not begin with.
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

/// Whether `path` still is this open file or directory.
pub(in crate::progress) fn is_at(file: &File, path: &Path) -> bool {
    found_at(file, path).is_some()
}

/// What lies at `path`, if it still is this open file or directory; a link to
/// it is not.
#[cfg(unix)]
fn found_at(file: &File, path: &Path) -> Option<Metadata> {
    use std::os::unix::fs::MetadataExt;
    let identity = |found: &Metadata| (found.dev(), found.ino());
    let open = file.metadata().ok()?;
    let found = std::fs::symlink_metadata(path).ok()?;
    (identity(&open) == identity(&found)).then_some(found)
}

/// What lies at `path`; where open files cannot be taken away it is enough that
/// there is one.
#[cfg(not(unix))]
fn found_at(_file: &File, path: &Path) -> Option<Metadata> {
    path.metadata().ok()
}
