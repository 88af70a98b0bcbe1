//! A store that is memory.

use std::io;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::{Settle, Short, Store};

/// Bytes in memory. Clones share the bytes, as two handles share a file.
#[derive(Clone, Default)]
pub(in crate::progress) struct MemoryStore {
    bytes: Arc<Mutex<Vec<u8>>>,
    aside: Arc<Mutex<Vec<Vec<u8>>>>,
}

impl MemoryStore {
    /// What lies in it.
    pub(super) fn bytes(&self) -> MutexGuard<'_, Vec<u8>> {
        self.bytes.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Store for MemoryStore {
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), Short> {
        let mut there = self.bytes();
        if (there.len() as u64) < length {
            let error = io::ErrorKind::NotFound.into();
            return Err(Short { written: 0, error });
        }
        there.extend_from_slice(bytes);
        Ok(())
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
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

    fn settler(&mut self) -> io::Result<Arc<dyn Settle>> {
        struct Nothing;
        impl Settle for Nothing {
            fn settle(&self) -> io::Result<()> {
                Ok(())
            }
        }
        Ok(Arc::new(Nothing))
    }
}
