//! Pictures over cells: whether the terminal shows any, and the one that it
//! shows.

use super::{Screen, ahead};
use crate::screen::graphics;
use crate::screen::session::fine;
#[cfg(unix)]
use crate::screen::signals::Signals;
use crate::screen::taken::PICTURE;
use crate::screen::woken::{Ready, Touch};
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::crossterm::terminal;
use std::io::{self, Write as _};
use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

/// An answer of the terminal that did not come in time, and would be taken for
/// keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Late {
    Nothing,
    /// It may come.
    Awaited,
    /// It is coming; so many keys of it at the most.
    Coming(u8),
}

/// How long a terminal is waited for that was asked whether it shows pictures.
#[cfg(unix)]
const ANSWER: Duration = Duration::from_secs(1);

/// The most letters of an answer.
const LONGEST: u8 = 100;

/// The points of a cell, across and down, of a terminal that does not tell.
const POINTS: (u16, u16) = (10, 20);

impl Screen {
    /// The points of a cell, across and down.
    pub fn points(&self) -> (u16, u16) {
        let told = terminal::window_size().ok();
        let each = told.and_then(|size| {
            let wide = size.width.checked_div(size.columns)?;
            let high = size.height.checked_div(size.rows)?;
            Some((wide, high))
        });
        each.filter(|(wide, high)| *wide > 0 && *high > 0)
            .unwrap_or(POINTS)
    }

    /// Shows a picture over its cells, or none. It is sent with the next
    /// painting.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn picture(&mut self, wanted: Option<fine::Shown>) -> io::Result<()> {
        let number = wanted.map(|picture| picture.number);
        if number == self.shown {
            return Ok(());
        }
        let sent = match wanted {
            Some(picture) => graphics::shown(picture.png, picture.area),
            None => graphics::none(),
        };
        PICTURE.store(number.is_some(), Ordering::SeqCst);
        self.shown = number;
        self.terminal.backend_mut().write_all(sent.as_bytes())
    }

    /// Asks the terminal whether it shows pictures, and waits a little for its
    /// answer.
    ///
    /// # Errors
    /// When the terminal is gone.
    #[cfg(unix)]
    pub fn shows_pictures(&mut self) -> io::Result<bool> {
        let out = self.terminal.backend_mut();
        out.write_all(graphics::question().as_bytes())?;
        io::Write::flush(out)?;
        let asked = Instant::now();
        let mut heard = graphics::Heard::default();
        while let Some(left) = ANSWER.checked_sub(asked.elapsed())
            && !heard.is_all()
        {
            match self.signals.ready(left)? {
                // A signal wakes too, and then there may be nothing to read.
                Ready::Input if Signals::input()? => {
                    let mut bytes = [0; 256];
                    let long = rustix::io::read(io::stdin(), &mut bytes)?;
                    heard.hear(&bytes[..long]);
                }
                Ready::Input | Ready::Nothing => {}
                Ready::Suspend => {
                    self.stop = true;
                    break;
                }
                Ready::End => break,
            }
        }
        if !heard.is_all() {
            self.late = Late::Awaited;
        }
        let answer = heard.answer();
        ahead().extend(Touch::typed(&answer.typed));
        Ok(answer.shows)
    }

    /// Here no terminal is asked.
    #[cfg(not(unix))]
    pub fn shows_pictures(&mut self) -> io::Result<bool> {
        Ok(false)
    }

    /// Whether a key is part of an answer that comes late: it is read as keys
    /// from Alt and `_` to Alt and `\`.
    pub(super) fn is_late(&mut self, key: &KeyEvent) -> bool {
        let alt = key.modifiers.contains(KeyModifiers::ALT);
        let (late, is_late) = match (self.late, key.code) {
            (Late::Awaited, KeyCode::Char('_')) if alt => (Late::Coming(LONGEST), true),
            (Late::Coming(_), KeyCode::Char('\\')) if alt => (Late::Nothing, true),
            (Late::Coming(left @ 1..), _) => (Late::Coming(left - 1), true),
            (Late::Coming(0), _) => (Late::Nothing, false),
            (late, _) => (late, false),
        };
        self.late = late;
        is_late
    }
}
