//! From what a project asks for to the builder's jobs: which faces there are,
//! in which order they are made, and how the last is closed.

use super::assembly::{Assembly, Face, JoinRows};
use super::builder::Builder;
use super::frame::Frame;
use super::job::SideJoin;
use super::kaleidocycle::Kaleidocycle;
use super::number::{Panel, Side};
use super::project::{Closing, JobSpec, Make, Solid, SpecIndex};
use super::seams::Direction;
use super::settle::{Plate, Ties, settle};
use super::solid::Polyhedra;
use glam::DVec3;

/// Carries out what the project asks for.
pub(super) fn carry_out(b: &mut Builder) {
    match b.project().make.clone() {
        Make::Single(spec) => single(b, spec),
        Make::Solid {
            solid,
            faces,
            closing,
            tips,
        } => regular_solid(b, solid, &faces, closing, tips),
        Make::FoldedPair {
            faces,
            closings,
            tips,
        } => folded_pair(b, &faces, closings, tips),
        Make::Ring {
            tetrahedra,
            faces,
            closing,
            tips,
        } => ring(b, tetrahedra, &faces, closing, tips),
        Make::Jobs(jobs) => job_list(b, &jobs),
    }
    b.finish();
}

fn single(b: &mut Builder, spec: SpecIndex) {
    let panel = &b.project().panels[spec];
    let (name, sides) = (panel.name.clone(), panel.sides);
    let frame = Frame::flat(sides, b.layout.edge_mm(spec), DVec3::ZERO);
    b.panel(name, spec, frame);
}

fn regular_solid(b: &mut Builder, solid: Solid, specs: &[SpecIndex], closing: Closing, tips: u8) {
    let shape = Polyhedra::regular(solid, b.layout.edge_mm(specs[0]));
    let order = by_neighbours(&shape.faces);
    let last = order.len() - 1;
    let face = |(nth, &f): (usize, &usize)| Face {
        name: format!("Face {}", nth + 1),
        spec: specs[nth % specs.len()],
        sides: sides_of(&shape.faces[f]),
        closing: if nth == last { closing } else { Closing::SetIn },
    };
    let assembly = Assembly {
        faces: order.iter().enumerate().map(face).collect(),
        corners: shape.corners.clone(),
        tips: tips.into(),
    };
    let joins = with_carriers(&assembly);
    assembly.sew(b, &joins, &mut vec![]);
}

fn with_carriers(assembly: &Assembly) -> Vec<JoinRows> {
    let joins = assembly.joins();
    let carriers = assembly.carriers(&joins);
    let join = joins.into_iter().zip(carriers);
    join.map(|(sides, carrier)| JoinRows { sides, carrier })
        .collect()
}

/// The sides of a face: side s ends at corner s.
fn sides_of(corners: &[usize]) -> Vec<(usize, usize)> {
    let n = corners.len();
    (0..n)
        .map(|s| (corners[(s + n - 1) % n], corners[s]))
        .collect()
}

/// Faces in an order in which each next one shares as many sides as may be
/// with those before.
fn by_neighbours(faces: &[Vec<usize>]) -> Vec<usize> {
    let shared = |a: usize, b: usize| {
        let common = faces[a].iter().filter(|c| faces[b].contains(c)).count();
        usize::from(common == 2)
    };
    let mut order = vec![0];
    while order.len() < faces.len() {
        let ready = |f: &usize| -> usize { order.iter().map(|&g| shared(*f, g)).sum() };
        let left = (0..faces.len()).filter(|f| !order.contains(f)).rev();
        let next = left.max_by_key(ready).expect("faces are left");
        order.push(next);
    }
    order
}

/// Six triangles round a point, zipped spoke by spoke, folded along a
/// diameter and tied: two tetrahedra on one hinge, each with an open face.
///
/// ```text
///      3 --- 2          corner 0 is the point; 1 and 4 are tied, and the
///     / \   / \         hinge is the edge from the point to the tie
///    4 - 0 - 1
///     \ /   \ /
///      5 --- 6
/// ```
fn folded_pair(
    b: &mut Builder,
    specs: &[SpecIndex],
    closings: [(SpecIndex, Closing); 2],
    tips: u8,
) {
    let edge = b.layout.edge_mm(specs[0]);
    let across = edge / 2f64.sqrt();
    let tie = DVec3::new(edge, 0.0, 0.0);
    let at = |y: f64, z: f64| DVec3::new(edge / 2.0, y * across, z * edge / 2.0);
    let corners = vec![
        DVec3::ZERO,
        tie,
        at(1.0, 1.0),
        at(1.0, -1.0),
        tie,
        at(-1.0, -1.0),
        at(-1.0, 1.0),
    ];
    let rim = |i: usize| (i % 6) + 1;
    let panel = |i: usize| Face {
        name: format!("Panel {}", i + 1),
        spec: specs[i % specs.len()],
        sides: vec![(0, rim(i)), (rim(i), rim(i + 1)), (rim(i + 1), 0)],
        closing: Closing::SetIn,
    };
    let mut faces: Vec<Face> = (0..6).map(panel).collect();
    for (half, (spec, closing)) in closings.into_iter().enumerate() {
        // Seen from outside, against the three rim sides of its half.
        let (a, m) = (3 * half, 3 * half + 1);
        faces.push(Face {
            name: format!("Face {}", ["A", "B"][half]),
            spec,
            sides: vec![
                (rim(m), rim(a)),
                (rim(a + 3), rim(a + 2)),
                (rim(a + 2), rim(m)),
            ],
            closing,
        });
    }
    let mut assembly = Assembly {
        faces,
        corners,
        tips: tips.into(),
    };
    // Every panel carries the row of the spoke behind it and of its rim side:
    // one kind of panel, and each next is zipped by its bare side.
    let carried = |join: &Vec<(usize, usize)>| {
        let carries = |&(face, side): &(usize, usize)| face < 6 && side > 0;
        join.iter().position(carries).expect("a panel carries it")
    };
    let joins: Vec<JoinRows> = assembly
        .joins()
        .into_iter()
        .map(|sides| JoinRows {
            carrier: carried(&sides),
            sides,
        })
        .collect();
    let closing_faces = assembly.faces.split_off(6);
    let mut made = vec![];
    assembly.sew(b, &joins, &mut made);
    let corner = |i: usize, made: &[Option<super::assembly::Made>]| {
        // The corner at the start of panel i's rim side.
        let face = made[i].expect("the panels are made");
        (face.panel, Side(((3 - face.turn) % 3) as u8))
    };
    b.tie(corner(0, &made), corner(3, &made));
    assembly.faces.extend(closing_faces);
    assembly.sew(b, &joins, &mut made);
}

/// Tetrahedron by tetrahedron, each hinged to the one before by one row.
fn ring(b: &mut Builder, n: u16, specs: &[SpecIndex], closing: Closing, tips: u8) {
    let hinge_mm = b.layout.edge_mm(specs[0]);
    let cycle = Kaleidocycle {
        tetrahedra: n,
        hinge_mm,
    };
    let shape = cycle.at(cycle.even_turn());
    let face = |(f, corners): (usize, &Vec<usize>)| Face {
        name: format!("Tetrahedron {}, face {}", f / 4 + 1, f % 4 + 1),
        spec: specs[f % specs.len()],
        sides: sides_of(corners),
        closing: if f % 4 == 3 { closing } else { Closing::SetIn },
    };
    let faces: Vec<Face> = shape.faces.iter().enumerate().map(face).collect();
    let corners = shape.corners.clone();
    let mut whole = Assembly {
        faces,
        corners,
        tips: tips.into(),
    };
    let mut joins = ring_joins(&whole, n);
    if closing != Closing::SetIn {
        close_first_opening_last(&mut whole, &mut joins);
    }
    whole.sew(b, &joins, &mut vec![]);
}

/// The first tetrahedron's opening lies at the hinge that closes the ring, and
/// its rim is whole only when that is sewn.
fn close_first_opening_last(ring: &mut Assembly, joins: &mut [JoinRows]) {
    const OPENING: usize = 3;
    let opening = ring.faces.remove(OPENING);
    ring.faces.push(opening);
    for (face, _) in joins.iter_mut().flat_map(|join| &mut join.sides) {
        *face = match *face {
            OPENING => ring.faces.len() - 1,
            f if f > OPENING => f - 1,
            f => f,
        };
    }
}

/// One tetrahedron's choice of carriers, taken round the ring: a tetrahedron
/// carries its four inner joins and the hinge to the next.
fn ring_joins(ring: &Assembly, n: u16) -> Vec<JoinRows> {
    let one = Assembly {
        faces: ring.faces[..4].to_vec(),
        corners: ring.corners.clone(),
        tips: ring.tips,
    };
    // Its hinge to the one before is carried there.
    let inner: Vec<_> = one
        .joins()
        .into_iter()
        .filter(|join| join.iter().any(|&(face, _)| face >= 2))
        .collect();
    let chosen = one.carriers(&inner);
    let carries = |(face, side): (usize, usize)| {
        // The same face of tetrahedron 1, and its side between like corners.
        let first = face % 4;
        let like = |s: usize| kind_of_side(ring, face, side) == kind_of_side(ring, first, s);
        let s = (0..3).find(|&s| like(s)).expect("tetrahedra are alike");
        inner
            .iter()
            .zip(&chosen)
            .any(|(join, &c)| join[c] == (first, s))
    };
    debug_assert_eq!(ring.faces.len(), usize::from(n) * 4);
    ring.joins()
        .into_iter()
        .map(|sides| JoinRows {
            carrier: sides.iter().position(|&s| carries(s)).unwrap_or(0),
            sides,
        })
        .collect()
}

/// Which edge of its tetrahedron a side is: its corners as ends of the hinge
/// before (0, 1) or of the hinge behind (2, 3).
fn kind_of_side(ring: &Assembly, face: usize, side: usize) -> (usize, usize) {
    let hinge_before = 2 * (face / 4);
    let corners = ring.corners.len();
    let local = |c: usize| (c + corners - hinge_before) % corners;
    let (a, b) = ring.faces[face].sides[side];
    let (a, b) = (local(a), local(b));
    (a.min(b), a.max(b))
}

/// A maker's own jobs, in the maker's own order.
fn job_list(b: &mut Builder, jobs: &[JobSpec]) {
    let mut frames = settled(b, jobs).into_iter();
    let mut frame = || frames.next().expect("each panel has its frame");
    let mut made: Vec<Panel> = vec![];
    for job in jobs {
        match job {
            JobSpec::Panel { name, spec } => {
                made.push(b.panel(name.clone(), *spec, frame()));
            }
            JobSpec::Row { panel, sides, tips } => {
                b.row(made[*panel], sides, u32::from(*tips));
            }
            JobSpec::Zip { panel, sides } => {
                let join = |&(side, onto, at): &(Side, usize, Side)| SideJoin {
                    side,
                    onto: made[onto],
                    at,
                    runs: Direction::Against,
                };
                let joins: Vec<SideJoin> = sides.iter().map(join).collect();
                b.zip(made[*panel], &joins);
            }
            JobSpec::Fill { name, spec, rim } => {
                let rim = rim.iter().map(|&(p, s)| (made[p], s)).collect();
                made.push(b.fill(name.clone(), *spec, rim, frame()));
            }
            JobSpec::FirmRim { rim } => {
                b.firm_rim(rim.iter().map(|&(p, s)| (made[p], s)).collect());
            }
            JobSpec::Tie { from, to } => {
                b.tie((made[from.0], from.1), (made[to.0], to.1));
            }
        }
    }
}

/// Where the panels of a job list lie when all its joins are made.
fn settled(b: &Builder, jobs: &[JobSpec]) -> Vec<Frame> {
    let mut plates = vec![];
    let mut ties = Ties::default();
    let corner = |&(panel, side): &(usize, Side)| (panel, side.index());
    for job in jobs {
        match job {
            JobSpec::Panel { spec, .. } => plates.push(plate(b, *spec)),
            JobSpec::Fill { spec, rim, .. } => {
                let sides = rim.iter().enumerate();
                let join = |(s, onto)| ((plates.len(), s), corner(onto));
                ties.joins.extend(sides.map(join));
                plates.push(plate(b, *spec));
            }
            JobSpec::Zip { panel, sides } => {
                let join = |&(s, onto, at)| (corner(&(*panel, s)), corner(&(onto, at)));
                ties.joins.extend(sides.iter().map(join));
            }
            JobSpec::Tie { from, to } => ties.corners.push((corner(from), corner(to))),
            JobSpec::Row { .. } | JobSpec::FirmRim { .. } => {}
        }
    }
    settle(&plates, &ties).into_iter().map(Frame::new).collect()
}

fn plate(b: &Builder, spec: SpecIndex) -> Plate {
    Plate {
        sides: b.project().panels[spec].sides.into(),
        edge_mm: b.layout.edge_mm(spec),
    }
}
