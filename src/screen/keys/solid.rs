//! The keys of the whole solid.

use super::Action::*;
use super::Place::{Solid as TheSolid, Stitch};
use super::{Binding, Key};
use ratatui::crossterm::event::KeyCode;

/// The table of this place.
pub const TABLE: &[Binding] = &[
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('v')],
        action: Solid,
        named: "v",
        bar: None,
        does: "the whole solid: the piece in three dimensions, turned by keys, folded from its net, a ring turned through its cycle",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Code(KeyCode::Left), Key::Char('h')],
        action: TurnLeft,
        named: "left arrow, h",
        bar: Some(("arrows", "turn")),
        does: "turn the piece to the left",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Code(KeyCode::Right), Key::Char('l')],
        action: TurnRight,
        named: "right arrow, l",
        bar: None,
        does: "turn it to the right",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Code(KeyCode::Up), Key::Char('k')],
        action: TurnUp,
        named: "up arrow, k",
        bar: None,
        does: "turn it up, away from you",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Code(KeyCode::Down), Key::Char('j')],
        action: TurnDown,
        named: "down arrow, j",
        bar: None,
        does: "turn it down, towards you",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char(' ')],
        action: Play,
        named: "space",
        bar: Some(("space", "moves, stops")),
        does: "a ring turns through its cycle of itself, any other piece unfolds or folds; again stops it",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('n')],
        action: Net,
        named: "n",
        bar: Some(("n", "net")),
        does: "unfold the piece to its flat net, or fold the net; sides of one number will meet",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('.'), Key::Char('>')],
        action: MotionOn,
        named: ". or >",
        bar: Some((", .", "a little")),
        does: "a little on: the ring in its cycle, or the net in its folding",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char(','), Key::Char('<')],
        action: MotionBack,
        named: ", or <",
        bar: None,
        does: "a little back; a piece that is all folded begins to open",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('+'), Key::Char('=')],
        action: Nearer,
        named: "+, =",
        bar: Some(("+ -", "zoom")),
        does: "nearer",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('-'), Key::Char('_')],
        action: Farther,
        named: "-",
        bar: None,
        does: "farther away",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('0'), Key::Code(KeyCode::Home)],
        action: HomeView,
        named: "0, Home",
        bar: Some(("0", "home")),
        does: "as it stood at first, all of it in sight",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('s')],
        action: States,
        named: "s",
        bar: Some(("s", "as finished")),
        does: "show the piece as it will be when finished, or how its faces stand now",
    },
    Binding {
        places: &[TheSolid],
        keys: &[
            Key::Code(KeyCode::Esc),
            Key::Char('v'),
            Key::Char('q'),
            Key::Code(KeyCode::Backspace),
            Key::Code(KeyCode::Enter),
        ],
        action: Leave,
        named: "Esc, v, q, Enter, Backspace",
        bar: Some(("Esc", "leave")),
        does: "back to the stitches",
    },
];
