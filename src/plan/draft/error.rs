//! Wishes that a draft cannot meet, and what would mend them.

use crate::beadwork::bead::PRESETS;
use crate::plan::stone::StoneFit;
use crate::problem::Problems;
use std::fmt;

/// Why a pattern cannot be drafted.
#[derive(Debug)]
pub enum DraftError {
    /// A length that is not above zero, or is beyond all measure.
    BadMeasure {
        /// What it is of.
        what: &'static str,
        /// What was asked.
        asked: f64,
    },
    /// No bead size of this name.
    NoSize(String),
    /// Panels of so many rounds have no edge to join.
    NoEdge {
        /// Rounds asked for.
        rounds: u32,
        /// The nearest that can be joined.
        nearest: u32,
    },
    /// So many rounds are more, or fewer, than a panel can have.
    Rounds {
        /// Asked for, or come to.
        rounds: u32,
        /// The fewest.
        least: u32,
        /// The most.
        most: u32,
    },
    /// No opening holds the stone.
    Stone {
        /// What was looked at.
        fit: StoneFit,
        /// Sizes of bead of which an opening holds it.
        sizes: Vec<&'static str>,
    },
    /// The reader of patterns refuses what came of it.
    Refused(Problems),
}

impl DraftError {
    /// What would mend it, in words.
    pub fn mend(&self) -> String {
        match self {
            DraftError::BadMeasure { .. } => "give a length in mm above 0, up to 100000".into(),
            DraftError::NoSize(_) => {
                let names = PRESETS.map(|(name, _)| name).join(", ");
                format!("take one of: {names}; and say where yours differ, such as --length 1.28")
            }
            DraftError::NoEdge { nearest, .. } => format!("take {nearest} rounds"),
            DraftError::Rounds { least, most, .. } => {
                format!("take {least} to {most} rounds, or another size of bead")
            }
            DraftError::Stone { fit, sizes } => {
                let mut mends: Vec<String> = fit
                    .nearest
                    .iter()
                    .map(|opening| {
                        let (least, most) = opening.holds_mm();
                        format!("take a stone of {least:.1} to {most:.1} mm")
                    })
                    .collect();
                mends.extend(
                    sizes
                        .iter()
                        .map(|size| format!("take beads of size {size}")),
                );
                match mends.is_empty() {
                    true => "take a larger stone, or more rounds".into(),
                    false => mends.join(", or "),
                }
            }
            DraftError::Refused(_) => "take fewer rounds, or other beads".into(),
        }
    }
}

impl fmt::Display for DraftError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DraftError::BadMeasure { what, asked } => write!(f, "{what} cannot be {asked} mm"),
            DraftError::NoSize(name) => write!(f, "there is no bead size '{name}'"),
            DraftError::NoEdge { rounds, .. } => write!(
                f,
                "panels of {rounds} rounds end with gaps at their corners and cannot be joined"
            ),
            DraftError::Rounds {
                rounds,
                least,
                most,
            } => write!(f, "a panel here has {least} to {most} rounds, not {rounds}"),
            DraftError::Stone { fit, .. } => {
                write!(f, "no opening holds a stone of {} mm", fit.stone_mm)
            }
            DraftError::Refused(errors) => write!(f, "such a pattern cannot be sewn: {errors}"),
        }
    }
}

impl std::error::Error for DraftError {}
