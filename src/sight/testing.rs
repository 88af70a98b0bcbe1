//! Bodies for the tests of this room.

use super::Body;
use crate::beadwork::{Project, Sequence};

pub use crate::beadwork::testing as project;

/// The body of a project.
pub fn body(project: Project) -> Body {
    Body::of(&Sequence::new(project))
}
