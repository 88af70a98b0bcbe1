//! Rounds unrolled: how the beads of a panel near the needle lie side by side.
//!
//! A round is cut open and laid out straight, and the rounds on both sides of
//! it follow bead by bead: a bead lies midway between the two that it touches.
//! So along a side the picture is true; at a corner the rounds nearer to the
//! middle leave a wedge, as a cut-open panel does.
//!
//! ```text
//!   round 4   [ ]   [ ]   [ ][ ]   [ ]   [ ]       the corner pair side by side
//!   round 3      [ ]   [ ]      [ ]   [ ]
//!   round 2         [ ]            [ ]
//! ```
//!
//! Only what is near the needle is computed, so the size of the piece does not
//! matter.

use crate::beadwork::Round;
use crate::beadwork::panel::{PanelLayout, Spot};

/// Half the length of a bead: the unit of positions along the round.
pub type Half = i32;

/// One length of a bead.
pub const LENGTH: Half = 2;

/// A stretch of one round, laid out straight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoundStretch {
    pub round: Round,
    /// Beads in working order: the index, and the position of the middle. The
    /// index continues past the end of the round, or below 0, because the round
    /// is a circle; see [`RoundStretch::index`].
    pub beads: Vec<(i64, Half)>,
    /// Number of beads of the whole round.
    whole: u32,
}

impl RoundStretch {
    /// The index within the round.
    pub fn index(&self, unrolled: i64) -> u32 {
        unrolled.rem_euclid(i64::from(self.whole)) as u32
    }

    /// The position of the bead with this index, if the stretch contains it.
    pub fn find(&self, index: u32) -> Option<Half> {
        let bead = self.beads.iter().find(|(u, _)| self.index(*u) == index);
        bead.map(|(_, x)| *x)
    }

    /// A round laid out on its own, with bead `focus` at 0, as far as `extent`
    /// on both sides. `over` gives the beads that lie in the gap behind a bead
    /// (index in the round) and have room there side by side.
    pub fn cut(
        kind: &PanelLayout,
        round: Round,
        focus: u32,
        extent: Half,
        over: impl Fn(u32) -> u32,
    ) -> RoundStretch {
        let whole = kind.in_round(round);
        if kind.strip().is_some() {
            let at = |index| kind.column(Spot { round, index });
            let first = at(focus).map_or(0, |column| -LENGTH * column as Half);
            return RoundStretch::row(kind, round, first, extent);
        }
        let all = i64::from(whole);
        let step = |u: i64| {
            let below = gap_below(kind, round, u + 1) - gap_below(kind, round, u);
            let over = over(u.rem_euclid(all) as u32);
            LENGTH * (1 + below.max(over.into()) as Half)
        };
        let focus = i64::from(focus);
        let mut beads = vec![(focus, 0)];
        let (mut left, mut right) = ((focus, 0), (focus, 0));
        while (beads.len() as i64) < all && (left.1 > -extent || right.1 < extent) {
            if right.1 <= -left.1 {
                right = (right.0 + 1, right.1 + step(right.0));
                beads.push(right);
            } else {
                left = (left.0 - 1, left.1 - step(left.0 - 1));
                beads.insert(0, left);
            }
        }
        RoundStretch {
            round,
            beads,
            whole,
        }
    }

    /// A row of work that lies in columns, with column 0 at `zero`, as far as
    /// `extent` on both sides of 0.
    fn row(kind: &PanelLayout, round: Round, zero: Half, extent: Half) -> RoundStretch {
        let whole = kind.in_round(round);
        let lies = |index| {
            let column = kind.column(Spot { round, index })?;
            Some((i64::from(index), zero + LENGTH * column as Half))
        };
        let near = |&(_, x): &(i64, Half)| (-extent..=extent).contains(&x);
        RoundStretch {
            round,
            beads: (0..whole).filter_map(lies).filter(near).collect(),
            whole,
        }
    }

    /// Another row of work that lies in columns, as far as this one is shown.
    fn beside(&self, kind: &PanelLayout, round: Round) -> Option<RoundStretch> {
        let &(first, x) = self.beads.first()?;
        let (_, end) = self.beads.last()?;
        let index = first as u32;
        let column = kind.column(Spot {
            round: self.round,
            index,
        })?;
        let extent = x.abs().max(end.abs()) + LENGTH;
        Some(RoundStretch::row(
            kind,
            round,
            x - LENGTH * column as Half,
            extent,
        ))
    }

    /// The next round towards the middle, as far as this stretch determines its
    /// position.
    pub fn inner(&self, kind: &PanelLayout) -> Option<RoundStretch> {
        if self.round.0 < 2 {
            return None;
        }
        let round = Round(self.round.0 - 1);
        if kind.strip().is_some() {
            return self.beside(kind, round);
        }
        let whole = kind.in_round(round);
        // The first and the last bead above each gap, in order.
        let mut gaps: Vec<(i64, Half, Half)> = vec![];
        for &(u, x) in &self.beads {
            let gap = gap_below(kind, self.round, u);
            match gaps.last_mut() {
                Some(last) if last.0 == gap => last.2 = x,
                _ => gaps.push((gap, x, x)),
            }
        }
        let mut beads = vec![];
        let (first, last) = (gaps.first()?, gaps.last()?);
        // A pair cut by the end of the stretch keeps its room.
        let cut =
            |u: i64, to: i64| gap_below(kind, self.round, to) == gap_below(kind, self.round, u);
        let (start, end) = (self.beads[0].0, self.beads[self.beads.len() - 1].0);
        let room = |cut: bool| if cut { 2 * LENGTH } else { LENGTH };
        beads.push((first.0, first.1 - room(cut(start, start - 1))));
        for pair in gaps.windows(2) {
            let ((left, _, x), (right, y, _)) = (pair[0], pair[1]);
            if right - left == 1 {
                beads.push((right, (x + y) / 2));
            } else {
                // Nothing lies above the gaps in between: the beads are drawn
                // together there.
                beads.push((left + 1, x + LENGTH));
                for between in left + 2..right {
                    beads.push((between, x + LENGTH * (between - left) as Half));
                }
                beads.push((right, y - LENGTH));
            }
        }
        beads.push((last.0 + 1, last.2 + room(cut(end, end + 1))));
        // A whole circle would show its ends twice.
        while beads.len() > whole as usize {
            if -beads[0].1 > beads[beads.len() - 1].1 {
                beads.remove(0);
            } else {
                beads.pop();
            }
        }
        Some(RoundStretch {
            round,
            beads,
            whole,
        })
    }

    /// The next round away from the middle, as far as this stretch determines
    /// its position. Each half of a corner pair stays with its own neighbour,
    /// however near together the two sides are drawn.
    pub fn outer(&self, kind: &PanelLayout) -> Option<RoundStretch> {
        if self.round >= kind.last() {
            return None;
        }
        let round = Round(self.round.0 + 1);
        if kind.strip().is_some() {
            return self.beside(kind, round);
        }
        let (whole, word) = (kind.in_round(round), kind.word(round));
        let mut beads = vec![];
        for pair in self.beads.windows(2) {
            let ((u, x), (_, y)) = (pair[0], pair[1]);
            let gap = self.index(u);
            let times = u.div_euclid(i64::from(self.whole));
            let first = i64::from(word.beads_before(gap)) + times * i64::from(whole);
            match word.gap(gap) {
                0 => {}
                1 if y - x >= 2 * LENGTH => beads.push((first, (x + y) / 2)),
                1 => beads.push((first, x + LENGTH)),
                _ => beads.extend([(first, x + LENGTH), (first + 1, y - LENGTH)]),
            }
        }
        Some(RoundStretch {
            round,
            beads,
            whole,
        })
    }
}

/// The gap of the round below in which a bead lies, unrolled like the bead. A
/// ring lies over nothing, so it has a gap for each bead.
fn gap_below(kind: &PanelLayout, round: Round, unrolled: i64) -> i64 {
    let whole = i64::from(kind.in_round(round));
    if round.0 < 2 {
        return unrolled;
    }
    let word = kind.word(round);
    let gap = word.gap_of(unrolled.rem_euclid(whole) as u32);
    i64::from(gap) + unrolled.div_euclid(whole) * i64::from(word.gaps())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::Side;
    use crate::beadwork::testing;

    fn triangle(rounds: u32) -> PanelLayout {
        PanelLayout::new(&testing::panel(3, rounds))
    }

    /// Neighbouring beads of a round are two lengths apart, those of a corner
    /// pair one; each bead below lies under the middle of a gap.
    #[test]
    fn a_side_of_a_triangle_lies_in_brick_order() {
        let kind = triangle(6);
        let focus = kind.index(Round(6), Side(0), 0);
        let top = RoundStretch::cut(&kind, Round(6), focus, 24, |_| 0);
        let at = |s: &RoundStretch, side: u8, place| {
            let index = kind.index(s.round, Side(side), place);
            s.find(index).unwrap()
        };
        let xs: Vec<_> = (0..6).map(|p| at(&top, 0, p)).collect();
        assert_eq!(xs, [0, 4, 8, 12, 16, 20]);
        assert_eq!(at(&top, 2, 5), -2, "the other half of the corner pair");
        let below = top.inner(&kind).unwrap();
        let xs: Vec<_> = (0..5).map(|p| at(&below, 0, p)).collect();
        assert_eq!(xs, [2, 6, 10, 14, 18]);
        let third = below.inner(&kind).unwrap();
        assert_eq!(at(&third, 0, 0), 4);
    }

    /// In every panel, each bead touches the two beads on both sides of its
    /// gap.
    #[test]
    fn every_bead_lies_between_the_two_that_it_touches() {
        for sides in [3u8, 4, 5, 6] {
            let kind = PanelLayout::new(&testing::panel(sides, 13));
            for k in 2..=13 {
                let round = Round(k);
                for focus in 0..kind.in_round(round) {
                    let top = RoundStretch::cut(&kind, round, focus, 12, |_| 0);
                    let low = top.inner(&kind).unwrap();
                    for &(u, x) in &top.beads {
                        let gap = gap_below(&kind, round, u);
                        let find = |b: i64| low.beads.iter().find(|(v, _)| *v == b);
                        if let (Some(a), Some(b)) = (find(gap), find(gap + 1)) {
                            assert!(a.1 < x && x < b.1, "n {sides} k {k} {top:?} {low:?}");
                            let pair = kind.word(round).gap(top_gap(&kind, gap, k)) == 2;
                            assert_eq!(b.1 - a.1, if pair { 6 } else { 4 });
                        }
                    }
                }
            }
        }
    }

    fn top_gap(kind: &PanelLayout, gap: i64, k: u32) -> u32 {
        gap.rem_euclid(i64::from(kind.in_round(Round(k - 1)))) as u32
    }

    /// Rows of a strip lie in columns and do not continue round the edge.
    #[test]
    fn rows_of_a_strip_lie_in_columns_whatever_bead_is_in_the_middle() {
        let kind = PanelLayout::new(&testing::strip(5, 8));
        for focus in 0..5 {
            let top = RoundStretch::cut(&kind, Round(4), focus, 100, |_| 0);
            let low = top.inner(&kind).unwrap();
            let high = top.outer(&kind).unwrap();
            let zero = top.find(focus).unwrap() - 4 * focus as Half;
            assert_eq!(top.find(focus), Some(0));
            for (stretch, first) in [(&top, zero), (&low, zero + LENGTH), (&high, zero + LENGTH)] {
                let beads = (0..5)
                    .map(|i| (i, first + 4 * i as Half))
                    .collect::<Vec<_>>();
                assert_eq!(stretch.beads, beads, "{focus}");
            }
        }
        assert_eq!(
            RoundStretch::cut(&kind, Round(8), 0, 8, |_| 0).beads.len(),
            3
        );
    }

    #[test]
    fn no_bead_is_shown_twice() {
        let kind = triangle(3);
        for k in 1..=3 {
            let top = RoundStretch::cut(&kind, Round(k), 0, 1000, |_| 0);
            assert_eq!(top.beads.len() as u32, kind.in_round(Round(k)));
            let mut stretch = top;
            while let Some(next) = stretch.inner(&kind) {
                assert_eq!(next.beads.len() as u32, kind.in_round(next.round));
                stretch = next;
            }
        }
    }

    #[test]
    fn outward_is_the_inverse_of_inward_along_a_side() {
        let kind = triangle(8);
        let focus = kind.index(Round(5), Side(1), 2);
        let middle = RoundStretch::cut(&kind, Round(5), focus, 6, |_| 0);
        let outer = middle.outer(&kind).unwrap();
        let back = outer.inner(&kind).unwrap();
        for place in 1..4 {
            let index = kind.index(Round(5), Side(1), place);
            assert_eq!(middle.find(index), back.find(index));
        }
    }
}
