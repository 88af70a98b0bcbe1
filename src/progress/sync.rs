//! The thread that waits for the disk, so that the screen does not.

use std::io;
use std::sync::mpsc::{self, Receiver, Sender};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::thread;
use std::time::Duration;

use super::store::SyncToDisk;

/// A request to sync the first `length` bytes of the journal, as rewritten
/// `generation` times.
struct SyncRequest {
    generation: u64,
    length: u64,
    handle: Arc<dyn SyncToDisk>,
}

/// The last result of syncing.
#[derive(Debug, Default)]
pub(super) struct SyncResult {
    /// How often the journal had been rewritten.
    pub generation: u64,
    /// Bytes known to be on the disk.
    pub length: u64,
    /// Why the disk did not confirm.
    pub failed: Option<io::Error>,
}

/// A thread that syncs one request at a time; requests made meanwhile are
/// combined.
pub(super) struct SyncThread {
    requests: Option<Sender<SyncRequest>>,
    shared: Arc<Shared>,
}

#[derive(Default)]
struct Shared {
    result: Mutex<SyncResult>,
    ended: Mutex<bool>,
    end: Condvar,
}

impl SyncThread {
    /// Starts the thread. If it cannot be started, each request is synced at
    /// once.
    pub(super) fn start() -> SyncThread {
        let (requests, receiver) = mpsc::channel();
        let shared = Arc::new(Shared::default());
        let thread_shared = shared.clone();
        let started = thread::Builder::new()
            .name("journal sync".into())
            .spawn(move || work(&receiver, &thread_shared));
        SyncThread {
            requests: started.is_ok().then_some(requests),
            shared,
        }
    }

    /// Requests that `length` bytes are synced, without waiting.
    pub(super) fn request(&self, generation: u64, length: u64, handle: Arc<dyn SyncToDisk>) {
        let request = SyncRequest {
            generation,
            length,
            handle,
        };
        let not_sent = match &self.requests {
            Some(requests) => requests.send(request).err().map(|error| error.0),
            None => Some(request),
        };
        if let Some(request) = not_sent {
            sync_one(request, &self.shared);
        }
    }

    /// The result so far; a failure is returned once.
    pub(super) fn result(&self) -> SyncResult {
        let mut result = lock(&self.shared.result);
        SyncResult {
            failed: result.failed.take(),
            ..*result
        }
    }

    /// Takes no more requests and waits until all are synced, at most for
    /// `timeout`, since a dead disk must not keep the program from ending.
    /// Returns whether all are synced.
    pub(super) fn end(&mut self, timeout: Duration) -> bool {
        if self.requests.take().is_none() {
            return true;
        }
        let ended = lock(&self.shared.ended);
        let waited = self
            .shared
            .end
            .wait_timeout_while(ended, timeout, |ended| !*ended);
        *waited.unwrap_or_else(PoisonError::into_inner).0
    }
}

fn work(receiver: &Receiver<SyncRequest>, shared: &Shared) {
    while let Ok(mut request) = receiver.recv() {
        // One sync covers all bytes before it.
        while let Ok(later) = receiver.try_recv() {
            request = later;
        }
        sync_one(request, shared);
    }
    *lock(&shared.ended) = true;
    shared.end.notify_all();
}

fn sync_one(request: SyncRequest, shared: &Shared) {
    let synced = request.handle.sync();
    let mut result = lock(&shared.result);
    match synced {
        Ok(()) => {
            // A failure that was not read yet must not be replaced by a later
            // success, since the bytes that failed may be lost.
            if result.failed.is_none() || result.generation != request.generation {
                *result = SyncResult {
                    generation: request.generation,
                    length: request.length,
                    failed: None,
                };
            }
        }
        Err(error) => {
            let length = if result.generation == request.generation {
                result.length
            } else {
                0
            };
            *result = SyncResult {
                generation: request.generation,
                length,
                failed: Some(error),
            };
        }
    }
}

fn lock<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering::SeqCst};

    struct SlowDisk(AtomicUsize, Mutex<()>);
    impl SyncToDisk for SlowDisk {
        fn sync(&self) -> io::Result<()> {
            drop(self.1.lock());
            self.0.fetch_add(1, SeqCst);
            Ok(())
        }
    }

    #[test]
    fn requests_made_while_the_disk_is_busy_are_combined() {
        let slow = Arc::new(SlowDisk(AtomicUsize::new(0), Mutex::new(())));
        let mut sync = SyncThread::start();
        let busy = slow.1.lock().unwrap();
        for length in 1..=1000 {
            sync.request(0, length, slow.clone());
        }
        assert_eq!(sync.result().length, 0, "a request does not wait");
        drop(busy);
        assert!(sync.end(Duration::from_secs(60)));
        assert_eq!(sync.result().length, 1000);
        assert!(slow.0.load(SeqCst) < 1000);
    }

    #[test]
    fn a_dead_disk_does_not_keep_the_program_from_ending() {
        let slow = Arc::new(SlowDisk(AtomicUsize::new(0), Mutex::new(())));
        let mut sync = SyncThread::start();
        let _dead = slow.1.lock().unwrap();
        sync.request(0, 1, slow.clone());
        assert!(!sync.end(Duration::from_millis(20)));
    }
}
