//! The whole solid in a sitting: how it is turned, how far it is folded, what
//! moves of itself.

mod held;
mod motion;

use super::{Pane, Session};
use crate::beadwork::Sequence;
use crate::beadwork::number::Step;
use crate::beadwork::project::SpecIndex;
use crate::plan::flat::{self, Flatness, Lie};
use crate::screen::solid::Do;
use crate::screen::way::Way;
use crate::sight::{Body, Coats, Net, Ring, Standing};
use glam::{DQuat, DVec3};
use std::f64::consts::TAU;

/// What an arrow key turns, radians.
const TURN: f64 = TAU / 36.0;
/// The zoom: what a key does to it, and how far it goes.
const NEARER: f64 = 1.25;
const ZOOMS: std::ops::RangeInclusive<f64> = 0.4..=40.0;
/// Sides of a join that stay so far apart, in their own length, are told of.
const GAPES: f64 = 0.05;
/// No page that explains it has as many lines.
const LONGEST_PAGE: usize = 60;

/// What moves of itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moving {
    /// It folds.
    Folding,
    /// It unfolds.
    Unfolding,
    /// The ring goes through its cycle.
    Cycle,
}

/// The piece as it is looked at.
#[derive(Debug)]
pub struct SolidRoom {
    /// Its faces and seams.
    pub body: Body,
    /// Its averages of colours; those of a painted panel are forgotten.
    pub coats: Coats,
    /// How far it is folded: 0 the flat net, 1 the solid.
    pub folded: f64,
    /// Whether faces show how they stand, or all as finished.
    pub states: bool,
    /// What moves of itself.
    pub moving: Option<Moving>,
    /// Whether it was opened from the whole face, to which it leads back.
    from_face: bool,
    /// The page that explains the picture, and lines of it scrolled past.
    pub explained: Option<usize>,
    /// In how many places faces of the flat net lie on each other.
    pub overlapping: usize,
    /// Joins that stiff faces leave open.
    pub gaping: Vec<usize>,
    /// The first kind of panel that does not lie flat.
    pub bent: Option<Flatness>,
    net: Net,
    ring: Option<Ring>,
    cycle: f64,
    turn: DQuat,
    zoom: f64,
    /// How the piece is held at home so that what is worked is in sight, and
    /// at which step that was found.
    aim: DQuat,
    aimed: Option<Step>,
    /// The faces that something is worked on.
    worked: Vec<usize>,
}

impl SolidRoom {
    /// A first look at a piece.
    pub fn new(seq: &Sequence) -> SolidRoom {
        let body = Body::of(seq);
        let (ring, net) = (Ring::of(&body), Net::of(&body));
        SolidRoom {
            coats: Coats::new(seq.layout().project().panels.len()),
            folded: 1.0,
            states: true,
            moving: None,
            from_face: false,
            overlapping: net.overlapping(),
            gaping: body.gaping(GAPES),
            bent: flat::panels(seq.layout())
                .into_iter()
                .find(|panel| matches!(panel.lie, Lie::Cups | Lie::Ruffles)),
            net,
            cycle: ring.as_ref().map_or(0.0, Ring::home),
            ring,
            body,
            turn: DQuat::IDENTITY,
            zoom: 1.0,
            explained: None,
            aim: DQuat::IDENTITY,
            aimed: None,
            worked: vec![],
        }
    }

    /// Where all corners lie now, mm.
    pub fn places(&self) -> Vec<Vec<DVec3>> {
        match &self.ring {
            Some(ring) if self.folded >= 1.0 => ring.at(self.cycle),
            _ => self.net.at(self.folded),
        }
    }

    /// Whether it is a ring.
    pub fn is_ring(&self) -> bool {
        self.ring.is_some()
    }

    /// How far a ring is turned through its cycle, degrees from 0 to 359.
    pub fn cycle_degrees(&self) -> u32 {
        let home = self.ring.as_ref().map_or(0.0, Ring::home);
        (self.cycle - home).to_degrees().round().rem_euclid(360.0) as u32
    }

    fn go_home(&mut self) {
        self.turn = DQuat::IDENTITY;
        self.zoom = 1.0;
    }

    /// Does what a key asks for; a word about it.
    fn apply(&mut self, what: Do, mirrored: bool) -> Option<String> {
        let across = if mirrored { -1.0 } else { 1.0 };
        let mut turn = |by: DQuat| self.turn = (by * self.turn).normalize();
        match what {
            Do::Turn(Way::Left) => turn(DQuat::from_rotation_y(-TURN * across)),
            Do::Turn(Way::Right) => turn(DQuat::from_rotation_y(TURN * across)),
            Do::Turn(Way::Up) => turn(DQuat::from_rotation_x(-TURN)),
            Do::Turn(Way::Down) => turn(DQuat::from_rotation_x(TURN)),
            Do::Zoom(true) => self.zoom = (self.zoom * NEARER).min(*ZOOMS.end()),
            Do::Zoom(false) => self.zoom = (self.zoom / NEARER).max(*ZOOMS.start()),
            Do::Home => self.go_home(),
            Do::Explain => self.explained = Some(0),
            Do::States => self.states = !self.states,
            Do::Motion(on) => return self.by_hand(if on { 1.0 } else { -1.0 }),
            Do::Net => return self.play_fold(),
            Do::Play => return self.play(),
            Do::Open | Do::Leave | Do::Fine => {}
        }
        None
    }
}

impl Session {
    /// Opens the whole solid.
    fn open_solid(&mut self) {
        if self.solid.is_none() {
            self.solid = Some(SolidRoom::new(&self.seq));
        }
        let from_face = self.pane == Pane::Face;
        self.pane = Pane::Solid;
        if let Some(mut room) = self.solid.take() {
            if room.from_face != from_face {
                // Colours are tried on the finished piece.
                room.states = !from_face;
            }
            room.from_face = from_face;
            let standing = self.standing(&room.body);
            let job = self.movement().map(|m| m.job);
            room.aim_at(&standing, job, self.done());
            room.explained = None;
            self.solid = Some(room);
        }
    }

    /// Does what a key of the room asks for, or the key that leads there.
    pub(super) fn look_at_solid(&mut self, what: Do) {
        if what == Do::Open {
            return self.open_solid();
        }
        let mirrored = self.left_handed();
        let Some(room) = self.solid.as_mut().filter(|_| self.pane == Pane::Solid) else {
            return;
        };
        match (&mut room.explained, what) {
            (Some(at), Do::Turn(Way::Up)) => *at = at.saturating_sub(1),
            (Some(at), Do::Turn(Way::Down)) => *at = (*at + 1).min(LONGEST_PAGE),
            (Some(_), _) => room.explained = None,
            (None, Do::Leave) => {
                self.pane = match room.from_face {
                    true => Pane::Face,
                    false => Pane::Stitch,
                };
            }
            (None, Do::Fine) => self.turn_fine(),
            (None, _) => {
                if let Some(word) = room.apply(what, mirrored) {
                    self.said = word;
                }
            }
        }
    }

    /// Whether something moves of itself, so that frames are wanted.
    pub fn moves(&self) -> bool {
        let moves = |s: &SolidRoom| s.moving.is_some() && s.explained.is_none();
        let moving = self.solid.as_ref().is_some_and(moves);
        moving && self.pane == Pane::Solid
    }

    /// One frame of what moves.
    pub fn frame(&mut self) {
        if !self.moves() {
            return;
        }
        if let Some(word) = self.solid.as_mut().and_then(SolidRoom::frame) {
            self.said = word;
        }
    }

    /// Shows a kind of panel in its new colours.
    pub(super) fn recolour_solid(&mut self, spec: SpecIndex) {
        if let Some(room) = &mut self.solid {
            room.coats.forget(spec);
        }
        self.fine.forget();
    }

    /// How the faces stand at the step in hand.
    pub fn standing(&self, body: &Body) -> Standing {
        Standing::at(&self.seq, body, self.done())
    }
}
