//! The terminal: taken for the full screen, and given back as it was found,
//! however the program ends.

mod pictures;

use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::crossterm::event::{self, Event, KeyEventKind};
use ratatui::layout::{Position, Rect};
use std::io::{self, BufWriter, IsTerminal as _, Stdout, Write as _};
use std::sync::atomic::Ordering;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

#[cfg(unix)]
use super::signals::Signals;
use super::taken::{MOUSE, MOUSE_OFF, MOUSE_ON, give_back, restore_on_panic, take};
use super::woken::Ready;
pub use super::woken::{Touch, Woken};

/// Keys that came together with one that led somewhere else. There is one
/// terminal, so they are not a screen's: the next screen finds them.
static AHEAD: Mutex<Vec<Touch>> = Mutex::new(Vec::new());

/// The longest that keys are gathered before the screen is painted.
const GATHER: Duration = Duration::from_millis(25);

/// The terminal, taken.
pub struct Screen {
    terminal: Terminal<CrosstermBackend<BufWriter<Stdout>>>,
    /// Input was left in the event library, for the sake of painting.
    unread: bool,
    /// While keys were gathered the program was asked into the background.
    stop: bool,
    /// The picture that lies over cells.
    shown: Option<u64>,
    late: pictures::Late,
    #[cfg(unix)]
    signals: Signals,
}

/// How long input that has come is waited for until it can be read.
const SETTLE: Duration = Duration::from_millis(10);

impl Screen {
    /// Takes the terminal.
    ///
    /// # Errors
    /// When input or output is no terminal, or the system refuses.
    pub fn open() -> io::Result<Screen> {
        if !io::stdin().is_terminal() || !io::stdout().is_terminal() {
            return Err(io::Error::new(
                io::ErrorKind::Unsupported,
                "input or output is not a terminal",
            ));
        }
        restore_on_panic();
        #[cfg(unix)]
        let signals = Signals::listen()?;
        let out = BufWriter::with_capacity(1 << 16, io::stdout());
        let terminal = Terminal::new(CrosstermBackend::new(out))?;
        take()?;
        Ok(Screen {
            terminal,
            unread: false,
            stop: false,
            shown: None,
            late: pictures::Late::Nothing,
            #[cfg(unix)]
            signals,
        })
    }

    /// Paints once: only cells that changed are sent.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn paint(&mut self, draw: impl FnOnce(&mut ratatui::Frame)) -> io::Result<()> {
        self.terminal.draw(draw).map(drop)
    }

    /// Keeps keys typed ahead for whatever is in front of the maker next.
    pub fn keep(&mut self, keys: impl Iterator<Item = Touch>) {
        ahead().extend(keys);
    }

    /// Asks the terminal for clicks and the wheel, or no longer. While it is
    /// asked, text cannot be marked with the mouse as usual: so only where a
    /// click is of use.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn mouse(&mut self, wanted: bool) -> io::Result<()> {
        if MOUSE.swap(wanted, Ordering::SeqCst) == wanted {
            return Ok(());
        }
        let out = self.terminal.backend_mut();
        out.write_all(if wanted { MOUSE_ON } else { MOUSE_OFF })?;
        io::Write::flush(out)
    }

    /// The size of the screen.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn area(&self) -> io::Result<Rect> {
        Ok(Rect::from((Position::ORIGIN, self.terminal.size()?)))
    }

    /// Rings the bell.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn ring(&mut self) -> io::Result<()> {
        let out = self.terminal.backend_mut();
        out.write_all(b"\x07")?;
        io::Write::flush(out)
    }

    /// Waits for keys, all that are there, or for a signal.
    ///
    /// # Errors
    /// When the system refuses to read.
    pub fn wait(&mut self, patience: Duration) -> io::Result<Woken> {
        if std::mem::take(&mut self.stop) {
            return Ok(Woken::Suspend);
        }
        let ahead = std::mem::take(&mut *ahead());
        if !ahead.is_empty() {
            return Ok(Woken::Input(ahead));
        }
        // What the event library has taken from the terminal already, nothing
        // else tells of.
        let unread = std::mem::take(&mut self.unread);
        let patience = if unread { Duration::ZERO } else { patience };
        match self.ready(patience)? {
            Ready::Input => self.gather(),
            Ready::Nothing if unread => self.gather(),
            Ready::Nothing => Ok(Woken::Waited),
            Ready::Suspend => Ok(Woken::Suspend),
            Ready::End => Ok(Woken::End),
        }
    }

    fn gather(&mut self) -> io::Result<Woken> {
        let begun = Instant::now();
        let mut keys = vec![];
        // Input that is there and cannot be read yet must not be asked for
        // over and over.
        let mut patience = SETTLE;
        while event::poll(patience)? || (patience == SETTLE && self.missed()?) {
            patience = Duration::ZERO;
            match event::read()? {
                Event::Key(key) if self.is_late(&key) => {}
                Event::Key(key) if key.kind != KeyEventKind::Release => keys.push(Touch::Key(key)),
                Event::Mouse(mouse) => keys.extend(Touch::of(mouse)),
                // A new size is seen at the next painting.
                _ => {}
            }
            let ready = self.ready(Duration::ZERO)?;
            self.stop |= ready == Ready::Suspend;
            if begun.elapsed() > GATHER || self.stop || ready == Ready::End {
                self.unread = true;
                break;
            }
        }
        Ok(Woken::Input(keys))
    }

    /// Whether there is input after all, though the event library says no. It
    /// is told of input once, and forgets a key that comes together with a new
    /// size: until the next key it would lie there. To set the terminal as it
    /// is set makes the system tell once more.
    #[cfg(unix)]
    fn missed(&mut self) -> io::Result<bool> {
        use rustix::termios::{OptionalActions, tcgetattr, tcsetattr};
        let stdin = io::stdin();
        if self.ready(Duration::ZERO)? != Ready::Input {
            return Ok(false);
        }
        tcsetattr(&stdin, OptionalActions::Now, &tcgetattr(&stdin)?)?;
        event::poll(SETTLE)
    }

    #[cfg(not(unix))]
    fn missed(&mut self) -> io::Result<bool> {
        Ok(false)
    }

    #[cfg(unix)]
    fn ready(&mut self, patience: Duration) -> io::Result<Ready> {
        self.signals.ready(patience)
    }

    #[cfg(not(unix))]
    fn ready(&mut self, patience: Duration) -> io::Result<Ready> {
        Ok(match event::poll(patience)? {
            true => Ready::Input,
            false => Ready::Nothing,
        })
    }

    /// Gives the terminal back, stops the program, and takes it again when it
    /// is continued.
    ///
    /// # Errors
    /// When the terminal cannot be taken again.
    pub fn suspend(&mut self) -> io::Result<()> {
        give_back();
        self.shown = None;
        #[cfg(unix)]
        Signals::stop()?;
        take()?;
        // Everything is painted anew. The terminal is asked for nothing: its
        // answer would come in among the keys, or never.
        let size = self.terminal.size()?;
        self.terminal.resize(Rect::from((Position::ORIGIN, size)))
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        give_back();
    }
}

fn ahead() -> MutexGuard<'static, Vec<Touch>> {
    AHEAD.lock().unwrap_or_else(PoisonError::into_inner)
}
