//! A small map of the current panel: its sides, how much of it is done, and
//! where the needle is. Seen from outside, with side 1 up, working
//! anticlockwise; mirrored for the left hand.

use super::text::{self, rows};
use crate::beadwork::frame::Frame;
use crate::beadwork::layout::Seat;
use crate::beadwork::number::last_where;
use crate::beadwork::project::WorkDirection;
use crate::beadwork::{Bead, Round, Side};
use crate::screen::layer::Context as _;
use crate::screen::session::Session;
use glam::DVec2;
use ratatui::prelude::{Buffer, Color, Rect, Widget as _};
use ratatui::symbols::Marker;
use ratatui::widgets::canvas::{Canvas, Context, Line};
use std::f64::consts::PI;

/// Draws the map of the panel that the needle is at.
pub fn draw(session: &Session, area: Rect, buf: &mut Buffer) {
    let (seq, done, look) = (&session.seq, session.done(), session.look());
    let layout = seq.layout();
    let strung = seq.strung_after(done);
    let bead = session
        .movement()
        .and_then(|m| m.strings.first().or(m.passes.last()).copied())
        .or_else(|| seq.leaves(done))
        .or((strung > 0).then_some(Bead(strung)));
    let Some(bead) = bead else { return };
    let seat = layout.seat(bead);
    let plan = MapOutline {
        sides: layout.kind(seat.panel).sides(),
        strip: layout.kind(seat.panel).strip().map(|strip| {
            let half = strip.size(layout.project().bead_mm());
            half / half.max_element()
        }),
        mirrored: session.left_handed(),
    };
    text::line(area, buf, &layout.panel(seat.panel).name, look.quiet());
    let space = rows(area, 1, area.height.saturating_sub(1));
    if space.height < 4 || space.width < 8 {
        return;
    }
    let marker = match look.unicode {
        true => Marker::Braille,
        false => Marker::Block,
    };
    let last = layout.kind(seat.panel).rounds();
    let side = session.movement().and_then(|m| m.side).unwrap_or(seat.side);
    // Cells are about twice as high as wide.
    let (wide, high) = (f64::from(space.width), 2.0 * f64::from(space.height));
    let (x, y) = (1.25 * (wide / high).max(1.0), 1.25 * (high / wide).max(1.0));
    Canvas::default()
        .marker(marker)
        .x_bounds([-x, x])
        .y_bounds([-y, y])
        .paint(|ctx| {
            let [quiet, strong] = [look.quiet(), look.seat()].map(|s| s.fg.unwrap_or_default());
            plan.ring(ctx, 1.0, quiet);
            if let Some(round) = border(session, seat) {
                plan.ring(ctx, f64::from(round.0) / f64::from(last), quiet);
            }
            if plan.strip.is_none() {
                plan.side(ctx, side, 1.0, strong);
            }
            let (out, along) = layout.flat(seat);
            let at = plan.point_on(seat.side, out.min(1.0), along);
            let named = if plan.strip.is_some() { 0 } else { plan.sides };
            for s in 0..named {
                let at = plan.point_on(Side(s), 1.22, 0.5);
                ctx.print(at.0, at.1, (s + 1).to_string());
            }
            ctx.print(at.0, at.1, look.signs().needle.to_string());
        })
        .render(space, buf);
    if !look.unicode {
        for position in space.intersection(buf.area).positions() {
            let cell = &mut buf[position];
            if !cell.symbol().is_ascii() {
                cell.set_char('.');
            }
        }
    }
}

/// The round at the border of what is done, whose line is drawn.
fn border(session: &Session, seat: Seat) -> Option<Round> {
    let (seq, layout) = (&session.seq, session.seq.layout());
    let strung = seq.strung_after(session.done());
    let making = layout.making(seat.panel);
    let is_outward = making.begin.way() == WorkDirection::Outward;
    let least = if is_outward { 0 } else { making.open };
    // Rounds are strung in order.
    let last = layout.kind(seat.panel).rounds();
    let inner = last_where(least..last + 1, |round| {
        let first = layout.bead(seat.panel, Round(round), making.start(Round(round)));
        (first.0 <= strung) == is_outward
    });
    let border = if is_outward { inner } else { inner + 1 };
    (1..=last).contains(&border).then_some(Round(border))
}

/// The panel's outline in a circle of radius 1.
struct MapOutline {
    sides: u8,
    /// For a strip, half its width and half its height.
    strip: Option<DVec2>,
    mirrored: bool,
}

impl MapOutline {
    fn point_on(&self, side: Side, out: f64, along: f64) -> (f64, f64) {
        if let Some(half) = self.strip {
            let at = (2.0 * DVec2::new(along, out) - 1.0) * half;
            return (if self.mirrored { -at.x } else { at.x }, at.y);
        }
        // A frame has side 1 on the right; here it is at the top.
        let edge = 2.0 * (PI / f64::from(self.sides)).sin();
        let frame = Frame::flat(self.sides, edge);
        let at = frame.point(side.index(), out, along);
        (if self.mirrored { at.y } else { -at.y }, at.x)
    }

    fn ring(&self, ctx: &mut Context, out: f64, colour: Color) {
        if self.strip.is_some() {
            // The part of a strip that is made, from its first row up.
            let corners = [(0.0, 0.0), (0.0, 1.0), (out, 1.0), (out, 0.0)];
            let corners = corners.map(|(out, along)| self.point_on(Side(0), out, along));
            (0..4).for_each(|c| line(ctx, corners[c], corners[(c + 1) % 4], colour));
            return;
        }
        for s in 0..self.sides {
            self.side(ctx, Side(s), out, colour);
        }
    }

    fn side(&self, ctx: &mut Context, side: Side, out: f64, colour: Color) {
        let (a, b) = (self.point_on(side, out, 0.0), self.point_on(side, out, 1.0));
        line(ctx, a, b, colour);
    }
}

fn line(ctx: &mut Context, a: (f64, f64), b: (f64, f64), color: Color) {
    ctx.draw(&Line {
        x1: a.0,
        y1: a.1,
        x2: b.0,
        y2: b.1,
        color,
    });
}
