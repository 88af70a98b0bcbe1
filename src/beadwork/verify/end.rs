//! One end of a bead's hole.

use crate::beadwork::number::Bead;
use std::fmt;

/// An end of a bead: the back, where the thread went in when the bead was
/// strung, or the front, where it came out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct BeadEnd(u32);

impl BeadEnd {
    /// The back of a bead.
    pub fn back(bead: Bead) -> Self {
        BeadEnd(bead.0 << 1)
    }

    /// The front of a bead.
    pub fn front(bead: Bead) -> Self {
        BeadEnd(bead.0 << 1 | 1)
    }

    /// Both ends of a bead.
    pub fn both(bead: Bead) -> [Self; 2] {
        [Self::back(bead), Self::front(bead)]
    }

    /// The bead.
    pub fn bead(self) -> Bead {
        Bead(self.0 >> 1)
    }

    /// Whether it is the front.
    pub fn is_front(self) -> bool {
        self.0 & 1 == 1
    }

    /// The end at which thread that goes in here comes out.
    pub fn through(self) -> Self {
        BeadEnd(self.0 ^ 1)
    }

    pub(super) fn index(self) -> usize {
        self.0 as usize
    }

    pub(super) fn number(self) -> u32 {
        self.0
    }

    pub(super) fn from_number(number: u32) -> Self {
        BeadEnd(number)
    }
}

impl fmt::Debug for BeadEnd {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let end = if self.is_front() { "front" } else { "back" };
        write!(f, "{}.{end}", self.bead())
    }
}
