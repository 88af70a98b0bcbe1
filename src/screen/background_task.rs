//! Work done in a thread of its own, so that no key has to wait for it.

use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

/// How long small work is waited for, so that it is ready in the same frame.
const AT_ONCE: Duration = Duration::from_millis(8);

/// An answer that is there or is being worked out.
#[derive(Debug)]
pub struct BackgroundTask<T> {
    from: Receiver<T>,
    begun: Instant,
    got: Option<T>,
    failed: bool,
}

impl<T: Send + 'static> BackgroundTask<T> {
    /// Begins the work that a key asked for.
    pub fn begin(work: impl FnOnce() -> T + Send + 'static) -> BackgroundTask<T> {
        BackgroundTask::begin_within(AT_ONCE, work)
    }

    /// Begins work that is waited for at most this long.
    pub fn begin_within(
        patience: Duration,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> BackgroundTask<T> {
        let (to, from) = channel();
        std::thread::spawn(move || {
            // The answer may not be wanted any more.
            let _ = to.send(work());
        });
        let mut task = BackgroundTask {
            from,
            begun: Instant::now(),
            got: None,
            failed: false,
        };
        task.wait(patience);
        task
    }

    /// Waits for the answer, at most this long; returns whether it is still
    /// waited for.
    pub fn wait(&mut self, patience: Duration) -> bool {
        let is_waiting = self.got.is_none() && !self.failed;
        match self.from.recv_timeout(patience) {
            Ok(got) => self.got = Some(got),
            Err(RecvTimeoutError::Timeout) => return is_waiting,
            Err(RecvTimeoutError::Disconnected) => self.failed |= is_waiting,
        }
        false
    }

    /// An answer that is there already.
    pub fn done(got: T) -> BackgroundTask<T> {
        BackgroundTask {
            from: channel().1,
            begun: Instant::now(),
            got: Some(got),
            failed: false,
        }
    }

    /// Takes the answer if it has come; returns whether it is still waited for.
    pub fn look(&mut self) -> bool {
        self.wait(Duration::ZERO)
    }

    /// The answer, once it was taken.
    pub fn get(&self) -> Option<&T> {
        self.got.as_ref()
    }

    /// Whether there will never be an answer.
    pub fn failed(&self) -> bool {
        self.failed
    }

    /// How long the work has taken so far.
    pub fn since(&self) -> Duration {
        self.begun.elapsed()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slow_answer_is_taken_later() {
        let (go, wait) = channel();
        let mut slow = BackgroundTask::begin(move || wait.recv().map(|n: i32| n + 1).unwrap_or(0));
        assert!(slow.look() && slow.get().is_none());
        go.send(6).unwrap();
        while slow.look() {
            std::thread::yield_now();
        }
        assert_eq!((slow.get(), slow.failed()), (Some(&7), false));
    }

    #[test]
    fn work_that_breaks_off_gives_no_answer() {
        let mut broken: BackgroundTask<i32> =
            BackgroundTask::begin(|| std::panic::resume_unwind(Box::new(())));
        while broken.look() {
            std::thread::yield_now();
        }
        assert!(broken.failed() && broken.get().is_none());
    }
}
