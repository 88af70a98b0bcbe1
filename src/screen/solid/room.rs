//! The whole solid in a sitting.

use crate::beadwork::Sequence;
use crate::geometry::{FaceColours, Shape, Standing};
use crate::picture::View;
use crate::plan::flat::{self, Flatness, Lie};
use crate::screen::session::Session;

/// Sides of a join that stay this far apart, relative to their length, are
/// reported.
const GAPES: f64 = 0.05;

/// The last view of the solid.
#[derive(Debug)]
pub struct SolidRoom {
    /// How it is viewed.
    pub view: View,
    /// Whether it was last opened from the whole face.
    from_face: bool,
    /// In how many places faces of the flat net overlap.
    pub overlapping: usize,
    /// Joins that stiff faces leave open.
    pub gaping: Vec<usize>,
    /// The first kind of panel that does not lie flat.
    pub bent: Option<Flatness>,
}

impl SolidRoom {
    /// The first view of a piece.
    fn new(seq: &Sequence) -> SolidRoom {
        let view = View::new(seq);
        let is_bent = |panel: &Flatness| matches!(panel.lie, Lie::Cups | Lie::Ruffles);
        SolidRoom {
            from_face: false,
            overlapping: view.net.overlapping(),
            gaping: view.body.gaping(GAPES),
            bent: flat::panels(seq.layout()).into_iter().find(is_bent),
            view,
        }
    }
}

impl Session {
    /// Shows the whole solid as it lies on the mat; opened from the face, where
    /// colours are tried, it is shown as finished.
    pub fn look_at_solid(&mut self, from_face: bool) {
        let mut room = match self.solid.take() {
            Some(room) => room,
            None => SolidRoom::new(&self.seq),
        };
        if room.from_face != from_face {
            room.view.states = !from_face;
        }
        room.from_face = from_face;
        let standing = self.standing(&room.view.body);
        let job = self.movement().map(|m| m.job);
        room.view.aim_at(&standing, job, self.done());
        self.solid = Some(room);
    }

    /// Updates the solid to the new colours.
    pub fn recolour_solid(&mut self) {
        if let Some(room) = &mut self.solid {
            room.view.face_colours = FaceColours::new(self.seq.layout());
        }
        self.fine.forget();
    }

    /// The state of the faces at the current step.
    pub fn standing(&self, body: &Shape) -> Standing {
        Standing::at(&self.seq, body, self.done())
    }
}
