//! The whole face: the current panel as beads, in as much detail as cells can
//! show.
//!
//! ```text
//! view.rs     what is viewed: panel, side up, zoom, the bead pointed at; mm on
//!             the mat <-> cells of the screen
//! grid.rs     the bead behind each half cell, and where it ends
//! raster.rs   the window filled, cell by cell, the signs on it, and the path of
//!             the thread through the movements nearby
//! ink.rs      what a cell is drawn with, for every kind of terminal
//! passes.rs   how often the thread goes through a bead, and how full the holes
//!             are, counted in the background
//! brush.rs    the current bead, strokes that paint with it, and what is
//!             painted, written to a pattern file
//! palette.rs  the brush in words: the current bead, how many of each colour
//! shown.rs    the heading, the picture, the mouse and the bead pointed at in
//!             words, for viewing and painting
//! ```
//!
//! A frame asks only for the beads in the window, so that a panel of any size
//! is painted at once.

mod brush;
mod grid;
mod ink;
pub mod palette;
mod passes;
mod raster;
mod shown;
mod view;

pub use brush::{NoStroke, Stroke, part_of, same};
pub use passes::HoleFill;
use raster::draw;
pub use shown::{picture, title, told, touch};
pub use view::FaceView;
