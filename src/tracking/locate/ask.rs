//! The questions: each about one thing that can be seen or counted.

use super::seen::{HalfDone, Leaves};
use crate::beadwork::Sequence;

/// What is asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Ask {
    /// What is half done.
    Hand,
    /// What kind of bead the thread leaves.
    Leaves,
    /// The colour of the last bead strung.
    LastColour,
    /// The colour of the bead that the thread leaves.
    LeavesColour,
    /// Sides of the newest panel that are joined.
    Joined,
    /// Join rows on the newest panel that are whole.
    Rows,
    /// Pair, point or gap at the corners of the newest round.
    Corner,
    /// Sides of the newest round that are whole.
    SidesWhole,
    /// Panels that are whole.
    Faces,
    /// Teeth locked in the join in hand.
    Locked,
    /// Beads in the join row in hand.
    RowBeads,
    /// Beads of the newest round on the side in hand.
    Edge,
    /// Beads between the one that the thread leaves and the corner ahead.
    Ahead,
    /// Rounds of the panel in hand.
    Rounds,
    /// The round of the bead that the thread leaves.
    LeavesRound,
    /// Beads in the newest round.
    InRound,
}

/// The answers that a question takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choices {
    /// A number from 0 to this.
    Number(u32),
    /// One of these; each with its value.
    OneOf(Vec<(u32, String)>),
}

/// A question in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What it asks about.
    pub ask: Ask,
    /// The question, with its question mark.
    pub text: String,
    /// The answers it takes; 'can't tell' is always one more.
    pub choices: Choices,
}

impl Ask {
    /// All of them, the easiest to see first.
    pub const ALL: [Ask; 16] = [
        Ask::Hand,
        Ask::Leaves,
        Ask::LastColour,
        Ask::LeavesColour,
        Ask::Joined,
        Ask::Rows,
        Ask::Corner,
        Ask::SidesWhole,
        Ask::Faces,
        Ask::Locked,
        Ask::RowBeads,
        Ask::Edge,
        Ask::Ahead,
        Ask::Rounds,
        Ask::LeavesRound,
        Ask::InRound,
    ];

    /// Its place in [`Ask::ALL`].
    pub fn index(self) -> usize {
        self as usize
    }

    /// Its name in output.
    pub fn name(self) -> &'static str {
        match self {
            Ask::Hand => "in-hand",
            Ask::Leaves => "thread-leaves",
            Ask::LastColour => "last-colour",
            Ask::LeavesColour => "thread-colour",
            Ask::Joined => "sides-joined",
            Ask::Rows => "rows-whole",
            Ask::Corner => "corner",
            Ask::SidesWhole => "sides-whole",
            Ask::Faces => "panels-whole",
            Ask::Locked => "teeth-locked",
            Ask::RowBeads => "row-beads",
            Ask::Edge => "side-beads",
            Ask::Ahead => "beads-ahead",
            Ask::Rounds => "rounds",
            Ask::LeavesRound => "thread-round",
            Ask::InRound => "round-beads",
        }
    }

    /// Whether its answer is a number that is counted.
    pub fn is_counted(self) -> bool {
        !matches!(
            self,
            Ask::Hand | Ask::Leaves | Ask::LastColour | Ask::LeavesColour | Ask::Corner
        )
    }

    /// Whether it has one answer all through a round or a row.
    pub(super) fn is_coarse(self) -> bool {
        matches!(self, Ask::Faces | Ask::Rounds | Ask::Rows | Ask::Corner)
    }

    /// The question in words. `values` are the answers still thought of.
    pub(super) fn question(self, seq: &Sequence, values: &[u32]) -> Question {
        let most = values.last().copied().unwrap_or(0);
        Question {
            ask: self,
            text: self.text().into(),
            choices: match self.is_counted() {
                true => Choices::Number(most),
                false => Choices::OneOf(
                    values
                        .iter()
                        .map(|&v| (v, self.value_in_words(seq, v)))
                        .collect(),
                ),
            },
        }
    }

    /// The question.
    pub fn text(self) -> &'static str {
        match self {
            Ask::Hand => "What is half done?",
            Ask::Leaves => "What does the thread come out of?",
            Ask::LastColour => "Which colour is the last bead you strung?",
            Ask::LeavesColour => "Which colour is the bead that the thread comes out of?",
            Ask::Joined => {
                "How many sides of the newest panel are joined to others, whole sides only?"
            }
            Ask::Rows => "How many sides of the newest panel carry a whole join row?",
            Ask::Corner => {
                "In the newest round of the panel in hand, what stands at a corner that is worked?"
            }
            Ask::SidesWhole => {
                "In the newest round of the panel in hand, how many sides are whole? (0 if none is in hand)"
            }
            Ask::Faces => "How many panels have all their beads?",
            Ask::Locked => {
                "In the join in hand, how many join beads are locked? (0 if none is in hand)"
            }
            Ask::RowBeads => {
                "In the join row in hand, how many beads are there? (0 if none is in hand)"
            }
            Ask::Edge => {
                "On the side in hand, how many beads of the newest round are there? (0 if none is in hand)"
            }
            Ask::Ahead => {
                "From the bead that the thread comes out of, how many beads of its round or row lie \
                 ahead on its side, up to the corner? (0 if none, or no thread)"
            }
            Ask::Rounds => {
                "How many rounds has the panel in hand, the one in hand counted? (0 if none is in hand)"
            }
            Ask::LeavesRound => {
                "Counted from the middle, in which round is the bead that the thread comes out of? \
                 (0 if it is a join bead, or no thread)"
            }
            Ask::InRound => {
                "How many beads are in the newest round of the panel in hand, or on its string? \
                 (0 if none is in hand)"
            }
        }
    }

    /// What an answer looks like, in the signs of the picture; nothing for most.
    pub fn drawing(self, value: u32) -> &'static [&'static str] {
        match self {
            Ask::Hand => HalfDone::of(value).drawing(),
            _ => &[],
        }
    }

    /// An answer in words.
    pub fn value_in_words(self, seq: &Sequence, value: u32) -> String {
        let colour = |value: u32, none: &str| match value.checked_sub(1) {
            None => none.to_string(),
            Some(at) => {
                let beads = seq.layout().bead_kinds();
                let found = beads.get(at as usize);
                found.map_or(String::new(), |b| format!("{} ({})", b.name, b.letter))
            }
        };
        match self {
            Ask::Hand => HalfDone::of(value).say().into(),
            Ask::Leaves => Leaves::of(value).say().into(),
            Ask::LastColour => colour(value, "nothing is being strung"),
            Ask::LeavesColour => colour(value, "no thread comes out"),
            Ask::Corner => [
                "a gap: no bead",
                "a point: one bead",
                "a pair",
                "no panel in hand",
            ][value.min(3) as usize]
                .into(),
            _ => value.to_string(),
        }
    }
}
