//! On which sides a count differs from what must be there.

use super::expected::per_side_as_stitched;
use super::kept::Kept;
use crate::beadwork::{Job, Round, Sequence, Side};

/// On which sides a count differs from what must be there, and by how many
/// beads. `None` if the job works on no such round.
pub fn differences(
    seq: &Sequence,
    job: Job,
    round: Round,
    seen: &[u32],
    kept: &[Kept],
) -> Option<Vec<(Side, i32)>> {
    let right = per_side_as_stitched(seq, job, round, kept)?;
    let each = (0u8..).map(Side).zip(seen.iter().zip(right));
    let by = |(side, (&seen, right)): (Side, (&u32, u32))| {
        let by = i64::from(seen) - i64::from(right);
        (side, by.clamp(i32::MIN.into(), i32::MAX.into()) as i32)
    };
    Some(each.map(by).filter(|(_, by)| *by != 0).collect())
}
