//! The way of the needle through beads that are there already, told by where
//! they lie: `Face 5, side 3, rounds 9 to 2; side 2, rounds 1 to 9`.

use crate::beadwork::layout::{Part, Seat};
use crate::beadwork::{Bead, Panel, Sequence, Side};

/// Stretches told of one way; of a longer one the rest is counted.
const STRETCHES: usize = 6;

/// Beads one after another on one side of one panel.
struct Stretch {
    panel: Panel,
    side: Side,
    part: &'static str,
    /// The rounds of its beads.
    rounds: Vec<u32>,
}

impl Stretch {
    /// Where it lies on its side.
    fn lies(&self) -> String {
        if !self.part.is_empty() {
            return self.part.to_string();
        }
        let rounds = &self.rounds;
        let (first, last) = (rounds[0], rounds[rounds.len() - 1]);
        let (least, most) = rounds
            .iter()
            .fold((first, first), |(l, m), &k| (l.min(k), m.max(k)));
        match rounds.is_sorted() || rounds.iter().rev().is_sorted() {
            true if first == last => format!("round {first}"),
            true => format!("rounds {first} to {last}"),
            // The needle goes along the edge, high bead and low bead in turn.
            false => format!("rounds {most} and {least} in turn"),
        }
    }
}

/// Where the beads of a way lie, in its order.
pub(super) fn told(seq: &Sequence, beads: &[Bead]) -> String {
    let layout = seq.layout();
    let mut stretches: Vec<Stretch> = vec![];
    for &bead in beads {
        let Seat {
            panel,
            side,
            part,
            round,
            ..
        } = layout.seat(bead);
        let part = match part {
            Part::Face => "",
            Part::JoinRow(_) => "join row",
            Part::Tip(_) => "tip",
        };
        match stretches.last_mut() {
            Some(last) if (last.panel, last.side, last.part) == (panel, side, part) => {
                last.rounds.push(round.0);
            }
            _ => stretches.push(Stretch {
                panel,
                side,
                part,
                rounds: vec![round.0],
            }),
        }
    }
    let mut said = vec![];
    let mut on = None;
    for stretch in stretches.iter().take(STRETCHES) {
        let where_to = stretch.lies();
        let side = stretch.side;
        said.push(match on == Some(stretch.panel) {
            true => format!("side {side}, {where_to}"),
            false => format!(
                "{}, side {side}, {where_to}",
                layout.panel(stretch.panel).name
            ),
        });
        on = Some(stretch.panel);
    }
    let rest: usize = stretches
        .iter()
        .skip(STRETCHES)
        .map(|s| s.rounds.len())
        .sum();
    if rest > 0 {
        said.push(format!("and {rest} more"));
    }
    said.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::{Round, testing};

    #[test]
    fn a_way_along_an_edge_is_told_as_high_and_low_beads() {
        let seq = Sequence::new(testing::single(testing::panel(3, 6)));
        let kind = seq.layout().kind(Panel(0));
        let bead = |round: u32, place: u32| {
            let index = kind.index(Round(round), Side(1), place);
            seq.layout().bead(Panel(0), Round(round), index)
        };
        let way = [bead(6, 0), bead(5, 0), bead(6, 1)];
        assert!(told(&seq, &way).ends_with(", side 2, rounds 6 and 5 in turn"));
        assert!(told(&seq, &way[..1]).ends_with(", side 2, round 6"));
    }

    #[test]
    fn a_way_to_the_middle_and_out_again_is_told_in_two_stretches() {
        let seq = Sequence::new(testing::single(testing::panel(3, 6)));
        let bead = |round: u32, side: u8| {
            let kind = seq.layout().kind(Panel(0));
            let index = kind.index(Round(round), Side(side), 0);
            seq.layout().bead(Panel(0), Round(round), index)
        };
        let mut way: Vec<Bead> = (2..=6).rev().map(|k| bead(k, 2)).collect();
        way.extend((1..=6).map(|k| bead(k, 1)));
        let name = &seq.layout().panel(Panel(0)).name;
        assert_eq!(
            told(&seq, &way),
            format!("{name}, side 3, rounds 6 to 2; side 2, rounds 1 to 6")
        );
    }
}
