//! Pieces that cannot be made of their panels.

use super::super::limit;
use super::{Quote, Sentence, names};

/// What is wrong with what is made.
#[derive(Clone, Debug, PartialEq)]
pub enum MakeFault {
    /// A panel that the pattern does not have.
    NoSuchPanel {
        /// The name.
        name: Quote,
        /// The name it is nearest to.
        nearest: Option<String>,
        /// The names there are.
        known: Vec<String>,
    },
    /// More faces than the piece has.
    TooManyFaces {
        /// Faces given.
        given: usize,
        /// Faces of the piece.
        faces: usize,
    },
    /// A face with the wrong number of sides.
    WrongSides {
        /// The panel.
        panel: Quote,
        /// Its sides.
        sides: u8,
        /// What is made.
        piece: &'static str,
        /// Sides of the faces of that.
        wanted: u8,
    },
    /// A last round that ends in a gap at its corners, so that no side has an
    /// edge.
    NoEdge {
        /// The panel.
        panel: Quote,
        /// Its last round.
        round: u32,
    },
    /// A strip in a piece of several panels.
    StripAlone(Quote),
    /// A panel of gap words of its own is to be joined.
    OwnWords(Quote),
    /// A panel that is no more than a ring is to be joined.
    OneRound(Quote),
    /// Tip beads on a panel whose corners have no gap for them.
    NoTips {
        /// The panel.
        panel: Quote,
        /// Its last round, with one bead at each corner.
        round: u32,
    },
    /// An opening filled by a panel whose sides share corner beads.
    NoFill {
        /// The panel.
        panel: Quote,
        /// Its last round, with one bead at each corner.
        round: u32,
    },
    /// Sides of one piece that differ.
    Unequal {
        /// The panel.
        panel: Quote,
        /// High beads along its side.
        beads: u32,
        /// The panel to be joined to it.
        other: Quote,
        /// High beads along its side.
        other_beads: u32,
    },
    /// An opening filled by a panel that is worked outward.
    NotInward(Quote),
    /// An opening closed with no panel named.
    ClosedWithNothing,
    /// More beads than a piece may have.
    TooBig(u64),
}

impl MakeFault {
    pub(super) fn sentence(&self) -> Sentence {
        match self {
            MakeFault::StripAlone(panel) => Sentence::new(
                format!("the panel {panel} is a strip, and strips cannot be joined yet"),
                "make the strip by itself, with \"panel\", or take another panel",
            ),
            MakeFault::NoSuchPanel {
                name,
                nearest,
                known,
            } => Sentence::new(
                format!("there is no panel {name}"),
                match nearest {
                    Some(nearest) => format!("write '{nearest}', or add the panel to \"panels\""),
                    None => format!("name one of {}", names(known, "and")),
                },
            ),
            MakeFault::TooManyFaces { given, faces } => Sentence::new(
                format!("{given} faces for a piece of {faces}"),
                format!("list at most {faces}; a shorter list is taken round again"),
            ),
            MakeFault::WrongSides {
                panel,
                sides,
                piece,
                wanted,
            } => Sentence::new(
                format!("the panel {panel} has {sides} sides, a face of the {piece} has {wanted}"),
                format!("take a panel with \"sides\": {wanted}"),
            ),
            MakeFault::NoEdge { panel, round } => Sentence::new(
                format!(
                    "the panel {panel} cannot be joined: its last round, {round}, has no bead at its corners"
                ),
                "end the panel on a round whose corners take 1 or 2 beads: change \"rounds\" or \"corners\"",
            ),
            MakeFault::OwnWords(panel) => Sentence::new(
                format!(
                    "the panel {panel} cannot be joined: gap words of its own do not say where its corners are"
                ),
                "give it a corner law: \"corners\" in place of \"ring\" and \"words\"",
            ),
            MakeFault::OneRound(panel) => Sentence::new(
                format!("the panel {panel} cannot be joined: its one round has no edge"),
                "give it at least 2 \"rounds\"",
            ),
            MakeFault::NoTips { panel, round } => Sentence::new(
                format!(
                    "tip beads lie inside a corner pair, and the last round of the panel {panel}, {round}, has 1 bead at its corners"
                ),
                "take \"tips\" out, or end the panel on a round whose corners take 2 beads",
            ),
            MakeFault::NoFill { panel, round } => Sentence::new(
                format!(
                    "an opening is filled with corner pairs, and the last round of the panel {panel}, {round}, has 1 bead at its corners"
                ),
                "end the panel on a round whose corners take 2 beads: change \"rounds\" or \"corners\"",
            ),
            MakeFault::Unequal {
                panel,
                beads,
                other,
                other_beads,
            } => Sentence::new(
                format!(
                    "a side of {panel} has {beads} high beads and one of {other} has {other_beads}, so they cannot be joined"
                ),
                "give both panels the same \"rounds\"",
            ),
            MakeFault::NotInward(panel) => Sentence::new(
                format!("an opening is filled inward, and the panel {panel} is worked outward"),
                format!("write \"way\": \"inward\" in the panel {panel}, or name another panel"),
            ),
            MakeFault::ClosedWithNothing => Sentence::new(
                "nothing says which panel closes the opening",
                "add \"with\" and the name of a panel",
            ),
            MakeFault::TooBig(beads) => Sentence::new(
                format!("about {beads} beads; {} is the most", limit::PIECE_BEADS),
                "take fewer rounds or fewer panels",
            ),
        }
    }
}
