//! What the keys of the whole face do.

use crate::screen::way::Way;

/// What a key of the room does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Do {
    /// Open the room.
    Open,
    /// Move the window.
    Pan(Way),
    /// Point at the next bead that way.
    Point(Way),
    /// Point at the next bead of the round, in working direction or against.
    Along(bool),
    /// Larger, or smaller.
    Zoom(bool),
    /// The whole panel.
    Whole,
    /// Back to the bead under the needle.
    Needle,
    /// Show the way of the thread, or hide it.
    Route,
    /// The side of the bead pointed at up.
    Turn,
    /// The next panel, or the one before.
    Panel(bool),
    /// Take the brush up, or put it away.
    Colouring,
    /// Paint the bead pointed at.
    Paint,
    /// The next bead in hand, or the one before.
    Hand(bool),
    /// The bead of this letter in hand.
    Letter(char),
    /// The colour pointed at in hand.
    Take,
    /// What is painted with a bead.
    Reach,
    /// Undo the last stroke.
    Undo,
    /// Do it again.
    Redo,
    /// Write what is painted to a pattern file.
    Write,
}
