//! The program's own words.

use crate::words::{Group, Word};

/// The group.
pub const GROUP: Group = Group {
    title: "The program's own words",
    words: &[
        Word {
            word: "count",
            forms: &["counted", "counting"],
            means: "Compare the beads in your hand with the number that must be there. Type the number \
                    that you counted, then Enter: you hear whether it is right, or what has most likely \
                    happened.",
            drawing: &[
                "[1]     [2]     [3]", //
                "    [B]     [B]",
            ],
            shows: "Count the high beads: 1, 2, 3. The B between them belong to the round before.",
            see: &["high bead", "round", "side", "step"],
            not: &["tally"],
        },
        Word {
            word: "step",
            forms: &[],
            means: "One movement of the needle, one press of a key.",
            drawing: &[],
            shows: "",
            see: &["job", "piece", "stitch"],
            not: &["keystroke of work"],
        },
        Word {
            word: "job",
            forms: &[],
            means: "One stage of a piece that has a name of its own: a panel, a join, a fill.",
            drawing: &[],
            shows: "",
            see: &["step", "piece", "panel"],
            not: &["work order"],
        },
        Word {
            word: "pattern",
            forms: &[],
            means: "A file that says which beads are taken, what the panels look like and what is made \
                    of them.",
            drawing: &[],
            shows: "",
            see: &["piece", "gap word"],
            not: &["bead chart", "word chart"],
        },
        Word {
            word: "piece",
            forms: &[],
            means: "One making of a pattern, with its own copy of it and its own progress.",
            drawing: &[],
            shows: "",
            see: &["pattern", "tray", "job"],
            not: &["work in progress", "wip"],
        },
        Word {
            word: "tray",
            forms: &[],
            means: "Where your pieces lie while you are not working on them.",
            drawing: &[],
            shows: "",
            see: &["piece", "pattern"],
            not: &["project list"],
        },
        Word {
            word: "whole face",
            forms: &[],
            means: "A panel as it lies on the mat, all its beads at once, from a few large ones to the \
                    whole of it. Any bead can be pointed at, gone to, and painted.",
            drawing: &[
                "[R] [R] [R]", //
                "  [N] [N]",
                "    [N]",
            ],
            shows: "A triangle of three rounds with its first side up; R is the last round there.",
            see: &["face", "panel", "brush", "round"],
            not: &["face map", "bird's eye"],
        },
        Word {
            word: "whole solid",
            forms: &[],
            means: "The whole piece in three dimensions, turned by keys, unfolded to its net, or taken \
                    through its cycle. What is worked is in front, and each face says how it stands: \
                    now, joined, made, or open.",
            drawing: &[
                "   /|\\", //
                "  / |2\\",
                " /3 |  \\",
                "/___|___\\",
            ],
            shows: "A tetrahedron as it is held; faces 2 and 3 are in sight.",
            see: &["solid", "face", "join", "net", "cycle"],
            not: &["3d view", "model view"],
        },
        Word {
            word: "brush",
            forms: &[],
            means: "What paints beads on the whole face. It holds one of the piece's colours and reaches \
                    one bead, or those that lie as it does on the other sides, or a whole round. Each \
                    time it is kept with the piece at once, and can be undone.",
            drawing: &[],
            shows: "",
            see: &["whole face", "piece", "pattern"],
            not: &["paint bucket", "crayon"],
        },
    ],
};
