//! A panel: a flat face of n sides, as a layout of rounds.
//!
//! The layout is the same whichever way the panel is worked. Rounds are
//! numbered from 1 in the middle; the beads of a round are indexed from 0 in
//! the order in which outward work strings them.
//!
//! ```text
//!            side 2 of a triangle, rounds 1 to 4
//!       [ ] [ ] [ ] [ ]        round 4: four high beads, the edge
//!         [ ] [ ] [ ]          round 3
//!           [ ] [ ]            round 2: the two halves of its corner pairs
//!             [ ]              round 1, the ring
//! ```

use super::corner_law::{CornerLaw, Start};
use super::gap_word::GapWord;
use super::number::{Round, Side};
use super::project::{Growth, PanelSpec};

/// The layout of one kind of panel.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelLayout {
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
}

/// Where a bead lies in its round, all from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Its side.
    pub side: Side,
    /// Its place on that side.
    pub place: u32,
    /// Beads that the side has in this round.
    pub of: u32,
}

impl PanelLayout {
    /// Lays out a panel as its spec says.
    ///
    /// The spec has been checked: at least one round, and words that fit.
    pub fn new(spec: &PanelSpec) -> Self {
        Self::grown(spec.sides, spec.rounds, &spec.growth)
    }

    /// Lays out a panel of so many sides and rounds by what makes it grow.
    pub fn grown(sides: u8, rounds: u32, growth: &Growth) -> Self {
        match growth {
            Growth::Law(law) => Self::by_law(sides, rounds, law),
            Growth::Words { ring, words } => Self::by_words(sides, *ring, words),
        }
    }

    fn by_law(sides: u8, rounds: u32, law: &CornerLaw) -> Self {
        let n = u32::from(sides);
        let mut layout = PanelLayout {
            sides,
            rounds: Vec::with_capacity(rounds as usize),
        };
        let mut shape = Blocks::ring(n, law.start());
        layout.push(GapWord::default(), n, shape.turn(), shape.corner);
        for k in 2..=rounds {
            let (word, next) = shape.grow(law.corner(k));
            let beads = word.beads();
            shape = next;
            layout.push(word, beads, shape.turn(), shape.corner);
        }
        layout
    }

    fn by_words(sides: u8, ring: u32, words: &[GapWord]) -> Self {
        let mut layout = PanelLayout {
            sides,
            rounds: Vec::with_capacity(words.len() + 1),
        };
        layout.push(GapWord::default(), ring, 0, 0);
        for word in words {
            layout.push(word.clone(), word.beads(), 0, 0);
        }
        layout
    }

    fn push(&mut self, word: GapWord, beads: u32, turn: u32, corner: u8) {
        let before = self.beads();
        self.rounds.push(RoundLayout {
            beads,
            before,
            word,
            turn: turn % beads.max(1),
            corner,
        });
    }

    /// How many sides.
    pub fn sides(&self) -> u8 {
        self.sides
    }

    /// How many rounds the layout has.
    pub fn rounds(&self) -> u32 {
        self.rounds.len() as u32
    }

    /// The outermost round.
    pub fn last(&self) -> Round {
        Round(self.rounds())
    }

    /// All beads of the layout.
    pub fn beads(&self) -> u32 {
        self.rounds.last().map_or(0, |r| r.before + r.beads)
    }

    fn round(&self, round: Round) -> &RoundLayout {
        &self.rounds[round.0 as usize - 1]
    }

    /// Beads in a round.
    pub fn in_round(&self, round: Round) -> u32 {
        self.round(round).beads
    }

    /// Beads in the rounds before a round; `round` may be one past the last.
    pub fn before(&self, round: Round) -> u32 {
        match self.rounds.get(round.0 as usize - 1) {
            Some(r) => r.before,
            None => self.beads(),
        }
    }

    /// The word by which a round grows on the one before it (rounds 2 and on).
    pub fn word(&self, round: Round) -> &GapWord {
        &self.round(round).word
    }

    /// Beads at each corner of a round; 0 for rounds of own gap words.
    pub fn corner(&self, round: Round) -> u8 {
        self.round(round).corner
    }

    /// Where bead `index` of a round lies.
    pub fn place(&self, round: Round, index: u32) -> Place {
        let beads = self.round(round).beads;
        let v = self.number_in_round(round, index);
        let n = u32::from(self.sides);
        let side = v * n / beads;
        let first = side_start(side, n, beads);
        Place {
            side: Side(side as u8),
            place: v - first,
            of: side_start(side + 1, n, beads) - first,
        }
    }

    /// The side on which bead `index` of a round lies.
    pub fn side(&self, round: Round, index: u32) -> Side {
        let v = self.number_in_round(round, index);
        Side((v * u32::from(self.sides) / self.round(round).beads) as u8)
    }

    /// A bead's number in its round, counted from side 0, place 0.
    fn number_in_round(&self, round: Round, index: u32) -> u32 {
        let r = self.round(round);
        match index + r.turn {
            v if v >= r.beads => v - r.beads,
            v => v,
        }
    }

    /// Beads that a side has in a round.
    pub fn on_side(&self, round: Round, side: Side) -> u32 {
        let (n, s) = (u32::from(self.sides), u32::from(side.0));
        let beads = self.in_round(round);
        side_start(s + 1, n, beads) - side_start(s, n, beads)
    }

    /// The index of the bead at a place (from 0) of a side. Places past the
    /// side's end go on along the next side.
    pub fn index(&self, round: Round, side: Side, place: u32) -> u32 {
        let r = self.round(round);
        let v = side_start(u32::from(side.0), u32::from(self.sides), r.beads) + place;
        (v + r.beads - r.turn) % r.beads
    }

    /// Whether sides of this panel can be joined: the last round ends in
    /// corner pairs or corner beads, so that each side has a bead at both
    /// ends.
    pub fn can_be_joined(&self) -> bool {
        self.corner(self.last()) > 0
    }

    /// High beads along a side of the finished panel, both ends counted. A
    /// corner bead ends one side and begins the next, and counts on both.
    pub fn edge(&self, side: Side) -> u32 {
        let shared = u32::from(self.corner(self.last()) == 1);
        self.on_side(self.last(), side) + shared
    }

    /// The index in the last round of high bead `j` (from 0) of a side.
    pub fn edge_index(&self, side: Side, j: u32) -> u32 {
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

    /// The side after a side, in working direction.
    pub fn next_side(&self, side: Side) -> Side {
        Side((side.0 + 1) % self.sides)
    }

    /// The side before a side.
    pub fn side_before(&self, side: Side) -> Side {
        Side((side.0 + self.sides - 1) % self.sides)
    }
}

/// The first bead of side `s` (from 0) when `beads` are shared out over n
/// sides; `s` may be n.
fn side_start(s: u32, n: u32, beads: u32) -> u32 {
    (s * beads).div_ceil(n)
}

/// A round by a corner law: n blocks of `side` beads and then `corner` beads.
/// `off` is the block index of the round's first bead.
#[derive(Clone, Copy)]
struct Blocks {
    n: u32,
    side: u32,
    corner: u8,
    off: u32,
}

impl Blocks {
    /// The ring. Its first bead belongs to the last side, so that the first
    /// side is the first to be whole in every round after.
    fn ring(n: u32, start: Start) -> Self {
        Blocks {
            n,
            side: u32::from(start == Start::Sides),
            corner: start.corner(),
            off: n - 1,
        }
    }

    fn block(self) -> u32 {
        self.side + u32::from(self.corner)
    }

    /// Each half of a corner pair counts to its own side, so the second half
    /// is place 0 of the next.
    fn turn(self) -> u32 {
        self.off + u32::from(self.corner == 2)
    }

    /// Where in a block the corner gap follows, if the corner is a gap.
    fn corner_gap_after(self) -> Option<u32> {
        match self.corner {
            0 => Some(self.side - 1),
            2 => Some(self.side),
            _ => None,
        }
    }

    /// The next round, with `corner` beads at each corner, and its word in
    /// working order.
    fn grow(self, corner: u8) -> (GapWord, Blocks) {
        let side = match self.corner {
            0 => self.side - 1,
            _ => self.side + 1,
        };
        let next = Blocks {
            side,
            corner,
            ..self
        };
        let (block, gap) = (self.block(), self.corner_gap_after());
        let mut word = GapWord::default();
        let mut u = self.off;
        let mut left = block * self.n;
        while left > 0 {
            let at = u % block;
            let plain = match gap {
                Some(g) if at == g => {
                    word.push(corner, 1);
                    u += 1;
                    left -= 1;
                    continue;
                }
                Some(g) if at < g => g - at,
                _ => block - at,
            };
            let plain = plain.min(left);
            word.push(1, plain);
            u += plain;
            left -= plain;
        }
        let off = self.first_over(next);
        (word, Blocks { off, ..next })
    }

    /// The block index, in the next round, of the first bead over the gap
    /// that follows this round's first bead.
    fn first_over(self, next: Blocks) -> u32 {
        let (s, at) = (self.off / self.block(), self.off % self.block());
        if self.corner_gap_after() == Some(at) {
            return s * next.block() + next.side;
        }
        let last_corner_bead = self.corner > 0 && at + 1 == self.block();
        match (last_corner_bead, self.corner) {
            (true, _) => (s + 1) % self.n * next.block(),
            (false, 0) => s * next.block() + at,
            (false, _) => s * next.block() + at + 1,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn law(sides: u8, rounds: u32) -> PanelLayout {
        PanelLayout::by_law(sides, rounds, &CornerLaw::usual(sides))
    }

    fn counts(layout: &PanelLayout) -> Vec<u32> {
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
