//! How often each mistake happens, out of a hundred wrong counts. Common
//! practice, no source: most happen at corners, then in gaps, then in counting.
//! docs/mending.md states the same numbers.
//!
//! The odds of a mistake are shared by all places where it can happen.

/// A bead at a corner that should have been drawn together.
pub const BEAD_AT_CORNER: f64 = 20.0;
/// A corner pair worked as one bead.
pub const PAIR_AS_ONE: f64 = 14.0;
/// A corner pair left out.
pub const CORNER_PASSED: f64 = 4.0;
/// A gap skipped.
pub const GAP_SKIPPED: f64 = 16.0;
/// Two beads in one gap.
pub const TWO_IN_GAP: f64 = 10.0;
/// A bead too many or too few on the string that a piece begins with.
pub const STRUNG: f64 = 6.0;
/// The round before or after, for each.
pub const OTHER_ROUND: f64 = 12.0;
/// The round after, if it is known to be not begun.
pub const ROUND_TO_COME: f64 = 3.0;
/// High and low beads both counted.
pub const BOTH_EDGES: f64 = 12.0;
/// The work is ahead of the screen or behind it, divided by the number of
/// movements. Only if the last step done is known.
pub const OTHER_STEP: f64 = 24.0;
/// The step-up or step-down missed.
pub const TURN_MISSED: f64 = 3.0;
/// The counting begun at another side, for each side.
pub const WRONG_SIDE: f64 = 2.0;
/// One side counted instead of all round, where the number is that of a side.
/// Larger than those of any other cause, so that it comes first.
pub const ONE_SIDE: f64 = 30.0;
/// The part of makers who count a bead at a corner with the side before; the
/// others count it with the side after.
pub const CORNER_COUNTS_BEFORE: f64 = 0.7;

/// The odds of two mistakes at once.
pub fn both(a: f64, b: f64) -> f64 {
    a * b / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_on_mending_states_these_odds() {
        let page = include_str!("../../../docs/mending.md");
        for (what, odds) in [
            (
                "a bead at a corner that should have been drawn together",
                BEAD_AT_CORNER,
            ),
            ("a corner pair worked as one bead", PAIR_AS_ONE),
            ("a corner pair left out", CORNER_PASSED),
            ("a gap skipped", GAP_SKIPPED),
            ("two beads in one gap", TWO_IN_GAP),
            ("a bead too many, or too few, on the first string", STRUNG),
            ("the round before, or after, each", OTHER_ROUND),
            ("a round that is not begun yet", ROUND_TO_COME),
            ("high and low beads both counted", BOTH_EDGES),
            (
                "the work ahead of the screen or behind it, divided by the number of movements",
                OTHER_STEP,
            ),
            ("the step-up or step-down missed", TURN_MISSED),
            ("the counting begun at another side, each side", WRONG_SIDE),
            ("only one side counted instead of all round", ONE_SIDE),
        ] {
            assert!(page.contains(&format!("| {what} | {odds} |")), "{what}");
        }
    }
}
