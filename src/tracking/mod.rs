//! The work as it goes: what a count says, where a lost place is, the way back,
//! thread and hours.
//!
//! ```text
//! count   a number counted, against what is in place
//! locate  what lies on the mat, against all places that look like it
//! unpick  from where a mistake is, back to it
//! pace    how far the thread reaches, how full holes are, how long it takes
//! ```

pub mod count;
pub mod locate;
pub mod pace;
pub mod unpick;
