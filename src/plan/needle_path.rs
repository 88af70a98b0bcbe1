//! The way of the thread through the finished piece, in millimetres: along
//! the hole of each bead, and over the hop from the end of one hole to the
//! nearer end of the next.
//!
//! ```text
//!   ---[=====]--.            =====  the hole of a bead, its length
//!               |  hop         |    between two ends of holes, straight
//!            .--'
//!            '--[=====]---
//! ```
//!
//! Beads lie where the layout puts them in the finished piece, so a plan and
//! the picture of the work agree. Holes run along the side that a bead
//! belongs to; that of a bead on a corner runs square across the corner.

use crate::beadwork::layout::{Layout, Part, Seat};
use crate::beadwork::{Bead, Side};
use glam::DVec3;

/// Where the two ends of a bead's hole lie, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoleEnds {
    /// The end at the start of its side.
    pub back: DVec3,
    /// The end at the end of its side.
    pub front: DVec3,
}

impl HoleEnds {
    /// The ends of a bead's hole in the finished piece.
    pub fn of(layout: &Layout, bead: Bead) -> HoleEnds {
        let seat = layout.seat(bead);
        let middle = layout.position_of(seat);
        let kind = layout.colour_of(seat);
        let length = layout.project().beads[usize::from(kind.0)].size.length_mm;
        let half = along(layout, seat) * (length / 2.0);
        HoleEnds {
            back: middle - half,
            front: middle + half,
        }
    }

    /// Length of the hole, mm.
    pub fn length_mm(self) -> f64 {
        self.back.distance(self.front)
    }

    fn end(self, front: bool) -> DVec3 {
        if front { self.front } else { self.back }
    }
}

/// The direction of a bead's hole, one long.
fn along(layout: &Layout, seat: Seat) -> DVec3 {
    let corners = layout.panel(seat.panel).frame.corners();
    let n = corners.len();
    let side = |s: Side| {
        let (from, to) = (corners[(s.index() + n - 1) % n], corners[s.index()]);
        (to - from).normalize_or_zero()
    };
    let kind = layout.kind(seat.panel);
    let on_corner = match seat.part {
        Part::Face => kind.corner(seat.round) == 1 && seat.place + 1 == seat.of,
        Part::JoinRow(_) => false,
        Part::Tip(_) => true,
    };
    if on_corner {
        (side(seat.side) + side(kind.next_side(seat.side))).normalize_or_zero()
    } else {
        side(seat.side)
    }
}

/// A needle on its way: where the thread leaves the work.
#[derive(Clone, Copy, Debug, Default)]
pub struct NeedlePath {
    at: Option<DVec3>,
    leaves: Option<(Bead, bool)>,
}

impl NeedlePath {
    /// A needle that leaves a bead, by its front or its back end.
    pub fn leaving(layout: &Layout, bead: Bead, front: bool) -> NeedlePath {
        NeedlePath {
            at: Some(HoleEnds::of(layout, bead).end(front)),
            leaves: Some((bead, front)),
        }
    }

    /// The bead that the needle leaves, and whether by its front end; none
    /// while no thread is in the work.
    pub fn leaves(&self) -> Option<(Bead, bool)> {
        self.leaves
    }

    /// Goes through beads in order. Millimetres of thread that this takes:
    /// holes, and hops to them.
    ///
    /// A new thread goes into its first bead at the end that is further from
    /// the second, or at the back if there is no second.
    pub fn go(&mut self, layout: &Layout, beads: &[Bead]) -> f64 {
        let mut mm = 0.0;
        self.visit(layout, beads, |from, to| mm += from.distance(to));
        mm
    }

    /// The same way, straight piece by straight piece: each hop and each hole
    /// from where to where.
    pub fn visit(&mut self, layout: &Layout, beads: &[Bead], mut piece: impl FnMut(DVec3, DVec3)) {
        for (nth, &bead) in beads.iter().enumerate() {
            let ends = HoleEnds::of(layout, bead);
            let front_in = match self.at {
                Some(at) => nearer_front(ends, at),
                None => beads.get(nth + 1).is_some_and(|&next| {
                    let next = HoleEnds::of(layout, next);
                    let reach = |end: DVec3| next.back.distance(end).min(next.front.distance(end));
                    reach(ends.back) < reach(ends.front)
                }),
            };
            let (into, out) = (ends.end(front_in), ends.end(!front_in));
            if let Some(at) = self.at {
                piece(at, into);
            }
            piece(into, out);
            self.at = Some(out);
            self.leaves = Some((bead, !front_in));
        }
    }
}

fn nearer_front(ends: HoleEnds, at: DVec3) -> bool {
    ends.front.distance_squared(at) < ends.back.distance_squared(at)
}
