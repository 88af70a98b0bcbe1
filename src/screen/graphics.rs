//! Pictures on a terminal: an open graphics protocol (APC `G`) to which
//! terminals answer when they are asked, with PNG as the picture's format.
//!
//! A terminal is asked only when the maker wants a fine picture, together with
//! a question that nearly every terminal answers (primary device attributes,
//! ECMA-48 DA), so that the program does not wait for a terminal without
//! pictures.

use crate::screen::solid::FineShown;
use crate::screen::terminal::Screen;
use crate::screen::terminal_guard::PICTURE;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use ratatui::crossterm::terminal;
use ratatui::layout::Rect;
use std::fmt::Write as _;
use std::io::{self, Write as _};
use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

/// The number of our only picture.
const NUMBER: u32 = 29_800;
/// Below cells that have a background colour, so that text on the picture stays
/// legible (the protocol draws pictures under such cells from −1 073 741 825
/// down).
const DEPTH: i32 = -1_073_741_825;
/// The most characters in one part of a picture.
const PART: usize = 4096;

/// Asks whether the terminal shows pictures (a query for one pixel), and then
/// for its attributes.
pub fn question() -> String {
    format!("\x1b_Gi={NUMBER},s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\\x1b[c")
}

/// Removes our picture, if there is one.
pub fn none() -> String {
    format!("\x1b_Ga=d,d=I,i={NUMBER},q=2\x1b\\")
}

/// Shows a picture stretched over an area of cells, replacing one shown before.
/// The cursor is left at the area's first cell.
pub fn shown(png: &[u8], area: Rect) -> String {
    let text = STANDARD.encode(png);
    let mut out = none();
    let _ = write!(out, "\x1b[{};{}H", area.y + 1, area.x + 1);
    let parts = text.len().div_ceil(PART).max(1);
    for nth in 0..parts {
        let part = &text[nth * PART..text.len().min((nth + 1) * PART)];
        let more = u8::from(nth + 1 < parts);
        let _ = match nth {
            0 => write!(
                out,
                "\x1b_Ga=T,f=100,t=d,i={NUMBER},p=1,q=2,C=1,z={DEPTH},c={},r={},m={more};{part}\x1b\\",
                area.width, area.height
            ),
            _ => write!(out, "\x1b_Gm={more},q=2;{part}\x1b\\"),
        };
    }
    out
}

/// Whether this is the answer of a terminal that shows pictures: the inside of
/// an APC string.
pub fn shows(answer: &[u8]) -> bool {
    answer.starts_with(b"G") && answer.ends_with(b";OK")
}

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
            Some(picture) => shown(picture.png, picture.area),
            None => none(),
        };
        PICTURE.store(number.is_some(), Ordering::SeqCst);
        self.shown = number;
        self.out.write_all(sent.as_bytes())
    }

    /// Asks the terminal whether it shows pictures, if it was not asked
    /// already. Its answer arrives as
    /// [`Input::Pictures`](super::input::Input::Pictures).
    ///
    /// # Errors
    /// When the terminal is closed.
    pub fn ask_for_pictures(&mut self) -> io::Result<()> {
        if self.asked.is_some() {
            return Ok(());
        }
        self.asked = Some(Instant::now());
        self.send(question().as_bytes())
    }

    /// How much longer to wait for an answer, if the terminal was asked.
    pub(super) fn answer_in(&self) -> Option<Duration> {
        self.asked
            .map(|since| ANSWER.saturating_sub(since.elapsed()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_is_sent_in_parts_that_add_up_to_it() {
        let png: Vec<u8> = (0..10_000u32).map(|n| (n * 7 % 251) as u8).collect();
        let sent = shown(&png, Rect::new(2, 1, 30, 12));
        assert!(sent.starts_with(&none()));
        let parts: Vec<&str> = sent.split("\x1b_G").skip(2).collect();
        assert!(parts[0].starts_with("a=T,f=100,") && parts[0].contains(",c=30,r=12,m=1;"));
        let text: String = parts
            .iter()
            .map(|part| part.split_once(';').unwrap().1.trim_end_matches("\x1b\\"))
            .collect();
        assert_eq!(STANDARD.decode(text).unwrap(), png);
        let last = parts.last().unwrap();
        assert!(last.starts_with("m=0,q=2;"), "{last}");
        assert!(parts.iter().all(|part| part.len() <= PART + 100));
    }
}
