//! Where a bead lies in the finished piece, in mm.
//!
//! A panel of K rounds is drawn to scale inside its polygon: round k lies at
//! (k − ½)/(K + ½) of the way from the middle to a side, so that a join row,
//! round K + 1 less a half, lies on the join line itself. Along a side the
//! beads are spread evenly between its corners. A strip is a rectangle, with a
//! bead in each place of its columns.

use super::layout::{Layout, Part, Seat};
use super::number::Bead;
use glam::DVec3;

impl Layout {
    /// Length of a finished side of a kind of panel, mm.
    pub fn edge_mm(&self, spec: usize) -> f64 {
        self.project().edge_mm(self.kind_of(spec))
    }

    /// The length of the piece's beads, mm: the longest kind.
    pub fn bead_length_mm(&self) -> f64 {
        self.project().bead_length_mm()
    }

    /// The diameter of the piece's beads, mm: the widest kind.
    pub fn bead_diameter_mm(&self) -> f64 {
        self.project().bead_diameter_mm()
    }

    /// Where the middle of a bead lies in the finished piece, mm.
    pub fn position(&self, bead: Bead) -> DVec3 {
        self.position_of(self.seat(bead))
    }

    /// Where the middle of the bead in a seat lies, mm.
    pub fn position_of(&self, seat: Seat) -> DVec3 {
        let frame = &self.panel(seat.panel).frame;
        if let Some(strip) = self.kind(seat.panel).strip() {
            return frame.in_rectangle(strip.middle(seat.spot()));
        }
        let (out, along) = self.flat(seat);
        frame.point(seat.side.index(), out, along)
    }

    /// A seat on the flat panel: how far from the middle (0) to the join line
    /// (1), and how far along the side from its start (0) to its end (1). On a
    /// strip how far up and how far along it.
    pub fn flat(&self, seat: Seat) -> (f64, f64) {
        let kind = self.kind(seat.panel);
        if let Some(strip) = kind.strip() {
            let middle = strip.middle(seat.spot());
            return (middle.y, middle.x);
        }
        let rounds = f64::from(kind.rounds());
        let out = (f64::from(seat.round.0) - 0.5) / (rounds + 0.5);
        let (place, of) = (f64::from(seat.place), f64::from(seat.of));
        let along = match seat.part {
            Part::Face if kind.corner(seat.round) == 1 => (place + 1.0) / of,
            Part::Face => (place + 0.5) / of,
            // The row's beads lie over the gaps between the edge's beads.
            Part::JoinRow(_) => (place + 1.0) / (of + 1.0),
            Part::Tip(_) => 1.0,
        };
        (out, along)
    }
}

#[cfg(test)]
mod tests {
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Bead, Sequence, testing};

    /// Beads that thread links must lie within a bead's reach of each other in
    /// the finished piece, whichever panels they belong to.
    #[test]
    fn consecutive_beads_of_the_thread_lie_near_each_other() {
        for project in [
            testing::single(testing::panel(6, 12)),
            testing::solid(Solid::Tetrahedron, 8, Closing::SetIn),
            testing::solid(Solid::Icosahedron, 8, Closing::SetIn),
            testing::solid(Solid::Cube, 9, Closing::SetIn),
            testing::ring(8, 8, Closing::SetIn),
            testing::folded_pair(8, 2),
        ] {
            let seq = Sequence::new(project);
            let layout = seq.layout();
            let mut last: Option<Bead> = None;
            for m in seq.iter() {
                if m.kind == crate::beadwork::Kind::StartThread {
                    last = None;
                }
                for &bead in &m.passes {
                    if let Some(last) = last {
                        let hop = layout.position(last).distance(layout.position(bead));
                        // A length along the hole and a diameter across, and
                        // half as much again at a corner.
                        assert!(hop < 4.5, "step {} hop {hop:.2} mm", m.step);
                    }
                    last = Some(bead);
                }
            }
        }
    }

    /// Faces of a finished tetrahedron stand at the handbook's dihedral angle,
    /// 70.53° (from memory), as its beads lie.
    #[test]
    fn the_beads_of_two_faces_stand_at_the_dihedral_angle() {
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 8, Closing::SetIn));
        let layout = seq.layout();
        let normal = |first: u32| {
            // Three beads of the ring lie in the face's plane.
            let p = |b: u32| layout.position(Bead(first + b));
            (p(1) - p(0)).cross(p(2) - p(1)).normalize()
        };
        let starts: Vec<u32> = seq
            .jobs()
            .iter()
            .filter(|j| j.title.starts_with("Face"))
            .map(|j| j.beads_before + 1)
            .collect();
        let angle = 180.0
            - normal(starts[0])
                .angle_between(normal(starts[1]))
                .to_degrees();
        assert!((angle - 70.5288).abs() < 0.001, "{angle}");
    }
}
