//! A strip: flat peyote of even count, in rows to and fro.
//!
//! A string of twice the width is rows 1 and 2 together. Then the needle turns
//! and works back, a bead for each up bead of the row before, and turns again
//! at the other edge: the last stitch of a row goes through the up bead at the
//! edge, so the turn is no movement of its own.
//!
//! ```text
//!     column   1   2   3   4   5   6
//!     row 5       [ ]     [ ]     [ ]   worked back: column 6, 4, 2
//!     row 4   [ ]     [ ]     [ ]       worked forth: column 1, 3, 5
//!     row 3       [ ]     [ ]     [ ]   worked back
//!     row 2   [ ]     [ ]     [ ]       strung together, from column 1:
//!     row 1       [ ]     [ ]     [ ]   row 2, row 1, row 2, row 1 …
//! ```
//!
//! Beads of a row are indexed from 0 along the row from the edge where the
//! string begins, whichever way the row is worked. Even count only: a strip
//! with an odd number of columns needs a turn of its own at one edge. Common
//! practice, no source.
//!
//! From row 3 on a gap can hold other than one bead, as stitched: two make the
//! strip wider from there on, none draws the beads beside it together. Gap `j` of
//! a row lies before the `j`-th up bead that the needle goes through, from 0.

use super::{End, PanelLayout, Round, RoundWork, Spot};
use glam::DVec2;

/// A panel as a strip.
#[derive(Clone, Copy, Debug)]
pub struct Strip<'a> {
    layout: &'a PanelLayout,
    /// Beads of the widest row.
    widest: u32,
}

/// Which way a row is worked: forth, away from the edge where the string
/// begins, or back.
pub(super) fn is_worked_back(row: Round) -> bool {
    row.0 > 2 && row.0 % 2 == 1
}

impl<'a> Strip<'a> {
    pub(super) fn of(layout: &'a PanelLayout, widest: u32) -> Strip<'a> {
        Strip { layout, widest }
    }

    fn rows(&self) -> u32 {
        self.layout.rounds()
    }

    /// Whether one bead lies in each gap.
    pub fn is_plain(&self) -> bool {
        self.layout.beads() == self.widest * self.rows()
    }

    /// Columns: twice the beads of its widest row.
    pub fn columns(&self) -> u32 {
        2 * self.widest
    }

    /// The column of a bead, from 1. The beads of a narrower row are spread over
    /// the width.
    pub fn column_of(&self, at: Spot) -> u32 {
        (self.along(at) * f64::from(self.columns())) as u32 + 1
    }

    /// How far along the width the middle of a bead lies, from 0 to 1.
    fn along(&self, at: Spot) -> f64 {
        let column = f64::from(2 * at.index + at.round.0 % 2) + 0.5;
        column / f64::from(2 * self.layout.in_round(at.round))
    }

    /// How wide and how high it lies, of beads so long and so wide, mm. Rows
    /// lie half a bead apart, since each fills the gaps of the one before.
    pub fn size(&self, bead: DVec2) -> DVec2 {
        let high = f64::from(self.rows() + 1) / 2.0;
        DVec2::new(f64::from(self.columns()), high) * bead
    }

    /// The size of a bead, as parts of the strip's width and height.
    pub fn cell(&self) -> DVec2 {
        1.0 / DVec2::new(f64::from(self.columns()), f64::from(self.rows() + 1) / 2.0)
    }

    /// The middle of a bead, as parts of the width and of the height from the
    /// lower left, where the string begins.
    pub fn middle(&self, at: Spot) -> DVec2 {
        let up = f64::from(at.round.0) / f64::from(self.rows() + 1);
        DVec2::new(self.along(at), up)
    }

    /// The bead at a point, given as [`Strip::middle`] gives it; none beside
    /// the strip, or in a gap of its first or last row.
    pub fn at(&self, point: DVec2) -> Option<Spot> {
        let column = (point.x * f64::from(self.columns())).floor() + 1.0;
        if !(1.0..=f64::from(self.columns())).contains(&column) {
            return None;
        }
        if !self.is_plain() {
            return self.at_own(point);
        }
        // Even columns hold rows 1, 3, 5 …, odd ones rows 2, 4, 6 …
        let column = column as u32;
        let lowest = f64::from(1 + column % 2);
        let height = point.y * f64::from(self.rows() + 1);
        let row = lowest + 2.0 * ((height - lowest) / 2.0).round();
        let is_there = row >= 1.0 && row <= f64::from(self.rows());
        is_there.then(|| Spot {
            round: Round(row as u32),
            index: (column - 1) / 2,
        })
    }

    /// The same where rows are not all as wide: of the rows that reach there the
    /// one whose bead lies nearest.
    fn at_own(&self, point: DVec2) -> Option<Spot> {
        let height = point.y * f64::from(self.rows() + 1);
        let near = [1.0, 2.0].map(|lowest: f64| lowest + 2.0 * ((height - lowest) / 2.0).round());
        let rows = near
            .into_iter()
            .filter(|row| (1.0..=f64::from(self.rows())).contains(row));
        let spots = rows.map(|row| {
            let round = Round(row as u32);
            let beads = self.layout.in_round(round);
            let index = point.x * f64::from(beads) - f64::from(round.0 % 2) / 2.0;
            let index = (index.max(0.0) as u32).min(beads - 1);
            Spot { round, index }
        });
        let far = |at: &Spot| {
            let apart = (self.along(*at) - point.x).abs();
            apart * f64::from(2 * self.layout.in_round(at.round))
        };
        spots
            .map(|at| (far(&at), at))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .filter(|(far, _)| *far <= 1.0)
            .map(|(_, at)| at)
    }
}

/// The bead at the edge where the needle turns behind a row, and the end
/// by which it leaves there.
pub(super) fn turn_behind(kind: &PanelLayout, row: Round) -> (Spot, End) {
    let far = !is_worked_back(row);
    // A row goes to its edge by the last up bead of the row before it; the
    // string ends in a bead of row 1.
    let round = Round(row.0.max(2) - 1);
    let index = if far { kind.in_round(round) - 1 } else { 0 };
    let end = match far == is_worked_back(round) {
        true => End::Back,
        false => End::Front,
    };
    (Spot { round, index }, end)
}

/// What lies over an end of a bead: in the next row, or, where thread turns round
/// the edge, in the row after that.
fn over(kind: &PanelLayout, Spot { round, index }: Spot, end: End) -> Option<(Spot, End)> {
    let (row, beads) = (round.0, kind.in_round(round));
    let first_of = |row: u32| {
        let is_there = row <= kind.rounds();
        is_there.then(|| {
            (
                of_row(row, RoundWork::row(kind, Round(row - 1)).new_bead(0)),
                End::Back,
            )
        })
    };
    if row == 1 {
        let is_turn = end == End::Front && index + 1 == beads;
        return is_turn.then(|| first_of(3))?;
    }
    if row == kind.rounds() {
        return None;
    }
    let passed = match is_worked_back(Round(row + 1)) {
        true => beads - 1 - index,
        false => index,
    };
    let gap = match end {
        End::Front => passed,
        End::Back => passed + 1,
    };
    if gap == beads {
        return first_of(row + 2);
    }
    let above = RoundWork::row(kind, round);
    let (before, in_gap) = above.gap(gap);
    Some(match (end, in_gap) {
        (End::Front, 0) => (of_row(row, above.old_bead(gap)), End::Back),
        (End::Back, 0) => (of_row(row, above.old_bead(gap + 1)), End::Front),
        (End::Front, _) => (
            of_row(row + 1, above.new_bead(before + in_gap - 1)),
            End::Front,
        ),
        (End::Back, _) => (of_row(row + 1, above.new_bead(before)), End::Back),
    })
}

/// What an end of a bead touches of the row before or of its own gap.
fn under(kind: &PanelLayout, Spot { round, index }: Spot, end: End) -> Option<(Spot, End)> {
    let (row, beads) = (round.0, kind.in_round(round));
    if row <= 2 {
        // As they are strung: row 2, row 1, row 2 …
        let strung = |s: u32| of_row(2 - s % 2, s / 2);
        let s = 2 * index + row % 2;
        return match end {
            End::Back if s > 0 => Some((strung(s - 1), End::Front)),
            End::Front if s + 1 < 2 * beads => Some((strung(s + 1), End::Back)),
            _ => None,
        };
    }
    let work = RoundWork::row(kind, Round(row - 1));
    let n = work.nth_of(index);
    let gap = work.gap_of_new(n);
    let (before, in_gap) = work.gap(gap);
    Some(match end {
        End::Back if n > before => (of_row(row, work.new_bead(n - 1)), End::Front),
        End::Back if gap == 0 => turn_behind(kind, Round(row - 1)),
        End::Back => (of_row(row - 1, work.old_bead(gap)), End::Back),
        End::Front if n + 1 < before + in_gap => (of_row(row, work.new_bead(n + 1)), End::Back),
        End::Front => (of_row(row - 1, work.old_bead(gap + 1)), End::Front),
    })
}

fn of_row(row: u32, index: u32) -> Spot {
    let round = Round(row);
    Spot { round, index }
}

/// What touches an end of a bead: see [`PanelLayout::touching`].
pub(super) fn touching(kind: &PanelLayout, at: Spot, end: End, found: &mut Vec<(Spot, End)>) {
    found.extend(over(kind, at, end));
    found.extend(under(kind, at, end));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::layout::Part;
    use crate::beadwork::{Bead, Kind, Panel, Sequence, Step, testing};

    fn strip(beads: u32, rows: u32) -> Sequence {
        Sequence::new(testing::single(testing::strip(beads, rows)))
    }

    fn column(seq: &Sequence, bead: Bead) -> (u32, u32) {
        let seat = seq.layout().seat(bead);
        let kind = seq.layout().kind(Panel(0));
        let at = Spot {
            round: seat.round,
            index: seat.index,
        };
        (seat.round.0, kind.column(at).unwrap())
    }

    /// Common practice, no source: six beads strung, then each row strings
    /// three and goes back over the one before.
    #[test]
    fn a_strip_of_six_columns_is_worked_to_and_fro() {
        let seq = strip(3, 5);
        let strung: Vec<_> = (1..=15).map(|b| column(&seq, Bead(b))).collect();
        let string = [(2, 1), (1, 2), (2, 3), (1, 4), (2, 5), (1, 6)];
        assert_eq!(strung[..6], string);
        assert_eq!(strung[6..9], [(3, 6), (3, 4), (3, 2)]);
        assert_eq!(strung[9..12], [(4, 1), (4, 3), (4, 5)]);
        assert_eq!(strung[12..], [(5, 6), (5, 4), (5, 2)]);
        let passed = |k: u32| -> Vec<_> {
            let stitches = seq.iter().filter(|m| m.kind == Kind::Stitch);
            let of_row = stitches.filter(|m| m.round == Some(Round(k)));
            of_row.map(|m| column(&seq, m.passes[1])).collect()
        };
        assert_eq!(passed(3), [(2, 5), (2, 3), (2, 1)]);
        assert_eq!(passed(4), [(3, 2), (3, 4), (3, 6)]);
        assert_eq!(passed(5), [(4, 5), (4, 3), (4, 1)]);
    }

    #[test]
    fn a_strip_has_as_many_beads_as_columns_and_rows_say() {
        for (beads, rows) in [(1, 2), (1, 5), (2, 2), (4, 9), (7, 30)] {
            let seq = strip(beads, rows);
            assert_eq!(seq.layout().beads(), beads * rows);
            let kinds = |kind| seq.iter().filter(|m| m.kind == kind).count() as u32;
            assert_eq!(kinds(Kind::Ring), 2 * beads);
            assert_eq!(kinds(Kind::Stitch), beads * (rows - 2));
            assert_eq!(kinds(Kind::StepUp), 0);
        }
    }

    #[test]
    fn every_bead_has_one_number_and_one_seat() {
        for (beads, rows) in [(1, 2), (1, 3), (2, 7), (5, 8)] {
            let seq = strip(beads, rows);
            let layout = seq.layout();
            for bead in (1..=layout.beads()).map(Bead) {
                let seat = layout.seat(bead);
                assert_eq!(seat.part, Part::Face);
                assert_eq!(layout.bead_in(seat), bead);
            }
        }
    }

    /// What touches an end is touched by it, and a needle that leaves a bead
    /// after any step leaves it by an end that the next bead touches.
    #[test]
    fn beads_touch_each_other_and_thread_goes_from_touch_to_touch() {
        let seq = strip(4, 9);
        let work = seq.work();
        let touching = work.touching();
        for bead in (1..=36).map(Bead) {
            for end in [End::Back, End::Front] {
                let hole = crate::beadwork::end::Hole { bead, end };
                for other in touching.beside(hole) {
                    assert!(touching.beside(other).contains(&hole), "{hole:?} {other:?}");
                }
            }
        }
        for done in 2..seq.steps() {
            let work = seq.work_at(Step(done));
            let next = seq.step(Step(done + 1)).unwrap();
            if next.kind != Kind::Stitch {
                continue;
            }
            let needle = work.needle().unwrap();
            let into = crate::beadwork::end::Hole::back(next.strings[0]);
            let touching = seq.work().touching();
            assert!(touching.beside(needle).contains(&into), "step {}", done + 1);
        }
    }

    #[test]
    fn the_bead_at_its_own_middle_is_found() {
        for (beads, rows) in [(1, 2), (3, 4), (5, 9)] {
            let layout = PanelLayout::new(&testing::strip(beads, rows));
            let strip = layout.strip().unwrap();
            for round in (1..=rows).map(Round) {
                for index in 0..beads {
                    let spot = Spot { round, index };
                    assert_eq!(strip.at(strip.middle(spot)), Some(spot));
                }
            }
            assert_eq!(strip.at(DVec2::new(-0.01, 0.5)), None);
            assert_eq!(strip.at(DVec2::new(0.5, 1.2)), None);
        }
    }

    /// Rows that are given gap by gap, with a bead in each, touch and lie as
    /// rows that are not given.
    #[test]
    fn rows_of_their_own_are_as_plain_ones_where_they_are_plain() {
        use crate::beadwork::gap_word::GapWord;
        use crate::beadwork::making::{Begin, Making};
        for (beads, rows) in [(3, 7), (4, 3), (2, 6)] {
            let word = GapWord::new(vec![1; beads as usize]);
            let words = vec![word; rows as usize - 2];
            let layouts = [vec![], words].map(|words| {
                let growth = crate::beadwork::project::Growth::Rows { beads, words };
                PanelLayout::grown(1, rows, &growth)
            });
            let making = Making::new(&layouts[0], Begin::TwoRows, 0);
            for round in (1..=rows).map(Round) {
                for index in 0..beads {
                    let at = Spot { round, index };
                    let [plain, own] = [0, 1].map(|nth| {
                        let (layout, strip) = (&layouts[nth], layouts[nth].strip().unwrap());
                        assert_eq!(strip.at(strip.middle(at)), Some(at));
                        let mut found = vec![];
                        for end in [End::Back, End::Front] {
                            let mut here = vec![];
                            layout.touching(&making, u32::MAX, at, end, &mut here);
                            here.sort_by_key(|(spot, end)| {
                                (spot.round, spot.index, *end == End::Front)
                            });
                            found.push(here);
                        }
                        (found, strip.column_of(at), strip.middle(at))
                    });
                    assert_eq!(plain.0, own.0, "{at:?}");
                    assert_eq!(plain.1, own.1, "{at:?}");
                    assert!((plain.2 - own.2).length() < 1e-9);
                }
            }
        }
    }
}
