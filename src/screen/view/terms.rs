//! The words of the trade, explained; advice and cautions.

use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::sequence::Sequence;

/// A word and what it means.
pub struct Term {
    /// The word.
    pub word: &'static str,
    /// What it means, in plain words.
    pub means: &'static str,
}

/// The words, in the order in which a maker meets them.
pub const TERMS: &[Term] = &[
    Term {
        word: "round",
        means: "one trip of the needle round the work.",
    },
    Term {
        word: "gap",
        means: "the room between two neighbouring beads that stick out. A new bead sits in a gap.",
    },
    Term {
        word: "high bead",
        means: "a bead that sticks out at the edge and can be gone through next. The beads a little lower between them belong to the round before.",
    },
    Term {
        word: "stitch",
        means: "string one bead, lay it in the gap, and go through the next high bead.",
    },
    Term {
        word: "increase",
        means: "two beads into one gap, side by side. At a corner they are the corner pair, and the panel grows there.",
    },
    Term {
        word: "decrease",
        means: "no bead: go straight into the next high bead and draw the two together. At a corner that makes the round shorter.",
    },
    Term {
        word: "step up",
        means: "at the end of an outward round: through the bead where the round began and on through the first bead that it strung, two beads in one movement. Missed, every later round spirals.",
    },
    Term {
        word: "step down",
        means: "the same at the end of an inward round: two beads, down to where the next round begins.",
    },
    Term {
        word: "join row",
        means: "beads in the gaps of one edge, so that the bare edge of another panel locks between them like teeth.",
    },
    Term {
        word: "tip bead",
        means: "a bead in the corner gap at the end of a join row.",
    },
    Term {
        word: "zip",
        means: "lock a bare edge and a join row: join bead, edge bead, join bead, edge bead, in turn. Draw the thread firm every few teeth.",
    },
    Term {
        word: "pass through",
        means: "go through beads that are there already, adding none, to get where the next stitch starts. No thread should show.",
    },
    Term {
        word: "fold",
        means: "turn the panel until its next side meets the one it is to be joined to. No thread moves.",
    },
    Term {
        word: "tie",
        means: "draw two corners together with the thread, so that the work folds into a body.",
    },
    Term {
        word: "fill",
        means: "close an opening from its rim, each new bead between two anchors, and then inward round by round.",
    },
    Term {
        word: "firm",
        means: "run the thread round a rim again, so that the opening keeps its shape.",
    },
    Term {
        word: "close",
        means: "go through all beads of the last ring, once more through the first, and draw it shut.",
    },
];

fn term(word: &str) -> Option<&'static Term> {
    TERMS.iter().find(|t| t.word == word)
}

/// The words that explain a movement.
pub fn for_movement(seq: &Sequence, m: &Movement) -> Vec<&'static Term> {
    let words: &[&str] = match m.kind {
        Kind::Ring => &["round"],
        Kind::Stitch | Kind::Increase if seq.is_tip(m) => &["tip bead", "join row"],
        Kind::Stitch => &["stitch", "gap", "high bead"],
        Kind::Increase => &["increase"],
        Kind::Decrease => &["decrease"],
        Kind::StepUp => &["step up"],
        Kind::StepDown => &["step down"],
        Kind::PassThrough => &["pass through"],
        Kind::Zip => &["zip", "join row"],
        Kind::Fold if m.passes.is_empty() => &["fold"],
        Kind::Fold => &["tie"],
        Kind::Close => &["close"],
        Kind::Firm => &["firm"],
        Kind::StartThread | Kind::EndThread => &["pass through"],
        Kind::Count => &["high bead"],
    };
    words.iter().filter_map(|w| term(w)).collect()
}

/// How the picture lies.
pub const PICTURE: &str = "The picture shows the work from outside, the outer edge up, the side that is worked in the \
     middle. Working outward the newest round is on top, working inward it is at the bottom. The arrows \
     in the line above it show which way the needle goes.";

/// What helps when something is wrong.
pub const ADVICE: &[&str] = &[
    "Look before the needle goes through; leave the thread loose until the look is right, then pull.",
    "One bead too many: look at the corners first, then for two beads in one gap.",
    "One too few: look for a gap that was passed over.",
    "Nearly twice as many as there should be: the high and the low beads of the edge were both counted.",
    "The needle sticks in a full bead: do not force it. Take a finer needle, or go through the bead next door.",
    "Going back, take the needle off the thread and pull the thread out of the bead; do not sew backwards.",
];

/// What can hurt.
pub const CAUTIONS: &[&str] = &[
    "Needles and broken glass are sharp. Wear eye protection when you break out a bead.",
    "Keep beads and needles away from small children and pets.",
    "Rest your eyes and hands: look up often, stop when something aches.",
    "Old or painted beads may contain lead: keep them out of mouths, wash your hands.",
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Closing;
    use crate::screen::proof;

    #[test]
    fn every_movement_is_explained() {
        for seq in [
            proof::folded_pair(4, 1),
            proof::tetrahedron(4, Closing::Open, 0),
            proof::inward(3, 4, 0),
        ] {
            for m in seq.iter() {
                assert!(!for_movement(&seq, &m).is_empty(), "{:?}", m.kind);
            }
        }
    }
}
