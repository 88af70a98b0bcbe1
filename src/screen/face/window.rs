//! The window: which part of the mat is visible, and how large.
//!
//! A cell is about twice as high as wide, so a column and half a row are
//! equally long; that length is the unit here.

use glam::DVec2;
use ratatui::layout::Rect;

/// A part of the mat on the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// The cells.
    pub area: Rect,
    /// Columns, or half rows, per millimetre.
    pub per_mm: f64,
    /// The point of the mat in its middle, mm.
    pub centre: DVec2,
    /// Whether it is mirrored for the left hand.
    pub mirrored: bool,
}

impl Window {
    /// The size of the cells in columns and half rows.
    fn size(&self) -> DVec2 {
        DVec2::new(
            f64::from(self.area.width),
            2.0 * f64::from(self.area.height),
        )
    }

    /// The point of the mat behind a place on the screen: columns from the left
    /// edge of the area, and half rows from its upper edge.
    pub fn point(&self, at: DVec2) -> DVec2 {
        let from = (at - self.size() / 2.0) / self.per_mm;
        let x = if self.mirrored { -from.x } else { from.x };
        self.centre + DVec2::new(x, -from.y)
    }

    /// The place of a point of the mat: the inverse of `point`.
    pub fn place(&self, point: DVec2) -> DVec2 {
        let from = point - self.centre;
        let x = if self.mirrored { -from.x } else { from.x };
        DVec2::new(x, -from.y) * self.per_mm + self.size() / 2.0
    }

    /// The screen cell of a point, if visible.
    pub fn cell(&self, point: DVec2) -> Option<(u16, u16)> {
        let at = self.place(point);
        let size = self.size();
        let inside = at.x >= 0.0 && at.y >= 0.0 && at.x < size.x && at.y < size.y;
        inside.then(|| {
            let row = (at.y / 2.0) as u16;
            (self.area.x + at.x as u16, self.area.y + row)
        })
    }

    /// The points behind a cell, its middle first, then those of its two
    /// halves; `None` if the cell is not in the window.
    pub fn halves(&self, (column, row): (u16, u16)) -> Option<[DVec2; 3]> {
        let inside = self.area.contains((column, row).into());
        inside.then(|| {
            let x = f64::from(column - self.area.x) + 0.5;
            let top = 2.0 * f64::from(row - self.area.y);
            [1.0, 0.5, 1.5].map(|half| self.point(DVec2::new(x, top + half)))
        })
    }

    /// Columns per millimetre at which a part of the mat fits the area.
    pub fn fitting(area: Rect, wide: f64, high: f64) -> f64 {
        let columns = (f64::from(area.width) - 2.0).max(1.0);
        let halves = (2.0 * f64::from(area.height) - 1.0).max(1.0);
        (columns / wide).min(halves / high)
    }

    /// The centre that shows a point a little way in from the edge, moved as
    /// little as necessary.
    pub fn following(&self, point: DVec2) -> DVec2 {
        let margin = (self.size() / 4.0).min(DVec2::splat(12.0));
        let at = self.place(point);
        let wanted = at.clamp(margin, self.size() - margin);
        let off = at - wanted;
        let x = if self.mirrored { -off.x } else { off.x };
        self.centre + DVec2::new(x, -off.y) / self.per_mm
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn window(mirrored: bool) -> Window {
        Window {
            area: Rect::new(3, 2, 60, 20),
            per_mm: 2.5,
            centre: DVec2::new(4.0, -7.0),
            mirrored,
        }
    }

    #[test]
    fn point_and_place_are_inverses() {
        for mirrored in [false, true] {
            let window = window(mirrored);
            for at in [DVec2::ZERO, DVec2::new(13.5, 30.5), DVec2::new(60.0, 40.0)] {
                let back = window.place(window.point(at));
                assert!((back - at).length() < 1e-9);
            }
            assert_eq!(window.place(window.centre), DVec2::new(30.0, 20.0));
        }
    }

    #[test]
    fn every_cell_is_found_again_from_the_points_behind_it() {
        let window = window(true);
        for position in window.area.positions() {
            let cell = (position.x, position.y);
            let points = window.halves(cell).expect("of the window");
            assert!(points.iter().all(|p| window.cell(*p) == Some(cell)));
        }
        assert_eq!(window.halves((2, 2)), None);
        assert_eq!(window.halves((63, 5)), None);
    }

    #[test]
    fn up_on_the_mat_is_up_and_the_left_hand_sees_a_mirror_image() {
        let up = DVec2::new(4.0, -6.0);
        assert!(window(false).place(up).y < 20.0);
        let right = DVec2::new(5.0, -7.0);
        assert!(window(false).place(right).x > 30.0);
        assert!(window(true).place(right).x < 30.0);
    }

    #[test]
    fn a_followed_point_is_visible_and_a_visible_one_moves_nothing() {
        for mirrored in [false, true] {
            let mut window = window(mirrored);
            assert!((window.following(window.centre) - window.centre).length() < 1e-9);
            for far in [DVec2::new(90.0, 0.0), DVec2::new(-50.0, -80.0)] {
                window.centre = window.following(far);
                assert!(window.cell(far).is_some());
            }
        }
    }
}
