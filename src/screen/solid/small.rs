//! A small picture of a piece on cells, beside a list.

use super::{on_cells, show};
use crate::beadwork::{Sequence, Step};
use crate::geometry::FaceColours;
use crate::picture::{Scene, SolidPainter, picture};
use crate::screen::look::Look;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::cell::Cell;

/// A piece, and how it is looked at.
#[derive(Debug)]
pub struct SmallPicture {
    seq: Sequence,
    scene: Scene,
    face_colours: FaceColours,
    area: (u16, u16),
}

impl SmallPicture {
    /// For a piece as it is when finished, or as far as it is worked, with this
    /// many columns and rows.
    pub fn of(seq: Sequence, worked: Option<Step>, (wide, high): (u16, u16)) -> SmallPicture {
        let (size, slim) = on_cells(wide, high);
        SmallPicture {
            scene: Scene::of(&seq, worked, size, slim),
            face_colours: FaceColours::new(seq.layout()),
            seq,
            area: (wide, high),
        }
    }

    /// Draws it from the upper left of an area.
    pub fn draw(&self, look: Look, area: Rect, buf: &mut Buffer) {
        let (wide, high) = self.area;
        let area = Rect::new(area.x, area.y, wide, high).intersection(area);
        if (area.width, area.height) != self.area {
            return;
        }
        let seen = picture(&self.scene.camera, &self.scene.places);
        let painter = SolidPainter {
            layout: self.seq.layout(),
            face_colours: &self.face_colours,
            standing: self.scene.standing.as_ref(),
            shading: look.depth.shading(),
            last: Cell::default(),
        };
        show(look, &painter, &seen, &[], area, buf);
    }
}
