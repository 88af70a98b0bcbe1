//! Panels that cannot be worked.

use super::super::limit;
use super::{Quote, Sentence, count};
use crate::beadwork::corner_law::BadLaw;

/// What is wrong with a panel.
#[derive(Clone, Debug, PartialEq)]
pub enum PanelFault {
    /// A name that is empty, too long, or has something in it that cannot be
    /// seen.
    BadName(Quote),
    /// The corner law cannot be sewn.
    Law {
        /// Why.
        bad: BadLaw,
        /// Beads at each corner of the ring that it follows.
        ring: u8,
    },
    /// The usual law cannot follow the ring that the file asks for: sides of
    /// the panel, and the start that it has usually.
    Start(u8, &'static str),
    /// A corner law and words of its own; the field that is too many.
    TwoGrowths(&'static str),
    /// Words without a ring, or a ring without words; what is missing.
    HalfGrowth(&'static str),
    /// Not as many words as rounds after the ring.
    WordCount {
        /// Words given.
        words: usize,
        /// Rounds of the panel.
        rounds: u32,
    },
    /// A gap word that does not read.
    Gaps {
        /// The round it makes.
        round: u32,
        /// What is wrong with it.
        bad: BadGaps,
    },
    /// A gap word for more or fewer gaps than there are.
    GapCount {
        /// The round it makes.
        round: u32,
        /// Gaps of the word.
        gaps: u32,
        /// Beads, and so gaps, of the round before.
        before: u32,
    },
    /// A round without beads.
    NoBeads(u32),
    /// A round whose first gap takes no bead.
    FirstGap(u32),
    /// More beads than a piece may have, all panels up to this one together.
    TooBig(u64),
    /// An outward panel with an open middle.
    OpenOutward,
    /// A panel of one round, worked inward.
    InwardRing,
    /// A gap word that cannot be worked backwards; the round it makes.
    InwardGaps(u32),
    /// A field that another stitch has; whether the panel is a strip.
    OtherStitch(&'static str, bool),
    /// A strip of an odd number of beads.
    OddWidth(u32),
    /// So many rounds stay open that fewer than two are worked.
    TooOpen {
        /// Rounds that stay open.
        open: u32,
        /// Rounds of the panel.
        rounds: u32,
    },
}

/// Why a gap word does not read.
#[derive(Clone, Debug, PartialEq)]
pub enum BadGaps {
    /// Nothing there.
    Empty,
    /// More characters than are read.
    TooLong,
    /// A sign that means nothing in a gap word.
    Sign(Quote),
    /// A gap of more than two beads.
    Gap(Quote),
    /// A `*` without a number of times after it, or before anything to repeat.
    Times,
    /// Brackets that do not match.
    Brackets,
    /// Brackets deeper than they may be.
    Deep,
    /// More gaps than any round may have.
    Many,
}

impl PanelFault {
    pub(super) fn sentence(&self) -> Sentence {
        match self {
            PanelFault::BadName(name) => Sentence::new(
                format!(
                    "{name} cannot be a name: it is empty, too long, or has a sign that cannot be seen"
                ),
                "take 1 to 60 characters, all of which can be seen",
            ),
            PanelFault::Law { bad, ring } => law(bad, *ring),
            PanelFault::Start(sides, usual) => Sentence::new(
                format!("the usual corners of a panel of {sides} sides cannot follow this ring"),
                format!("write \"start\": \"{usual}\", or add \"corners\" that follow it"),
            ),
            PanelFault::TwoGrowths(field) => Sentence::new(
                format!("a panel with 'words' of its own cannot have '{field}'"),
                format!("take out \"{field}\", or take out \"words\" and \"ring\""),
            ),
            PanelFault::HalfGrowth(missing) => Sentence::new(
                format!("'ring' and 'words' go together, and '{missing}' is missing"),
                match *missing {
                    "ring" => "add \"ring\" with the beads of round 1",
                    _ => "add \"words\" with a gap word for round 2 and on, or take \"ring\" out",
                },
            ),
            PanelFault::WordCount { words, rounds } => Sentence::new(
                format!(
                    "{rounds} rounds need {} after the ring, found {words}",
                    count(u64::from(*rounds) - 1, "gap word")
                ),
                format!(
                    "give a word for each round from 2 on, or write \"rounds\": {}",
                    words + 1
                ),
            ),
            PanelFault::Gaps { round, bad } => {
                let (what, mend) = bad.told();
                Sentence::new(format!("the gap word of round {round} {what}"), mend)
            }
            PanelFault::GapCount {
                round,
                gaps,
                before,
            } => Sentence::new(
                format!(
                    "the gap word of round {round} is for {}, round {} has {}",
                    count(u64::from(*gaps), "gap"),
                    round - 1,
                    count(u64::from(*before), "bead")
                ),
                format!(
                    "give {}, one for each bead",
                    count(u64::from(*before), "number")
                ),
            ),
            PanelFault::NoBeads(round) => Sentence::new(
                format!("round {round} has no beads"),
                "put a bead into at least one gap, or end the panel a round earlier",
            ),
            PanelFault::FirstGap(round) => Sentence::new(
                format!(
                    "the first gap of round {round} takes no bead, so its step-up would pass more than two beads"
                ),
                "begin the word at a gap that takes a bead",
            ),
            PanelFault::TooBig(beads) => Sentence::new(
                format!(
                    "the panels up to this one take {beads} beads; {} is the most",
                    limit::PIECE_BEADS
                ),
                "take fewer rounds, or take out panels that nothing is made of",
            ),
            PanelFault::OpenOutward => Sentence::new(
                "a panel worked outward begins in the middle, which cannot stay open",
                "write \"way\": \"inward\", or take \"open\" out",
            ),
            PanelFault::InwardRing => Sentence::new(
                "inward work begins with two rounds, and this panel has 1",
                "give it at least 2 \"rounds\", or take \"way\" out",
            ),
            PanelFault::InwardGaps(round) => Sentence::new(
                format!(
                    "worked inward, a gap of round {round} would have to take more than two beads, or the whole of round {}",
                    round - 1
                ),
                "let no two gaps side by side go without a bead, or take \"way\" out",
            ),
            PanelFault::OtherStitch(field, true) => Sentence::new(
                format!("a strip has no '{field}'"),
                match *field {
                    "rounds" => "write \"rows\" instead".to_string(),
                    "sides" => "write \"width\", the beads that it is wide, instead".to_string(),
                    _ => format!("take \"{field}\" out"),
                },
            ),
            PanelFault::OtherStitch(field, false) => Sentence::new(
                format!("only a strip has '{field}'"),
                format!("write \"stitch\": \"strip\", or take \"{field}\" out"),
            ),
            PanelFault::OddWidth(width) => Sentence::new(
                format!(
                    "a strip {} wide needs a turn of its own at one edge, which is not made yet",
                    count(u64::from(*width), "bead")
                ),
                format!("make it {} or {} wide", (width - 1).max(2), width + 1),
            ),
            PanelFault::TooOpen { open, rounds } => Sentence::new(
                format!("{open} of {rounds} rounds stay open, and inward work needs at least two"),
                match rounds.saturating_sub(2) {
                    0 => "take \"open\" out, or give it more \"rounds\"".to_string(),
                    most => format!("leave at most {most} open"),
                },
            ),
        }
    }
}

fn law(bad: &BadLaw, ring: u8) -> Sentence {
    match *bad {
        BadLaw::Empty => Sentence::new("no corners are given", "write a list such as [2]"),
        BadLaw::NotACorner(at, found) => Sentence::new(
            format!("corner {at} of the law has {found} beads"),
            "a corner takes 0, 1 or 2",
        ),
        BadLaw::CannotFollow {
            at: 1,
            before,
            after,
        } if before == ring => Sentence::new(
            format!("the law begins with {after}, which cannot follow the {before} of the ring"),
            format!("{}; or change \"start\"", may_follow(before)),
        ),
        BadLaw::CannotFollow {
            at: 1,
            before,
            after,
        } => Sentence::new(
            format!(
                "the law ends with {before}; when it repeats, its first, {after}, cannot follow"
            ),
            match before {
                1 => "add 0 at the end",
                _ => "add 1 at the end",
            },
        ),
        BadLaw::CannotFollow { at, before, after } => Sentence::new(
            format!("corner {at} of the law has {after}, which cannot follow {before}"),
            may_follow(before),
        ),
    }
}

fn may_follow(before: u8) -> &'static str {
    match before {
        1 => "write 0 there: nothing else follows a corner of 1 bead",
        _ => "write 1 or 2 there: one of them follows a corner of 0 or 2 beads",
    }
}

impl BadGaps {
    fn told(&self) -> (String, String) {
        let (what, mend) = match self {
            BadGaps::Empty => ("is empty", "write a number for each gap, such as 2*3"),
            BadGaps::TooLong => (
                "is too long to read",
                "shorten it: write 1*6 for 1 1 1 1 1 1",
            ),
            BadGaps::Sign(sign) => {
                return (
                    format!("has {sign}, which means nothing there"),
                    "write the numbers 0, 1 and 2, brackets ( ) and *, such as (2 1)*6".to_string(),
                );
            }
            BadGaps::Gap(gap) => {
                return (
                    format!("puts {gap} beads into a gap"),
                    "a gap takes 0, 1 or 2; part the numbers by spaces".to_string(),
                );
            }
            BadGaps::Times => (
                "has a * without something to repeat or how often",
                "write 1*6 or (2 1)*6",
            ),
            BadGaps::Brackets => (
                "has brackets that do not match",
                "close each ( with a ), with something between",
            ),
            BadGaps::Deep => (
                "has brackets within brackets within brackets",
                "write it with fewer brackets",
            ),
            BadGaps::Many => (
                "is for more gaps than a piece may have beads",
                "look for a number of times that is too high",
            ),
        };
        (what.to_string(), mend.to_string())
    }
}
