//! The whole solid on cells: a camera, a raster with depth, and letters or
//! quarters of cells for what it sees.
//!
//! ```text
//! corners in mm ─camera─> points of the picture ─raster─> what each spot
//!   shows (face, side, out, along) ─paint─> colours ─cells─> the screen
//! ```
//!
//! Only what can be seen is coloured, and a colour is looked up by arithmetic:
//! a frame takes time with the faces and the spots, never with the beads.

pub mod aim;
mod camera;
mod cells;
mod does;
pub mod fine;
mod labels;
mod paint;
mod raster;
#[cfg(test)]
mod raster_tests;

pub use camera::{Camera, Stand};
pub use cells::{CELL, put};
pub use does::Do;
pub use labels::{Writing, word};
pub use paint::Painter;
pub use raster::picture;
