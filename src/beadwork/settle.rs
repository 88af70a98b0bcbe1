//! How a piece of the maker's own jobs lies when its joins have drawn it into
//! shape.
//!
//! The panels are stiff plates, and corners that a join or a tie brings
//! together are one point. The plates are laid out from neighbour to
//! neighbour, each folded a little away from the outside, and then two things
//! are done in turn until nothing moves any more: every plate is put where it
//! fits its points best, and every point goes to the middle of the corners
//! that meet there.
//!
//! ```text
//!     .---.---.              .
//!    / \ / \ /     ->      / | \      the joins close, and the plates stand
//!   '---'---'             '--+--'     at the angles that they must
//! ```
//!
//! Where the joins leave a piece free to hinge, it lies flat if it can. A
//! piece that cannot close (of plates that do not fit) is left as near to it
//! as it comes.
//!
//! The best fit of a plate is the polar decomposition of the matrix that takes
//! it to its points (N. Higham, "Computing the polar decomposition", 1986); of
//! a flat plate that is a root of a two by two matrix.

use super::frame::{middle_of, side_of};
use glam::{DMat2, DVec2, DVec3};
use std::collections::VecDeque;
use std::f64::consts::PI;

/// A corner: of which plate, and at the end of which of its sides, from 0.
pub(super) type PlateCorner = (usize, usize);

/// A stiff regular polygon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct StiffPlate {
    /// How many sides it has.
    pub sides: usize,
    /// How long they are, mm.
    pub edge_mm: f64,
}

/// How plates are tied together.
#[derive(Clone, Debug, Default)]
pub(super) struct Ties {
    /// Sides that lie along each other, each against the other's direction.
    pub joins: Vec<(PlateCorner, PlateCorner)>,
    /// Corners that are drawn together.
    pub corners: Vec<(PlateCorner, PlateCorner)>,
}

/// Folds to begin with, degrees, besides lying flat: those of a ball of very
/// many panels to that of a tetrahedron, 109½.
const FOLDS: std::ops::RangeInclusive<u32> = 1..=12;
const FOLD_STEP: f64 = 10.0;
/// A plate, and where its corners lie, mm.
type Laid = (usize, Vec<DVec3>);

/// Corners that meet lie within this part of an edge of each other.
const CLOSE: f64 = 1e-4;
/// Turns of the fitting, and plates fitted in all, at the most.
const TURNS: usize = 3000;
const FITTED: usize = 400_000;

/// The corners of each plate, mm: corner s ends side s, seen from outside
/// anticlockwise. Plates that nothing ties together lie side by side.
pub(super) fn settle(plates: &[StiffPlate], ties: &Ties) -> Vec<Vec<DVec3>> {
    let mut placed: Vec<Vec<DVec3>> = vec![vec![]; plates.len()];
    let mut right = 0.0;
    for (numbers, ties) in pieces(plates.len(), ties) {
        let plates: Vec<StiffPlate> = numbers.iter().map(|&plate| plates[plate]).collect();
        let piece = one_piece(&plates, &ties);
        let corners = || piece.iter().flat_map(|(_, at)| at);
        let least = corners().fold(f64::MAX, |x, c| x.min(c.x));
        let most = corners().fold(f64::MIN, |x, c| x.max(c.x));
        let shift = DVec3::X * (right - least);
        right += (most - least) * 1.1;
        for (plate, at) in piece {
            placed[numbers[plate]] = at.into_iter().map(|c| c + shift).collect();
        }
    }
    placed
}

/// Parts plates into those that hang together: the plates of each piece, and
/// its ties with these numbered from 0.
fn pieces(plates: usize, ties: &Ties) -> Vec<(Vec<usize>, Ties)> {
    let mut groups = Groups::of(plates);
    for (a, b) in ties.joins.iter().chain(&ties.corners) {
        groups.join(a.0, b.0);
    }
    let mut pieces: Vec<(Vec<usize>, Ties)> = vec![];
    // Of each plate, its piece and its number in it. The first plate of a
    // piece stands for it.
    let mut place: Vec<(usize, usize)> = vec![];
    for plate in 0..plates {
        let first = groups.first(plate);
        let piece = match first == plate {
            true => pieces.len(),
            false => place[first].0,
        };
        if piece == pieces.len() {
            pieces.push(Default::default());
        }
        let numbers = &mut pieces[piece].0;
        place.push((piece, numbers.len()));
        numbers.push(plate);
    }
    let own = |(plate, side): PlateCorner| (place[plate].1, side);
    for &(a, b) in &ties.joins {
        pieces[place[a.0].0].1.joins.push((own(a), own(b)));
    }
    for &(a, b) in &ties.corners {
        pieces[place[a.0].0].1.corners.push((own(a), own(b)));
    }
    pieces
}

/// Numbers in groups, each called by the first of its group.
pub(super) struct Groups(Vec<usize>);

impl Groups {
    /// So many numbers, each alone.
    pub fn of(numbers: usize) -> Groups {
        Groups((0..numbers).collect())
    }

    pub fn first(&mut self, mut number: usize) -> usize {
        while self.0[number] != number {
            self.0[number] = self.0[self.0[number]];
            number = self.0[number];
        }
        number
    }

    pub fn join(&mut self, a: usize, b: usize) {
        let [a, b] = [a, b].map(|number| self.first(number));
        self.0[a.max(b)] = a.min(b);
    }
}

/// A piece, settled: flat if that will do, else from the fold that comes
/// nearest to closing by itself.
fn one_piece(plates: &[StiffPlate], ties: &Ties) -> Vec<Laid> {
    let points = Points::of(plates, ties);
    let [joins, corners] = [&ties.joins, &ties.corners].map(|pairs| ends(plates.len(), pairs));
    let laid_out = |fold| laid_out(plates, (&joins, &corners), fold);
    let mut best = laid_out(0.0);
    if points.gap(plates, &best) < CLOSE {
        return best;
    }
    let mut least = f64::MAX;
    for fold in FOLDS {
        let fold = (f64::from(fold) * FOLD_STEP).to_radians();
        let laid = laid_out(fold);
        let spread = points.spread(&laid);
        if spread < least {
            (least, best) = (spread, laid);
        }
    }
    fit(plates, &points, &mut best);
    best
}

/// The corners of a plate in its own plane, its middle at the origin.
fn outline(plate: StiffPlate) -> Vec<DVec2> {
    let half = PI / plate.sides as f64;
    let radius = plate.edge_mm / (2.0 * half.sin());
    let corner = |s: usize| radius * DVec2::from_angle(half * (2 * s + 1) as f64);
    (0..plate.sides).map(corner).collect()
}

/// The plates, each laid against one that lies already, the first flat. The
/// joins and ties are those of each plate.
fn laid_out(plates: &[StiffPlate], (joins, ties): (&Ends, &Ends), fold: f64) -> Vec<Laid> {
    let mut laid: Vec<Laid> = vec![];
    let mut seen = vec![false; plates.len()];
    let flat = outline(plates[0]).into_iter().map(|c| c.extend(0.0));
    seen[0] = true;
    let mut queue = VecDeque::from([(0, flat.collect::<Vec<_>>())]);
    while let Some((plate, at)) = queue.pop_front() {
        for &(mine, other) in &joins[plate] {
            if !std::mem::replace(&mut seen[other.0], true) {
                let corners = against(&at, mine.1, plates[other.0], other.1, fold);
                queue.push_back((other.0, corners));
            }
        }
        for &(mine, other) in &ties[plate] {
            if !std::mem::replace(&mut seen[other.0], true) {
                queue.push_back((other.0, hung(&at, mine.1, plates[other.0], other.1)));
            }
        }
        laid.push((plate, at));
    }
    laid
}

/// The pairs that each plate takes part in, its own end first.
type Ends = [Vec<(PlateCorner, PlateCorner)>];

fn ends(plates: usize, pairs: &[(PlateCorner, PlateCorner)]) -> Box<Ends> {
    let mut ends = vec![vec![]; plates];
    for &(a, b) in pairs {
        ends[a.0].push((a, b));
        ends[b.0].push((b, a));
    }
    ends.into()
}

/// A plate laid with side `t` against side `s` of one that lies.
fn against(lying: &[DVec3], s: usize, plate: StiffPlate, t: usize, fold: f64) -> Vec<DVec3> {
    let (from, to) = side_of(lying, s);
    let along = (to - from).normalize();
    let up = normal(lying);
    let (out, up) = {
        let out = along.cross(up);
        (
            out * fold.cos() - up * fold.sin(),
            up * fold.cos() + out * fold.sin(),
        )
    };
    debug_assert!(up.dot(along).abs() < 1e-9);
    let flat = outline(plate);
    let n = plate.sides;
    // Side t in the plane of its outline: from its start, and into the plate.
    let (start, end) = (flat[(t + n - 1) % n], flat[t]);
    let (middle, across) = ((start + end) / 2.0, (end - start).normalize());
    let place = |c: &DVec2| {
        let c = *c - middle;
        (from + to) / 2.0 - along * c.dot(across) + out * c.dot(across.perp())
    };
    flat.iter().map(place).collect()
}

/// A plate hung by its corner `t` on corner `s` of one that lies, away from it.
fn hung(lying: &[DVec3], s: usize, plate: StiffPlate, t: usize) -> Vec<DVec3> {
    let out = (lying[s] - middle_of(lying)).normalize();
    let beside = normal(lying).cross(out);
    let flat = outline(plate);
    let inward = -flat[t].normalize();
    let place = |c: &DVec2| {
        let c = *c - flat[t];
        lying[s] + out * c.dot(inward) + beside * c.dot(inward.perp())
    };
    flat.iter().map(place).collect()
}

fn normal(corners: &[DVec3]) -> DVec3 {
    (corners[1] - corners[0])
        .cross(corners[2] - corners[1])
        .normalize()
}

/// Fits plates and points in turn, until the corners that meet lie close.
fn fit(plates: &[StiffPlate], points: &Points, laid: &mut [Laid]) {
    let outlines: Vec<Vec<DVec2>> = laid.iter().map(|(p, _)| outline(plates[*p])).collect();
    for _ in 0..TURNS.min(FITTED / laid.len()) {
        let middles = points.middles(laid);
        for ((plate, at), flat) in laid.iter_mut().zip(&outlines) {
            let wanted: Vec<DVec3> = points.corners(*plate).map(|p| middles[p]).collect();
            if let Some(fitted) = fitted(flat, &wanted) {
                *at = fitted;
            }
        }
        if points.gap(plates, laid) < CLOSE {
            break;
        }
    }
}

/// The flat outline, moved and turned to lie as near to the wanted corners as
/// it can; nothing if these lie in one line.
fn fitted(flat: &[DVec2], wanted: &[DVec3]) -> Option<Vec<DVec3>> {
    let middle = middle_of(wanted);
    let (mut x, mut y) = (DVec3::ZERO, DVec3::ZERO);
    for (c, w) in flat.iter().zip(wanted) {
        x += (*w - middle) * c.x;
        y += (*w - middle) * c.y;
    }
    let squares = DMat2::from_cols(
        DVec2::new(x.dot(x), x.dot(y)),
        DVec2::new(x.dot(y), y.dot(y)),
    );
    let det = squares.determinant().sqrt();
    let trace = (squares.col(0).x + squares.col(1).y + 2.0 * det).sqrt();
    if det.is_nan() || det <= 1e-9 * trace * trace {
        return None;
    }
    let root = (squares + DMat2::from_diagonal(DVec2::splat(det))) * (1.0 / trace);
    let inverse = root.inverse();
    let (u, v) = (
        x * inverse.col(0).x + y * inverse.col(0).y,
        x * inverse.col(1).x + y * inverse.col(1).y,
    );
    Some(flat.iter().map(|c| middle + u * c.x + v * c.y).collect())
}

/// Which corners are one point.
struct Points {
    /// The number of each plate's first corner.
    first: Vec<usize>,
    /// The point of each corner.
    of: Vec<usize>,
}

impl Points {
    fn of(plates: &[StiffPlate], ties: &Ties) -> Points {
        let mut first = vec![];
        let mut corners = 0;
        for plate in plates {
            first.push(corners);
            corners += plate.sides;
        }
        let mut groups = Groups::of(corners);
        let mut meet = |a: PlateCorner, b: PlateCorner| {
            groups.join(first[a.0] + a.1, first[b.0] + b.1);
        };
        for &(a, b) in &ties.joins {
            let before = |(p, s): PlateCorner| (p, (s + plates[p].sides - 1) % plates[p].sides);
            meet(a, before(b));
            meet(before(a), b);
        }
        for &(a, b) in &ties.corners {
            meet(a, b);
        }
        let of = (0..corners).map(|corner| groups.first(corner)).collect();
        Points { first, of }
    }

    /// The points of a plate's corners.
    fn corners(&self, plate: usize) -> impl Iterator<Item = usize> {
        let end = self.first.get(plate + 1).copied();
        let corners = self.first[plate]..end.unwrap_or(self.of.len());
        corners.map(|c| self.of[c])
    }

    /// How far each corner lies from the middle of those that it meets, mm.
    fn apart(&self, laid: &[Laid]) -> impl Iterator<Item = (usize, f64)> {
        let middles = self.middles(laid);
        let corners = laid.iter().flat_map(|(plate, at)| {
            let points = self.corners(*plate).zip(at);
            points.map(|(point, corner)| (*plate, point, *corner))
        });
        corners.map(move |(plate, point, corner)| (plate, corner.distance(middles[point])))
    }

    /// The most that a corner lies apart, in parts of its edge.
    fn gap(&self, plates: &[StiffPlate], laid: &[Laid]) -> f64 {
        let apart = self.apart(laid);
        apart.fold(0.0, |gap, (plate, mm)| gap.max(mm / plates[plate].edge_mm))
    }

    /// The squares of all that the corners lie apart, mm².
    fn spread(&self, laid: &[Laid]) -> f64 {
        self.apart(laid).map(|(_, mm)| mm * mm).sum()
    }

    fn middles(&self, laid: &[Laid]) -> Vec<DVec3> {
        let mut sums = vec![(DVec3::ZERO, 0.0); self.of.len()];
        for (plate, at) in laid {
            for (s, corner) in at.iter().enumerate() {
                let sum = &mut sums[self.of[self.first[*plate] + s]];
                *sum = (sum.0 + *corner, sum.1 + 1.0);
            }
        }
        sums.into_iter().map(|(sum, of)| sum / of).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Solid;
    use crate::beadwork::solid::Polyhedra;

    const EDGE: f64 = 20.0;

    fn plates(number: usize, sides: usize) -> Vec<StiffPlate> {
        let plate = StiffPlate {
            sides,
            edge_mm: EDGE,
        };
        vec![plate; number]
    }

    /// All joins of a regular solid, as one would list them by hand.
    fn joins_of(shape: &Polyhedra) -> Ties {
        let mut sides = vec![];
        for (f, corners) in shape.faces.iter().enumerate() {
            let n = corners.len();
            sides.extend((0..n).map(|s| ((f, s), (corners[(s + n - 1) % n], corners[s]))));
        }
        let mut joins = vec![];
        for (i, (a, (from, to))) in sides.iter().enumerate() {
            let other = sides[i..].iter().find(|(_, ends)| *ends == (*to, *from));
            joins.extend(other.map(|(b, _)| (*a, *b)));
        }
        Ties {
            joins,
            corners: vec![],
        }
    }

    fn furthest(placed: &[Vec<DVec3>]) -> f64 {
        let all: Vec<DVec3> = placed.concat();
        let pairs = all.iter().flat_map(|a| all.iter().map(|b| a.distance(*b)));
        pairs.fold(0.0, f64::max)
    }

    /// The four solids come out of their joins alone: as wide as any handbook
    /// says (from memory), their outside outside.
    #[test]
    fn the_joins_of_a_regular_solid_fold_it_into_that_solid() {
        let golden = (1.0 + 5f64.sqrt()) / 2.0;
        for (solid, through) in [
            (Solid::Tetrahedron, 1.0),
            (Solid::Octahedron, 2f64.sqrt()),
            (Solid::Cube, 3f64.sqrt()),
            (Solid::Icosahedron, (golden * golden + 1.0).sqrt()),
        ] {
            let shape = Polyhedra::regular(solid, EDGE);
            let sides = usize::from(solid.face_sides());
            let placed = settle(&plates(shape.faces.len(), sides), &joins_of(&shape));
            let found = furthest(&placed);
            assert!((found - EDGE * through).abs() < 0.02, "{solid:?} {found}");
            let middle = placed.concat().iter().sum::<DVec3>() / (sides * placed.len()) as f64;
            for face in &placed {
                assert!(normal(face).dot(face[0] - middle) > 0.0, "{solid:?}");
            }
        }
    }

    /// Six triangles round a point, joined spoke by spoke: they fill the plane
    /// there, and lie flat; two opposite corners tied, they fold on.
    #[test]
    fn a_net_lies_flat_until_its_corners_are_tied() {
        let spokes = (0..6).map(|i| ((i, 2), ((i + 1) % 6, 0)));
        let mut ties = Ties {
            joins: spokes.collect(),
            corners: vec![],
        };
        let flat = settle(&plates(6, 3), &ties);
        assert!(flat.concat().iter().all(|c| c.z.abs() < 1e-9));
        assert!((furthest(&flat) - 2.0 * EDGE).abs() < 0.02);

        ties.corners.push(((0, 0), (3, 0)));
        let folded = settle(&plates(6, 3), &ties);
        assert!(folded[0][0].distance(folded[3][0]) < 0.02);
    }

    #[test]
    fn plates_that_nothing_ties_lie_side_by_side() {
        let placed = settle(&plates(3, 4), &Ties::default());
        for (a, b) in placed.iter().zip(&placed[1..]) {
            let most = a.iter().fold(f64::MIN, |x, c| x.max(c.x));
            let least = b.iter().fold(f64::MAX, |x, c| x.min(c.x));
            assert!(least > most);
        }
    }

    #[test]
    fn a_charm_hangs_by_its_corner() {
        let ties = Ties {
            joins: vec![],
            corners: vec![((0, 1), (1, 2))],
        };
        let placed = settle(&plates(2, 3), &ties);
        assert!(placed[0][1].distance(placed[1][2]) < 1e-9);
        // It overlaps nothing: its middle lies beyond the corner.
        let middle = |p: &Vec<DVec3>| p.iter().sum::<DVec3>() / 3.0;
        let apart = middle(&placed[0]).distance(middle(&placed[1]));
        assert!((apart - 2.0 * EDGE / 3f64.sqrt()).abs() < 1e-9);
    }

    /// Whatever the joins ask, a plate keeps its shape.
    #[test]
    fn plates_that_do_not_fit_are_not_bent() {
        let shape = Polyhedra::regular(Solid::Tetrahedron, EDGE);
        let mut odd = plates(4, 3);
        odd[2].edge_mm = 1.3 * EDGE;
        for (face, plate) in settle(&odd, &joins_of(&shape)).iter().zip(&odd) {
            for s in 0..3 {
                let (from, to) = side_of(face, s);
                assert!((from.distance(to) - plate.edge_mm).abs() < 1e-9);
            }
        }
    }
}
