//! The shape of a piece: faces in space, the seams between them, how the flat
//! net folds, how a ring turns, and the colours of a face seen from any
//! distance.
//!
//! ```text
//! layout ──> shape ──> pose (folded so far, turned so far) ──> corners in mm
//!              └────> standing (made, joined, open, now) at a step
//! ```
//!
//! Everything here is pure: no terminal, no clock.
//!
//! ```
//! use threadmark::beadwork::Sequence;
//! use threadmark::geometry::{Net, Shape};
//!
//! let project = threadmark::pattern::load("patterns/practice-pair.json")?.project;
//! let shape = Shape::of(&Sequence::new(project));
//! assert_eq!(Net::of(&shape).overlapping(), 0);
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

pub mod face_colours;
pub mod names;
pub mod net;
mod pair;
pub mod polygon;
pub mod ring;
pub mod shape;
pub mod standing;

pub use face_colours::FaceColours;
pub use net::{Net, NetFace};
pub use ring::RingCycle;
pub use shape::{Plate, PlateSide, Seam, Shape};
pub use standing::{FaceState, SideState, Standing};

/// Shapes for the tests of this room.
#[cfg(test)]
mod testing {
    use super::Shape;
    use crate::beadwork::{Project, Sequence};

    pub use crate::beadwork::testing as project;

    pub fn body(project: Project) -> Shape {
        Shape::of(&Sequence::new(project))
    }
}
