//! Help while stitching: counting beads, finding a lost place, unpicking,
//! thread and time.
//!
//! ```text
//! count   compares a number counted with what is in place
//! locate  finds the step from what can be seen on the mat
//! unpick  goes back to an earlier step
//! pace    how far the thread reaches, which holes are full, how long it takes
//! ```

pub mod count;
pub mod locate;
pub mod pace;
pub mod unpick;
