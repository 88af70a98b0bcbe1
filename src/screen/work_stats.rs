//! Thread, holes, hours and rest, kept with the sitting and updated with every
//! entry, so that nothing is worked out twice.

use super::background_task::BackgroundTask;
use super::settings;
use crate::beadwork::{Sequence, Step};
use crate::progress::{Entry, Moment, Piece, Settings, State};
use crate::tracking::pace::{self, CurrentThread, FullHole, FullHoles, Pace, Rest};
use std::cell::OnceCell;
use std::sync::Arc;

/// How many movements a reminder to rest stays on the screen.
pub const REMINDED: u32 = 8;

/// How many entries at the end of a journal give the maker's current pace.
const RECENT: usize = 10_000;

/// Searches for full beads in the background.
fn search(seq: &Arc<Sequence>) -> BackgroundTask<Arc<FullHoles>> {
    let seq = seq.clone();
    BackgroundTask::begin(move || FullHoles::of(&seq).into())
}

/// What is known while the work continues.
pub struct WorkStats {
    /// How long steps take this maker.
    pub pace: Pace,
    /// When the maker rested.
    pub rest: Rest,
    /// How many more movements the reminder to rest stays.
    reminding: u32,
    /// The full beads; none while they are still to be searched for.
    fulls: Option<BackgroundTask<Arc<FullHoles>>>,
    /// The current thread, once it is asked for.
    current_thread: OnceCell<Option<CurrentThread>>,
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
        WorkStats {
            pace,
            rest,
            reminding: 0,
            fulls: None,
            current_thread: OnceCell::new(),
        }
    }

    /// The same, as far as it is shown beside the stitches.
    pub fn beside_stitches(&self) -> WorkStats {
        let fulls = self.fulls.as_ref().and_then(BackgroundTask::get).cloned();
        WorkStats {
            pace: Pace::default(),
            rest: self.rest,
            reminding: self.reminding,
            fulls: Some(BackgroundTask::done(fulls.unwrap_or_default())),
            current_thread: OnceCell::new(),
        }
    }

    /// Takes an entry as it is recorded.
    pub fn add(&mut self, seq: &Sequence, entry: &Entry) {
        self.pace.add(seq, entry);
        self.rest.add(entry);
        self.current_thread.take();
    }

    /// The current thread after `done` steps, if there is one.
    pub fn current_thread(
        &self,
        seq: &Sequence,
        done: Step,
        state: &State,
    ) -> Option<&CurrentThread> {
        let known = &self.current_thread;
        let thread = known.get_or_init(|| pace::current_thread(seq, done, &state.threads));
        thread.as_ref()
    }

    /// Reminds the maker to rest if it is time, after a movement.
    pub fn moved(&mut self, settings: &Settings, now: Moment) {
        let minutes = settings::rest_minutes(settings);
        self.reminding = self.reminding.saturating_sub(1);
        if self.rest.is_due(now, minutes) {
            self.rest.reminded(now);
            self.reminding = REMINDED;
        }
    }

    /// Colours were changed: the full beads found so far are those before the change.
    pub fn recolour(&mut self) {
        self.fulls = None;
    }

    /// The full beads of the next movement.
    pub fn full(&self, next: Step) -> &[FullHole] {
        self.fulls().map_or(&[], |fulls| fulls.at(next))
    }

    /// All full beads, once they are found.
    pub fn fulls(&self) -> Option<&FullHoles> {
        let fulls = self.fulls.as_ref()?.get();
        fulls.map(|fulls| &**fulls)
    }

    /// Whether the reminder to rest is due.
    pub fn reminds(&self) -> bool {
        self.reminding > 0
    }

    /// Takes the full beads, and begins to search for them if that is still to be
    /// done; returns whether they are waited for.
    pub fn tick(&mut self, seq: &Arc<Sequence>) -> bool {
        self.fulls.get_or_insert_with(|| search(seq)).look()
    }
}
