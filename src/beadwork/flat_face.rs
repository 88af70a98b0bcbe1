//! A face laid flat: where each bead of a panel lies on the mat, and which
//! bead lies at a point of it.
//!
//! The panel is seen from outside, one side up, the sides going anticlockwise
//! in working direction; mm to the right and mm up from its middle.
//!
//! ```text
//!   [ ] [ ] [ ] [ ]     a bead is a brick: its length along its side,
//!     [ ] [ ] [ ]       two rounds high, since the beads of the next
//!       [ ] [ ]         round fill the gaps of its own
//! ```
//!
//! Both ways are arithmetic (a round from the distance to the middle, a place
//! from the way along the side), so that a panel of any size is drawn as fast
//! as a small one.

use super::layout::RowIndex;
use super::strip::{Strip, is_worked_back};
use super::{Layout, Panel, PanelLayout, Part, Round, Seat, Side};
use glam::DVec2;
use std::f64::consts::{FRAC_PI_2, TAU};

/// A panel laid flat.
#[derive(Clone, Debug)]
pub struct FlatFace<'a> {
    layout: &'a Layout,
    panel: Panel,
    kind: &'a PanelLayout,
    /// For each side the way out across it and the way along it.
    sides: Vec<Axes>,
    /// For each corner behind a side the same, half turned to the next side.
    corners: Vec<Axes>,
    rows: Vec<Option<RowIndex>>,
    /// Rounds in the middle that are not made.
    open: u32,
    /// From the middle to the join lines, mm.
    apothem: f64,
    /// From round to round, mm.
    pitch: f64,
    /// Along a side of the join lines, mm.
    edge: f64,
    /// Half a bead along its hole, mm.
    half_length: f64,
}

#[derive(Clone, Copy, Debug)]
struct Axes {
    out: DVec2,
    along: DVec2,
}

impl Axes {
    /// Out at an angle, along a quarter further on.
    fn at(angle: f64) -> Axes {
        let out = DVec2::from_angle(angle);
        let along = out.perp();
        Axes { out, along }
    }

    fn point(self, out: f64, along: f64) -> DVec2 {
        self.out * out + self.along * along
    }
}

/// A bead as it lies: a brick.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Brick {
    /// Its seat.
    pub seat: Seat,
    /// Its middle, mm.
    pub middle: DVec2,
    /// The way along its hole, in working direction, of length 1.
    pub along: DVec2,
    /// Whether it lies across a corner, and not along its side.
    pub across: bool,
    /// Half its size along the hole and across it, mm.
    pub half: DVec2,
}

impl Brick {
    /// A point in the brick's own measure: 0 its middle, ±1 its ends and its
    /// two long edges.
    pub fn own(&self, point: DVec2) -> DVec2 {
        let from = point - self.middle;
        DVec2::new(self.along.dot(from), -self.along.perp().dot(from)) / self.half
    }
}

/// Beyond its own edges a brick takes so much of the room that nothing else
/// fills.
const SLACK: f64 = 1.3;

impl<'a> FlatFace<'a> {
    /// A panel with a side up.
    pub fn new(layout: &'a Layout, panel: Panel, up: Side) -> FlatFace<'a> {
        FlatFace::turned(layout, panel, f64::from(up.0))
    }

    /// A panel with that side up, from 0; a half is the corner between two.
    pub fn turned(layout: &'a Layout, panel: Panel, up: f64) -> FlatFace<'a> {
        let kind = layout.kind(panel);
        if let Some(strip) = kind.strip() {
            return FlatFace::of_strip(layout, panel, strip);
        }
        let n = kind.sides();
        let part = TAU / f64::from(n);
        let angle = |s: f64| FRAC_PI_2 + part * (s - up);
        let edges = (0..n).map(|s| kind.edge(Side(s))).max().unwrap_or(0).max(1);
        let edge = 2.0 * layout.bead_length_mm() * f64::from(edges);
        let apothem = edge / (2.0 * (part / 2.0).tan());
        FlatFace {
            layout,
            panel,
            kind,
            sides: (0..n).map(|s| Axes::at(angle(f64::from(s)))).collect(),
            corners: (0..n)
                .map(|s| Axes::at(angle(f64::from(s) + 0.5)))
                .collect(),
            rows: (0..n).map(|s| layout.row_on(panel, Side(s))).collect(),
            open: layout.open_rounds(panel),
            apothem,
            pitch: apothem / (f64::from(kind.rounds()) + 0.5),
            edge,
            half_length: layout.bead_length_mm() / 2.0,
        }
    }

    /// A strip, its first row below and the edge where its string begins to the
    /// left.
    fn of_strip(layout: &'a Layout, panel: Panel, strip: Strip) -> FlatFace<'a> {
        let bead = layout.project().bead_mm();
        let size = strip.size(bead);
        let up = Axes {
            out: DVec2::Y,
            along: DVec2::X,
        };
        FlatFace {
            layout,
            panel,
            kind: layout.kind(panel),
            sides: vec![up],
            corners: vec![up],
            rows: vec![None],
            open: 0,
            apothem: size.y,
            pitch: bead.y / 2.0,
            edge: size.x,
            half_length: bead.x / 2.0,
        }
    }

    /// Half the width and half the height of a strip, mm.
    fn half_of_strip(&self) -> DVec2 {
        DVec2::new(self.edge, self.apothem) / 2.0
    }

    /// The panel.
    pub fn panel(&self) -> Panel {
        self.panel
    }

    /// Bead length along the hole and from a round to the round after next, mm:
    /// the size of a brick.
    pub fn brick(&self) -> DVec2 {
        DVec2::new(2.0 * self.half_length, 2.0 * self.pitch)
    }

    /// Lower left and upper right of all that is drawn, mm.
    pub fn bounds(&self) -> (DVec2, DVec2) {
        if self.kind.strip().is_some() {
            return (-self.half_of_strip(), self.half_of_strip());
        }
        // Join rows stand out by half a brick, corner beads by their ends.
        let out = self.pitch * (f64::from(self.kind.rounds()) + 1.5);
        let reach = out / (std::f64::consts::PI / self.sides.len() as f64).cos();
        let corners = self.corners.iter().map(|c| c.out * reach);
        corners.fold((DVec2::ZERO, DVec2::ZERO), |(low, high), c| {
            (low.min(c), high.max(c))
        })
    }

    /// The middle of a side's outer edge, and a way out from there: where its
    /// number can stand, mm.
    pub fn beside(&self, side: Side, by: f64) -> DVec2 {
        if self.kind.strip().is_some() {
            return DVec2::Y * (self.apothem / 2.0 + by);
        }
        let out = self.pitch * (f64::from(self.kind.rounds()) + 1.0) + by;
        self.sides[side.index()].out * out
    }

    /// The layout that it is a face of.
    pub fn layout(&self) -> &'a Layout {
        self.layout
    }

    /// The seat at a place of a round's side.
    pub fn seat(&self, round: Round, side: Side, place: u32) -> Seat {
        self.layout.face_seat(self.panel, round, side, place)
    }

    /// A point so far from the middle (0) to the join line of a side (1), and so
    /// far along the side from its start (0) to its end (1), mm. On a strip so
    /// far up from its first row, and so far along it.
    pub fn point(&self, side: Side, out: f64, along: f64) -> DVec2 {
        if self.kind.strip().is_some() {
            return (2.0 * DVec2::new(along, out) - 1.0) * self.half_of_strip();
        }
        let long = out * self.edge;
        self.sides[side.index()].point(out * self.apothem, along * long - long / 2.0)
    }

    /// How a bead lies; the seat is one of this panel's.
    pub fn lies(&self, seat: Seat) -> Brick {
        if let Some(strip) = self.kind.strip() {
            let middle = strip.middle(seat.spot());
            let along = match is_worked_back(seat.round) {
                true => -DVec2::X,
                false => DVec2::X,
            };
            return Brick {
                seat,
                middle: self.point(seat.side, middle.y, middle.x),
                along,
                across: false,
                half: DVec2::new(self.half_length, self.pitch),
            };
        }
        let side = seat.side.index();
        let (_, along) = self.layout.flat(seat);
        let out = (f64::from(seat.round.0) - 0.5) * self.pitch;
        let long = self.long(seat.round);
        let of = f64::from(seat.of.max(1));
        let spacing = match seat.part {
            Part::Face => long / of,
            Part::JoinRow(_) => long / (of + 1.0),
            Part::Tip(_) => 2.0 * self.half_length,
        };
        // Tips lie side by side round the corner.
        let aside = match seat.part {
            Part::Tip(_) => (f64::from(seat.place) - (of - 1.0) / 2.0) * spacing,
            Part::Face | Part::JoinRow(_) => 0.0,
        };
        let axes = self.sides[side];
        // What lies at the end of a side lies across the corner.
        let across = along == 1.0;
        let lies = if across {
            self.corners[side].along
        } else {
            axes.along
        };
        Brick {
            seat,
            middle: axes.point(out, along * long + aside - long / 2.0),
            along: lies,
            across,
            half: DVec2::new(self.half_length.min(spacing / 2.0), self.pitch),
        }
    }

    /// Along a side of a round, mm.
    fn long(&self, round: Round) -> f64 {
        self.edge * (f64::from(round.0) - 0.5) / (f64::from(self.kind.rounds()) + 0.5)
    }

    /// The bead at a point, and how it lies; none beside the panel, in an
    /// opening, or in a hole of the work.
    pub fn at(&self, point: DVec2) -> Option<Brick> {
        if let Some(strip) = self.kind.strip() {
            let part = (point / self.half_of_strip() + 1.0) / 2.0;
            let spot = strip.at(part)?;
            return Some(self.lies(self.seat(spot.round, Side(0), spot.index)));
        }
        let n = self.sides.len();
        let outs = self.sides.iter().map(|axes| axes.out.dot(point));
        let (side, out) = outs.enumerate().max_by(|a, b| a.1.total_cmp(&b.1))?;
        let along = self.sides[side].along.dot(point);
        let mut best = Best { point, found: None };
        // Near a corner beads lie askew, and those of the next side reach across.
        let border = out * (std::f64::consts::PI / n as f64).tan();
        let at_corner = along.abs() > border - 4.0 * self.half_length;
        let reach = if at_corner { 2.5 } else { SLACK };
        self.on_side(side, (out, along), reach, &mut best);
        if at_corner {
            let beside = if along > 0.0 { side + 1 } else { side + n - 1 } % n;
            let axes = self.sides[beside];
            let from = (axes.out.dot(point), axes.along.dot(point));
            self.on_side(beside, from, reach, &mut best);
        }
        best.found.filter(|(far, _)| *far <= SLACK).map(|(_, b)| b)
    }

    /// Tries the beads of a side near a point `out` from the middle and
    /// `along` from the side's, in so many rounds.
    fn on_side(&self, side: usize, (out, along): (f64, f64), reach: f64, best: &mut Best) {
        let round = out / self.pitch + 0.5;
        let last = self.kind.rounds() + 1;
        let from = (round - reach).ceil().max(f64::from(self.open + 1));
        let to = (round + reach).floor().min(f64::from(last));
        let mut k = from;
        while k <= to {
            self.in_round(Round(k as u32), Side(side as u8), along, best);
            k += 1.0;
        }
    }

    fn in_round(&self, round: Round, side: Side, along: f64, best: &mut Best) {
        let long = self.long(round);
        let part = along / long + 0.5;
        if round > self.kind.last() {
            let Some(index) = self.rows[side.index()] else {
                return;
            };
            let row = self.layout.row(index);
            let mut lay = |j| best.try_brick(self.lies(self.layout.row_seat(index, j)));
            if row.beads > 0 {
                lay(nearest(part * f64::from(row.beads + 1) - 1.0, row.beads));
            }
            (row.beads..row.beads + row.tips).for_each(lay);
            return;
        }
        let of = self.kind.on_side(round, side);
        if of == 0 {
            return;
        }
        let first = if self.kind.corner(round) == 1 {
            1.0
        } else {
            0.5
        };
        let place = nearest(part * f64::from(of) - first, of);
        best.try_brick(self.lies(self.seat(round, side, place)));
        if first == 1.0 && place + 2 == of {
            // The corner bead lies askew and may be the nearer one.
            best.try_brick(self.lies(self.seat(round, side, place + 1)));
        } else if first == 1.0 && place + 1 == of && of > 1 {
            best.try_brick(self.lies(self.seat(round, side, place - 1)));
        }
    }
}

/// The nearest of `of` places to a distance along a side.
fn nearest(way: f64, of: u32) -> u32 {
    way.round().clamp(0.0, f64::from(of - 1)) as u32
}

/// The brick whose own measure of a point is least: where bricks fit they
/// share the face out edge to edge.
struct Best {
    point: DVec2,
    found: Option<(f64, Brick)>,
}

impl Best {
    fn try_brick(&mut self, brick: Brick) {
        let far = brick.own(self.point).abs().max_element();
        if self.found.is_none_or(|(least, _)| far < least) {
            self.found = Some((far, brick));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Bead, Sequence, testing};

    fn projects() -> Vec<crate::beadwork::Project> {
        vec![
            testing::single(testing::panel(3, 9)),
            testing::single(testing::panel(4, 11)),
            testing::single(testing::panel(5, 12)),
            testing::single(testing::panel(6, 13)),
            testing::single(testing::inward(6, 13, 4)),
            testing::single(testing::strip(6, 40)),
            testing::solid(Solid::Tetrahedron, 7, Closing::Fill),
            testing::solid(Solid::Cube, 9, Closing::SetIn),
        ]
    }

    /// The plain way is the judge: of all beads of the panel the one that the
    /// point lies in the middle of.
    #[test]
    fn every_bead_is_found_at_its_middle_and_only_there() {
        for project in projects() {
            let seq = Sequence::new(project);
            let layout = seq.layout();
            let mut found = 0;
            for bead in (1..=layout.beads()).map(Bead) {
                let seat = layout.seat(bead);
                for up in [Side(0), Side(2)] {
                    let face = FlatFace::new(layout, seat.panel, up);
                    let brick = face.lies(seat);
                    assert_eq!(layout.bead_in(seat), bead);
                    assert_eq!(face.at(brick.middle).map(|b| b.seat), Some(seat));
                    assert_eq!(layout.colour_of(seat), layout.colour(bead));
                    found += 1;
                }
            }
            assert_eq!(found, 2 * layout.beads());
        }
    }

    /// A point in a brick belongs to it or, where the work is crowded, to a
    /// brick that it lies nearer the middle of. Judged by looking at all.
    #[test]
    fn at_any_point_the_nearest_brick_of_all_is_found() {
        for project in projects() {
            let seq = Sequence::new(project);
            let layout = seq.layout();
            let face = FlatFace::new(layout, Panel(0), Side(0));
            let all: Vec<Brick> = (1..=layout.beads())
                .map(|b| layout.seat(Bead(b)))
                .filter(|s| s.panel == Panel(0))
                .map(|s| face.lies(s))
                .collect();
            let (low, high) = face.bounds();
            let mut in_work = 0;
            for i in 0..60 {
                for j in 0..60 {
                    let part = DVec2::new(f64::from(i) + 0.31, f64::from(j) + 0.57) / 60.0;
                    let point = low + part * (high - low);
                    let far = |b: &Brick| b.own(point).abs().max_element();
                    let plain = all.iter().map(far).fold(f64::MAX, f64::min);
                    match face.at(point) {
                        Some(brick) => {
                            in_work += 1;
                            assert!(far(&brick) <= plain + 1e-9, "{point} {brick:?}");
                        }
                        None => assert!(plain > 1.0, "{point}: {plain}"),
                    }
                }
            }
            assert!(in_work > 1000, "{in_work}");
        }
    }

    /// The bricks of a triangle tile it: each middle of a side is a row of
    /// bricks without holes, a bead length long and two rounds high.
    #[test]
    fn along_a_side_bricks_alternate_between_rounds() {
        let seq = Sequence::new(testing::single(testing::panel(3, 8)));
        let face = FlatFace::new(seq.layout(), Panel(0), Side(0));
        let edge = face.lies(face.seat(Round(8), Side(0), 3));
        let step = face.brick().x;
        let round = |by: f64| {
            let point = edge.middle + edge.along * (by * step) - DVec2::Y * face.brick().y / 4.0;
            face.at(point).map(|b| b.seat.round.0)
        };
        assert_eq!(
            [round(0.0), round(1.0), round(2.0)],
            [Some(8), Some(7), Some(8)]
        );
    }

    /// A flat triangle's bricks have the bead's own shape: F = 0.94 for
    /// cylinder 11/0 (the law of flatness), so two rounds are 0.94 diameters.
    #[test]
    fn the_bricks_of_a_triangle_are_to_scale() {
        let seq = Sequence::new(testing::single(testing::panel(3, 200)));
        let face = FlatFace::new(seq.layout(), Panel(0), Side(0));
        let (long, high) = (face.brick().x, face.brick().y);
        assert!((long - 1.3).abs() < 1e-9);
        assert!((high / 1.6 - 0.94).abs() < 0.01, "{}", high / 1.6);
    }
}
