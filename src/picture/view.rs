//! The view of a piece: how it is turned, how far it is folded, what moves
//! automatically.

use crate::beadwork::Sequence;
use crate::beadwork::number::Step;
use crate::geometry::{FaceColours, Net, RingCycle, Shape};
use glam::{DQuat, DVec3};
use std::f64::consts::TAU;

/// How far an arrow key turns the piece, radians.
const TURN: f64 = TAU / 36.0;
/// The zoom factor of one key press, and the limits.
const ZOOM_STEP: f64 = 1.25;
const ZOOMS: std::ops::RangeInclusive<f64> = 0.4..=40.0;

/// What moves automatically.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moving {
    /// The piece folds.
    Folding,
    /// The piece unfolds.
    Unfolding,
    /// The ring goes through its cycle.
    Cycle,
}

/// The current view of the piece.
#[derive(Debug)]
pub struct View {
    /// Its faces and seams.
    pub body: Shape,
    /// Its average colours; replaced when a panel is painted.
    pub face_colours: FaceColours,
    /// How far it is folded: 0 is the flat net, 1 the solid.
    pub folded: f64,
    /// Whether the picture shows the state of each face, or all as finished.
    pub states: bool,
    /// What moves automatically.
    pub moving: Option<Moving>,
    /// Whether a flat piece is seen from straight above, and not slightly from
    /// the side.
    pub straight: bool,
    /// Its flat net, and how it folds.
    pub net: Net,
    pub(super) ring: Option<RingCycle>,
    pub(super) cycle: f64,
    pub(super) turn: DQuat,
    pub(super) zoom: f64,
    /// The turn in the home position that makes the current work visible, and
    /// the step for which it was chosen.
    pub(super) aim: DQuat,
    pub(super) aimed: Option<Step>,
    /// The faces that are being worked on.
    pub(super) worked: Vec<usize>,
}

impl View {
    /// The first view of a piece.
    pub fn new(seq: &Sequence) -> View {
        View::of(Shape::of(seq), seq)
    }

    /// The first view of a shape of a piece.
    pub fn of(body: Shape, seq: &Sequence) -> View {
        let (ring, net) = (RingCycle::of(&body), Net::of(&body));
        View {
            face_colours: FaceColours::new(seq.layout()),
            folded: 1.0,
            states: true,
            moving: None,
            straight: false,
            net,
            cycle: ring.as_ref().map_or(0.0, RingCycle::home),
            ring,
            body,
            turn: DQuat::IDENTITY,
            zoom: 1.0,
            aim: DQuat::IDENTITY,
            aimed: None,
            worked: vec![],
        }
    }

    /// Where all corners are now, mm.
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
        let home = self.ring.as_ref().map_or(0.0, RingCycle::home);
        (self.cycle - home).to_degrees().round().rem_euclid(360.0) as u32
    }

    /// Back to the home position.
    pub fn go_home(&mut self) -> Option<String> {
        self.turn = DQuat::IDENTITY;
        self.zoom = 1.0;
        None
    }

    /// Switches between showing the state of each face and showing all as
    /// finished.
    pub fn switch_states(&mut self) -> Option<String> {
        self.states = !self.states;
        None
    }

    /// Turns the piece a little: `across` is 1 for right, −1 for left; `down`
    /// is 1 for down, −1 for up.
    pub fn turn_by(&mut self, across: f64, down: f64) -> Option<String> {
        let by = DQuat::from_rotation_y(TURN * across) * DQuat::from_rotation_x(TURN * down);
        self.turn = (by * self.turn).normalize();
        None
    }

    /// Zooms in or out.
    pub fn zoom(&mut self, nearer: bool) -> Option<String> {
        self.zoom = match nearer {
            true => (self.zoom * ZOOM_STEP).min(*ZOOMS.end()),
            false => (self.zoom / ZOOM_STEP).max(*ZOOMS.start()),
        };
        None
    }
}
