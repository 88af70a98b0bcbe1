//! One entry of the journal.

use serde::{Deserialize, Serialize};

use super::check::{Check, Stitched};
use super::moment::Moment;
use super::plain::PlainText;
use super::setting::{Setting, Value};
use crate::beadwork::amend::Amendment;
use crate::beadwork::amend::as_stitched::Restated;
use crate::beadwork::anchor::Anchor;
use crate::beadwork::work::Fact;
use crate::beadwork::{Sequence, Step};

/// Something that happened to a piece, and when. Nothing is ever removed from
/// the journal: going back is an entry of its own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// When, by the machine's clock.
    pub at: Moment,
    /// What.
    pub did: Event,
}

/// What can happen to a piece. Each says what going back on it means.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Event {
    /// The maker is at another step: so many are done; 0 is a piece that is not
    /// begun. Going on says what was played; going back takes the movements
    /// behind the step off the work. The step is absolute, so one lost line in
    /// a damaged journal loses one key, not the place.
    ///
    /// Going back: another move, to the step before. Unpicking is such a move
    /// too, with a reason of its own.
    Move {
        /// Steps done after the move.
        step: u32,
        /// Why the maker moved.
        why: MoveReason,
        /// What was played to come there from the step before: one movement,
        /// or all that a jump skipped. None for a move back, and in
        /// journals of earlier builds: there the steps were made as planned.
        /// Since minor version 4.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        made: Vec<Fact>,
    },
    /// A count was compared with what should be there.
    ///
    /// Going back: none; a check is a fact. A later check of the same place
    /// stands beside it.
    Check(Check),
    /// A note was written on a step. It replaces the note that was there; an
    /// empty one deletes it.
    ///
    /// Going back: the older text, noted again.
    Note {
        /// The step that has the note; 0 is the piece as a whole.
        step: u32,
        /// Where that is on the work. Since minor version 4.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<Anchor>,
        /// The text.
        text: PlainText,
    },
    /// The maker keeps a difference from the layout, on a side of a round. It
    /// replaces one kept there before; no bead more or less deletes it. Written
    /// by earlier builds, which used it for counts; now the gap is named, and
    /// the work goes on from it.
    ///
    /// Going back: the older difference, kept again. Since minor version 1.
    AsStitched(Stitched),
    /// The maker took up a new thread of their own: the steps behind `step` are
    /// sewn with it, up to the next thread, planned or of their own. Where the
    /// piece plans a new thread, it says how long that was cut. It replaces one
    /// said there before; a length of 0 deletes it.
    ///
    /// Going back: the older length, said again. Since minor version 2.
    Thread {
        /// Steps done when it was taken up.
        step: u32,
        /// Where that is on the work. Since minor version 4.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<Anchor>,
        /// How long it was cut, mm.
        cut_mm: u32,
    },
    /// A part of a kind of panel was painted: from now on it has these colours,
    /// whatever the pattern says. Words of the pattern file, so that one lost
    /// line in a damaged journal loses the paint of one round. Without words it
    /// has the colours of the pattern. Written by earlier builds; now paint is
    /// an [`Amendment`] and does not change what is sewn.
    ///
    /// Going back: the older words, painted again. Since minor version 3.
    Paint {
        /// The kind of panel, by its name in the pattern.
        panel: PlainText,
        /// The round, from 1; or `row`, or `tip`.
        part: PlainText,
        /// Its colours: a word, or a word for each side with `/` between.
        colours: PlainText,
    },
    /// The maker changed their mind about what is to come. What is sewn stays.
    /// Since minor version 4.
    ///
    /// Going back: [`Event::Undo`].
    Amend(Amendment),
    /// Some of the work was really different from what was noted: from step
    /// `after` on this was played, which led to `step`. Since minor version 5.
    ///
    /// Going back: [`Event::Undo`].
    Restated {
        /// Steps before it that are as they were noted.
        after: u32,
        /// Steps done then.
        step: u32,
        /// What was played from there on.
        made: Vec<Fact>,
    },
    /// The last movement, change of mind or [`Event::Restated`] was taken back,
    /// whichever came last. Since minor version 4.
    ///
    /// Going back: the same again.
    Undo,
    /// A setting of this piece was changed.
    ///
    /// Going back: the older value, set again.
    Set {
        /// Its name, one of those in [`Setting`].
        name: PlainText,
        /// Its value from now on.
        value: Value,
    },
    /// The piece was opened for work. Without a [`Event::Rested`] before it,
    /// the program was killed or crashed.
    ///
    /// Going back: none.
    Opened,
    /// The piece was put away.
    ///
    /// Going back: none; opening it again is the next entry.
    Rested,
}

/// Why the maker moved to a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(from = "String", into = "&'static str")]
pub enum MoveReason {
    /// The movement was made. Only these count for pace.
    Forward,
    /// One step back, to look or to do it again.
    Back,
    /// To a place named; the step left is kept on the way back.
    Jump,
    /// Back along the way, to where the last jump or unpicking began.
    Return,
    /// Steps were unpicked; the step left is kept on the way back, so that it
    /// can be taken back. Since minor version 1.
    Unpick,
    /// A reason of a newer version: the move itself holds.
    Other,
}

impl From<String> for MoveReason {
    fn from(word: String) -> MoveReason {
        match word.as_str() {
            "forward" => MoveReason::Forward,
            "back" => MoveReason::Back,
            "jump" => MoveReason::Jump,
            "return" => MoveReason::Return,
            "unpick" => MoveReason::Unpick,
            _ => MoveReason::Other,
        }
    }
}

impl From<MoveReason> for &'static str {
    fn from(why: MoveReason) -> &'static str {
        match why {
            MoveReason::Forward => "forward",
            MoveReason::Back => "back",
            MoveReason::Jump => "jump",
            MoveReason::Return => "return",
            MoveReason::Unpick => "unpick",
            MoveReason::Other => "other",
        }
    }
}

impl Event {
    /// What was really worked when so many steps were done: a movement at the
    /// needle, or work that had been noted in another way.
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
    /// A move to a step, of which nothing more is said: back, or on as planned.
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

    /// A move of a piece that stands at step `from`, with what was played.
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

    /// A new thread behind a step, so long.
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

    /// A part of a kind of panel painted all over, as earlier builds wrote it.
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

    /// Left hand or right.
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
