//! Where the bytes of a journal lie.

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

/// An append that did not go through whole.
#[derive(Debug)]
pub(super) struct Short {
    /// Bytes that did get in, from the front.
    pub written: usize,
    /// Why no more did. `NotFound` means that the store is no longer where or
    /// what it was: nothing more can be appended until `replace` has made it again.
    pub error: io::Error,
}

/// Waits until all that was appended before is on the disk itself. Shared with
/// the sync thread, so it works beside an append.
pub(super) trait Settle: Send + Sync {
    /// Returns when the disk has confirmed. After an error it is not known what
    /// the disk holds, and settling again proves nothing.
    fn settle(&self) -> io::Result<()>;
}

/// A run of bytes that is added to at its end.
pub(super) trait Store: Send {
    /// Adds bytes at the end, in one write, after the `length` bytes that
    /// should be there. If there are fewer, somebody has emptied the store: it
    /// is no longer what it was.
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), Short>;

    /// Takes the end off, so that `length` bytes are left.
    fn cut(&mut self, length: u64) -> io::Result<()>;

    /// Puts other bytes in place of all, whole or not at all, where the store
    /// belongs, and settles them. Makes it again if it was gone; another's
    /// bytes found there are kept beside.
    fn replace(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Keeps a copy of the bytes beside, under a name that it returns; `None`
    /// if there are none.
    fn set_aside(&mut self) -> io::Result<Option<String>>;

    /// The settler of the bytes as they lie now; after `replace` another one
    /// is needed.
    fn settler(&mut self) -> io::Result<Arc<dyn Settle>>;
}
