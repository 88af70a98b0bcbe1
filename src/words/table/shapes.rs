//! Panels, and what is made of them.

use crate::words::{Group, Word};

/// The group.
pub const GROUP: Group = Group {
    title: "Panels and solids",
    words: &[
        Word {
            word: "panel",
            forms: &[],
            means: "A flat face with three or more sides, worked round by round.",
            drawing: &[
                "   /\\", //
                "  /  \\",
                " /    \\",
                "/______\\",
            ],
            shows: "A panel with three sides.",
            see: &["side", "corner", "round", "face", "join"],
            not: &["tile of beads"],
        },
        Word {
            word: "face",
            forms: &["faces"],
            means: "A panel in its place on a solid.",
            drawing: &[
                "   /|\\", //
                "  / |2\\",
                " /1 |  \\",
                "/___|___\\",
            ],
            shows: "Faces 1 and 2 meet at the line in the middle.",
            see: &["panel", "solid", "opening", "whole face"],
            not: &["facet"],
        },
        Word {
            word: "corner law",
            forms: &[],
            means: "How many beads each corner takes, round after round: 2 is an increase, 1 a single \
                    bead, 0 none.",
            drawing: &[
                "   [P][P]", //
                "[A]      [A]",
            ],
            shows: "A corner that takes 2. A triangle takes 2 in every round.",
            see: &["corner", "corner pair", "gap word", "flat"],
            not: &["corner rule", "corner formula"],
        },
        Word {
            word: "gap word",
            forms: &[],
            means: "A round written down as numbers: how many beads go into each gap, in working order. 1 \
                    is a plain stitch, 2 an increase, 0 a decrease.",
            drawing: &[
                "   2     1     0", //
                "[A]   [A]   [A]   [A]",
            ],
            shows: "The number over a gap says how many beads it takes.",
            see: &["gap", "stitch", "increase", "decrease", "corner law"],
            not: &["gap code", "gap string"],
        },
        Word {
            word: "flat",
            forms: &["lies flat", "flatness"],
            means: "A panel lies flat when its corners add just as much as the way round it needs. Too \
                    few increases and it cups, too many and it ruffles.",
            drawing: &["____________"],
            shows: "A flat panel, seen from the side.",
            see: &["cups", "ruffles", "corner law"],
            not: &[],
        },
        Word {
            word: "cups",
            forms: &["cup", "cupped"],
            means: "A panel cups when it rises at its edge like a bowl: it has too few increases.",
            drawing: &[
                "\\          /", //
                " \\________/",
            ],
            shows: "A panel that cups, seen from the side.",
            see: &["flat", "ruffles", "increase"],
            not: &["bowls up", "domes"],
        },
        Word {
            word: "ruffles",
            forms: &["ruffle", "ruffled"],
            means: "A panel ruffles when its edge lies in waves: it has too many increases.",
            drawing: &["_/\\_/\\_/\\_/\\_"],
            shows: "A panel that ruffles, seen from the side.",
            see: &["flat", "cups", "increase"],
            not: &["frills", "ripples"],
        },
        Word {
            word: "solid",
            forms: &[],
            means: "A body made of panels that are joined on all sides, such as a tetrahedron.",
            drawing: &[
                "   /|\\", //
                "  / | \\",
                " /  |  \\",
                "/___|___\\",
            ],
            shows: "A tetrahedron: two of its four faces can be seen.",
            see: &[
                "tetrahedron",
                "octahedron",
                "icosahedron",
                "cube",
                "face",
                "whole solid",
            ],
            not: &["polyhedron", "3d shape"],
        },
        Word {
            word: "tetrahedron",
            forms: &["tetrahedra"],
            means: "A solid of four triangles, six joins.",
            drawing: &[
                "   /|\\", //
                "  / | \\",
                " /  |  \\",
                "/___|___\\",
            ],
            shows: "Two of its four faces can be seen.",
            see: &["solid", "folded pair", "ring of tetrahedra"],
            not: &["triangular pyramid"],
        },
        Word {
            word: "octahedron",
            forms: &["octahedra"],
            means: "A solid of eight triangles, twelve joins.",
            drawing: &[
                "  /|\\", //
                " / | \\", "/__|__\\", "\\  |  /", " \\_|_/",
            ],
            shows: "Four of its eight faces can be seen.",
            see: &["solid", "tetrahedron"],
            not: &["diamond shape"],
        },
        Word {
            word: "icosahedron",
            forms: &["icosahedra"],
            means: "A solid of twenty triangles, thirty joins. Five meet at each corner.",
            drawing: &[
                "  ___", //
                " /\\ /\\",
                "/__V__\\",
                "\\ / \\ /",
                " V___V",
            ],
            shows: "Some of its twenty faces.",
            see: &["solid", "octahedron"],
            not: &[],
        },
        Word {
            word: "cube",
            forms: &[],
            means: "A solid of six squares, twelve joins.",
            drawing: &[
                "  +---+", //
                " /   /|", "+---+ +", "|   |/", "+---+",
            ],
            shows: "Three of its six faces can be seen.",
            see: &["solid", "panel"],
            not: &[],
        },
        Word {
            word: "net",
            forms: &["six-panel net"],
            means: "Panels joined flat, before they are folded. Six triangles round a point make a \
                    hexagon.",
            drawing: &[
                "  ____", //
                " /\\  /\\",
                "/__\\/__\\",
                "\\  /\\  /",
                " \\/__\\/",
            ],
            shows: "Six triangles round one point.",
            see: &["fold", "folded pair", "panel"],
            not: &["unfolded plan"],
        },
        Word {
            word: "folded pair",
            forms: &[],
            means: "A six-panel net, folded along its middle and tied at a corner: two tetrahedra, each \
                    with one face still open, that share a hinge.",
            drawing: &[
                " /\\|/\\", //
                "/__|__\\",
            ],
            shows: "Two tetrahedra; the line between them is the hinge.",
            see: &["net", "hinge", "tie", "tetrahedron"],
            not: &["double tetrahedron"],
        },
        Word {
            word: "hinge",
            forms: &["hinged", "hinges"],
            means: "An edge that two solids share, and about which they turn.",
            drawing: &[
                " /\\|/\\", //
                "/  |  \\", "\\  |  /", " \\/|\\/",
            ],
            shows: "The line in the middle is the hinge.",
            see: &["folded pair", "ring of tetrahedra", "join"],
            not: &["joint"],
        },
        Word {
            word: "ring of tetrahedra",
            forms: &["ring of hinged tetrahedra", "hinged ring", "ring of eight"],
            means: "Tetrahedra hinged to one another in a circle. With eight or more regular ones it \
                    turns through itself without end.",
            drawing: &["<|><|><|><|>"],
            shows: "Four tetrahedra of a ring, side by side.",
            see: &["hinge", "tetrahedron", "ring", "cycle"],
            not: &["flexagon", "rotating ring"],
        },
        Word {
            word: "cycle",
            forms: &[],
            means: "What a ring of tetrahedra goes through when it is turned through its own middle: its \
                    faces come up in turn, and then it is as it was.",
            drawing: &[],
            shows: "",
            see: &["ring of tetrahedra", "hinge", "binds"],
            not: &["full rotation"],
        },
        Word {
            word: "binds",
            forms: &["bind"],
            means: "A ring of tetrahedra binds where it cannot be turned on: the inner ends of its \
                    hinges are at the middle. Soft beadwork takes up a little.",
            drawing: &[],
            shows: "",
            see: &["cycle", "hinge", "ring of tetrahedra"],
            not: &["jams"],
        },
    ],
};
