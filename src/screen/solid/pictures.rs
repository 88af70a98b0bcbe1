//! Pictures of the solid beside other things: a fold before and after, a piece
//! beside a list.

use super::{CELL, Writing, label, on_cells, show};
use crate::beadwork::job::JobKind;
use crate::beadwork::{Kind, Sequence, Step};
use crate::geometry::{FaceColours, PlateSide, Shape, Standing};
use crate::picture::{self, Picture, Scene, SolidPainter, View, picture};
use crate::screen::layer::Context as _;
use crate::screen::look::Look;
use crate::screen::session::Session;
use crate::screen::widgets::text::{self, columns, rows};
use glam::DVec2;
use ratatui::prelude::{Buffer, Rect};
use std::cell::Cell;

/// Draws a view of the piece, with the state of its faces unless it is shown as
/// finished; returns the picture.
pub fn draw_view(
    session: &Session,
    view: &View,
    standing: Option<&Standing>,
    area: Rect,
    buf: &mut Buffer,
) -> Picture {
    let (look, places) = (session.look(), view.places());
    let (size, slim) = on_cells(area.width, area.height);
    let camera = view.camera(&places, size, slim, session.left_handed());
    let seen = picture::picture(&camera, &places);
    // A fine picture shows through cells that are not drawn on.
    if session.fine_picture().is_none() {
        let painter = painter(look, &session.seq, &view.face_colours, standing);
        show(look, &painter, &seen, area, buf);
    }
    let writing = Writing {
        body: &view.body,
        standing,
        places: &places,
    };
    label(look, &writing.labels(&seen), area, buf);
    seen
}

fn painter<'a>(
    look: Look,
    seq: &'a Sequence,
    face_colours: &'a FaceColours,
    standing: Option<&'a Standing>,
) -> SolidPainter<'a> {
    SolidPainter {
        layout: seq.layout(),
        face_colours,
        standing,
        shading: look.depth.shading(),
        last: Cell::default(),
    }
}

/// The fewest columns and rows for both pictures.
const LEAST: (u16, u16) = (56, 8);

/// Draws both, if the next movement folds the work for a tie and there is room;
/// returns whether it did. A ring is folded net by net, so only the net is
/// drawn.
pub fn before_and_after(session: &Session, area: Rect, buf: &mut Buffer) -> bool {
    let now = session.movement();
    let now = now.filter(|m| m.kind == Kind::Fold && m.passes.is_empty());
    let Some(JobKind::Tie(one, other)) = now.map(|m| &session.seq.job(m.job).kind) else {
        return false;
    };
    if area.width < LEAST.0 || area.height < LEAST.1 {
        return false;
    }
    let tie = (PlateSide::of(*one), PlateSide::of(*other));
    let Some(net) = Shape::of(&session.seq).net_of(tie) else {
        return false;
    };
    let mut view = View::of(net, &session.seq);
    let (look, standing) = (session.look(), session.standing(&view.body));
    let half = area.width / 2;
    for (nth, title) in [
        (0, "before: fold along the dotted line"),
        (1, "after: both corners meet"),
    ] {
        let part = columns(area, nth * half, half - 1);
        text::line(part, buf, title, look.quiet());
        let part = rows(part, 1, part.height);
        (view.folded, view.straight) = (f64::from(nth), nth == 0);
        let seen = draw_view(session, &view, Some(&standing), part, buf);
        for &ends in view.body.ties.iter().filter(|_| nth == 0) {
            dotted(look, &seen, ends, part, buf);
        }
    }
    true
}

/// A dotted line from one tied corner to the other, through the point where the
/// panels meet.
fn dotted(look: Look, seen: &Picture, ends: (PlateSide, PlateSide), area: Rect, buf: &mut Buffer) {
    let corner = |at: PlateSide| seen.faces[at.plate].corners[at.side];
    let cells = DVec2::new(CELL.0 as f64, CELL.1 as f64);
    let (from, to) = (corner(ends.0) / cells, corner(ends.1) / cells);
    let dots = from.distance(to) as u32 / 2;
    // The corners themselves have labels.
    for n in 2..dots.saturating_sub(1) {
        let at = from.lerp(to, f64::from(n) / f64::from(dots));
        let inside = at.min_element() >= 0.0
            && at.x < f64::from(area.width)
            && at.y < f64::from(area.height);
        if inside {
            let cell = &mut buf[(area.x + at.x as u16, area.y + at.y as u16)];
            cell.set_char(look.signs().thread[0])
                .set_style(look.ahead());
        }
    }
}

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
        let painter = painter(
            look,
            &self.seq,
            &self.face_colours,
            self.scene.standing.as_ref(),
        );
        show(look, &painter, &seen, area, buf);
    }
}
