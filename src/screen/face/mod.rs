//! The whole face: the panel in hand as beads, as far as cells show them.
//!
//! ```text
//! window.rs   mm on the mat <-> cells of the screen
//! does.rs     what keys can ask for
//! room.rs     what is looked at: panel, side up, zoom, the bead pointed at
//! grid.rs     the bead behind each half cell, and where it ends
//! raster.rs   the window filled, cell by cell, and the signs on it
//! ink.rs      what a cell is drawn with, for every kind of terminal
//! route.rs    the way of the thread through the movements near by
//! passes.rs   how often the thread goes through a bead, counted apart
//! told.rs     the bead pointed at, in words
//! brush.rs    the bead in hand, and strokes that paint with it
//! ```
//!
//! A frame asks for the beads in the window and for no others, so that a
//! panel of any size is painted at once.

mod brush;
mod does;
mod grid;
mod ink;
mod passes;
mod raster;
mod room;
mod route;
mod told;
mod window;

pub use brush::{NoStroke, Stroke, part_of};
pub use does::Do;
pub use raster::{Sight, draw};
pub use room::FaceRoom;
pub use told::{told, told_shortly};
