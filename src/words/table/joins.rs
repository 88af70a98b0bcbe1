//! Joining panels, opening and closing solids.

use crate::words::{Group, Word};

/// The group.
pub const GROUP: Group = Group {
    title: "Joins",
    words: &[
        Word {
            word: "join row",
            forms: &["row"],
            means: "Beads in the gaps of one edge, so that the bare edge of another panel locks between \
                    them like teeth. Just one of the two edges that meet carries it.",
            drawing: &[
                "   [J]   [J]", //
                "[A]   [A]   [A]",
            ],
            shows: "Three high beads A have two gaps, so the join row has two beads J.",
            see: &["zip", "edge", "join bead", "tip bead"],
            not: &["joining row", "connector row", "zip row", "seam row"],
        },
        Word {
            word: "join",
            forms: &["joined", "joining"],
            means: "Two panels sewn together along a side: a join row on one of them, zipped to the bare \
                    edge of the other.",
            drawing: &[
                " /\\ | /\\", //
                "/  \\|/  \\",
            ],
            shows: "Two panels, sewn together where they meet.",
            see: &["join row", "zip", "panel", "hinge"],
            not: &["seam"],
        },
        Word {
            word: "zip",
            forms: &["zipped", "zipping"],
            means: "Lock a bare edge and a join row: edge bead, join bead, edge bead, join bead, in \
                    turn. No new bead is strung. Draw the thread firm every few teeth.",
            drawing: &[
                "[E]   [E]   [E]", //
                "   [J]   [J]",
                "[A]   [A]   [A]",
            ],
            shows: "The bare edge E locks into the join row J, which sits on the edge A.",
            see: &["join row", "edge bead", "tooth", "pass through", "fold"],
            not: &["zipper", "zip up", "zip-up", "zipping up", "lace together"],
        },
        Word {
            word: "tooth",
            forms: &["teeth"],
            means: "One step of a zip: a join bead and the edge bead that locks beside it.",
            drawing: &[
                "◀[2]", //
                "    ◀[1]◆",
            ],
            shows: "Through 1, the join bead, and 2, the edge bead.",
            see: &["zip", "join bead", "edge bead"],
            not: &["cog"],
        },
        Word {
            word: "pass through",
            forms: &[
                "passes through",
                "passed through",
                "passing through",
                "pass-through",
            ],
            means: "Go through beads that are there already, adding none, to get where the next stitch \
                    starts. No thread should show.",
            drawing: &["◀[2]--◀[1]--[A]◆"],
            shows: "Through 1 and 2, in that order. No bead is added.",
            see: &["stitch", "weave", "full bead", "pass"],
            not: &["weave over", "jump the thread"],
        },
        Word {
            word: "fold",
            forms: &["folded", "folding"],
            means: "Turn the panel until its next side meets the one it is to be joined to. No thread \
                    moves.",
            drawing: &[
                "          /", //
                "         /  ←",
                "________/",
            ],
            shows: "One panel lies flat, the other is turned up along the join.",
            see: &["zip", "join", "hinge", "tie"],
            not: &["bend over", "crease"],
        },
        Word {
            word: "tie",
            forms: &["corner tie", "tied"],
            means: "Draw two corners together with the thread, so that the work folds into a body.",
            drawing: &["[A]→   ←[A]"],
            shows: "The two corners A are drawn together.",
            see: &["corner", "fold", "folded pair"],
            not: &["tack"],
        },
        Word {
            word: "opening",
            forms: &[],
            means: "A place that is left open: the middle of an inward panel, or a face of a solid that \
                    is still missing.",
            drawing: &[
                "    /\\", //
                "   /  \\",
                "  / /\\ \\",
                " / /__\\ \\",
                "/________\\",
            ],
            shows: "A triangle with its middle left open.",
            see: &["rim", "close", "set in", "fill", "firm"],
            not: &["hole in the middle", "window of the panel"],
        },
        Word {
            word: "rim",
            forms: &[],
            means: "The beads round an opening.",
            drawing: &[
                "[R]   [R]   [R]", //
                "   [A]   [A]",
            ],
            shows: "R are the beads of the rim.",
            see: &["opening", "firm", "fill"],
            not: &["lip"],
        },
        Word {
            word: "set in",
            forms: &["set-in", "sets in"],
            means: "Close an opening with a panel that is finished already: its three sides are zipped \
                    one after another.",
            drawing: &[
                "   /\\", //
                "  /##\\",
                " /####\\",
                "/______\\",
            ],
            shows: "# is the finished panel, in the opening.",
            see: &["opening", "zip", "fill"],
            not: &["inset", "patch in"],
        },
        Word {
            word: "fill",
            forms: &["filled", "filling"],
            means: "Close an opening from its rim, each new bead between two anchors, and then inward \
                    round by round.",
            drawing: &[
                "[J]     [J]     [J]", //
                "   ◀╔N╗     [N]",
            ],
            shows: "J is the rim. The new beads N sit between the anchors.",
            see: &["anchor", "rim", "inward", "set in"],
            not: &["fill-in"],
        },
        Word {
            word: "anchor",
            forms: &[],
            means: "A bead of the rim that holds the first round of a fill: a join bead, a tip bead or a \
                    corner.",
            drawing: &[
                "[1]     [2]     [3]", //
                "    [N]     [N]",
            ],
            shows: "1, 2 and 3 are anchors: each new bead N sits between two of them.",
            see: &["fill", "rim", "join bead"],
            not: &["holding bead"],
        },
        Word {
            word: "firm",
            forms: &["firmed", "firming", "firm the rim"],
            means: "Run the thread round a rim again, so that the opening keeps its shape.",
            drawing: &["==[R]==[R]==[R]=="],
            shows: "The thread lies double round the rim.",
            see: &["rim", "opening"],
            not: &["reinforce", "stabilise"],
        },
    ],
};
