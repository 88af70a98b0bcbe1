//! Shapes for the tests of this module.

use super::Shape;
use crate::beadwork::{Project, Sequence};

pub use crate::beadwork::testing as project;

pub fn body(project: Project) -> Shape {
    Shape::of(&Sequence::new(project))
}
