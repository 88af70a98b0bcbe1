//! What can be wrong with a pattern: data first, then the sentence.
//!
//! Each family of faults has a file in `error/`, which holds what is known of
//! the fault and, beside it, how that is said and how it is mended.

use crate::clean::clean;
use std::fmt;

mod bead;
mod colour;
mod job;
mod make;
mod panel;
mod quote;
mod reading;
mod shape;

pub use bead::BeadFault;
pub use colour::{BadSelector, BadWord, ColourFault, Span};
pub use job::JobFault;
pub use make::MakeFault;
pub use panel::{BadGaps, PanelFault};
pub use quote::Quote;
pub use reading::{Reading, Syntax};
pub use shape::Shape;

use super::position::Position;

/// Everything that is wrong with one pattern file; at least one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct PatternErrors {
    /// The file, as it was named.
    pub file: String,
    /// What is wrong, in order of the file.
    pub faults: Vec<Fault>,
    /// How much more is wrong than is listed.
    pub more: usize,
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Where it is, unless it is no place in the file.
    pub position: Option<Position>,
    /// The path of the field, empty for the file as a whole.
    pub field: String,
    /// What it is.
    pub kind: Kind,
}

/// What is wrong, by family.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// The file cannot be read as JSON of this format.
    Reading(Reading),
    /// Fields missing, unknown, or of the wrong type.
    Shape(Shape),
    /// Beads, thread and needle.
    Bead(BeadFault),
    /// Panels and their growth.
    Panel(PanelFault),
    /// Colours of panels.
    Colour(ColourFault),
    /// What is made of the panels.
    Make(MakeFault),
    /// A maker's own list of jobs.
    Job(JobFault),
}

/// What is wrong, and how to mend it.
pub struct Sentence {
    /// What is wrong.
    pub says: String,
    /// How to mend it.
    pub mend: String,
}

impl Sentence {
    /// Every sentence passes here, and may hold words of the file.
    fn new(says: impl Into<String>, mend: impl Into<String>) -> Self {
        Sentence {
            says: clean(&says.into()),
            mend: clean(&mend.into()),
        }
    }
}

impl Kind {
    /// What is wrong and how to mend it, in words.
    pub fn sentence(&self) -> Sentence {
        match self {
            Kind::Reading(fault) => fault.sentence(),
            Kind::Shape(fault) => fault.sentence(),
            Kind::Bead(fault) => fault.sentence(),
            Kind::Panel(fault) => fault.sentence(),
            Kind::Colour(fault) => fault.sentence(),
            Kind::Make(fault) => fault.sentence(),
            Kind::Job(fault) => fault.sentence(),
        }
    }
}

macro_rules! family {
    ($($fault:ident => $kind:ident),*) => {$(
        impl From<$fault> for Kind {
            fn from(fault: $fault) -> Kind {
                Kind::$kind(fault)
            }
        }
    )*};
}

family!(Reading => Reading, Shape => Shape, BeadFault => Bead, PanelFault => Panel,
    ColourFault => Colour, MakeFault => Make, JobFault => Job);

impl Fault {
    pub(super) fn at(position: Position, field: String, kind: Kind) -> Self {
        Fault {
            position: Some(position),
            field,
            kind,
        }
    }

    pub(super) fn nowhere(reading: Reading) -> Self {
        Fault {
            position: None,
            field: String::new(),
            kind: Kind::Reading(reading),
        }
    }
}

impl PatternErrors {
    pub(super) fn new(file: &str, faults: Vec<Fault>, more: usize) -> Self {
        PatternErrors {
            file: file.to_string(),
            faults,
            more,
        }
    }
}

impl fmt::Display for PatternErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let file = clean(&self.file);
        for (i, fault) in self.faults.iter().enumerate() {
            let Sentence { says, mend } = fault.kind.sentence();
            write!(f, "{}error: {file}", if i == 0 { "" } else { "\n" })?;
            if let Some(Position { line, column }) = fault.position {
                write!(f, ":{line}:{column}")?;
            }
            if !fault.field.is_empty() {
                write!(f, ": {}", fault.field)?;
            }
            write!(f, ": {says}\n  mend: {mend}")?;
        }
        if self.more > 0 {
            write!(f, "\nand {} more; mend these first", self.more)?;
        }
        Ok(())
    }
}

impl std::error::Error for PatternErrors {}

/// Names in a row: 'a', 'b' and 'c'. A long list is cut.
fn names(list: &[String], last: &str) -> String {
    const MOST: usize = 12;
    let quoted: Vec<String> = list
        .iter()
        .take(MOST)
        .map(|name| Quote::new(name).to_string())
        .collect();
    match &quoted[..] {
        [] => "none".to_string(),
        [one] => one.clone(),
        _ if list.len() > MOST => format!("{} and more", quoted.join(", ")),
        [most @ .., end] => format!("{} {last} {end}", most.join(", ")),
    }
}

/// '1 bead', '2 beads'.
fn count(number: u64, thing: &str) -> String {
    let s = if number == 1 { "" } else { "s" };
    format!("{number} {thing}{s}")
}
