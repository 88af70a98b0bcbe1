//! The way of the thread through the finished piece, measured bead by bead, in
//! millimetres: the judge of the formula by which thread is counted. It goes
//! along the hole of each bead, and over the hop from the end of one hole to the
//! nearer end of the next.
//!
//! ```text
//!   ---[=====]--.            =====  the hole of a bead, its length
//!               |  hop         |    between two ends of holes, straight
//!            .--'
//!            '--[=====]---
//! ```
//!
//! Beads lie in the finished piece as [`BeadPlaces`] says.

use crate::beadwork::places::BeadPlaces;
use crate::beadwork::{Bead, Kind, Movement, Sequence, testing};
use crate::beadwork::{Closing, Solid};
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
    pub fn of(places: &BeadPlaces, bead: Bead) -> HoleEnds {
        let layout = places.layout;
        let seat = layout.seat(bead);
        let middle = places.seat(seat);
        let kind = layout.colour_of(seat);
        let length = layout.bead_kind(kind).size.length_mm;
        let half = places.along(seat) * (length / 2.0);
        HoleEnds {
            back: middle - half,
            front: middle + half,
        }
    }

    fn end(self, front: bool) -> DVec3 {
        if front { self.front } else { self.back }
    }
}

/// A needle on its way: where the thread leaves the work.
#[derive(Clone, Copy, Debug, Default)]
pub struct NeedlePath {
    at: Option<DVec3>,
    leaves: Option<(Bead, bool)>,
}

impl NeedlePath {
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
    pub fn go(&mut self, places: &BeadPlaces, beads: &[Bead]) -> f64 {
        let mut mm = 0.0;
        self.visit(places, beads, |from, to| mm += from.distance(to));
        mm
    }

    /// The same way, straight piece by straight piece: each hop and each hole
    /// from where to where.
    pub fn visit(
        &mut self,
        places: &BeadPlaces,
        beads: &[Bead],
        mut piece: impl FnMut(DVec3, DVec3),
    ) {
        for (nth, &bead) in beads.iter().enumerate() {
            let ends = HoleEnds::of(places, bead);
            let front_in = match self.at {
                Some(at) => nearer_front(ends, at),
                None => beads.get(nth + 1).is_some_and(|&next| {
                    let next = HoleEnds::of(places, next);
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

/// The whole way through a piece, mm: holes and hops, no tails.
pub fn measured_mm(seq: &Sequence) -> f64 {
    let places = seq.work().bead_places();
    let mut needle = NeedlePath::default();
    let mut mm = 0.0;
    for m in seq.iter() {
        if m.kind == Kind::StartThread {
            needle = NeedlePath::default();
        }
        mm += needle.go(&places, &m.passes);
    }
    mm
}

/// A ring of three beads, worked out by hand. The beads, 1.3 mm long and 1.6 mm
/// across, lie so far out that two at a corner lie 0.22·1.6 mm in each other:
/// 0.65/√3 + 0.8 − 0.176/sin 60° = 0.97205 mm from the middle. So their lines
/// bound a triangle of side 2·√3·0.97205 = 3.36729 mm, and each bead ends
/// (3.36729 − 1.3)/2 = 1.03364 mm before the corners. Two ends at one corner
/// stand on lines that meet at 60°, so the hop from end to end is 1.03364 mm too.
///
/// The thread goes through beads 1, 2 and 3 and through bead 1 again: four
/// holes and three hops, 4·1.3 + 3·1.03364 = 8.30092 mm.
#[test]
fn a_ring_of_three_takes_the_thread_that_was_worked_out_by_hand() {
    let seq = Sequence::new(testing::single(testing::panel(3, 1)));
    let ring: Vec<Movement> = seq.iter().filter(|m| m.kind == Kind::Ring).collect();
    let passes: Vec<u32> = ring.iter().flat_map(|m| &m.passes).map(|b| b.0).collect();
    assert_eq!(passes, [1, 2, 3, 1]);
    let places = seq.work().bead_places();
    let mut needle = NeedlePath::default();
    let mm: f64 = ring.iter().map(|m| needle.go(&places, &m.passes)).sum();
    assert!((mm - 8.30092).abs() < 1e-5, "{mm}");
}

/// In outward work thread goes into every bead at its back and leaves it at
/// its front, the way it was strung.
#[test]
fn thread_runs_one_way_through_outward_work() {
    let seq = Sequence::new(testing::single(testing::panel(3, 9)));
    let places = seq.work().bead_places();
    let mut needle = NeedlePath::default();
    for m in seq.iter().filter(|m| m.kind != Kind::EndThread) {
        needle.go(&places, &m.passes);
        assert!(needle.leaves().is_none_or(|(_, front)| front), "{m:?}");
    }
}

/// The whole path as one curve, one unit of time a straight piece, its speed
/// integrated by a general numeric library.
#[test]
fn a_general_numeric_library_finds_the_same_length() {
    use gauss_quad::GaussLegendre;
    for project in [
        testing::solid(Solid::Tetrahedron, 5, Closing::SetIn),
        testing::single(testing::panel(6, 7)),
    ] {
        let seq = Sequence::new(project);
        let mut pieces = vec![];
        let places = seq.work().bead_places();
        let mut needle = NeedlePath::default();
        for m in seq.iter() {
            if m.kind == Kind::StartThread {
                needle = NeedlePath::default();
            }
            needle.visit(&places, &m.passes, |a, b| pieces.push((a, b)));
        }
        let rule = GaussLegendre::new(3.try_into().expect("three points"));
        let at = |t: f64| {
            let nth = (t as usize).min(pieces.len() - 1);
            let (a, b) = pieces[nth];
            a.lerp(b, t - nth as f64)
        };
        let h = 1e-4;
        let speed = |t: f64| (at(t + h) - at(t - h)).length() / (2.0 * h);
        let integrated: f64 = (0..pieces.len())
            .map(|nth| rule.integrate(nth as f64, nth as f64 + 1.0, speed))
            .sum();
        let walked = measured_mm(&seq);
        assert!((integrated - walked).abs() < 1e-3, "{integrated} {walked}");
    }
}
