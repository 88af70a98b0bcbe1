//! The movements that make a round.

use crate::words::{Group, Word};

/// The group.
pub const GROUP: Group = Group {
    title: "The movements of a round",
    words: &[
        Word {
            word: "stitch",
            forms: &["stitches", "plain stitch", "plain stitches", "stitching"],
            means: "String one bead, lay it in the gap, and go through the next high bead.",
            drawing: &[
                "     ╔N╗", //
                "◀[A]     [A]◆",
                "     [B]",
            ],
            shows: "N is the new bead. It sits in the gap between the two A.",
            see: &["gap", "high bead", "increase", "decrease", "peyote stitch"],
            not: &[],
        },
        Word {
            word: "peyote stitch",
            forms: &["peyote"],
            means: "The way of sewing used here: every stitch strings a bead and goes through the next \
                    bead of the round before, so that the beads lie like bricks in a wall.",
            drawing: &[
                "[C]   [C]   [C]", //
                "   [B]   [B]",
                "[A]   [A]   [A]",
            ],
            shows: "Every bead sits in a gap of the round below it.",
            see: &["stitch", "round", "gap"],
            not: &["gourd stitch", "brick stitch"],
        },
        Word {
            word: "increase",
            forms: &["increasing"],
            means: "Two beads into one gap, side by side. At a corner they are the corner pair, and \
                    the panel grows there.",
            drawing: &[
                "    ╔N╗╔N╗", //
                "◀[A]      [A]◆",
            ],
            shows: "Both N go into the one gap between the two A.",
            see: &["corner pair", "gap", "corner", "decrease", "outward"],
            not: &["double bead", "widening", "two-drop"],
        },
        Word {
            word: "decrease",
            forms: &[
                "decreasing",
                "draw in",
                "drawn together",
                "draw the two together",
            ],
            means: "No bead: go straight into the next high bead and draw the two together. At a \
                    corner that makes the round shorter.",
            drawing: &[
                "     [P][P]", //
                "◀[A]--------[A]◆",
            ],
            shows: "No bead goes in. The thread draws the two A together, under the old corner pair.",
            see: &["corner", "gap", "inward", "increase"],
            not: &["skip stitch", "narrowing", "take-in"],
        },
        Word {
            word: "step-up",
            forms: &["step up", "steps up", "stepping up"],
            means: "The end of an outward round: through the bead where the round began, and on \
                    through the first bead that the round strung. Two beads in one movement. Missed, \
                    every later round spirals.",
            drawing: &[
                "◀[2]       [N]◆", //
                "    ◀[1]",
            ],
            shows: "N is the last new bead. Go through 1, of the round before, and up through 2, the \
                    first bead of this round.",
            see: &["step-down", "round", "outward"],
            not: &[
                "a step up",
                "the step up",
                "each step up",
                "every step up",
                "with step up",
                "stepup",
                "step over",
            ],
        },
        Word {
            word: "step-down",
            forms: &["step down", "steps down", "stepping down"],
            means: "The same at the end of an inward round: two beads, down to where the next round \
                    begins.",
            drawing: &[
                "    ◀[1]", //
                "◀[2]       [N]◆",
            ],
            shows: "N is the last new bead. Go through 1, of the round before, and down through 2, \
                    the first bead of this round.",
            see: &["step-up", "round", "inward"],
            not: &[
                "a step down",
                "the step down",
                "each step down",
                "every step down",
                "with step down",
                "stepdown",
            ],
        },
        Word {
            word: "close",
            forms: &["closed", "closing", "close the middle"],
            means: "Go through all beads of the last ring, once more through the first, and draw it \
                    shut.",
            drawing: &[
                "   [1]", //
                "  /   \\",
                "[2]---[3]",
            ],
            shows: "Through 1, 2, 3 and 1 again, then pull.",
            see: &["ring", "inward", "opening"],
            not: &["cinch", "drawstring"],
        },
    ],
};
