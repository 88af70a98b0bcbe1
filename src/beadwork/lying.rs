//! How a flat panel that is joined to nothing lies on the mat: as beads, none
//! in another, and not as a plate that is parted into bricks.
//!
//! ```text
//!   round 3   [  ]    [  ]    [  ]     beads of a round two lengths apart, those
//!   round 2       [  ]    [  ]         of the next over their gaps; rounds
//!   round 1           [  ]             half a column apart
//! ```
//!
//! A column stands F diameters from bead to bead, F being the flatness of the
//! panel's corners: within 7 % of 1 no bead lies deeper in another than that.
//! Where two sides meet, the beads of a pair turn into each other. How far
//! out the rounds lie follows from there: so far that the two lie no more than
//! [`AT_CORNER`] in each other. The sides come out at 1.02 to 1.04 times two
//! lengths for each up bead, as a separate computation of beads drawn together
//! by thread has them.

use super::layout::{Part, Seat};
use super::number::Round;
use super::panel::PanelLayout;
use super::project::{Growth, Make, Project, SpecIndex};
use std::f64::consts::PI;

/// How far F may be from 1 for a panel to lie flat (common practice, no source).
const FLAT: f64 = 0.07;

/// How deep a bead of a corner pair may lie in the other, in diameters.
const AT_CORNER: f64 = 0.22;

/// A flat panel as its beads lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lying {
    rounds: u32,
    /// From the middle to the ring, mm.
    first_mm: f64,
    /// From round to round, mm.
    pitch_mm: f64,
    length_mm: f64,
    /// Of half the angle that a side takes up.
    tan: f64,
}

impl Lying {
    /// How a panel of a kind lies; none for a piece of several, and for a panel
    /// that is not flat or not grown by a law.
    pub fn of(project: &Project, spec: SpecIndex, kind: &PanelLayout) -> Option<Lying> {
        let (Make::Single(_), Growth::Law(law)) = (&project.make, &project.panels[spec].growth)
        else {
            return None;
        };
        let half = PI / f64::from(kind.sides());
        let (tan, bead) = (half.tan(), project.bead_mm());
        let pitch_mm = law.pairs_per_round() * bead.x / tan;
        if (2.0 * pitch_mm / bead.y - 1.0).abs() > FLAT {
            return None;
        }
        // So far out a bead must lie that reaches so far along its side, not to
        // lie too deep in the one round the corner.
        let clear = |reach: f64| reach / tan + (0.5 - AT_CORNER / (2.0 * half.sin())) * bead.y;
        let least = |beads: u32, corner: u8| match corner {
            // Corner beads all round, and none between: the ring.
            1 if beads == 0 => clear(bead.x / 2.0) * half.cos(),
            1 => 0.0,
            _ => clear((f64::from(beads) - 0.5) * bead.x),
        };
        // The corners repeat, and so does what they need.
        let mut first_mm: f64 = 0.0;
        let mut side = u32::from(law.corner(1) == 0);
        for k in 1..=2 * law.word().len() as u32 + 2 {
            let corner = law.corner(k);
            let beads = side + if corner == 2 { 2 } else { 0 };
            first_mm = first_mm.max(least(beads, corner) - f64::from(k - 1) * pitch_mm);
            side = match corner {
                0 => side - 1,
                _ => side + 1,
            };
        }
        Some(Lying {
            rounds: kind.rounds(),
            first_mm,
            pitch_mm,
            length_mm: bead.x,
            tan,
        })
    }

    /// A side where the join rows of a panel by itself would lie, mm: as its beads
    /// lie, or as a plate.
    pub fn join_edge_of(project: &Project, spec: SpecIndex, kind: &PanelLayout) -> f64 {
        match Lying::of(project, spec, kind) {
            Some(lying) => lying.side_mm(Round(lying.rounds + 1)),
            None => project.edge_mm(kind),
        }
    }

    /// From the middle to the line of a round of beads, mm.
    fn out_mm(&self, round: Round) -> f64 {
        self.first_mm + f64::from(round.0 - 1) * self.pitch_mm
    }

    /// A side of the panel along the line of a round, mm.
    fn side_mm(&self, round: Round) -> f64 {
        2.0 * self.tan * self.out_mm(round)
    }

    /// A side through the middles of the outermost beads, mm.
    pub fn edge_mm(&self) -> f64 {
        self.side_mm(Round(self.rounds))
    }

    /// A seat as [`Layout::flat`](super::layout::Layout::flat) gives it.
    pub fn flat(&self, seat: Seat, is_corner: bool) -> (f64, f64) {
        let out_mm = self.out_mm(seat.round);
        let out = out_mm / self.out_mm(Round(self.rounds + 1));
        let beads = seat.of - u32::from(is_corner && seat.part == Part::Face);
        if seat.place >= beads || matches!(seat.part, Part::Tip(_)) {
            return (out, 1.0);
        }
        let from_middle = f64::from(2 * seat.place + 1) - f64::from(beads);
        (
            out,
            0.5 + from_middle * self.length_mm / self.side_mm(seat.round),
        )
    }
}

#[cfg(test)]
mod tests {
    use crate::beadwork::bead::BeadSize;
    use crate::beadwork::corner_law::CornerLaw;
    use crate::beadwork::layout::{Layout, Seat};
    use crate::beadwork::number::{Bead, Panel};
    use crate::beadwork::{Project, Sequence, testing};
    use glam::DVec3;
    use parry3d::math::{Pose, Rotation, Vector};
    use parry3d::query;
    use parry3d::shape::Cylinder;
    use proptest::prelude::*;

    /// A panel of beads so wide and of that flatness.
    fn panel(sides: u8, rounds: u32, diameter_mm: f64, flatness: f64) -> Project {
        let mut project = testing::single(testing::panel(sides, rounds));
        let tan = (std::f64::consts::PI / f64::from(sides)).tan();
        let pairs = CornerLaw::usual(sides).pairs_per_round();
        for bead in &mut project.beads {
            bead.size = BeadSize {
                diameter_mm,
                length_mm: flatness * diameter_mm * tan / (2.0 * pairs),
                ..bead.size
            };
        }
        project
    }

    /// Whether a bead lies across a corner.
    fn is_corner(layout: &Layout, seat: Seat) -> bool {
        let kind = layout.kind(seat.panel);
        kind.corner(seat.round) == 1 && seat.place + 1 == seat.of
    }

    /// The way along a bead's hole.
    fn along(layout: &Layout, seat: Seat) -> DVec3 {
        let corners = layout.panel(Panel(0)).frame.corners();
        let n = corners.len();
        let end = corners[seat.side.index()];
        match is_corner(layout, seat) {
            true => DVec3::Z.cross(end).normalize(),
            false => (end - corners[(seat.side.index() + n - 1) % n]).normalize(),
        }
    }

    /// How deep each bead lies in another, in diameters, along sides and at
    /// corners: cylinders, measured by a collision library (parry3d).
    fn deepest(seq: &Sequence) -> [f64; 2] {
        let layout = seq.layout();
        let bead = layout.project().bead_mm();
        let shape = Cylinder::new((bead.x / 2.0) as f32, (bead.y / 2.0) as f32);
        let all: Vec<(Seat, DVec3, Pose)> = (1..=layout.beads())
            .map(|bead| {
                let seat = layout.seat(Bead(bead));
                let (at, axis) = (layout.position(Bead(bead)), along(layout, seat));
                let vector = |v: DVec3| Vector::new(v.x as f32, v.y as f32, v.z as f32);
                let turn = Rotation::from_rotation_arc(Vector::Y, vector(axis));
                (seat, at, Pose::from_parts(vector(at), turn))
            })
            .collect();
        let mut deepest = [0.0_f64; 2];
        for (nth, (seat, at, pose)) in all.iter().enumerate() {
            for (other, there, other_pose) in &all[nth + 1..] {
                if at.distance(*there) > bead.length() {
                    continue;
                }
                let contact = query::contact(pose, &shape, other_pose, &shape, 0.0);
                let deep = contact
                    .unwrap()
                    .map_or(0.0, |contact| -f64::from(contact.dist));
                let corner = [*seat, *other].iter().any(|seat| is_corner(layout, *seat));
                let at_corner = usize::from(corner || seat.side != other.side);
                deepest[at_corner] = deepest[at_corner].max(deep / bead.y);
            }
        }
        deepest
    }

    proptest! {
        /// For panels within 7 % of flat a tenth of the width along sides and
        /// a quarter at corners.
        #[test]
        fn no_bead_of_a_flat_panel_lies_in_another(
            sides in 3_u8..=6,
            rounds in 2_u32..=13,
            diameter in 1.0..3.5,
            flatness in 0.935..1.065,
        ) {
            let seq = Sequence::new(panel(sides, rounds, diameter, flatness));
            let [side, corner] = deepest(&seq);
            prop_assert!(side <= 0.1, "{side}");
            prop_assert!(corner <= 0.25, "{corner}");
        }
    }

    /// 1.02 to 1.04 times two lengths for each up bead: a separate computation
    /// of beads drawn together by thread, for triangles of cylinder 11/0.
    #[test]
    fn sides_are_a_little_longer_than_their_beads() {
        for rounds in 8..=14 {
            let seq = Sequence::new(testing::single(testing::panel(3, rounds)));
            let size = seq.layout().lying_edge_mm(0);
            let ratio = size / (2.6 * f64::from(rounds));
            assert!((1.02..=1.04).contains(&ratio), "{rounds}: {ratio}");
        }
    }
}
