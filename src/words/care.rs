//! Cautions, advice for when something is wrong, and how to read the picture,
//! in the same words wherever they are shown.

/// Cautions.
pub const CAUTIONS: &[&str] = &[
    "Needles and broken glass are sharp. Wear eye protection when you break out a bead.",
    "Keep beads and needles away from small children and pets.",
    "Rest your eyes and hands: look up often, stop when something aches.",
    "Old or painted beads may contain lead: keep them out of mouths, wash your hands.",
    "Never force a needle through a full bead: it can break.",
];

/// How to break out a bead.
pub const BREAK_OUT: &[&str] = &[
    "Wear eye protection, and hold the work in a bag or under a cloth: the glass splinters.",
    "Squeeze the ends of the bead with pliers, or its wall from within with an awl; never across the thread.",
    "Leave the thread as it is, take out every splinter, and pull gently until the gap closes.",
];

/// What helps when something is wrong.
pub const ADVICE: &[&str] = &[
    "Look before the needle goes through; leave the thread loose until the look is right, then pull.",
    "One bead too many: look at the corners first, if there are any, then for two beads in one gap.",
    "One too few: look for a gap that was skipped.",
    "Nearly twice as many as there should be: the high and the low beads of the edge were both counted.",
    "The needle sticks in a full bead: do not force it. Take a finer needle, or go through the bead next door.",
    "Going back, take the needle off the thread and pull the thread out of the bead; do not sew backwards.",
];

/// How to read the picture.
pub const PICTURE: &str = "The picture shows the work from outside, the outer edge up, the side that is worked in the \
     middle. Working outward the newest round is on top, working inward it is at the bottom. The arrows \
     in the line above it show which way the needle goes.";
