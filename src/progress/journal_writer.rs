//! Writes lines to the store, and keeps them in memory in case the disk loses
//! them.
//!
//! ```text
//! journal:  | confirmed on disk | written, unconfirmed | waiting |
//!           0              confirmed              written   its end
//! ```
//!
//! The whole journal stays in memory, so it can be written again after any
//! failure: a full disk, missing permission, a file deleted or emptied by
//! another program, or a failed sync, after which the contents of the disk are
//! unknown.

use std::io;
use std::sync::Arc;
use std::time::{Duration, Instant};

use super::store::{Store, SyncToDisk};
use super::sync::SyncThread;
use super::trouble::{Saved, Trouble, TroubleKind};
use crate::plain_file;

/// How long the program waits for a slow disk when a piece is closed.
const SYNC_TIMEOUT: Duration = Duration::from_secs(10);
/// The time between two attempts to rewrite a whole journal, unless one is
/// asked for.
const REWRITE_INTERVAL: Duration = Duration::from_secs(1);

/// The store of a journal, and the lines that are not in it yet.
pub(super) struct JournalWriter {
    store: Box<dyn Store>,
    sync_thread: SyncThread,
    sync_handle: Option<Arc<dyn SyncToDisk>>,
    /// How often the journal was rewritten.
    generation: u64,
    journal: Vec<u8>,
    confirmed: usize,
    written: usize,
    rewrite: Option<RewriteReason>,
    trouble: Option<TroubleKind>,
    tried: Option<Instant>,
    kept_as: Option<String>,
    /// Whether something was written that the disk has not been asked to
    /// confirm.
    sync_needed: bool,
}

/// Why the whole journal has to be rewritten.
enum RewriteReason {
    /// The journal in the store is damaged.
    Damaged {
        /// Whether a copy of it has been kept.
        kept: bool,
    },
    /// The store is no longer where it was.
    Gone,
    /// The disk did not confirm what was written.
    Unconfirmed,
}

impl JournalWriter {
    /// Continues the undamaged journal in the store. If it `lacks_line_feed`,
    /// its last line feed is added.
    pub(super) fn sound(
        store: Box<dyn Store>,
        mut journal: Vec<u8>,
        lacks_line_feed: bool,
    ) -> JournalWriter {
        let confirmed = journal.len();
        if lacks_line_feed {
            journal.push(b'\n');
        }
        JournalWriter::new(store, journal, confirmed, None)
    }

    /// Continues a damaged journal, whose good lines are `repaired`. Keeps a
    /// copy of the damaged one and writes the repaired one, at once if
    /// possible.
    pub(super) fn damaged(store: Box<dyn Store>, repaired: Vec<u8>) -> JournalWriter {
        let rewrite = RewriteReason::Damaged { kept: false };
        let mut writer = JournalWriter::new(store, repaired, 0, Some(rewrite));
        writer.rewrite_journal();
        writer
    }

    fn new(
        store: Box<dyn Store>,
        journal: Vec<u8>,
        confirmed: usize,
        rewrite: Option<RewriteReason>,
    ) -> JournalWriter {
        let sync_thread = SyncThread::start();
        JournalWriter {
            store,
            sync_thread,
            sync_handle: None,
            generation: 0,
            journal,
            confirmed,
            written: confirmed,
            rewrite,
            trouble: None,
            tried: None,
            kept_as: None,
            sync_needed: false,
        }
    }

    /// The name under which the damaged journal is kept.
    pub(super) fn kept_as(&self) -> Option<&str> {
        self.kept_as.as_deref()
    }

    /// Adds a line. This takes microseconds, unless the whole journal must be
    /// rewritten. [`sync`](JournalWriter::sync) asks the disk to confirm it.
    pub(super) fn add(&mut self, line: &[u8]) -> Saved {
        self.read_sync_result();
        self.journal.extend_from_slice(line);
        if self.rewrite.is_some() && self.tried.is_none_or(|at| at.elapsed() >= REWRITE_INTERVAL) {
            self.rewrite_journal();
        }
        self.append_waiting();
        self.saved()
    }

    /// Tries again to write what waits.
    pub(super) fn retry(&mut self) -> Saved {
        self.read_sync_result();
        if self.rewrite.is_some() {
            self.rewrite_journal();
        }
        self.append_waiting();
        self.saved()
    }

    fn saved(&self) -> Saved {
        if self.written < self.journal.len() {
            Saved::Held
        } else {
            Saved::Written
        }
    }

    /// What is wrong now, including failures of the sync thread.
    pub(super) fn trouble(&mut self) -> Option<Trouble> {
        self.read_sync_result();
        let waiting = self.journal[self.written..]
            .iter()
            .filter(|&&byte| byte == b'\n')
            .count();
        self.trouble.clone().map(|kind| Trouble { kind, waiting })
    }

    /// The journal as it should be on the disk.
    pub(super) fn journal(&self) -> &[u8] {
        &self.journal
    }

    /// Writes what waits and waits for the disk to confirm it.
    pub(super) fn finish(&mut self) -> Option<Trouble> {
        let _ = self.retry();
        self.sync();
        let answered = self.sync_thread.end(SYNC_TIMEOUT);
        self.read_sync_result();
        if !answered {
            self.trouble = Some(TroubleKind::Unconfirmed("it does not answer".into()));
        } else if self.rewrite.is_some() {
            self.rewrite_journal();
        }
        self.trouble()
    }

    /// Appends what waits to the store, unless the journal must be rewritten
    /// first.
    fn append_waiting(&mut self) {
        if self.written == self.journal.len() {
            return;
        }
        if matches!(
            self.rewrite,
            Some(RewriteReason::Damaged { .. } | RewriteReason::Gone)
        ) {
            return;
        }
        let waiting = &self.journal[self.written..];
        match self.store.append(self.written as u64, waiting) {
            Ok(()) => {
                self.written = self.journal.len();
                if self.rewrite.is_none() {
                    self.trouble = None;
                }
                self.sync_needed = true;
            }
            Err(short_write) => {
                self.written += short_write.written;
                self.trouble = Some(TroubleKind::from(&short_write.error));
                if self.trouble == Some(TroubleKind::Gone) {
                    self.rewrite = Some(RewriteReason::Gone);
                } else {
                    self.remove_partial_line();
                }
            }
        }
    }

    /// Removes a line that was written only in part. If that fails, the next
    /// append continues in the middle of it.
    fn remove_partial_line(&mut self) {
        let unconfirmed_bytes = &self.journal[self.confirmed..self.written];
        let line_end = unconfirmed_bytes.iter().rposition(|&byte| byte == b'\n');
        let line_end = self.confirmed + line_end.map_or(0, |at| at + 1);
        if line_end < self.written && self.store.truncate(line_end as u64).is_ok() {
            self.written = line_end;
        }
    }

    /// Asks the disk to confirm what was written, without waiting for it.
    pub(super) fn sync(&mut self) {
        if !std::mem::take(&mut self.sync_needed) {
            return;
        }
        let handle = match &self.sync_handle {
            Some(handle) => Ok(handle.clone()),
            None => self.store.sync_handle(),
        };
        match handle {
            Ok(handle) => {
                self.sync_handle = Some(handle.clone());
                self.sync_thread
                    .request(self.generation, self.written as u64, handle);
            }
            Err(error) => self.unconfirmed(&error),
        }
    }

    /// Reads the result of the sync thread.
    fn read_sync_result(&mut self) {
        let result = self.sync_thread.result();
        if result.generation != self.generation {
            return;
        }
        let confirmed = usize::try_from(result.length).unwrap_or(usize::MAX);
        self.confirmed = self.confirmed.max(confirmed.min(self.written));
        if let Some(error) = result.failed {
            self.unconfirmed(&error);
        }
    }

    /// Notes that the disk did not confirm what was written.
    pub(super) fn unconfirmed(&mut self, error: &io::Error) {
        self.trouble = Some(TroubleKind::Unconfirmed(plain_file::reason(error)));
        self.rewrite.get_or_insert(RewriteReason::Unconfirmed);
    }

    /// Rewrites the whole journal, or leaves it as it was.
    fn rewrite_journal(&mut self) {
        self.tried = Some(Instant::now());
        match self.try_rewrite() {
            Ok(()) => {
                self.confirmed = self.journal.len();
                self.written = self.journal.len();
                self.generation += 1;
                self.sync_handle = None;
                self.rewrite = None;
                self.trouble = None;
            }
            Err(error) => self.trouble = Some(TroubleKind::from(&error)),
        }
    }

    fn try_rewrite(&mut self) -> io::Result<()> {
        if let Some(RewriteReason::Damaged { kept: kept @ false }) = &mut self.rewrite {
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
