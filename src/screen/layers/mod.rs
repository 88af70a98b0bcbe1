//! The screens, one file each. The list says what opens them, in the order of
//! the key bar.

mod as_stitched;
mod card;
mod changes;
mod colouring;
mod count;
mod face;
mod free;
mod free_start;
mod go_to;
mod help;
pub mod lesson;
mod locate;
mod menu;
mod other_beads;
mod overview;
mod plan;
mod preview;
mod settings_page;
mod sew_through;
mod solid;
mod stitch;
mod thread_time;
mod tray;
mod tray_actions;
mod unpick;
mod words_asked;

use super::layer::Opener;
use super::session::Session;
use super::stack::Stack;

#[cfg(test)]
pub use card::Card;
pub use free_start::{FreeBeginning, NewFreePiece, asked_plainly, free_asked};
pub use help::explained;
pub use stitch::{Stitches, step_line};
pub use tray::{LookAt, TakeIn, TrayList, TrayState};
pub use unpick::way_back;

/// The screens of a piece.
pub const OF_A_PIECE: &[Opener<Session>] = &[
    stitch::OPENER,
    card::OPENER,
    help::opener(),
    count::OPENER,
    words_asked::opener(),
    overview::OPENER,
    go_to::OPENER,
    overview::NOTE,
    locate::OPENER,
    unpick::OPENER,
    changes::OPENER,
    free::OPENER,
    changes::BY_LAW,
    changes::JOIN_SIDES,
    sew_through::OPENER,
    other_beads::SWAP,
    other_beads::NEW,
    settings_page::opener(),
    settings_page::own_key(),
    settings_page::speech_command(),
    thread_time::OPENER,
    plan::OPENER,
    face::OPENER,
    colouring::OPENER,
    colouring::WRITE_PAINT,
    solid::OPENER,
    lesson::OPENER,
];

/// The screens of the tray.
pub const OF_THE_TRAY: &[Opener<TrayState>] = &[
    tray::OPENER,
    help::opener(),
    settings_page::opener(),
    settings_page::own_key(),
    settings_page::speech_command(),
    words_asked::opener(),
];

/// A sitting at a piece; the card comes first if there is something to say.
pub fn sitting(session: &Session) -> Stack<Session> {
    let mut stack = Stack::new(Stitches);
    if session.has_card() {
        stack.open(card::Card::new());
    }
    stack
}
