//! Does a ring of hinged tetrahedra turn, by how much, and what would let it.
//!
//! Hinges of length L, two of a tetrahedron d apart and at right angles: a
//! ring of N turns right through if d/L ≥ ½·tan(2π/N). Its faces are then
//! isosceles, L at the base and √(d² + L²/4) high.

use crate::beadwork::kaleidocycle::Kaleidocycle;
use std::f64::consts::TAU;

/// How a ring turns.
#[derive(Clone, Debug, PartialEq)]
pub struct Turning {
    /// Tetrahedra.
    pub tetrahedra: u16,
    /// Length of a hinge, mm.
    pub hinge_mm: f64,
    /// Between the two hinges of a tetrahedron, mm.
    pub between_hinges_mm: f64,
    /// Room left at the tightest point of the turn between a hinge's inner
    /// end and the middle of the ring, mm; below zero the ring binds by that
    /// much.
    pub margin_mm: f64,
    /// The fewest of these tetrahedra that turn.
    pub smallest: u16,
    /// How high the faces would have to be for this many to turn just so, mm.
    pub face_height_needed_mm: f64,
    /// How high they are, mm.
    pub face_height_mm: f64,
    /// How long the hinge might be at most, the hinges lying as far apart as
    /// they do, mm.
    pub longest_hinge_mm: f64,
}

impl Turning {
    /// How a ring of regular tetrahedra turns.
    pub fn of(ring: Kaleidocycle) -> Turning {
        let (hinge, between) = (ring.hinge_mm, ring.between_hinges_mm());
        let needed = needed(ring.tetrahedra);
        Turning {
            tetrahedra: ring.tetrahedra,
            hinge_mm: hinge,
            between_hinges_mm: between,
            margin_mm: ring.margin_mm(),
            smallest: smallest(between / hinge),
            face_height_needed_mm: face_height(hinge, hinge * needed),
            face_height_mm: face_height(hinge, between),
            longest_hinge_mm: between / needed,
        }
    }

    /// Whether it turns right through.
    pub fn turns(&self) -> bool {
        self.margin_mm >= 0.0
    }

    /// Whether it binds so little that soft beadwork takes it up: by no more
    /// than a bead is thick (common practice, no source).
    pub fn may_give(&self, bead_mm: f64) -> bool {
        !self.turns() && -self.margin_mm <= bead_mm
    }
}

/// d/L at which a ring of N just turns.
pub fn needed(tetrahedra: u16) -> f64 {
    (TAU / f64::from(tetrahedra)).tan() / 2.0
}

/// Height of a face over the hinge at its base, mm.
fn face_height(hinge_mm: f64, between_mm: f64) -> f64 {
    between_mm.hypot(hinge_mm / 2.0)
}

/// The fewest tetrahedra, an even number from 6, that turn with this d/L.
pub fn smallest(between_over_hinge: f64) -> u16 {
    let turns = |n: &u16| between_over_hinge >= needed(*n);
    (6..=u16::MAX - 1)
        .step_by(2)
        .find(turns)
        .unwrap_or(u16::MAX - 1)
}

#[cfg(test)]
#[path = "turning_tests.rs"]
mod tests;
