//! The two ends of a bead's hole. Thread that goes in at one comes out at the
//! other.

use super::Bead;
use serde::{Deserialize, Serialize};

/// An end of a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// The end that the thread went in by when the bead was strung.
    Back,
    /// The end it came out of.
    Front,
}

impl End {
    /// The other end.
    pub fn other(self) -> End {
        match self {
            End::Back => End::Front,
            End::Front => End::Back,
        }
    }
}

/// One end of one bead: where the needle leaves, or goes in. Written to a file
/// it is the bead's number, less than nothing for the back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(into = "i64", try_from = "i64")]
pub struct Hole {
    /// The bead.
    pub bead: Bead,
    /// The end of it.
    pub end: End,
}

impl Hole {
    /// The back end of a bead.
    pub fn back(bead: Bead) -> Hole {
        Hole {
            bead,
            end: End::Back,
        }
    }

    /// The front end of a bead.
    pub fn front(bead: Bead) -> Hole {
        Hole {
            bead,
            end: End::Front,
        }
    }

    /// The same end of the bead `later` beads after this one.
    pub(super) fn later(self, later: u32) -> Hole {
        Hole {
            bead: Bead(self.bead.0 + later),
            end: self.end,
        }
    }

    /// The same end of the bead `earlier` beads before this one.
    pub(super) fn earlier(self, earlier: u32) -> Hole {
        Hole {
            bead: Bead(self.bead.0 - earlier),
            end: self.end,
        }
    }

    /// Where thread that goes in here comes out.
    pub fn through(self) -> Hole {
        Hole {
            bead: self.bead,
            end: self.end.other(),
        }
    }
}

impl From<Hole> for i64 {
    fn from(hole: Hole) -> i64 {
        let number = i64::from(hole.bead.0);
        match hole.end {
            End::Back => -number,
            End::Front => number,
        }
    }
}

impl TryFrom<i64> for Hole {
    type Error = &'static str;

    fn try_from(number: i64) -> Result<Hole, Self::Error> {
        match u32::try_from(number.unsigned_abs()) {
            Ok(0) | Err(_) => Err("there is no such bead"),
            Ok(bead) if number < 0 => Ok(Hole::back(Bead(bead))),
            Ok(bead) => Ok(Hole::front(Bead(bead))),
        }
    }
}
