//! What there is to count, and how many it must be.

use super::kept::Kept;
use crate::beadwork::layout::Part;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::{Job, Panel, Round, Sequence, Side, Step};

/// What is counted: a round of the panel that a job works on, or one side of
/// it. The round after a panel's last is its join rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Question {
    /// The job.
    pub job: Job,
    /// The round.
    pub round: Round,
    /// The side, or the whole round.
    pub side: Option<Side>,
}

/// Beads on each side of a round when it is whole, or `None` if the job's
/// panel has no such round.
pub fn per_side(seq: &Sequence, job: Job, round: Round) -> Option<Vec<u32>> {
    let panel = seq.jobs().get(job.index())?.panel();
    let (layout, kind) = (seq.layout(), seq.layout().kind(panel));
    let sides = (0..kind.sides()).map(Side);
    if round > kind.last() {
        if round.0 > kind.rounds() + 1 {
            return None;
        }
        let on = |side| layout.row_on(panel, side).map(|row| layout.row(row));
        return Some(
            sides
                .map(|s| on(s).map_or(0, |r| r.beads + r.tips))
                .collect(),
        );
    }
    if round < layout.making(panel).innermost() {
        return None;
    }
    Some(sides.map(|s| kind.on_side(round, s)).collect())
}

/// The same in work in which the maker keeps differences.
pub fn per_side_as_stitched(
    seq: &Sequence,
    job: Job,
    round: Round,
    kept: &[Kept],
) -> Option<Vec<u32>> {
    let mut sides = per_side(seq, job, round)?;
    let panel = seq.job(job).panel();
    super::kept::as_stitched(seq, panel, round, &mut sides, kept);
    Some(sides)
}

/// How many beads the answer to a question must be.
pub fn expected(seq: &Sequence, q: &Question) -> Option<u32> {
    expected_as_stitched(seq, q, &[])
}

/// The same in work in which the maker keeps differences.
pub fn expected_as_stitched(seq: &Sequence, q: &Question, kept: &[Kept]) -> Option<u32> {
    let sides = per_side_as_stitched(seq, q.job, q.round, kept)?;
    match q.side {
        Some(side) => sides.get(side.index()).copied(),
        None => Some(sides.iter().sum()),
    }
}

/// The count worth offering once a step is done: at a corner the side that
/// ends there, after a round the round.
pub fn due(seq: &Sequence, done: Step) -> Option<Question> {
    let m = seq.step(done)?;
    let round = m.round?;
    let ask = |side| {
        let job = m.job;
        Some(Question { job, round, side })
    };
    match m.kind {
        Kind::StepUp | Kind::StepDown => ask(None),
        // The ring is closed; there is nothing else in that round to do.
        Kind::Ring if m.strings.is_empty() => ask(None),
        Kind::Decrease => {
            let side = m.side?;
            is_whole(seq, panel_of(seq, &m), round, side, m.step).then_some(())?;
            ask(Some(side))
        }
        Kind::Stitch | Kind::Increase => {
            let side = side_just_ended(seq, &m)?;
            let next = seq.step(Step(done.0 + 1));
            // A corner without a bead follows: the side is counted behind it.
            let corner_follows = next.is_some_and(|n| n.kind == Kind::Decrease);
            // The round is counted whole one step on.
            let round_ends = m.round_beads == m.round_target && is_face(seq, &m);
            // A row of a strip ends with its last stitch.
            let turns = seq.layout().making(panel_of(seq, &m)).steps_up();
            if round_ends && !turns {
                return ask(None);
            }
            if corner_follows || round_ends {
                return None;
            }
            ask(Some(side))
        }
        _ => None,
    }
}

fn is_face(seq: &Sequence, m: &Movement) -> bool {
    let first = m.strings.first().map(|&b| seq.layout().seat(b).part);
    first == Some(Part::Face)
}

fn panel_of(seq: &Sequence, m: &Movement) -> Panel {
    match m.strings.first().or(m.passes.first()) {
        Some(&bead) => seq.layout().seat(bead).panel,
        None => seq.job(m.job).panel(),
    }
}

/// The side whose last missing bead a movement strings.
fn side_just_ended(seq: &Sequence, m: &Movement) -> Option<Side> {
    let layout = seq.layout();
    m.strings.iter().find_map(|&bead| {
        let seat = layout.seat(bead);
        let ended = match seat.part {
            // Rows are strung place by place.
            Part::JoinRow(row) => seat.place + 1 == seat.of && layout.row(row).tips == 0,
            Part::Tip(_) => seat.place + 1 == seat.of,
            Part::Face => {
                is_whole(seq, seat.panel, seat.round, seat.side, m.step)
                    && !is_whole(seq, seat.panel, seat.round, seat.side, Step(m.step.0 - 1))
            }
        };
        ended.then_some(seat.side)
    })
}

/// Whether every bead of a side is in place once a step is done.
fn is_whole(seq: &Sequence, panel: Panel, round: Round, side: Side, done: Step) -> bool {
    let layout = seq.layout();
    let kind = layout.kind(panel);
    if round > kind.last() {
        return true;
    }
    let strung = seq.strung_after(done);
    let of = kind.on_side(round, side);
    let at = |place| layout.bead(panel, round, kind.index(round, side, place));
    // Numbers rise along a side, but for one fall if the round begins on it;
    // the last bead before that fall is the round's last.
    let begins = kind.place(round, layout.making(panel).start(round));
    let last = match begins.side == side && begins.place > 0 {
        true => at(begins.place - 1),
        false => at(of.saturating_sub(1)),
    };
    of > 0 && last.0 <= strung && at(of - 1).0 <= strung && at(0).0 <= strung
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    fn offers(project: crate::beadwork::Project) -> Vec<(u32, Option<u32>, u32)> {
        let seq = Sequence::new(project);
        (1..=seq.steps())
            .filter_map(|n| due(&seq, Step(n)))
            .map(|q| {
                let beads = expected(&seq, &q).unwrap();
                (q.round.0, q.side.map(Side::number), beads)
            })
            .collect()
    }

    #[test]
    fn outward_each_corner_offers_the_side_that_ends_there() {
        let offered = offers(testing::single(testing::panel(3, 3)));
        assert_eq!(
            offered,
            [
                (1, None, 3),
                (2, Some(1), 2),
                (2, None, 6),
                (3, Some(1), 3),
                (3, Some(2), 3),
                (3, None, 9)
            ]
        );
    }

    #[test]
    fn inward_a_side_is_counted_when_its_corner_is_drawn_together() {
        let offered = offers(testing::single(testing::inward(3, 4, 0)));
        assert_eq!(
            offered,
            [
                (3, None, 9),
                (2, Some(1), 2),
                (2, Some(2), 2),
                (2, None, 6),
                (1, Some(1), 1),
                (1, Some(2), 1),
                (1, None, 3)
            ]
        );
    }
}
