//! The engine: from a [`Project`] to steps, by arithmetic alone.
//!
//! Nothing here knows a terminal, a clock or a disk, and nothing here uses
//! another part of the project. Terms are the trade's.
//!
//! ```
//! use threadmark::beadwork::{Kind, Sequence, Step};
//!
//! let project = threadmark::pattern::load("patterns/practice-triangle.json")?.project;
//! let sequence = Sequence::new(project);
//! // A triangle whose last round is K has 3 K (K + 1) / 2 beads.
//! let rounds = sequence.layout().project().panels[0].rounds;
//! assert_eq!(sequence.layout().beads(), 3 * rounds * (rounds + 1) / 2);
//! assert_eq!(sequence.step(Step(1)).map(|m| m.kind), Some(Kind::StartThread));
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

pub mod amend;
pub mod anchor;
mod assembly;
pub mod bead;
pub mod broken_out;
pub mod carry;
pub mod colour;
pub mod corner_law;
pub mod corner_mark;
pub mod end;
pub mod flat_face;
pub mod frame;
pub mod gap_word;
pub mod goal;
pub mod hole;
pub mod job;
pub mod kaleidocycle;
pub mod layout;
mod lower;
mod lying;
pub mod making;
pub mod movement;
pub mod number;
#[cfg(test)]
pub mod outside_values;
pub mod own_rounds;
pub mod paint;
pub mod panel;
pub mod places;
pub mod planner;
mod position;
pub mod project;
pub mod record;
pub mod round_info;
pub mod round_peyote;
pub mod round_work;
pub mod route;
pub mod rules;
pub mod seams;
pub mod sequence;
mod settle;
pub mod solid;
pub mod stage;
pub mod strip;
#[cfg(test)]
pub mod testing;
pub mod thread;
pub mod thread_use;
pub mod touch;
pub mod verify;
mod words;
pub mod work;

pub use bead::{BeadKind, BeadSize, Colour, Rgb};
pub use movement::{Kind, Movement};
pub use number::{Bead, Job, Panel, Round, Side, Step};
pub use project::Project;
pub use sequence::Sequence;
pub use thread_use::ThreadLength;
pub use words::{many, plural};
