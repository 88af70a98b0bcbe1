//! Fields missing, unknown, given twice, or holding the wrong kind of thing.

use super::{Quote, Sentence, names};

/// What does not have the shape of a pattern.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A field that the format does not have here.
    Unknown {
        /// Its name.
        name: Quote,
        /// The right name it is nearest to.
        nearest: Option<String>,
        /// The names that may stand here.
        known: Vec<String>,
    },
    /// A field that must be there.
    Missing {
        /// Its name.
        name: String,
        /// What it holds.
        expected: String,
    },
    /// One of several fields must be there, to say what the group is.
    MissingOneOf(Vec<String>),
    /// A name given twice in one group.
    Twice(Quote),
    /// The wrong kind of thing, or a number out of its range.
    Wrong {
        /// What may stand here.
        expected: String,
        /// What does.
        found: String,
    },
    /// None of the words or numbers that may stand here.
    NotOneOf {
        /// What may stand here.
        expected: String,
        /// What does.
        found: String,
        /// The nearest of what may.
        nearest: Option<String>,
    },
    /// A text that is empty or too long.
    Length {
        /// Its characters.
        found: usize,
        /// The most it may have.
        most: usize,
    },
    /// A list or group with too few or too many entries.
    Entries {
        /// Its entries.
        found: usize,
        /// The fewest it may have.
        fewest: usize,
        /// The most it may have, if that is limited.
        most: Option<usize>,
    },
}

impl Shape {
    pub(super) fn sentence(&self) -> Sentence {
        match self {
            Shape::Unknown {
                name,
                nearest,
                known,
            } => Sentence::new(
                format!("there is no field {name} here"),
                match nearest {
                    Some(nearest) => format!("write '{nearest}'"),
                    None => format!("take it out; here may stand {}", names(known, "and")),
                },
            ),
            Shape::Missing { name, expected } => Sentence::new(
                format!("the field '{name}' is missing"),
                format!("add \"{name}\" with {expected}"),
            ),
            Shape::MissingOneOf(heads) => Sentence::new(
                format!("nothing here says what it is: no {}", names(heads, "or")),
                "add one of these fields",
            ),
            Shape::Twice(name) => Sentence::new(
                format!("{name} is given twice"),
                "take one of the two out, or give it a name of its own",
            ),
            Shape::Wrong { expected, found } => Sentence::new(
                format!("expected {expected}, found {found}"),
                format!("put {expected} here"),
            ),
            Shape::NotOneOf {
                expected,
                found,
                nearest,
            } => Sentence::new(
                format!("expected {expected}, found {found}"),
                match nearest {
                    Some(nearest) => format!("write '{nearest}'"),
                    None => "write one of them".to_string(),
                },
            ),
            Shape::Length { found: 0, .. } => {
                Sentence::new("this text is empty", "write something here")
            }
            Shape::Length { found, most } => Sentence::new(
                format!("this text has {found} characters; {most} is the most"),
                "shorten it",
            ),
            Shape::Entries { found: 0, .. } => {
                Sentence::new("nothing is in here", "add at least one entry")
            }
            Shape::Entries {
                found,
                fewest,
                most,
            } => {
                let right = match most {
                    Some(most) if most == fewest => format!("{most}"),
                    Some(most) => format!("{fewest} to {most}"),
                    None => format!("at least {fewest}"),
                };
                let mend = if found < fewest {
                    "add what is missing"
                } else {
                    "take out what is too many"
                };
                Sentence::new(format!("expected {right} entries, found {found}"), mend)
            }
        }
    }
}
