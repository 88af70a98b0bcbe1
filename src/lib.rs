//! A stitch-along for geometric beadwork. The main job in a few lines:
//!
//! ```
//! use threadmark::beadwork::{Sequence, Step};
//!
//! let pattern = threadmark::pattern::load("patterns/practice-triangle.json")?;
//! let sequence = Sequence::new(pattern.project);
//! for movement in sequence.iter().take(4) {
//!     println!("{}", sequence.say(&movement));
//! }
//! let work = sequence.work_at(Step(4));
//! assert_eq!(work.strung, 3);
//! assert!(sequence.layout().beads() > work.strung);
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```
//!
//! Its rooms, in the order the work flows:
//!
//! ```text
//! pattern file -> layout of beads -> jobs -> steps -> progress -> screen
//! ```
//!
//! * [`beadwork`] is the engine: beads, gap words, panels, edges, solids, jobs,
//!   steps, and the proof that the steps are right. It knows no terminal, no
//!   clock and no disk.
//! * [`problem`] is something wrong that the maker can mend, and its sentence;
//!   [`clean`] makes text from a file fit for a terminal.
//! * [`pattern`] reads the file a maker writes and says what is wrong with it.
//! * [`plan`] says what a piece takes before the first bead, and drafts new
//!   patterns.
//! * [`sheet`] is the handout: a piece on paper, for a class.
//! * [`progress`] keeps a piece: its own copy of the pattern, and its journal.
//! * [`geometry`] is the whole piece: faces in space, folding, turning; [`picture`]
//!   draws it.
//! * [`tracking`] goes with the work: counts, a lost place, the way back, thread and
//!   hours.
//! * [`words`] holds the words of the trade: what each means and how it looks.
//! * [`tour`] teaches a beginner those words, movement by movement.
//! * [`screen`] is the full-screen stitch-along.
//! * [`atomic_file`] writes a file whole or not at all.
//! * [`plain_file`] opens a file that somebody else may have laid.
//! * [`cli`] holds the commands.

pub mod atomic_file;
pub mod beadwork;
pub mod clean;
pub mod cli;
pub mod geometry;
pub mod pattern;
pub mod picture;
pub mod plain_file;
pub mod plan;
pub mod problem;
pub mod progress;
pub mod screen;
pub mod sheet;
pub mod tour;
pub mod tracking;
pub mod words;
