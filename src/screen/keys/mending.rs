//! The keys of the answer to a count, its mend, a lost place and unpicking.

use super::Action::*;
use super::Place;
use super::{Binding, Key};
use ratatui::crossterm::event::KeyCode;

/// Places with a list, where letters have a meaning of their own.
const CHOICES: &[Place] = &[
    Place::Answer,
    Place::Mend,
    Place::Locate,
    Place::Found,
    Place::Unpick,
    Place::WayBack,
];

/// The table of these places.
pub const TABLE: &[Binding] = &[
    Binding {
        places: &[Place::Answer, Place::Mend],
        keys: &[Key::Code(KeyCode::Enter)],
        action: Choose,
        named: "Enter",
        bar: Some(("Enter", "mend")),
        does: "it was this: how it is mended, and then begin to",
    },
    Binding {
        places: &[Place::Answer, Place::Mend],
        keys: &[Key::Char('k')],
        action: Keep,
        named: "k",
        bar: Some(("k", "keep as stitched")),
        does: "keep the difference, as stitched: later counts go by the work as it is",
    },
    Binding {
        places: &[Place::Answer],
        keys: &[
            Key::Char(' '),
            Key::Code(KeyCode::Right),
            Key::Code(KeyCode::PageDown),
            Key::Code(KeyCode::Esc),
        ],
        action: Leave,
        named: "space, Esc",
        bar: Some(("space", "go on")),
        does: "go on stitching",
    },
    Binding {
        places: &[Place::Answer],
        keys: &[Key::Char('c')],
        action: Count,
        named: "c",
        bar: Some(("c", "count again")),
        does: "count again",
    },
    Binding {
        places: &[Place::Locate, Place::Found],
        keys: &[Key::Code(KeyCode::Enter)],
        action: Choose,
        named: "Enter",
        bar: Some(("Enter", "this one")),
        does: "this is the answer; of a place that is found: go there",
    },
    Binding {
        places: &[Place::Locate],
        keys: &[Key::Char('?'), Key::Char(' ')],
        action: CannotTell,
        named: "?, space",
        bar: Some(("?", "can't tell")),
        does: "it cannot be told: the next question",
    },
    Binding {
        places: &[Place::Found],
        keys: &[Key::Char('n')],
        action: NotThis,
        named: "n",
        bar: Some(("n", "not this")),
        does: "the work does not look like this: an answer was wrong, and the search goes on",
    },
    Binding {
        places: &[Place::Locate, Place::Found],
        keys: &[Key::Code(KeyCode::Backspace), Key::Code(KeyCode::Left)],
        action: Erase,
        named: "Backspace, left arrow",
        bar: Some(("bksp", "one back")),
        does: "take back a digit, or the last answer",
    },
    Binding {
        places: &[Place::Unpick],
        keys: &[Key::Code(KeyCode::Enter)],
        action: Choose,
        named: "Enter",
        bar: Some(("Enter", "look at the way back")),
        does: "what that takes; nothing is unpicked yet",
    },
    Binding {
        places: &[Place::WayBack],
        keys: &[
            Key::Char(' '),
            Key::Code(KeyCode::Right),
            Key::Code(KeyCode::PageDown),
        ],
        action: Forward,
        named: "space, right arrow",
        bar: Some(("space", "step by step")),
        does: "unpick movement by movement",
    },
    Binding {
        places: &[Place::WayBack],
        keys: &[Key::Code(KeyCode::Enter)],
        action: Choose,
        named: "Enter",
        bar: Some(("Enter", "all is out")),
        does: "all of it is unpicked: go on from there",
    },
    Binding {
        places: &[Place::Unpicking],
        keys: &[
            Key::Char(' '),
            Key::Code(KeyCode::Enter),
            Key::Code(KeyCode::Right),
            Key::Code(KeyCode::PageDown),
        ],
        action: Forward,
        named: "space, Enter, right arrow, PageDown",
        bar: Some(("space", "this one is out")),
        does: "this movement is unpicked; the one before it comes next",
    },
    Binding {
        places: &[Place::Unpicking],
        keys: &[
            Key::Code(KeyCode::Backspace),
            Key::Code(KeyCode::Left),
            Key::Code(KeyCode::PageUp),
        ],
        action: Back,
        named: "Backspace, left arrow, PageUp",
        bar: Some(("bksp", "not that one")),
        does: "that movement is still in the work",
    },
    Binding {
        places: CHOICES,
        keys: &[Key::Code(KeyCode::Up)],
        action: Up,
        named: "up arrow",
        bar: None,
        does: "up a line",
    },
    Binding {
        places: CHOICES,
        keys: &[Key::Code(KeyCode::Down)],
        action: Down,
        named: "down arrow",
        bar: Some(("up/down", "move")),
        does: "down a line",
    },
];
