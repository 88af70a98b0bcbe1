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
    made: Vec<Bead>,
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
            made: vec![],
            from: None,
        }
    }

    pub fn read(&mut self, m: &Movement, book: &mut VerifyState) {
        match (m.kind, self.row) {
            (Kind::Ring, 2) => self.string(m, book),
            (Kind::Stitch, 2) => {
                let (expected, found) = (2 * self.beads as u32, self.made.len() as u32);
                book.find(Fault::RoundHolds { expected, found });
                self.end_string(book);
                self.stitch(m, book);
            }
            (Kind::Stitch | Kind::Increase | Kind::Decrease, row) if row > 2 => {
                self.stitch(m, book)
            }
            (found, row) => {
                let expected = match row {
                    2 => Some(Kind::Ring),
                    row if row <= self.rows => Some(Kind::Stitch),
                    _ => None,
                };
                book.find(Fault::Unexpected { expected, found });
            }
        }
    }

    fn string(&mut self, m: &Movement, book: &mut VerifyState) {
        // The first bead will be an up bead, the second lies under row 3.
        let at = self.made.len();
        let row = if at.is_multiple_of(2) { 2 } else { 1 };
        self.labels(m, row, book);
        book.passes_old(m, None);
        if m.strings.len() != 1 {
            let (expected, found) = (1, m.strings.len() as u32);
            let kind = m.kind;
            book.find(Fault::StringsWrong {
                kind,
                expected,
                found,
            });
        }
        if let Some(&last) = self.made.last() {
            book.must_leave(BeadEnd::front(last));
        }
        self.made.extend(&m.strings);
        book.counts(m, at / 2 + 1, self.beads);
        if self.made.len() >= 2 * self.beads {
            self.end_string(book);
        }
    }

    fn end_string(&mut self, book: &mut VerifyState) {
        let string = std::mem::take(&mut self.made);
        self.from = string.last().map(|&bead| BeadEnd::front(bead));
        self.up = string.into_iter().rev().skip(1).step_by(2).collect();
        self.row = 3;
        book.report.rounds += 2;
    }

    fn stitch(&mut self, m: &Movement, book: &mut VerifyState) {
        if self.row > self.rows {
            let gaps = self.beads as u32;
            book.find(Fault::BeyondTheRound { gaps });
            return;
        }
        self.labels(m, self.row, book);
        if let Some(from) = self.from {
            book.must_leave(from);
        }
        let own = self.word(self.row);
        let beads = own.and_then(|(gaps, _)| gaps.get(self.gaps).copied());
        book.fills(m, self.gaps, beads.map_or(1, usize::from));
        let next = self.up.get(self.gaps).copied();
        book.passes_old(m, next);
        let before = m.strings.last().map(|&bead| BeadEnd::front(bead));
        if let (Some(before), Some(next)) = (before.or(self.from), next) {
            book.draw(before, BeadEnd::front(next));
        }
        self.from = next.map(BeadEnd::back);
        self.made.extend(&m.strings);
        self.gaps += 1;
        book.counts(m, self.made.len(), self.in_row(self.row));
        if self.gaps >= self.up.len() {
            self.up = std::mem::take(&mut self.made);
            self.up.reverse();
            self.row += 1;
            self.gaps = 0;
            book.report.rounds += 1;
        }
    }

    fn in_row(&self, row: u32) -> usize {
        self.word(row).map_or(self.beads, |(_, beads)| *beads)
    }

    fn word(&self, row: u32) -> Option<&(Vec<u8>, usize)> {
        self.words.get(row.checked_sub(3)? as usize)
    }

    fn labels(&self, m: &Movement, row: u32, book: &mut VerifyState) {
        if m.round != Some(Round(row)) {
            let expected = Round(row);
            book.find(Fault::RoundNumber { expected });
        }
        if m.side != Some(Side(0)) {
            let (expected, found) = (Side(0), m.side);
            book.find(Fault::SideNumber { expected, found });
        }
    }

    /// Checks a count of a row in the steps.
    pub fn count(&self, m: &Movement, book: &mut VerifyState) {
        let row = m.round.filter(|row| (1..=self.rows).contains(&row.0));
        let beads = row.map_or(0, |row| self.in_row(row.0));
        book.counts(m, beads, beads);
    }

    pub fn finish(&self, book: &mut VerifyState) {
        if self.row <= self.rows || self.gaps > 0 {
            book.find(Fault::JobUnfinished);
        }
    }
}
