//! Round peyote: a flat face of n sides, worked in rounds.
//!
//! The layout is the same whichever way the panel is worked. Rounds are
//! numbered from 1 in the middle; the beads of a round are indexed from 0 in
//! the order in which outward work strings them.
//!
//! ```text
//!            side 2 of a triangle, rounds 1 to 4
//!       [ ] [ ] [ ] [ ]        round 4: four up beads, the edge
//!         [ ] [ ] [ ]          round 3
//!           [ ] [ ]            round 2: the two halves of its corner pairs
//!             [ ]              round 1, the ring
//! ```

use super::end::End;
use super::gap_word::GapWord;
use super::making::{Begin, Making};
use super::number::{Round, Side};
use super::own_rounds::OwnRounds;
use super::panel::{PanelStitch, Place, Spot};
use super::project::WorkDirection;
use super::round_work::RoundWork;

/// The layout of a panel of round peyote.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundPeyote {
    sides: u8,
    rounds: Vec<RoundLayout>,
}

#[derive(Clone, Debug, PartialEq)]
struct RoundLayout {
    /// Beads in the round.
    beads: u32,
    /// Beads in all rounds before it.
    before: u32,
    /// How it grows on the round before; empty for the ring.
    word: GapWord,
    /// What to add to a bead's index to count from side 0, place 0.
    turn: u32,
    /// Beads at each corner.
    corner: u8,
    /// Where each side starts, counted so, and the number of beads behind
    /// them; none where all sides have their equal share.
    starts: Option<Box<[u32]>>,
}

impl RoundLayout {
    /// The first bead of side `s` (from 0) of n, counted from side 0, place
    /// 0; `s` may be n.
    fn side_start(&self, s: u32, n: u32) -> u32 {
        match &self.starts {
            Some(starts) => starts[s as usize],
            None => (s * self.beads).div_ceil(n),
        }
    }

    /// The side of the bead counted so.
    fn side_of(&self, v: u32, n: u32) -> u32 {
        match &self.starts {
            Some(starts) => starts.partition_point(|&start| start <= v) as u32 - 1,
            None => v * n / self.beads,
        }
    }
}

impl RoundPeyote {
    /// A panel of which it is known where the sides of each round lie.
    pub(super) fn new(sides: u8, own: &OwnRounds) -> Self {
        let mut layout = RoundPeyote {
            sides,
            rounds: Vec::with_capacity(own.sides.len()),
        };
        let ring = std::iter::once((GapWord::default(), own.ring));
        let words = own.words.iter().map(|word| (word.clone(), word.beads()));
        for ((word, beads), at) in ring.chain(words).zip(&own.sides) {
            let mut starts = vec![0];
            starts.extend(at.lengths.iter().scan(0, |sum, length| {
                *sum += length;
                Some(*sum)
            }));
            let n = u32::from(sides);
            let mut round = RoundLayout {
                beads,
                before: layout.beads(),
                word,
                turn: (beads - at.first) % beads.max(1),
                corner: at.corner,
                starts: None,
            };
            let even = (0..=n).all(|s| starts[s as usize] == round.side_start(s, n));
            round.starts = (!even).then(|| starts.into());
            layout.rounds.push(round);
        }
        layout
    }

    fn beads(&self) -> u32 {
        self.rounds.last().map_or(0, |r| r.before + r.beads)
    }

    fn last(&self) -> Round {
        Round(self.rounds.len() as u32)
    }

    fn round(&self, round: Round) -> &RoundLayout {
        &self.rounds[round.0 as usize - 1]
    }

    /// A bead's number in its round, counted from side 0, place 0.
    fn number_in_round(&self, round: Round, index: u32) -> u32 {
        let r = self.round(round);
        match index + r.turn {
            v if v >= r.beads => v - r.beads,
            v => v,
        }
    }

    /// Whether thread holds the two halves of a corner pair together: they
    /// were strung as a pair, or the round inside has gone past them.
    fn is_drawn(&self, making: &Making, strung: u32, round: Round, gap: u32) -> bool {
        match making.begin {
            Begin::Ring | Begin::TwoRows => true,
            Begin::FreeStart if round == self.last() => true,
            _ if round == making.innermost() => false,
            _ => {
                let inside = Round(round.0 - 1);
                let past = (gap + 1) % self.in_round(inside);
                let number = |i| making.number_in_turn(inside, i, self.in_round(inside));
                // The last gap is drawn by the step-down, after which more
                // beads come.
                let after = match past == making.start(inside) {
                    true => number(gap) + 1,
                    false => number(past),
                };
                number(gap) < strung && after < strung
            }
        }
    }
}

impl PanelStitch for RoundPeyote {
    fn sides(&self) -> u8 {
        self.sides
    }

    fn rounds(&self) -> u32 {
        self.rounds.len() as u32
    }

    fn in_round(&self, round: Round) -> u32 {
        self.round(round).beads
    }

    fn before(&self, round: Round) -> u32 {
        match self.rounds.get(round.0 as usize - 1) {
            Some(r) => r.before,
            None => self.beads(),
        }
    }

    fn word(&self, round: Round) -> &GapWord {
        &self.round(round).word
    }

    fn corner(&self, round: Round) -> u8 {
        self.round(round).corner
    }

    fn place(&self, round: Round, index: u32) -> Place {
        let r = self.round(round);
        let v = self.number_in_round(round, index);
        let n = u32::from(self.sides);
        let side = r.side_of(v, n);
        let first = r.side_start(side, n);
        Place {
            side: Side(side as u8),
            place: v - first,
            of: r.side_start(side + 1, n) - first,
        }
    }

    fn side(&self, round: Round, index: u32) -> Side {
        let v = self.number_in_round(round, index);
        Side(self.round(round).side_of(v, self.sides.into()) as u8)
    }

    fn on_side(&self, round: Round, side: Side) -> u32 {
        let (n, s) = (u32::from(self.sides), u32::from(side.0));
        let r = self.round(round);
        r.side_start(s + 1, n) - r.side_start(s, n)
    }

    fn index(&self, round: Round, side: Side, place: u32) -> u32 {
        let r = self.round(round);
        let v = r.side_start(side.0.into(), self.sides.into()) + place;
        (v + r.beads - r.turn) % r.beads
    }

    fn can_be_joined(&self) -> bool {
        self.corner(self.last()) > 0
    }

    fn edge(&self, side: Side) -> u32 {
        let shared = u32::from(self.corner(self.last()) == 1);
        self.on_side(self.last(), side) + shared
    }

    fn edge_index(&self, side: Side, j: u32) -> u32 {
        let last = self.last();
        if self.corner(last) == 1 {
            // The corner bead that ends the side before begins this one.
            let first = self.index(last, side, 0);
            let t = self.in_round(last);
            (first + t - 1 + j) % t
        } else {
            self.index(last, side, j)
        }
    }

    fn begin(&self, way: WorkDirection) -> Begin {
        match way {
            WorkDirection::Outward => Begin::Ring,
            WorkDirection::Inward => Begin::FreeStart,
        }
    }

    fn work(&self, way: WorkDirection, on: Round, entry: u32) -> RoundWork<'_> {
        RoundWork::new(self, way, on, entry)
    }

    fn touching(
        &self,
        making: &Making,
        strung: u32,
        Spot { round, index: i }: Spot,
        end: End,
        found: &mut Vec<(Spot, End)>,
    ) {
        let t = self.in_round(round);
        let (next, before) = ((i + 1) % t, (i + t - 1) % t);
        let ahead = end == End::Front;
        // Work goes one way round, so a front lies against backs.
        let mut add = |round, index| found.push((Spot { round, index }, end.other()));
        // Over the gap at this end.
        if round < self.last() {
            let over = Round(round.0 + 1);
            let word = self.word(over);
            let gap = if ahead { i } else { before };
            let (first, past) = (word.beads_before(gap), word.beads_before(gap + 1));
            match (first == past, ahead) {
                (true, true) => add(round, next),
                (true, false) => add(round, before),
                (false, true) => add(over, first),
                (false, false) => add(over, past - 1),
            }
        }
        // Under it, or the neighbour in the same gap.
        let beside = if ahead { next } else { before };
        if round.0 == 1 {
            if making.begin == Begin::Ring {
                add(round, beside);
            }
            return;
        }
        let word = self.word(round);
        let gap = word.gap_of(i);
        let below = Round(round.0 - 1);
        if t > 1 && word.gap_of(beside) == gap {
            if self.is_drawn(making, strung, round, gap) {
                add(round, beside);
            }
        } else if below >= making.innermost() {
            let under = if ahead {
                (gap + 1) % self.in_round(below)
            } else {
                gap
            };
            add(below, under);
        }
    }

    fn nearest(&self, from: Spot, to: Round) -> u32 {
        let Spot {
            mut round,
            mut index,
        } = from;
        while round < to {
            round = Round(round.0 + 1);
            index = self.word(round).beads_before(index) % self.in_round(round);
        }
        while round > to {
            index = self.word(round).gap_of(index);
            round = Round(round.0 - 1);
        }
        index
    }

    fn column(&self, _: Spot) -> Option<u32> {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::corner_law::CornerLaw;

    fn law(sides: u8, rounds: u32) -> RoundPeyote {
        let law = OwnRounds::by_law(sides, rounds, &CornerLaw::usual(sides));
        RoundPeyote::new(sides, &law)
    }

    fn counts(layout: &RoundPeyote) -> Vec<u32> {
        (1..=layout.rounds())
            .map(|k| layout.in_round(Round(k)))
            .collect()
    }

    #[test]
    fn round_k_of_a_triangle_has_3k_beads_k_a_side() {
        let t = law(3, 8);
        assert_eq!(counts(&t), [3, 6, 9, 12, 15, 18, 21, 24]);
        for k in 1..=8 {
            for s in 0..3 {
                assert_eq!(t.on_side(Round(k), Side(s)), k);
            }
        }
    }

    #[test]
    fn a_triangle_begins_every_round_at_a_corner_with_the_last_side_s_half() {
        let t = law(3, 6);
        for k in 2..=6 {
            assert_eq!(t.word(Round(k)).gap(0), 2);
            let first = t.place(Round(k), 0);
            assert_eq!((first.side, first.place), (Side(2), k - 1));
            let second = t.place(Round(k), 1);
            assert_eq!((second.side, second.place), (Side(0), 0));
        }
    }

    #[test]
    fn a_hexagon_increases_in_every_third_round() {
        assert_eq!(counts(&law(6, 9)), [6, 6, 12, 12, 12, 18, 18, 18, 24]);
    }

    #[test]
    fn place_and_index_are_each_other_s_inverse() {
        for n in [3, 4, 5, 6] {
            let layout = law(n, 12);
            for k in 1..=12 {
                for i in 0..layout.in_round(Round(k)) {
                    let p = layout.place(Round(k), i);
                    assert_eq!(layout.index(Round(k), p.side, p.place), i);
                    assert!(p.place < p.of);
                }
            }
        }
    }

    /// A bead in a gap lies on the side of its two neighbours, or at the
    /// corner between their sides.
    #[test]
    fn sides_stay_where_they_are_from_round_to_round() {
        for n in [3u8, 4, 5, 6] {
            let layout = law(n, 15);
            for k in 2..=15 {
                let word = layout.word(Round(k));
                for i in 0..word.beads() {
                    let side = layout.place(Round(k), i).side;
                    let gap = word.gap_of(i);
                    let below = layout.in_round(Round(k - 1));
                    let a = layout.place(Round(k - 1), gap).side;
                    let b = layout.place(Round(k - 1), (gap + 1) % below).side;
                    assert!(side == a || side == b, "n {n} round {k} bead {i}");
                }
            }
        }
    }
}
