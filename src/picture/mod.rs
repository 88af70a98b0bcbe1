//! A piece as a picture: turned and folded as it is held, seen by a camera,
//! lit, in its colours; as points for the screen and PNG, as shapes for SVG.
//!
//! ```text
//! corners in mm ─camera─> points of the picture ─raster─> what each spot
//!   shows (face, side, out, along) ─painter─> colours
//! ```
//!
//! Only what can be seen is coloured, and a colour is looked up by arithmetic:
//! a picture takes time with the faces and the spots, never with the beads.

pub mod aim;
mod camera;
mod held;
mod motion;
mod painter;
pub mod png;
mod raster;
mod scene;
mod svg;
mod view;

pub use camera::{Camera, Stand};
pub use painter::{Painted, SolidPainter, SpotKind};
pub use raster::{Picture, PictureSpot, SeenFace, picture};
pub use scene::Scene;
pub use svg::MOST_BEADS;
pub use view::{Moving, View};
