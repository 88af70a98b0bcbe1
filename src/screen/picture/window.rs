//! The visible part of a patch: from positions in the work to cells.

use super::brick::Scale;
use super::patch::{Hold, Patch};
use super::strip::Half;
use ratatui::layout::Rect;

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
        let mut cells = rows.flat_map(|r| cols.clone().map(move |c| (r * wide + c) as usize));
        let all: Vec<usize> = cells.by_ref().collect();
        let free = all.iter().all(|&c| !self.cells[c]);
        if free {
            all.iter().for_each(|&c| self.cells[c] = true);
        }
        free
    }
}
