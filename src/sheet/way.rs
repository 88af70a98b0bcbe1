//! The path of the needle through beads that are already there, described by
//! where they lie: `Face 5, side 3, rounds 9 to 2; side 2, rounds 1 to 9`.

use crate::beadwork::layout::{Layout, Part};
use crate::beadwork::{Bead, Panel, Sequence, Side, plural};

/// The most stretches described for one path; the rest of a longer one is
/// counted.
const STRETCHES: usize = 6;

/// Beads one after another on one side of one panel, tip beads apart.
struct BeadsInLine {
    panel: Panel,
    side: Side,
    /// Whether they are tip beads.
    is_tips: bool,
    /// The rounds of its beads; a join row is the round after the last.
    rounds: Vec<u32>,
}

impl BeadsInLine {
    /// Where it lies on its side.
    fn place(&self, layout: &Layout) -> String {
        let (rounds, last) = (&self.rounds, layout.kind(self.panel).rounds());
        if self.is_tips {
            let of_row = layout.row_on(self.panel, self.side);
            let all = of_row.map_or(0, |row| layout.row(row).tips) as usize;
            return match rounds.len() {
                1 if all > 1 => "a tip bead".into(),
                1 => "tip bead".into(),
                beads => plural(beads, "tip bead"),
            };
        }
        let (from, to) = (rounds[0], rounds[rounds.len() - 1]);
        let least = rounds.iter().copied().min().unwrap_or(from);
        let most = rounds.iter().copied().max().unwrap_or(from);
        let name = |round: u32| match round > last {
            true => "join row".to_string(),
            false => format!("round {round}"),
        };
        match rounds.is_sorted() || rounds.iter().rev().is_sorted() {
            true if from == to => name(from),
            true if most <= last => format!("rounds {from} to {to}"),
            true => format!("{} to {}", name(from), name(to)),
            // The needle goes along the edge, through up beads and low beads
            // alternately.
            false if most <= last => format!("rounds {most} and {least} in turn"),
            false => format!("{} and {} in turn", name(most), name(least)),
        }
    }
}

/// Where the beads of a path lie, in its order.
pub(super) fn in_words(seq: &Sequence, beads: &[Bead]) -> String {
    let layout = seq.layout();
    let mut stretches: Vec<BeadsInLine> = vec![];
    for &bead in beads {
        let seat = layout.seat(bead);
        let is_tips = matches!(seat.part, Part::Tip(_));
        let at = (seat.panel, seat.side, is_tips);
        match stretches.last_mut() {
            Some(last) if (last.panel, last.side, last.is_tips) == at => {
                last.rounds.push(seat.round.0);
            }
            _ => stretches.push(BeadsInLine {
                panel: seat.panel,
                side: seat.side,
                is_tips,
                rounds: vec![seat.round.0],
            }),
        }
    }
    let mut words = vec![];
    let mut on = None;
    for stretch in stretches.iter().take(STRETCHES) {
        let (panel, side) = (stretch.panel, stretch.side);
        let place = stretch.place(layout);
        words.push(match on == Some(panel) {
            true => format!("side {side}, {place}"),
            false => format!("{}, side {side}, {place}", layout.panel(panel).name),
        });
        on = Some(panel);
    }
    let rest: usize = stretches
        .iter()
        .skip(STRETCHES)
        .map(|s| s.rounds.len())
        .sum();
    if rest > 0 {
        words.push(format!("and {rest} more"));
    }
    words.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::{Round, testing};

    #[test]
    fn a_path_along_an_edge_is_described_as_high_and_low_beads() {
        let seq = Sequence::new(testing::single(testing::panel(3, 6)));
        let kind = seq.layout().kind(Panel(0));
        let bead = |round: u32, place: u32| {
            let index = kind.index(Round(round), Side(1), place);
            seq.layout().bead(Panel(0), Round(round), index)
        };
        let way = [bead(6, 0), bead(5, 0), bead(6, 1)];
        assert!(in_words(&seq, &way).ends_with(", side 2, rounds 6 and 5 in turn"));
        assert!(in_words(&seq, &way[..1]).ends_with(", side 2, round 6"));
    }

    #[test]
    fn a_path_along_a_join_row_is_one_stretch() {
        use crate::beadwork::project::{Closing, Solid};
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 5, Closing::SetIn));
        let layout = seq.layout();
        let row = layout.row_on(Panel(0), Side(0)).expect("it carries a row");
        let (low, high) = (
            |j| layout.edge_bead(Panel(0), Side(0), j),
            |j| layout.row_bead(row, j),
        );
        let name = &layout.panel(Panel(0)).name;
        assert_eq!(
            in_words(&seq, &[high(0), low(1), high(1), low(2)]),
            format!("{name}, side 1, join row and round 5 in turn")
        );
        assert_eq!(
            in_words(&seq, &[high(0)]),
            format!("{name}, side 1, join row")
        );
    }

    /// A tip bead lies in the corner, not in the row.
    #[test]
    fn a_tip_bead_is_called_so() {
        use crate::beadwork::project::{Closing, Make, Solid};
        let make = Make::Solid {
            solid: Solid::Tetrahedron,
            faces: vec![0],
            closing: Closing::SetIn,
            tips: 2,
        };
        let seq = Sequence::new(testing::project(vec![testing::panel(3, 5)], make));
        let layout = seq.layout();
        let row = layout.row_on(Panel(0), Side(1)).expect("it carries a row");
        let name = &layout.panel(Panel(0)).name;
        let bead = |j| layout.row_bead(row, j);
        let said = |way: &[Bead]| in_words(&seq, way);
        let beads = layout.row(row).beads;
        assert_eq!(
            said(&[bead(beads - 1), bead(beads), bead(beads + 1)]),
            format!("{name}, side 2, join row; side 2, 2 tip beads")
        );
        assert_eq!(said(&[bead(beads)]), format!("{name}, side 2, a tip bead"));
    }

    #[test]
    fn a_path_to_the_middle_and_out_again_is_two_stretches() {
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
            in_words(&seq, &way),
            format!("{name}, side 3, rounds 6 to 2; side 2, rounds 1 to 6")
        );
    }
}
