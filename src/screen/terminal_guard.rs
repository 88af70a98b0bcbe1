//! What is taken from the terminal and must be given back, however the program
//! ends: its settings, its screen, the mouse, a picture.

use super::graphics;
use ratatui::crossterm::{cursor, execute, terminal};
use std::io::{self, Write as _};
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};

#[cfg(unix)]
use std::time::Duration;

/// Whether the terminal is ours now.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// Whether we receive the mouse: a screen asked for its clicks.
pub(super) static MOUSE: AtomicBool = AtomicBool::new(false);

/// Whether a picture of ours covers cells.
pub(super) static PICTURE: AtomicBool = AtomicBool::new(false);

/// Turns on clicks, the wheel, and motion while the button is held, with places
/// as numbers (modes 1002 and 1006 of xterm).
pub(super) const MOUSE_ON: &[u8] = b"\x1b[?1002h\x1b[?1006h";
pub(super) const MOUSE_OFF: &[u8] = b"\x1b[?1006l\x1b[?1002l";

/// Takes the terminal.
pub(super) fn take() -> io::Result<()> {
    terminal::enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    #[cfg(unix)]
    read_never_waits()?;
    execute!(io::stdout(), terminal::EnterAlternateScreen, cursor::Hide)
}

/// Sets the terminal so that reading returns what is there, even nothing, and
/// does not wait for a byte, because another program may have taken it.
#[cfg(unix)]
fn read_never_waits() -> io::Result<()> {
    use rustix::termios::{OptionalActions, SpecialCodeIndex, tcgetattr, tcsetattr};
    let stdin = io::stdin();
    let mut set = tcgetattr(&stdin)?;
    set.special_codes[SpecialCodeIndex::VMIN] = 0;
    set.special_codes[SpecialCodeIndex::VTIME] = 0;
    Ok(tcsetattr(&stdin, OptionalActions::Now, &set)?)
}

/// Gives the terminal back if it is taken; can be called from anywhere.
pub(super) fn give_back() {
    if TAKEN.swap(false, Ordering::SeqCst) {
        if MOUSE.swap(false, Ordering::SeqCst) {
            let _ = io::stdout().write_all(MOUSE_OFF);
        }
        if PICTURE.swap(false, Ordering::SeqCst) {
            let _ = io::stdout().write_all(graphics::none().as_bytes());
        }
        let _ = execute!(io::stdout(), terminal::LeaveAlternateScreen, cursor::Show);
        let _ = terminal::disable_raw_mode();
        let _ = io::stdout().flush();
    }
}

/// Gives the terminal back if it is taken, even if it accepts no more output
/// and another thread waits for it: its settings at once, because that needs no
/// output, and the rest if possible in time.
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

/// Gives the terminal back before a panic is reported.
pub(super) fn restore_on_panic() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let hook = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            give_back();
            hook(panic);
        }));
    });
}
