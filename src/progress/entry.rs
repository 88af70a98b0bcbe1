//! One entry of the journal.

use serde::{Deserialize, Serialize};

use super::check::{Check, Stitched};
use super::moment::Moment;
use super::plain::PlainText;
use super::setting::{Setting, Value};
use crate::beadwork::amend::Amendment;
use crate::beadwork::amend::as_stitched::Restated;
use crate::beadwork::sequence::Anchor;
use crate::beadwork::work::Fact;
use crate::beadwork::{Sequence, Step};

/// Something that happened to a piece, and when. Nothing is ever removed from
/// the journal: going back is another entry.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// When it happened, by the machine's clock.
    pub at: Moment,
    /// What happened.
    pub did: Event,
}

/// What can happen to a piece. Each event says how it is taken back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Event {
    /// The maker is at another step: `step` steps are done, 0 before the first.
    /// A move forward says what was played; a move back removes the movements
    /// after the step from the work. The step is absolute, so one lost line in
    /// a damaged journal loses one key, not the place.
    ///
    /// Taken back by another move, to the step before. Unpicking is such a move
    /// too, with its own reason.
    Move {
        /// Steps done after the move.
        step: u32,
        /// Why the maker moved.
        why: MoveReason,
        /// What was played since the step before: one movement, or all that a
        /// jump skipped. Empty for a move back, and in journals of earlier
        /// builds, in which steps were made as planned. Since minor version 4.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        made: Vec<Fact>,
    },
    /// A count was compared with what it should be.
    ///
    /// Not taken back; a later check of the same place is one more entry.
    Check(Check),
    /// A note was written on a step. It replaces the one there; an empty note
    /// deletes it.
    ///
    /// Taken back by a note with the older text.
    Note {
        /// The step of the note; 0 is the piece as a whole.
        step: u32,
        /// The place in the work. Since minor version 4.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<Anchor>,
        /// The text.
        text: PlainText,
    },
    /// The maker keeps a difference from the layout on a side of a round. It
    /// replaces the one there; a difference of 0 deletes it. Written by earlier
    /// builds, only for counts; now [`Event::Restated`] names the gap, and the
    /// plan continues from it.
    ///
    /// Taken back by keeping the older difference. Since minor version 1.
    AsStitched(Stitched),
    /// The maker started a new thread that is not planned: the steps after
    /// `step` are sewn with it, up to the next thread. Where the piece plans a
    /// new thread, it says how long that was cut. It replaces the one there; a
    /// length of 0 deletes it.
    ///
    /// Taken back by another entry with the older length. Since minor version
    /// 2.
    Thread {
        /// Steps done when it was started.
        step: u32,
        /// The place in the work. Since minor version 4.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<Anchor>,
        /// How long it was cut, mm.
        cut_mm: u32,
    },
    /// A part of a kind of panel was painted: it has these colours instead of
    /// the pattern's. The colours are words of the pattern file, so that one
    /// lost line in a damaged journal loses the paint of one round. Without
    /// words it has the colours of the pattern. Written by earlier builds; now
    /// paint is an [`Amendment`] and does not change what is sewn.
    ///
    /// Taken back by painting the older words. Since minor version 3.
    Paint {
        /// The kind of panel, by its name in the pattern.
        panel: PlainText,
        /// The round, from 1; or `row`, or `tip`.
        part: PlainText,
        /// Its colours: a word, or a word for each side with `/` between.
        colours: PlainText,
    },
    /// The maker changed the plan for the steps ahead. What is sewn stays.
    /// Since minor version 4.
    ///
    /// Taken back by [`Event::Undo`].
    Amend(Amendment),
    /// Some of the work was different from what the journal says: after step
    /// `after`, `made` was played, which led to `step`. Since minor version 5.
    ///
    /// Taken back by [`Event::Undo`].
    Restated {
        /// Steps that stay as they were recorded.
        after: u32,
        /// Steps done then.
        step: u32,
        /// What was played from there on.
        made: Vec<Fact>,
    },
    /// The last movement, [`Event::Amend`] or [`Event::Restated`] was taken
    /// back, whichever came last. Since minor version 4.
    ///
    /// Taken back by doing the same again.
    Undo,
    /// A setting of this piece was changed.
    ///
    /// Taken back by setting the older value.
    Set {
        /// Its name, one of those in [`Setting`].
        name: PlainText,
        /// Its new value.
        value: Value,
    },
    /// The piece was opened for work. Without a [`Event::Rested`] before it,
    /// the program was killed or crashed.
    ///
    /// Not taken back.
    Opened,
    /// The piece was put away.
    ///
    /// Not taken back; opening it again is the next entry.
    Rested,
}

/// Why the maker moved to a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MoveReason {
    /// The movement was made. Only these count for pace.
    Forward,
    /// One step back, to look or to do it again.
    Back,
    /// A jump to a place; the step before is kept on the way back.
    Jump,
    /// Back to where the last jump or unpicking began.
    Return,
    /// Steps were unpicked; the step before is kept on the way back. Since
    /// minor version 1.
    Unpick,
    /// A reason of a newer version; the move itself is valid.
    #[serde(other)]
    Other,
}

impl Event {
    /// The event for work that was different from the plan, after `done` steps:
    /// a movement at the needle, or a correction of earlier work.
    pub fn restated(found: &Restated, done: Step) -> Event {
        let (after, step, made) = (found.after, found.step, found.made.clone());
        let why = MoveReason::Forward;
        match after == done.0 {
            true => Event::Move { step, why, made },
            false => Event::Restated { after, step, made },
        }
    }
}

impl Entry {
    /// A move to a step without the facts: back, or forward as planned.
    pub fn to(step: u32, why: MoveReason, at: Moment) -> Entry {
        Entry {
            at,
            did: Event::Move {
                step,
                why,
                made: vec![],
            },
        }
    }

    /// A move from step `from` to `step`, with what was played.
    pub fn played(seq: &Sequence, (from, step): (u32, u32), why: MoveReason, at: Moment) -> Entry {
        let made = seq.work().facts(from, step);
        Entry {
            at,
            did: Event::Move { step, why, made },
        }
    }

    /// A note on a step.
    pub fn note(seq: &Sequence, step: u32, text: &str, at: Moment) -> Entry {
        let place = Some(seq.anchor(Step(step)));
        let text = PlainText::new(text);
        Entry {
            at,
            did: Event::Note { step, place, text },
        }
    }

    /// A new thread after a step, of this length.
    pub fn thread(seq: &Sequence, step: u32, cut_mm: u32, at: Moment) -> Entry {
        let place = Some(seq.anchor(Step(step)));
        Entry {
            at,
            did: Event::Thread {
                step,
                place,
                cut_mm,
            },
        }
    }

    /// Paint of a part of a kind of panel, as earlier builds wrote it.
    #[cfg(test)]
    pub fn paint(panel: &str, part: &str, colours: &str, at: Moment) -> Entry {
        let [panel, part, colours] = [panel, part, colours].map(PlainText::new);
        Entry {
            at,
            did: Event::Paint {
                panel,
                part,
                colours,
            },
        }
    }

    /// The setting for the left or right hand.
    pub fn left_handed(on: bool, at: Moment) -> Entry {
        Entry::set(Setting::LEFT_HANDED, Value::Flag(on), at)
    }

    /// The kinds of step that ring the bell.
    pub fn bell(words: &[&str], at: Moment) -> Entry {
        let words = words.iter().copied().map(PlainText::new).collect();
        Entry::set(Setting::BELL, Value::Words(words), at)
    }

    /// Any setting.
    pub fn set(name: &str, value: Value, at: Moment) -> Entry {
        let name = PlainText::new(name);
        Entry {
            at,
            did: Event::Set { name, value },
        }
    }
}
