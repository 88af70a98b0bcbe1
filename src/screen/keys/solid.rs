//! The keys of the whole solid.

use super::Action::Solid;
use super::Place::{Colouring, Face, Solid as TheSolid, Stitch};
use super::{Binding, Key};
use crate::screen::solid::Do;
use crate::screen::way::Way;
use ratatui::crossterm::event::KeyCode;

/// The table of this place.
pub const TABLE: &[Binding] = &[
    Binding {
        places: &[Face, Colouring],
        keys: &[Key::Char('v')],
        action: Solid(Do::Open),
        named: "v",
        bar: Some(("v", "on the solid")),
        does: "the solid in the colours of this panel, painted ones too; Esc comes back",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('v')],
        action: Solid(Do::Open),
        named: "v",
        bar: Some(("v", "solid")),
        does: "the whole solid: the piece in three dimensions, turned by keys, folded from its net, a ring turned through its cycle",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Code(KeyCode::Left), Key::Char('h')],
        action: Solid(Do::Turn(Way::Left)),
        named: "left arrow, h",
        bar: Some(("arrows", "turn")),
        does: "turn the piece to the left",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Code(KeyCode::Right), Key::Char('l')],
        action: Solid(Do::Turn(Way::Right)),
        named: "right arrow, l",
        bar: None,
        does: "turn it to the right",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Code(KeyCode::Up), Key::Char('k')],
        action: Solid(Do::Turn(Way::Up)),
        named: "up arrow, k",
        bar: None,
        does: "turn it up, away from you",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Code(KeyCode::Down), Key::Char('j')],
        action: Solid(Do::Turn(Way::Down)),
        named: "down arrow, j",
        bar: None,
        does: "turn it down, towards you",
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
        action: Solid(Do::Leave),
        named: "Esc, v, q, Enter, Backspace",
        bar: Some(("Esc", "leave")),
        does: "back to the stitches, or to the face",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char(' ')],
        action: Solid(Do::Play),
        named: "space",
        bar: Some(("space", "move")),
        does: "a ring turns through its cycle of itself, any other piece unfolds or folds; again stops it",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('n')],
        action: Solid(Do::Net),
        named: "n",
        bar: Some(("n", "net")),
        does: "unfold the piece to its flat net, or fold the net; sides of one letter will meet",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('.'), Key::Char('>')],
        action: Solid(Do::Motion(true)),
        named: ". or >",
        bar: None,
        does: "a little on: the ring in its cycle, or the net in its folding",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char(','), Key::Char('<')],
        action: Solid(Do::Motion(false)),
        named: ", or <",
        bar: None,
        does: "a little back; a piece that is all folded begins to open",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('0'), Key::Code(KeyCode::Home)],
        action: Solid(Do::Home),
        named: "0, Home",
        bar: None,
        does: "as it stood at first: all of the piece, what is worked in front",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('s')],
        action: Solid(Do::States),
        named: "s",
        bar: Some(("s", "finished")),
        does: "show the piece as it will be when finished, or how its faces stand now",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('i')],
        action: Solid(Do::Fine),
        named: "i",
        bar: None,
        does: "a fine picture while nothing moves, if the terminal shows pictures; again back to cells",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('?'), Key::Code(KeyCode::F(1))],
        action: Solid(Do::Explain),
        named: "?, F1",
        bar: Some(("?", "help")),
        does: "what the signs and letters of the picture mean, and these keys",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('+'), Key::Char('=')],
        action: Solid(Do::Zoom(true)),
        named: "+, =",
        bar: Some(("+ -", "zoom")),
        does: "nearer, to what is worked",
    },
    Binding {
        places: &[TheSolid],
        keys: &[Key::Char('-'), Key::Char('_')],
        action: Solid(Do::Zoom(false)),
        named: "-",
        bar: None,
        does: "farther away",
    },
];
