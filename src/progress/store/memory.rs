//! A store in memory.

use std::io;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::{ShortWrite, Store, SyncToDisk};

/// Bytes in memory. Clones share the bytes, like two handles of a file.
#[derive(Clone, Default)]
pub(in crate::progress) struct MemoryStore {
    bytes: Arc<Mutex<Vec<u8>>>,
    aside: Arc<Mutex<Vec<Vec<u8>>>>,
}

impl MemoryStore {
    /// Its contents.
    pub(super) fn bytes(&self) -> MutexGuard<'_, Vec<u8>> {
        self.bytes.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Store for MemoryStore {
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), ShortWrite> {
        let mut bytes_now = self.bytes();
        if (bytes_now.len() as u64) < length {
            let error = io::ErrorKind::NotFound.into();
            return Err(ShortWrite { written: 0, error });
        }
        bytes_now.extend_from_slice(bytes);
        Ok(())
    }

    fn truncate(&mut self, length: u64) -> io::Result<()> {
        self.bytes()
            .truncate(usize::try_from(length).unwrap_or(usize::MAX));
        Ok(())
    }

    fn replace(&mut self, bytes: &[u8]) -> io::Result<()> {
        *self.bytes() = bytes.to_vec();
        Ok(())
    }

    fn set_aside(&mut self) -> io::Result<Option<String>> {
        let bytes = self.bytes().clone();
        if bytes.is_empty() {
            return Ok(None);
        }
        let mut aside = self.aside.lock().unwrap_or_else(PoisonError::into_inner);
        aside.push(bytes);
        Ok(Some(format!("memory.damaged-{}", aside.len())))
    }

    fn sync_handle(&mut self) -> io::Result<Arc<dyn SyncToDisk>> {
        struct Nothing;
        impl SyncToDisk for Nothing {
            fn sync(&self) -> io::Result<()> {
                Ok(())
            }
        }
        Ok(Arc::new(Nothing))
    }
}
