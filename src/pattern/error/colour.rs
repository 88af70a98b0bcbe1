//! Colour words that do not fit, and rounds without colour.

use super::super::limit;
use super::{Quote, Sentence, count, names};

/// What is wrong with the colours of a panel.
#[derive(Clone, Debug, PartialEq)]
pub enum ColourFault {
    /// The rounds of a line do not read.
    Rounds(BadSelector),
    /// A round that the panel does not have.
    NoSuchRound {
        /// The round asked for.
        round: u32,
        /// Rounds of the panel.
        rounds: u32,
    },
    /// A colour word that does not read.
    Word {
        /// The word.
        word: Quote,
        /// What is wrong with it.
        bad: BadWord,
    },
    /// More letters in all colour words together than are read.
    TooManyLetters,
    /// A letter that no bead has.
    NoBead {
        /// The letter.
        letter: char,
        /// The word it stands in.
        word: Quote,
        /// The letter that was most likely meant.
        nearest: Option<char>,
        /// The letters that beads have.
        known: Vec<String>,
    },
    /// Neither one word nor one for each side.
    SideWords {
        /// Words given.
        given: usize,
        /// Sides of the panel.
        sides: u8,
    },
    /// A word that is too short or too long for its side.
    Length {
        /// The word.
        word: Quote,
        /// Letters that it gives of its own accord.
        given: usize,
        /// Whether a part of it repeats.
        stretches: bool,
        /// Whether it gives half a side.
        mirror: bool,
        /// What it colours.
        span: Span,
        /// Beads there.
        beads: u32,
    },
    /// Rounds that no line colours, from and to.
    NoColour(u32, u32),
    /// A tip that is not one letter.
    Tip(Quote),
}

/// What a colour word colours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Span {
    /// Every side of a round.
    EachSide(u32),
    /// One side (from 1) of a round.
    OneSide(u32, u32),
    /// A join row.
    Row,
}

/// Why the rounds of a line do not read.
#[derive(Clone, Debug, PartialEq)]
pub enum BadSelector {
    /// No colon that parts rounds from colours.
    NoColon,
    /// More characters than are read.
    TooLong,
    /// Nothing before the colon.
    Empty,
    /// Something that is no round.
    NotARound(Quote),
    /// A range that runs backwards.
    Backward(u32, u32),
    /// 'by' without a range before it and a number after it.
    By,
}

/// Why a colour word does not read.
#[derive(Clone, Debug, PartialEq)]
pub enum BadWord {
    /// Nothing there.
    Empty,
    /// More letters than a word may give.
    TooLong,
    /// A sign that means nothing.
    Sign(Quote),
    /// Brackets that do not match, or within each other.
    Brackets,
    /// A second `*`.
    SecondStar,
    /// A `*` with nothing before it, or within brackets.
    Star,
    /// A number with nothing before it, or a nought.
    Number,
    /// A `|` before the end.
    Mirror,
}

impl ColourFault {
    pub(super) fn sentence(&self) -> Sentence {
        match self {
            ColourFault::Rounds(bad) => bad.sentence(),
            ColourFault::NoSuchRound { round, rounds } => Sentence::new(
                format!("there is no round {round}: the panel has rounds 1 to {rounds}"),
                "name a round that is there, or write all",
            ),
            ColourFault::Word { word, bad } => {
                let (what, mend) = bad.told();
                Sentence::new(format!("the word {word} {what}"), mend)
            }
            ColourFault::NoBead {
                letter,
                word,
                nearest,
                known,
            } => Sentence::new(
                format!("no bead has the letter '{letter}' of the word {word}"),
                match nearest {
                    Some(nearest) => format!("write '{nearest}', or add a bead \"{letter}\""),
                    None => format!("add a bead \"{letter}\", or use {}", names(known, "or")),
                },
            ),
            ColourFault::TooManyLetters => Sentence::new(
                format!(
                    "the colour words up to here give more than {} letters",
                    limit::PATTERN_LETTERS
                ),
                "take out lines, or put * after letters that may repeat",
            ),
            ColourFault::SideWords { given, sides } => Sentence::new(
                format!("{given} words for {sides} sides"),
                format!("give one word for every side, or {sides} parted by /"),
            ),
            ColourFault::Length {
                word,
                given,
                stretches,
                mirror,
                span,
                beads,
            } => length(word, *given, *stretches, *mirror, *span, *beads),
            ColourFault::NoColour(from, to) => Sentence::new(
                if from == to {
                    format!("round {from} has no colour")
                } else {
                    format!("rounds {from} to {to} have no colour")
                },
                "begin the list with a line for all rounds, such as \"all: S*\"",
            ),
            ColourFault::Tip(found) => Sentence::new(
                format!("{found} is not the letter of one bead"),
                "write a single letter, such as \"A\"",
            ),
        }
    }
}

fn length(
    word: &Quote,
    given: usize,
    stretches: bool,
    mirror: bool,
    span: Span,
    beads: u32,
) -> Sentence {
    let half = beads.div_ceil(2);
    let wanted = if mirror { half } else { beads };
    let at_least = if stretches { "at least " } else { "" };
    let halves = if mirror {
        format!(", so half a side is {half}")
    } else {
        String::new()
    };
    let says = format!(
        "the word {word} gives {at_least}{}, {}{halves}",
        count(given as u64, "bead"),
        span.has(beads)
    );
    let mend = if stretches {
        format!(
            "give at most {} besides the one with *",
            count(u64::from(wanted), "letter")
        )
    } else {
        let example = if mirror { "A S* |" } else { "A S* A" };
        format!(
            "give {}, or put * after the letter that may repeat, such as '{example}'",
            count(u64::from(wanted), "letter")
        )
    };
    Sentence::new(says, mend)
}

impl Span {
    fn has(self, beads: u32) -> String {
        match self {
            Span::EachSide(round) => format!("round {round} has {beads} on a side"),
            Span::OneSide(round, side) => format!("round {round} has {beads} on side {side}"),
            Span::Row => format!("a join row has {beads}"),
        }
    }
}

impl BadSelector {
    fn sentence(&self) -> Sentence {
        match self {
            BadSelector::NoColon => Sentence::new(
                "no colon parts the rounds from their colours",
                "write it like \"1-8: A S* A\" or \"all: S*\"",
            ),
            BadSelector::TooLong => Sentence::new(
                format!("this line has more than {} characters", limit::LINE_CHARS),
                "shorten it: write S20 for twenty S, S* for as many as it takes",
            ),
            BadSelector::Empty => Sentence::new(
                "no rounds stand before the colon",
                "write rounds there, such as all, 3 or 1-8",
            ),
            BadSelector::NotARound(found) => Sentence::new(
                format!("{found} is not a round"),
                "write rounds as 3, 1-8, 1-9 by 2, or all",
            ),
            BadSelector::Backward(from, to) => Sentence::new(
                format!("rounds {from} to {to} run backwards"),
                format!("write {to}-{from}"),
            ),
            BadSelector::By => Sentence::new(
                "'by' stands between a range and a number from 1",
                "write it like 1-9 by 2",
            ),
        }
    }
}

impl BadWord {
    fn told(&self) -> (String, String) {
        let (what, mend) = match self {
            BadWord::Empty => ("is empty", "write at least one letter, such as S*"),
            BadWord::TooLong => {
                return (
                    format!("gives more than {} letters", limit::WORD_LETTERS),
                    "put * after the letter that may repeat".to_string(),
                );
            }
            BadWord::Sign(sign) => {
                return (
                    format!("has {sign}, which means nothing there"),
                    "write letters of beads, numbers, ( ), * and at the end |".to_string(),
                );
            }
            BadWord::Brackets => (
                "has brackets that do not match",
                "close each ( with a ), with letters but no other brackets between",
            ),
            BadWord::SecondStar => (
                "has more than one *",
                "let only one letter or group repeat as needed",
            ),
            BadWord::Star => (
                "has a * where nothing can repeat",
                "put * after a letter or after a closing bracket",
            ),
            BadWord::Number => (
                "has a number with no letter to repeat",
                "put the number, from 1, after its letter or bracket, such as S3",
            ),
            BadWord::Mirror => (
                "has a | before its end",
                "put one | at the end of the first half",
            ),
        };
        (what.to_string(), mend.to_string())
    }
}
