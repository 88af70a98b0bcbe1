//! The whole solid in a sitting.

use crate::geometry::{FaceColours, Shape, Standing};
use crate::picture::View;
use crate::screen::session::Session;

impl Session {
    /// Looks at the whole solid as it lies on the mat; as finished, with a
    /// glance from the face, where colours are tried.
    pub fn look_at_solid(&mut self, from_face: bool) {
        let mut room = match self.solid.take() {
            Some(room) => room,
            None => View::new(&self.seq),
        };
        if room.from_face != from_face {
            room.states = !from_face;
        }
        room.from_face = from_face;
        let standing = self.standing(&room.body);
        let job = self.movement().map(|m| m.job);
        room.aim_at(&standing, job, self.done());
        self.solid = Some(room);
    }

    /// Shows the piece in its new colours.
    pub fn recolour_solid(&mut self) {
        if let Some(room) = &mut self.solid {
            room.face_colours = FaceColours::new(self.seq.layout());
        }
        self.fine.forget();
    }

    /// How the faces stand at the step in hand.
    pub fn standing(&self, body: &Shape) -> Standing {
        Standing::at(&self.seq, body, self.done())
    }
}
