//! How a piece is looked at: how it is turned, how far it is folded, what moves
//! of itself.

use crate::beadwork::Sequence;
use crate::beadwork::number::Step;
use crate::geometry::{FaceColours, Net, RingCycle, Shape};
use glam::{DQuat, DVec3};
use std::f64::consts::TAU;

/// What an arrow key turns, radians.
const TURN: f64 = TAU / 36.0;
/// The zoom: what a key does to it, and how far it goes.
const NEARER: f64 = 1.25;
const ZOOMS: std::ops::RangeInclusive<f64> = 0.4..=40.0;

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
pub struct View {
    /// Its faces and seams.
    pub body: Shape,
    /// Its averages of colours; those of a painted panel are forgotten.
    pub face_colours: FaceColours,
    /// How far it is folded: 0 the flat net, 1 the solid.
    pub folded: f64,
    /// Whether faces show how they stand, or all as finished.
    pub states: bool,
    /// What moves of itself.
    pub moving: Option<Moving>,
    /// Whether a flat piece is seen from straight above, and not a little aslant.
    pub straight: bool,
    /// Its flat net, and how that folds.
    pub net: Net,
    pub(super) ring: Option<RingCycle>,
    pub(super) cycle: f64,
    pub(super) turn: DQuat,
    pub(super) zoom: f64,
    /// How the piece is held at home so that what is worked is in sight, and
    /// at which step that was found.
    pub(super) aim: DQuat,
    pub(super) aimed: Option<Step>,
    /// The faces that something is worked on.
    pub(super) worked: Vec<usize>,
}

impl View {
    /// A first look at a piece.
    pub fn new(seq: &Sequence) -> View {
        View::of(Shape::of(seq), seq)
    }

    /// A first look at a shape of a piece.
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
        let home = self.ring.as_ref().map_or(0.0, RingCycle::home);
        (self.cycle - home).to_degrees().round().rem_euclid(360.0) as u32
    }

    /// As it stood at first.
    pub fn go_home(&mut self) -> Option<String> {
        self.turn = DQuat::IDENTITY;
        self.zoom = 1.0;
        None
    }

    /// How faces stand, or all as finished.
    pub fn switch_states(&mut self) -> Option<String> {
        self.states = !self.states;
        None
    }

    /// Turns the piece a little, to the right and down where 1.
    pub fn turn_by(&mut self, across: f64, down: f64) -> Option<String> {
        let by = DQuat::from_rotation_y(TURN * across) * DQuat::from_rotation_x(TURN * down);
        self.turn = (by * self.turn).normalize();
        None
    }

    /// Nearer, or farther away.
    pub fn zoom(&mut self, nearer: bool) -> Option<String> {
        self.zoom = match nearer {
            true => (self.zoom * NEARER).min(*ZOOMS.end()),
            false => (self.zoom / NEARER).max(*ZOOMS.start()),
        };
        None
    }
}
