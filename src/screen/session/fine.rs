//! The fine picture of the solid, where the terminal shows pictures: drawn
//! apart from the keys, shown while nothing moves, cells otherwise.

use super::solid_room::SolidRoom;
use super::{Pane, Session};
use crate::beadwork::number::Step;
use crate::screen::apart::Apart;
use crate::screen::look::Depth;
use crate::screen::solid::{Camera, fine};
use glam::DVec3;
use ratatui::layout::Rect;

/// The fine picture in a sitting.
#[derive(Debug, Default)]
pub struct Fine {
    wish: Wish,
    /// Whether the terminal shows pictures, once it was asked.
    can: Option<bool>,
    drawn: Option<Drawn>,
    /// Pictures begun so far.
    begun: u64,
    /// Whether the one drawn is what is to be seen now.
    is_current: bool,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Wish {
    #[default]
    Cells,
    Fine,
}

#[derive(Debug)]
struct Drawn {
    view: View,
    png: Apart<Vec<u8>>,
}

/// All that a picture depends on, but the colours.
#[derive(Clone, Debug, PartialEq)]
struct View {
    area: Rect,
    camera: Camera,
    places: Vec<Vec<DVec3>>,
    states: bool,
    done: Step,
}

/// A picture to be shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shown<'a> {
    /// Which it is; another number is another picture.
    pub number: u64,
    /// The cells that it covers.
    pub area: Rect,
    /// The picture.
    pub png: &'a [u8],
}

impl Fine {
    /// Forgets the picture, because colours have changed.
    pub(super) fn forget(&mut self) {
        self.drawn = None;
        self.is_current = false;
    }

    /// Takes in a picture that is being drawn; whether it is waited for.
    pub(super) fn look(&mut self) -> bool {
        self.wish == Wish::Fine && self.drawn.as_mut().is_some_and(|d| d.png.look())
    }
}

impl Session {
    /// To the fine picture, or back to cells.
    pub(super) fn turn_fine(&mut self) {
        if self.look().depth == Depth::None {
            self.said = "A fine picture has colours; this screen is to show none.".into();
            return;
        }
        let fine = &mut self.fine;
        fine.wish = match (fine.wish, fine.can) {
            (Wish::Fine, _) => Wish::Cells,
            (Wish::Cells, Some(false)) => {
                self.said = CANNOT.into();
                return;
            }
            (Wish::Cells, _) => Wish::Fine,
        };
    }

    /// Whether the terminal must be asked now if it shows pictures.
    pub fn asks_for_pictures(&self) -> bool {
        self.fine.wish == Wish::Fine && self.fine.can.is_none()
    }

    /// What the terminal answered.
    pub fn answered(&mut self, can: bool) {
        self.fine.can = Some(can);
        if self.fine.wish == Wish::Cells {
            return;
        }
        self.said = match can {
            true => "A fine picture while nothing moves; i leads back to cells.".into(),
            false => CANNOT.into(),
        };
        if !can {
            self.fine.wish = Wish::Cells;
        }
    }

    /// Whether a fine picture is to be seen now.
    pub fn wants_fine(&self) -> bool {
        let stands = |room: &SolidRoom| room.moving.is_none() && room.explained.is_none();
        self.fine.wish == Wish::Fine
            && self.fine.can == Some(true)
            && self.pane == Pane::Solid
            && self.solid.as_ref().is_some_and(stands)
    }

    /// Begins the picture for an area of so many cells, each so many points
    /// wide and high, if it is not drawn yet. While none is wanted, this need
    /// not be called.
    pub fn refine(&mut self, area: Option<Rect>, (wide, high): (u16, u16)) {
        self.fine.is_current = false;
        let (Some(area), Some(room), true) = (area, &self.solid, self.wants_fine()) else {
            return;
        };
        if area.is_empty() {
            return;
        }
        let points = |cells: u16, each: u16| usize::from(cells) * usize::from(each);
        let size = fine::size((points(area.width, wide), points(area.height, high)));
        let places = room.places();
        let mirrored = self.left_handed();
        // What is stretched over the cells again is drawn so much narrower.
        let full = points(area.width, wide) as f64 / points(area.height, high) as f64;
        let slim = size.0 as f64 / size.1 as f64 / full;
        let view = View {
            area,
            camera: room.camera(&places, size, slim, mirrored),
            places,
            states: room.states,
            done: self.done(),
        };
        if self.fine.drawn.as_ref().is_some_and(|d| d.view == view) {
            self.fine.is_current = true;
            return;
        }
        // One at a time: what was begun for another view is let come to its
        // end first, so that a key held down starts no crowd.
        if self.fine.look() {
            return;
        }
        let scene = fine::Scene {
            camera: view.camera,
            places: view.places.clone(),
            standing: room.states.then(|| self.standing(&room.body)),
        };
        let seq = self.seq.clone();
        let png = Apart::begin(move || scene.png(seq.layout()));
        self.fine.drawn = Some(Drawn { view, png });
        self.fine.begun += 1;
        self.fine.is_current = true;
    }

    /// The picture to be shown now.
    pub fn fine(&self) -> Option<Shown<'_>> {
        let is_seen = self.fine.is_current && self.wants_fine();
        let drawn = self.fine.drawn.as_ref().filter(|_| is_seen)?;
        Some(Shown {
            number: self.fine.begun,
            area: drawn.view.area,
            png: drawn.png.get()?,
        })
    }
}

const CANNOT: &str = "This terminal does not say that it shows pictures, so the cells stay.";
