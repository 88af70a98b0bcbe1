//! Motion: the net folds, the ring goes through its cycle, by key or
//! automatically.

use super::view::{Moving, View};
use std::f64::consts::TAU;

/// How far one key or one frame turns a ring through its cycle, radians.
const CYCLE: f64 = TAU / 48.0;
const CYCLE_FRAME: f64 = TAU / 96.0;
/// How far one key or one frame folds the net.
const FOLD: f64 = 0.125;
const FOLD_FRAME: f64 = 1.0 / 18.0;

impl View {
    /// Moves a little: `way` is 1 for forward, −1 for back. A ring that is
    /// fully folded turns, everything else folds.
    pub fn move_by(&mut self, way: f64) -> Option<String> {
        self.moving = None;
        if self.is_ring() && self.folded >= 1.0 {
            return self.turn_ring(way * CYCLE);
        }
        if let Some(message) = self.nothing_to_fold() {
            return Some(message);
        }
        self.folded = (self.folded + way * FOLD).clamp(0.0, 1.0);
        None
    }

    fn turn_ring(&mut self, by: f64) -> Option<String> {
        let ring = self.ring.as_ref()?;
        let turned = ring.turned(self.cycle, by);
        self.cycle = turned.turn;
        let tight = ring.tight_mm(turned.turn);
        if tight > 0.0 && !turned.binds {
            return Some(format!(
                "Tight here: the inner ends of the hinges pass the middle by {tight:.1} mm. Soft beadwork gives that much."
            ));
        }
        let by_mm = ring.binds_by_mm().filter(|_| turned.binds)?;
        self.moving = None;
        Some(format!(
            "The ring binds here: to turn all the way through, the inner ends of its hinges lack {by_mm:.1} mm. It turns back."
        ))
    }

    fn nothing_to_fold(&self) -> Option<String> {
        self.body
            .is_flat()
            .then(|| "A single panel lies flat: there is nothing to fold.".into())
    }

    /// Unfolds what is folded, and folds what is not.
    pub fn play_fold(&mut self) -> Option<String> {
        if let Some(message) = self.nothing_to_fold() {
            return Some(message);
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

    /// Starts or stops the motion.
    pub fn play(&mut self) -> Option<String> {
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

    /// One frame of what moves; returns a message about it, if any.
    pub fn frame(&mut self) -> Option<String> {
        match self.moving? {
            Moving::Cycle => return self.turn_ring(CYCLE_FRAME),
            Moving::Folding => self.folded = (self.folded + FOLD_FRAME).min(1.0),
            Moving::Unfolding => self.folded = (self.folded - FOLD_FRAME).max(0.0),
        }
        if self.folded <= 0.0 || self.folded >= 1.0 {
            self.moving = None;
        }
        None
    }
}
