//! The full-screen stitch-along, the tray, and the plain mode.
//!
//! ```text
//! keys  ->  action  ->  session  ->  journal  ->  view  ->  terminal
//! keys.rs               session.rs   (progress)   view/     term.rs
//! ```
//!
//! The session is small: the piece itself, and what is in front of the maker.
//! Drawing is a function of it alone, and looks up only what can be seen, so
//! that a key is painted at once however large the piece.

mod apart;
mod asking;
mod bell;
mod error;
mod face;
mod gist;
mod glyphs;
mod graphics;
#[cfg_attr(not(unix), allow(dead_code))]
mod input;
mod keys;
mod look;
mod picture;
mod place;
mod plain;
#[cfg(test)]
mod proof;
mod run;
mod session;
mod settings;
#[cfg(unix)]
mod signals;
mod solid;
mod standing;
#[cfg(test)]
mod storm;
mod taken;
mod term;
mod view;
mod way;
mod woken;

pub use error::Error;
pub use look::{Depth, Look};
pub use plain::{plain, step_line};
pub use run::{Choice, Options, Outcome, PatternOffer, stitch, tray};
