//! Signals: passed on to the loop that waits for keys. If the loop does not
//! answer, the terminal is given back and the program ends anyway.

use super::input::ScreenEvent;
use super::terminal_guard::give_back_within;
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP, SIGWINCH};
use signal_hook::iterator::Handle;
use std::io::{self, Read as _, Write as _};
use std::os::unix::net::UnixStream;
use std::sync::atomic::{AtomicI32, AtomicUsize, Ordering};
use std::sync::{Arc, OnceLock};
use std::thread;
use std::time::Duration;

/// How long the loop has to answer a signal that asks it to end.
const PATIENCE: Duration = Duration::from_secs(3);

/// The poll flags of a terminal that was closed.
const GONE: PollFlags = PollFlags::HUP.union(PollFlags::ERR).union(PollFlags::NVAL);

/// Whether the terminal was closed.
pub fn terminal_is_gone() -> bool {
    let (stdin, stdout) = (io::stdin(), io::stdout());
    let mut fds = [
        PollFd::new(&stdin, PollFlags::IN),
        PollFd::new(&stdout, PollFlags::OUT),
    ];
    let polled = poll(&mut fds, Some(&Timespec::default()));
    polled.is_ok() && fds.iter().any(|fd| fd.revents().intersects(GONE))
}

/// The signals while the program has the terminal.
pub struct Signals {
    woken: UnixStream,
    /// The signal that arrived, 0 for none.
    end: Arc<AtomicI32>,
    stop: Arc<AtomicI32>,
    /// Whether any arrived since this was last asked.
    came: bool,
    handle: Handle,
}

impl Signals {
    /// Starts listening to signals.
    pub fn listen() -> io::Result<Signals> {
        let (woken, mut wake) = UnixStream::pair()?;
        woken.set_nonblocking(true)?;
        wake.set_nonblocking(true)?;
        let asked = asked_between()?;
        let stop = Arc::new(AtomicI32::new(0));
        let listened = [SIGTERM, SIGHUP, SIGINT, SIGQUIT, SIGTSTP, SIGCONT, SIGWINCH];
        let mut signals = signal_hook::iterator::Signals::new(listened)?;
        // Read only now, so that no signal falls between the two.
        let asked = asked.load(Ordering::SeqCst);
        let end = Arc::new(AtomicI32::new(i32::try_from(asked).unwrap_or_default()));
        let handle = signals.handle();
        let (ending, stopping) = (end.clone(), stop.clone());
        thread::Builder::new()
            .name("signals".into())
            .spawn(move || {
                for signal in signals.forever() {
                    match signal {
                        SIGTSTP => stopping.store(signal, Ordering::SeqCst),
                        SIGCONT | SIGWINCH => {}
                        _ => {
                            ending.store(signal, Ordering::SeqCst);
                            last_resort(signal, ending.clone());
                        }
                    }
                    let _ = wake.write(&[0]);
                }
            })?;
        Ok(Signals {
            woken,
            end,
            stop,
            came: true,
            handle,
        })
    }

    /// Waits for input or a signal; `None` if there is something to be read.
    pub fn ready(&mut self, patience: Duration) -> io::Result<Option<ScreenEvent>> {
        let stdin = io::stdin();
        let timeout = Timespec::try_from(patience).unwrap_or_default();
        let (input, woken) = {
            let mut fds = [
                PollFd::new(&stdin, PollFlags::IN),
                PollFd::new(&self.woken, PollFlags::IN),
            ];
            match poll(&mut fds, Some(&timeout)) {
                Ok(_) | Err(rustix::io::Errno::INTR) => {}
                Err(error) => return Err(error.into()),
            }
            (fds[0].revents(), fds[1].revents())
        };
        if !woken.is_empty() {
            self.came = true;
            let mut bytes = [0; 64];
            while matches!(self.woken.read(&mut bytes), Ok(n) if n > 0) {}
        }
        if self.end.load(Ordering::SeqCst) != 0 || input.intersects(GONE) {
            return Ok(Some(ScreenEvent::End));
        }
        if self.stop.swap(0, Ordering::SeqCst) != 0 {
            return Ok(Some(ScreenEvent::Suspend));
        }
        // A new size arrives as a signal.
        let is_nothing = input.is_empty() && woken.is_empty();
        Ok(is_nothing.then_some(ScreenEvent::Waited))
    }

    /// Whether any arrived since this was last asked; true the first time.
    pub fn have_come(&mut self) -> bool {
        std::mem::take(&mut self.came)
    }

    /// Stops the program as Ctrl-Z does; returns when it is continued.
    pub fn stop() -> io::Result<()> {
        signal_hook::low_level::emulate_default_handler(SIGTSTP)
    }
}

/// The signal that asked for an end since the first screen opened, 0 for none.
/// Between two screens nothing else listens, so the next one looks here.
fn asked_between() -> io::Result<&'static AtomicUsize> {
    static ASKED: OnceLock<Arc<AtomicUsize>> = OnceLock::new();
    if ASKED.get().is_none() {
        let asked = Arc::new(AtomicUsize::new(0));
        for signal in [SIGTERM, SIGHUP, SIGINT, SIGQUIT] {
            signal_hook::flag::register_usize(signal, asked.clone(), signal as usize)?;
        }
        let _ = ASKED.set(asked);
    }
    Ok(ASKED.get().expect("it has just been set"))
}

impl Drop for Signals {
    fn drop(&mut self) {
        // The loop has answered: from here on the program ends normally.
        self.end.store(0, Ordering::SeqCst);
        self.handle.close();
    }
}

/// If the loop does not answer (for example because the terminal accepts no
/// more output), the signal ends the program. Every step is in the journal
/// already.
fn last_resort(signal: i32, asked: Arc<AtomicI32>) {
    let watch = move || {
        thread::sleep(PATIENCE);
        if asked.load(Ordering::SeqCst) == signal {
            give_back_within(PATIENCE / 6);
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    };
    let _ = thread::Builder::new()
        .name("last resort".into())
        .spawn(watch);
}
