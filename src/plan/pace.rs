//! How long the work takes: seconds for each kind of movement.

use super::walk::{KindCounts, Walk};
use crate::beadwork::Kind;

/// Seconds for one movement of each kind, for a maker who has made a few
/// pieces: common practice, no source. The stitch is the unit: a maker's own
/// pace scales all the others.
pub const COMMON_PACE: [(Kind, f64); Kind::ALL.len()] = [
    (Kind::Ring, 5.0),
    (Kind::Stitch, STITCH),
    (Kind::Increase, 8.0),
    (Kind::Decrease, 6.0),
    (Kind::StepUp, 8.0),
    (Kind::StepDown, 8.0),
    (Kind::PassThrough, 8.0),
    (Kind::Zip, 6.0),
    (Kind::Fold, 30.0),
    (Kind::Close, 15.0),
    (Kind::Firm, 8.0),
    (Kind::StartThread, 90.0),
    (Kind::EndThread, 60.0),
    (Kind::Count, 20.0),
    (Kind::Own, 60.0),
    (Kind::BreakOut, 90.0),
];

/// Seconds for a stitch at a typical pace.
pub const STITCH: f64 = 6.0;

/// Minutes for movements at `stitch_seconds` a stitch; every other kind changes
/// in proportion.
pub fn minutes(counts: &KindCounts, stitch_seconds: f64) -> f64 {
    let each = COMMON_PACE.iter().map(|&(kind, seconds)| {
        let times = f64::from(counts[kind as usize]);
        times * seconds
    });
    each.sum::<f64>() * (stitch_seconds / STITCH) / 60.0
}

/// Minutes for a whole piece.
pub fn of_piece(walk: &Walk, stitch_seconds: f64) -> f64 {
    let each = walk
        .jobs
        .iter()
        .map(|job| minutes(&job.kinds, stitch_seconds));
    each.sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::{Sequence, testing};

    #[test]
    fn every_kind_has_a_pace_in_its_place() {
        for (nth, (kind, seconds)) in COMMON_PACE.into_iter().enumerate() {
            assert_eq!(kind as usize, nth);
            assert!(seconds > 0.0);
        }
    }

    /// By hand, a triangle of two rounds: taking up thread 90 s; the ring in
    /// four movements, 20 s; three increases, 24 s; a step-up, 8 s; a count, 20
    /// s; ending the thread, 60 s. At twice the typical pace it takes half as
    /// long.
    #[test]
    fn a_triangle_of_two_rounds_takes_as_long_as_by_hand() {
        let seq = Sequence::new(testing::single(testing::panel(3, 2)));
        let walk = Walk::over(&seq);
        let ring = walk.movements(Kind::Ring);
        let by_hand = 90.0 + f64::from(ring) * 5.0 + 24.0 + 8.0 + 20.0 + 60.0;
        assert!((of_piece(&walk, STITCH) - by_hand / 60.0).abs() < 1e-9);
        assert!((of_piece(&walk, 3.0) - by_hand / 120.0).abs() < 1e-9);
    }
}
