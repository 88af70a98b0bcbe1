//! What is viewed in the whole face: the panel, which side is up, how large,
//! and the bead pointed at.

use super::brush::Brush;
use super::grid::LastGrid;
use super::holes::HoleMap;
use super::passes::Passes;
use super::window::Window;
use crate::beadwork::flat_face::{Brick, FlatFace};
use crate::beadwork::layout::Seat;
use crate::beadwork::{Bead, Panel, Round, Sequence, Side, Step};
use crate::screen::direction::ScreenDirection;
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
pub struct FaceRoom {
    pub panel: Panel,
    pub up: Side,
    /// The bead pointed at.
    pub at: Option<Seat>,
    /// Whether the path of the thread is shown.
    pub route: bool,
    /// How often the thread goes through it.
    pub passes: Passes,
    /// How full the holes are, if that is shown.
    pub holes: Option<HoleMap>,
    pub brush: Brush,
    /// An index into `LADDER`; `None` for the whole panel.
    zoom: Option<usize>,
    centre: DVec2,
    /// The area in which it was last drawn.
    area: Cell<Rect>,
    /// What was behind its cells.
    pub(super) grid: LastGrid,
}

impl Default for FaceRoom {
    fn default() -> Self {
        FaceRoom {
            panel: Panel(0),
            up: Side(0),
            at: None,
            route: false,
            passes: Passes::default(),
            holes: None,
            brush: Brush::default(),
            zoom: None,
            centre: DVec2::ZERO,
            area: Cell::new(Rect::new(0, 0, 76, 16)),
            grid: LastGrid::default(),
        }
    }
}

impl FaceRoom {
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

    /// Shows the whole panel.
    pub fn show_whole(&mut self) {
        self.zoom = None;
    }

    /// Points at the next bead in that direction on the screen; returns whether
    /// there is one.
    pub fn point(&mut self, seq: &Sequence, way: ScreenDirection, mirrored: bool) -> bool {
        let Some(seat) = self.at else { return false };
        let face = self.flat(seq);
        let from = face.lies(seat).middle;
        let mut by = on_screen(way) * DVec2::new(1.0, -1.0);
        if mirrored {
            by.x = -by.x;
        }
        let step = face.brick().min_element() / 8.0;
        let tries = (1..60).map(|n| from + by * (step * f64::from(n)));
        let found = tries.filter_map(|p| face.at(p)).find(|b| b.seat != seat);
        if let Some(brick) = found {
            self.at = Some(brick.seat);
            self.follow(seq, mirrored);
        }
        found.is_some()
    }

    /// Points at the next bead of the round.
    pub fn along(&mut self, seq: &Sequence, forward: bool, mirrored: bool) {
        let Some(seat) = self.at else { return };
        let layout = seq.layout();
        let kind = layout.kind(self.panel);
        if seat.round > kind.last() {
            let row = seat.of;
            let place = match forward {
                true => (seat.place + 1) % row,
                false => (seat.place + row - 1) % row,
            };
            self.at = Some(Seat {
                place,
                index: place,
                ..seat
            });
        } else {
            let beads = kind.in_round(seat.round);
            let index = match forward {
                true => (seat.index + 1) % beads,
                false => (seat.index + beads - 1) % beads,
            };
            let place = kind.place(seat.round, index);
            self.at = Some(Seat {
                side: place.side,
                place: place.place,
                of: place.of,
                index,
                ..seat
            });
        }
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

/// A direction in columns and half rows, down being positive.
fn on_screen(way: ScreenDirection) -> DVec2 {
    match way {
        ScreenDirection::Left => -DVec2::X,
        ScreenDirection::Right => DVec2::X,
        ScreenDirection::Up => -DVec2::Y,
        ScreenDirection::Down => DVec2::Y,
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
