//! The whole face: what its keys and the mouse do.

use super::{Pane, Session};
use crate::beadwork::Panel;
use crate::screen::face::Do;

impl Session {
    /// Whether the mouse is of use: a bead can be pointed at with it.
    pub fn takes_clicks(&self) -> bool {
        matches!(self.pane, Pane::Face)
    }

    /// A click on a cell of the screen.
    pub fn click(&mut self, cell: (u16, u16)) {
        if self.takes_clicks() {
            self.said.clear();
            if self.face.click(&self.seq, cell, self.left_handed()) {
                self.touch_bead();
            }
        }
    }

    /// The button held over a cell: as a click on each bead that it comes to.
    pub fn drag(&mut self, cell: (u16, u16)) {
        let before = self.face.at;
        if self.takes_clicks()
            && self.face.click(&self.seq, cell, self.left_handed())
            && self.face.at != before
        {
            self.said.clear();
            self.touch_bead();
        }
    }

    /// The bead that was just pointed at with the mouse: painted, if the brush
    /// is out.
    fn touch_bead(&mut self) {
        if self.face.brush.on {
            self.paint_bead();
        }
        self.ask_passes();
    }

    /// The wheel: larger or smaller.
    pub fn wheel(&mut self, up: bool) {
        if self.takes_clicks() {
            let mirrored = self.left_handed();
            self.face.zoom(&self.seq, up, mirrored);
        }
    }

    /// Does what a key of the room asks for.
    pub(super) fn look_at_face(&mut self, what: Do) {
        let (done, mirrored) = (self.done(), self.left_handed());
        let seq = &self.seq;
        let face = &mut self.face;
        match what {
            Do::Open => {
                face.go_to_needle(seq, done);
                face.show_whole();
                face.brush.on = false;
                self.pane = Pane::Face;
            }
            Do::Pan(way) => {
                face.pan(seq, way, mirrored);
                if face.is_whole(seq) {
                    self.said = "The whole panel is seen: + makes its beads larger.".into();
                }
                return;
            }
            Do::Point(way) => {
                if !face.point(seq, way, mirrored) {
                    self.said = "There is no bead further that way.".into();
                }
            }
            Do::Along(forward) => face.along(seq, forward, mirrored),
            Do::Zoom(larger) => return face.zoom(seq, larger, mirrored),
            Do::Whole => return face.show_whole(),
            Do::Needle => face.go_to_needle(seq, done),
            Do::Route => {
                face.route = !face.route;
                return;
            }
            Do::Colouring
            | Do::Paint
            | Do::Hand(_)
            | Do::Letter(_)
            | Do::Take
            | Do::Reach
            | Do::Undo
            | Do::Redo
            | Do::Write => return self.colour(what),
            Do::Turn => return face.turn(seq, mirrored),
            Do::Panel(next) => {
                let panels = seq.layout().panels().len() as u16;
                let by = if next { 1 } else { panels - 1 };
                if panels == 1 {
                    self.said = "The piece is this one panel.".into();
                    return;
                }
                face.go_to_panel(seq, Panel((face.panel.0 + by) % panels));
            }
        }
        self.ask_passes();
    }

    fn ask_passes(&mut self) {
        if let Some(seat) = self.face.at {
            let bead = self.seq.layout().bead_in(seat);
            let done = self.done();
            self.face.passes.ask(&self.seq, bead, done);
        }
    }

    /// To the step that strings the bead pointed at.
    pub(super) fn go_to_bead(&mut self) {
        if let Some(seat) = self.face.at {
            let bead = self.seq.layout().bead_in(seat);
            self.jump(self.seq.step_of(bead));
        }
    }
}
