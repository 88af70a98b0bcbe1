//! A strip of flat peyote, stitch by stitch.
//!
//! It begins with a string of twice the width. Then every other bead of the
//! string, counted back from its end, is an up bead. Each stitch strings one
//! bead and goes through the next up bead; the beads of a row, from the last
//! back to the first, are the up beads of the next row. When an up bead was
//! strung, the needle went through it in the other direction, so now it enters
//! by the front and leaves by the back. As stitched, a gap before an up bead
//! can hold no bead or more than one.

use super::end::BeadEnd;
use super::finding::Fault;
use super::reading::ReadJob;
use super::verify_state::VerifyState;
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Round, Side};

#[derive(Debug)]
pub(super) struct StripWork {
    /// Number of beads in each row, if each gap holds one.
    beads: usize,
    /// The gaps of the rows from row 3 on, if the strip has its own.
    /// The rows from row 3 on that are as stitched: the beads of each gap, and of
    /// the row.
    words: Vec<(Vec<u8>, usize)>,
    rows: u32,
    /// Number of gaps of the current row that are done.
    gaps: usize,
    /// The current row; 2 until the string is complete.
    row: u32,
    /// The up beads to pass, in order.
    up: Vec<Bead>,
    /// The beads of the string or of the current row.
    strung: Vec<Bead>,
    /// The end at which the needle must leave.
    from: Option<BeadEnd>,
}

fn gaps_and_beads(word: &GapWord) -> (Vec<u8>, usize) {
    let gaps: Vec<u8> = word.iter().collect();
    let beads = gaps.iter().map(|beads| usize::from(*beads)).sum();
    (gaps, beads)
}

impl StripWork {
    pub fn new(beads: u32, rows: u32, words: &[GapWord]) -> Self {
        StripWork {
            beads: beads as usize,
            words: words.iter().map(gaps_and_beads).collect(),
            gaps: 0,
            rows,
            row: 2,
            up: vec![],
            strung: vec![],
            from: None,
        }
    }

    fn string(&mut self, m: &Movement, state: &mut VerifyState) {
        // The first bead will be an up bead, the second lies under row 3.
        let at = self.strung.len();
        let row = if at.is_multiple_of(2) { 2 } else { 1 };
        self.labels(m, row, state);
        state.check_old_bead(m, None);
        if m.strings.len() != 1 {
            let (expected, found) = (1, m.strings.len() as u32);
            let kind = m.kind;
            state.record(Fault::StringsWrong {
                kind,
                expected,
                found,
            });
        }
        if let Some(&last) = self.strung.last() {
            state.must_leave(BeadEnd::front(last));
        }
        self.strung.extend(&m.strings);
        state.check_counts(m, at / 2 + 1, self.beads);
        if self.strung.len() >= 2 * self.beads {
            self.end_string(state);
        }
    }

    fn end_string(&mut self, state: &mut VerifyState) {
        let string = std::mem::take(&mut self.strung);
        self.from = string.last().map(|&bead| BeadEnd::front(bead));
        self.up = string.into_iter().rev().skip(1).step_by(2).collect();
        self.row = 3;
        state.report.rounds += 2;
    }

    fn stitch(&mut self, m: &Movement, state: &mut VerifyState) {
        if self.row > self.rows {
            let gaps = self.beads as u32;
            state.record(Fault::BeyondTheRound(gaps));
            return;
        }
        self.labels(m, self.row, state);
        if let Some(from) = self.from {
            state.must_leave(from);
        }
        let own = self.word(self.row);
        let beads = own.and_then(|(gaps, _)| gaps.get(self.gaps).copied());
        state.check_fill(m, self.gaps, beads.map_or(1, usize::from));
        let next = self.up.get(self.gaps).copied();
        state.check_old_bead(m, next);
        let before = m.strings.last().map(|&bead| BeadEnd::front(bead));
        if let (Some(before), Some(next)) = (before.or(self.from), next) {
            state.draw_together(before, BeadEnd::front(next));
        }
        self.from = next.map(BeadEnd::back);
        self.strung.extend(&m.strings);
        self.gaps += 1;
        state.check_counts(m, self.strung.len(), self.in_row(self.row));
        if self.gaps >= self.up.len() {
            self.up = std::mem::take(&mut self.strung);
            self.up.reverse();
            self.row += 1;
            self.gaps = 0;
            state.report.rounds += 1;
        }
    }

    fn in_row(&self, row: u32) -> usize {
        self.word(row).map_or(self.beads, |(_, beads)| *beads)
    }

    fn word(&self, row: u32) -> Option<&(Vec<u8>, usize)> {
        self.words.get(row.checked_sub(3)? as usize)
    }

    fn labels(&self, m: &Movement, row: u32, state: &mut VerifyState) {
        state.check_round(m, Round(row));
        state.check_side(m, Side(0));
    }
}

impl ReadJob for StripWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        match (m.kind, self.row) {
            (Kind::Ring, 2) => self.string(m, state),
            (Kind::Stitch, 2) => {
                state.check_round_holds(2 * self.beads, self.strung.len());
                self.end_string(state);
                self.stitch(m, state);
            }
            (Kind::Stitch | Kind::Increase | Kind::Decrease, row) if row > 2 => {
                self.stitch(m, state)
            }
            (_, 2) => state.unexpected(m, Some(Kind::Ring)),
            (_, row) => state.unexpected(m, (row <= self.rows).then_some(Kind::Stitch)),
        }
    }

    fn count(&self, m: &Movement, state: &mut VerifyState) {
        let row = m.round.filter(|row| (1..=self.rows).contains(&row.0));
        let beads = row.map_or(0, |row| self.in_row(row.0));
        state.check_counts(m, beads, beads);
    }

    fn finish(&mut self, state: &mut VerifyState) {
        if self.row <= self.rows || self.gaps > 0 {
            state.record(Fault::JobUnfinished);
        }
    }
}
