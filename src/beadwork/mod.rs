//! The engine: from a [`Project`] to steps, by arithmetic alone.
//!
//! Nothing here knows a terminal, a clock or a disk, and nothing here uses
//! another part of the project. Terms are the trade's. The types that most of it
//! speaks of are named once below, and imported from here.
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
pub mod touch;
pub mod verify;
mod words;
pub mod work;

pub use amend::{Amendment, OwnStep};
pub use bead::{BeadKind, BeadSize, Colour, Rgb};
pub use colour::{ColourWord, Colours, PanelColours};
pub use corner_law::CornerLaw;
pub use end::{End, Hole};
pub use frame::Frame;
pub use gap_word::GapWord;
pub use goal::Goal;
pub use job::{JobInfo, JobKind, SideFit, SideJoin};
pub use layout::{JoinRow, Layout, Part, RimSide, Seat};
pub use making::{Begin, Making};
pub use movement::{Kind, Movement};
pub use number::{Bead, GoalJob, Job, Panel, RimIndex, Round, RowIndex, Side, Step};
pub use own_rounds::{GapChange, OwnRounds, RowGap};
pub use panel::{PanelLayout, Place, Spot};
pub use project::{Closing, Growth, Make, PanelSpec, Project, Solid, SpecIndex, WorkDirection};
pub use round_work::RoundWork;
pub use rules::Refusal;
pub use seams::{Corner, Direction, Seams};
pub use sequence::Sequence;
pub use stage::Stage;
pub use thread::{Needle, Thread, ThreadChoice, ThreadLength};
pub use words::{capitalised, many, plural};
pub use work::{Change, Fact, Run, Work};
