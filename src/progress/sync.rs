//! The thread that waits for the disk, so that the screen need not.

use std::io;
use std::sync::mpsc::{self, Receiver, Sender};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::thread;
use std::time::Duration;

use super::store::Settle;

/// What to settle: the first `length` bytes of the journal, as it lies since
/// it was written again for the `making`th time.
struct SyncRequest {
    making: u64,
    length: u64,
    settle: Arc<dyn Settle>,
}

/// What the disk said last.
#[derive(Debug, Default)]
pub(super) struct Heard {
    /// Which making of the journal this is about.
    pub making: u64,
    /// Bytes known to be on the disk.
    pub length: u64,
    /// Why it did not confirm.
    pub failed: Option<io::Error>,
}

/// A thread that settles, one asking at a time; what is asked meanwhile is
/// settled together.
pub(super) struct SyncThread {
    asks: Option<Sender<SyncRequest>>,
    shared: Arc<Shared>,
}

#[derive(Default)]
struct Shared {
    heard: Mutex<Heard>,
    ended: Mutex<bool>,
    end: Condvar,
}

impl SyncThread {
    /// Starts the thread. A system that gives none settles at each asking.
    pub(super) fn start() -> SyncThread {
        let (asks, asked) = mpsc::channel();
        let shared = Arc::new(Shared::default());
        let theirs = shared.clone();
        let started = thread::Builder::new()
            .name("journal sync".into())
            .spawn(move || work(&asked, &theirs));
        SyncThread {
            asks: started.is_ok().then_some(asks),
            shared,
        }
    }

    /// Asks that `length` bytes be settled, and goes on at once.
    pub(super) fn ask(&self, making: u64, length: u64, settle: Arc<dyn Settle>) {
        let ask = SyncRequest {
            making,
            length,
            settle,
        };
        let unsent = match &self.asks {
            Some(asks) => asks.send(ask).err().map(|error| error.0),
            None => Some(ask),
        };
        if let Some(ask) = unsent {
            settle_one(ask, &self.shared);
        }
    }

    /// What the disk said since this was last called; a failure is handed over
    /// once.
    pub(super) fn heard(&self) -> Heard {
        let mut heard = lock(&self.shared.heard);
        Heard {
            failed: heard.failed.take(),
            ..*heard
        }
    }

    /// Takes no more, and waits until all that was asked is settled; but not
    /// without end: a dead disk must not keep the program from ending.
    /// Whether it came to an end.
    pub(super) fn end(&mut self, patience: Duration) -> bool {
        if self.asks.take().is_none() {
            return true;
        }
        let ended = lock(&self.shared.ended);
        let waited = self
            .shared
            .end
            .wait_timeout_while(ended, patience, |ended| !*ended);
        *waited.unwrap_or_else(PoisonError::into_inner).0
    }
}

fn work(asked: &Receiver<SyncRequest>, shared: &Shared) {
    while let Ok(mut ask) = asked.recv() {
        // One settling covers all bytes before it.
        while let Ok(later) = asked.try_recv() {
            ask = later;
        }
        settle_one(ask, shared);
    }
    *lock(&shared.ended) = true;
    shared.end.notify_all();
}

fn settle_one(ask: SyncRequest, shared: &Shared) {
    let settled = ask.settle.settle();
    let mut heard = lock(&shared.heard);
    match settled {
        Ok(()) => {
            // A failure not yet fetched must not be covered by a success after
            // it: the bytes that failed may be lost for good.
            if heard.failed.is_none() || heard.making != ask.making {
                *heard = Heard {
                    making: ask.making,
                    length: ask.length,
                    failed: None,
                };
            }
        }
        Err(error) => {
            let length = if heard.making == ask.making {
                heard.length
            } else {
                0
            };
            *heard = Heard {
                making: ask.making,
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

    struct Slow(AtomicUsize, Mutex<()>);
    impl Settle for Slow {
        fn settle(&self) -> io::Result<()> {
            drop(self.1.lock());
            self.0.fetch_add(1, SeqCst);
            Ok(())
        }
    }

    #[test]
    fn askings_made_while_the_disk_is_busy_are_settled_together() {
        let slow = Arc::new(Slow(AtomicUsize::new(0), Mutex::new(())));
        let mut sync = SyncThread::start();
        let busy = slow.1.lock().unwrap();
        for length in 1..=1000 {
            sync.ask(0, length, slow.clone());
        }
        assert_eq!(sync.heard().length, 0, "asking does not wait");
        drop(busy);
        assert!(sync.end(Duration::from_secs(60)));
        assert_eq!(sync.heard().length, 1000);
        assert!(slow.0.load(SeqCst) < 1000);
    }

    #[test]
    fn a_dead_disk_does_not_keep_the_program_from_ending() {
        let slow = Arc::new(Slow(AtomicUsize::new(0), Mutex::new(())));
        let mut sync = SyncThread::start();
        let _dead = slow.1.lock().unwrap();
        sync.ask(0, 1, slow.clone());
        assert!(!sync.end(Duration::from_millis(20)));
    }
}
