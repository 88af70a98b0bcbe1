//! A patch of beadwork, ready to be drawn: bricks and where they lie.

use super::strip::Half;
use crate::beadwork::Bead;

/// How far a patch extends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reach {
    /// To each side of the needle, in half bead lengths.
    pub across: Half,
    /// Rounds, from the one that is being worked.
    pub rounds: i32,
}

/// One bead of a patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PatchBead {
    pub bead: Bead,
    /// The position of its middle along the round, in the needle's direction.
    pub x: Half,
    /// How far out its lower edge lies, in half bead diameters. It is two high.
    pub level: i32,
    /// Whether its front end lies towards larger `x`.
    pub forward: bool,
}

/// Which part of a patch must be visible when it does not fit as a whole.
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
    /// The bricks. Where two overlap, the earlier one is in front.
    pub bricks: Vec<PatchBead>,
    /// Where the needle is at work.
    pub focus: Half,
    /// The ends of the side being worked, as far as they are known.
    pub side: Option<(Half, Half)>,
    /// What to keep in view.
    pub hold: Hold,
    /// The ruler's name for the stretch, and for what lies before and after it.
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
