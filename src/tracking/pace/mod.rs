//! Thread, holes and time while stitching.
//!
//! * [`thread`]: how much thread is left, a warning one side before it is too
//!   short, and good places to end it;
//! * [`hole`]: a bead that the next step would find full;
//! * [`time`] and [`left`](mod@left): how long steps of each kind take this maker, and
//!   how long the rest takes, with a range;
//! * [`days`]: the days on which the piece was worked on, as a small chart;
//! * [`rest`]: a reminder to rest eyes and hands.

pub mod days;
pub mod hole;
pub mod left;
pub mod rest;
pub mod thread;
pub mod time;

pub use days::{WorkDay, WorkDays};
pub use hole::{FullHole, FullHoles};
pub use left::{Estimate, Left, left};
pub use rest::Rest;
pub use thread::{CurrentThread, ThreadReach, ThreadStart, current_thread, own_cut_mm};
pub use time::Pace;
