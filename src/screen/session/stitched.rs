//! What is kept as stitched, though the pattern has it otherwise.

use super::Session;
use crate::beadwork::number::Round;
use crate::beadwork::plural;
use crate::tracking::count::Kept;

impl Session {
    /// The differences that the maker keeps.
    pub fn kept(&self) -> Vec<Kept> {
        let kept = self.piece.state().stitched.iter();
        kept.filter_map(|s| Kept::of_job(&self.seq, s.job, s.round, s.side, s.by))
            .collect()
    }

    /// What is kept as stitched where the next movement is, in words.
    pub fn as_stitched_here(&self) -> Option<String> {
        if self.piece.state().stitched.is_empty() {
            return None;
        }
        let m = self.movement()?;
        let (round, side) = (m.round, m.side?);
        // A zip meets what is kept in the row that it locks into.
        let (panel, round, side) = match self.seq.job(m.job).row_met(side) {
            Some((panel, at)) => {
                let row = self.seq.layout().kind(panel).last().0 + 1;
                (panel, Round(row), at)
            }
            None => (self.seq.job(m.job).panel(), round?, side),
        };
        let shows = |k: &Kept| k.side == side && k.shows(&self.seq, panel, round);
        let by: i32 = self.kept().iter().filter(|k| shows(k)).map(|k| k.by).sum();
        let what = match self.seq.layout().kind(panel).last() < round {
            true => "this row",
            false => "this side",
        };
        let how = match by {
            0 => return None,
            1.. => "take it in as it comes",
            _ => "pass over its place",
        };
        Some(format!("As stitched: {what} {}; {how}.", more_or_fewer(by)))
    }
}

/// `has 1 bead more`, `has 2 beads fewer`, `is as in the pattern`.
pub fn more_or_fewer(by: i32) -> String {
    let beads = plural(by.unsigned_abs() as usize, "bead");
    match by {
        0 => "is as in the pattern".into(),
        1.. => format!("has {beads} more"),
        _ => format!("has {beads} fewer"),
    }
}
