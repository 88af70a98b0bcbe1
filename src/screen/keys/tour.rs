//! The keys of the beginner's tour and of asking about a word, on pages of
//! their own.

use super::Action::*;
use super::Place::{Lesson as ALesson, Word, Words};
use super::{Binding, Key};
use ratatui::crossterm::event::KeyCode;

/// The table of these places.
pub const TABLE: &[Binding] = &[
    Binding {
        places: &[ALesson],
        keys: &[
            Key::Char(' '),
            Key::Code(KeyCode::Enter),
            Key::Code(KeyCode::Esc),
            Key::Char('e'),
            Key::Char('q'),
            Key::Code(KeyCode::Backspace),
        ],
        action: Leave,
        named: "space, Enter, Esc, e, q, Backspace",
        bar: Some(("space", "go on")),
        does: "back to the stitches",
    },
    Binding {
        places: &[ALesson],
        keys: &[Key::Code(KeyCode::Up), Key::Char('k')],
        action: Up,
        named: "up arrow, k",
        bar: None,
        does: "the lesson before",
    },
    Binding {
        places: &[ALesson],
        keys: &[Key::Code(KeyCode::Down), Key::Char('j')],
        action: Down,
        named: "down arrow, j",
        bar: Some(("up/down", "others")),
        does: "the next lesson",
    },
    Binding {
        places: &[ALesson],
        keys: &[Key::Code(KeyCode::PageDown), Key::Code(KeyCode::Right)],
        action: PageDown,
        named: "PageDown, right arrow",
        bar: Some(("right", "reads on")),
        does: "on in a lesson that is longer than the screen",
    },
    Binding {
        places: &[ALesson],
        keys: &[Key::Code(KeyCode::PageUp), Key::Code(KeyCode::Left)],
        action: PageUp,
        named: "PageUp, left arrow",
        bar: None,
        does: "back in it",
    },
    Binding {
        places: &[ALesson],
        keys: &[Key::Char('x')],
        action: TourOnOff,
        named: "x",
        bar: Some(("x", "leave tour")),
        does: "leave the tour, or take it up: no lesson comes up while it is left",
    },
    Binding {
        places: &[ALesson],
        keys: &[Key::Char('r')],
        action: TourAgain,
        named: "r",
        bar: Some(("r", "repeat")),
        does: "all lessons come up again, each at the next movement that it is about",
    },
    Binding {
        places: &[Words],
        keys: &[
            Key::Code(KeyCode::Enter),
            Key::Char(' '),
            Key::Code(KeyCode::Right),
        ],
        action: Choose,
        named: "Enter, space, right arrow",
        bar: Some(("Enter", "explain")),
        does: "explain the word",
    },
    Binding {
        places: &[Word],
        keys: &[],
        action: Choose,
        named: "1 to 9",
        bar: Some(("1-9", "see also")),
        does: "go to the neighbour of that number",
    },
    Binding {
        places: &[Word],
        keys: &[Key::Code(KeyCode::Backspace), Key::Code(KeyCode::Left)],
        action: Back,
        named: "Backspace, left arrow",
        bar: Some(("bksp", "back")),
        does: "back to the word before, or to the list",
    },
    Binding {
        places: &[Words, Word],
        keys: &[Key::Code(KeyCode::Esc), Key::Char('a'), Key::Char('q')],
        action: Leave,
        named: "Esc, a, q",
        bar: Some(("Esc", "leave")),
        does: "back to where you asked",
    },
];
