//! The shape of a piece: its panels as stiff plates in the finished place, and
//! the seams between their sides.
//!
//! A seam is a join: two sides that are zipped together, or the four sides that
//! meet at a hinge of a ring. Seams are numbered from 1 in the order in which
//! they are closed. On the flat net a side has the number of its seam, as a
//! letter: sides with the same letter will meet.

use super::names;
use super::pair::Pair;
use crate::beadwork::frame::{middle_of, outward, side_of};
use crate::beadwork::job::JobKind;
use crate::beadwork::kaleidocycle::Kaleidocycle;
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::{Job, Sequence};
use glam::DVec3;
use std::collections::HashMap;

/// A side of a plate: both from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct PlateSide {
    /// The plate, which is the panel's index.
    pub plate: usize,
    /// Its side.
    pub side: usize,
}

impl PlateSide {
    /// A side of a panel as a side of its plate; or the corner at the end of
    /// that side.
    pub fn of((panel, side): (Panel, Side)) -> PlateSide {
        PlateSide {
            plate: panel.index(),
            side: side.index(),
        }
    }
}

/// A panel in its finished place.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// The panel.
    pub panel: Panel,
    /// Its name.
    pub name: String,
    /// Its name where there is little room; no two are alike.
    pub short: String,
    /// Its corners, mm, anticlockwise from outside; corner s ends side s.
    pub corners: Vec<DVec3>,
    /// The seam of each side, if it has one.
    pub seams: Vec<Option<usize>>,
    /// The job that makes it; none if it is left out.
    pub made_by: Option<Job>,
    /// Rounds in the middle that are left open.
    pub open: u32,
}

impl Plate {
    /// The ends of a side, mm: where it starts, and where it ends.
    pub fn side(&self, side: usize) -> (DVec3, DVec3) {
        side_of(&self.corners, side)
    }

    /// The middle of its corners, mm.
    pub fn middle(&self) -> DVec3 {
        middle_of(&self.corners)
    }

    /// Which way it faces: a unit vector out of the piece.
    pub fn outward(&self) -> DVec3 {
        outward(&self.corners)
    }
}

/// How far apart two sides are with the plates at these places, mm: the sum of
/// the distances at both ends.
pub fn apart(places: &[Vec<DVec3>], one: PlateSide, other: PlateSide) -> f64 {
    let ends = |s: PlateSide| side_of(&places[s.plate], s.side);
    let ((a, b), (c, d)) = (ends(one), ends(other));
    (a.distance(c) + b.distance(d)).min(a.distance(d) + b.distance(c))
}

/// Sides that are joined along one line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seam {
    /// The sides, the one that carries the join row first.
    pub sides: Vec<PlateSide>,
    /// The job that joins each of them to the first. For the first, it is the
    /// earliest job of the others.
    pub joined_by: Vec<Job>,
}

/// A plate in the open middle of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlateInMiddle {
    /// The plate.
    pub plate: usize,
    /// The one around it.
    pub around: usize,
    /// The job that sets it in.
    pub joined_by: Job,
}

/// The panels and seams of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// The plates: plate i is panel i.
    pub plates: Vec<Plate>,
    /// The seams, in the order in which they are closed.
    pub seams: Vec<Seam>,
    /// Plates that are set in the open middle of another, in its plane.
    pub set_in: Vec<PlateInMiddle>,
    /// Corners that are tied to each other: a plate, and the side at the end of
    /// which the corner is.
    pub ties: Vec<(PlateSide, PlateSide)>,
    /// The job that ties them. From then on the piece is folded.
    pub tied_by: Option<Job>,
    /// The ring, if it is one.
    pub ring: Option<Kaleidocycle>,
}

impl Shape {
    /// The shape of a piece. The time it takes grows with the panels and jobs,
    /// not with the beads.
    pub fn of(seq: &Sequence) -> Shape {
        let layout = seq.layout();
        let names: Vec<&str> = layout.panels().iter().map(|p| p.name.as_str()).collect();
        let short = names::short(&names);
        let plate = |nth: usize| {
            let panel = Panel(nth as u16);
            let corners = layout.panel(panel).frame.corners().to_vec();
            Plate {
                panel,
                name: names[nth].to_string(),
                short: short[nth].clone(),
                seams: vec![None; corners.len()],
                corners,
                made_by: None,
                open: layout.open_rounds(panel),
            }
        };
        let mut body = Shape {
            plates: (0..layout.panels().len()).map(plate).collect(),
            seams: vec![],
            set_in: vec![],
            ties: vec![],
            tied_by: None,
            ring: Kaleidocycle::of(layout),
        };
        let mut seam_of = HashMap::new();
        for (nth, job) in seq.jobs().iter().enumerate() {
            body.add_job(Job(nth as u16), &job.kind, seq, &mut seam_of);
        }
        body
    }

    fn add_job(
        &mut self,
        job: Job,
        kind: &JobKind,
        seq: &Sequence,
        seam_of: &mut HashMap<PlateSide, usize>,
    ) {
        match kind {
            JobKind::Panel(panel) => self.plates[panel.index()].made_by = Some(job),
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                for join in joins {
                    let row = PlateSide::of((join.onto, join.at));
                    self.join(row, PlateSide::of((*panel, join.side)), job, seam_of);
                }
            }
            JobKind::Fill { panel, .. } => {
                self.plates[panel.index()].made_by = Some(job);
                let layout = seq.layout();
                let Some(rim) = layout.panel(*panel).rim else {
                    return;
                };
                for (s, on) in layout.rim(rim).iter().enumerate() {
                    let side = (on.panel, on.side);
                    let own = PlateSide {
                        plate: panel.index(),
                        side: s,
                    };
                    self.join(PlateSide::of(side), own, job, seam_of);
                }
            }
            JobKind::Tie(from, to) => {
                self.tied_by.get_or_insert(job);
                self.ties.push((PlateSide::of(*from), PlateSide::of(*to)));
            }
            JobKind::SetInMiddle { panel, around } => self.set_in.push(PlateInMiddle {
                plate: panel.index(),
                around: around.index(),
                joined_by: job,
            }),
            JobKind::JoinRow { .. } | JobKind::FirmRim(_) | JobKind::Reinforce(..) => {}
        }
    }

    fn join(
        &mut self,
        row: PlateSide,
        bare: PlateSide,
        job: Job,
        seam_of: &mut HashMap<PlateSide, usize>,
    ) {
        let seam = *seam_of.entry(row).or_insert_with(|| {
            self.seams.push(Seam {
                sides: vec![row],
                joined_by: vec![job],
            });
            self.seams.len() - 1
        });
        self.seams[seam].sides.push(bare);
        self.seams[seam].joined_by.push(job);
        for side in [row, bare] {
            self.plates[side.plate].seams[side.side] = Some(seam);
        }
    }

    /// The side that a side meets, if exactly two are joined; `None` at a
    /// hinge, and for a side that is never joined.
    pub fn meets(&self, side: PlateSide) -> Option<PlateSide> {
        let seam = self.plates[side.plate].seams[side.side]?;
        match self.seams[seam].sides[..] {
            [one, other] if one == side => Some(other),
            [one, _] => Some(one),
            _ => None,
        }
    }

    /// How a plate is set in the open middle of another, if it is.
    pub fn middle_of(&self, plate: usize) -> Option<&PlateInMiddle> {
        self.set_in.iter().find(|set_in| set_in.plate == plate)
    }

    /// The net folded by a tie, alone: six plates round a point, folded to a
    /// pair, with all other plates reduced to that point. `None` if the tie
    /// folds no such net.
    pub fn net_of(&self, tie: (PlateSide, PlateSide)) -> Option<Shape> {
        let pair = Pair::alone(self, tie)?;
        let mut net = self.clone();
        for plate in &mut net.plates {
            plate.corners.fill(pair.point());
        }
        for (plate, corners) in pair.at(1.0) {
            net.plates[plate].corners = corners;
        }
        net.ties = vec![tie];
        net.ring = None;
        Some(net)
    }

    /// Which plates are connected by joins of two sides, and so belong to one
    /// solid: a number from 0 for each plate.
    pub fn solids(&self) -> Vec<usize> {
        let mut solids = vec![usize::MAX; self.plates.len()];
        let mut next = 0;
        for start in 0..solids.len() {
            if solids[start] != usize::MAX {
                continue;
            }
            let mut reached = vec![start];
            while let Some(plate) = reached.pop() {
                solids[plate] = next;
                let sides = 0..self.plates[plate].corners.len();
                let others = sides.filter_map(|side| self.meets(PlateSide { plate, side }));
                reached.extend(others.map(|o| o.plate).filter(|o| solids[*o] == usize::MAX));
            }
            next += 1;
        }
        solids
    }

    /// The corners of all plates in the finished piece, mm.
    pub fn finished(&self) -> Vec<Vec<DVec3>> {
        self.plates.iter().map(|p| p.corners.clone()).collect()
    }

    /// Seams whose sides are farther apart in the finished place than `part` of
    /// a side: stiff faces cannot show such joins.
    pub fn gaping(&self, part: f64) -> Vec<usize> {
        let finished = self.finished();
        let gapes = |seam: &&Seam| {
            let first = seam.sides[0];
            let length = |(a, b): (DVec3, DVec3)| a.distance(b);
            let side = length(side_of(&finished[first.plate], first.side));
            seam.sides
                .iter()
                .any(|other| apart(&finished, first, *other) > part * side)
        };
        let seams = self.seams.iter().enumerate();
        let gaping = seams.filter(|(_, seam)| gapes(seam));
        gaping.map(|(nth, _)| nth).collect()
    }

    /// Whether there is nothing to fold.
    pub fn is_flat(&self) -> bool {
        self.plates.len() <= 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    fn body(project: crate::beadwork::Project) -> Shape {
        Shape::of(&Sequence::new(project))
    }

    /// Faces and joins (edges) of the regular solids as any handbook gives
    /// them; a ring of N hinged tetrahedra has 4N faces, N hinges and 4N other
    /// joins (D. Schattschneider and W. Walker, 1977).
    #[test]
    fn solids_have_the_faces_and_joins_of_the_handbook() {
        for (solid, rounds, faces, joins) in [
            (Solid::Tetrahedron, 4, 4, 6),
            (Solid::Octahedron, 4, 8, 12),
            (Solid::Icosahedron, 4, 20, 30),
            (Solid::Cube, 9, 6, 12),
        ] {
            let body = body(testing::solid(solid, rounds, Closing::SetIn));
            assert_eq!((body.plates.len(), body.seams.len()), (faces, joins));
            assert!(body.seams.iter().all(|s| s.sides.len() == 2));
        }
        let ring = body(testing::ring(8, 4, Closing::SetIn));
        assert_eq!((ring.plates.len(), ring.seams.len()), (32, 8 + 32));
        let hinges = ring.seams.iter().filter(|s| s.sides.len() == 4);
        assert_eq!(hinges.count(), 8);
    }

    /// Angles between neighbouring faces, degrees, and the distance from the
    /// middle to a corner in edges: the table of regular polyhedra in
    /// H. S. M. Coxeter, *Regular Polytopes* (values from memory).
    #[test]
    fn solids_have_the_angles_and_radii_of_the_table() {
        for (solid, rounds, angle, radius) in [
            (Solid::Tetrahedron, 4, 70.5288, 0.612_372),
            (Solid::Octahedron, 4, 109.4712, 0.5_f64.sqrt()),
            (Solid::Icosahedron, 4, 138.1897, 0.951_057),
            (Solid::Cube, 9, 90.0, 0.866_025),
        ] {
            let body = body(testing::solid(solid, rounds, Closing::Fill));
            for seam in &body.seams {
                let [a, b] = [0, 1].map(|n| body.plates[seam.sides[n].plate].outward());
                let between = 180.0 - a.angle_between(b).to_degrees();
                assert!((between - angle).abs() < 1e-3, "{solid:?}: {between}");
            }
            let all = || body.plates.iter().flat_map(|p| &p.corners);
            let middle = all().sum::<DVec3>() / all().count() as f64;
            let (from, to) = body.plates[0].side(0);
            for corner in all() {
                let found = corner.distance(middle) / from.distance(to);
                assert!((found - radius).abs() < 1e-5, "{solid:?}: {found}");
            }
        }
    }

    #[test]
    fn sides_of_one_seam_lie_along_each_other() {
        for project in [
            testing::solid(Solid::Cube, 9, Closing::SetIn),
            testing::solid(Solid::Icosahedron, 4, Closing::Fill),
            testing::ring(8, 4, Closing::Fill),
            testing::folded_pair(5, 1),
        ] {
            let body = body(project);
            for seam in &body.seams {
                for side in &seam.sides[1..] {
                    let gap = apart(&body.finished(), seam.sides[0], *side);
                    assert!(gap < 1e-6, "{gap}");
                }
            }
            assert!(body.gaping(0.01).is_empty());
        }
    }
}
