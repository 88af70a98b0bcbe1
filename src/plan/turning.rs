//! Whether a ring of hinged tetrahedra turns, how far, and what would let it
//! turn.
//!
//! Let L be the length of a hinge and d the distance between the two hinges of
//! a tetrahedron, which are at right angles. A ring of N turns right through if
//! d/L ≥ ½·tan(2π/N). A hinge is as long as its row of beads; see
//! [`Kaleidocycle`].

use crate::beadwork::kaleidocycle::{Kaleidocycle, RingVerdict};
use std::f64::consts::TAU;

/// How a ring turns.
#[derive(Clone, Debug, PartialEq)]
pub struct Turning {
    /// Tetrahedra.
    pub tetrahedra: u16,
    /// Whether it turns.
    pub verdict: RingVerdict,
    /// The stiff part of a hinge, mm: the length of its row of beads.
    pub hinge_mm: f64,
    /// Distance between the two hinges of a tetrahedron, mm.
    pub between_hinges_mm: f64,
    /// Room left at the tightest point of the turn between a hinge's inner end
    /// and the middle of the ring, mm; negative if the end goes past the
    /// middle.
    pub margin_mm: f64,
    /// The same for thin plates hinged along their whole edges, mm: the margin
    /// if nothing is soft.
    pub plates_margin_mm: f64,
    /// The fewest tetrahedra of this kind that turn.
    pub smallest: u16,
    /// How high the faces would have to be for this many tetrahedra to just
    /// turn, mm.
    pub face_height_needed_mm: f64,
    /// How high they are, mm.
    pub face_height_mm: f64,
    /// The longest hinge with which it would turn, mm, with the hinges the same
    /// distance apart.
    pub longest_hinge_mm: f64,
}

impl Turning {
    /// How a ring of regular tetrahedra turns.
    pub fn of(ring: Kaleidocycle) -> Turning {
        let (hinge, between) = (ring.row_mm, ring.between_hinges_mm());
        let needed = needed(ring.tetrahedra);
        let plates = Kaleidocycle::of_plates(ring.tetrahedra, ring.edge_mm);
        Turning {
            tetrahedra: ring.tetrahedra,
            verdict: ring.verdict(),
            hinge_mm: hinge,
            between_hinges_mm: between,
            margin_mm: ring.margin_mm(),
            plates_margin_mm: plates.margin_mm(),
            smallest: smallest(between / hinge),
            face_height_needed_mm: face_height(ring.edge_mm, hinge * needed),
            face_height_mm: face_height(ring.edge_mm, between),
            longest_hinge_mm: between / needed,
        }
    }
}

/// d/L at which a ring of N just turns.
pub fn needed(tetrahedra: u16) -> f64 {
    (TAU / f64::from(tetrahedra)).tan() / 2.0
}

/// Height of a face over the edge at its base, mm.
fn face_height(edge_mm: f64, between_mm: f64) -> f64 {
    between_mm.hypot(edge_mm / 2.0)
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
mod tests;
