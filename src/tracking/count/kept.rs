//! As stitched: differences from the layout that the maker decided to keep.

use crate::beadwork::{Job, Panel, Round, Sequence, Side};

/// A difference that stays in the work: an extra tip bead, a skipped join
/// bead, a bead too many in a round.
///
/// A bead more in a round is a gap more for every round worked on it, so a
/// difference in a round of a face carries on to all rounds worked later on
/// that panel. A difference in a join row ends there: the round after a
/// panel's last carries nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kept {
    /// The panel.
    pub panel: Panel,
    /// The round in which it was made; the round after the last is the rows.
    pub round: Round,
    /// The side.
    pub side: Side,
    /// Beads more (or, negative, fewer) than the layout has.
    pub by: i32,
}

impl Kept {
    /// The difference on a side of a round that a job works, as the journal
    /// keeps it. `None` if the piece has no such job or side.
    pub fn of_job(seq: &Sequence, job: Job, round: Round, side: Side, by: i32) -> Option<Kept> {
        let panel = seq.jobs().get(job.index())?.panel();
        let sides = seq.layout().kind(panel).sides();
        (side.0 < sides).then_some(Kept {
            panel,
            round,
            side,
            by,
        })
    }

    /// Whether the difference shows in `round` of `panel`.
    pub fn shows(&self, seq: &Sequence, panel: Panel, round: Round) -> bool {
        if panel != self.panel {
            return false;
        }
        let layout = seq.layout();
        let last = layout.kind(panel).last();
        if round == self.round {
            return true;
        }
        if round > last || self.round > last {
            return false;
        }
        match layout.making(panel).begin.way() {
            crate::beadwork::project::WorkDirection::Outward => round > self.round,
            crate::beadwork::project::WorkDirection::Inward => round < self.round,
        }
    }
}

/// Beads on each side as they are in the work: those in place, and all. A
/// difference of an earlier round shows once its side is whole.
pub(super) fn as_stitched(
    seq: &Sequence,
    job: Job,
    round: Round,
    there: &mut [u32],
    whole: &mut [u32],
    kept: &[Kept],
) {
    let info = seq.job(job);
    for side in (0..whole.len() as u8).map(Side) {
        // A zip meets what is kept in the row that it locks into.
        let (panel, at, on) = match info.row_met(side) {
            Some((panel, at)) => (panel, at, Round(seq.layout().kind(panel).last().0 + 1)),
            None => (info.panel(), side, round),
        };
        let (there, whole) = (&mut there[side.index()], &mut whole[side.index()]);
        let is_whole = *there == *whole;
        for k in kept
            .iter()
            .filter(|k| k.side == at && k.shows(seq, panel, on))
        {
            if is_whole || (*there > 0 && k.round == on && info.row_met(side).is_none()) {
                *there = there.saturating_add_signed(k.by);
            }
            *whole = whole.saturating_add_signed(k.by);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;
    use crate::tracking::count::{Question, Verdict, answer_as_stitched, answer_sides_as_stitched};

    fn kept(seq: &Sequence, round: u32, by: i32) -> [Kept; 1] {
        [Kept::of_job(seq, Job(0), Round(round), Side(1), by).unwrap()]
    }

    fn whole(seq: &Sequence, round: u32, counted: u32, kept: &[Kept]) -> (u32, Verdict) {
        let q = Question {
            job: Job(0),
            round: Round(round),
            side: None,
        };
        let answer = answer_as_stitched(seq, &q, None, counted, kept).unwrap();
        (answer.expected, answer.verdict)
    }

    #[test]
    fn a_bead_kept_in_a_round_is_there_in_all_rounds_worked_later() {
        let seq = Sequence::new(testing::single(testing::panel(3, 8)));
        let kept = kept(&seq, 5, 1);
        assert_eq!(whole(&seq, 4, 12, &kept), (12, Verdict::Match));
        assert_eq!(whole(&seq, 5, 16, &kept), (16, Verdict::Match));
        assert_eq!(whole(&seq, 6, 19, &kept), (19, Verdict::Match));
        assert_eq!(whole(&seq, 6, 18, &kept), (19, Verdict::Under));
    }

    #[test]
    fn inward_the_rounds_worked_later_are_those_further_in() {
        let seq = Sequence::new(testing::single(testing::inward(3, 8, 0)));
        let kept = kept(&seq, 5, -1);
        assert_eq!(whole(&seq, 6, 18, &kept).0, 18);
        assert_eq!(whole(&seq, 4, 11, &kept), (11, Verdict::Match));
    }

    #[test]
    fn slips_are_looked_for_in_the_work_as_it_is() {
        let seq = Sequence::new(testing::single(testing::panel(3, 8)));
        let kept = kept(&seq, 5, 1);
        let sides = [5, 6, 4];
        let answer = answer_sides_as_stitched(&seq, Job(0), Round(5), None, &sides, &kept).unwrap();
        let places = &answer.causes[0].places;
        assert!(
            places
                .iter()
                .any(|p| p.side == Side(2) || p.side == Side(1))
        );
        assert_eq!(answer.verdict, Verdict::Under);
    }

    #[test]
    fn a_side_that_is_not_there_keeps_nothing() {
        let seq = Sequence::new(testing::single(testing::panel(3, 8)));
        assert_eq!(Kept::of_job(&seq, Job(0), Round(5), Side(7), 1), None);
        assert_eq!(Kept::of_job(&seq, Job(9), Round(5), Side(0), 1), None);
    }
}
