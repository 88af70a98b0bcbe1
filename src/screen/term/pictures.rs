//! Pictures over cells: whether the terminal can show any, and the one that is
//! shown.

use super::Screen;
use crate::screen::graphics;
use crate::screen::solid::FineShown;
use crate::screen::terminal_guard::PICTURE;
use ratatui::crossterm::terminal;
use std::io::{self, Write as _};
use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

/// How long to wait for a terminal that was asked whether it shows pictures.
const ANSWER: Duration = Duration::from_secs(1);

/// The pixels of a cell, across and down, if the terminal does not say.
const POINTS: (u16, u16) = (10, 20);

impl Screen {
    /// The pixels of a cell, across and down.
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
    /// When the terminal is closed.
    pub fn picture(&mut self, wanted: Option<FineShown>) -> io::Result<()> {
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
        self.out.write_all(sent.as_bytes())
    }

    /// Asks the terminal whether it shows pictures, if it was not asked
    /// already. Its answer arrives as
    /// [`Input::Pictures`](super::Input::Pictures).
    ///
    /// # Errors
    /// When the terminal is closed.
    pub fn ask_for_pictures(&mut self) -> io::Result<()> {
        if self.asked.is_some() {
            return Ok(());
        }
        self.asked = Some(Instant::now());
        self.send(graphics::question().as_bytes())
    }

    /// How much longer to wait for an answer, if the terminal was asked.
    pub(super) fn answer_in(&self) -> Option<Duration> {
        self.asked
            .map(|since| ANSWER.saturating_sub(since.elapsed()))
    }
}
