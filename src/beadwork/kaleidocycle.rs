//! A ring of N hinged tetrahedra, a kaleidocycle, and how it turns.
//!
//! Hinges have length L; a tetrahedron's two hinges lie d apart, at right
//! angles. With a = 2π/N and turn angle t, a hinge's midpoint lies at radius
//!
//! ```text
//! p(t) = d·√(1 + sin²t·tan²a) / tan a
//! ```
//!
//! from the axis, and the hinge leans by t out of the plane of the ring. Its
//! neighbours lean by t' with tan t·tan t' = −cos a, at the other height. The
//! height of a hinge's midpoint follows from its being at right angles to the
//! lines to its neighbours; written out, with D = cos²a + sin²t·sin²a,
//!
//! ```text
//! h(t) = −d·sin t·cos t·sin a / (2√D)
//! ```
//!
//! The ring turns right through if no hinge's inner end passes the axis, which
//! is so if d/L ≥ ½·tan a. If it does not, it binds where the inner end comes
//! to the axis, p(t) = (L/2)·|cos t|, which solved for t is
//!
//! ```text
//! sin²t = (L²/4 − d²/tan²a) / (L²/4 + d²)
//! ```
//!
//! (D. Schattschneider and W. Walker, 1977, for the facts: regular tetrahedra
//! turn from eight on, six do not.)
//!
//! That holds for thin plates, whose hinges are as long as their edges. In
//! beadwork a hinge is only as long as its row: K − 1 join beads span 2K − 3
//! bead lengths, and the tips of the faces beyond them are soft. With L the
//! row and d the edge, 2K lengths, over √2, a ring of six turns up to K = 8.
//! Soft beadwork gives up to half a bead more at each end of a row (common
//! practice, no source).

use super::solid::Polyhedra;
use super::{Layout, Panel, Side};
use glam::DVec3;
use std::f64::consts::{PI, TAU};

/// A ring of regular tetrahedra.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kaleidocycle {
    /// How many tetrahedra.
    pub tetrahedra: u16,
    /// Length of an edge of a tetrahedron, mm.
    pub edge_mm: f64,
    /// How much of a hinge is stiff, mm: its row of beads.
    pub row_mm: f64,
    /// How much of that gives way at each end, mm.
    pub give_mm: f64,
}

/// Whether a ring turns right through its middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RingVerdict {
    /// It does.
    Turns,
    /// It does, but soft beadwork has to give way at the middle.
    Tight,
    /// It does not.
    Binds,
}

impl Kaleidocycle {
    /// A ring of thin plates, hinged along their whole edges.
    pub fn of_plates(tetrahedra: u16, edge_mm: f64) -> Self {
        Kaleidocycle {
            tetrahedra,
            edge_mm,
            row_mm: edge_mm,
            give_mm: 0.0,
        }
    }

    /// A ring of panels with this many up beads on a side, this many tip beads
    /// at each end of a row, and of beads of this length.
    pub fn of_beads(tetrahedra: u16, up_beads: u32, tips: u8, length_mm: f64) -> Self {
        // The first tip bead lies over the gap behind the row, as its beads do;
        // a second lies beside it.
        let beyond = match tips {
            0 => 0,
            tips => 1 + u32::from(tips),
        };
        let row = (2 * up_beads + 2 * beyond).saturating_sub(3);
        Kaleidocycle {
            tetrahedra,
            edge_mm: 2.0 * length_mm * f64::from(up_beads),
            row_mm: length_mm * f64::from(row),
            give_mm: length_mm / 2.0,
        }
    }

    /// The ring that a piece is, if it is one.
    pub fn of(layout: &Layout) -> Option<Self> {
        let (tetrahedra, tips) = layout.project().make.shape().ring()?;
        // The usual length of a side, whatever single panels have in their gaps.
        let panels = (0..layout.panels().len() as u16).map(Panel);
        let first = layout.kind_by_pattern(Panel(0));
        let alike = panels.filter(|panel| layout.kind_by_pattern(*panel) == first);
        let mut edges: Vec<u32> = alike
            .map(|panel| layout.kind(panel).edge(Side(0)))
            .collect();
        edges.sort_unstable();
        let up_beads = *edges.get(edges.len() / 2)?;
        let length = layout.project().bead_length_mm();
        Some(Self::of_beads(tetrahedra, up_beads, tips, length))
    }

    fn angle(self) -> f64 {
        TAU / f64::from(self.tetrahedra)
    }

    /// Distance between the two hinges of a tetrahedron, mm.
    pub fn between_hinges_mm(self) -> f64 {
        self.edge_mm / 2f64.sqrt()
    }

    /// Radius of a hinge's midpoint at turn angle `t` (radians), mm.
    pub fn radius_mm(self, t: f64) -> f64 {
        let tan = self.angle().tan();
        self.between_hinges_mm() * (1.0 + (t.sin() * tan).powi(2)).sqrt() / tan
    }

    /// How far the rows' inner ends stay from the axis at the worst turn, mm;
    /// below zero they pass it by that much.
    pub fn margin_mm(self) -> f64 {
        // The inner end is nearest the axis where the hinge lies flat, t = 0:
        // p rises with t and the hinge's reach inward falls.
        self.radius_mm(0.0) - self.row_mm / 2.0
    }

    /// By how much the inner end of an even or an odd row passes the axis at a
    /// turn (radians), mm; 0 where none does.
    pub fn tight_mm(self, t: f64) -> f64 {
        let lean = |t: f64| self.row_mm / 2.0 * t.cos().abs() - self.radius_mm(t);
        lean(t).max(lean(self.odd_lean(t))).max(0.0)
    }

    /// Whether the ring turns right through.
    pub fn verdict(self) -> RingVerdict {
        match self.margin_mm() {
            margin if margin >= 0.0 => RingVerdict::Turns,
            margin if margin >= -self.give_mm => RingVerdict::Tight,
            _ => RingVerdict::Binds,
        }
    }

    /// The lean of the odd hinges when the even ones lean by `t` (radians):
    /// tan t·tan t' = −cos a, taken so that it goes round once as `t` does.
    pub fn odd_lean(self, t: f64) -> f64 {
        (-self.angle().cos() * t.cos()).atan2(t.sin())
    }

    /// Midpoint and direction of hinge `i` when the even hinges lean by `t`
    /// (radians; any turn, on through whole turns).
    pub fn hinge(self, i: u16, t: f64) -> (DVec3, DVec3) {
        let a = self.angle();
        let depth = a.cos().powi(2) + (t.sin() * a.sin()).powi(2);
        let high = -self.between_hinges_mm() * t.sin() * t.cos() * a.sin() / (2.0 * depth.sqrt());
        let (lean, height) = match i.is_multiple_of(2) {
            true => (t, high),
            false => (self.odd_lean(t), -high),
        };
        let around = a * f64::from(i);
        let out = DVec3::new(around.cos(), around.sin(), 0.0);
        (
            out * self.radius_mm(lean) + DVec3::Z * height,
            out * lean.cos() + DVec3::Z * lean.sin(),
        )
    }

    /// The turns between which a ring that binds can be moved, its widest
    /// turn between them, radians; `None` if it turns right through.
    pub fn free_between(self) -> Option<(f64, f64)> {
        if self.verdict() != RingVerdict::Binds {
            return None;
        }
        let (half, d) = (self.row_mm / 2.0 - self.give_mm, self.between_hinges_mm());
        let flat = d / self.angle().tan();
        let sine = ((half * half - flat * flat) / (half * half + d * d)).sqrt();
        let (least, cos) = (sine.asin(), self.angle().cos());
        // The odd hinges come to the axis at the same lean of theirs.
        Some((least, (cos / least.tan()).atan()))
    }

    /// The turn at which even and odd hinges lean alike, where the ring lies
    /// most open.
    pub fn even_turn(self) -> f64 {
        self.angle()
            .cos()
            .abs()
            .sqrt()
            .atan()
            .clamp(0.01, PI / 2.0 - 0.01)
    }

    /// The ends of all hinges at turn `t`: 2i and 2i + 1 are those of hinge i.
    pub fn ends(self, t: f64) -> Vec<DVec3> {
        let ends = |i| {
            let (middle, along) = self.hinge(i, t);
            let half = along * self.edge_mm / 2.0;
            [middle + half, middle - half]
        };
        (0..self.tetrahedra).flat_map(ends).collect()
    }

    /// The tetrahedra at turn `t`, four faces each: two at the hinge before,
    /// two at the hinge behind. Corners 2i and 2i + 1 are the ends of hinge i.
    pub fn at(self, t: f64) -> Polyhedra {
        let n = self.tetrahedra;
        let mut ring = Polyhedra {
            corners: self.ends(t),
            faces: vec![],
        };
        for i in 0..usize::from(n) {
            let (a, b) = (2 * i, 2 * i + 1);
            let next = 2 * ((i + 1) % usize::from(n));
            let (c, d) = (next, next + 1);
            let middle = [a, b, c, d].map(|v| ring.corners[v]).iter().sum::<DVec3>() / 4.0;
            for face in [[a, b, c], [a, b, d], [a, c, d], [b, c, d]] {
                ring.faces.push(face.to_vec());
                ring.turn_outward(ring.faces.len() - 1, middle);
            }
        }
        ring
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Closing;
    use crate::beadwork::sequence::Sequence;
    use crate::beadwork::testing;

    fn ring(tetrahedra: u16) -> Kaleidocycle {
        Kaleidocycle::of_plates(tetrahedra, 20.0)
    }

    /// D. Schattschneider and W. Walker, "M. C. Escher Kaleidocycles", 1977:
    /// a ring of regular tetrahedra turns from eight on; six do not. Six need
    /// faces as high as their base is long, which is d/L = ½·tan 60°.
    #[test]
    fn eight_regular_tetrahedra_turn_and_six_do_not() {
        assert_eq!(ring(6).verdict(), RingVerdict::Binds);
        for n in [8, 10, 12, 14] {
            assert_eq!(ring(n).verdict(), RingVerdict::Turns);
        }
        let needed = (TAU / 6.0).tan() / 2.0;
        assert!((needed - 0.866).abs() < 0.0005);
    }

    /// Makers turn rings of six made of 24 eight-round triangles: common
    /// practice, no source. By hand for beads of 1 mm: d = 2K/√2, over tan 60°,
    /// against half of 2K − 3.
    #[test]
    fn a_ring_of_six_turns_up_to_eight_rounds_and_binds_from_eleven() {
        let six = |rounds| Kaleidocycle::of_beads(6, rounds, 0, 1.0);
        for rounds in 2..=16 {
            let verdict = match rounds {
                ..=8 => RingVerdict::Turns,
                9..=10 => RingVerdict::Tight,
                _ => RingVerdict::Binds,
            };
            assert_eq!(six(rounds).verdict(), verdict, "{rounds} rounds");
            let k = f64::from(rounds);
            let by_hand = 2.0 * k / 6f64.sqrt() - (2.0 * k - 3.0) / 2.0;
            assert!((six(rounds).margin_mm() - by_hand).abs() < 1e-9);
        }
        // Where it is tight it is so at the middle of the turn only.
        let nine = six(9);
        assert!((nine.tight_mm(0.0) + nine.margin_mm()).abs() < 1e-9);
        assert_eq!(nine.tight_mm(nine.even_turn()), 0.0);
        // Tip beads make the hinge longer.
        assert_eq!(Kaleidocycle::of_beads(6, 8, 1, 1.0).row_mm, 17.0);
        assert_eq!(
            Kaleidocycle::of_beads(6, 8, 1, 1.0).verdict(),
            RingVerdict::Binds
        );
    }

    /// Gaps of one panel worked otherwise, be it the first, leave the ring as it is.
    #[test]
    fn gaps_of_one_panel_do_not_change_the_ring() {
        let plain = Sequence::new(testing::ring(8, 4, Closing::SetIn));
        let edge = |seq: &Sequence| seq.layout().kind(Panel(0)).edge(Side(0));
        let mut longer = 0;
        for seq in testing::with_three_in_a_gap(&plain) {
            longer += u32::from(edge(&seq) != edge(&plain));
            assert_eq!(
                Kaleidocycle::of(seq.layout()),
                Kaleidocycle::of(plain.layout())
            );
        }
        assert!(longer > 0);
    }

    /// Whatever the turn, every tetrahedron stays regular: rigid bodies hinged
    /// together, checked edge by edge.
    #[test]
    fn every_tetrahedron_keeps_its_six_edges_at_every_turn() {
        for n in [6, 8, 12] {
            // Right angles, where one kind of hinge lies flat, among them.
            for step in 0..=80 {
                let t = f64::from(step) * PI / 40.0;
                let shape = ring(n).at(t);
                for i in 0..usize::from(n) {
                    let next = (i + 1) % usize::from(n);
                    let four = [2 * i, 2 * i + 1, 2 * next, 2 * next + 1];
                    for a in 0..4 {
                        for b in a + 1..4 {
                            let edge = shape.corners[four[a]].distance(shape.corners[four[b]]);
                            assert!((edge - 20.0).abs() < 1e-6, "n {n} t {t}: {edge}");
                        }
                    }
                }
            }
        }
    }

    /// Between the two turns no hinge's inner end passes the axis; just
    /// outside one does. Found by turning the ring and looking.
    #[test]
    fn a_ring_that_binds_moves_between_two_turns() {
        assert_eq!(ring(8).free_between(), None);
        let six = ring(6);
        let (from, to) = six.free_between().unwrap();
        assert!(from < six.even_turn() && six.even_turn() < to);
        let inner = |t: f64| {
            let reach = |i: u16| {
                let (middle, along) = six.hinge(i, t);
                let half = along * (six.edge_mm / 2.0);
                let out = (middle - DVec3::Z * middle.z).normalize();
                (middle + half).dot(out).min((middle - half).dot(out))
            };
            reach(0).min(reach(1))
        };
        for part in 0..=100 {
            let t = from + (to - from) * f64::from(part) / 100.0;
            assert!(inner(t) > -1e-9, "{t}");
        }
        assert!(inner(from).abs() < 1e-9 && inner(to).abs() < 1e-9);
        assert!(inner(from - 0.01) < 0.0 && inner(to + 0.01) < 0.0);
    }

    /// Hinges and their ends come back after one whole turn, and never jump.
    #[test]
    fn the_ring_turns_on_without_a_jump_and_comes_round() {
        let eight = ring(8);
        let all = |t: f64| eight.at(t).corners;
        let mut last = all(0.0);
        for step in 1..=720 {
            let now = all(TAU * f64::from(step) / 720.0);
            for (a, b) in last.iter().zip(&now) {
                assert!(a.distance(*b) < 1.0, "step {step}");
            }
            last = now;
        }
        for (a, b) in last.iter().zip(all(0.0)) {
            assert!(a.distance(b) < 1e-6);
        }
    }

    /// The closed form against turning the ring and looking: the least
    /// distance of any hinge's inner end from the axis, signed along the
    /// hinge's own radius.
    #[test]
    fn the_margin_is_what_a_whole_turn_shows() {
        for n in [6, 8, 10] {
            let cycle = ring(n);
            let least = (1..2000)
                .map(|step| f64::from(step) * PI / 2000.0)
                .map(|t| {
                    let (middle, along) = cycle.hinge(0, t);
                    let radius = middle.x;
                    radius - cycle.edge_mm / 2.0 * along.x.abs()
                })
                .fold(f64::MAX, f64::min);
            assert!((least - cycle.margin_mm()).abs() < 0.01, "n {n}");
        }
    }
}
