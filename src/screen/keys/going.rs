//! The keys of the plan, and of thread and time.

use super::Action::*;
use super::Place;
use super::{Binding, Key};
use ratatui::crossterm::event::KeyCode;

/// The table of these places.
pub const TABLE: &[Binding] = &[
    Binding {
        places: &[Place::Going],
        keys: &[Key::Char('n')],
        action: NewThread,
        named: "n",
        bar: Some(("n", "new thread")),
        does: "you take up a new thread here, or tell how long the one just taken up is cut",
    },
    Binding {
        places: &[Place::Plan],
        keys: &[Key::Code(KeyCode::Tab), Key::Code(KeyCode::Right)],
        action: NextPart,
        named: "Tab, right arrow",
        bar: Some(("Tab", "next part")),
        does: "to the next part",
    },
    Binding {
        places: &[Place::Plan],
        keys: &[Key::Code(KeyCode::BackTab), Key::Code(KeyCode::Left)],
        action: PartBefore,
        named: "Shift-Tab, left arrow",
        bar: None,
        does: "to the part before",
    },
    Binding {
        places: &[Place::Plan],
        keys: &[Key::Char('i')],
        action: Unit,
        named: "i",
        bar: Some(("i", "mm or inches")),
        does: "millimetres or inches; kept with the piece",
    },
    Binding {
        places: &[Place::Plan, Place::Going],
        keys: &[
            Key::Char('p'),
            Key::Char('h'),
            Key::Char('q'),
            Key::Code(KeyCode::Backspace),
        ],
        action: Leave,
        named: "p, h, q, Backspace",
        bar: None,
        does: "back to the stitches",
    },
];
