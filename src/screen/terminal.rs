//! The terminal: taken for the full screen, and given back as it was found,
//! however the program ends.

use ratatui::buffer::Cell;
use ratatui::crossterm::event::KeyEvent;
use ratatui::prelude::{Backend as _, Buffer, CrosstermBackend, Position, Rect};

#[cfg(not(unix))]
use ratatui::crossterm::event::{self, Event, KeyEventKind};
use std::io::{self, BufWriter, IsTerminal as _, Stdout, Write as _};
use std::sync::atomic::Ordering;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use super::input::Parser;

pub use super::input::{Input, ScreenEvent};
use super::look::{Ground, Look};

#[cfg(unix)]
use super::signals::Signals;
use super::speech::Speech;
use super::terminal_guard::{MOUSE, MOUSE_OFF, MOUSE_ON, give_back, restore_on_panic, take};

/// Keys that arrived together with one that led somewhere else. There is only
/// one terminal, so they belong to no screen: the next screen receives them.
static AHEAD: Mutex<Vec<Input>> = Mutex::new(Vec::new());

/// How long nothing is worked out after a step is painted. The terminal reads
/// it meanwhile; on a busy processor it would only have its turn afterwards.
const READING_TIME: Duration = Duration::from_millis(1);

/// A frame that was drawn before its key was pressed.
struct FrameAhead {
    key: KeyEvent,
    frame: Buffer,
    /// What makes the terminal show it.
    bytes: Vec<u8>,
}

/// The rows in which two frames of one size differ. Most rows stay as they are,
/// and are not searched for cells to send.
struct ChangedRows {
    rows: Vec<u16>,
    was: Buffer,
    is: Buffer,
}

impl ChangedRows {
    fn between(painted: &Buffer, next: &Buffer) -> ChangedRows {
        let width = next.area.width;
        let row = |y: &u16| {
            let start = usize::from(*y) * usize::from(width);
            start..start + usize::from(width)
        };
        let differs = |y: &u16| painted.content[row(y)] != next.content[row(y)];
        let rows: Vec<u16> = (0..next.area.height).filter(differs).collect();
        let area = Rect::new(0, 0, width, rows.len() as u16);
        let of = |frame: &Buffer| Buffer {
            area,
            content: (rows.iter().flat_map(|y| &frame.content[row(y)]).cloned()).collect(),
        };
        let (was, is) = (of(painted), of(next));
        ChangedRows { rows, was, is }
    }

    /// The cells to send.
    fn cells(&self) -> impl Iterator<Item = (u16, u16, &Cell)> {
        let changed = self.was.diff_iter(&self.is);
        changed.map(|(x, nth, cell)| (x, self.rows[usize::from(nth)], cell))
    }
}

/// The terminal, taken.
pub struct Screen {
    pub(super) out: CrosstermBackend<BufWriter<Stdout>>,
    /// What the terminal shows now.
    painted: Buffer,
    /// What is painted next.
    next: Buffer,
    /// What will be painted if a certain key is pressed.
    ahead: Option<FrameAhead>,
    parser: Parser,
    /// When the terminal was asked whether it shows pictures, until it answers.
    pub(super) asked: Option<Instant>,
    /// The picture that covers cells.
    pub(super) shown: Option<u64>,
    /// The terminal's background, once it has answered or the maker has set it.
    pub ground: Option<Ground>,
    /// Says what is shown.
    pub speech: Option<Speech>,
    #[cfg(unix)]
    signals: Signals,
}

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
        take()?;
        Ok(Screen {
            out: CrosstermBackend::new(out),
            painted: Buffer::empty(Rect::ZERO),
            next: Buffer::empty(Rect::ZERO),
            ahead: None,
            parser: Parser::default(),
            asked: None,
            shown: None,
            ground: None,
            speech: None,
            #[cfg(unix)]
            signals,
        })
    }

    /// Asks the terminal for its background colour (OSC 11). Its answer arrives
    /// as [`Input::Ground`], or never.
    ///
    /// # Errors
    /// When the terminal is closed.
    #[cfg(unix)]
    pub fn ask_for_ground(&mut self) -> io::Result<()> {
        self.send(b"\x1b]11;?\x1b\\")
    }

    /// A look on the background that the terminal has given.
    pub fn look(&self, look: Look) -> Look {
        let ground = self.ground.unwrap_or(look.ground);
        Look { ground, ..look }
    }

    /// Paints once: only cells that changed are sent, and nothing if none has
    /// changed.
    ///
    /// # Errors
    /// When the terminal is closed.
    pub fn paint(&mut self, draw: impl FnOnce(&mut Buffer)) -> io::Result<()> {
        let area = self.area()?;
        self.next.resize(area);
        self.next.reset();
        draw(&mut self.next);
        let changed = ChangedRows::between(&self.painted, &self.next);
        if !changed.rows.is_empty() {
            self.ahead = None;
            self.out.draw(changed.cells())?;
            std::mem::swap(&mut self.painted, &mut self.next);
        }
        io::Write::flush(&mut self.out)
    }

    /// Prepares what will be painted if this key is pressed next.
    ///
    /// # Errors
    /// None: nothing is sent.
    pub fn draw_ahead(&mut self, key: KeyEvent, frame: Buffer) -> io::Result<()> {
        let mut bytes = vec![];
        let changed = ChangedRows::between(&self.painted, &frame);
        CrosstermBackend::new(&mut bytes).draw(changed.cells())?;
        self.ahead = Some(FrameAhead { key, frame, bytes });
        Ok(())
    }

    /// Paints what was prepared, if this is the key. Any remaining differences
    /// come with the next painting.
    ///
    /// # Errors
    /// When the terminal is closed.
    pub fn paint_ahead(&mut self, key: Option<KeyEvent>) -> io::Result<()> {
        if let Some(ahead) = self.ahead.take().filter(|ahead| Some(ahead.key) == key) {
            self.send(&ahead.bytes)?;
            self.painted = ahead.frame;
            thread::sleep(READING_TIME);
        }
        Ok(())
    }

    /// Keeps keys typed ahead for whatever is shown next.
    pub fn keep(&mut self, keys: impl Iterator<Item = Input>) {
        ahead().extend(keys);
    }

    /// Turns clicks and the wheel on or off. While they are on, text cannot be
    /// selected with the mouse as usual, so they are on only where a click is
    /// useful.
    ///
    /// # Errors
    /// When the terminal is closed.
    pub fn mouse(&mut self, wanted: bool) -> io::Result<()> {
        if MOUSE.swap(wanted, Ordering::SeqCst) == wanted {
            return Ok(());
        }
        self.send(if wanted { MOUSE_ON } else { MOUSE_OFF })
    }

    /// The size of the screen. It is only queried when it may have changed.
    ///
    /// # Errors
    /// When the terminal is closed.
    pub fn area(&mut self) -> io::Result<Rect> {
        if self.is_sized() {
            return Ok(self.painted.area);
        }
        let size = self.out.size()?;
        let area = Rect::from((Position::ORIGIN, size));
        if area != self.painted.area {
            self.out.clear()?;
            self.painted = Buffer::empty(area);
        }
        Ok(area)
    }

    /// Sends bytes at once.
    pub(super) fn send(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.out.write_all(bytes)?;
        io::Write::flush(&mut self.out)
    }

    /// Rings the bell.
    ///
    /// # Errors
    /// When the terminal is closed.
    pub fn ring(&mut self) -> io::Result<()> {
        self.send(b"\x07")
    }

    /// Waits for keys (all that are there) or for a signal.
    ///
    /// # Errors
    /// When the system refuses to read.
    pub fn wait(&mut self, patience: Duration) -> io::Result<ScreenEvent> {
        let ahead = std::mem::take(&mut *ahead());
        if !ahead.is_empty() {
            return Ok(ScreenEvent::Input(ahead));
        }
        let waits = [self.parser.patience(Instant::now()), self.answer_in()];
        let patience = waits.into_iter().flatten().fold(patience, Duration::min);
        Ok(match self.ready(patience)? {
            None => {
                let mut touched = self.read()?;
                touched.retain(|touch| match touch {
                    Input::Pictures(_) => self.asked.take().is_some(),
                    Input::Ground(ground) => {
                        self.ground = Some(*ground);
                        true
                    }
                    _ => true,
                });
                ScreenEvent::Input(touched)
            }
            Some(ScreenEvent::Waited) => {
                let late = self.answer_in().is_some_and(|left| left.is_zero());
                let none = late.then(|| self.asked.take().map(|_| Input::Pictures(false)));
                let touched = [self.parser.give_up(Instant::now()), none.flatten()];
                match touched.into_iter().flatten().collect::<Vec<_>>() {
                    nothing if nothing.is_empty() => ScreenEvent::Waited,
                    touched => ScreenEvent::Input(touched),
                }
            }
            Some(event) => event,
        })
    }

    /// Reads everything that is there, and never waits for more.
    #[cfg(unix)]
    fn read(&mut self) -> io::Result<Vec<Input>> {
        let mut bytes = [0; 4096];
        let read = match rustix::io::read(io::stdin(), &mut bytes) {
            Err(rustix::io::Errno::INTR | rustix::io::Errno::AGAIN) => 0,
            read => read?,
        };
        Ok(self.parser.read(&bytes[..read], Instant::now()))
    }

    #[cfg(unix)]
    fn ready(&mut self, patience: Duration) -> io::Result<Option<ScreenEvent>> {
        self.signals.ready(patience)
    }

    /// Whether the size is unchanged.
    #[cfg(unix)]
    fn is_sized(&mut self) -> bool {
        !self.signals.have_come()
    }

    #[cfg(not(unix))]
    fn is_sized(&mut self) -> bool {
        false
    }

    #[cfg(not(unix))]
    fn read(&mut self) -> io::Result<Vec<Input>> {
        let mut touched = vec![];
        while event::poll(Duration::ZERO)? {
            match event::read()? {
                Event::Key(key) if key.kind != KeyEventKind::Release => {
                    touched.push(Input::Key(key));
                }
                Event::Mouse(mouse) => touched.extend(Input::of(mouse)),
                // A new size takes effect at the next painting.
                _ => {}
            }
        }
        Ok(touched)
    }

    #[cfg(not(unix))]
    fn ready(&mut self, patience: Duration) -> io::Result<Option<ScreenEvent>> {
        Ok((!event::poll(patience)?).then_some(ScreenEvent::Waited))
    }

    /// Gives the terminal back, stops the program, and takes the terminal again
    /// when the program continues.
    ///
    /// # Errors
    /// When the terminal cannot be taken again.
    pub fn suspend(&mut self) -> io::Result<()> {
        give_back();
        self.shown = None;
        #[cfg(unix)]
        Signals::stop()?;
        take()?;
        // Everything is painted again, in the current size.
        self.painted = Buffer::empty(Rect::ZERO);
        Ok(())
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        // Output that was waiting for the next painting.
        let _ = io::Write::flush(&mut self.out);
        give_back();
    }
}

fn ahead() -> MutexGuard<'static, Vec<Input>> {
    AHEAD.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::style::Style;

    #[test]
    fn the_cells_of_changed_rows_are_all_that_differ() {
        let frame = |lines: &[&str]| Buffer::with_lines(lines.iter().copied());
        let was = frame(&["round 3", "コ bead", "needle ", "       "]);
        let mut is = frame(&["round 3", "a コbea", "needle ", "done   "]);
        is.set_style(Rect::new(0, 2, 2, 1), Style::new().reversed());
        let changed = ChangedRows::between(&was, &is);
        assert_eq!(changed.rows, [1, 2, 3]);
        assert!(changed.cells().eq(was.diff(&is)));
        assert!(ChangedRows::between(&is, &is).rows.is_empty());
    }
}
