//! A wrapper of a store that fails on demand.

use std::io;
use std::sync::{Arc, Mutex, MutexGuard};

use super::{ShortWrite, Store, SyncToDisk};

/// The current faults; none at first.
#[derive(Default)]
pub(in crate::progress) struct Faults {
    /// Bytes that still fit on the disk; `None` for no limit.
    pub room: Option<usize>,
    /// The disk does not confirm.
    pub no_sync: bool,
    /// The file is no longer where it was, until it is replaced.
    pub gone: bool,
    /// The file cannot be replaced.
    pub no_replace: bool,
    /// The file cannot be truncated.
    pub no_truncate: bool,
    /// Nothing can be written.
    pub read_only: bool,
    /// How often the disk was asked to confirm.
    pub syncs: usize,
}

/// A store that fails as its [`Faults`] say.
pub(in crate::progress) struct Faulty<S> {
    store: S,
    faults: Arc<Mutex<Faults>>,
}

impl<S: Store> Faulty<S> {
    pub(in crate::progress) fn new(store: S) -> (Faulty<S>, Arc<Mutex<Faults>>) {
        let faults = Arc::new(Mutex::new(Faults::default()));
        (
            Faulty {
                store,
                faults: faults.clone(),
            },
            faults,
        )
    }

    fn faults(&self) -> MutexGuard<'_, Faults> {
        self.faults.lock().unwrap()
    }
}

impl<S: Store> Store for Faulty<S> {
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), ShortWrite> {
        let faults = self.faults.clone();
        let mut faults = faults.lock().unwrap();
        let none = |kind: io::ErrorKind| {
            Err(ShortWrite {
                written: 0,
                error: kind.into(),
            })
        };
        if faults.gone {
            return none(io::ErrorKind::NotFound);
        }
        if faults.read_only {
            return none(io::ErrorKind::ReadOnlyFilesystem);
        }
        let fits = faults
            .room
            .map_or(bytes.len(), |room| room.min(bytes.len()));
        self.store.append(length, &bytes[..fits])?;
        faults.room = faults.room.map(|room| room - fits);
        if fits < bytes.len() {
            return Err(ShortWrite {
                written: fits,
                error: io::ErrorKind::StorageFull.into(),
            });
        }
        Ok(())
    }

    fn truncate(&mut self, length: u64) -> io::Result<()> {
        if self.faults().no_truncate {
            return Err(io::ErrorKind::PermissionDenied.into());
        }
        self.store.truncate(length)
    }

    fn replace(&mut self, bytes: &[u8]) -> io::Result<()> {
        {
            let mut faults = self.faults();
            if faults.read_only || faults.no_replace {
                return Err(io::ErrorKind::PermissionDenied.into());
            }
            if faults.room.is_some_and(|room| room < bytes.len()) {
                return Err(io::ErrorKind::StorageFull.into());
            }
            if faults.no_sync {
                return Err(io::Error::other("no confirmation"));
            }
            faults.gone = false;
        }
        self.store.replace(bytes)
    }

    fn set_aside(&mut self) -> io::Result<Option<String>> {
        if self.faults().read_only {
            return Err(io::ErrorKind::ReadOnlyFilesystem.into());
        }
        self.store.set_aside()
    }

    fn sync_handle(&mut self) -> io::Result<Arc<dyn SyncToDisk>> {
        struct FaultySync(Arc<dyn SyncToDisk>, Arc<Mutex<Faults>>);
        impl SyncToDisk for FaultySync {
            fn sync(&self) -> io::Result<()> {
                let mut faults = self.1.lock().unwrap();
                faults.syncs += 1;
                if faults.no_sync {
                    return Err(io::Error::other("no confirmation"));
                }
                drop(faults);
                self.0.sync()
            }
        }
        Ok(Arc::new(FaultySync(
            self.store.sync_handle()?,
            self.faults.clone(),
        )))
    }
}
