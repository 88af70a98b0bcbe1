//! A picture of a piece: turned and folded, seen by a camera, lit, in its
//! colours; as pixels for the screen and PNG, as shapes for SVG.
//!
//! ```text
//! corners in mm ─camera─> points of the picture ─raster─> what each spot
//!   shows (face, side, out, along) ─painter─> colours
//! ```
//!
//! Only what is visible is coloured, and the bead at a spot is found by
//! arithmetic: the time for a picture grows with the faces and the spots, not
//! with the beads.
//!
//! ```
//! use threadmark::beadwork::Sequence;
//! use threadmark::picture::Scene;
//!
//! let project = threadmark::pattern::load("patterns/practice-pair.json")?.project;
//! let sequence = Sequence::new(project);
//! let scene = Scene::of(&sequence, None, (400, 300), 1.0);
//! assert!(scene.svg(&sequence, None).starts_with("<svg"));
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

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
pub use held::weight;
pub use painter::{Painted, SolidPainter, SpotKind};
pub use raster::{Picture, PictureSpot, SeenFace, picture};
pub use scene::Scene;
pub use svg::MOST_BEADS;
pub use view::{Moving, View};
