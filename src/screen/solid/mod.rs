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
pub mod fine;
mod fine_picture;
mod held;
mod labels;
mod motion;
mod paint;
mod raster;
#[cfg(test)]
mod raster_tests;
mod room;
pub mod said;

pub use camera::{Camera, Stand};
pub use cells::{CELL, put};
pub use fine_picture::{FinePicture, FineShown};
pub use labels::{Writing, word};
pub use paint::SolidPainter;
pub use raster::picture;
pub use room::SolidRoom;
