//! The colours of what is visible: the beads' own, dimmed where a face is not
//! joined or not made yet, lit from the upper left, with lines at the sides.

use super::raster::{Picture, PictureSpot, SeenFace};
use crate::beadwork::frame::side_of;
use crate::beadwork::layout::{Layout, Seat};
use crate::beadwork::number::Panel;
use crate::beadwork::{Colour, Rgb, Round};
use crate::geometry::{FaceColours, FaceState, SideState, Standing};
use glam::{DVec2, DVec3};
use std::cell::Cell;

/// Where the directional light comes from: left, up, and from behind the maker.
const LIGHT: DVec3 = DVec3::new(-0.41, 0.53, 0.74);
/// How bright a face is when no directional light falls on it.
const SHADE: f64 = 0.5;
/// Steps of brightness. Few, so that a slow turn does not change every cell.
const SHADES: f64 = 16.0;
/// From this many spots per bead on, beads are separated by lines.
const SEPARATED: f64 = 16.0;
/// From this many spots per bead on, beads show their letters on a terminal
/// without colour.
const LETTERS_FROM: f64 = 3.0;
/// The colour that covers most of a face that is not made yet.
pub(super) const NOT_MADE: Rgb = Rgb(58, 62, 72);
/// The grey mixed into a face that is made but not joined.
const NOT_JOINED: Rgb = Rgb(128, 128, 128);
/// The colour of a side that is being joined.
const CURRENT_SIDE: Rgb = Rgb(255, 196, 64);
/// The colour of a side that is still to be joined.
const WAITING_SIDE: Rgb = Rgb(240, 240, 240);

/// What a spot is, besides its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpotKind {
    /// A part of a face.
    Face {
        /// Its bead; `None` where nothing is made yet.
        bead: Option<Colour>,
        /// Its brightness, 0 to 15.
        shade: u8,
        /// The state of the face, if that is shown.
        state: Option<FaceState>,
    },
    /// A side: its state, and its direction as `-`, `|`, `/` or `\\`.
    Side(SideState, char),
}

/// A painted spot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Painted {
    /// Its colour.
    pub rgb: Rgb,
    /// What it is.
    pub kind: SpotKind,
}

/// What the painter needs.
pub struct SolidPainter<'a> {
    /// Where every bead lies.
    pub layout: &'a Layout,
    /// The averages.
    pub face_colours: &'a FaceColours,
    /// The state of everything; `None` to show the piece as finished.
    pub standing: Option<&'a Standing>,
    /// How strong light and shade are, 0 to 1. With few colours a shade would
    /// be mistaken for another colour.
    pub shading: f64,
    /// The bead that was looked up last.
    pub last: Cell<Option<(Seat, Colour)>>,
}

impl SolidPainter<'_> {
    /// Paints a spot of a picture.
    pub fn paint(&self, picture: &Picture, spot: &PictureSpot) -> Painted {
        let face = &picture.faces[spot.plate as usize];
        let (plate, side) = (spot.plate as usize, spot.side as usize);
        let (out, along) = (f64::from(spot.out), f64::from(spot.along));
        let panel = Panel(spot.plate as u16);
        let panel_kind = self.layout.kind(panel);
        let light = 1.0 - (1.0 - light(face.normal)) * self.shading;
        let light = (light * SHADES).round() / SHADES;
        let state = self.standing.map_or(FaceState::Joined, |s| s.faces[plate]);
        let side_distance = face.side_distance[side];
        let spots_per_bead = face.spots / f64::from(panel_kind.beads().max(1));
        let found = self.layout.bead_at(panel, side, out, along);
        // An opening in the middle of a face: the dark inside.
        let Some(found) = found else {
            let shade = scaled(NOT_MADE, 0.55 * light);
            return Painted {
                rgb: shade,
                kind: SpotKind::Face {
                    bead: None,
                    shade: 0,
                    state: None,
                },
            };
        };
        let colour = self.colour(found.seat);
        let mut rgb = match spots_per_bead < 1.0 {
            true => {
                (self.face_colours).average(self.layout, panel, side, (out, along), side_distance)
            }
            false => self.layout.bead_kind(colour).colour,
        };
        if spots_per_bead >= SEPARATED {
            let width = 1.0 / spots_per_bead.sqrt();
            let between = found.along < width || found.out < width;
            rgb = scaled(rgb, if between { 0.72 } else { 1.0 });
        }
        let in_place = match (state, self.standing.and_then(|s| s.finished_rounds)) {
            (FaceState::Open, _) => false,
            (FaceState::Now, Some((p, first, last))) if p == plate => {
                (first..=last).contains(&found.seat.round.min(Round(panel_kind.rounds())))
            }
            _ => true,
        };
        rgb = match (in_place, state) {
            (false, _) => mixed(rgb, NOT_MADE, 0.78),
            (_, FaceState::Made) => mixed(rgb, NOT_JOINED, 0.3 * self.shading),
            _ => rgb,
        };
        rgb = scaled(rgb, light);
        let bead = in_place.then_some(colour);
        let shade = (light * 15.0) as u8;
        let Some(side_state) = self.side_at(spot, side_distance) else {
            return Painted {
                rgb,
                kind: SpotKind::Face {
                    bead,
                    shade,
                    state: self.standing.map(|_| state),
                },
            };
        };
        // A face that is not made yet has only faint sides.
        let faint = state == FaceState::Open && side_state == SideState::Waiting;
        Painted {
            rgb: match side_state {
                SideState::Now => CURRENT_SIDE,
                SideState::Waiting => mixed(rgb, WAITING_SIDE, if faint { 0.3 } else { 0.75 }),
                SideState::Joined => scaled(rgb, 0.5),
                SideState::Free => scaled(rgb, 0.65),
            },
            kind: match faint {
                true => SpotKind::Side(SideState::Free, '.'),
                false => SpotKind::Side(
                    side_state,
                    direction_char(&face.corners, side, picture.slim),
                ),
            },
        }
    }

    /// Whether the beads of some face are large enough to show their letters.
    pub fn has_room_for_letters(&self, picture: &Picture) -> bool {
        let spots_per_bead = |(plate, face): (usize, &SeenFace)| {
            let beads = self.layout.kind(Panel(plate as u16)).beads();
            face.spots / f64::from(beads.max(1))
        };
        picture
            .faces
            .iter()
            .enumerate()
            .map(spots_per_bead)
            .fold(0.0, f64::max)
            >= LETTERS_FROM
    }

    /// The side that a spot lies on, if it does.
    fn side_at(&self, spot: &PictureSpot, side_distance: f64) -> Option<SideState> {
        let (plate, side) = (spot.plate as usize, spot.side as usize);
        let state = match self.standing {
            Some(standing) => standing.sides[plate][side],
            None => SideState::Joined,
        };
        let width: f64 = match state {
            SideState::Now => 1.6,
            _ => 0.8,
        };
        // On small faces, wide lines would hide everything else.
        let width = width.min(side_distance * 0.34);
        let from_side = (1.0 - f64::from(spot.out)) * side_distance;
        (from_side < width).then_some(state)
    }

    /// The colour of the bead in a seat. Neighbouring spots often lie on the
    /// same bead.
    fn colour(&self, seat: Seat) -> Colour {
        match self.last.get() {
            Some((last, colour)) if last == seat => colour,
            _ => {
                let colour = self.layout.colour_of(seat);
                self.last.set(Some((seat, colour)));
                colour
            }
        }
    }
}

/// The character that shows the direction of a side in the picture.
fn direction_char(corners: &[DVec2], side: usize, slim: f64) -> char {
    let (from, to) = side_of(corners, side);
    let along = to - from;
    let along = DVec2::new(along.x / slim, along.y);
    match () {
        () if along.y.abs() < 0.36 * along.x.abs() => '-',
        () if along.x.abs() < 0.36 * along.y.abs() => '|',
        () if along.x * along.y < 0.0 => '/',
        () => '\\',
    }
}

/// How bright a face with this normal is, as it is seen: 0 is dark, 1 the full
/// colour of its beads.
pub(super) fn light(normal: DVec3) -> f64 {
    let towards = (normal.dot(LIGHT) * 0.6 + 0.4).max(0.0);
    (SHADE + (1.0 - SHADE) * towards).min(1.0)
}

pub(super) fn scaled(Rgb(r, g, b): Rgb, by: f64) -> Rgb {
    let one = |c: u8| (f64::from(c) * by).round().clamp(0.0, 255.0) as u8;
    Rgb(one(r), one(g), one(b))
}

/// `part` of the second colour in the first.
fn mixed(a: Rgb, b: Rgb, part: f64) -> Rgb {
    let one = |x: u8, y: u8| (f64::from(x) * (1.0 - part) + f64::from(y) * part).round() as u8;
    Rgb(one(a.0, b.0), one(a.1, b.1), one(a.2, b.2))
}
