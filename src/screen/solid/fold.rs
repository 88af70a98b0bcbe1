//! What a fold does: the work lying flat with the line along which it is
//! folded, and the work after the fold, side by side.

use super::{CELL, Writing, on_cells, show};
use crate::beadwork::Kind;
use crate::beadwork::job::JobKind;
use crate::geometry::{PlateSide, Shape};
use crate::picture::{self, Picture, SolidPainter, View};
use crate::screen::furniture::text::{self, rows};
use crate::screen::layer::Context as _;
use crate::screen::look::Look;
use crate::screen::session::Session;
use glam::DVec2;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::cell::Cell;

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
        let part = Rect {
            x: area.x + nth * half,
            width: half - 1,
            ..area
        };
        text::line(part, buf, title, look.quiet());
        let part = rows(part, 1, part.height);
        (view.folded, view.straight) = (f64::from(nth), nth == 0);
        let places = view.places();
        let (size, slim) = on_cells(part.width, part.height);
        let camera = view.camera(&places, size, slim, session.left_handed());
        let seen = picture::picture(&camera, &places);
        let painter = SolidPainter {
            layout: session.seq.layout(),
            face_colours: &view.face_colours,
            standing: Some(&standing),
            shading: look.depth.shading(),
            last: Cell::default(),
        };
        let writing = Writing {
            body: &view.body,
            standing: Some(&standing),
            places: &places,
            cell: CELL,
        };
        show(look, &painter, &seen, &writing.labels(&seen), part, buf);
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
