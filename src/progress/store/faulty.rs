//! A store with faults on demand, around any other store.

use std::io;
use std::sync::{Arc, Mutex, MutexGuard};

use super::{Settle, Short, Store};

/// The faults in force; nothing fails at first.
#[derive(Default)]
pub(in crate::progress) struct Faults {
    /// Bytes that still fit on the disk; `None` is plenty.
    pub room: Option<usize>,
    /// The disk does not confirm.
    pub no_settling: bool,
    /// The file is no longer where it was, until it is replaced.
    pub gone: bool,
    /// It cannot be made again either.
    pub no_replacing: bool,
    /// Written bytes cannot be taken off again.
    pub no_cutting: bool,
    /// Nothing can be written.
    pub read_only: bool,
    /// Times that the disk was asked to confirm.
    pub settled: usize,
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
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), Short> {
        let faults = self.faults.clone();
        let mut faults = faults.lock().unwrap();
        let none = |kind: io::ErrorKind| {
            Err(Short {
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
            return Err(Short {
                written: fits,
                error: io::ErrorKind::StorageFull.into(),
            });
        }
        Ok(())
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        if self.faults().no_cutting {
            return Err(io::ErrorKind::PermissionDenied.into());
        }
        self.store.cut(length)
    }

    fn replace(&mut self, bytes: &[u8]) -> io::Result<()> {
        {
            let mut faults = self.faults();
            if faults.read_only || faults.no_replacing {
                return Err(io::ErrorKind::PermissionDenied.into());
            }
            if faults.room.is_some_and(|room| room < bytes.len()) {
                return Err(io::ErrorKind::StorageFull.into());
            }
            if faults.no_settling {
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

    fn settler(&mut self) -> io::Result<Arc<dyn Settle>> {
        struct FaultySettle(Arc<dyn Settle>, Arc<Mutex<Faults>>);
        impl Settle for FaultySettle {
            fn settle(&self) -> io::Result<()> {
                let mut faults = self.1.lock().unwrap();
                faults.settled += 1;
                if faults.no_settling {
                    return Err(io::Error::other("no confirmation"));
                }
                drop(faults);
                self.0.settle()
            }
        }
        Ok(Arc::new(FaultySettle(
            self.store.settler()?,
            self.faults.clone(),
        )))
    }
}
