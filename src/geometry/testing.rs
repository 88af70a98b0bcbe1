//! Shapes for the tests of this module.

use super::Shape;
use crate::beadwork::{Project, Sequence};

pub use crate::beadwork::testing as project;

/// The shape of a project.
pub fn body(project: Project) -> Shape {
    Shape::of(&Sequence::new(project))
}
