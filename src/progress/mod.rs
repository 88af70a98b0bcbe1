//! A piece and how it is saved: its own copy of the pattern, its journal, and
//! the tray with all pieces.
//!
//! ```text
//! tray/                       paths: where it is     tray: what is in it
//!   evening-star/             piece: one making of a pattern
//!     pattern.json            its own copy, byte for byte
//!     piece.json              metadata: title, source, number of steps
//!     journal                 journal: one line an entry, only appended to
//!     lock                    lock: one program writes, others look
//! ```
//!
//! Everything that happens to a piece is an [`Entry`]; applying the entries in
//! order gives its [`State`]. A key press is written by `Piece::record ->
//! JournalWriter -> Store` before the screen shows it:
//!
//! ```text
//! key -> entry -> line -> write(2) -> state -> paint
//!                            \-> sync thread: fsync, off the screen's path
//! ```
//!
//! What cannot be written stays in memory and is tried again; see [`Saved`] and
//! [`Trouble`]. docs/keeping.md describes the files and what is promised about
//! them.
//!
//! ```
//! use threadmark::beadwork::Sequence;
//! use threadmark::progress::{Entry, Moment, MoveReason, Piece};
//!
//! let project = threadmark::pattern::load("patterns/practice-triangle.json")?.project;
//! let sequence = Sequence::new(project);
//! let now = Moment::now();
//! let mut piece = Piece::in_memory("A triangle", b"{}", sequence.steps(), now);
//! let _ = piece.record(Entry::played(&sequence, (0, 1), MoveReason::Forward, now));
//! assert_eq!(piece.state().step, 1);
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

mod anchored;
mod check;
mod copy;
mod entry;
mod error;
mod journal;
mod journal_writer;
mod lock;
mod maker;
mod moment;
mod name;
mod next_in_run;
mod notice;
pub mod paths;
mod piece;
mod piece_dir;
mod piece_metadata;
mod plain;
#[cfg(test)]
mod play_tests;
mod setting;
mod shelf;
mod state;
mod store;
mod summary;
mod sync;
mod tray;
mod trouble;
mod version;

pub use anchored::Anchored;
pub use check::{Check, Stitched};
pub use copy::is_exported;
pub use entry::{Entry, Event, MoveReason};
pub use error::Error;
pub use maker::MakerSettings;
pub use moment::Moment;
pub use notice::{Damage, Notice};
pub use piece::{Mode, Piece, SourceState};
pub use plain::PlainText;
pub use setting::{Setting, Settings, Value};
pub use state::State;
pub use summary::{Condition, PieceSummary};
pub use tray::Tray;
pub use trouble::{NotSaved, Saved, Trouble, TroubleKind};
pub use version::Version;
