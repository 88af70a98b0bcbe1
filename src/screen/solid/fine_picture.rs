//! The fine picture of the solid, if the terminal shows pictures: drawn in the
//! background and shown while nothing moves; otherwise cells are shown.

use super::SolidView;
use crate::picture::{Scene, png};
use crate::screen::background_task::BackgroundTask;
use crate::screen::layer::{Context as _, Flow};
use crate::screen::look::Depth;
use crate::screen::session::Session;
use ratatui::layout::Rect;
use std::sync::Arc;

/// The fine picture in a sitting.
#[derive(Debug, Default)]
pub struct FinePicture {
    /// Whether it is wanted.
    is_wanted: bool,
    /// Whether the terminal shows pictures, once it has answered.
    can: Option<bool>,
    drawn: Option<FineDrawn>,
    /// Number of pictures begun so far.
    begun: u64,
    /// Whether the picture drawn shows the current view.
    is_current: bool,
}

#[derive(Debug)]
struct FineDrawn {
    area: Rect,
    /// Everything that it depends on, except the colours.
    scene: Arc<Scene>,
    png: BackgroundTask<Vec<u8>>,
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
        self.is_wanted && self.can.is_none()
    }

    /// Drops the picture, because colours have changed.
    pub fn forget(&mut self) {
        self.drawn = None;
        self.is_current = false;
    }

    /// Takes a picture that is being drawn; returns whether it is still waited
    /// for.
    pub fn look(&mut self) -> bool {
        self.is_wanted && self.drawn.as_mut().is_some_and(|d| d.png.look())
    }
}

impl Session {
    /// Switches to the fine picture, or back to cells.
    pub fn turn_fine(&mut self) -> Flow<Session> {
        if self.look().depth == Depth::None {
            return self.say("A fine picture needs colours, and this screen is set to show none.");
        }
        if !self.fine.is_wanted && self.fine.can == Some(false) {
            return self.say(CANNOT);
        }
        self.fine.is_wanted ^= true;
        Flow::Stay
    }

    /// Receives the terminal's answer about pictures, and tells the maker if she
    /// waits for it.
    pub fn fine_answered(&mut self, can: bool) {
        self.fine.can = Some(can);
        let is_awaited = self.fine.is_wanted;
        self.fine.is_wanted &= can;
        if is_awaited {
            self.say(match can {
                true => "A fine picture while nothing moves; i leads back to cells.",
                false => CANNOT,
            });
        }
    }

    /// Whether a fine picture should be shown while the solid does not move.
    pub fn wants_fine_picture(&self) -> bool {
        let stands = |solid: &SolidView| solid.view.moving.is_none();
        self.fine.is_wanted
            && self.fine.can == Some(true)
            && self.solid.as_ref().is_some_and(stands)
    }

    /// The picture to show now for an area in cells, each with so many pixels
    /// across and down, if one is wanted; begins to draw one if it is not drawn
    /// yet.
    pub fn refine(&mut self, area: Option<Rect>, pixels: (u16, u16)) -> Option<FineShown<'_>> {
        self.fine.is_current = false;
        if let Some(area) = area.filter(|area| !area.is_empty()) {
            self.draw_fine(area, pixels);
        }
        self.fine_picture()
    }

    fn draw_fine(&mut self, area: Rect, (wide, high): (u16, u16)) {
        let solid = self.solid.as_ref().filter(|_| self.wants_fine_picture());
        let Some(SolidView { view, .. }) = solid else {
            return;
        };
        let points = |cells: u16, each: u16| usize::from(cells) * usize::from(each);
        let size = png::size((points(area.width, wide), points(area.height, high)));
        let places = view.places();
        let mirrored = self.left_handed();
        // The terminal stretches the picture back over the cells, so it is
        // drawn that much narrower.
        let full = points(area.width, wide) as f64 / points(area.height, high) as f64;
        let slim = size.0 as f64 / size.1 as f64 / full;
        let scene = Scene {
            camera: view.camera(&places, size, slim, mirrored),
            places,
            standing: view.states.then(|| self.standing(&view.body)),
            solids: view.body.solids(),
        };
        let is_same = |drawn: &FineDrawn| drawn.area == area && *drawn.scene == scene;
        if self.fine.drawn.as_ref().is_some_and(is_same) {
            self.fine.is_current = true;
            return;
        }
        // One at a time: a picture begun for another view is finished first, so
        // that a key held down does not start many.
        if self.fine.look() {
            return;
        }
        let scene = Arc::new(scene);
        let (seq, drawn) = (self.seq.clone(), scene.clone());
        let png = BackgroundTask::begin(move || drawn.png(seq.layout()));
        self.fine.drawn = Some(FineDrawn { area, scene, png });
        self.fine.begun += 1;
        self.fine.is_current = true;
    }

    /// The picture to show now.
    pub fn fine_picture(&self) -> Option<FineShown<'_>> {
        let is_seen = self.fine.is_current && self.wants_fine_picture();
        let drawn = self.fine.drawn.as_ref().filter(|_| is_seen)?;
        Some(FineShown {
            number: self.fine.begun,
            area: drawn.area,
            png: drawn.png.get()?,
        })
    }
}

const CANNOT: &str = "This terminal does not say that it shows pictures, so the cells stay.";
