//! Brings lines to the store, and keeps them until the disk itself has
//! confirmed.
//!
//! ```text
//! journal:  | on the disk, surely | written, unconfirmed | waiting |
//!           0                  settled               written   its end
//! ```
//!
//! The whole journal stays in memory. So whatever goes wrong (no room, no
//! right, the file deleted or emptied by another program, a failed sync after
//! which nobody knows what the disk holds) it can be written again.

use std::io;
use std::sync::Arc;
use std::time::{Duration, Instant};

use super::store::{Settle, Store};
use super::sync::SyncThread;
use super::trouble::{Saved, Trouble, TroubleKind};

/// How long an end waits for a slow disk.
const PATIENCE: Duration = Duration::from_secs(10);
/// Between two tries at writing a whole journal again, unless asked for.
const PAUSE: Duration = Duration::from_secs(1);

/// The store of a journal, and the lines that are on the way to it.
pub(super) struct JournalWriter {
    store: Box<dyn Store>,
    sync: SyncThread,
    settler: Option<Arc<dyn Settle>>,
    making: u64,
    journal: Vec<u8>,
    settled: usize,
    written: usize,
    anew: Option<Anew>,
    trouble: Option<TroubleKind>,
    tried: Option<Instant>,
    kept_as: Option<String>,
    /// Whether something was written that the disk was not asked to confirm.
    unasked: bool,
}

/// Why the whole journal has to be written again.
enum Anew {
    /// What lies in the store is damaged.
    Damaged {
        /// Whether it is kept beside already.
        kept: bool,
    },
    /// The store is no longer where it was.
    Gone,
    /// The disk did not confirm.
    Unconfirmed,
}

impl JournalWriter {
    /// Goes on with the journal in the store, which is undamaged except for the
    /// last line feed if it is `unended`.
    pub(super) fn sound(
        store: Box<dyn Store>,
        mut journal: Vec<u8>,
        unended: bool,
    ) -> JournalWriter {
        let settled = journal.len();
        if unended {
            journal.push(b'\n');
        }
        JournalWriter::new(store, journal, settled, None)
    }

    /// Goes on with a damaged journal, whose good lines are `mended`. Keeps the
    /// damaged one beside and writes the mended one, now if it can.
    pub(super) fn damaged(store: Box<dyn Store>, mended: Vec<u8>) -> JournalWriter {
        let anew = Anew::Damaged { kept: false };
        let mut ledger = JournalWriter::new(store, mended, 0, Some(anew));
        ledger.write_anew();
        ledger
    }

    fn new(
        store: Box<dyn Store>,
        journal: Vec<u8>,
        settled: usize,
        anew: Option<Anew>,
    ) -> JournalWriter {
        let sync = SyncThread::start();
        JournalWriter {
            store,
            sync,
            settler: None,
            making: 0,
            journal,
            settled,
            written: settled,
            anew,
            trouble: None,
            tried: None,
            kept_as: None,
            unasked: false,
        }
    }

    /// Under which name the damaged journal is kept beside.
    pub(super) fn kept_as(&self) -> Option<&str> {
        self.kept_as.as_deref()
    }

    /// Adds a line. Microseconds, unless a whole journal must be written. The
    /// disk is asked to confirm it by [`settle`](JournalWriter::settle).
    pub(super) fn add(&mut self, line: &[u8]) -> Saved {
        self.hear();
        self.journal.extend_from_slice(line);
        if self.anew.is_some() && self.tried.is_none_or(|at| at.elapsed() >= PAUSE) {
            self.write_anew();
        }
        self.push();
        self.saved()
    }

    /// Offers again what waits.
    pub(super) fn retry(&mut self) -> Saved {
        self.hear();
        if self.anew.is_some() {
            self.write_anew();
        }
        self.push();
        self.saved()
    }

    fn saved(&self) -> Saved {
        if self.written < self.journal.len() {
            Saved::Held
        } else {
            Saved::Written
        }
    }

    /// What is wrong now, the sync thread's news included.
    pub(super) fn trouble(&mut self) -> Option<Trouble> {
        self.hear();
        let waiting = self.journal[self.written..]
            .iter()
            .filter(|&&byte| byte == b'\n')
            .count();
        self.trouble.clone().map(|kind| Trouble { kind, waiting })
    }

    /// The journal as it should lie on the disk.
    pub(super) fn journal(&self) -> &[u8] {
        &self.journal
    }

    /// Offers everything once more and waits for the disk to confirm it.
    pub(super) fn finish(&mut self) -> Option<Trouble> {
        let _ = self.retry();
        self.settle();
        let answered = self.sync.end(PATIENCE);
        self.hear();
        if !answered {
            self.trouble = Some(TroubleKind::Unconfirmed("it does not answer".into()));
        } else if self.anew.is_some() {
            self.write_anew();
        }
        self.trouble()
    }

    /// Hands what waits to the store, if it may be added to.
    fn push(&mut self) {
        if self.written == self.journal.len() {
            return;
        }
        if matches!(self.anew, Some(Anew::Damaged { .. } | Anew::Gone)) {
            return;
        }
        let waiting = &self.journal[self.written..];
        match self.store.append(self.written as u64, waiting) {
            Ok(()) => {
                self.written = self.journal.len();
                if self.anew.is_none() {
                    self.trouble = None;
                }
                self.unasked = true;
            }
            Err(short) => {
                self.written += short.written;
                self.trouble = Some(TroubleKind::from(&short.error));
                if self.trouble == Some(TroubleKind::Gone) {
                    self.anew = Some(Anew::Gone);
                } else {
                    self.cut_half_line();
                }
            }
        }
    }

    /// Removes a line that was written in half. If that fails, the next append
    /// goes on in the middle of it.
    fn cut_half_line(&mut self) {
        let unsure = &self.journal[self.settled..self.written];
        let whole = unsure.iter().rposition(|&byte| byte == b'\n');
        let whole = self.settled + whole.map_or(0, |at| at + 1);
        if whole < self.written && self.store.cut(whole as u64).is_ok() {
            self.written = whole;
        }
    }

    /// Asks the disk to confirm what was written, and does not wait for it.
    pub(super) fn settle(&mut self) {
        if !std::mem::take(&mut self.unasked) {
            return;
        }
        let settler = match &self.settler {
            Some(settler) => Ok(settler.clone()),
            None => self.store.settler(),
        };
        match settler {
            Ok(settler) => {
                self.settler = Some(settler.clone());
                self.sync.ask(self.making, self.written as u64, settler);
            }
            Err(error) => self.unconfirmed(&error),
        }
    }

    /// Takes in what the sync thread found.
    fn hear(&mut self) {
        let heard = self.sync.heard();
        if heard.making != self.making {
            return;
        }
        let confirmed = usize::try_from(heard.length).unwrap_or(usize::MAX);
        self.settled = self.settled.max(confirmed.min(self.written));
        if let Some(error) = heard.failed {
            self.unconfirmed(&error);
        }
    }

    /// Takes in that the disk did not confirm what was written.
    pub(super) fn unconfirmed(&mut self, error: &io::Error) {
        self.trouble = Some(TroubleKind::Unconfirmed(error.to_string()));
        self.anew.get_or_insert(Anew::Unconfirmed);
    }

    /// Writes the whole journal again, whole or not at all.
    fn write_anew(&mut self) {
        self.tried = Some(Instant::now());
        match self.try_write_anew() {
            Ok(()) => {
                self.settled = self.journal.len();
                self.written = self.journal.len();
                self.making += 1;
                self.settler = None;
                self.anew = None;
                self.trouble = None;
            }
            Err(error) => self.trouble = Some(TroubleKind::from(&error)),
        }
    }

    fn try_write_anew(&mut self) -> io::Result<()> {
        if let Some(Anew::Damaged { kept: kept @ false }) = &mut self.anew {
            self.kept_as = self.store.set_aside()?;
            *kept = true;
        }
        self.store.replace(&self.journal)
    }
}

impl Drop for JournalWriter {
    fn drop(&mut self) {
        let _ = self.finish();
    }
}
