//! Help while stitching: counting beads, finding a lost place, unpicking,
//! thread and time.
//!
//! ```text
//! count   compares a number counted with what is in place
//! locate  finds the step from what can be seen on the mat
//! unpick  goes back to an earlier step
//! pace    how far the thread reaches, which holes are full, how long it takes
//! ```
//!
//! ```
//! use threadmark::beadwork::{Sequence, Step};
//! use threadmark::tracking::count;
//!
//! let project = threadmark::pattern::load("patterns/practice-triangle.json")?.project;
//! let sequence = Sequence::new(project);
//! let first = (1..).map(Step).find_map(|done| count::due(&sequence, done));
//! assert!(first.is_some());
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

pub mod count;
pub mod locate;
pub mod pace;
pub mod unpick;
