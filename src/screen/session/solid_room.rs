//! The whole solid in a sitting: how it is turned, how far it is folded, what
//! moves of itself.

use super::{Pane, Session};
use crate::beadwork::layout::Seat;
use crate::beadwork::number::{Job, Step};
use crate::beadwork::project::SpecIndex;
use crate::beadwork::{Colour, Sequence};
use crate::screen::keys::Action;
use crate::screen::solid::{Camera, Stand, aim};
use crate::sight::{Body, Coats, Net, Ring, Standing};
use glam::{DQuat, DVec3};
use std::f64::consts::{PI, TAU};

/// What an arrow key turns, radians.
const TURN: f64 = TAU / 36.0;
/// What one key turns a ring through its cycle, radians, and one frame.
const CYCLE: f64 = TAU / 48.0;
const CYCLE_FRAME: f64 = TAU / 96.0;
/// What one key folds, and one frame.
const FOLD: f64 = 0.125;
const FOLD_FRAME: f64 = 1.0 / 18.0;
/// A long piece is shown so much larger, at the most, than its ball would
/// be.
const LARGER: f64 = 1.7;
/// The zoom: what a key does to it, and how far it goes.
const NEARER: f64 = 1.25;
const ZOOMS: std::ops::RangeInclusive<f64> = 0.4..=40.0;
/// No page that explains it has as many lines.
const LONGEST_PAGE: usize = 60;
/// How a piece is turned at home, so that several faces show; and a flat one.
const HOME: (f64, f64) = (0.42, -0.55);
const HOME_FLAT: (f64, f64) = (-0.5, -0.35);
const HOME_RING: (f64, f64) = (-0.62, 0.0);

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

    /// The camera for a picture of so many spots.
    pub fn camera(
        &self,
        places: &[Vec<DVec3>],
        size: (usize, usize),
        slim: f64,
        mirrored: bool,
    ) -> Camera {
        let all = || places.iter().flatten();
        let least = all().fold(DVec3::MAX, |a, c| a.min(*c));
        let most = all().fold(DVec3::MIN, |a, c| a.max(*c));
        let middle = match self.ring.is_some() && self.folded >= 1.0 {
            true => DVec3::ZERO,
            false => (least + most) / 2.0,
        };
        let reach = all().map(|c| c.distance(middle)).fold(1e-6, f64::max);
        // A ring keeps its size while it turns.
        let radius = match (&self.ring, self.folded >= 1.0) {
            (Some(ring), true) => ring.reach_mm().max(reach),
            _ => reach,
        };
        let aim = DQuat::IDENTITY.slerp(self.aim, self.folded);
        let home = self.tilt() * self.stand() * aim;
        let at_home = Camera {
            turn: home,
            middle,
            radius,
            zoom: 1.0,
            size,
            slim,
            mirrored,
        };
        // As large as it can be seen at home; however it is turned then, most
        // of it stays in sight.
        let room = at_home.room_for(all()).clamp(0.8, LARGER);
        // Nearer means nearer to what is worked.
        let part = (1.0 - 1.0 / self.zoom).max(0.0);
        let worked = || self.worked.iter().flat_map(|plate| &places[*plate]);
        let middle = match worked().count() {
            0 => middle,
            n => middle.lerp(worked().sum::<DVec3>() / n as f64, part),
        };
        Camera {
            turn: self.turn * home,
            zoom: self.zoom * room,
            middle,
            ..at_home
        }
    }

    /// The turn at home: the flat net is seen nearly from the front.
    fn tilt(&self) -> DQuat {
        let (pitch, yaw) = match () {
            () if self.body.is_flat() => HOME_FLAT,
            () if self.is_ring() => HOME_RING,
            () => HOME,
        };
        let home = DQuat::from_rotation_x(pitch) * DQuat::from_rotation_y(yaw);
        match self.body.is_flat() {
            true => home,
            false => DQuat::from_rotation_x(-0.3).slerp(home, self.folded),
        }
    }

    /// How the piece stands: a ring lies, a folded pair has its hinge upright,
    /// all others show the front of their net.
    fn stand(&self) -> DQuat {
        let first = &self.body.plates[0];
        let side_up = || {
            let (from, to) = first.side(0);
            (from + to) / 2.0 - first.middle()
        };
        let front = self.net.front();
        let net = Stand {
            front,
            up: match self.body.is_flat() {
                true => side_up(),
                false => self.net.up(),
            },
        };
        let finished = match (&self.ring, self.net.hinge()) {
            (Some(_), _) => Stand {
                front: DVec3::Z,
                up: DVec3::Y,
            },
            (None, Some((hinge, across))) => Stand {
                front: across,
                up: hinge,
            },
            (None, None) => Stand {
                front,
                up: side_up(),
            },
        };
        let (net, finished) = (net.turn(), finished.turn());
        // A net may as well lie upside down: the shorter way to its solid.
        let over = DQuat::from_rotation_z(PI) * net;
        let net = match over.angle_between(finished) < net.angle_between(finished) {
            true => over,
            false => net,
        };
        net.slerp(finished, self.folded)
    }

    /// Holds the piece as it lies on the mat in a job: flat until it is folded
    /// and tied, and folding while that is done.
    fn lay(&mut self, job: Option<Job>) {
        self.moving = None;
        let (Some(tied_by), Some(job)) = (self.body.tied_by, job) else {
            self.folded = 1.0;
            return;
        };
        self.folded = if job <= tied_by { 0.0 } else { 1.0 };
        self.moving = (job == tied_by).then_some(Moving::Folding);
    }

    /// Holds the piece at home so that what is worked is in sight, as it lies
    /// on the mat at that step.
    pub fn aim_at(&mut self, standing: &Standing, job: Option<Job>, done: Step) {
        if self.aimed == Some(done) {
            return;
        }
        self.aimed = Some(done);
        self.go_home();
        self.lay(job);
        self.aim = DQuat::IDENTITY;
        let worked = aim::worked(standing);
        self.worked = worked.clone();
        if worked.is_empty() || self.body.is_flat() {
            return;
        }
        let (folded, cycle) = (self.folded, self.cycle);
        self.folded = 1.0;
        self.cycle = self.ring.as_ref().map_or(0.0, Ring::home);
        let mut ways = vec![DQuat::IDENTITY];
        match self.is_ring() {
            true => {
                let flips = [DQuat::IDENTITY, DQuat::from_rotation_x(PI)];
                let round = |flip| {
                    (0..8).map(move |n| flip * DQuat::from_rotation_z(f64::from(n) * TAU / 8.0))
                };
                ways.extend(flips.into_iter().flat_map(round));
            }
            false => {
                let home = self.tilt() * self.stand();
                let out = worked.iter().map(|f| self.body.plates[*f].outward());
                let seen = home * out.sum::<DVec3>();
                ways.extend(
                    aim::towards(seen)
                        .into_iter()
                        .map(|turn| home.inverse() * turn * home),
                );
            }
        }
        let places = self.places();
        let looks: Vec<Camera> = ways
            .iter()
            .map(|way| {
                self.aim = *way;
                self.camera(&places, aim::SMALL, 1.0, false)
            })
            .collect();
        self.aim = ways[aim::best(&looks, &places, standing)];
        (self.folded, self.cycle) = (folded, cycle);
    }

    fn go_home(&mut self) {
        self.turn = DQuat::IDENTITY;
        self.zoom = 1.0;
    }

    /// Does what a key asks for; a word about it.
    fn apply(&mut self, action: Action, mirrored: bool) -> Option<String> {
        let across = if mirrored { -1.0 } else { 1.0 };
        let mut turn = |by: DQuat| self.turn = (by * self.turn).normalize();
        match action {
            Action::TurnLeft => turn(DQuat::from_rotation_y(-TURN * across)),
            Action::TurnRight => turn(DQuat::from_rotation_y(TURN * across)),
            Action::TurnUp => turn(DQuat::from_rotation_x(-TURN)),
            Action::TurnDown => turn(DQuat::from_rotation_x(TURN)),
            Action::Nearer => self.zoom = (self.zoom * NEARER).min(*ZOOMS.end()),
            Action::Farther => self.zoom = (self.zoom / NEARER).max(*ZOOMS.start()),
            Action::HomeView => self.go_home(),
            Action::Help => self.explained = Some(0),
            Action::States => self.states = !self.states,
            Action::MotionOn => return self.by_hand(1.0),
            Action::MotionBack => return self.by_hand(-1.0),
            Action::Net => return self.play_fold(),
            Action::Play => return self.play(),
            _ => {}
        }
        None
    }

    /// A little on or back: folding if it is not all folded, else the ring.
    fn by_hand(&mut self, way: f64) -> Option<String> {
        self.moving = None;
        if self.is_ring() && self.folded >= 1.0 {
            return self.cycle_on(way * CYCLE);
        }
        if let Some(word) = self.nothing_to_fold() {
            return Some(word);
        }
        self.folded = (self.folded + way * FOLD).clamp(0.0, 1.0);
        None
    }

    fn cycle_on(&mut self, by: f64) -> Option<String> {
        let ring = self.ring.as_ref()?;
        let turned = ring.turned(self.cycle, by);
        self.cycle = turned.turn;
        let by_mm = ring.binds_by_mm().filter(|_| turned.binds)?;
        self.moving = None;
        Some(format!(
            "The ring binds here: to turn right through, the inner ends of its hinges lack {by_mm:.1} mm. It turns back."
        ))
    }

    fn nothing_to_fold(&self) -> Option<String> {
        self.body
            .is_flat()
            .then(|| "A single panel lies flat: there is nothing to fold.".into())
    }

    /// Unfolds what is folded, and folds what is not.
    fn play_fold(&mut self) -> Option<String> {
        if let Some(word) = self.nothing_to_fold() {
            return Some(word);
        }
        self.moving = Some(match (self.moving, self.folded >= 1.0) {
            (Some(Moving::Folding), _) | (None | Some(Moving::Cycle), true) => Moving::Unfolding,
            _ => Moving::Folding,
        });
        if let Some(ring) = &self.ring {
            self.cycle = ring.home();
        }
        None
    }

    /// Lets it move, or stops it.
    fn play(&mut self) -> Option<String> {
        if self.moving.take().is_some() {
            return None;
        }
        match self.is_ring() && self.folded >= 1.0 {
            true => {
                self.moving = Some(Moving::Cycle);
                None
            }
            false => self.play_fold(),
        }
    }

    /// One frame of what moves; a word about it.
    fn frame(&mut self) -> Option<String> {
        match self.moving? {
            Moving::Cycle => return self.cycle_on(CYCLE_FRAME),
            Moving::Folding => self.folded = (self.folded + FOLD_FRAME).min(1.0),
            Moving::Unfolding => self.folded = (self.folded - FOLD_FRAME).max(0.0),
        }
        if self.folded <= 0.0 || self.folded >= 1.0 {
            self.moving = None;
        }
        None
    }
}

impl Session {
    /// Opens the whole solid.
    pub(super) fn open_solid(&mut self) {
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

    /// A key of the whole solid.
    pub(super) fn solid_key(&mut self, action: Action) {
        let mirrored = self.piece.state().settings.left_handed();
        let Some(room) = self.solid.as_mut().filter(|_| self.pane == Pane::Solid) else {
            return;
        };
        if let Some(at) = &mut room.explained {
            match action {
                Action::TurnUp => *at = at.saturating_sub(1),
                Action::TurnDown => *at = (*at + 1).min(LONGEST_PAGE),
                _ => room.explained = None,
            }
            return;
        }
        if action == Action::Leave {
            self.pane = match room.from_face {
                true => Pane::Face,
                false => Pane::Stitch,
            };
            return;
        }
        if let Some(word) = room.apply(action, mirrored) {
            self.said = word;
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
    }

    /// The colour in which a bead is seen: the pattern's, or as it was painted.
    pub fn colour_seen(&self, seat: Seat) -> Colour {
        self.seq.layout().colour_of(seat)
    }

    /// How the faces stand at the step in hand.
    pub fn standing(&self, body: &Body) -> Standing {
        Standing::at(&self.seq, body, self.done())
    }
}
