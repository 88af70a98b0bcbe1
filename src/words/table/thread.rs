//! Thread, needle, and what a hole takes.

use crate::words::{Group, Word};

/// The group.
pub const GROUP: Group = Group {
    title: "Thread and needle",
    words: &[
        Word {
            word: "needle",
            forms: &[],
            means: "The place from which the next movement starts: the needle comes out of a bead. \
                    Needle sizes are thinner the larger the number. Its point is sharp.",
            drawing: &["--[A]--[B]◆"],
            shows: "◆: here the needle comes out, of bead B.",
            see: &["thread", "pass through", "full bead"],
            not: &[],
        },
        Word {
            word: "thread",
            forms: &["new thread"],
            means: "What holds the beads. A length is cut; when it ends it is woven in, and a new one is \
                    taken up.",
            drawing: &["----[A]--[A]--[A]----"],
            shows: "Three beads on a thread.",
            see: &["tail", "weave", "needle", "pass"],
            not: &["yarn", "cotton"],
        },
        Word {
            word: "tail",
            forms: &[],
            means: "The end of the thread that is left hanging. It is woven in when the work is done.",
            drawing: &["[A]--[A]----------"],
            shows: "The free end behind the first bead is the tail.",
            see: &["thread", "weave"],
            not: &["loose end"],
        },
        Word {
            word: "weave",
            forms: &["weave in", "woven", "woven in", "weaves"],
            means: "Run the thread through several beads, turning once, so that it holds without a knot. \
                    Then cut it close to the bead.",
            drawing: &[
                "◀[2]--[1]--[A]--", //
                "  \\",
                "   [3]--[4]▶",
            ],
            shows: "Through 1 and 2, round the corner, and back through 3 and 4.",
            see: &["tail", "thread", "pass through"],
            not: &["darn in", "sew in the end"],
        },
        Word {
            word: "pass",
            forms: &["passes", "passed"],
            means: "One trip of the thread through a bead. Each pass takes room in the hole.",
            drawing: &["==[A]=="],
            shows: "Two passes through one bead.",
            see: &["full bead", "pass through", "thread"],
            not: &[],
        },
        Word {
            word: "full bead",
            forms: &["full hole", "fullest bead", "fullest hole"],
            means: "A bead with so much thread in its hole that the needle goes through tightly, or not \
                    at all. Never force the needle: the bead can break.",
            drawing: &["==#A#=="],
            shows: "A is full: take a finer needle, or the bead next door.",
            see: &["pass", "tight", "needle", "bead"],
            not: &["clogged bead", "blocked bead"],
        },
        Word {
            word: "tight",
            forms: &["tightly", "comfortable", "comfortably", "blocked"],
            means: "How the needle goes through a bead that holds thread already. Comfortable: with room \
                    to spare. Tight: only with a pull. Blocked: not at all, and it must not be forced.",
            drawing: &["--[A]---=[B]=---#C#--"],
            shows: "A is comfortable, B is tight, C is blocked.",
            see: &["full bead", "pass", "needle"],
            not: &["snug", "jammed"],
        },
    ],
};
