//! What the keys of the whole solid do.

use crate::screen::way::Way;

/// What a key of the room does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Do {
    /// Open the room.
    Open,
    /// Back to where it was opened from.
    Leave,
    /// What the picture means, or the picture again.
    Explain,
    /// Turn the piece.
    Turn(Way),
    /// Nearer, or farther away.
    Zoom(bool),
    /// As it stood at first.
    Home,
    /// How faces stand, or as finished.
    States,
    /// A little on, or back, in what moves.
    Motion(bool),
    /// To the flat net, or from it.
    Net,
    /// Let it move, or stop it.
    Play,
    /// To the fine picture, or back to cells.
    Fine,
}
