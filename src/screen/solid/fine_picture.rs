//! The fine picture of the solid, if the terminal shows pictures: drawn in the
//! background and shown while nothing moves; otherwise cells are shown.

use super::SolidRoom;
use crate::beadwork::number::Step;
use crate::picture::{Camera, Scene, png};
use crate::screen::background_task::BackgroundTask;
use crate::screen::layer::{Context as _, Flow};
use crate::screen::look::Depth;
use crate::screen::session::Session;
use glam::DVec3;
use ratatui::layout::Rect;

/// The fine picture in a sitting.
#[derive(Debug, Default)]
pub struct FinePicture {
    wish: FineWish,
    /// Whether the terminal shows pictures, once it has answered.
    can: Option<bool>,
    drawn: Option<FineDrawn>,
    /// Number of pictures begun so far.
    begun: u64,
    /// Whether the picture drawn shows the current view.
    is_current: bool,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum FineWish {
    #[default]
    Cells,
    Fine,
}

#[derive(Debug)]
struct FineDrawn {
    view: FineView,
    png: BackgroundTask<Vec<u8>>,
}

/// Everything that a picture depends on, except the colours.
#[derive(Clone, Debug, PartialEq)]
struct FineView {
    area: Rect,
    camera: Camera,
    places: Vec<Vec<DVec3>>,
    states: bool,
    done: Step,
}

/// A picture to show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FineShown<'a> {
    /// Its number; a different number is a different picture.
    pub number: u64,
    /// The cells that it covers.
    pub area: Rect,
    /// The picture.
    pub png: &'a [u8],
}

impl FinePicture {
    /// Whether it is wanted and not yet known if it can be shown.
    pub fn is_unsure(&self) -> bool {
        self.wish == FineWish::Fine && self.can.is_none()
    }

    /// Receives the terminal's answer; returns a message if the maker waits for
    /// it.
    pub fn answered(&mut self, can: bool) -> Option<&'static str> {
        self.can = Some(can);
        if self.wish == FineWish::Cells {
            return None;
        }
        if can {
            return Some("A fine picture while nothing moves; i leads back to cells.");
        }
        self.wish = FineWish::Cells;
        Some(CANNOT)
    }

    /// Drops the picture, because colours have changed.
    pub fn forget(&mut self) {
        self.drawn = None;
        self.is_current = false;
    }

    /// Takes a picture that is being drawn; returns whether it is still waited
    /// for.
    pub fn look(&mut self) -> bool {
        self.wish == FineWish::Fine && self.drawn.as_mut().is_some_and(|d| d.png.look())
    }
}

impl Session {
    /// Switches to the fine picture, or back to cells.
    pub fn turn_fine(&mut self) -> Flow<Session> {
        if self.look().depth == Depth::None {
            return self.say("A fine picture needs colours, and this screen is set to show none.");
        }
        let fine = &mut self.fine;
        fine.wish = match (fine.wish, fine.can) {
            (FineWish::Fine, _) => FineWish::Cells,
            (FineWish::Cells, Some(false)) => return self.say(CANNOT),
            (FineWish::Cells, _) => FineWish::Fine,
        };
        Flow::Stay
    }

    /// Whether a fine picture should be shown while the solid does not move.
    pub fn wants_fine_picture(&self) -> bool {
        let stands = |room: &SolidRoom| room.view.moving.is_none();
        self.fine.wish == FineWish::Fine
            && self.fine.can == Some(true)
            && self.solid.as_ref().is_some_and(stands)
    }

    /// Starts drawing the picture for an area in cells, each `wide` by `high`
    /// pixels, if it is not drawn yet. Need not be called while no picture is
    /// wanted.
    pub fn refine(&mut self, area: Option<Rect>, (wide, high): (u16, u16)) {
        self.fine.is_current = false;
        let (
            Some(area),
            Some(SolidRoom {
                view: looked_at, ..
            }),
            true,
        ) = (area, &self.solid, self.wants_fine_picture())
        else {
            return;
        };
        if area.is_empty() {
            return;
        }
        let points = |cells: u16, each: u16| usize::from(cells) * usize::from(each);
        let size = png::size((points(area.width, wide), points(area.height, high)));
        let places = looked_at.places();
        let mirrored = self.left_handed();
        // The terminal stretches the picture back over the cells, so it is
        // drawn that much narrower.
        let full = points(area.width, wide) as f64 / points(area.height, high) as f64;
        let slim = size.0 as f64 / size.1 as f64 / full;
        let view = FineView {
            area,
            camera: looked_at.camera(&places, size, slim, mirrored),
            places,
            states: looked_at.states,
            done: self.done(),
        };
        if self.fine.drawn.as_ref().is_some_and(|d| d.view == view) {
            self.fine.is_current = true;
            return;
        }
        // One at a time: a picture begun for another view is finished first, so
        // that a key held down does not start many.
        if self.fine.look() {
            return;
        }
        let scene = Scene {
            camera: view.camera,
            places: view.places.clone(),
            standing: looked_at.states.then(|| self.standing(&looked_at.body)),
            solids: looked_at.body.solids(),
        };
        let seq = self.seq.clone();
        let png = BackgroundTask::begin(move || scene.png(seq.layout()));
        self.fine.drawn = Some(FineDrawn { view, png });
        self.fine.begun += 1;
        self.fine.is_current = true;
    }

    /// The picture to show now.
    pub fn fine_picture(&self) -> Option<FineShown<'_>> {
        let is_seen = self.fine.is_current && self.wants_fine_picture();
        let drawn = self.fine.drawn.as_ref().filter(|_| is_seen)?;
        Some(FineShown {
            number: self.fine.begun,
            area: drawn.view.area,
            png: drawn.png.get()?,
        })
    }
}

const CANNOT: &str = "This terminal does not say that it shows pictures, so the cells stay.";
