//! Beads, and the names that they have by their place.

use crate::words::{Group, Word};

/// The group.
pub const GROUP: Group = Group {
    title: "Beads",
    words: &[
        Word {
            word: "bead",
            forms: &[],
            means: "A small piece of glass with a hole along it. Lay it so that the hole runs along the \
                    thread. On the screen each colour of bead has its own letter.",
            drawing: &["---[A]---[B]---"],
            shows: "Two beads on a thread, seen from the side.",
            see: &["cylinder bead", "round bead", "high bead", "full bead"],
            not: &[],
        },
        Word {
            word: "cylinder bead",
            forms: &["cylinder"],
            means: "A bead with straight walls. Cylinder beads lock like bricks, so flat faces get sharp \
                    edges. The size, such as 11/0, is smaller the larger the number.",
            drawing: &["-[   ]-"],
            shows: "Straight walls.",
            see: &["bead", "round bead", "flat"],
            not: &["tube bead"],
        },
        Word {
            word: "round bead",
            forms: &["round 15/0", "round 11/0", "round 8/0"],
            means: "A bead with curved walls, like a ring cake. Faces made of round beads are softer.",
            drawing: &["-(   )-"],
            shows: "Curved walls.",
            see: &["bead", "cylinder bead"],
            not: &["rocaille"],
        },
        Word {
            word: "corner pair",
            forms: &[],
            means: "The two beads of an increase at a corner. Each belongs to its own side. The gap \
                    between them is the corner of the next round.",
            drawing: &[
                "   [P][P]", //
                "[A]      [A]",
            ],
            shows: "P and P, side by side over one gap.",
            see: &["increase", "corner", "gap", "corner bead"],
            not: &["corner twins"],
        },
        Word {
            word: "corner bead",
            forms: &[],
            means: "A single bead that stands at a corner, as in a hexagon. It counts as a high bead of \
                    both sides that meet there.",
            drawing: &[
                "     [P]", //
                "[A]       [A]",
            ],
            shows: "P alone at the corner.",
            see: &["corner", "corner pair"],
            not: &[],
        },
        Word {
            word: "edge bead",
            forms: &[],
            means: "A high bead of a finished side, seen as one of the beads that a zip goes through.",
            drawing: &[
                "[E]   [E]   [E]", //
                "   [B]   [B]",
            ],
            shows: "E are the edge beads.",
            see: &["edge", "zip", "join bead"],
            not: &["border bead"],
        },
        Word {
            word: "join bead",
            forms: &[],
            means: "A bead of a join row.",
            drawing: &[
                "   [J]   [J]", //
                "[A]   [A]   [A]",
            ],
            shows: "J are the join beads.",
            see: &["join row", "zip", "edge bead"],
            not: &["connector bead", "seam bead"],
        },
        Word {
            word: "tip bead",
            forms: &["tip"],
            means: "A bead in the corner gap at the end of a join row. It fills the point where several \
                    panels meet.",
            drawing: &[
                "[T]   [J]   [J]", //
                "   [A]   [A]   [A]",
            ],
            shows: "T is the tip bead.",
            see: &["join row", "corner", "join bead"],
            not: &["cap bead", "point bead"],
        },
    ],
};
