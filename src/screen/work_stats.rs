//! Thread, holes, hours and rest, kept with the sitting and updated with every
//! entry, so that nothing is worked out twice.

use super::background_task::BackgroundTask;
use super::settings;
use crate::beadwork::{Sequence, Step};
use crate::progress::{Entry, Moment, Piece, State};
use crate::tracking::pace::{self, CurrentThread, FullHole, FullHoles, Pace, Rest};
use std::sync::Arc;

/// How many movements a reminder to rest stays on the screen.
pub const REMINDED: u32 = 8;

/// The longest that opening a piece waits for its full beads: the first picture
/// matters more.
const OPENING: std::time::Duration = std::time::Duration::from_micros(500);

/// How many entries at the end of a journal give the maker's current pace.
const RECENT: usize = 10_000;

/// What is known while the work continues.
pub struct WorkStats {
    /// How long steps take this maker.
    pub pace: Pace,
    /// When the maker rested.
    pub rest: Rest,
    /// How many more movements the reminder to rest stays.
    reminding: u32,
    fulls: BackgroundTask<Arc<FullHoles>>,
    /// The current thread.
    pub hand: Option<CurrentThread>,
    /// Whether colours were changed since full beads were searched for.
    stale: bool,
    /// Whether anything was recorded since the current thread was worked out.
    heard: bool,
}

impl WorkStats {
    /// From the end of the journal.
    pub fn new(seq: &Arc<Sequence>, piece: &mut Piece) -> WorkStats {
        let (mut pace, mut rest) = (Pace::default(), Rest::default());
        // A journal that cannot be read again gives no pace; why it cannot be
        // read is reported elsewhere.
        let _ = piece.recent(RECENT, |entry| {
            pace.add(seq, entry);
            rest.add(entry);
        });
        let apart = seq.clone();
        WorkStats {
            pace,
            rest,
            reminding: 0,
            fulls: BackgroundTask::begin_within(OPENING, move || FullHoles::of(&apart).into()),
            hand: None,
            stale: false,
            heard: true,
        }
    }

    /// The same, as far as it is shown beside the stitches.
    pub fn beside_stitches(&self) -> WorkStats {
        let fulls = self.fulls.get().cloned();
        WorkStats {
            pace: Pace::default(),
            rest: self.rest,
            reminding: self.reminding,
            fulls: BackgroundTask::done(fulls.unwrap_or_default()),
            hand: self.hand.clone(),
            stale: false,
            heard: self.heard,
        }
    }

    /// Takes an entry as it is recorded.
    pub fn add(&mut self, seq: &Sequence, entry: &Entry) {
        self.pace.add(seq, entry);
        self.rest.add(entry);
        self.heard = true;
    }

    /// Updates the current thread, and the reminder to rest if something moved.
    pub fn look_ahead(&mut self, seq: &Sequence, state: &State, done: Step, moved: Option<Moment>) {
        if std::mem::take(&mut self.heard) {
            self.hand = pace::current_thread(seq, done, &state.threads);
        }
        let Some(now) = moved else { return };
        let minutes = settings::rest_minutes(&state.settings);
        self.reminding = self.reminding.saturating_sub(1);
        if self.rest.is_due(now, minutes) {
            self.rest.reminded(now);
            self.reminding = REMINDED;
        }
    }

    /// Colours were changed: the full beads found so far are those before the change.
    pub fn recolour(&mut self) {
        self.stale = true;
    }

    /// The full beads of the next movement.
    pub fn full(&self, next: Step) -> &[FullHole] {
        self.fulls.get().map_or(&[], |fulls| fulls.at(next))
    }

    /// All full beads, once they are found.
    pub fn fulls(&self) -> Option<&FullHoles> {
        self.fulls.get().map(|fulls| &**fulls)
    }

    /// Whether the reminder to rest is due.
    pub fn reminds(&self) -> bool {
        self.reminding > 0
    }

    /// Takes the full beads, and searches for them again if colours were
    /// changed since; returns whether they are waited for.
    pub fn tick(&mut self, seq: &Arc<Sequence>) -> bool {
        if std::mem::take(&mut self.stale) {
            let apart = seq.clone();
            self.fulls =
                BackgroundTask::begin_within(OPENING, move || FullHoles::of(&apart).into());
        }
        self.fulls.look()
    }
}
