//! Where in a round a slip was made.

use crate::beadwork::{Side, Step};

/// A place of a round: some gaps of one side, or the corner behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoundPlace {
    /// The side, or the side that ends at the corner.
    pub side: Side,
    /// Whether it is the corner behind the side.
    pub corner: bool,
    /// The first gap, from 0 in the order in which the round is worked.
    pub first_gap: u32,
    /// How many gaps in a row look the same; 1 at a corner.
    pub gaps: u32,
    /// The steps that work the first and the last of these gaps.
    pub steps: (Step, Step),
}
