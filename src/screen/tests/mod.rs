//! The screens of a piece, driven by keys and read as text.

mod changing;
mod colouring;
mod drawn;
mod face;
mod keys_page;
mod plain;
mod solid;
mod stats;
mod stitching;
mod sweep;
mod tour;
mod words;

use super::input::Input;
use super::layer::{Choice, Exit};
use super::layers;
use super::look::Look;
use super::proof::{self, LOOK};
use super::session::Session;
use super::stack::Stack;
use crate::beadwork::{Sequence, Step};
use crate::progress::{Moment, Piece};
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::prelude::{Buffer, Rect};
use std::ops::{Deref, DerefMut};

/// A sitting, and the screens open in it.
pub struct Sitting {
    pub session: Session,
    pub stack: Stack<Session>,
    pub now: Moment,
}

impl Deref for Sitting {
    type Target = Session;
    fn deref(&self) -> &Session {
        &self.session
    }
}

impl DerefMut for Sitting {
    fn deref_mut(&mut self) -> &mut Session {
        &mut self.session
    }
}

/// A sitting at a piece in memory, with its card open.
pub fn sit(seq: Sequence) -> Sitting {
    sit_with(seq, LOOK)
}

pub fn sit_with(seq: Sequence, look: Look) -> Sitting {
    let piece = Piece::in_memory("Evening trial", b"{}", seq.steps(), Moment(0));
    Sitting::of(Session::new(seq, piece, look, Moment(0)))
}

/// The same at the stitches, with `done` steps done.
pub fn at(seq: Sequence, done: usize) -> Sitting {
    let mut sitting = sit(seq);
    sitting.press("_");
    sitting.press(&"_".repeat(done));
    sitting
}

impl Sitting {
    pub fn of(session: Session) -> Sitting {
        Sitting {
            stack: layers::sitting(&session),
            session,
            now: Moment(1),
        }
    }

    /// Presses keys, in a short notation: `_` space, `<` Backspace, `^` Esc,
    /// `!` Enter, `⇥` Tab, arrows as arrows, `⇟` PageDown, everything else as
    /// typed.
    pub fn press(&mut self, keys: &str) -> Option<Exit> {
        let mut last = None;
        for c in keys.chars() {
            last = self.key(match c {
                '_' => KeyCode::Char(' '),
                '<' => KeyCode::Backspace,
                '^' => KeyCode::Esc,
                '!' => KeyCode::Enter,
                '⇥' => KeyCode::Tab,
                '↑' => KeyCode::Up,
                '↓' => KeyCode::Down,
                '←' => KeyCode::Left,
                '→' => KeyCode::Right,
                '⇟' => KeyCode::PageDown,
                c => KeyCode::Char(c),
            });
        }
        last
    }

    pub fn key(&mut self, code: KeyCode) -> Option<Exit> {
        let event = KeyEvent::new(code, KeyModifiers::NONE);
        self.touch(Input::Key(event))
    }

    pub fn touch(&mut self, touch: Input) -> Option<Exit> {
        self.stack.handle(&mut self.session, touch, self.now)
    }

    /// The name of the top screen in docs/keys.md.
    pub fn open(&self) -> &'static str {
        self.stack.top().keys().title
    }

    /// Waits for what is worked out in the background.
    pub fn wait(&mut self) {
        while self.stack.tick(&mut self.session) == super::layer::Busy::Waiting {
            std::thread::yield_now();
        }
    }

    pub fn draw(&mut self, area: Rect, buf: &mut Buffer) {
        self.stack.draw(&mut self.session, area, buf);
    }

    /// The screen as text.
    pub fn shown(&mut self, wide: u16, high: u16) -> String {
        let area = Rect::new(0, 0, wide, high);
        let mut buf = Buffer::empty(area);
        self.draw(area, &mut buf);
        proof::text(&buf)
    }

    /// Goes to the step that should be next, from anywhere.
    pub fn go_to(&mut self, step: u32) {
        while !self.stack.is_lowest() {
            self.press("^");
        }
        self.press(&format!("g{step}!"));
    }
}

/// A number from 0 to `n` - 1 by a linear congruence (Knuth's MMIX
/// multiplier), so that a failure can be run again.
pub struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self, n: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (self.0 >> 33) % n
    }
}
