//! Thread, holes, hours and rest as the work goes: kept beside the sitting and
//! carried on with every entry, so that nothing is gone through again.

use super::{Pane, Session};
use crate::beadwork::{Sequence, Step};
use crate::pace::thread::taken_up_at;
use crate::pace::{self, Full, Fulls, InHand, Left, Pace, Rest};
use crate::progress::{Entry, Moment, Piece};
use crate::screen::apart::Apart;
use crate::screen::settings;
use std::sync::Arc;

/// A reminder to rest stays so many movements.
const REMINDED: u32 = 8;

/// Opening a piece waits no longer than this for its full beads: the first
/// picture matters more.
const OPENING: std::time::Duration = std::time::Duration::from_micros(500);

/// The shortest and the longest thread that is taken at its word, mm.
pub const CUT_MM: std::ops::RangeInclusive<u32> = 100..=20_000;

/// What is known as the work goes.
pub struct Going {
    /// How long steps take this maker.
    pub pace: Pace,
    rest: Rest,
    /// Movements for which the reminder to rest still stands.
    reminding: u32,
    fulls: Apart<Fulls>,
    hand: Option<InHand>,
    /// What is left in hours, while that is looked at.
    left: Option<Apart<Left>>,
    /// Whether colours were changed since full beads were looked for.
    stale: bool,
}

impl Going {
    /// From the journal as it is, read once.
    pub fn new(seq: &Arc<Sequence>, piece: &mut Piece) -> Going {
        let (mut pace, mut rest) = (Pace::default(), Rest::default());
        // A journal that cannot be read again teaches no pace; what keeps it
        // from being read is told elsewhere.
        let _ = piece.history(|entry| {
            pace.hear(seq, entry);
            rest.hear(entry);
        });
        let apart = seq.clone();
        Going {
            pace,
            rest,
            reminding: 0,
            fulls: Apart::begin_within(OPENING, move || Fulls::of(&apart)),
            hand: None,
            left: None,
            stale: false,
        }
    }

    /// Takes in an entry as it is recorded.
    pub fn hear(&mut self, seq: &Sequence, entry: &Entry) {
        self.pace.hear(seq, entry);
        self.rest.hear(entry);
    }

    /// Colours were changed. Holes are those of the beads that were there.
    pub fn recolour(&mut self) {
        self.stale = true;
    }

    /// Looks for full beads again, if colours were changed since.
    pub fn renew(&mut self, seq: &Arc<Sequence>) {
        if std::mem::take(&mut self.stale) {
            let apart = seq.clone();
            self.fulls = Apart::begin_within(OPENING, move || Fulls::of(&apart));
        }
    }

    /// The thread in hand.
    pub fn hand(&self) -> Option<&InHand> {
        self.hand.as_ref()
    }

    /// The full beads of the movement that is to be made.
    pub fn full(&self, next: Step) -> &[Full] {
        self.fulls.get().map_or(&[], |fulls| fulls.at(next))
    }

    /// All full beads, once they are found.
    pub fn fulls(&self) -> Option<&Fulls> {
        self.fulls.get()
    }

    /// What is left in hours, once it is worked out.
    pub fn left(&self) -> Option<&Left> {
        self.left.as_ref()?.get()
    }

    /// Whether the reminder to rest is due.
    pub fn reminds(&self) -> bool {
        self.reminding > 0
    }

    /// How long the maker has worked without a rest.
    pub fn working(&self, now: Moment) -> std::time::Duration {
        self.rest.working(now)
    }

    /// Takes in what was worked out apart; whether more is waited for.
    pub fn look(&mut self) -> bool {
        let fulls = self.fulls.look();
        self.left.as_mut().is_some_and(Apart::look) | fulls
    }
}

impl Session {
    /// Thread in hand and the reminder, after anything that moved.
    pub(super) fn look_ahead(&mut self, moved: bool) {
        let done = self.done();
        let state = self.piece.state();
        self.going.hand = pace::in_hand(&self.seq, done, &state.threads);
        if !moved {
            return;
        }
        let minutes = settings::rest_minutes(&state.settings);
        let going = &mut self.going;
        going.reminding = going.reminding.saturating_sub(1);
        if going.rest.is_due(self.now, minutes) {
            going.rest.reminded(self.now);
            going.reminding = REMINDED;
        }
    }

    /// Opens thread and time.
    pub(super) fn open_going(&mut self) {
        let (seq, pace, done) = (self.seq.clone(), self.going.pace.clone(), self.done());
        self.going.left = Some(Apart::begin(move || pace::left(&seq, &pace, done)));
        self.pane = Pane::Going(0);
    }

    /// Asks how long the new thread is cut.
    pub(super) fn open_thread(&mut self) {
        if self.done().0 >= self.seq.steps() {
            self.said = "The piece is finished: no thread is taken up after this.".into();
            return;
        }
        let typed = String::new();
        self.pane = Pane::Thread { typed };
    }

    /// The length that a new thread is taken to have if none is typed, mm: as
    /// the last one of the maker's own, or as the piece says.
    pub fn usual_cut_mm(&self) -> u32 {
        let own = self.piece.state().threads.range(..=self.done().0);
        match own.last() {
            Some((_, mm)) => *mm,
            None => self.seq.layout().project().thread.cut_mm.round() as u32,
        }
    }

    /// The length typed, mm. `None` for what is no length of a thread.
    pub fn typed_cut_mm(&self, typed: &str) -> Option<u32> {
        if typed.is_empty() {
            return Some(self.usual_cut_mm());
        }
        let number: f64 = typed.parse().ok()?;
        let unit = settings::thread_unit(&self.piece.state().settings);
        let mm = (number * unit.mm).round();
        (mm >= 0.0 && CUT_MM.contains(&(mm as u32))).then_some(mm as u32)
    }

    /// Keeps the new thread, if its length is one.
    pub(super) fn take_thread(&mut self, typed: &str) {
        let Some(mm) = self.typed_cut_mm(typed) else {
            // It stays open; the box says what is wrong.
            return;
        };
        let tails = 2.0 * self.seq.layout().project().thread.tail_mm;
        let after = taken_up_at(&self.seq, self.done());
        self.record(Entry::thread(&self.seq, after.0, mm, self.now));
        self.pane = Pane::Stitch;
        self.said = match f64::from(mm) <= tails {
            true => "The new thread is kept; it is hardly longer than its two tails.".into(),
            false => "The new thread is kept with this step.".into(),
        };
    }
}

#[cfg(test)]
#[path = "going_tests.rs"]
mod tests;
