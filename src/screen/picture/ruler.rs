//! The line above the picture.

use super::StripScene;
use super::patch::Patch;
use super::window::WorkView;
use crate::screen::furniture::text::fit;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use unicode_width::UnicodeWidthStr as _;

/// Draws it: which side is being worked, from where to where, and in which
/// direction the needle goes.
pub fn draw(scene: &StripScene, patch: &Patch, view: &WorkView, area: Rect, buf: &mut Buffer) {
    let signs = scene.look.signs();
    let wide = i32::from(area.width);
    let left = i32::from(area.x);
    let (from, to) = match patch.side {
        Some((a, b)) => {
            let (a, b) = (view.column(a), view.column(b));
            (a.min(b), a.max(b) + view.scale.wide - 1)
        }
        None => (left, left + wide - 1),
    };
    let (from, to) = (
        from.clamp(left, left + wide - 1),
        to.clamp(left, left + wide - 1),
    );
    let arrow = signs.arrow[usize::from(view.rightward)];
    let y = area.y;
    for x in from..=to {
        let sign = match x {
            x if x == from => signs.rule[1],
            x if x == to => signs.rule[2],
            _ => signs.rule[0],
        };
        if let Some(cell) = buf.cell_mut((x as u16, y)) {
            cell.set_char(sign).set_style(scene.look.seat());
        }
    }
    // The name is above the middle of the side, and covers its ends if
    // necessary.
    let name = fit(&patch.names[0], (wide - 6).max(0) as usize);
    let name = format!(" {arrow} {name} {arrow} ");
    let long = name.width() as i32;
    let at = ((from + to + 1 - long) / 2).clamp(left, (left + wide - long).max(left));
    buf.set_stringn(at as u16, y, &name, wide as usize, scene.look.seat());
    let (from, to) = (from.min(at), to.max(at + long - 1));
    let (before, behind) = match view.rightward {
        true => (&patch.names[1], &patch.names[2]),
        false => (&patch.names[2], &patch.names[1]),
    };
    let at = from - 1 - before.width() as i32;
    if at >= left {
        buf.set_string(at as u16, y, before, scene.look.quiet());
    }
    if to + 2 + behind.width() as i32 <= left + wide {
        buf.set_string((to + 2) as u16, y, behind, scene.look.quiet());
    }
}
