//! Screens as layers on one stack.
//!
//! ```text
//!   input -> Everywhere (Ctrl-C) -> top layer's own keys -> its text, its list
//!         -> Esc takes the top layer off -> keys that open a screen
//!
//!   | word asked about |   <- top: has the keys, is drawn
//!   | help             |
//!   | stitches         |   <- the lowest layer stays
//! ```
//!
//! A layer knows no other layer. It declares its keys, does what they ask,
//! draws itself, and describes itself in lines for the plain mode and for
//! screens too small for a picture. The line at the top, the heading, the
//! message to the maker, the key bar, scrolling and text fields are handled
//! here for all of them. A new screen is one file in `layers/` and one line in
//! its list.

use super::input::Input;
use super::keys::{KeyLine, letter};
use super::layers::NewFreePiece;
use super::look::{Ground, Look};
use super::session::Session;
use super::settings;
use super::stack::Stack;
use super::widgets::{Filter, Scroll, TextEntry, text};
use crate::progress::{Moment, Settings, Value};
use crate::words::Word;
use ratatui::crossterm::event::KeyEvent;
use ratatui::prelude::{Buffer, Line, Rect, Style};

pub(super) use super::keys::{Keys, LOOK, key_table, keys, opener};

/// Of layers whose keys are not those of their type.
const NO_KEYS: Keys = key_table!("";);

/// A screen on the stack.
pub trait Layer<C: Context> {
    /// The keys of all layers of this type; [`keys!`](super::keys::keys) writes
    /// this method and the next two.
    fn table() -> &'static Keys
    where
        Self: Sized,
    {
        &NO_KEYS
    }

    /// Its keys.
    fn keys(&self) -> &'static Keys;

    /// Does what the key with this name asks for.
    fn run(&mut self, name: &str, context: &mut C) -> Flow<C>;

    /// Whether the key with this name can do nothing now, and so is not shown.
    fn hides(&self, _name: &str) -> bool {
        false
    }

    /// Its content in lines.
    fn lines(&self, context: &C) -> Vec<Line<'static>>;

    /// Its content in lines for a listener.
    fn spoken(&self, context: &C) -> Vec<Line<'static>> {
        self.lines(context)
    }

    /// Handles a key that it does not declare; `None` if it has no use for it.
    fn other(&mut self, event: &KeyEvent, context: &mut C) -> Option<Flow<C>> {
        self.typed(letter(event)?, context)
    }

    /// The same for a letter.
    fn typed(&mut self, _letter: char, _context: &mut C) -> Option<Flow<C>> {
        None
    }

    /// Handles the mouse.
    fn mouse(&mut self, _input: Input, _context: &mut C) {}

    /// Draws itself between the line at the top and the message at the foot.
    fn draw(&mut self, context: &C, area: Rect, buf: &mut Buffer) {
        let lines = self.lines(context);
        match self.scroll() {
            Some(scroll) if scroll.is_list => {
                scroll.chosen(context.look(), text::inset(area, 2), buf, lines);
            }
            Some(scroll) => scroll.page(text::inset(area, 1), buf, lines),
            None => text::scrolled(text::inset(area, 1), buf, lines, 0),
        }
    }

    /// Its own heading, and its style.
    fn heading(&self, _context: &C) -> Option<(String, Style)> {
        None
    }

    /// Its list or long page, if it has one.
    fn scroll(&mut self) -> Option<&mut Scroll> {
        None
    }

    /// The filter of its list, if the list can be filtered.
    fn filter(&mut self) -> Option<&mut Filter> {
        None
    }

    /// Its text field, if it has one.
    fn entry(&mut self) -> Option<&mut TextEntry> {
        None
    }

    /// Whether it receives every key as it is pressed, even one to which the
    /// maker has given the work of another key.
    fn takes_every_key(&self) -> bool {
        false
    }

    /// Called after its text or its filter was edited.
    fn edited(&mut self, _context: &C) {}

    /// Whether it is a box over the layer below, with its lines at the foot: it
    /// has a text field and no list.
    fn is_box(&mut self) -> bool {
        self.entry().is_some() && self.scroll().is_none()
    }

    /// Whether keys that it does not have go to the layer below.
    fn extends_below(&self) -> bool {
        false
    }

    /// Whether the screen with this name can be opened from here.
    fn opens(&self, screen: &str) -> bool {
        matches!(screen, "help" | "words")
    }

    /// What it shows, for the help.
    fn about(&self, _context: &C) -> Vec<Line<'static>> {
        vec![]
    }

    /// Takes what was worked out in the background.
    fn tick(&mut self, _context: &mut C) -> Busy {
        Busy::No
    }

    /// One frame of what moves.
    fn frame(&mut self, _context: &mut C) {}

    /// Whether it uses clicks and the wheel.
    fn takes_mouse(&self) -> bool {
        false
    }

    /// The cells of a picture that can be shown more finely than in cells.
    fn fine_area(&self, _context: &C, _area: Rect) -> Option<Rect> {
        None
    }

    /// Whether the plain mode waits there for an answer after saying it.
    fn waits(&self) -> bool {
        true
    }

    /// Called when the maker closes it.
    fn closed(&mut self, _context: &mut C) {}

    /// Whether beads are worked here, so that the program returns here after a
    /// change.
    fn is_work(&self) -> bool {
        false
    }
}

/// What layers are about: a piece, or the tray.
pub trait Context: Sized + 'static {
    /// All screens that can be opened with a key.
    fn screens() -> &'static [Opener<Self>];

    /// The look.
    fn look(&self) -> Look;

    /// The current settings.
    fn settings(&self) -> &Settings;

    /// Whether a setting can be set for all pieces, and whether for one piece.
    fn can_set(&self) -> (bool, bool);

    /// Sets it for all of the maker's pieces; returns what went wrong, if
    /// anything.
    fn set_for_all(&mut self, name: &'static str, value: Value) -> Option<String>;

    /// Sets it for the open piece.
    fn set_for_piece(&mut self, _name: &'static str, _value: Value) {}

    /// Whether everything is mirrored, for the left hand.
    fn left_handed(&self) -> bool {
        self.settings().left_handed()
    }

    /// The key whose work a pressed key does.
    fn stands_for(&self, event: KeyEvent) -> KeyEvent {
        settings::stands_for(self.settings(), event)
    }

    /// The last message to the maker.
    fn said(&self) -> &str;

    /// Gives the maker a message.
    fn tell(&mut self, words: &str);

    /// Called before an input, at its time. `anew` if the message about the
    /// last one should be cleared.
    fn begin(&mut self, now: Moment, anew: bool);

    /// Called after an input.
    fn end(&mut self) {}

    /// Called before it is drawn, with the size in columns and rows.
    fn refresh(&mut self, _size: (u16, u16)) {}

    /// The line at the top.
    fn head(&self, area: Rect, buf: &mut Buffer);

    /// The most urgent message to the maker, and its style. `lowest` if nothing
    /// is open over the lowest layer.
    fn word(&self, lowest: bool, width: u16) -> Option<(String, Style)>;

    /// The words of the trade about the current work.
    fn words_now(&self) -> Vec<&'static Word> {
        vec![]
    }

    /// The sitting, if these are layers of a piece.
    fn session(&mut self) -> Option<&mut Session> {
        None
    }

    /// Receives the terminal's answer about its background.
    fn lies_on(&mut self, ground: Ground);

    /// What the help explains before the keys.
    fn explained(&self) -> Vec<Line<'static>> {
        vec![]
    }
}

/// What happens after an input.
pub enum Flow<C: Context> {
    /// Nothing more.
    Stay,
    /// This layer is closed.
    Close,
    /// All layers are closed down to the one where work continues, or to the
    /// lowest.
    Lowest,
    /// Another layer is put on top.
    Open(Box<dyn Layer<C>>),
    /// Another takes its place.
    Replace(Box<dyn Layer<C>>),
    /// Another layer is put on the lowest, and all others are closed.
    Only(Box<dyn Layer<C>>),
    /// The screen with this name is opened.
    Screen(&'static str),
    /// The stack is left.
    Leave(Exit),
}

impl<C: Context> Flow<C> {
    /// Puts a layer on top.
    pub fn open(layer: impl Layer<C> + 'static) -> Flow<C> {
        Flow::Open(Box::new(layer))
    }

    /// What would be put on top takes the place of this layer.
    pub fn instead(self) -> Flow<C> {
        match self {
            Flow::Open(layer) => Flow::Replace(layer),
            next => next,
        }
    }

    /// Replaces this layer with another.
    pub fn replace(layer: impl Layer<C> + 'static) -> Flow<C> {
        Flow::Replace(Box::new(layer))
    }
}

/// After an action that gives nothing back, the screen stays.
impl<C: Context> From<()> for Flow<C> {
    fn from((): ()) -> Flow<C> {
        Flow::Stay
    }
}

/// Runs the action of a key.
pub fn acted<C: Context, A: Into<Flow<C>>>(
    act: impl FnOnce(&mut C) -> A,
    context: &mut C,
) -> Flow<C> {
    act(context).into()
}

/// How a stack is left, temporarily or for good.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Exit {
    /// The maker wants to end.
    Quit,
    /// Into the background, and later back to here.
    Suspend,
    /// The maker wants to see the tray.
    Tray,
    /// The maker opens a piece: from another one, that of the beginner's tour.
    Open(Choice),
    /// The system asks the program to end, or the terminal is gone.
    Ended,
}

/// A piece to open, or to begin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choice {
    /// The piece of this name.
    Piece(String),
    /// The pattern at this place in the list of the tray, from 0.
    Pattern(usize),
    /// The piece of the beginner's tour.
    Tour,
    /// A piece without a pattern.
    Free(NewFreePiece),
}

/// What is happening in the background.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Busy {
    /// Nothing.
    No,
    /// Something the maker waits for.
    Waiting,
    /// Something moves automatically.
    Moving,
}

impl Busy {
    /// `Waiting` or `No`.
    pub fn waiting(waiting: bool) -> Busy {
        if waiting { Busy::Waiting } else { Busy::No }
    }
}

/// A screen that can be opened with a key.
pub struct Opener<C: Context> {
    /// The key; without keys it is opened from elsewhere.
    pub key: KeyLine,
    /// Opens it.
    pub open: fn(&mut Stack<C>, &mut C) -> Flow<C>,
    /// The keys of its layers, for docs/keys.md.
    #[cfg(test)]
    pub tables: &'static [fn() -> &'static Keys],
}
