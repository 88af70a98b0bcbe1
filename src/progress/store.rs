//! The storage of a journal's bytes.

mod file;
mod memory;

#[cfg(test)]
pub(super) mod faulty;
#[cfg(test)]
mod suite;

use std::io;
use std::sync::Arc;

pub(super) use file::{FileStore, is_at};
pub(super) use memory::MemoryStore;

/// An append that wrote only a part.
#[derive(Debug)]
pub(super) struct ShortWrite {
    /// How many bytes from the start were written.
    pub written: usize,
    /// Why no more were written. `NotFound` means that the file was removed,
    /// moved or emptied: nothing can be appended until `replace` has made it
    /// again.
    pub error: io::Error,
}

/// Waits until all that was appended is on the disk. Used by the sync thread
/// while the other thread appends.
pub(super) trait SyncToDisk: Send + Sync {
    /// Returns when the disk has confirmed. After an error the contents of the
    /// disk are unknown, and syncing again proves nothing.
    fn sync(&self) -> io::Result<()>;
}

/// Bytes that are appended to.
pub(super) trait Store: Send {
    /// Appends bytes in one write, after the `length` bytes that should be
    /// there. Fails with `NotFound` if there are fewer, because somebody has
    /// emptied the store.
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), ShortWrite>;

    /// Shortens it to `length` bytes.
    fn truncate(&mut self, length: u64) -> io::Result<()>;

    /// Replaces all bytes, whole or not at all, and syncs them to the disk.
    /// Makes the store again if it was removed; bytes of another program found
    /// there are kept under another name.
    fn replace(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Keeps a copy of the bytes and returns its name; `None` if there are
    /// none.
    fn set_aside(&mut self) -> io::Result<Option<String>>;

    /// Returns what syncs the current bytes; after `replace` another one is
    /// needed.
    fn sync_handle(&mut self) -> io::Result<Arc<dyn SyncToDisk>>;
}
