//! The piece as the eye sees it: faces in space, what is joined to what, how
//! the flat net folds, how a ring turns, and the colours of a face seen from
//! any distance.
//!
//! ```text
//! layout ──> shape ──> pose (folded so far, turned so far) ──> corners in mm
//!              └────> standing (made, joined, open, now) at a step
//! ```
//!
//! Everything here is pure: no terminal, no clock. Putting it on a screen is
//! left to the screen.

pub mod face_colours;
pub mod names;
pub mod net;
mod pair;
pub mod polygon;
pub mod ring;
pub mod shape;
pub mod standing;
#[cfg(test)]
mod testing;

pub use face_colours::FaceColours;
pub use net::{Net, NetFace};
pub use ring::RingCycle;
pub use shape::{Plate, PlateSide, Seam, Shape};
pub use standing::{FaceState, SideState, Standing};
