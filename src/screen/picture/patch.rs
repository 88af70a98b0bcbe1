//! A patch of beadwork, ready to be drawn: bricks and where they lie; its visible
//! part, from positions in the work to cells; and the line above it.

use super::StripScene;
use super::brick::Scale;
use super::strip::Half;
use crate::beadwork::Bead;
use crate::screen::widgets::text::fit;
use ratatui::prelude::{Buffer, Rect};
use unicode_width::UnicodeWidthStr as _;

/// How far a patch extends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Extent {
    /// To each side of the needle, in half bead lengths.
    pub across: Half,
    /// Rounds, from the one that is being worked.
    pub rounds: i32,
}

/// One bead of a patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PatchBead {
    pub bead: Bead,
    /// The position of its middle along the round, in the needle's direction.
    pub x: Half,
    /// How far out its lower edge lies, in half bead diameters. It is two high.
    pub level: i32,
    /// Whether its front end lies towards larger `x`.
    pub forward: bool,
}

/// Which part of a patch must be visible when it does not fit as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// The upper part.
    Top,
    /// The lower part.
    Bottom,
    /// This level in the middle.
    Middle(i32),
}

/// Bricks near the needle, seen from outside with the outer edge up, and the
/// needle going towards larger `x`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Patch {
    /// The bricks. Where two overlap, the earlier one is in front.
    pub bricks: Vec<PatchBead>,
    /// Where the needle is at work.
    pub focus: Half,
    /// The ends of the side being worked, as far as they are known.
    pub side: Option<(Half, Half)>,
    /// What to keep in view.
    pub hold: Hold,
    /// The ruler's name for the stretch, and for what lies before and after it.
    pub names: [String; 3],
}

impl Patch {
    /// Adds a bead.
    pub fn add(&mut self, bead: Bead, x: Half, level: i32, forward: bool) {
        self.bricks.push(PatchBead {
            bead,
            x,
            level,
            forward,
        });
    }

    /// The lowest and the highest level, both ends included.
    pub fn levels(&self) -> (i32, i32) {
        let levels = self.bricks.iter().map(|b| b.level);
        let low = levels.clone().min().unwrap_or(0);
        (low, levels.max().unwrap_or(0) + 1)
    }
}

/// From positions in the work to cells.
pub struct WorkView {
    area: Rect,
    pub scale: Scale,
    /// The position in the middle of the area.
    middle: Half,
    /// The half level in the top rows.
    pub top: i32,
    /// Whether the needle goes to the right.
    pub rightward: bool,
}

impl WorkView {
    /// The visible part of a patch in an area at a scale.
    pub fn new(patch: &Patch, scale: Scale, area: Rect, rightward: bool) -> WorkView {
        let halves = i32::from(area.height) / scale.half;
        let (low, high) = patch.levels();
        let spare = halves - (high - low + 1);
        let top = if spare >= 0 {
            high + spare / 2
        } else {
            match patch.hold {
                Hold::Top => high,
                Hold::Bottom => low + halves - 1,
                Hold::Middle(level) => level + (halves + 1) / 2,
            }
        };
        let seen = 2 * i32::from(area.width) / scale.wide;
        let middle = match patch.side {
            // A side that fits stays where it is while it is being worked.
            Some((from, to)) if to - from + 4 <= seen => (from + to) / 2,
            // A side that does not fit is followed, but not past its ends.
            Some((from, to)) => {
                let (first, last) = (from - 4 + seen / 2, to + 4 - seen / 2);
                patch.focus.clamp(first.min(last), last.max(first))
            }
            None => patch.focus,
        };
        WorkView {
            area,
            scale,
            middle,
            top,
            rightward,
        }
    }

    /// The column of a position: the left cell of a brick whose middle is
    /// there.
    pub fn column(&self, x: Half) -> i32 {
        // Always rounded the same way, so that neighbouring bricks stay
        // together.
        let away = ((x - self.middle) * self.scale.wide).div_euclid(2);
        let away = if self.rightward { away } else { -away };
        i32::from(self.area.x) + i32::from(self.area.width) / 2 + away - self.scale.wide / 2
    }

    /// Whether the bricks of a level are in the area from top to bottom.
    pub fn shows(&self, level: i32) -> bool {
        let (_, y) = self.place(0, level);
        let rows = i32::from(self.area.top())..=i32::from(self.area.bottom());
        rows.contains(&y) && rows.contains(&(y + 2 * self.scale.half))
    }

    /// The upper left cell of a brick.
    pub fn place(&self, x: Half, level: i32) -> (i32, i32) {
        let row = (self.top - (level + 1)) * self.scale.half;
        (self.column(x), i32::from(self.area.y) + row)
    }
}

/// Cells that have a brick.
pub struct Occupied {
    area: Rect,
    cells: Vec<bool>,
}

impl Occupied {
    /// No cells yet.
    pub fn new(area: Rect) -> Occupied {
        let cells = vec![false; usize::from(area.width) * usize::from(area.height)];
        Occupied { area, cells }
    }

    /// Takes the cells of a brick, unless one of them is taken or none is
    /// visible.
    pub fn take(&mut self, x: i32, y: i32, scale: Scale) -> bool {
        let area = self.area;
        let (left, top) = (x - i32::from(area.x), y - i32::from(area.y));
        let (wide, high) = (i32::from(area.width), i32::from(area.height));
        let cols = left.max(0)..(left + scale.wide).min(wide);
        let rows = top.max(0)..(top + 2 * scale.half).min(high);
        // A brick cut by the side of the area would hide its letter.
        if cols.len() < scale.wide as usize || rows.is_empty() {
            return false;
        }
        let cells = rows.flat_map(|r| cols.clone().map(move |c| (r * wide + c) as usize));
        let is_free = cells.clone().all(|cell| !self.cells[cell]);
        if is_free {
            cells.for_each(|cell| self.cells[cell] = true);
        }
        is_free
    }
}

/// Draws it: which side is being worked, from where to where, and in which
/// direction the needle goes.
pub fn draw_ruler(
    scene: &StripScene,
    patch: &Patch,
    view: &WorkView,
    area: Rect,
    buf: &mut Buffer,
) {
    let (signs, style) = (scene.look.signs(), scene.look.seat());
    let [left, wide] = [area.x, area.width].map(i32::from);
    let (from, to) = match patch.side.map(|(a, b)| (view.column(a), view.column(b))) {
        Some((a, b)) => (a.min(b), a.max(b) + view.scale.wide - 1),
        None => (left, left + wide - 1),
    };
    let [from, to] = [from, to].map(|x| x.clamp(left, left + wide - 1));
    let arrow = signs.arrow[usize::from(view.rightward)];
    let y = area.y;
    let mut put = |x: i32, sign: char| {
        if let Some(cell) = buf.cell_mut((x as u16, y)) {
            cell.set_char(sign).set_style(style);
        }
    };
    (from..=to).for_each(|x| put(x, signs.rule[0]));
    put(to, signs.rule[2]);
    put(from, signs.rule[1]);
    // The name is above the middle of the side, and covers its ends if
    // necessary.
    let name = fit(&patch.names[0], (wide - 6).max(0) as usize);
    let name = format!(" {arrow} {name} {arrow} ");
    let long = name.width() as i32;
    let at = ((from + to + 1 - long) / 2).clamp(left, (left + wide - long).max(left));
    buf.set_stringn(at as u16, y, &name, wide as usize, style);
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
