//! A piece in front of the camera, ready to be drawn.

use super::camera::Camera;
use super::view::View;
use crate::beadwork::{Sequence, Step};
use crate::geometry::Standing;
use glam::DVec3;

/// The camera and the piece that it shows.
#[derive(Debug, PartialEq)]
pub struct Scene {
    /// The camera; its size is the size of the picture in pixels.
    pub camera: Camera,
    /// The corners of the faces, mm.
    pub places: Vec<Vec<DVec3>>,
    /// The state of everything; `None` to show the piece as finished.
    pub standing: Option<Standing>,
    /// For each face, the solid that it belongs to.
    pub solids: Vec<usize>,
}

impl Scene {
    /// The finished piece, or the piece after the step `worked`: a flat piece
    /// from straight above, all others so that several faces show. The picture
    /// has `size` pixels; `slim` of them side by side are as wide as one is
    /// high.
    ///
    /// ```
    /// use threadmark::beadwork::Sequence;
    /// use threadmark::picture::Scene;
    ///
    /// let project = threadmark::pattern::load("patterns/practice-pair.json")?.project;
    /// let piece = Sequence::new(project);
    /// let scene = Scene::of(&piece, None, (400, 300), 1.0);
    /// assert!(scene.png(piece.layout()).starts_with(b"\x89PNG"));
    /// # Ok::<(), threadmark::problem::Problems>(())
    /// ```
    pub fn of(seq: &Sequence, worked: Option<Step>, size: (usize, usize), slim: f64) -> Scene {
        let mut view = View::new(seq);
        view.straight = true;
        let standing = worked.map(|step| {
            let standing = Standing::at(seq, &view.body, step);
            let job = seq.step(Step(step.0 + 1)).map(|next| next.job);
            view.aim_at(&standing, job, step);
            standing
        });
        let places = view.places();
        Scene {
            camera: view.camera(&places, size, slim, false),
            places,
            standing,
            solids: view.body.solids(),
        }
    }
}
