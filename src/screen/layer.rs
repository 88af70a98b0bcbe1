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
//! A layer knows no other. It declares its keys, does what they ask, draws
//! itself, and says itself in lines for the plain mode and for screens too
//! small for a picture. The line at the top, the heading, the word to the
//! maker, the key bar, scrolling and typing are done here for all of them. A
//! new screen is one file in `layers/` and one line in its list.

use super::event::Input;
use super::furniture::{Filter, Scroll, TextEntry, text};
use super::keys::{KeyLine, Keys};
use super::look::{Ground, Look};
use super::own_keys;
use super::solid::FineShown;
use super::stack::Stack;
use crate::progress::{Moment, Settings, Value};
use crate::words::Word;
use ratatui::buffer::Buffer;
use ratatui::crossterm::event::KeyEvent;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;

/// A screen on the stack.
pub trait Layer<C: Context> {
    /// Its keys; [`keys!`](super::keys::keys) writes this and the next two.
    fn table() -> &'static Keys
    where
        Self: Sized;

    /// The same.
    fn keys(&self) -> &'static Keys;

    /// Does what the key of this name asks for.
    fn run(&mut self, name: &str, context: &mut C) -> Flow<C>;

    /// Whether the key of this name can do nothing now, so that it is not shown.
    fn hides(&self, _name: &str) -> bool {
        false
    }

    /// Itself in lines.
    fn lines(&self, context: &C) -> Vec<Line<'static>>;

    /// Itself in lines for those who hear it.
    fn spoken(&self, context: &C) -> Vec<Line<'static>> {
        self.lines(context)
    }

    /// An input that none of its keys names: a letter, the mouse. `None` if it
    /// has no use for it.
    fn other(&mut self, _input: Input, _context: &mut C) -> Option<Flow<C>> {
        None
    }

    /// Draws itself between the line at the top and the word at the foot.
    fn draw(&mut self, context: &C, area: Rect, buf: &mut Buffer) {
        let lines = self.lines(context);
        match self.scroll() {
            Some(scroll) if scroll.is_list => {
                let at = scroll.at;
                scroll.chosen(text::inset(area, 2), buf, lines, at);
            }
            Some(scroll) => scroll.page(text::inset(area, 1), buf, lines),
            None => drop(text::scrolled(text::inset(area, 1), buf, lines, 0)),
        }
    }

    /// A heading of its own, and how it looks.
    fn heading(&self, _context: &C) -> Option<(String, Style)> {
        None
    }

    /// Its list or long page, if it is one.
    fn scroll(&mut self) -> Option<&mut Scroll> {
        None
    }

    /// The letters that the lines of its list must have, if it can be cut down.
    fn filter(&mut self) -> Option<&mut Filter> {
        None
    }

    /// The text that is typed in it, if it takes any.
    fn entry(&mut self) -> Option<&mut TextEntry> {
        None
    }

    /// Whether it gets every key as it is pressed, even one that the maker has
    /// given another's work.
    fn takes_every_key(&self) -> bool {
        false
    }

    /// After its text was edited, or its filter.
    fn edited(&mut self, _context: &C) {}

    /// Whether it is a box over the layer below, its lines at the foot: text is
    /// typed in it, and it has no list.
    fn is_box(&mut self) -> bool {
        self.entry().is_some() && self.scroll().is_none()
    }

    /// Whether keys that it has not are those of the layer below.
    fn extends_below(&self) -> bool {
        false
    }

    /// Whether the screen of this name can be opened from here.
    fn opens(&self, screen: &str) -> bool {
        matches!(screen, "help" | "words")
    }

    /// What it shows, for the help.
    fn about(&self, _context: &C) -> Vec<Line<'static>> {
        vec![]
    }

    /// Takes in what was worked out in the background.
    fn tick(&mut self, _context: &mut C) -> Busy {
        Busy::No
    }

    /// One frame of what moves.
    fn frame(&mut self, _context: &mut C) {}

    /// Whether clicks and the wheel are of use.
    fn takes_mouse(&self) -> bool {
        false
    }

    /// The cells of a picture that can be shown finer than cells.
    fn fine_area(&self, _context: &C, _area: Rect) -> Option<Rect> {
        None
    }

    /// Whether the plain mode stays with it for an answer, once it is said.
    fn waits(&self) -> bool {
        true
    }

    /// Whether beads are worked here, so that a change that is made comes back
    /// to it.
    fn is_work(&self) -> bool {
        false
    }
}

/// What layers are about: a piece, or the tray.
pub trait Context: Sized + 'static {
    /// All screens that a key opens.
    fn screens() -> &'static [Opener<Self>];

    /// The look.
    fn look(&self) -> Look;

    /// The settings that hold.
    fn settings(&self) -> &Settings;

    /// Whether a setting can be for all pieces, and whether for one alone.
    fn can_set(&self) -> (bool, bool);

    /// Sets it for all pieces of the maker; what went wrong, if anything did.
    fn set_for_all(&mut self, name: &'static str, value: Value) -> Option<String>;

    /// Sets it for the piece that is open.
    fn set_for_piece(&mut self, _name: &'static str, _value: Value) {}

    /// Whether all is mirrored, for the left hand.
    fn left_handed(&self) -> bool {
        self.settings().left_handed()
    }

    /// The key whose work a pressed key does.
    fn stands_for(&self, event: KeyEvent) -> KeyEvent {
        own_keys::stands_for(self.settings(), event)
    }

    /// What was said to the maker last.
    fn said(&self) -> &str;

    /// Says something to the maker.
    fn tell(&mut self, words: &str);

    /// Before an input, at its time. `anew` if what was said of the last one
    /// is to go.
    fn begin(&mut self, now: Moment, anew: bool);

    /// After an input.
    fn end(&mut self) {}

    /// Before it is drawn on so many columns and rows.
    fn refresh(&mut self, _size: (u16, u16)) {}

    /// The line at the top.
    fn head(&self, area: Rect, buf: &mut Buffer);

    /// A word to the maker, the most pressing, and how it looks. `lowest` if
    /// nothing is open over the lowest layer.
    fn word(&self, lowest: bool, width: u16) -> Option<(String, Style)>;

    /// The words of the trade that are about what is going on.
    fn words_now(&self) -> Vec<&'static Word> {
        vec![]
    }

    /// Once it is painted.
    fn painted(&mut self) {}

    /// What the lowest layer will look like after this key, if that can be
    /// said.
    fn frame_after(&self, _key: KeyEvent, _area: Rect) -> Option<Buffer> {
        None
    }

    /// Whether something keeps what was done from the disk.
    fn is_troubled(&mut self) -> bool {
        false
    }

    /// While nobody types.
    fn idle(&mut self) {}

    /// Whether the bell is to ring, once.
    fn rings(&mut self) -> bool {
        false
    }

    /// Whether the terminal must be asked now if it shows pictures.
    fn asks_for_pictures(&self) -> bool {
        false
    }

    /// What the terminal answered.
    fn answered(&mut self, _can: bool) {}

    /// What the terminal writes on, as it answered.
    fn lies_on(&mut self, ground: Ground);

    /// Whether a fine picture is wanted.
    fn wants_fine(&self) -> bool {
        false
    }

    /// The fine picture for an area of so many cells, each of so many points,
    /// once it is drawn.
    fn fine(&mut self, _area: Option<Rect>, _points: (u16, u16)) -> Option<FineShown<'_>> {
        None
    }

    /// What is to be explained before the keys in the help.
    fn explained(&self) -> Vec<Line<'static>> {
        vec![]
    }
}

/// What follows an input.
pub enum Flow<C: Context> {
    /// Nothing else.
    Stay,
    /// This layer is taken off.
    Close,
    /// All layers are taken off down to the one where work goes on, or to the
    /// lowest.
    Lowest,
    /// Another is put on it.
    Open(Box<dyn Layer<C>>),
    /// Another takes its place.
    Replace(Box<dyn Layer<C>>),
    /// Another alone lies on the lowest.
    Only(Box<dyn Layer<C>>),
    /// The screen of this name is opened.
    Screen(&'static str),
    /// The stack is left.
    Leave(Exit),
}

impl<C: Context> Flow<C> {
    /// A layer to be put on top.
    pub fn open(layer: impl Layer<C> + 'static) -> Flow<C> {
        Flow::Open(Box::new(layer))
    }

    /// A layer to take the place of this one.
    pub fn replace(layer: impl Layer<C> + 'static) -> Flow<C> {
        Flow::Replace(Box::new(layer))
    }
}

/// How a stack is left, for a while or for good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// End the program.
    Quit,
    /// Into the background, and on from here.
    Suspend,
    /// To the tray.
    Tray,
    /// To the piece of the beginner's tour.
    Tour,
    /// To the line of the tray with this number, from 0.
    Choose(usize),
    /// To the piece without a pattern that the tray was asked for.
    Free,
}

/// What goes on in the background.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Busy {
    /// Nothing.
    No,
    /// Something that the maker waits for.
    Waiting,
    /// Something moves of itself.
    Moving,
}

impl Busy {
    /// Waiting, or not.
    pub fn waiting(waiting: bool) -> Busy {
        if waiting { Busy::Waiting } else { Busy::No }
    }
}

/// A screen that a key opens.
pub struct Opener<C: Context> {
    /// The key; without keys it is opened from elsewhere.
    pub key: KeyLine,
    /// Opens it.
    pub open: fn(&mut Stack<C>, &mut C) -> Flow<C>,
    /// The keys of its layers, for docs/keys.md.
    #[cfg(test)]
    pub tables: &'static [fn() -> &'static Keys],
}
