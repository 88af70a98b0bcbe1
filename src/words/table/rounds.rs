//! Round work: where a bead can lie.

use crate::words::{Group, Word};

/// The group.
pub const GROUP: Group = Group {
    title: "Round work",
    words: &[
        Word {
            word: "round",
            forms: &[],
            means: "One trip of the needle round the work. Round 1 is the ring in the middle; each \
                    later round lies around the one before it.",
            drawing: &[
                "[3]   [3]   [3]", //
                "   [2]   [2]",
                "      [1]",
            ],
            shows: "The number on a bead is its round. Round 1 is the middle.",
            see: &["ring", "outward", "inward", "step-up", "side", "gap"],
            not: &[
                "circuit",
                "course",
                "next row",
                "last row",
                "each row",
                "every row",
            ],
        },
        Word {
            word: "ring",
            forms: &["close the ring"],
            means: "The first beads of a panel, picked up one after another and closed to a circle. \
                    From there the work goes on, round by round.",
            drawing: &[
                "   [1]", //
                "  /   \\",
                "[2]---[3]",
            ],
            shows: "Three beads in a circle. The thread goes on through bead 1 again.",
            see: &["round", "outward", "free start", "ring of tetrahedra"],
            not: &["starting circle", "foundation circle"],
        },
        Word {
            word: "gap",
            forms: &[],
            means: "The room between two neighbouring beads that stick out. A new bead sits in a gap.",
            drawing: &[
                "[A]   ^   [A]   ^   [A]", //
                "     [B]       [B]",
            ],
            shows: "A are the high beads, B the round before. ^ points to where a gap is.",
            see: &["high bead", "stitch", "increase", "decrease", "corner"],
            not: &["notch", "valley", "ditch"],
        },
        Word {
            word: "high bead",
            forms: &[],
            means: "A bead that sticks out at the edge, and that the needle can go through next. The \
                    beads a little lower between them belong to the round before. When you count an \
                    edge, count the high beads only.",
            drawing: &[
                "[1]     [2]     [3]", //
                "    [B]     [B]",
            ],
            shows: "1, 2 and 3 are high beads. B lies lower, and is not counted.",
            see: &["gap", "edge", "count"],
            not: &["up bead", "up-bead", "peak bead", "raised bead"],
        },
        Word {
            word: "outward",
            forms: &["outwards"],
            means: "From the ring in the middle to the edge. The rounds grow: the corners take increases.",
            drawing: &[
                "[3]   [3]   [3]", //
                "   [2]   [2]",
                "      [1]",
            ],
            shows: "1 is worked first, then 2, then 3. The newest round is on top.",
            see: &["inward", "increase", "step-up", "ring"],
            not: &["centre-out"],
        },
        Word {
            word: "inward",
            forms: &["inwards"],
            means: "From the outermost round to the middle. The rounds shrink: the corners are drawn \
                    together by decreases. Rounds keep their numbers, so the last one is round 1.",
            drawing: &[
                "[3]   [3]   [3]", //
                "   [2]   [2]",
                "      [1]",
            ],
            shows: "3 is worked first, then 2, then 1. The newest round is at the bottom.",
            see: &["outward", "decrease", "step-down", "free start", "close"],
            not: &["centre-in"],
        },
        Word {
            word: "free start",
            forms: &["string of two rounds"],
            means: "How inward work begins when there is no rim to work on: the beads of the two \
                    outermost rounds are strung together, in turn, and closed to a ring.",
            drawing: &[
                "-[A][B][A][B][A]-", //
                "",
                "[A]   [A]   [A]",
                "   [B]   [B]",
            ],
            shows: "Strung, the beads lie in one line. In the ring, A moves out and B moves in.",
            see: &["ring", "inward", "round", "step-down"],
            not: &["ladder start", "tubular start"],
        },
        Word {
            word: "side",
            forms: &[],
            means: "One of the straight parts of a round, from corner to corner. Sides are numbered in \
                    the order in which they are worked.",
            drawing: &[
                "   /\\", //
                "3 /  \\ 2",
                " /____\\",
                "   1",
            ],
            shows: "A triangle has three sides.",
            see: &["corner", "edge", "panel", "round"],
            not: &["leg of the triangle"],
        },
        Word {
            word: "corner",
            forms: &[],
            means: "Where two sides meet. Working outward it takes an increase; working inward no bead \
                    goes in, and the two beads beside it are drawn together.",
            drawing: &[
                "   [P][P]", //
                "[A]      [A]",
            ],
            shows: "P and P are a corner pair: each belongs to its own side.",
            see: &["corner pair", "increase", "decrease", "side"],
            not: &["vertex bead"],
        },
        Word {
            word: "edge",
            forms: &[],
            means: "The outermost beads of a finished side: its high beads, ready to be joined to \
                    another panel.",
            drawing: &[
                "[1]   [2]   [3]", //
                "   [B]   [B]",
            ],
            shows: "An edge of three high beads.",
            see: &["high bead", "side", "join row", "zip", "edge bead"],
            not: &["selvage", "selvedge"],
        },
    ],
};
