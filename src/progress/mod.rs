//! A piece and how it is kept: its own copy of the pattern, its journal, and
//! the tray where the pieces lie.
//!
//! ```text
//! tray/                       place: where it is     tray: what lies in it
//!   evening-star/             piece: one making of a pattern
//!     pattern.json            its own copy, byte for byte
//!     piece.json              facts: title, source, steps in all
//!     journal                 journal: one line an entry, only ever added to
//!     lock                    lock: one program writes, others look
//! ```
//!
//! Everything that happens to a piece is an [`Entry`]; applying the entries in
//! order gives its [`State`]. A key goes the way
//! `Piece::record -> JournalWriter -> Store`, and only then to the screen:
//!
//! ```text
//! key -> entry -> line -> write(2) -> state -> paint
//!                            \-> sync thread: fsync, off the screen's path
//! ```
//!
//! What the disk refuses stays in memory and is offered again; see [`Saved`]
//! and [`Trouble`]. docs/keeping.md has the written form and the promises.

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
mod piece;
mod piece_dir;
mod piece_metadata;
pub mod place;
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
pub use trouble::{NotKept, Saved, Trouble, TroubleKind};
pub use version::Version;
