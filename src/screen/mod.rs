//! The full-screen stitch-along, the tray, and the plain mode.
//!
//! ```text
//! input     ->  stack of layers  ->  session   ->  journal   ->  painted
//! terminal.rs   layer.rs, layers/    session.rs    (progress)    widgets/, picture/
//! ```
//!
//! A session is the piece and the clock. A layer is a screen: it declares its
//! keys, does what they ask, and draws itself. It looks up only what can be
//! seen, so that the screen is painted at once after a key, however large the
//! piece. The plain mode has the same layers and the same keys, and says what
//! they say.
//!
//! ```
//! use threadmark::beadwork::Sequence;
//! use threadmark::progress::{Moment, Piece};
//! use threadmark::screen;
//!
//! let project = threadmark::pattern::load("patterns/practice-triangle.json")?.project;
//! let sequence = Sequence::new(project);
//! let piece = Piece::in_memory("A triangle", b"{}", sequence.steps(), Moment::now());
//! let mut said = vec![];
//! // One movement, and the end.
//! screen::plain(sequence, piece, &b"\nq\n"[..], &mut said).expect("it is said");
//! assert!(String::from_utf8_lossy(&said).contains("step 2 of"));
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

mod background_task;
mod face;
mod graphics;
#[cfg_attr(not(unix), allow(dead_code))]
mod input;
mod keys;
mod layer;
mod layers;
mod look;
mod phrases;
mod picture;
mod plain;
#[cfg(test)]
mod proof;
mod run;
mod session;
mod settings;
#[cfg(unix)]
mod signals;
mod solid;
mod speech;
mod stack;
#[cfg(test)]
mod storm;
mod terminal;
mod terminal_guard;
#[cfg(test)]
mod tests;
mod widgets;

mod work_stats;

pub use layer::{Choice, Exit};
pub use layers::{FreeBeginning, NewFreePiece, asked_plainly, step_line};
pub use look::{Depth, Ground, Look};
pub use plain::plain;
pub use run::{Error, Options, PatternOffer, stitch, tray};
pub use speech::{Aloud, Speech};
