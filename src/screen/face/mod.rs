//! The whole face: the current panel as beads, in as much detail as cells can
//! show.
//!
//! ```text
//! window.rs   mm on the mat <-> cells of the screen
//! room.rs     what is viewed: panel, side up, zoom, the bead pointed at
//! grid.rs     the bead behind each half cell, and where it ends
//! raster.rs   the window filled, cell by cell, and the signs on it
//! holes.rs    how full the holes are, as a map
//! ink.rs      what a cell is drawn with, for every kind of terminal
//! route.rs    the path of the thread through the movements nearby
//! passes.rs   how often the thread goes through a bead, counted in the
//! background
//! told.rs     the bead pointed at, in words
//! brush.rs    the current bead, and strokes that paint with it
//! palette.rs  the brush in words: the current bead, how many of each colour
//! paint_file.rs  what is painted, written to a pattern file
//! shown.rs    the heading, the picture and the mouse, for viewing and painting
//! ```
//!
//! A frame asks only for the beads in the window, so that a panel of any size
//! is painted at once.

mod brush;
mod grid;
mod holes;
mod ink;
mod paint_file;
pub mod palette;
mod passes;
mod raster;
mod room;
mod route;
mod shown;
mod told;
mod window;

pub use brush::{NoStroke, Stroke, part_of};
pub use holes::{HoleFill, HoleMap};
pub use paint_file::same;
pub use raster::{FaceScene, draw};
pub use room::FaceRoom;
pub use shown::{ask_passes, picture, title, touch};
pub use told::{told, told_shortly};
