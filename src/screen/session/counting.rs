//! Counting: what is counted, the answer, and what the maker does about it.
//!
//! ```text
//! count -> answer -> a cause -> its mend -> unpick, move, count again
//!                 \-> keep: as stitched
//! ```

use super::{Pane, Session};
use crate::beadwork::number::{Side, Step};
use crate::beadwork::plural;
use crate::count::{self, Answer, Cause, Kept, Mend, Place, Question, Verdict};
use crate::progress::{Check, Did, Entry};

/// Letters in a count at the most: a number for each of twelve sides.
const LONGEST_COUNT: usize = 60;

/// A count that was compared.
#[derive(Clone, Debug, PartialEq)]
pub struct Answered {
    /// What was counted.
    pub question: Question,
    /// The count of each side, if each was counted by itself.
    pub sides: Option<Vec<u32>>,
    /// The answer.
    pub answer: Answer,
    /// The cause that the maker is at, from 0.
    pub cause: usize,
    /// The place of the cause that the maker is at; 0 is any of them.
    pub place: usize,
}

impl Answered {
    /// The cause that the maker is at.
    pub fn cause(&self) -> Option<&Cause> {
        self.answer.causes.get(self.cause)
    }

    /// Its place, if the maker named one or there is only one.
    pub fn place(&self) -> Option<&Place> {
        match self.cause()?.places.as_slice() {
            [only] => Some(only),
            places => places.get(self.place.checked_sub(1)?),
        }
    }

    /// Places to choose from, any of them counted; 0 if there is no choice.
    pub fn choices(&self) -> usize {
        match self.cause().map_or(0, |c| c.places.len()) {
            0 | 1 => 0,
            places => places + 1,
        }
    }

    /// Whether the maker may keep what was counted, as stitched.
    pub fn may_be_kept(&self) -> bool {
        self.answer.verdict != Verdict::Match || self.differs_by_side()
    }

    fn differs_by_side(&self) -> bool {
        self.sides.is_some() && !self.answer.causes.is_empty()
    }
}

impl Session {
    /// The differences that the maker keeps.
    pub fn kept(&self) -> Vec<Kept> {
        let kept = self.piece.state().stitched.iter();
        kept.filter_map(|s| Kept::of_job(&self.seq, s.job, s.round, s.side, s.by))
            .collect()
    }

    pub(super) fn open_count(&mut self, typed: String) {
        match self.question() {
            Some(question) => self.pane = Pane::Count { typed, question },
            None => self.said = "There is no round to count here.".into(),
        }
    }

    /// A letter of a count: numbers, and what stands between those of sides.
    pub(super) fn count_letter(typed: &mut String, c: char) {
        if (c.is_ascii_digit() || c == ' ' || c == ',') && typed.len() < LONGEST_COUNT {
            typed.push(c);
        }
    }

    pub(super) fn whole_or_side(&mut self) {
        let side = self.side_in_hand();
        if let Pane::Count { question, .. } = &mut self.pane {
            question.side = match question.side {
                Some(_) => None,
                None => side,
            };
        }
    }

    /// The side of the last movement that had one.
    fn side_in_hand(&self) -> Option<Side> {
        let done = self.done().0;
        let near = (done.saturating_sub(4)..=done + 1).rev();
        near.filter_map(|s| self.seq.step(Step(s))?.side).next()
    }

    pub(super) fn compare(&mut self, question: Question, typed: &str) {
        let numbers = typed.split([' ', ',']).filter(|word| !word.is_empty());
        let Ok(numbers) = numbers.map(str::parse).collect::<Result<Vec<u32>, _>>() else {
            self.said = "That is more than can be counted.".into();
            return;
        };
        let (at, kept) = (Some(self.done()), self.kept());
        let (question, answer, sides) = match numbers.as_slice() {
            [] => return,
            [counted] => {
                let answer = count::answer_as_stitched(&self.seq, &question, at, *counted, &kept);
                (question, answer, None)
            }
            each => {
                let (job, round) = (question.job, question.round);
                let sides = self.seq.layout().kind(self.seq.job(job).panel()).sides();
                if each.len() != usize::from(sides) {
                    self.said = format!("There are {sides} sides: type {sides} numbers.");
                    return;
                }
                let seq = &self.seq;
                let answer = count::answer_sides_as_stitched(seq, job, round, at, each, &kept);
                let whole = Question {
                    side: None,
                    ..question
                };
                (whole, answer, Some(numbers))
            }
        };
        let Some(answer) = answer else {
            self.said = "There is no such round or side to count here.".into();
            self.pane = Pane::Stitch;
            return;
        };
        let did = Did::Check(Check {
            step: self.done().0,
            job: question.job,
            round: question.round,
            side: question.side,
            expected: answer.expected,
            counted: answer.counted,
        });
        self.record(Entry { at: self.now, did });
        self.pane = Pane::Answer(Answered {
            question,
            sides,
            answer,
            cause: 0,
            place: 0,
        });
    }

    /// From the answer to the mend of the cause that the maker is at.
    pub(super) fn open_mend(&mut self, answered: Answered) {
        self.pane = match answered.cause() {
            Some(_) => Pane::Mend(answered),
            None => Pane::Stitch,
        };
    }

    /// The mend of the cause that the maker is at.
    pub fn mend(&self, answered: &Answered) -> Option<Mend> {
        let place = answered.place();
        let cause = answered.cause()?;
        Some(count::mend(
            &self.seq,
            &answered.question,
            cause,
            place,
            self.done(),
        ))
    }

    pub(super) fn do_mend(&mut self, answered: &Answered) {
        match self.mend(answered) {
            Some(Mend::Unpick { back_to, .. }) => self.open_way_back(back_to),
            Some(Mend::MoveTo(done)) => self.jump(Step(done.0 + 1)),
            Some(Mend::CountAgain) => {
                let question = answered.question;
                let typed = String::new();
                self.pane = Pane::Count { typed, question };
            }
            Some(Mend::GoOn(_)) | None => self.pane = Pane::Stitch,
        }
    }

    /// Keeps what was counted: as stitched.
    pub(super) fn keep(&mut self, answered: &Answered) {
        if !answered.may_be_kept() {
            self.said = "It is as it must be: there is no difference to keep.".into();
            return;
        }
        let Some(differences) = self.differences(answered) else {
            self.said = "On which side is the difference? Count each side by itself, as in 5 5 6, \
                         and keep that."
                .into();
            return;
        };
        let question = answered.question;
        let mut said = vec![];
        for (side, by) in differences {
            let state = self.piece.state();
            let did = state.keeping(question.job, question.round, (side, by));
            let by = by + state.kept_at(question.job, question.round, side);
            self.record(Entry { at: self.now, did });
            said.push(format!("side {side} {}", more_or_fewer(by)));
        }
        self.said = format!(
            "Kept as stitched: {}. Counts go by it from here on.",
            said.join(", ")
        );
        self.pane = Pane::Stitch;
    }

    /// Beads more or fewer, side by side; nothing if the side is not known.
    fn differences(&self, answered: &Answered) -> Option<Vec<(Side, i32)>> {
        let (q, answer) = (answered.question, &answered.answer);
        let less = |seen: u32, right: u32| seen as i32 - right as i32;
        if let Some(seen) = &answered.sides {
            return count::differences(&self.seq, q.job, q.round, seen, &self.kept());
        }
        let of_cause = || answered.place().map(|place| place.side);
        let side = q.side.or_else(of_cause)?;
        Some(vec![(side, less(answer.counted, answer.expected))])
    }

    /// What is kept as stitched where the next movement is, in words.
    pub fn as_stitched_here(&self) -> Option<String> {
        if self.piece.state().stitched.is_empty() {
            return None;
        }
        let m = self.movement()?;
        let (round, side) = (m.round, m.side?);
        // A zip meets what is kept in the row that it locks into.
        let (panel, round, side) = match self.seq.job(m.job).row_met(side) {
            Some((panel, at)) => {
                let row = self.seq.layout().kind(panel).last().0 + 1;
                (panel, crate::beadwork::Round(row), at)
            }
            None => (self.seq.job(m.job).panel(), round?, side),
        };
        let shows = |k: &Kept| k.side == side && k.shows(&self.seq, panel, round);
        let by: i32 = self.kept().iter().filter(|k| shows(k)).map(|k| k.by).sum();
        let what = match self.seq.layout().kind(panel).last() < round {
            true => "this row",
            false => "this side",
        };
        match by {
            0 => None,
            1.. => Some(format!(
                "As stitched: {what} {}; take it in as it comes.",
                more_or_fewer(by)
            )),
            _ => Some(format!(
                "As stitched: {what} {}; pass over its place.",
                more_or_fewer(by)
            )),
        }
    }
}

/// `has 1 bead more`, `has 2 beads fewer`, `is as in the pattern`.
fn more_or_fewer(by: i32) -> String {
    let beads = plural(by.unsigned_abs() as usize, "bead");
    match by {
        0 => "is as in the pattern".into(),
        1.. => format!("has {beads} more"),
        _ => format!("has {beads} fewer"),
    }
}
