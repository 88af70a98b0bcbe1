//! A patch of beadwork, ready to be drawn: bricks with their places.

use super::strip::Half;
use crate::beadwork::Bead;

/// How far a patch has to reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reach {
    /// To each side of the needle, in half bead lengths.
    pub across: Half,
    /// Rounds, from the one that is worked on.
    pub rounds: i32,
}

/// One bead of a patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PatchBead {
    /// The bead.
    pub bead: Bead,
    /// Where its middle lies along the round, in the needle's direction.
    pub x: Half,
    /// How far out it lies, in half bead diameters: its lower edge. It is two
    /// high.
    pub level: i32,
    /// Whether its front end lies towards larger `x`.
    pub forward: bool,
}

/// Which part of a patch must be seen when not all of it can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// The upper part.
    Top,
    /// The lower part.
    Bottom,
    /// This level in the middle.
    Middle(i32),
}

/// Bricks near the needle, seen from outside with the outer edge up, and the
/// needle going towards larger `x`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Patch {
    /// The bricks. Where two lie over one another the earlier is in front.
    pub bricks: Vec<PatchBead>,
    /// Where the needle is at work.
    pub focus: Half,
    /// The ends of the side that is worked, as far as they are known.
    pub side: Option<(Half, Half)>,
    /// What to hold in view.
    pub hold: Hold,
    /// What the ruler calls the stretch, and what lies before and behind it.
    pub names: [String; 3],
}

impl Patch {
    /// The lowest and the highest level, both ends included.
    pub fn levels(&self) -> (i32, i32) {
        let levels = self.bricks.iter().map(|b| b.level);
        let low = levels.clone().min().unwrap_or(0);
        (low, levels.max().unwrap_or(0) + 1)
    }
}
