//! The terminal: taken for the full screen, and given back as it was found,
//! however the program ends.

use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::crossterm::event::{
    self, Event, KeyEvent, KeyEventKind, MouseButton, MouseEvent, MouseEventKind,
};
use ratatui::crossterm::{cursor, execute, terminal};
use ratatui::layout::{Position, Rect};
use std::io::{self, BufWriter, IsTerminal as _, Stdout, Write as _};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, MutexGuard, Once, PoisonError};
use std::time::{Duration, Instant};

#[cfg(unix)]
use super::signals::Signals;

/// Whether the terminal is ours now.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// Whether the mouse is ours: a room asked for its clicks.
static MOUSE: AtomicBool = AtomicBool::new(false);

/// Keys that came together with one that led somewhere else. There is one
/// terminal, so they are not a screen's: the next screen finds them.
static AHEAD: Mutex<Vec<Touch>> = Mutex::new(Vec::new());

/// The longest that keys are gathered before the screen is painted.
const GATHER: Duration = Duration::from_millis(25);

/// Clicks, the wheel, and motion while the button is held are told, with
/// places as numbers (modes 1002 and 1006 of xterm).
const MOUSE_ON: &[u8] = b"\x1b[?1002h\x1b[?1006h";
const MOUSE_OFF: &[u8] = b"\x1b[?1006l\x1b[?1002l";

/// What woke the program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Woken {
    /// Keys and clicks, in order, and perhaps a new size.
    Input(Vec<Touch>),
    /// The time asked for has passed.
    Waited,
    /// Go into the background.
    Suspend,
    /// The system asks the program to end, or the terminal is gone.
    End,
}

/// What the maker touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Touch {
    /// A key.
    Key(KeyEvent),
    /// A click on a cell: its column and its row, from 0.
    Click(u16, u16),
    /// The mouse at a cell with its button held.
    Drag(u16, u16),
    /// The wheel, up or down.
    Wheel(bool),
}

impl Touch {
    fn of(mouse: MouseEvent) -> Option<Touch> {
        match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Touch::Click(mouse.column, mouse.row)),
            MouseEventKind::Drag(MouseButton::Left) => Some(Touch::Drag(mouse.column, mouse.row)),
            MouseEventKind::ScrollUp => Some(Touch::Wheel(true)),
            MouseEventKind::ScrollDown => Some(Touch::Wheel(false)),
            _ => None,
        }
    }
}

/// The terminal, taken.
pub struct Screen {
    terminal: Terminal<CrosstermBackend<BufWriter<Stdout>>>,
    /// Input was left in the event library, for the sake of painting.
    unread: bool,
    /// While keys were gathered the program was asked into the background.
    stop: bool,
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
        #[cfg(unix)]
        Signals::stop()?;
        take()?;
        // Everything is painted anew. The terminal is asked for nothing: its
        // answer would come in among the keys, or never.
        let size = self.terminal.size()?;
        self.terminal.resize(Rect::from((Position::ORIGIN, size)))
    }
}

/// What is ready.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ready {
    Input,
    Nothing,
    Suspend,
    End,
}

impl Drop for Screen {
    fn drop(&mut self) {
        give_back();
    }
}

fn ahead() -> MutexGuard<'static, Vec<Touch>> {
    AHEAD.lock().unwrap_or_else(PoisonError::into_inner)
}

fn take() -> io::Result<()> {
    terminal::enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    execute!(io::stdout(), terminal::EnterAlternateScreen, cursor::Hide)
}

/// Gives the terminal back if it is taken; may be called from anywhere.
fn give_back() {
    if TAKEN.swap(false, Ordering::SeqCst) {
        if MOUSE.swap(false, Ordering::SeqCst) {
            let _ = io::stdout().write_all(MOUSE_OFF);
        }
        let _ = execute!(io::stdout(), terminal::LeaveAlternateScreen, cursor::Show);
        let _ = terminal::disable_raw_mode();
        let _ = io::stdout().flush();
    }
}

/// Gives the terminal back if it is taken, though it may take no more output
/// and be waited on by another thread: its settings at once, which needs no
/// output, and the rest if it can be had in time.
#[cfg(unix)]
pub(super) fn give_back_within(patience: Duration) {
    let _ = terminal::disable_raw_mode();
    let (done, is_done) = std::sync::mpsc::channel();
    let giving = std::thread::Builder::new().spawn(move || {
        give_back();
        let _ = done.send(());
    });
    if giving.is_ok() {
        let _ = is_done.recv_timeout(patience);
    }
}

fn restore_on_panic() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let hook = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            give_back();
            hook(panic);
        }));
    });
}
