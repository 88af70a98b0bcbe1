//! How a ring of hinged tetrahedra turns: through its whole cycle if it can,
//! otherwise to where it binds.

use super::net::rigid_motion;
use super::shape::Shape;
use crate::beadwork::kaleidocycle::{Kaleidocycle, RingVerdict};
use glam::DVec3;

/// A ring, with the corner of the cycle for each corner of its panels.
#[derive(Clone, Debug)]
pub struct RingCycle {
    cycle: Kaleidocycle,
    /// By how much it is drawn larger than its beads make it: plates keep their
    /// place when rounds are added or gaps worked otherwise.
    scale: f64,
    plates: Vec<RingPlate>,
}

/// A plate of a ring.
#[derive(Clone, Debug)]
enum RingPlate {
    /// Of a tetrahedron: for each of its corners the corner of the cycle.
    OfRing(Vec<usize>),
    /// Of an insert: where it lies in the finished piece, and the plate of the ring
    /// with which it moves.
    Insert(Vec<DVec3>, usize),
}

/// The result of turning a ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingTurn {
    /// The turn, radians.
    pub turn: f64,
    /// Whether the ring binds before it reaches the angle asked for.
    pub binds: bool,
}

impl RingCycle {
    /// The ring, if the piece is one and its panels lie as one.
    pub fn of(body: &Shape) -> Option<RingCycle> {
        let cycle = body.ring?;
        let (from, to) = body.plates.first()?.side(0);
        let mut ring = RingCycle {
            cycle,
            scale: from.distance(to) / cycle.edge_mm,
            plates: vec![],
        };
        let home = ring.ends(ring.home());
        let n = usize::from(cycle.tetrahedra);
        // Panels are not always made tetrahedron by tetrahedron, so a corner is
        // looked for among those near its own angle.
        let nearest = |c: &DVec3| {
            let around = c.y.atan2(c.x).rem_euclid(std::f64::consts::TAU);
            let hinge = (around / std::f64::consts::TAU * n as f64).round() as usize;
            let near = |k: usize| {
                let first = 2 * ((hinge + n + k - 2) % n);
                [first, first + 1]
            };
            let all = (0..5).flat_map(near);
            let apart = |i: &usize| home[*i].distance_squared(*c);
            all.min_by(|a, b| apart(a).total_cmp(&apart(b)))
                .unwrap_or(0)
        };
        let lies = |corner: &DVec3| {
            let end = home[nearest(corner)];
            end.distance(*corner) < 0.01 * from.distance(to)
        };
        let is_of_ring = |p: &super::Plate| p.corners.iter().all(lies);
        let of = |p: &super::Plate| {
            if is_of_ring(p) {
                return Some(RingPlate::OfRing(p.corners.iter().map(nearest).collect()));
            }
            let far = |other: &usize| body.plates[*other].middle().distance(p.middle());
            let others = (0..body.plates.len()).filter(|other| is_of_ring(&body.plates[*other]));
            let nearest = others.min_by(|a, b| far(a).total_cmp(&far(b)))?;
            Some(RingPlate::Insert(p.corners.clone(), nearest))
        };
        ring.plates = body.plates.iter().map(of).collect::<Option<_>>()?;
        Some(ring)
    }

    /// The ends of all hinges at a turn, as they are drawn, mm.
    fn ends(&self, turn: f64) -> Vec<DVec3> {
        let ends = self.cycle.ends(turn).into_iter();
        ends.map(|end| end * self.scale).collect()
    }

    /// The turn at which the finished piece is drawn, radians.
    pub fn home(&self) -> f64 {
        self.cycle.even_turn()
    }

    /// How far the ring reaches from its middle at any turn, mm: to the outer
    /// end of a hinge that lies flat.
    pub fn reach_mm(&self) -> f64 {
        let reach = |t: f64| {
            let ends = self.ends(t).into_iter().take(4);
            ends.map(|c| c.length()).fold(0.0, f64::max)
        };
        let turns = (0..48).map(|n| f64::from(n) * std::f64::consts::TAU / 48.0);
        let turns = turns.map(|t| self.turned(t, 0.0).turn);
        turns.map(reach).fold(0.0, f64::max)
    }

    /// Where the corners of all plates lie at a turn (radians), mm.
    pub fn at(&self, turn: f64) -> Vec<Vec<DVec3>> {
        let [ends, home] = [turn, self.home()].map(|turn| self.ends(turn));
        let place = |plate: &RingPlate, ends: &[DVec3]| match plate {
            RingPlate::OfRing(corners) => corners.iter().map(|c| ends[*c]).collect(),
            RingPlate::Insert(..) => vec![],
        };
        let now = |plate: &RingPlate| match plate {
            RingPlate::OfRing(_) => place(plate, &ends),
            RingPlate::Insert(corners, with) => {
                let with = &self.plates[*with];
                let moved = rigid_motion(&place(with, &home), &place(with, &ends));
                corners.iter().map(|c| moved.transform_point3(*c)).collect()
            }
        };
        self.plates.iter().map(now).collect()
    }

    /// Turns further by an angle, radians, as far as the ring goes.
    pub fn turned(&self, turn: f64, by: f64) -> RingTurn {
        let wanted = turn + by;
        let free = self.cycle.free_between();
        let Some((least, most)) = free else {
            let whole = std::f64::consts::TAU;
            let turn = wanted.rem_euclid(whole);
            return RingTurn { turn, binds: false };
        };
        RingTurn {
            turn: wanted.clamp(least, most),
            binds: wanted < least || wanted > most,
        }
    }

    /// How far its hinges' inner ends pass the middle at the worst turn, mm, if
    /// the ring does not turn right through.
    pub fn binds_by_mm(&self) -> Option<f64> {
        let binds = self.cycle.verdict() == RingVerdict::Binds;
        binds.then(|| -self.cycle.margin_mm())
    }

    /// How far its hinges' inner ends pass the middle at a turn (radians), mm.
    pub fn tight_mm(&self, turn: f64) -> f64 {
        self.cycle.tight_mm(turn)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::number::Step;
    use crate::beadwork::project::Closing;
    use crate::beadwork::{Amendment, Sequence};
    use crate::geometry::testing::{body, project};

    #[test]
    fn at_the_home_turn_every_panel_is_in_its_finished_place() {
        for closing in [Closing::SetIn, Closing::Fill] {
            let body = body(project::ring(8, 3, closing));
            let ring = RingCycle::of(&body).expect("a ring");
            for (now, plate) in ring.at(ring.home()).iter().zip(&body.plates) {
                for (a, b) in now.iter().zip(&plate.corners) {
                    assert!(a.distance(*b) < 1e-9);
                }
            }
        }
    }

    /// Whatever gaps the maker works otherwise, and however many rounds the panels
    /// have, every panel turns with the ring.
    #[test]
    fn a_ring_worked_otherwise_than_planned_turns_too() {
        let plain = Sequence::new(project::ring(8, 4, Closing::SetIn));
        let mut others: Vec<Sequence> = project::with_three_in_a_gap(&plain).collect();
        assert!(others.len() > 9);
        let more = plain.amendments(Step(10)).into_iter();
        let more = more.filter(|change| matches!(change, Amendment::Rounds { .. }));
        let of_other_size = more.filter_map(|change| plain.amended(Step(10), &change).ok());
        others.extend(of_other_size);
        for seq in others {
            let body = Shape::of(&seq);
            let ring = RingCycle::of(&body).expect("a ring");
            for (now, plate) in ring.at(ring.home()).iter().zip(&body.plates) {
                for (a, b) in now.iter().zip(&plate.corners) {
                    assert!(a.distance(*b) < 1e-9);
                }
            }
        }
    }

    /// Panels that were laid down elsewhere are no ring.
    #[test]
    fn panels_that_do_not_lie_as_a_ring_do_not_turn() {
        let mut body = body(project::ring(8, 3, Closing::SetIn));
        let corners = body.plates.iter_mut().flat_map(|plate| &mut plate.corners);
        corners.for_each(|corner| corner.x += 100.0);
        assert!(RingCycle::of(&body).is_none());
    }

    /// D. Schattschneider and W. Walker, 1977: eight regular tetrahedra turn
    /// right through, six do not.
    #[test]
    fn eight_go_round_and_six_bind() {
        let of = |n, plates| {
            let mut body = body(project::ring(n, 3, Closing::SetIn));
            if plates {
                let edge = body.ring.unwrap().edge_mm;
                body.ring = Some(Kaleidocycle::of_plates(n, edge));
            }
            RingCycle::of(&body).unwrap()
        };
        let (six, eight) = (of(6, true), of(8, true));
        // With three rounds of beads a ring of six turns too, because the row
        // is short.
        assert_eq!(of(6, false).binds_by_mm(), None);
        let mut turn = eight.home();
        for _ in 0..100 {
            let next = eight.turned(turn, 0.1);
            assert!(!next.binds);
            turn = next.turn;
        }
        assert_eq!(eight.binds_by_mm(), None);
        let mut turn = six.home();
        let mut bound = false;
        for _ in 0..100 {
            let next = six.turned(turn, 0.1);
            (turn, bound) = (next.turn, next.binds);
        }
        assert!(bound);
        // d/tan 60° against L/2: 0.40825 L against 0.5 L.
        let edge = six.cycle.edge_mm;
        let by = six.binds_by_mm().unwrap();
        assert!((by - (0.5 - 0.408_248) * edge).abs() < 1e-4 * edge);
    }

    /// All faces stay stiff through the whole turn, those of inserts too.
    #[test]
    fn faces_stay_stiff_through_the_cycle() {
        let mut open = project::ring(8, 6, Closing::Open);
        open.panels.push(project::panel(3, 3));
        open.insert = vec![1];
        let body = body(open);
        assert_eq!(body.plates.len(), 8 * 3 + 8 * 3);
        let ring = RingCycle::of(&body).unwrap();
        for step in 0..72 {
            let at = ring.at(f64::from(step) * std::f64::consts::TAU / 72.0);
            for (now, plate) in at.iter().zip(&body.plates) {
                for s in 0..3 {
                    let (a, b) = crate::beadwork::frame::side_of(now, s);
                    let (c, d) = plate.side(s);
                    assert!((a.distance(b) - c.distance(d)).abs() < 1e-6);
                }
            }
        }
    }
}
