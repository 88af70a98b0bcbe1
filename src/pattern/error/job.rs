//! Jobs that cannot be done in the order given.

use super::{Quote, Sentence, count, names};

/// What is wrong with a maker's own list of jobs. Sides count from 1.
#[derive(Clone, Debug, PartialEq)]
pub enum JobFault {
    /// A panel that no job before has made.
    NotMade {
        /// The name.
        name: Quote,
        /// The name it is nearest to.
        nearest: Option<String>,
        /// The names made so far.
        made: Vec<String>,
    },
    /// A name that a panel made before has.
    MadeTwice(Quote),
    /// A side that the panel does not have.
    NoSuchSide {
        /// The panel.
        panel: Quote,
        /// The side asked for.
        side: u32,
        /// Sides of the panel.
        sides: u8,
    },
    /// A second row on one side.
    RowTwice(Quote, u32),
    /// A side that is joined already.
    JoinedTwice(Quote, u32),
    /// A side zipped to itself.
    JoinedToItself(Quote, u32),
    /// A join with no row: neither side has one.
    NoRow(Quote, u32),
    /// A join with two rows: both sides have one.
    TwoRows(Quote, u32),
    /// The side to be zipped has the row, and the one to be zipped onto is bare.
    RowOnWrongSide(Quote, u32),
    /// A rim with more or fewer sides than the panel that fills it.
    RimSides {
        /// The panel.
        panel: Quote,
        /// Its sides.
        sides: u8,
        /// Sides of the rim.
        rim: usize,
    },
    /// A side that the rim has twice.
    RimTwice(Quote, u32),
    /// A rim that is listed the wrong way round.
    RimBackward,
    /// A rim that does not close.
    RimOpen {
        /// The side that ends elsewhere,
        from: (Quote, u32),
        /// than where this one begins.
        to: (Quote, u32),
    },
    /// A corner tied to itself.
    TiedToItself(Quote, u32),
}

impl JobFault {
    pub(super) fn sentence(&self) -> Sentence {
        match self {
            JobFault::NotMade {
                name,
                nearest,
                made,
            } => Sentence::new(
                format!("no job before this one makes a panel {name}"),
                match nearest {
                    Some(nearest) => format!("write '{nearest}'"),
                    None if made.is_empty() => "make the panel in an earlier job".to_string(),
                    None => format!(
                        "make it in an earlier job; so far there is {}",
                        names(made, "and")
                    ),
                },
            ),
            JobFault::MadeTwice(name) => Sentence::new(
                format!("a job before this one has made a panel {name}"),
                "give this one another name with \"as\"",
            ),
            JobFault::NoSuchSide { panel, side, sides } => Sentence::new(
                format!("{panel} has no side {side}: its sides are 1 to {sides}"),
                "name a side that it has",
            ),
            JobFault::RowTwice(panel, side) => Sentence::new(
                format!("side {side} of {panel} has a join row already"),
                "take the side out here",
            ),
            JobFault::JoinedTwice(panel, side) => Sentence::new(
                format!("side {side} of {panel} is joined already"),
                "name a side that is still open",
            ),
            JobFault::JoinedToItself(panel, side) => Sentence::new(
                format!("side {side} of {panel} cannot be joined to itself"),
                "name the side that it meets",
            ),
            JobFault::NoRow(panel, side) => Sentence::new(
                format!("side {side} of {panel} has no join row"),
                format!(
                    "work one in a job before: {{\"row\": \"{}\", \"sides\": [{side}]}}",
                    panel.bare()
                ),
            ),
            JobFault::TwoRows(panel, side) => Sentence::new(
                format!("both sides of this join have a row, side {side} of {panel} among them"),
                format!("leave out the row on side {side} of {panel}"),
            ),
            JobFault::RowOnWrongSide(panel, side) => Sentence::new(
                format!(
                    "side {side} of {panel} has the row, and the side it is zipped onto has none"
                ),
                "zip the other panel onto this one, or work the row on the other side",
            ),
            JobFault::RimSides { panel, sides, rim } => Sentence::new(
                format!(
                    "{panel} has {sides} sides, and the rim has {}",
                    count(*rim as u64, "side")
                ),
                format!("list {sides} sides"),
            ),
            JobFault::RimTwice(panel, side) => Sentence::new(
                format!("side {side} of {panel} is in this rim already"),
                "list each side of the rim once",
            ),
            JobFault::RimBackward => Sentence::new(
                "the rim is listed the wrong way round",
                "list its sides in the opposite order: each is met against its own direction",
            ),
            JobFault::RimOpen { from, to } => Sentence::new(
                format!(
                    "the rim does not close: side {} of {} does not meet side {} of {}",
                    from.1, from.0, to.1, to.0
                ),
                "zip the panels between them first, or list the sides in the order in which they meet",
            ),
            JobFault::TiedToItself(panel, side) => Sentence::new(
                format!("the corner at the end of side {side} of {panel} cannot be tied to itself"),
                "name the corner that it is drawn to",
            ),
        }
    }
}
