//! A bead: a cylinder with a hole along it, in one of the piece's colours.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// The size of a bead, all in millimetres.
///
/// ```text
///        <- length ->
///        +----------+  ^
///  thread ---hole---   | diameter
///        +----------+  v
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeadSize {
    /// Across the bead, mm.
    pub diameter_mm: f64,
    /// Along the hole, mm.
    pub length_mm: f64,
    /// Width of the hole, mm.
    pub hole_mm: f64,
    /// How many beads weigh one gram.
    pub per_gram: f64,
}

/// Typical sizes, all from memory: beads of one name differ from lot to lot,
/// so a maker who needs to know measures ten beads on a needle.
pub const PRESETS: [(&str, BeadSize); 7] = [
    ("cylinder 15/0", size(1.3, 1.0, 0.65, 290.0)),
    ("cylinder 11/0", size(1.6, 1.3, 0.8, 200.0)),
    ("cylinder 10/0", size(2.2, 1.7, 1.0, 108.0)),
    ("cylinder 8/0", size(3.0, 2.6, 1.3, 35.0)),
    ("round 15/0", size(1.5, 1.1, 0.7, 290.0)),
    ("round 11/0", size(2.1, 1.5, 0.8, 110.0)),
    ("round 8/0", size(3.0, 2.1, 1.1, 40.0)),
];

const fn size(diameter_mm: f64, length_mm: f64, hole_mm: f64, per_gram: f64) -> BeadSize {
    BeadSize {
        diameter_mm,
        length_mm,
        hole_mm,
        per_gram,
    }
}

impl BeadSize {
    /// Its name among the presets, if it has one.
    pub fn name(&self) -> Option<&'static str> {
        PRESETS
            .iter()
            .find(|(_, size)| size == self)
            .map(|(name, _)| *name)
    }
}

/// The size that a preset name stands for, or `None`.
pub fn preset(name: &str) -> Option<BeadSize> {
    PRESETS.iter().find(|(n, _)| *n == name).map(|(_, s)| *s)
}

/// Red, green and blue, 0 to 255 each (sRGB).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Rgb(pub u8, pub u8, pub u8);

impl fmt::Display for Rgb {
    /// As a pattern file writes it: `#4a2145`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Rgb(red, green, blue) = self;
        write!(f, "#{red:02x}{green:02x}{blue:02x}")
    }
}

impl FromStr for Rgb {
    type Err = &'static str;

    fn from_str(text: &str) -> Result<Rgb, Self::Err> {
        let digits = text.strip_prefix('#').unwrap_or_default();
        let is_hex = digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit());
        match u32::from_str_radix(digits, 16).map(u32::to_be_bytes) {
            Ok([_, red, green, blue]) if is_hex => Ok(Rgb(red, green, blue)),
            _ => Err("a colour is # and six digits, such as #4a2145"),
        }
    }
}

/// One of the piece's kinds of bead.
#[derive(Clone, Debug, PartialEq)]
pub struct BeadKind {
    /// The letter that stands for it in colour words and on screen.
    pub letter: char,
    /// Its colour in words.
    pub name: String,
    /// Its size.
    pub size: BeadSize,
    /// Its colour as shown.
    pub colour: Rgb,
}

/// Which of the piece's kinds of bead: an index into [`super::layout::Layout::bead_kinds`], from 0.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Colour(pub u8);
