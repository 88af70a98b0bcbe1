//! What is viewed in the whole face: the panel, which side is up, how large,
//! and the bead pointed at.

use super::brush::Brush;
use super::passes::Passes;
use super::raster::LastFilled;
use crate::beadwork::flat_face::{Brick, FlatFace};
use crate::beadwork::layout::Seat;
use crate::beadwork::{Bead, Panel, Round, Sequence, Side, Step};
use glam::DVec2;
use ratatui::layout::Rect;
use std::cell::Cell;

/// Numbers of columns that the length of a bead can take, the smallest first.
const LADDER: [f64; 13] = [
    0.125, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 9.0, 13.0, 18.0,
];
/// The most columns per bead at which a small panel is drawn when the whole
/// panel is shown.
const WHOLE_MOST: f64 = 9.0;

/// What is viewed.
#[derive(Debug)]
pub struct FaceView {
    pub panel: Panel,
    pub up: Side,
    /// The bead pointed at.
    pub at: Option<Seat>,
    /// A bead that the arrows have reached, and where on it: they keep to a
    /// straight line, though beads lie half beside one another.
    line: Option<(Seat, DVec2)>,
    /// Whether the path of the thread is shown.
    pub route: bool,
    /// How often the thread goes through the beads.
    pub passes: Passes,
    /// Whether it is shown how full the holes are.
    pub holes: bool,
    pub brush: Brush,
    /// An index into `LADDER`; `None` for the whole panel.
    zoom: Option<usize>,
    centre: DVec2,
    /// The area in which it was last drawn.
    area: Cell<Rect>,
    /// Its cells as they were last drawn.
    pub(super) filled: LastFilled,
}

impl Default for FaceView {
    fn default() -> Self {
        FaceView {
            panel: Panel(0),
            up: Side(0),
            at: None,
            line: None,
            route: false,
            passes: Passes::default(),
            holes: false,
            brush: Brush::default(),
            zoom: None,
            centre: DVec2::ZERO,
            area: Cell::new(Rect::new(0, 0, 76, 16)),
            filled: LastFilled::default(),
        }
    }
}

impl FaceView {
    /// Moves to the current bead with `done` steps done.
    pub fn go_to_needle(&mut self, seq: &Sequence, done: Step) {
        let layout = seq.layout();
        let now = seq.step(Step(done.0 + 1));
        let new = now.as_ref().and_then(|m| m.strings.first().copied());
        let passed = now.as_ref().and_then(|m| m.passes.first().copied());
        let strung = seq.strung_after(done);
        let leaves = seq.leaves(done);
        let bead = leaves.or(new).or(passed);
        let bead = bead.or((strung > 0).then_some(Bead(strung)));
        let seat = match bead {
            Some(bead) => layout.seat(bead),
            None => {
                let job = seq.job_of(Step((done.0 + 1).min(seq.steps())));
                first_of(seq, seq.job(job).panel())
            }
        };
        // When a panel has just been begun, the needle is still at another.
        let seat = match new.map(|b| layout.seat(b)) {
            Some(new) if new.panel != seat.panel => new,
            _ => seat,
        };
        self.panel = seat.panel;
        self.up = now.and_then(|m| m.side).unwrap_or(seat.side);
        let sides = layout.kind(seat.panel).sides();
        if self.up.0 >= sides {
            self.up = seat.side;
        }
        self.at = Some(seat);
        self.centre = self.flat(seq).lies(seat).middle;
    }

    /// Moves to another panel, to its first bead.
    pub fn go_to_panel(&mut self, seq: &Sequence, panel: Panel) {
        self.panel = panel;
        self.up = Side(0);
        let seat = first_of(seq, panel);
        self.at = Some(seat);
        self.centre = self.flat(seq).lies(seat).middle;
    }

    /// The panel laid flat.
    pub fn flat<'a>(&self, seq: &'a Sequence) -> FlatFace<'a> {
        FlatFace::new(seq.layout(), self.panel, self.up)
    }

    /// The window in an area, which is remembered.
    pub fn window(&self, face: &FlatFace, area: Rect, mirrored: bool) -> Window {
        self.area.set(area);
        let (low, high) = face.bounds();
        let whole = self.whole(face);
        let (per_mm, centre) = match self.zoom.map(|z| LADDER[z] / face.brick().x) {
            Some(per_mm) if per_mm > whole => (per_mm, self.centre),
            _ => (whole, (low + high) / 2.0),
        };
        Window {
            area,
            per_mm,
            centre,
            mirrored,
        }
    }

    /// The window as last drawn.
    pub fn last_window(&self, face: &FlatFace, mirrored: bool) -> Window {
        self.window(face, self.area.get(), mirrored)
    }

    /// Columns per millimetre that show the whole panel.
    fn whole(&self, face: &FlatFace) -> f64 {
        let (low, high) = face.bounds();
        let size = high - low;
        Window::fitting(self.area.get(), size.x, size.y).min(WHOLE_MOST / face.brick().x)
    }

    /// Whether the whole panel is visible.
    pub fn is_whole(&self, seq: &Sequence) -> bool {
        let face = self.flat(seq);
        let least = self.whole(&face) * face.brick().x;
        self.zoom.is_none_or(|z| LADDER[z] <= least)
    }

    /// Zooms in or out, keeping the bead pointed at in the window.
    pub fn zoom(&mut self, seq: &Sequence, larger: bool, mirrored: bool) {
        let face = self.flat(seq);
        let least = self.whole(&face) * face.brick().x;
        let now = self.zoom.filter(|z| LADDER[*z] > least);
        self.zoom = match (larger, now) {
            (true, None) => LADDER.iter().position(|l| *l > least * 1.2),
            (true, Some(z)) => Some((z + 1).min(LADDER.len() - 1)),
            (false, Some(z)) if z > 0 && LADDER[z - 1] > least => Some(z - 1),
            (false, _) => None,
        };
        if now.is_none()
            && let Some(seat) = self.at
        {
            self.centre = face.lies(seat).middle;
        }
        self.follow(seq, mirrored);
    }

    /// Drops the cells last drawn, because colours have changed.
    pub fn forget_filled(&mut self) {
        self.filled = LastFilled::default();
    }

    /// Shows the whole panel.
    pub fn show_whole(&mut self) {
        self.zoom = None;
    }

    /// Points at the next bead in a direction on the screen, `y` up, or else at
    /// one askew of it; returns whether there is one.
    pub fn point(&mut self, seq: &Sequence, mut by: DVec2, mirrored: bool) -> bool {
        let Some(seat) = self.at else { return false };
        let face = self.flat(seq);
        let middle = face.lies(seat).middle;
        if mirrored {
            by.x = -by.x;
        }
        let across = |way: DVec2| way - by * way.dot(by);
        let line = self.line.filter(|(reached, _)| *reached == seat);
        let from = middle + line.map_or(DVec2::ZERO, |(_, on)| across(on - middle));
        let step = face.brick().min_element() / 8.0;
        let is_ahead = |brick: &Brick| (brick.middle - middle).dot(by) > step;
        let askew = across(face.brick() * 0.75);
        let found = [DVec2::ZERO, askew, -askew].into_iter().find_map(|aside| {
            let tries = (1..60).map(|n| from + aside + by * (step * f64::from(n)));
            tries.filter_map(|p| face.at(p)).find(is_ahead)
        });
        if let Some(brick) = found {
            self.at = Some(brick.seat);
            self.line = Some((brick.seat, brick.middle + across(from - brick.middle)));
            self.follow(seq, mirrored);
        }
        found.is_some()
    }

    /// Points at the next bead of the round.
    pub fn along(&mut self, seq: &Sequence, forward: bool, mirrored: bool) {
        let Some(seat) = self.at else { return };
        let kind = seq.layout().kind(self.panel);
        let next = |at: u32, all: u32| (at + if forward { 1 } else { all - 1 }) % all;
        self.at = Some(match seat.round > kind.last() {
            true => {
                let place = next(seat.place, seat.of);
                let index = place;
                Seat {
                    place,
                    index,
                    ..seat
                }
            }
            false => {
                let index = next(seat.index, kind.in_round(seat.round));
                let at = kind.place(seat.round, index);
                let (side, place, of) = (at.side, at.place, at.of);
                Seat {
                    side,
                    place,
                    of,
                    index,
                    ..seat
                }
            }
        });
        self.follow(seq, mirrored);
    }

    /// Points at what is behind a cell; returns whether there is a bead.
    pub fn click(&mut self, seq: &Sequence, cell: (u16, u16), mirrored: bool) -> bool {
        let face = self.flat(seq);
        let window = self.last_window(&face, mirrored);
        // For small beads, the one whose middle is in the cell, because its
        // letter and its marks are drawn there.
        let halves = window.halves(cell);
        let mut behind = halves.into_iter().flatten().filter_map(|p| face.at(p));
        let middle = |b: &Brick| window.cell(b.middle) == Some(cell);
        let first = behind.clone().next();
        let found = behind.find(middle).or(first);
        if let Some(brick) = found {
            self.at = Some(brick.seat);
        }
        found.is_some()
    }

    /// Turns the side of the bead pointed at up.
    pub fn turn(&mut self, seq: &Sequence, mirrored: bool) {
        let Some(seat) = self.at else { return };
        let sides = seq.layout().kind(self.panel).sides();
        self.up = match self.up == seat.side {
            true => Side((self.up.0 + 1) % sides),
            false => seat.side,
        };
        self.centre = self.flat(seq).lies(seat).middle;
        self.follow(seq, mirrored);
    }

    fn follow(&mut self, seq: &Sequence, mirrored: bool) {
        let Some(seat) = self.at else { return };
        let face = self.flat(seq);
        let window = self.last_window(&face, mirrored);
        if !self.is_whole(seq) {
            self.centre = window.following(face.lies(seat).middle);
        }
    }
}

/// The bead of a panel that is strung first.
fn first_of(seq: &Sequence, panel: Panel) -> Seat {
    let layout = seq.layout();
    let (kind, making) = (layout.kind(panel), layout.making(panel));
    let round = match making.begin.way() {
        crate::beadwork::project::WorkDirection::Outward => Round(1),
        crate::beadwork::project::WorkDirection::Inward => kind.last(),
    };
    layout.seat(layout.bead(panel, round, making.start(round)))
}

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

    /// A direction on the mat as one on the screen, where down is positive, or
    /// back.
    fn turned(&self, by: DVec2) -> DVec2 {
        let x = if self.mirrored { -by.x } else { by.x };
        DVec2::new(x, -by.y)
    }

    /// The point of the mat behind a place on the screen: columns from the left
    /// edge of the area, and half rows from its upper edge.
    pub fn point(&self, at: DVec2) -> DVec2 {
        self.centre + self.turned(at - self.size() / 2.0) / self.per_mm
    }

    /// The place of a point of the mat: the inverse of `point`.
    pub fn place(&self, point: DVec2) -> DVec2 {
        self.turned(point - self.centre) * self.per_mm + self.size() / 2.0
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
        self.centre + self.turned(at - wanted) / self.per_mm
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

    /// Beads of the next rounds lie half beside a bead; the arrows stay at the
    /// height at which they began, and come back.
    #[test]
    fn the_arrows_keep_to_a_line() {
        use crate::beadwork::testing;
        let seq = Sequence::new(testing::single(testing::panel(3, 8)));
        let layout = seq.layout();
        let seat = |round: u32, place: u32| {
            let index = layout.kind(Panel(0)).index(Round(round), Side(0), place);
            layout.seat(layout.bead(Panel(0), Round(round), index))
        };
        let mut view = FaceView {
            at: Some(seat(6, 1)),
            ..FaceView::default()
        };
        // A side runs from right to left.
        for place in 2..=4 {
            assert!(view.point(&seq, -DVec2::X, false));
            assert_ne!(view.at.map(|at| at.round), Some(Round(6)));
            assert!(view.point(&seq, -DVec2::X, false));
            assert_eq!(view.at, Some(seat(6, place)));
        }
        for _ in 0..6 {
            assert!(view.point(&seq, DVec2::X, false));
        }
        assert_eq!(view.at, Some(seat(6, 1)));
        // Above round 7 there is only round 8, which lies half beside it.
        view.at = Some(seat(7, 3));
        assert!(view.point(&seq, DVec2::Y, false));
        assert_eq!(view.at.map(|at| at.round), Some(Round(8)));
        assert!(!view.point(&seq, DVec2::Y, false));
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
